//! Several projects made in one class, as one: pieces one after the other, each project's steps
//! in its own order.

use serde::{Deserialize, Serialize};
use tablefold_geometry::PunchBoard;

use super::facts::{PieceFacts, ProjectFacts, StepEdit};

/// One of the projects that were joined: so many of the pieces and edits, in order, are its own.
/// What decides how its pieces are made stays as it was.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// What the project is called.
    pub title: String,
    /// How many are usually made: of settings that serve, those that yield most are taken.
    pub makes: u32,
    /// Its punch board, used or not.
    pub board: PunchBoard,
    /// Whether it has one.
    pub has_punch_board: bool,
    /// How many pieces it has.
    pub pieces: usize,
    /// How many edits it has.
    pub edits: usize,
}

/// Why two projects can't be made in one class.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[error(
    "\"{other}\" can't share a class with \"{first}\": {differs}. In one class all projects share their tools. Choose the same ones in both projects, or plan two classes."
)]
pub struct CannotJoin {
    /// The project that comes first.
    pub first: String,
    /// The one that can't be made beside it.
    pub other: String,
    /// What differs.
    pub differs: Differs,
}

/// A tool of one project that is not the other's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum Differs {
    /// Notch depth or ruler.
    #[error("their punch boards differ")]
    PunchBoard,
    /// Ruler, or how many sheets are cut at once.
    #[error("their trimmers differ")]
    Trimmer,
    /// The marks that are scored at.
    #[error("their score boards differ")]
    ScoreRuler,
}

/// A project's own part of what was joined.
#[derive(Clone, Copy, Debug)]
pub(super) struct Own<'a> {
    /// The place of its first piece among all.
    pub(super) first: usize,
    pub(super) pieces: &'a [PieceFacts],
    pub(super) edits: &'a [StepEdit],
}

impl ProjectFacts {
    /// This project and others, each with its row number, as one that is taught in this order.
    /// Row numbers of pieces differ between projects, as the database has them.
    ///
    /// # Errors
    /// [`CannotJoin`] where a punch board, trimmer or score board is not that of the projects
    /// before. A project without a punch board takes that of the others: it never uses it.
    pub fn joined(self, others: Vec<(i64, Self)>) -> Result<Self, CannotJoin> {
        if others.is_empty() {
            return Ok(self);
        }
        let all: Vec<&Self> = std::iter::once(&self)
            .chain(others.iter().map(|(_, it)| it))
            .collect();
        let title = in_words(&all.iter().map(|it| &it.title).collect::<Vec<_>>());
        for (at, other) in all.iter().enumerate() {
            for first in &all[..at] {
                first.goes_with(other)?;
            }
        }
        let mut joined = self;
        joined.joined = vec![Share::of(&joined)];
        for (row, other) in others {
            joined.add(row, other);
        }
        joined.title = title;
        Ok(joined)
    }

    fn add(&mut self, row: i64, mut other: Self) {
        if other.has_punch_board && !self.has_punch_board {
            (self.board, self.has_punch_board) = (other.board, true);
        }
        for edit in &mut other.edits {
            edit.key = key_of(row, &edit.key);
        }
        for piece in &mut other.pieces {
            if self.pieces.iter().any(|it| same_name(it, piece)) {
                piece.name = format!("{} ({})", piece.name, other.title);
            }
        }
        self.joined.push(Share::of(&other));
        self.makes = self.makes.max(other.makes);
        self.pieces.extend(other.pieces);
        self.edits.extend(other.edits);
    }

    fn goes_with(&self, other: &Self) -> Result<(), CannotJoin> {
        match self.differs(other) {
            None => Ok(()),
            Some(differs) => Err(CannotJoin {
                first: self.title.clone(),
                other: other.title.clone(),
                differs,
            }),
        }
    }

    fn differs(&self, other: &Self) -> Option<Differs> {
        let both_punch = self.has_punch_board && other.has_punch_board;
        if both_punch && self.board != other.board {
            Some(Differs::PunchBoard)
        } else if self.trimmer != other.trimmer {
            Some(Differs::Trimmer)
        } else if (self.has_score_board, self.score_ruler)
            != (other.has_score_board, other.score_ruler)
        {
            Some(Differs::ScoreRuler)
        } else {
            None
        }
    }

    /// Each project with its pieces and edits; one where nothing was joined. Whatever the counts
    /// say, every piece and edit is in one of them.
    pub(super) fn own(&self) -> Vec<Own<'_>> {
        let (mut pieces, mut edits) = (&self.pieces[..], &self.edits[..]);
        let last = self.joined.len().saturating_sub(1);
        let shares = self.joined.iter().take(last);
        let mut own: Vec<Own<'_>> = shares
            .map(|share| {
                let first = self.pieces.len() - pieces.len();
                let (mine, after) = pieces.split_at(share.pieces.min(pieces.len()));
                pieces = after;
                let (my_edits, after) = edits.split_at(share.edits.min(edits.len()));
                edits = after;
                Own {
                    first,
                    pieces: mine,
                    edits: my_edits,
                }
            })
            .collect();
        let first = self.pieces.len() - pieces.len();
        own.push(Own {
            first,
            pieces,
            edits,
        });
        own
    }

    /// The title of each project that is made: one, unless several were joined.
    #[must_use]
    pub fn titles(&self) -> Vec<&str> {
        if self.joined.is_empty() {
            return vec![&self.title];
        }
        self.joined
            .iter()
            .map(|share| share.title.as_str())
            .collect()
    }

    /// The facts by which the pieces of one of the projects are made, without the pieces.
    pub(super) fn bench_of(&self, project: usize) -> Self {
        let bench = Self {
            pieces: Vec::new(),
            edits: Vec::new(),
            joined: Vec::new(),
            ..self.clone()
        };
        match self.joined.get(project) {
            Some(share) => Self {
                title: share.title.clone(),
                makes: share.makes,
                board: share.board,
                has_punch_board: share.has_punch_board,
                ..bench
            },
            None => bench,
        }
    }

    /// The titles of projects that make nothing.
    #[must_use]
    pub fn without_pieces(&self) -> Vec<String> {
        let pairs = self.titles().into_iter().zip(self.own());
        let empty = pairs.filter(|(_, own)| own.pieces.is_empty());
        empty.map(|(title, _)| title.to_owned()).collect()
    }

    /// Which of the projects a piece belongs to, by its place.
    #[must_use]
    pub fn project_of(&self, piece: usize) -> usize {
        let before = |own: &Own<'_>| own.first + own.pieces.len() <= piece;
        let own = self.own();
        own.iter().position(|own| !before(own)).unwrap_or(0)
    }
}

impl Share {
    fn of(project: &ProjectFacts) -> Self {
        Self {
            title: project.title.clone(),
            makes: project.makes,
            board: project.board,
            has_punch_board: project.has_punch_board,
            pieces: project.pieces.len(),
            edits: project.edits.len(),
        }
    }
}

/// "Gifts", "Gifts and Cards", "Gifts, Cards and Tags".
#[must_use]
pub fn in_words<S: AsRef<str>>(titles: &[S]) -> String {
    let titles: Vec<&str> = titles.iter().map(AsRef::as_ref).collect();
    match titles.split_last() {
        Some((last, [])) => (*last).to_owned(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
        None => String::new(),
    }
}

/// Each project counts its own steps from 1; those of a later one get its row number in front.
/// The keys of all others hold the row number of their piece.
fn key_of(row: i64, key: &str) -> String {
    match key.strip_prefix("own-") {
        Some(number) => format!("own-{row}-{number}"),
        None => key.to_owned(),
    }
}

fn same_name(one: &PieceFacts, other: &PieceFacts) -> bool {
    one.name.to_lowercase() == other.name.to_lowercase()
}
