//! All classes.

use askama::Template;
use axum::extract::State;

use crate::app::App;
use crate::error::PageResult;
use crate::pages::extract::SignedIn;
use crate::pages::paperwork::counted;
use crate::pages::{Nav, Page, when};
use crate::store;
use crate::store::classes::ClassLine;

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
}

pub(super) async fn list_classes(
    State(app): State<App>,
    _: SignedIn,
) -> PageResult<Page<impl Template>> {
    let classes = store::classes::list_classes(app.store().read()).await?;
    let projects = store::projects::list_projects(app.store().read()).await?;
    Ok(Page::ok(ClassesPage {
        nav: Nav::Classes,
        classes: classes.into_iter().map(row).collect(),
        no_project: projects.is_empty(),
    }))
}

fn row(class: ClassLine) -> ClassRow {
    ClassRow {
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
