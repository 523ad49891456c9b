//! A piece's pattern as files.

use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use tablefold_geometry::{Pattern, fold_file, pattern_svg};

use super::pieces::load;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, SignedIn};
use crate::recipe::make;
use crate::store::projects;

async fn pattern(app: &App, project: i64, id: i64) -> PageResult<Pattern> {
    let loaded = load(app, project).await?;
    let piece = projects::find_piece(app.store().read(), project, id).await?;
    let piece = piece.ok_or(PageError::NotFound)?;
    let facts = loaded.bench.piece(id, &piece.it);
    let facts = facts.ok_or_else(|| PageError::internal("a piece without its paper"))?;
    let made = make(&loaded.facts, &facts).map_err(|problem| {
        PageError::bad_request(
            problem.message,
            "Edit the piece until it can be made, then fetch its pattern.",
        )
    })?;
    Ok(made.pattern)
}

fn file(kind: &'static str, name: String, text: String) -> Response {
    let disposition = format!("attachment; filename=\"{name}\"");
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, disposition),
    ];
    (headers, text).into_response()
}

pub(super) async fn show_svg(
    State(app): State<App>,
    _: SignedIn,
    Path((project, id)): Path<(i64, i64)>,
) -> PageResult<Response> {
    let pattern = pattern(&app, project, id).await?;
    let name = format!("piece-{id}.svg");
    Ok(file("image/svg+xml", name, pattern_svg(&pattern)))
}

pub(super) async fn show_fold(
    State(app): State<App>,
    _: SignedIn,
    Path((project, id)): Path<(i64, i64)>,
) -> PageResult<Response> {
    let pattern = pattern(&app, project, id).await?;
    let name = format!("piece-{id}.fold");
    Ok(file("application/json", name, fold_file(&pattern)))
}
