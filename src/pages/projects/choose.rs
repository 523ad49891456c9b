//! "Which structure?": everything typed is kept, and all structures are compared for it.

use axum::extract::State;
use axum::response::Response;
use serde::Serialize;

use super::choose_page::{ChoosePage, Then};
use super::new::{self, NewProjectForm};
use super::new_supplies::Named;
use super::piece_form::PieceForm;
use super::pieces::{find, load};
use super::project_form::ProjectFields;
use crate::app::App;
use crate::error::PageResult;
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::stale::pairs;
use crate::pages::{Page, once, see_other};
use crate::recipe::{Comparison, ProjectFacts, compare};
use crate::store::project_facts::Bench;
use crate::urls;

/// Compares the structures for what was typed; what is wrong is marked on the form.
fn compared(
    bench: &Bench,
    facts: &ProjectFacts,
    form: &PieceForm,
    errors: &mut FormErrors,
) -> Option<Comparison> {
    let piece = form.read_contents(bench, facts, errors)?;
    let piece = bench.piece(0, &piece)?;
    match compare(facts, &piece) {
        Ok(compared) if errors.is_empty() => Some(compared),
        Ok(_) => None,
        Err(problem) => {
            errors.add(form.field_of(problem.field), problem.message);
            None
        }
    }
}

/// The fields that go on with whatever is chosen.
fn carried<F: Serialize>(form: &F) -> PageResult<Vec<(String, String)>> {
    const OWN: [&str; 5] = ["structure", "clearance", "do", "take", "change"];
    let mut fields = pairs(form)?;
    // Settings by hand belong to the structure that they were typed for.
    fields.retain(|(name, value)| {
        !OWN.contains(&name.as_str()) && !name.starts_with("at_") && !value.is_empty()
    });
    Ok(fields)
}

/// What was typed is not in the address: the form is where it goes on.
pub(super) async fn back_to_project(_: SignedIn) -> Response {
    see_other(&urls::new_project())
}

pub(super) async fn back_to_new_piece(_: SignedIn, Path(project): Path<i64>) -> Response {
    see_other(&urls::new_piece(project))
}

/// For a piece as it is stored, so that the page can be loaded again and shared.
pub(super) async fn show_for_piece(
    State(app): State<App>,
    _: SignedIn,
    Path((project, piece)): Path<(i64, i64)>,
) -> PageResult<Response> {
    let (loaded, stored) = (
        load(&app, project).await?,
        find(&app, project, piece).await?,
    );
    let form = PieceForm::of(&stored.it, stored.version, loaded.facts.board.ruler());
    choose(&app, (project, Some(piece)), form).await
}

pub(super) async fn choose_for_project(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<NewProjectForm>,
) -> PageResult<Response> {
    let bench = Bench::read(&mut *app.store().read().acquire().await?).await?;
    let mut errors = FormErrors::default();
    let named = Named::read(&bench, &form.piece, &mut errors);
    let tools = form.project.tools(&bench, &mut errors);
    let tools = tools.or_else(|| ProjectFields::usual(&bench).stand_in());
    let facts = tools.and_then(|tools| bench.project(&tools));
    let found = facts.and_then(|facts| {
        let found = compared(&named.bench, &facts, &named.form, &mut errors)?;
        Some((facts, found))
    });
    let Some((facts, found)) = found else {
        return Ok(new::page(bench, form, errors, None).answer());
    };
    let then = Then {
        again: urls::choose_for_project(),
        action: urls::projects(),
        fields: carried(&form)?,
    };
    let page = ChoosePage::new(&app, (&facts, &named.bench), &named.form, found, then);
    Ok(once::page(Page::ok(page)))
}

pub(super) async fn choose_for_new_piece(
    State(app): State<App>,
    _: SignedIn,
    Path(project): Path<i64>,
    ProtectedForm(form): ProtectedForm<PieceForm>,
) -> PageResult<Response> {
    choose(&app, (project, None), form).await
}

pub(super) async fn choose_for_piece(
    State(app): State<App>,
    _: SignedIn,
    Path((project, piece)): Path<(i64, i64)>,
    ProtectedForm(form): ProtectedForm<PieceForm>,
) -> PageResult<Response> {
    choose(&app, (project, Some(piece)), form).await
}

/// For a piece of a project that is there, new or stored.
async fn choose(
    app: &App,
    (project, piece): (i64, Option<i64>),
    form: PieceForm,
) -> PageResult<Response> {
    let loaded = load(app, project).await?;
    let stored = match piece {
        Some(id) => Some(find(app, project, id).await?),
        None => None,
    };
    let mut errors = FormErrors::default();
    let named = Named::read(&loaded.bench, &form, &mut errors);
    let found = compared(&named.bench, &loaded.facts, &named.form, &mut errors);
    let Some(found) = found else {
        let page = loaded.page(stored.as_ref(), form, errors, None);
        return Ok(page.answer());
    };
    let (again, action) = match piece {
        Some(id) => (
            urls::choose_for_piece(project, id),
            urls::piece(project, id),
        ),
        None => (urls::choose_for_new_piece(project), urls::pieces(project)),
    };
    let then = Then {
        again,
        action,
        fields: carried(&form)?,
    };
    let page = ChoosePage::new(app, (&loaded.facts, &named.bench), &named.form, found, then);
    Ok(once::page(Page::ok(page)))
}
