//! A piece's pattern as files.

use axum::body::Body;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use tablefold_geometry::{Pattern, cutter_svg, fold_file, pattern_svg};

use super::pieces::load;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, Query, SignedIn};
use crate::recipe::{MadePiece, PieceFacts, ProjectFacts, make};
use crate::store::projects;

/// Which body, the main one if none is named.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct WhichBody {
    body: usize,
}

/// One piece, made.
pub(super) async fn made(
    app: &App,
    (project, id): (i64, i64),
) -> PageResult<(ProjectFacts, PieceFacts, MadePiece)> {
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
    Ok((loaded.facts, facts, made))
}

async fn pattern(
    app: &App,
    at: (i64, i64),
    WhichBody { body }: &WhichBody,
) -> PageResult<(String, Pattern)> {
    let (_, facts, made) = made(app, at).await?;
    let id = facts.id;
    let body = made.structure.bodies().nth(*body);
    let body = body.ok_or(PageError::NotFound)?;
    let name = match made.structure.bodies().count() {
        1 => format!("piece-{id}"),
        _ => format!("piece-{id}-{}", body.name.replace(' ', "-")),
    };
    Ok((name, body.pattern.clone()))
}

/// An answer that browsers keep as a file.
pub(in crate::pages) fn file(kind: &'static str, name: &str, content: impl Into<Body>) -> Response {
    let disposition = format!("attachment; filename=\"{name}\"");
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, disposition),
    ];
    (headers, content.into()).into_response()
}

pub(super) async fn show_svg(
    State(app): State<App>,
    _: SignedIn,
    Path(at): Path<(i64, i64)>,
    Query(body): Query<WhichBody>,
) -> PageResult<Response> {
    let (name, pattern) = pattern(&app, at, &body).await?;
    Ok(file(
        "image/svg+xml",
        &format!("{name}.svg"),
        pattern_svg(&pattern),
    ))
}

pub(super) async fn show_fold(
    State(app): State<App>,
    _: SignedIn,
    Path(at): Path<(i64, i64)>,
    Query(body): Query<WhichBody>,
) -> PageResult<Response> {
    let (name, pattern) = pattern(&app, at, &body).await?;
    Ok(file(
        "application/json",
        &format!("{name}.fold"),
        fold_file(&pattern),
    ))
}

pub(super) async fn show_cutter(
    State(app): State<App>,
    _: SignedIn,
    Path(at): Path<(i64, i64)>,
    Query(body): Query<WhichBody>,
) -> PageResult<Response> {
    let (name, pattern) = pattern(&app, at, &body).await?;
    Ok(file(
        "image/svg+xml",
        &format!("{name}-cutter.svg"),
        cutter_svg(&pattern),
    ))
}
