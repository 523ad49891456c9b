//! What the log says of a request: id, method and route pattern. No address as typed, because
//! that may hold a link's secret; no names, no form fields.

use axum::extract::{MatchedPath, Request};
use tower_http::trace::MakeSpan;
use tracing::Span;

use super::request_id;

/// Opens the span of a request.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RequestSpan;

impl<B> MakeSpan<B> for RequestSpan {
    fn make_span(&mut self, request: &Request<B>) -> Span {
        let route = request
            .extensions()
            .get::<MatchedPath>()
            .map_or("none", MatchedPath::as_str);
        tracing::info_span!(
            "request",
            id = request_id::of(request.extensions()),
            method = %request.method(),
            route
        )
    }
}
