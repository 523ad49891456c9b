//! All colourways of a class in one form: name, spares, and a paper for each role.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::colourway_rows::Row;
use super::typed::Typed;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, see_other};
use crate::recipe::Role;
use crate::store::bench::list_papers;
use crate::store::class_lists::{self, StoredColourway, list_attendees, list_colourways};
use crate::store::class_project::class_project;
use crate::store::classes::{Class, ClassList, find_class, update_list_version};
use crate::urls;
use crate::workshop::roles_to_choose;

#[derive(Template)]
#[template(path = "classes/colourways.html")]
struct ColourwaysPage {
    nav: Nav,
    class: Class,
    version: i64,
    roles: Vec<Role>,
    rows: Vec<Row>,
    papers: Vec<(String, String)>,
    errors: FormErrors,
}

/// A class with everything the form offers, of one moment.
pub(super) struct Stored {
    class: Class,
    pub(super) colourways: Vec<StoredColourway>,
    /// Colourway of each attendee.
    pub(super) chosen: Vec<i64>,
    pub(super) roles: Vec<Role>,
    pub(super) papers: Vec<(String, String)>,
}

pub(super) async fn edit_colourways(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let mut read = app.store().read().begin().await?;
    let stored = stored(&mut read, id).await?;
    let mut rows = stored.rows();
    rows.extend(Row::blanks(rows.len(), stored.roles.len()));
    let version = stored.class.versions.colourways;
    Ok(Page::ok(stored.page(version, rows, FormErrors::default())))
}

pub(super) async fn update_colourways(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(typed): ProtectedForm<Typed>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let stored = stored(&mut change, id).await?;
    let rows = stored.typed_rows(&typed);
    let mut errors = FormErrors::default();
    let Some((colourways, removed)) = stored.read(&rows, &mut errors) else {
        let page = stored.page(typed.version(), rows, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let list = ClassList::Colourways;
    if !update_list_version(&mut *change, id, list, typed.version()).await? {
        let newer = stored.class.versions.colourways;
        let texts = (stored.texts(&rows), stored.texts(&stored.rows()));
        let address = urls::class_colourways(id);
        return Err(typed.stale("list of colourways", &address, newer, texts));
    }
    class_lists::update_colourways(&mut change, id, &colourways, &removed).await?;
    change.commit().await?;
    Ok(see_other(&urls::class_saved(id)))
}

async fn stored(db: &mut sqlx::SqliteConnection, id: i64) -> PageResult<Stored> {
    let class = find_class(&mut *db, id).await?;
    let class = class.ok_or(PageError::NotFound)?;
    let project = class_project(&mut *db, &class.details).await?;
    let project = project.ok_or(PageError::NotFound)?.facts;
    let papers = list_papers(&mut *db).await?;
    let attendees = list_attendees(&mut *db, id).await?;
    Ok(Stored {
        class,
        colourways: list_colourways(&mut *db, id).await?,
        chosen: attendees.into_iter().map(|a| a.colourway_id).collect(),
        roles: roles_to_choose(&project),
        papers: papers
            .into_iter()
            .map(|paper| (paper.id.to_string(), paper.it.paper.name))
            .collect(),
    })
}

impl Stored {
    fn page(self, version: i64, rows: Vec<Row>, errors: FormErrors) -> ColourwaysPage {
        ColourwaysPage {
            nav: Nav::Classes,
            version,
            roles: self.roles,
            rows,
            papers: self.papers,
            errors,
            class: self.class,
        }
    }
}
