//! How much clearance to give: the least for which a share of makers' pieces take their contents
//! and close.
//!
//! Every clearance on a grid, from none upwards, is sized as for a class and its piece asked. The
//! first that does is the least; because settings go by marks and the ways to lay the contents
//! change, a larger one need not do as well.

use super::report::{Apart, apart};
use super::{Hands, Measure, Tolerance};
use crate::sizing::{answer_for, first_choice};
use crate::{
    Answer, AxisMap, Contents, ContentsBox, Length, Refusal, Settings, SizingError, SizingRequest,
    Structure, StructureKind,
};

/// A search over more steps of the grid than this is a slip in typing.
const MOST_STEPS: i64 = 400;

/// What is wanted of a clearance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WantedShare {
    /// Share of makers, above 0 and below 1: 0.95 for 95 of 100.
    pub share: f64,
    /// Steps in which clearance is tried, such as 1/64 in.
    pub grid: Length,
    /// No clearance above this is tried.
    pub most: Length,
}

/// The least clearance that does.
#[derive(Clone, Debug)]
pub struct Clearance {
    /// Total play to ask for in each axis.
    pub clearance: Length,
    /// What sizing answers to it.
    pub answer: Answer,
    /// What the hands make of that.
    pub tolerance: Tolerance,
}

/// Why no clearance is found. Prints as the sentence that the user reads.
#[derive(Clone, Debug, thiserror::Error)]
pub enum ClearanceError {
    /// Not above 0 and below 1.
    #[error(
        "share: {0} is no share of makers. Type one above 0 and below 1, such as 0.95 for 95 of 100."
    )]
    Share(f64),
    /// No step, or so small that the search does not end.
    #[error(
        "grid: from 0 mm to {} in steps of {} is no search of 1 to {MOST_STEPS} steps. Type another step, such as 0.5 mm.",
        most.exact_text(), grid.exact_text()
    )]
    Grid {
        /// The step.
        grid: Length,
        /// How far.
        most: Length,
    },
    /// Sizing cannot be asked.
    #[error("{}: {}", .0.field, .0)]
    Sizing(#[from] SizingError),
    /// Not made with any clearance.
    #[error("{0}")]
    Refused(Box<Refusal>),
    /// Too few makers succeed with each.
    #[error("{}", .0.sentence())]
    NotReached(Box<NotReached>),
}

/// The best that the search does.
#[derive(Clone, Debug)]
pub struct NotReached {
    /// What was wanted.
    pub wanted: WantedShare,
    /// The clearance that does best.
    pub best: Clearance,
}

impl NotReached {
    /// The measure that fails most often.
    #[must_use]
    pub fn held_back_by(&self) -> Option<&Measure> {
        let measures = self.best.tolerance.measures.iter();
        measures.min_by(|one, other| one.share.total_cmp(&other.share))
    }

    fn sentence(&self) -> String {
        let tenths = (1000.0 * self.wanted.share).round() / 10.0;
        let best = format!(
            "No clearance up to {} is enough for {tenths} of 100 makers. The best, {}, is enough for {}.",
            self.wanted.most.exact_text(),
            self.best.clearance.exact_text(),
            (100.0 * self.best.tolerance.together.share).floor(),
        );
        match self.held_back_by() {
            None => best,
            Some(measure) => format!(
                "{best} The {} fails most often: it has {:.1} mm to spare and needs {:.1} mm.",
                measure.kind.name(),
                measure.room_mm,
                measure.room_for_mm(self.wanted.share),
            ),
        }
    }
}

/// The least clearance with which the share of makers succeeds, for one structure; whatever
/// clearance the request has is not looked at.
///
/// # Errors
/// A share that is not between 0 and 1; a grid without steps or with over 400; a request that
/// sizing cannot be asked; a structure that is made with no clearance; a share that no clearance
/// reaches, with the best one and the measure that stands in its way.
pub fn clearance_for(
    request: &SizingRequest,
    kind: StructureKind,
    hands: &Hands,
    wanted: &WantedShare,
) -> Result<Clearance, ClearanceError> {
    if !(wanted.share > 0.0 && wanted.share < 1.0) {
        return Err(ClearanceError::Share(wanted.share));
    }
    let WantedShare { grid, most, .. } = *wanted;
    let steps = most.nm().checked_div(grid.nm()).unwrap_or(-1);
    if grid <= Length::ZERO || !(1..=MOST_STEPS).contains(&steps) {
        return Err(ClearanceError::Grid { grid, most });
    }
    let mut search = Search {
        request: request.clone(),
        kind,
        hands,
        last: None,
        refused: None,
    };
    let (mut known, mut waiting): (Vec<Clearance>, Vec<Waiting>) = (Vec::new(), Vec::new());
    for step in 0..=steps {
        let Some(one) = search.with(grid * step)? else {
            continue;
        };
        if one.at_most < wanted.share {
            waiting.push(one);
            continue;
        }
        let tried = one.together();
        if tried.share() >= wanted.share {
            return Ok(tried);
        }
        known.push(tried);
    }
    Err(match (best_of(known, waiting), search.refused) {
        (Some(best), _) => ClearanceError::NotReached(Box::new(NotReached {
            wanted: *wanted,
            best,
        })),
        (None, Some(refusal)) => ClearanceError::Refused(Box::new(refusal)),
        (None, None) => ClearanceError::Grid { grid, most },
    })
}

/// The clearances of a search, one after another.
struct Search<'a> {
    request: SizingRequest,
    kind: StructureKind,
    hands: &'a Hands,
    /// What was found last.
    last: Option<(Settings, [usize; 3])>,
    /// The first refusal.
    refused: Option<Refusal>,
}

impl Search<'_> {
    /// What sizing answers to a clearance, with each measure apart; nothing where it is refused, or
    /// comes to the same marks as the one before, of which all that was found holds still.
    fn with(&mut self, clearance: Length) -> Result<Option<Waiting>, SizingError> {
        self.request.clearance = clearance;
        let found = first_choice(&self.request, self.kind)?;
        if found.is_some() && found == self.last {
            return Ok(None);
        }
        let answer = match answer_for(&self.request, self.kind)? {
            Ok(answer) => answer,
            Err(refusal) => {
                self.refused.get_or_insert(refusal);
                return Ok(None);
            }
        };
        self.last = found.filter(|(settings, _)| *settings == answer.settings);
        let Some(contents) = answer.contents_box(&self.request.contents) else {
            return Ok(None);
        };
        let apart = apart(&answer.structure, &contents, self.hands);
        Ok(Some(Waiting {
            at_most: apart.at_most(),
            clearance,
            answer,
            apart,
        }))
    }
}

/// An answer with each measure apart; how often all hold is only known from above.
struct Waiting {
    clearance: Length,
    answer: Answer,
    apart: Apart,
    at_most: f64,
}

impl Waiting {
    fn together(self) -> Clearance {
        Clearance {
            clearance: self.clearance,
            answer: self.answer,
            tolerance: self.apart.together(),
        }
    }
}

impl Clearance {
    fn share(&self) -> f64 {
        self.tolerance.together.share
    }
}

/// The clearance with the highest share, the least of equals. One that waits is worked out only
/// while it could be the best.
fn best_of(known: Vec<Clearance>, mut waiting: Vec<Waiting>) -> Option<Clearance> {
    let better = |one: Clearance, other: Clearance| {
        let by_share = one.share().total_cmp(&other.share());
        let by_share = by_share.then(other.clearance.cmp(&one.clearance));
        if by_share.is_lt() { other } else { one }
    };
    waiting.sort_by(|one, other| other.at_most.total_cmp(&one.at_most));
    let mut best = known.into_iter().reduce(better);
    for one in waiting {
        best = match best {
            Some(best) if best.share() > one.at_most => return Some(best),
            Some(best) => Some(better(best, one.together())),
            None => Some(one.together()),
        };
    }
    best
}

impl Answer {
    /// The block that has to fit for the contents to fit, as they lie and without clearance;
    /// `None` for axes of other contents. A cylinder that stands may need less than the block
    /// round it.
    #[must_use]
    pub fn contents_box(&self, contents: &Contents) -> Option<ContentsBox> {
        self.structure.block_of(&self.axes, contents)
    }
}

impl Structure {
    /// The block that has to fit for contents to fit that lie so, without clearance; `None` for
    /// axes of other contents.
    #[must_use]
    pub fn block_of(&self, lies: &AxisMap, contents: &Contents) -> Option<ContentsBox> {
        let block = lies.contents_box(contents)?;
        let axes = contents.axes()?;
        let round = contents.round_about().and_then(|axis| axes.get(axis));
        Some(match round {
            Some((axis, _)) if *axis == lies.depth => self.kind().family().block_for_round(&block),
            _ => block,
        })
    }
}

impl AxisMap {
    /// The extents of the contents as they lie, without clearance; `None` for axes of other
    /// contents.
    #[must_use]
    pub fn contents_box(&self, contents: &Contents) -> Option<ContentsBox> {
        let axes = contents.axes()?;
        let extent = |name: &str| {
            let found = axes.iter().find(|(axis, _)| *axis == name);
            found.map(|(_, extent)| extent.mm())
        };
        Some(ContentsBox {
            x: extent(self.width)?,
            y: extent(self.length)?,
            z: extent(self.depth)?,
        })
    }
}
