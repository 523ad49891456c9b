//! The start page: what to do next.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::routing::get;

use super::extract::SignedIn;
use super::projects::{ProjectCard, cards};
use super::{Nav, Page};
use crate::app::App;
use crate::error::PageResult;
use crate::store::project_facts::Bench;
use crate::urls;

/// How many of the newest projects the start page shows.
const MOST_CARDS: usize = 3;

/// Routes of the start page.
pub fn router() -> Router<App> {
    Router::new().route(urls::HOME, get(show_home))
}

#[derive(Template)]
#[template(path = "home/home.html")]
struct HomePage {
    nav: Nav,
    name: String,
    demo: bool,
    bench: String,
    next: Next,
    cards: Vec<ProjectCard>,
}

/// The one thing to do next.
struct Next {
    says: &'static str,
    label: &'static str,
    url: String,
}

impl Next {
    fn of(bench: &Bench, has_project: bool) -> Self {
        if bench.is_empty() {
            Self {
                says: "First, say what you work with: your tools and the paper you cut from. It takes one form.",
                label: "Set up your bench",
                url: urls::bench(),
            }
        } else if has_project {
            Self {
                says: "Your projects are ready to be taught. Say who comes, and everything to print follows.",
                label: "Plan a class",
                url: urls::classes(),
            }
        } else {
            Self {
                says: "Your bench is set. Now the first piece: type the size of what goes in.",
                label: "Start a project",
                url: urls::new_project(),
            }
        }
    }
}

async fn show_home(
    State(app): State<App>,
    instructor: SignedIn,
) -> PageResult<Page<impl Template>> {
    let mut read = app.store().read().begin().await?;
    let bench = Bench::read(&mut read).await?;
    let cards = cards(&mut read, MOST_CARDS).await?;
    Ok(Page::ok(HomePage {
        nav: Nav::Home,
        name: instructor.name,
        demo: app.config().demo,
        bench: in_words(&bench),
        next: Next::of(&bench, !cards.is_empty()),
        cards,
    }))
}

/// "9 tools, 3 papers, 4 supplies".
fn in_words(bench: &Bench) -> String {
    let some = |count: usize, one: &str, many: &str| {
        format!("{count} {}", if count == 1 { one } else { many })
    };
    format!(
        "{}, {}, {}",
        some(bench.tools.len(), "tool", "tools"),
        some(bench.papers.len(), "paper", "papers"),
        some(bench.supplies.len(), "supply", "supplies")
    )
}
