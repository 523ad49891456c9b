//! All classes.

use askama::Template;
use axum::extract::State;
use sqlx::SqliteConnection;

use crate::app::App;
use crate::error::PageResult;
use crate::pages::extract::SignedIn;
use crate::pages::paperwork::{Portrait, counted, portraits};
use crate::pages::projects::MOST_PORTRAITS;
use crate::pages::{Nav, Page, when};
use crate::recipe::Recipe;
use crate::store::class_project::class_project;
use crate::store::classes::{ClassLine, find_class, list_classes as list};
use crate::store::{self, StoreResult};

/// The latest classes have portraits; a long list stays quick.
const MOST_WITH_PORTRAITS: usize = 24;

#[derive(Template)]
#[template(path = "classes/list.html")]
struct ClassesPage {
    nav: Nav,
    classes: Vec<ClassRow>,
    no_project: bool,
}

struct ClassRow {
    id: i64,
    title: String,
    day: String,
    clock: String,
    place: String,
    project: String,
    attendees: String,
    state: String,
    /// What is made, finished.
    portraits: Vec<Portrait>,
}

pub(super) async fn list_classes(
    State(app): State<App>,
    _: SignedIn,
) -> PageResult<Page<impl Template>> {
    let mut read = app.store().read().begin().await?;
    let projects = store::projects::list_projects(&mut *read).await?;
    let mut classes = Vec::new();
    for (at, class) in list(&mut *read).await?.into_iter().enumerate() {
        let portraits = if at < MOST_WITH_PORTRAITS {
            made(&mut read, class.id).await?
        } else {
            Vec::new()
        };
        classes.push(row(class, portraits));
    }
    Ok(Page::ok(ClassesPage {
        nav: Nav::Classes,
        classes,
        no_project: projects.is_empty(),
    }))
}

/// The pieces of a class, as many as a card has room for; none where one can't be made.
async fn made(db: &mut SqliteConnection, id: i64) -> StoreResult<Vec<Portrait>> {
    let Some(class) = find_class(&mut *db, id).await? else {
        return Ok(Vec::new());
    };
    let project = class_project(db, &class.details).await?;
    let recipe = project.and_then(|project| Recipe::build(&project.facts).ok());
    let pieces = recipe.as_ref().map_or(&[][..], |recipe| &recipe.pieces);
    let shown = pieces.get(..MOST_PORTRAITS).unwrap_or(pieces);
    Ok(portraits(shown, &format!("class{id}p")))
}

fn row(class: ClassLine, portraits: Vec<Portrait>) -> ClassRow {
    ClassRow {
        portraits,
        id: class.id,
        title: class.title,
        day: when::day(class.date),
        clock: when::clock(class.starts),
        place: class.place,
        project: class.project,
        attendees: counted(u64::from(class.attendees), "attendee", "attendees"),
        state: match class.revision {
            Some(number) => format!("revision {number} is published"),
            None => "not published".to_owned(),
        },
    }
}
