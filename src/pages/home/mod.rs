//! The start page: what to do next.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::routing::get;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::extract::SignedIn;
use super::projects::{ProjectCard, cards};
use super::{Nav, Page, when};
use crate::app::App;
use crate::error::PageResult;
use crate::store;
use crate::store::classes::ClassLine;
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
    class: Option<NextClass>,
    cards: Vec<ProjectCard>,
}

/// The next class, today or later.
struct NextClass {
    id: i64,
    title: String,
    url: String,
    when: String,
    project: String,
    is_published: bool,
}

impl NextClass {
    /// The server does not know the hall's time zone, so a class is "next" until its day is
    /// over in UTC.
    fn of(classes: Vec<ClassLine>, today: Date) -> Option<Self> {
        let ahead = classes.into_iter().filter(|class| class.date >= today);
        let class = ahead.min_by_key(|class| (class.date, class.starts))?;
        let (day, clock) = (when::day(class.date), when::clock(class.starts));
        Some(Self {
            id: class.id,
            is_published: class.revision.is_some(),
            url: urls::class(class.id),
            title: class.title,
            when: format!("{day}, {clock}, {}", class.place),
            project: class.project,
        })
    }

    fn next(&self) -> Next {
        if self.is_published {
            Next {
                says: "Your next class is published. Print its packet, and put the kits together.",
                label: "Open the packet",
                url: urls::class_packet(self.id),
            }
        } else {
            Next {
                says: "Your next class is planned. Look it over, and publish it for phones and for the host.",
                label: "Open the class",
                url: self.url.clone(),
            }
        }
    }
}

/// The one thing to do next.
struct Next {
    says: &'static str,
    label: &'static str,
    url: String,
}

impl Next {
    fn of(bench: &Bench, has_project: bool, class: Option<&NextClass>) -> Self {
        if let Some(class) = class {
            class.next()
        } else if bench.is_empty() {
            Self {
                says: "First, say what you work with: your tools and the paper you cut from. It takes one form.",
                label: "Set up your bench",
                url: urls::bench(),
            }
        } else if has_project {
            Self {
                says: "Your projects are ready to be taught. Say who comes, and everything to print follows.",
                label: "Plan a class",
                url: urls::class_new(),
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
    let classes = store::classes::list_classes(&mut *read).await?;
    let today = TimeZone::UTC.to_datetime(app.clock().now()).date();
    let class = NextClass::of(classes, today);
    Ok(Page::ok(HomePage {
        nav: Nav::Home,
        name: instructor.name,
        demo: app.config().demo,
        bench: in_words(&bench),
        next: Next::of(&bench, !cards.is_empty(), class.as_ref()),
        class,
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
