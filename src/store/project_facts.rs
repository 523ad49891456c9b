//! A project with everything of the bench that it uses: what a recipe is computed from.

use std::collections::HashMap;

use sqlx::SqliteConnection;
use tablefold_geometry::{Hands, PunchBoard, Ruler, Unit};

use super::StoreResult;
use super::bench::{self, BenchPaper, BenchTool};
use super::projects::{self, Piece, Project};
use super::saved::{Saved, damaged};
use crate::recipe::{PieceFacts, ProjectFacts, SupplyFacts, ToolKind};

/// Everything that recipes are made from, read at once.
#[derive(Clone, Debug)]
pub struct Bench {
    /// All tools.
    pub tools: Vec<Saved<BenchTool>>,
    /// All papers.
    pub papers: Vec<Saved<BenchPaper>>,
    /// All supplies.
    pub supplies: Vec<Saved<bench::BenchSupply>>,
}

impl Bench {
    /// Reads the whole bench: it is small, and every page of a project needs most of it.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn read(db: &mut SqliteConnection) -> StoreResult<Self> {
        Ok(Self {
            tools: bench::list_tools(&mut *db).await?,
            papers: bench::list_papers(&mut *db).await?,
            supplies: bench::list_supplies(&mut *db).await?,
        })
    }

    /// The ruler that measures are shown on where no project says so: the first board's, else
    /// any tool's, else sixteenths of an inch.
    #[must_use]
    pub fn ruler(&self) -> Ruler {
        // Boards come first in the list.
        let mut rulers = self.tools.iter().filter_map(|tool| tool.it.params.ruler());
        rulers.next().copied().unwrap_or_else(|| Ruler::inch(16))
    }

    /// Whether nothing was ever added.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.tools.is_empty() && self.papers.is_empty() && self.supplies.is_empty()
    }

    /// The ruler that bands are scored on: the first score board's, else the trimmer's.
    #[must_use]
    pub fn score_ruler(&self) -> Option<&Ruler> {
        self.tools
            .iter()
            .find(|tool| tool.it.kind == ToolKind::ScoreBoard)
            .and_then(|tool| tool.it.params.ruler())
    }

    /// A paper by its row number.
    #[must_use]
    pub fn paper(&self, id: i64) -> Option<&Saved<BenchPaper>> {
        self.papers.iter().find(|paper| paper.id == id)
    }

    /// A tool by its row number.
    #[must_use]
    pub fn tool(&self, id: i64) -> Option<&BenchTool> {
        let tool = self.tools.iter().find(|tool| tool.id == id);
        tool.map(|tool| &tool.it)
    }

    /// A project without pieces; `None` where board or trimmer is not one.
    #[must_use]
    pub fn project(&self, project: &Project) -> Option<ProjectFacts> {
        let trimmer = self.tool(project.trimmer)?.trimmer()?;
        let score_ruler = *self.score_ruler().unwrap_or(trimmer.ruler());
        let board = match project.board {
            Some(id) => self.tool(id)?.board()?,
            None => stand_in(&score_ruler),
        };
        Some(ProjectFacts {
            title: project.title.clone(),
            makes: project.makes,
            board,
            has_punch_board: project.board.is_some(),
            trimmer,
            score_ruler,
            hands: project.hands.unwrap_or(Hands::beginner()),
            wanted_of_100: project.wanted_of_100,
            has_score_board: self.score_ruler().is_some(),
            pieces: Vec::new(),
            edits: Vec::new(),
            joined: Vec::new(),
        })
    }

    /// A piece as recipes take it; `None` where its paper or a supply is not on the bench.
    #[must_use]
    pub fn piece(&self, id: i64, piece: &Piece) -> Option<PieceFacts> {
        let names: HashMap<i64, &str> = self
            .supplies
            .iter()
            .map(|supply| (supply.id, supply.it.name.as_str()))
            .collect();
        let supply = |id: i64| {
            let name = (*names.get(&id)?).to_owned();
            Some(SupplyFacts { id, name })
        };
        let supplies: Option<Vec<_>> = piece.spec.supplies().into_iter().map(supply).collect();
        let paper = self.paper(piece.paper)?;
        Some(PieceFacts {
            id,
            name: piece.name.clone(),
            spec: piece.spec.clone(),
            paper_id: paper.id,
            paper: paper.it.paper.clone(),
            sheets: vec![paper.it.stock()],
            supplies: supplies?,
        })
    }
}

/// A board that nobody has: measures are shown in the marks of this ruler, and nothing is punched.
fn stand_in(ruler: &Ruler) -> PunchBoard {
    let usual = match ruler.unit() {
        Unit::Inch => PunchBoard::default_inch(),
        _ => PunchBoard::default_metric(),
    };
    let shortest = ruler.shortest().max(usual.ruler().shortest());
    let own = Ruler::new(ruler.unit(), ruler.step(), shortest, ruler.longest());
    let own = own
        .ok()
        .and_then(|own| PunchBoard::new(usual.notch_depth(), own).ok());
    own.unwrap_or(usual)
}

/// What the recipe of a project is computed from; `None` where there is no such project.
/// Call it in a transaction, so that all of it is of one moment.
///
/// # Errors
/// When the database fails.
pub async fn project_facts(
    db: &mut SqliteConnection,
    project: i64,
) -> StoreResult<Option<ProjectFacts>> {
    let Some(row) = projects::find_project(&mut *db, project).await? else {
        return Ok(None);
    };
    let bench = Bench::read(&mut *db).await?;
    let facts = bench.project(&row.it);
    let mut facts = facts.ok_or_else(|| damaged("project.board_id", row.id))?;
    for piece in projects::list_pieces(&mut *db, project).await? {
        let read = bench.piece(piece.id, &piece.it);
        facts
            .pieces
            .push(read.ok_or_else(|| damaged("piece.spec", piece.id))?);
    }
    let edits = projects::list_step_edits(&mut *db, project).await?;
    facts.edits = edits.into_iter().map(|row| row.edit).collect();
    Ok(Some(facts))
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::super::projects::tests::filled;
    use super::*;
    use crate::demo;
    use crate::recipe::Recipe;

    #[tokio::test]
    async fn what_comes_back_is_what_was_typed() {
        let store = Store::temporary().await.unwrap();
        let project = filled(&store).await;
        let mut read = store.read().begin().await.unwrap();
        let facts = project_facts(&mut read, project).await.unwrap().unwrap();
        let typed = demo::project();
        assert_eq!(facts.board, typed.board);
        assert_eq!(facts.score_ruler, typed.score_ruler);
        let pairs = facts.pieces.iter().zip(&typed.pieces);
        for (stored, typed) in pairs {
            assert_eq!(stored.spec, typed.spec);
            assert_eq!(stored.supplies, typed.supplies);
            assert_eq!(stored.paper, typed.paper);
        }
        assert_eq!(facts.pieces.len(), typed.pieces.len());
        let recipe = Recipe::build(&facts).expect("can be made");
        assert_eq!(recipe.pieces.len(), 2);
    }

    #[tokio::test]
    async fn an_unknown_project_has_no_facts() {
        let store = Store::temporary().await.unwrap();
        let mut read = store.read().begin().await.unwrap();
        assert!(project_facts(&mut read, 7).await.unwrap().is_none());
    }
}
