//! Forms come from our own pages only.
//!
//! Requests that change something are told from forged ones by two headers that browsers set
//! and pages cannot (OWASP Cross-Site Request Forgery Prevention Cheat Sheet):
//!
//! ```text
//! Sec-Fetch-Site          Origin              result
//! same-origin             any                 allowed
//! none                    any                 allowed if the person started it (a navigation)
//! same-site, cross-site   any                 refused
//! absent                  this host           allowed
//! absent                  other or null       refused
//! absent                  absent              refused
//! ```
//!
//! The library's layer decides all rows but two: it allows `none` for scripts, and requests with
//! neither header. [`guard`] decides those first. A proxy in front must pass Host on unchanged.

use axum::extract::Request;
use axum::http::{HeaderMap, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use tower_http::csrf::{CsrfLayer, ProtectionError};

use crate::error::PageError;

/// Put into requests that passed; forms are not read without it, so that no route can be added
/// outside the layers.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FromOwnPage;

/// The library's layer, answering with our page.
pub(crate) fn layer()
-> CsrfLayer<impl FnMut(ProtectionError) -> Response + Clone + Send + Sync + 'static> {
    CsrfLayer::new().with_rejection_response(|_| PageError::OtherSite.into_response())
}

/// Refuses what the library's layer lets through, and marks the rest.
pub(crate) async fn guard(mut request: Request, next: Next) -> Response {
    if changes_something(request.method()) && !says_where_from(request.headers()) {
        return PageError::OtherSite.into_response();
    }
    request.extensions_mut().insert(FromOwnPage);
    next.run(request).await
}

fn changes_something(method: &Method) -> bool {
    !matches!(*method, Method::GET | Method::HEAD | Method::OPTIONS)
}

fn says_where_from(headers: &HeaderMap) -> bool {
    let value = |name: &str| headers.get(name).map(|value| value.as_bytes());
    match value("sec-fetch-site") {
        Some(b"none") => value("sec-fetch-mode") == Some(b"navigate"),
        Some(site) if !site.is_empty() => true,
        _ => value(header::ORIGIN.as_str()).is_some_and(|origin| !origin.is_empty()),
    }
}
