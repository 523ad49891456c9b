//! What a test finds in the database: a class that exists as facts, with its bench and project.

use std::collections::BTreeMap;

use sqlx::SqliteConnection;
use tablefold::recipe::{ProjectFacts, ToolKind};
use tablefold::store::bench::{
    BenchPaper, BenchSupply, BenchTool, Measured, ToolParams, insert_paper, insert_supply,
    insert_tool,
};
use tablefold::store::class_lists::{ColourwayChange, insert_attendee, insert_colourway};
use tablefold::store::classes::{ClassDetails, insert_class};
use tablefold::store::projects::{Piece, Project, insert_piece, insert_project};
use tablefold::workshop::{BroughtBy, ClassFacts, Colourway, StockPaper, ToolOnDay};

/// Row numbers in the facts, and what they became.
pub(crate) type Rows = BTreeMap<i64, i64>;

/// What a class stands on: tools, papers and supplies in the database.
pub(crate) struct Bench {
    board: i64,
    trimmer: i64,
    papers: Rows,
    supplies: Rows,
}

/// Stores all tools, papers and supplies that a class uses.
pub(crate) async fn insert_bench(db: &mut SqliteConnection, facts: &ClassFacts) -> Bench {
    let (board, trimmer) = insert_tools(db, facts).await;
    Bench {
        board,
        trimmer,
        papers: insert_papers(db, facts).await,
        supplies: insert_supplies(db, facts).await,
    }
}

/// Stores a project and a class that makes it, on a bench that has all they use; gives their row
/// numbers.
pub(crate) async fn insert_class_on(
    db: &mut SqliteConnection,
    bench: &Bench,
    facts: &ClassFacts,
) -> (i64, i64) {
    let (papers, supplies) = (&bench.papers, &bench.supplies);
    let project = Project {
        title: facts.project.title.clone(),
        makes: facts.project.makes,
        board: Some(bench.board),
        trimmer: bench.trimmer,
        hands: None,
        wanted_of_100: ProjectFacts::USUAL_SHARE,
    };
    let project = insert_project(&mut *db, &project).await.unwrap();
    insert_pieces(db, project, &facts.project, (papers, supplies)).await;
    let details = ClassDetails {
        title: facts.title.clone(),
        project_id: project,
        also: Vec::new(),
        date: facts.date,
        starts: facts.starts,
        minutes: facts.minutes,
        place: facts.place.clone(),
    };
    let class = insert_class(&mut *db, &details).await.unwrap();
    insert_choices(db, class, facts, papers).await;
    (project, class)
}

/// The tools of the day and of the project; gives the rows of punch board and trimmer.
async fn insert_tools(db: &mut SqliteConnection, facts: &ClassFacts) -> (i64, i64) {
    let project = &facts.project;
    let (mut board, mut trimmer) = (0, 0);
    for kind in ToolKind::ALL {
        let on_day = facts.tools.iter().find(|tool| tool.kind == kind);
        let one = ToolOnDay {
            kind,
            count: 1,
            brought_by: BroughtBy::Instructor,
        };
        let on_day = on_day.unwrap_or(&one);
        let tool = BenchTool {
            kind,
            name: kind.name().to_owned(),
            count: on_day.count,
            brought_by: on_day.brought_by,
            params: match kind {
                ToolKind::PunchBoard => ToolParams::Board(project.board),
                ToolKind::Trimmer => ToolParams::Trims(project.trimmer),
                ToolKind::ScoreBoard => ToolParams::Ruled(project.score_ruler),
                _ => ToolParams::None,
            },
        };
        let id = insert_tool(&mut *db, &tool).await.unwrap();
        match kind {
            ToolKind::PunchBoard => board = id,
            ToolKind::Trimmer => trimmer = id,
            _ => {}
        }
    }
    (board, trimmer)
}

async fn insert_papers(db: &mut SqliteConnection, facts: &ClassFacts) -> Rows {
    let chosen = facts.colourways.iter().flat_map(|c| c.papers.values());
    let chosen = chosen.flat_map(StockPaper::all_sizes);
    let mut stock: BTreeMap<i64, BenchPaper> = BTreeMap::new();
    for piece in &facts.project.pieces {
        let paper = BenchPaper {
            paper: piece.paper.clone(),
            price_minor: None,
            on_hand: 0,
            same_as: None,
        };
        stock.insert(piece.paper_id, paper);
    }
    stock.extend(chosen.map(|paper: &StockPaper| {
        let stored = BenchPaper {
            paper: paper.paper.clone(),
            price_minor: paper.price_minor,
            on_hand: paper.on_hand,
            same_as: paper.same_as,
        };
        (paper.id, stored)
    }));
    let mut rows = Rows::new();
    // A paper comes before its other sizes.
    let mut stock: Vec<(i64, BenchPaper)> = stock.into_iter().collect();
    stock.sort_by_key(|(_, paper)| paper.same_as);
    for (id, mut paper) in stock {
        paper.same_as = paper.same_as.map(|main| rows[&main]);
        let row = insert_paper(&mut *db, &paper).await.unwrap();
        rows.insert(id, row.unwrap());
    }
    rows
}

async fn insert_supplies(db: &mut SqliteConnection, facts: &ClassFacts) -> Rows {
    let ribbon = |id: i64| {
        let mut specs = facts.project.pieces.iter().map(|piece| &piece.spec);
        specs.any(|spec| {
            spec.ribbon
                .as_ref()
                .is_some_and(|ribbon| ribbon.supply == id)
        })
    };
    let mut rows = Rows::new();
    for supply in &facts.supplies {
        let stored = BenchSupply {
            name: supply.name.clone(),
            measured: if ribbon(supply.id) || !supply.spools.is_empty() {
                Measured::Length
            } else {
                Measured::Each
            },
            price_minor: None,
            on_hand: supply.on_hand,
            spools: supply.spools.clone(),
        };
        let row = insert_supply(&mut *db, &stored).await.unwrap();
        rows.insert(supply.id, row.unwrap());
    }
    rows
}

pub(crate) async fn insert_pieces(
    db: &mut SqliteConnection,
    project: i64,
    facts: &ProjectFacts,
    (papers, supplies): (&Rows, &Rows),
) {
    for piece in &facts.pieces {
        let mut spec = piece.spec.clone();
        let ribbon = spec.ribbon.iter_mut().map(|ribbon| &mut ribbon.supply);
        let extras = spec.extras.iter_mut().map(|extra| &mut extra.supply);
        for supply in spec.contents_supply.iter_mut().chain(ribbon).chain(extras) {
            *supply = supplies[&*supply];
        }
        let piece = Piece {
            name: piece.name.clone(),
            paper: papers[&piece.paper_id],
            spec,
        };
        insert_piece(&mut *db, project, &piece).await.unwrap();
    }
}

async fn insert_choices(db: &mut SqliteConnection, class: i64, facts: &ClassFacts, papers: &Rows) {
    let mut colourways = Rows::new();
    for colourway in &facts.colourways {
        let stored = change(colourway, papers);
        let row = insert_colourway(&mut *db, class, &stored).await.unwrap();
        colourways.insert(colourway.id, row);
    }
    for attendee in &facts.attendees {
        let colourway = colourways[&attendee.colourway];
        insert_attendee(&mut *db, class, &attendee.name, colourway)
            .await
            .unwrap();
    }
}

fn change(colourway: &Colourway, papers: &Rows) -> ColourwayChange {
    let paper = |(role, stock): (&String, &StockPaper)| (role.clone(), papers[&stock.id]);
    ColourwayChange {
        id: None,
        name: colourway.name.clone(),
        spare_kits: colourway.spare_kits,
        papers: colourway.papers.iter().map(paper).collect(),
    }
}
