//! The kit-prep list with one form: who helps with which batch. Names are stored for what is
//! done, not for a batch, because batches are planned anew each time.

use std::collections::BTreeMap;

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::overview::addresses;
use super::planning::{Made, PATIENCE, make, planning};
use super::typed::{Texts, Typed};
use super::{Loaded, load, refused};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, Query, SignedIn};
use crate::pages::paperwork::{Heading, PrepList, prep_list};
use crate::pages::{Nav, Page, see_other};
use crate::planner::CutPlanner;
use crate::store::class_lists::{list_helpers, update_helpers};
use crate::store::classes::{ClassList, find_class, update_list_version};
use crate::urls;

/// The longest name of a helper, or of several.
const LONGEST_NAME: usize = 80;
/// More fields than a list can have; a form that claims more is not ours.
const MOST_FIELDS: usize = 2000;
/// What stands in front of the names of fields.
const FIELD: &str = "helper-";

#[derive(Template)]
#[template(path = "classes/prep.html")]
struct PrepPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    prep: PrepList,
    /// Title and address of each project.
    projects: Vec<(String, String)>,
    version: i64,
    saved: bool,
    errors: FormErrors,
}

/// What came before.
#[derive(Debug, Deserialize)]
pub(super) struct PrepQuery {
    done: Option<String>,
}

/// Names by what is done.
type Names = BTreeMap<String, String>;

/// What the form shows beside the list.
struct Form {
    names: Names,
    version: i64,
    saved: bool,
    errors: FormErrors,
}

pub(super) async fn show_prep(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(query): Query<PrepQuery>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let form = Form {
        names: list_helpers(app.store().read(), id).await?,
        version: loaded.class.versions.helpers,
        saved: query.done.as_deref() == Some("saved"),
        errors: FormErrors::default(),
    };
    page(&loaded, app.planner(), StatusCode::OK, form).await
}

pub(super) async fn update_prep(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(typed): ProtectedForm<Typed>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let mut errors = FormErrors::default();
    let names = read(&typed, &mut errors);
    if !errors.is_empty() {
        let form = Form {
            version: typed.version(),
            saved: false,
            names,
            errors,
        };
        let planner = app.planner().waiting(PATIENCE);
        return page(&loaded, &planner, StatusCode::UNPROCESSABLE_ENTITY, form).await;
    }
    let mut change = app.store().change().await?;
    let list = ClassList::Helpers;
    if !update_list_version(&mut *change, id, list, typed.version()).await? {
        let class = find_class(&mut *change, id).await?;
        let newer = class.ok_or(PageError::NotFound)?.versions.helpers;
        let stored = list_helpers(&mut *change, id).await?;
        drop(change);
        let made = make(&app.planner().waiting(PATIENCE), &loaded.facts).await;
        let prep = match made {
            Made::Packet(packet) => Some(prep_list(&loaded.facts, &packet)),
            Made::Refused(_) | Made::Planning(_) => None,
        };
        let texts = texts(prep.as_ref(), &names, &stored);
        return Err(typed.stale("list of helpers", &urls::class_prep(id), newer, texts));
    }
    update_helpers(&mut change, id, &names).await?;
    change.commit().await?;
    Ok(see_other(&urls::class_prep_saved(id)))
}

async fn page(
    loaded: &Loaded,
    planner: &CutPlanner,
    status: StatusCode,
    form: Form,
) -> PageResult<Response> {
    let packet = match make(planner, &loaded.facts).await {
        Made::Packet(packet) => packet,
        Made::Refused(problems) => return Ok(refused(&loaded.class, &loaded.facts, &problems)),
        Made::Planning(percent) => return Ok(planning(&loaded.facts.title, percent, None)),
    };
    let page = PrepPage {
        nav: Nav::Classes,
        id: loaded.class.id,
        heading: loaded.heading()?,
        prep: prep_list(&loaded.facts, &packet).helped_by(&form.names),
        projects: addresses(loaded),
        version: form.version,
        saved: form.saved,
        errors: form.errors,
    };
    Ok(Page::with_status(status, page).into_response())
}

/// The names as typed; with errors for those that can't be. A field says in its own name what
/// it is for, so that a save needs no packet.
fn read(typed: &Typed, errors: &mut FormErrors) -> Names {
    let mut names = Names::new();
    for (keys, name) in typed.values(FIELD).take(MOST_FIELDS) {
        let first = keys.split(' ').next().unwrap_or_default();
        let field = format!("{FIELD}{first}");
        let read = errors.optional_text(field, "Helper", name, LONGEST_NAME);
        let name = read.unwrap_or_else(|| name.to_owned());
        names.extend(keys.split(' ').map(|key| (key.to_owned(), name.clone())));
    }
    names
}

/// Yours and what is stored, for all that yours says.
fn texts(prep: Option<&PrepList>, yours: &Names, stored: &Names) -> (Texts, Texts) {
    let what = |key: &str| {
        let mut helpers = prep.into_iter().flat_map(PrepList::helpers);
        let helper = helpers.find(|helper| helper.is_for(key));
        helper.map_or_else(
            || key.to_owned(),
            |helper| format!("Helper with {}", helper.what),
        )
    };
    let mut both: (Texts, Texts) = Default::default();
    for (key, name) in yours {
        let label = what(key);
        // The keys of one batch share its field.
        if both.0.iter().any(|(other, _)| *other == label) {
            continue;
        }
        both.0.push((label.clone(), name.clone()));
        both.1
            .push((label, stored.get(key).cloned().unwrap_or_default()));
    }
    both
}
