//! Classes: who comes, which papers, and everything to print.

mod attendees;
mod cards;
mod colourway_rows;
mod colourways;
mod cost;
mod cost_form;
mod cost_view;
mod cuts;
mod details;
mod labels;
mod left_overs;
mod links;
mod list;
mod overview;
mod packet;
mod planning;
mod poster;
mod prep;
mod publish;
mod remove;
mod revoke;
mod shopping;
mod tools;
mod typed;

use std::collections::HashSet;

use links::attendees_address;
pub(in crate::pages) use links::attendees_link;

use askama::Template;
use axum::Router;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};

use super::paperwork::{Heading, published_text};
use super::{Nav, Page};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::store::class_facts::class_facts;
use crate::store::classes::{Class, find_class, list_class_projects};
use crate::store::revisions::{self, Revision};
use crate::urls;
use crate::workshop::{ClassFacts, PacketProblem};

/// Routes of this area.
pub fn router() -> Router<App> {
    Router::new()
        .route(urls::CLASSES, get(list::list_classes))
        .route(
            urls::CLASS_NEW,
            get(details::new_class).post(details::create_class),
        )
        .route(urls::CLASS, get(overview::show_class))
        .route(
            urls::CLASS_EDIT,
            get(details::edit_class).post(details::update_class),
        )
        .route(
            urls::CLASS_COLOURWAYS,
            get(colourways::edit_colourways).post(colourways::update_colourways),
        )
        .route(
            urls::CLASS_ATTENDEES,
            get(attendees::edit_attendees).post(attendees::update_attendees),
        )
        .route(
            urls::CLASS_TOOLS,
            get(tools::edit_tools).post(tools::update_tools),
        )
        .route(
            urls::CLASS_REMOVE,
            get(remove::show_remove).post(remove::delete_class),
        )
        .merge(packet_router())
}

fn packet_router() -> Router<App> {
    Router::new()
        .route(urls::CLASS_PACKET, get(packet::show_contents))
        .route(
            urls::CLASS_PREP,
            get(prep::show_prep).post(prep::update_prep),
        )
        .route(urls::CLASS_CUTS, get(cuts::show_cuts))
        .route(urls::CLASS_CUT_PLAN, post(cuts::update_plan))
        .route(urls::CLASS_LEFT_OVERS, post(left_overs::create_left_overs))
        .route(urls::CLASS_PACKS, get(packet::show_packs))
        .route(
            urls::CLASS_LABELS,
            get(labels::show_labels).post(labels::update_sheet),
        )
        .route(urls::CLASS_LABELS_PDF, get(labels::show_labels_pdf))
        .route(urls::CLASS_SHOPPING, get(shopping::show_shopping))
        .route(
            urls::CLASS_COST,
            get(cost::edit_cost).post(cost::update_cost),
        )
        .route(urls::CLASS_HOST, get(packet::show_host))
        .route(urls::CLASS_CARDS, get(cards::show_cards))
        .route(urls::CLASS_POSTER, get(poster::show_poster))
        .route(urls::CLASS_PUBLISH, post(publish::create_revision))
        .route(
            urls::CLASS_LINKS,
            get(links::list_links).post(links::create_link),
        )
        .route(
            urls::CLASS_LINK_REVOKE,
            get(revoke::show_revoke).post(revoke::revoke_link),
        )
}

/// A class with what its packet is computed from and what was published, all of one moment.
struct Loaded {
    class: Class,
    /// Row and title of each project, in order.
    projects: Vec<(i64, String)>,
    facts: ClassFacts,
    revision: Option<Revision>,
}

async fn load(app: &App, id: i64) -> PageResult<Loaded> {
    let mut read = app.store().read().begin().await?;
    let class = find_class(&mut *read, id).await?;
    let class = class.ok_or(PageError::NotFound)?;
    let facts = class_facts(&mut read, id).await?;
    Ok(Loaded {
        facts: facts.ok_or(PageError::NotFound)?,
        projects: list_class_projects(&mut *read, id).await?,
        revision: revisions::find_newest_revision(&mut *read, id).await?,
        class,
    })
}

/// What links show, compared with the class as it is.
enum Publication {
    Never,
    Current(String),
    Changed(String, u32),
}

impl Loaded {
    fn publication(&self) -> PageResult<Publication> {
        let Some(revision) = &self.revision else {
            return Ok(Publication::Never);
        };
        let text = published_text(revision);
        Ok(if revisions::is_current(revision, &self.facts)? {
            Publication::Current(text)
        } else {
            Publication::Changed(text, revision.number)
        })
    }

    /// Head of a printed page: the revision only where it says the same as the class.
    fn heading(&self) -> PageResult<Heading> {
        Ok(match (self.publication()?, &self.revision) {
            (Publication::Current(_), Some(revision)) => Heading::published(revision),
            (Publication::Changed(_, number), _) => Heading {
                status: format!("Draft, changed since revision {number}"),
                ..Heading::draft(&self.facts)
            },
            _ => Heading::draft(&self.facts),
        })
    }
}

/// A problem with the way to put it right.
struct ProblemLine {
    message: String,
    href: String,
    label: &'static str,
}

fn problem_lines(
    class: &Class,
    facts: &ClassFacts,
    problems: &[PacketProblem],
) -> Vec<ProblemLine> {
    let mut seen = HashSet::new();
    let first = |problem: &&PacketProblem| match problem {
        // One step is enough to say that a tool is missing.
        PacketProblem::NoTool { tool, .. } => seen.insert(*tool),
        _ => true,
    };
    let shown = problems.iter().filter(first);
    shown.map(|problem| line(class, facts, problem)).collect()
}

fn line(class: &Class, facts: &ClassFacts, problem: &PacketProblem) -> ProblemLine {
    use PacketProblem as P;
    let id = class.id;
    let (label, href) = match problem {
        P::NoAttendees | P::NoColourway { .. } => ("Attendees", urls::class_attendees(id)),
        P::TooManyKits { .. } | P::NoPaper { .. } | P::TooThick { .. } | P::NoCutPlan { .. } => {
            ("Colourways", urls::class_colourways(id))
        }
        P::NoTool { .. } => ("Tools on the day", urls::class_tools(id)),
        P::NoPieces { .. } | P::Piece { .. } | P::TooManyThings { .. } => {
            ("Project", urls::project(at_fault(class, facts, problem)))
        }
        P::Apart(_) => ("Projects of the class", urls::class_edit(id)),
        P::Unbalanced { .. } => ("Class", urls::class(id)),
    };
    let text = problem.to_string();
    ProblemLine {
        message: if text.ends_with('.') {
            text
        } else {
            text + "."
        },
        href,
        label,
    }
}

/// Row of the project that a problem is about; the first where that can't be told.
fn at_fault(class: &Class, facts: &ClassFacts, problem: &PacketProblem) -> i64 {
    let project = &facts.project;
    let titled = |title: &String| project.titles().iter().position(|it| it == title);
    let of_piece = |is_it: &dyn Fn(&str) -> bool| {
        let at = project.pieces.iter().position(|piece| is_it(&piece.name))?;
        Some(project.project_of(at))
    };
    let at = match problem {
        PacketProblem::NoPieces { project } => titled(project),
        PacketProblem::Piece { piece, .. } => of_piece(&|name| name == piece),
        // "Seed box: band" is of the seed box.
        PacketProblem::TooManyThings { part, .. } => of_piece(&|name| {
            let rest = part.strip_prefix(name);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(':'))
        }),
        _ => None,
    };
    let row = at.and_then(|at| class.details.projects().nth(at));
    row.unwrap_or(class.details.project_id)
}

/// A packet that does not balance is refused: it is no page to print.
#[derive(Template)]
#[template(path = "classes/refused.html")]
struct RefusedPage {
    nav: Nav,
    id: i64,
    title: String,
    problems: Vec<ProblemLine>,
}

fn refused(class: &Class, facts: &ClassFacts, problems: &[PacketProblem]) -> Response {
    let page = RefusedPage {
        nav: Nav::Classes,
        id: class.id,
        title: class.details.title.clone(),
        problems: problem_lines(class, facts, problems),
    };
    Page::with_status(StatusCode::CONFLICT, page).into_response()
}
