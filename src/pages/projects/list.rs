//! All projects, each with a picture and its numbers.

use askama::Template;
use axum::extract::State;
use sqlx::SqliteConnection;
use tablefold_geometry::{Length, SetOn, SettingField};

use crate::app::App;
use crate::error::PageResult;
use crate::pages::both::time_text;
use crate::pages::extract::SignedIn;
use crate::pages::paperwork::{Portrait, portraits};
use crate::pages::{Nav, Page};
use crate::recipe::{ProjectFacts, Recipe, Step};
use crate::store::StoreResult;
use crate::store::project_facts::{Bench, project_facts};
use crate::store::projects;
use crate::urls;

#[derive(Template)]
#[template(path = "projects/projects.html")]
struct ProjectsPage {
    nav: Nav,
    cards: Vec<ProjectCard>,
    /// Whether there is nothing yet to make one of.
    is_bench_empty: bool,
}

/// So many pieces have room on a card.
pub(crate) const MOST_PORTRAITS: usize = 3;

/// A project at a glance.
pub(crate) struct ProjectCard {
    /// Its page.
    pub(crate) url: String,
    /// What it is called.
    pub(crate) title: String,
    /// How many are usually made.
    pub(crate) makes: u32,
    /// The first pieces, finished.
    pub(crate) portraits: Vec<Portrait>,
    /// Each piece with its settings, in words.
    pub(crate) pieces: Vec<String>,
    /// Time in class for one, in words.
    pub(crate) class_time: String,
    /// What keeps it from being made.
    pub(crate) problem: Option<String>,
}

/// The newest projects, at most `most`.
pub(crate) async fn cards(db: &mut SqliteConnection, most: usize) -> StoreResult<Vec<ProjectCard>> {
    let mut cards = Vec::new();
    for project in projects::list_projects(&mut *db)
        .await?
        .into_iter()
        .take(most)
    {
        if let Some(facts) = project_facts(&mut *db, project.id).await? {
            cards.push(card(project.id, &facts));
        }
    }
    Ok(cards)
}

fn card(id: i64, facts: &ProjectFacts) -> ProjectCard {
    let recipe = Recipe::build(facts);
    let problem = recipe.as_ref().err().and_then(|problems| {
        let first = problems.first()?;
        Some(format!("{}: {}", first.piece, first.message))
    });
    let recipe = recipe.ok();
    let made = recipe.as_ref().map_or(&[][..], |recipe| &recipe.pieces);
    let pieces = made.iter().map(|made| {
        let tools = made.structure.tools();
        let mark = |(field, at): (&SettingField, Length)| {
            let ruler = tools.ruler(field.tool).unwrap_or(tools.main_ruler());
            let link = match field.tool {
                SetOn::Score | SetOn::PunchBoard => "at ",
                SetOn::Sheet | SetOn::Trimmer | SetOn::Template => "",
            };
            format!("{} {link}{}", field.name, ruler.text(at))
        };
        let marks: Vec<String> = made.structure.settings().each().map(mark).collect();
        format!("{}: {}", made.name, marks.join(", "))
    });
    let shown = made.get(..MOST_PORTRAITS).unwrap_or(made);
    ProjectCard {
        url: urls::project(id),
        title: facts.title.clone(),
        makes: facts.makes,
        portraits: portraits(shown, &format!("project{id}p")),
        pieces: pieces.collect(),
        class_time: recipe.as_ref().map_or_else(String::new, |recipe| {
            time_text(seconds(recipe.steps.iter().filter(|step| step.is_class())))
        }),
        problem,
    }
}

/// Time of some steps, one kit.
pub(super) fn seconds<'a>(steps: impl Iterator<Item = &'a Step>) -> u32 {
    steps.fold(0, |sum, step| sum.saturating_add(step.operation.seconds))
}

pub(super) async fn list_projects(
    State(app): State<App>,
    _: SignedIn,
) -> PageResult<Page<impl Template>> {
    let mut read = app.store().read().begin().await?;
    let cards = cards(&mut read, usize::MAX).await?;
    let bench = Bench::read(&mut read).await?;
    Ok(Page::ok(ProjectsPage {
        nav: Nav::Projects,
        cards,
        is_bench_empty: bench.is_empty(),
    }))
}
