//! A piece's pattern as files.

use axum::body::Body;
use axum::extract::FromRequestParts;
use axum::http::header;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use tablefold_geometry::{Pattern, cutter_svg, fold_file, pattern_svg};

use super::pieces::load;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, Query, SignedIn};
use crate::recipe::{MadePiece, PieceFacts, ProjectFacts, make};
use crate::store::projects;

const SVG: &str = "image/svg+xml";

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

/// The pattern of one body, as it was asked for, with the name that its file begins with.
pub(super) struct Drawn {
    name: String,
    pattern: Pattern,
}

impl FromRequestParts<App> for Drawn {
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> PageResult<Self> {
        SignedIn::from_request_parts(parts, app).await?;
        let Path(at) = Path::from_request_parts(parts, app).await?;
        let Query(WhichBody { body }) = Query::from_request_parts(parts, app).await?;
        let (_, PieceFacts { id, .. }, made) = made(app, at).await?;
        let body = made.structure.bodies().nth(body);
        let body = body.ok_or(PageError::NotFound)?;
        let name = match made.structure.bodies().count() {
            1 => format!("piece-{id}"),
            _ => format!("piece-{id}-{}", body.name.replace(' ', "-")),
        };
        let pattern = body.pattern.clone();
        Ok(Self { name, pattern })
    }
}

pub(super) async fn show_svg(Drawn { name, pattern }: Drawn) -> Response {
    file(SVG, &format!("{name}.svg"), pattern_svg(&pattern))
}

pub(super) async fn show_fold(Drawn { name, pattern }: Drawn) -> Response {
    let name = format!("{name}.fold");
    file("application/json", &name, fold_file(&pattern))
}

pub(super) async fn show_cutter(Drawn { name, pattern }: Drawn) -> Response {
    file(SVG, &format!("{name}-cutter.svg"), cutter_svg(&pattern))
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
