//! Adding, editing and removing tools.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use sqlx::SqliteExecutor;
use tablefold_geometry::Length;

use super::show::carrier;
use super::tool_form::{ToolForm, capital, is_ruled};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, Query, SignedIn};
use crate::pages::removal::{self, RemovalPage};
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, once, see_other};
use crate::recipe::ToolKind;
use crate::store::bench::{self, BenchTool};
use crate::store::project_facts::Bench;
use crate::store::{Saved, Update};
use crate::urls;
use crate::workshop::BroughtBy;

/// The form of a tool, new or stored.
#[derive(Template)]
#[template(path = "bench/tool.html")]
pub(super) struct ToolPage {
    nav: Nav,
    title: String,
    action: String,
    /// The stored tool, which can be removed and, if it is a board, calibrated.
    id: Option<i64>,
    kind: ToolKind,
    pub(super) form: ToolForm,
    pub(super) errors: FormErrors,
    pub(super) calibration: Calibration,
}

/// What was typed to calibrate, and what follows.
#[derive(Clone, Debug, Default)]
pub(super) struct Calibration {
    pub(super) square: String,
    pub(super) small: String,
    /// The notch depth that follows: as the ruler reads, and for the field.
    pub(super) depth: Option<(String, Length)>,
}

impl ToolPage {
    fn new(kind: ToolKind, form: ToolForm, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Bench,
            title: format!("New {}", kind.name()),
            action: urls::tools(),
            id: None,
            kind,
            form,
            errors,
            calibration: Calibration::default(),
        }
    }

    pub(super) fn stored(tool: &Saved<BenchTool>, form: ToolForm, errors: FormErrors) -> Self {
        Self {
            title: tool.it.name.clone(),
            action: urls::tool(tool.id),
            id: Some(tool.id),
            ..Self::new(tool.it.kind, form, errors)
        }
    }

    fn remove_url(&self) -> Option<String> {
        self.id.map(urls::remove_tool)
    }

    fn calibrate_url(&self) -> String {
        self.id.map(urls::calibrate).unwrap_or_default()
    }

    fn is_ruled(&self) -> bool {
        is_ruled(self.kind)
    }

    fn is_board(&self) -> bool {
        self.kind == ToolKind::PunchBoard
    }

    fn is_trimmer(&self) -> bool {
        self.kind == ToolKind::Trimmer
    }

    fn kind_name(&self) -> String {
        capital(self.kind.name())
    }

    fn carriers(&self) -> [(&'static str, &'static str); 3] {
        BroughtBy::ALL.map(|by| (by.slug(), carrier(by)))
    }

    fn units(&self) -> [(&'static str, &'static str); 3] {
        [
            ("in", "inches"),
            ("mm", "millimetres"),
            ("cm", "centimetres"),
        ]
    }
}

#[derive(Debug, Deserialize)]
pub(super) struct NewToolQuery {
    kind: Option<String>,
}

pub(super) async fn new_tool(
    State(app): State<App>,
    _: SignedIn,
    Query(query): Query<NewToolQuery>,
) -> PageResult<Response> {
    let kind = query.kind.as_deref().and_then(ToolKind::from_slug);
    let kind = kind.ok_or_else(no_kind)?;
    let bench = Bench::read(&mut *app.store().read().acquire().await?).await?;
    let form = ToolForm {
        once: once::token()?,
        ..ToolForm::usual(kind, &bench.ruler())
    };
    let page = ToolPage::new(kind, form, FormErrors::default());
    Ok(once::page(Page::ok(page)))
}

fn no_kind() -> PageError {
    PageError::bad_request(
        "This is no kind of tool.",
        "Open the bench and choose one under Add a tool.",
    )
}

pub(super) async fn create_tool(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<ToolForm>,
) -> PageResult<Response> {
    let kind = ToolKind::from_slug(&form.kind).ok_or_else(no_kind)?;
    let mut errors = FormErrors::default();
    let Some(tool) = form.read(kind, &mut errors) else {
        return Ok(Page::invalid(ToolPage::new(kind, form, errors)).into_response());
    };
    let mut change = app.store().change().await?;
    if let Some(made) = once::made(&mut change, &form.once).await? {
        return Ok(made);
    }
    bench::insert_tool(&mut *change, &tool).await?;
    once::commit(&app, change, &form.once, &urls::bench()).await
}

pub(super) async fn find(app: &App, id: i64) -> PageResult<Saved<BenchTool>> {
    let found = bench::find_tool(app.store().read(), id).await?;
    found.ok_or(PageError::NotFound)
}

pub(super) async fn edit_tool(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let tool = find(&app, id).await?;
    let form = ToolForm::of(&tool.it, tool.version);
    Ok(Page::ok(ToolPage::stored(
        &tool,
        form,
        FormErrors::default(),
    )))
}

pub(super) async fn update_tool(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<ToolForm>,
) -> PageResult<Response> {
    let saved = find(&app, id).await?;
    let mut errors = FormErrors::default();
    let Some(tool) = form.read(saved.it.kind, &mut errors) else {
        return Ok(Page::invalid(ToolPage::stored(&saved, form, errors)).into_response());
    };
    let version = form.version.parse().unwrap_or(0);
    let mut change = app.store().change().await?;
    match bench::update_tool(&mut *change, (id, version), &tool).await? {
        Update::Done => change.commit().await?,
        Update::Stale => {
            let now = ToolForm::of(&saved.it, saved.version);
            let (again, action) = (urls::tool(id), urls::tool(id));
            return Err(stale("tool", again, action, &form, (&now, saved.version)));
        }
    }
    Ok(see_other(&urls::bench()))
}

async fn removal(db: impl SqliteExecutor<'_>, tool: Saved<BenchTool>) -> PageResult<RemovalPage> {
    let uses = bench::list_uses_of_tool(db, tool.id).await?;
    Ok(RemovalPage {
        nav: Nav::Bench,
        what: "tool",
        goes: "It goes from your bench.".to_owned(),
        refusal: removal::refusal("tool", &uses),
        action: urls::remove_tool(tool.id),
        keep: urls::tool(tool.id),
        name: tool.it.name,
    })
}

pub(super) async fn ask_remove_tool(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let tool = find(&app, id).await?;
    Ok(removal(app.store().read(), tool).await?.ask())
}

pub(super) async fn delete_tool(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let tool = find(&app, id).await?;
    let mut change = app.store().change().await?;
    if let Some(refused) = removal(&mut *change, tool).await?.refused() {
        return Ok(refused);
    }
    bench::delete_tool(&mut *change, id).await?;
    change.commit().await?;
    Ok(see_other(&urls::bench()))
}
