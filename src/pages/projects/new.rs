//! A new project with its first piece, in one form.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};

use super::new_supplies::Named;
use super::piece_form::PieceForm;
use super::piece_page::{PiecePage, look};
use super::piece_view::PieceView;
use super::project_form::ProjectFields;
use crate::app::App;
use crate::error::PageResult;
use crate::forms::FormErrors;
use crate::pages::extract::{ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, once};
use crate::recipe::ToolKind;
use crate::store::project_facts::Bench;
use crate::store::projects::{self, Piece, Project};
use crate::urls;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct NewProjectForm {
    #[serde(flatten)]
    pub(super) project: ProjectFields,
    #[serde(flatten)]
    pub(super) piece: PieceForm,
}

impl NewProjectForm {
    /// With what a button took, or a chosen structure left out.
    fn chosen(self, bench: &Bench) -> Self {
        let tools = self.project.tools(bench, &mut FormErrors::default());
        let facts = tools.and_then(|tools| bench.project(&tools));
        let mut piece = self.piece.taking();
        if let Some(facts) = facts {
            piece = piece.using(bench, &facts);
        }
        Self { piece, ..self }
    }
}

/// What the bench still lacks before there can be a project.
#[derive(Template)]
#[template(path = "projects/lacking.html")]
struct LackingPage {
    nav: Nav,
    lacking: Vec<(&'static str, String)>,
}

fn lacking(bench: &Bench) -> Vec<(&'static str, String)> {
    let has = |kind| bench.tools.iter().any(|tool| tool.it.kind == kind);
    let mut lacking = Vec::new();
    if bench.is_empty() {
        return vec![("Set up your bench", urls::bench())];
    }
    let tool = |kind: ToolKind| format!("{}?kind={}", urls::new_tool(), kind.slug());
    if !has(ToolKind::PunchBoard) && !has(ToolKind::ScoreBoard) {
        lacking.push(("Add a punch board", tool(ToolKind::PunchBoard)));
        lacking.push(("Or a score board", tool(ToolKind::ScoreBoard)));
    }
    if !has(ToolKind::Trimmer) {
        lacking.push(("Add a trimmer", tool(ToolKind::Trimmer)));
    }
    if bench.papers.is_empty() {
        lacking.push(("Add the paper you cut from", urls::new_paper()));
    }
    lacking
}

pub(super) async fn new_project(State(app): State<App>, _: SignedIn) -> PageResult<Response> {
    let bench = Bench::read(&mut *app.store().read().acquire().await?).await?;
    let lacking = lacking(&bench);
    if !lacking.is_empty() {
        let nav = Nav::Projects;
        return Ok(Page::ok(LackingPage { nav, lacking }).into_response());
    }
    let form = NewProjectForm {
        project: ProjectFields::usual(&bench),
        piece: PieceForm {
            once: once::token()?,
            ..PieceForm::usual(&bench)
        },
    };
    let page = page(bench, form, FormErrors::default(), None);
    Ok(once::page(Page::ok(page)))
}

pub(super) fn page(
    bench: Bench,
    form: NewProjectForm,
    errors: FormErrors,
    look: Option<PieceView>,
) -> PiecePage {
    PiecePage {
        project: Some(form.project),
        ..PiecePage::new(bench, form.piece, errors, look)
    }
}

pub(super) async fn create_project(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<NewProjectForm>,
) -> PageResult<Response> {
    let bench = Bench::read(&mut *app.store().read().acquire().await?).await?;
    let form = form.chosen(&bench);
    let mut errors = FormErrors::default();
    let named = Named::read(&bench, &form.piece, &mut errors);
    let typed = read(&named, &form.project, &mut errors);
    let look = typed.as_ref().and_then(|(project, piece)| {
        let facts = bench.project(project)?;
        let at = ((0, 0), piece);
        look(&named.bench, &facts, at, &form.piece, &mut errors)
    });
    match (typed, &look) {
        (Some((project, mut piece)), Some(_)) if form.piece.is_save(&errors) => {
            let (mut change, once) = (app.store().change().await?, &form.piece.once);
            if let Some(made) = once::made(&mut change, once).await? {
                return Ok(made);
            }
            named.insert(&mut change, &mut piece.spec).await?;
            let id = projects::insert_project(&mut *change, &project).await?;
            projects::insert_piece(&mut change, id, &piece).await?;
            let saved = urls::project_without(id, &form.piece.left_out);
            once::commit(&app, change, once, &saved).await
        }
        _ => Ok(page(bench, form, errors, look).answer()),
    }
}

/// Project and piece; a piece is read even while the project's fields are wrong, so that all
/// errors show at once.
fn read(named: &Named, form: &ProjectFields, errors: &mut FormErrors) -> Option<(Project, Piece)> {
    let bench = &named.bench;
    let project = form.read(bench, errors);
    // Rulers are those of the tools chosen, or of the first ones while none is.
    let tools = project
        .clone()
        .or_else(|| ProjectFields::usual(bench).stand_in());
    let facts = tools.and_then(|tools| bench.project(&tools));
    let piece = facts.and_then(|facts| named.form.read(bench, &facts, errors));
    Some((project?, piece?))
}
