//! Adding, editing, moving and removing pieces.

use axum::extract::State;
use axum::response::Response;
use serde::Deserialize;

use super::new_supplies::Named;
use super::order;
use super::piece_form::PieceForm;
use super::piece_page::{PiecePage, look};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, Query, SignedIn};
use crate::pages::removal::{self, RemovalPage};
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, once, see_other};
use crate::recipe::{ProjectFacts, Recipe};
use crate::store::project_facts::{Bench, project_facts};
use crate::store::projects::{self, Piece, Project};
use crate::store::{Saved, Update};
use crate::urls;

/// A project with the bench, for a form.
pub(super) struct Loaded {
    pub(super) bench: Bench,
    pub(super) project: Saved<Project>,
    pub(super) facts: ProjectFacts,
}

pub(super) async fn load(app: &App, project: i64) -> PageResult<Loaded> {
    let mut read = app.store().read().begin().await?;
    let found = projects::find_project(&mut *read, project).await?;
    let found = found.ok_or(PageError::NotFound)?;
    let bench = Bench::read(&mut read).await?;
    let facts = bench
        .project(&found.it)
        .ok_or_else(|| PageError::internal("a project without its tools"))?;
    Ok(Loaded {
        bench,
        project: found,
        facts,
    })
}

impl Loaded {
    /// The page of a piece, new or stored.
    pub(super) fn page(
        self,
        stored: Option<&Saved<Piece>>,
        form: PieceForm,
        errors: FormErrors,
        look: Option<super::piece_view::PieceView>,
    ) -> PiecePage {
        let id = self.project.id;
        let (title, action, choose_url) = match stored {
            Some(piece) => (
                piece.it.name.clone(),
                urls::piece(id, piece.id),
                urls::choose_for_piece(id, piece.id),
            ),
            None => (
                "New piece".to_owned(),
                urls::pieces(id),
                urls::choose_for_new_piece(id),
            ),
        };
        PiecePage {
            title,
            action,
            choose_url,
            back: (self.project.it.title.clone(), urls::project(id)),
            remove_url: stored.map(|piece| urls::remove_piece(id, piece.id)),
            ..PiecePage::new(self.bench, form, errors, look)
        }
    }
}

pub(super) async fn new_piece(
    State(app): State<App>,
    _: SignedIn,
    Path(project): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, project).await?;
    let form = PieceForm {
        once: once::token()?,
        ..PieceForm::usual(&loaded.bench)
    };
    let page = loaded.page(None, form, FormErrors::default(), None);
    Ok(once::page(Page::ok(page)))
}

pub(super) async fn create_piece(
    State(app): State<App>,
    _: SignedIn,
    Path(project): Path<i64>,
    ProtectedForm(form): ProtectedForm<PieceForm>,
) -> PageResult<Response> {
    let loaded = load(&app, project).await?;
    let form = form.taking().using(&loaded.bench, &loaded.facts);
    let mut errors = FormErrors::default();
    let named = Named::read(&loaded.bench, &form, &mut errors);
    let piece = named.form.read(&named.bench, &loaded.facts, &mut errors);
    let view = piece.as_ref().and_then(|piece| {
        let at = ((project, 0), piece);
        look(&named.bench, &loaded.facts, at, &form, &mut errors)
    });
    match (piece, &view) {
        (Some(mut piece), Some(_)) if form.is_save(&errors) => {
            let mut change = app.store().change().await?;
            if let Some(made) = once::made(&mut change, &form.once).await? {
                return Ok(made);
            }
            named.insert(&mut change, &mut piece.spec).await?;
            projects::insert_piece(&mut change, project, &piece).await?;
            let saved = urls::project_without(project, &form.left_out);
            once::commit(&app, change, &form.once, &saved).await
        }
        _ => Ok(loaded.page(None, form, errors, view).answer()),
    }
}

pub(super) async fn find(app: &App, project: i64, id: i64) -> PageResult<Saved<Piece>> {
    let found = projects::find_piece(app.store().read(), project, id).await?;
    found.ok_or(PageError::NotFound)
}

/// What a break point of the project's page changes.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Changed {
    change: String,
}

pub(super) async fn edit_piece(
    State(app): State<App>,
    _: SignedIn,
    Path((project, id)): Path<(i64, i64)>,
    Query(Changed { change }): Query<Changed>,
) -> PageResult<Response> {
    let (loaded, piece) = (load(&app, project).await?, find(&app, project, id).await?);
    let form = PieceForm::of(&piece.it, piece.version, loaded.facts.board.ruler());
    let mut errors = FormErrors::default();
    let is_stored = change.is_empty();
    let form = PieceForm { change, ..form }.changed();
    let shown = match is_stored {
        true => Some(piece.it.clone()),
        false => form.read(&loaded.bench, &loaded.facts, &mut errors),
    };
    let mut view = shown.and_then(|shown| {
        let at = ((project, id), &shown);
        look(&loaded.bench, &loaded.facts, at, &form, &mut errors)
    });
    if is_stored {
        let pieces = projects::list_pieces(app.store().read(), project).await?;
        let named = pieces.iter().map(|it| (it.id, it.it.name.as_str()));
        view = view.map(|view| view.offering(project, named)).transpose()?;
    }
    let page = loaded.page(Some(&piece), form, errors, view);
    Ok(match page.errors.is_empty() {
        true => once::page(Page::ok(page)),
        false => page.answer(),
    })
}

pub(super) async fn update_piece(
    State(app): State<App>,
    _: SignedIn,
    Path((project, id)): Path<(i64, i64)>,
    ProtectedForm(form): ProtectedForm<PieceForm>,
) -> PageResult<Response> {
    let (loaded, saved) = (load(&app, project).await?, find(&app, project, id).await?);
    let form = form.taking().using(&loaded.bench, &loaded.facts);
    let mut errors = FormErrors::default();
    let named = Named::read(&loaded.bench, &form, &mut errors);
    let piece = named.form.read(&named.bench, &loaded.facts, &mut errors);
    let view = piece.as_ref().and_then(|piece| {
        let at = ((project, id), piece);
        look(&named.bench, &loaded.facts, at, &form, &mut errors)
    });
    match (piece, &view) {
        (Some(piece), Some(_)) if form.is_save(&errors) => {
            save(&app, &loaded, (project, &saved), &form, (&named, piece)).await
        }
        _ => Ok(loaded.page(Some(&saved), form, errors, view).answer()),
    }
}

async fn save(
    app: &App,
    loaded: &Loaded,
    (project, saved): (i64, &Saved<Piece>),
    form: &PieceForm,
    (named, mut piece): (&Named, Piece),
) -> PageResult<Response> {
    let version = form.version.parse().unwrap_or(0);
    let mut change = app.store().change().await?;
    named.insert(&mut change, &mut piece.spec).await?;
    match projects::update_piece(&mut change, (saved.id, version), &piece).await? {
        Update::Done => {
            change.commit().await?;
            Ok(see_other(&urls::project_without(project, &form.left_out)))
        }
        Update::Stale => {
            let now = PieceForm::of(&saved.it, saved.version, loaded.facts.board.ruler());
            let url = urls::piece(project, saved.id);
            Err(stale(
                "piece",
                url.clone(),
                url,
                form,
                (&now, saved.version),
            ))
        }
    }
}

/// Which way something moves.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct MoveForm {
    pub(super) direction: String,
}

pub(super) async fn move_piece(
    State(app): State<App>,
    _: SignedIn,
    Path((project, id)): Path<(i64, i64)>,
    ProtectedForm(form): ProtectedForm<MoveForm>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let pieces = projects::list_pieces(&mut *change, project).await?;
    let mut ids: Vec<i64> = pieces.iter().map(|piece| piece.id).collect();
    let at = ids.iter().position(|other| *other == id);
    let at = at.ok_or(PageError::NotFound)?;
    let with = if form.direction == "up" {
        at.checked_sub(1)
    } else {
        Some(at + 1).filter(|with| *with < ids.len())
    };
    // At the end already, as after a double click: nothing to do.
    if let Some(with) = with {
        ids.swap(at, with);
        projects::update_piece_order(&mut change, project, &ids).await?;
        let facts = project_facts(&mut change, project).await?;
        let recipe = facts.and_then(|facts| Recipe::build(&facts).ok());
        if let Some(recipe) = recipe {
            let keys = order::by_piece(&recipe);
            projects::update_step_order(&mut change, project, &keys).await?;
        }
        change.commit().await?;
    }
    Ok(see_other(&urls::project(project)))
}

/// Published classes keep what was frozen; all others lose the piece, so they are named.
pub(super) async fn ask_remove_piece(
    State(app): State<App>,
    _: SignedIn,
    Path((project, id)): Path<(i64, i64)>,
) -> PageResult<Response> {
    let piece = find(&app, project, id).await?;
    let uses = projects::list_uses_of_project(app.store().read(), project).await?;
    let goes = "Its parts, and what you changed in its steps, go with it.";
    let goes = match removal::places(&uses) {
        Some(places) => format!(
            "{goes} It is made in {places}: the packet there changes, and links show what you published until you publish again."
        ),
        None => goes.to_owned(),
    };
    let page = RemovalPage {
        nav: Nav::Projects,
        what: "piece",
        name: piece.it.name,
        goes,
        refusal: None,
        action: urls::remove_piece(project, id),
        keep: urls::piece(project, id),
    };
    Ok(page.ask())
}

pub(super) async fn delete_piece(
    State(app): State<App>,
    _: SignedIn,
    Path((project, id)): Path<(i64, i64)>,
) -> PageResult<Response> {
    find(&app, project, id).await?;
    let mut change = app.store().change().await?;
    projects::delete_piece(&mut change, project, id).await?;
    change.commit().await?;
    Ok(see_other(&urls::project(project)))
}
