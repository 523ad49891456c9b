//! Templates at true size, as PDF.

use axum::extract::State;
use axum::response::Response;
use serde::Deserialize;

use super::downloads::{file, made};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, Query, SignedIn};
use crate::print::{
    PrintError, PrintLines, PrintOptions, PrintPaper, Template, piece_templates, templates_pdf,
};
use crate::recipe::{ProjectFacts, Recipe};
use crate::store::project_facts::project_facts;

/// What stands after the question mark.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct How {
    paper: PrintPaper,
    lines: PrintLines,
}

pub(super) async fn show_of_piece(
    State(app): State<App>,
    _: SignedIn,
    Path(at): Path<(i64, i64)>,
    Query(how): Query<How>,
) -> PageResult<Response> {
    let (project, piece, made) = made(&app, at).await?;
    let templates = piece_templates(&project, &piece, &made);
    pdf(&format!("piece-{}", at.1), &piece.name, &templates, &how)
}

pub(super) async fn show_of_project(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(how): Query<How>,
) -> PageResult<Response> {
    let facts = project_facts(&mut *app.store().read().begin().await?, id).await?;
    let facts = facts.ok_or(PageError::NotFound)?;
    let templates = of_project(&facts)?;
    pdf(&format!("project-{id}"), &facts.title, &templates, &how)
}

fn of_project(facts: &ProjectFacts) -> PageResult<Vec<Template>> {
    let refused = |why: String| {
        PageError::bad_request(
            why,
            "Open the project and put it right, then print its templates.",
        )
    };
    let recipe = Recipe::build(facts).map_err(|problems| {
        let why = problems
            .iter()
            .map(|it| format!("{}: {}", it.piece, it.message));
        refused(why.collect::<Vec<_>>().join(" "))
    })?;
    if recipe.pieces.is_empty() {
        return Err(refused("The project has no pieces yet.".to_owned()));
    }
    let pieces = facts.pieces.iter().zip(&recipe.pieces);
    let templates = pieces.flat_map(|(piece, made)| piece_templates(facts, piece, made));
    Ok(templates.collect())
}

fn pdf(name: &str, title: &str, templates: &[Template], how: &How) -> PageResult<Response> {
    let options = PrintOptions {
        paper: how.paper,
        lines: how.lines,
    };
    let refused = |error: PrintError| {
        PageError::bad_request(error.to_string(), "Go back and choose another paper.")
    };
    let pdf = templates_pdf(title, templates, options).map_err(refused)?;
    let name = format!("templates-{name}-{}.pdf", how.paper.slug());
    Ok(file("application/pdf", &name, pdf))
}
