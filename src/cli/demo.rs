//! Fills the temporary database of `serve --demo` with the invented class.

use std::collections::BTreeMap;

use jiff::civil::Weekday;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp, ToSpan};
use sqlx::SqliteConnection;
use tablefold_geometry::{Ruler, Unit};

use crate::app::App;
use crate::demo;
use crate::error::Cause;
use crate::recipe::{ProjectFacts, ToolKind};
use crate::store;
use crate::store::bench::{BenchOffer, BenchPaper, BenchSupply, BenchTool, Measured, ToolParams};
use crate::store::class_lists::ColourwayChange;
use crate::store::classes::ClassDetails;
use crate::store::links::{LinkRole, NewLink};
use crate::store::projects::{Piece, Project};
use crate::token::{LinkSeed, Token};
use crate::urls;
use crate::workshop::{BroughtBy, ClassFacts, Item, StockPaper};

/// Seats of the demo.
const ATTENDEES: usize = 14;

/// The demo's links stop with the server at the latest.
const LINKS_LAST: SignedDuration = SignedDuration::from_hours(30 * 24);

/// New row numbers by the demo's own.
type Rows = BTreeMap<i64, i64>;

/// Links that the terminal shows.
pub(super) struct DemoLinks {
    /// Step cards.
    pub(super) attendees: String,
    /// Lists for the host.
    pub(super) host: String,
}

/// Puts in the instructor and the class, and publishes it. Nobody knows the password: the way in
/// is the link on the terminal.
///
/// # Errors
/// When the database fails.
pub(super) async fn fill(app: &App) -> Result<DemoLinks, Cause> {
    let password = Token::for_session()?;
    let hash = app.passwords().hash(password.text()).await?;
    let mut change = app.store().change().await?;
    let now = app.clock().now();
    store::instructor::insert_instructor(&mut *change, "Demo instructor", &hash, now).await?;
    let facts = demo::class_of_two_sizes(ATTENDEES);
    let papers = fill_papers(&mut change, &facts).await?;
    let supplies = fill_supplies(&mut change, &facts).await?;
    let (board, trimmer) = fill_tools(&mut change, &facts).await?;
    let project = Project {
        title: facts.project.title.clone(),
        makes: facts.project.makes,
        board: Some(board),
        trimmer,
        hands: None,
        wanted_of_100: ProjectFacts::USUAL_SHARE,
    };
    let project = store::projects::insert_project(&mut *change, &project).await?;
    fill_pieces(&mut change, project, &facts.project, (&papers, &supplies)).await?;
    let class = fill_class(&mut change, project, &facts, &papers, now).await?;
    fill_money(&mut change, class, (&papers, &supplies)).await?;
    let links = publish(&mut change, class, app).await?;
    change.commit().await?;
    Ok(links)
}

async fn fill_papers(db: &mut SqliteConnection, facts: &ClassFacts) -> Result<Rows, Cause> {
    let mut wanted: BTreeMap<i64, &StockPaper> = BTreeMap::new();
    for stock in facts
        .colourways
        .iter()
        .flat_map(|colourway| colourway.papers.values())
        .flat_map(StockPaper::all_sizes)
    {
        wanted.insert(stock.id, stock);
    }
    let mut rows = Rows::new();
    for (id, stock) in wanted {
        let paper = BenchPaper {
            paper: stock.paper.clone(),
            price_minor: stock.price_minor,
            on_hand: stock.on_hand,
            // The demo numbers a paper before its other sizes.
            same_as: stock.same_as.and_then(|main| rows.get(&main).copied()),
        };
        if let Some(row) = store::bench::insert_paper(&mut *db, &paper).await? {
            rows.insert(id, row);
        }
    }
    Ok(rows)
}

async fn fill_supplies(db: &mut SqliteConnection, facts: &ClassFacts) -> Result<Rows, Cause> {
    let mut rows = Rows::new();
    for stock in &facts.supplies {
        let is_ribbon = !stock.spools.is_empty();
        let supply = BenchSupply {
            name: stock.name.clone(),
            measured: if is_ribbon {
                Measured::Length
            } else {
                Measured::Each
            },
            price_minor: None,
            on_hand: stock.on_hand,
            spools: stock.spools.clone(),
        };
        if let Some(row) = store::bench::insert_supply(&mut *db, &supply).await? {
            rows.insert(stock.id, row);
        }
    }
    if let Some(row) = fill_tape(&mut *db).await? {
        rows.insert(demo::TAPE, row);
    }
    Ok(rows)
}

/// Tape for the joints, which is no part of a kit.
async fn fill_tape(db: &mut SqliteConnection) -> Result<Option<i64>, Cause> {
    let tape = BenchSupply {
        name: "Joint tape".to_owned(),
        measured: Measured::Length,
        price_minor: None,
        on_hand: 0,
        spools: vec![tablefold_geometry::Length::from_mm(8000)],
    };
    Ok(store::bench::insert_supply(&mut *db, &tape).await?)
}

/// What shops ask, and what the class earns.
async fn fill_money(
    db: &mut SqliteConnection,
    class: i64,
    (papers, supplies): (&Rows, &Rows),
) -> Result<(), Cause> {
    for (item, offer) in demo::offers() {
        let row = match item {
            Item::Paper(id) => papers.get(&id).copied().map(Item::Paper),
            Item::Supply(id) => supplies.get(&id).copied().map(Item::Supply),
        };
        if let Some(item) = row {
            store::bench::insert_offer(&mut *db, &BenchOffer { item, offer }).await?;
        }
    }
    let mut money = demo::money();
    money.adhesive = money.adhesive.and_then(|id| supplies.get(&id).copied());
    store::class_money::update_class_money(&mut *db, (class, 0), &money).await?;
    Ok(())
}

/// Every kind of tool; the rows of the punch board and the trimmer.
async fn fill_tools(db: &mut SqliteConnection, facts: &ClassFacts) -> Result<(i64, i64), Cause> {
    let project = &facts.project;
    let (mut board, mut trimmer) = (0, 0);
    for kind in ToolKind::ALL {
        let on_day = facts.tools.iter().find(|tool| tool.kind == kind);
        let tool = BenchTool {
            kind,
            name: named(kind, project.board.ruler()),
            count: on_day.map_or(1, |tool| tool.count),
            brought_by: on_day.map_or(BroughtBy::Instructor, |tool| tool.brought_by),
            params: match kind {
                ToolKind::PunchBoard => ToolParams::Board(project.board),
                ToolKind::Trimmer => ToolParams::Trims(project.trimmer),
                ToolKind::ScoreBoard => ToolParams::Ruled(project.score_ruler),
                _ => ToolParams::None,
            },
        };
        let row = store::bench::insert_tool(&mut *db, &tool).await?;
        match kind {
            ToolKind::PunchBoard => board = row,
            ToolKind::Trimmer => trimmer = row,
            _ => {}
        }
    }
    Ok((board, trimmer))
}

/// "Inch punch board", "Scissors".
fn named(kind: ToolKind, ruler: &Ruler) -> String {
    let name = kind.name();
    let ruled = matches!(
        kind,
        ToolKind::PunchBoard | ToolKind::Trimmer | ToolKind::ScoreBoard
    );
    if ruled && ruler.unit() == Unit::Inch {
        return format!("Inch {name}");
    }
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

async fn fill_pieces(
    db: &mut SqliteConnection,
    project: i64,
    facts: &ProjectFacts,
    (papers, supplies): (&Rows, &Rows),
) -> Result<(), Cause> {
    let row = |rows: &Rows, id: i64| rows.get(&id).copied().unwrap_or(id);
    for piece in &facts.pieces {
        let mut spec = piece.spec.clone();
        spec.contents_supply = spec.contents_supply.map(|id| row(supplies, id));
        if let Some(ribbon) = &mut spec.ribbon {
            ribbon.supply = row(supplies, ribbon.supply);
        }
        for extra in &mut spec.extras {
            extra.supply = row(supplies, extra.supply);
        }
        let piece = Piece {
            name: piece.name.clone(),
            paper: row(papers, piece.paper_id),
            spec,
        };
        store::projects::insert_piece(&mut *db, project, &piece).await?;
    }
    Ok(())
}

async fn fill_class(
    db: &mut SqliteConnection,
    project: i64,
    facts: &ClassFacts,
    papers: &Rows,
    now: Timestamp,
) -> Result<i64, Cause> {
    let details = ClassDetails {
        title: facts.title.clone(),
        project_id: project,
        also: Vec::new(),
        date: next_saturday(now),
        starts: facts.starts,
        minutes: facts.minutes,
        place: facts.place.clone(),
    };
    let class = store::classes::insert_class(&mut *db, &details).await?;
    let mut rows = Rows::new();
    for colourway in &facts.colourways {
        let of_role = |(role, stock): (&String, &StockPaper)| {
            Some((role.clone(), papers.get(&stock.id).copied()?))
        };
        let new = ColourwayChange {
            id: None,
            name: colourway.name.clone(),
            spare_kits: colourway.spare_kits,
            papers: colourway.papers.iter().filter_map(of_role).collect(),
        };
        let row = store::class_lists::insert_colourway(&mut *db, class, &new).await?;
        rows.insert(colourway.id, row);
    }
    for attendee in &facts.attendees {
        if let Some(row) = rows.get(&attendee.colourway) {
            store::class_lists::insert_attendee(&mut *db, class, &attendee.name, *row).await?;
        }
    }
    store::class_lists::update_class_tools(&mut *db, class, &facts.tools).await?;
    Ok(class)
}

/// The first revision, and a link to it for attendees and for the host.
async fn publish(db: &mut SqliteConnection, class: i64, app: &App) -> Result<DemoLinks, Cause> {
    let now = app.clock().now();
    if let Some(facts) = store::class_facts::class_facts(&mut *db, class).await? {
        store::revisions::insert_revision(&mut *db, class, &facts, now).await?;
    }
    let base = &app.config().base_url;
    let attendees = new_link(db, class, app, LinkRole::Attendee).await?;
    let host = new_link(db, class, app, LinkRole::Host).await?;
    Ok(DemoLinks {
        attendees: base.with_path(&urls::attendee_link(attendees.text())),
        host: base.with_path(&urls::host_link(host.text())),
    })
}

async fn new_link(
    db: &mut SqliteConnection,
    class: i64,
    app: &App,
    role: LinkRole,
) -> Result<Token, Cause> {
    let (seed, now) = (LinkSeed::fresh()?, app.clock().now());
    let token = app.store().link_key().token(&seed);
    let link = NewLink {
        role,
        attendee_id: None,
        seed,
        hash: token.hash(),
        created_at: now,
        expires_at: now + LINKS_LAST,
    };
    store::links::insert_link(&mut *db, class, &link).await?;
    Ok(token)
}

/// The demo's class always lies ahead.
fn next_saturday(now: Timestamp) -> jiff::civil::Date {
    let today = TimeZone::UTC.to_datetime(now).date();
    let next = today.nth_weekday(1, Weekday::Saturday);
    next.unwrap_or_else(|_| today.saturating_add(7.days()))
}
