//! A project's own facts, and its removal.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use sqlx::SqliteExecutor;

use super::makers_fields::HANDS;
use super::pieces::{Loaded, load};
use super::project_form::{ProjectFields, boards, choices};
use crate::app::App;
use crate::error::PageResult;
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::removal::{self, RemovalPage};
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, see_other};
use crate::recipe::ToolKind;
use crate::store::project_facts::Bench;
use crate::store::projects::{self, Project};
use crate::store::{Saved, Update};
use crate::urls;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct EditForm {
    version: String,
    #[serde(flatten)]
    fields: ProjectFields,
}

#[derive(Template)]
#[template(path = "projects/edit.html")]
struct EditPage {
    nav: Nav,
    id: i64,
    title: String,
    form: EditForm,
    errors: FormErrors,
    bench: Bench,
}

impl EditPage {
    fn new(loaded: Loaded, form: EditForm, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Projects,
            id: loaded.project.id,
            title: loaded.project.it.title,
            form,
            errors,
            bench: loaded.bench,
        }
    }

    fn project_url(&self) -> String {
        urls::project(self.id)
    }

    fn edit_url(&self) -> String {
        urls::edit_project(self.id)
    }

    fn remove_url(&self) -> String {
        urls::remove_project(self.id)
    }

    fn boards(&self) -> Vec<(String, String)> {
        boards(&self.bench)
    }

    fn hands(&self) -> [(&'static str, &'static str); 3] {
        HANDS
    }

    fn trimmers(&self) -> Vec<(String, String)> {
        choices(&self.bench, ToolKind::Trimmer)
    }
}

fn form_of(loaded: &Loaded) -> EditForm {
    EditForm {
        version: loaded.project.version.to_string(),
        fields: ProjectFields::of(&loaded.project.it, loaded.facts.board.ruler()),
    }
}

pub(super) async fn edit_project(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let loaded = load(&app, id).await?;
    let form = form_of(&loaded);
    Ok(Page::ok(EditPage::new(loaded, form, FormErrors::default())))
}

pub(super) async fn update_project(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<EditForm>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let mut errors = FormErrors::default();
    let Some(project) = form.fields.read(&loaded.bench, &mut errors) else {
        return Ok(Page::invalid(EditPage::new(loaded, form, errors)).into_response());
    };
    let version = form.version.parse().unwrap_or(0);
    let mut change = app.store().change().await?;
    match projects::update_project(&mut *change, (id, version), &project).await? {
        Update::Done => change.commit().await?,
        Update::Stale => {
            let (again, now) = (urls::edit_project(id), form_of(&loaded));
            let now = (&now, loaded.project.version);
            return Err(stale("project", again.clone(), again, &form, now));
        }
    }
    Ok(see_other(&urls::project(id)))
}

async fn removal(db: impl SqliteExecutor<'_>, project: Saved<Project>) -> PageResult<RemovalPage> {
    let uses = projects::list_uses_of_project(db, project.id).await?;
    Ok(RemovalPage {
        nav: Nav::Projects,
        what: "project",
        goes: "Its pieces, and what you changed in its steps, go with it. Papers, supplies and tools stay on your bench.".to_owned(),
        refusal: removal::refusal("project", &uses),
        action: urls::remove_project(project.id),
        keep: urls::edit_project(project.id),
        name: project.it.title,
    })
}

pub(super) async fn ask_remove_project(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    Ok(removal(app.store().read(), loaded.project).await?.ask())
}

pub(super) async fn delete_project(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let mut change = app.store().change().await?;
    if let Some(refused) = removal(&mut *change, loaded.project).await?.refused() {
        return Ok(refused);
    }
    projects::delete_project(&mut *change, id).await?;
    change.commit().await?;
    Ok(see_other(&urls::projects()))
}
