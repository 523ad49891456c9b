//! Headers that close doors: nothing loads from elsewhere, no frame shows us, private pages stay
//! out of caches. Values from the OWASP HTTP Headers Cheat Sheet.

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderName};
use axum::http::{HeaderMap, HeaderValue};
use axum::middleware::Next;
use axum::response::Response;

use super::is_link_page;
use crate::app::App;
use crate::urls;

const CSP: &str = "default-src 'none'; style-src 'self'; script-src 'self'; \
    img-src 'self' data:; form-action 'self'; frame-ancestors 'none'; base-uri 'none'; \
    object-src 'none'";

/// RFC 6797. Sub-domains may be other people's.
const ONE_YEAR: &str = "max-age=31536000";

const ALWAYS: [(HeaderName, &str); 6] = [
    (header::CONTENT_SECURITY_POLICY, CSP),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (
        HeaderName::from_static("permissions-policy"),
        "geolocation=(), camera=(), microphone=()",
    ),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    ),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    ),
];

/// The headers of a page that a link opens, for bytes that go out past the layers.
pub(crate) fn link_doors(is_https: bool) -> HeaderMap {
    let mut headers = HeaderMap::new();
    for (name, value) in ALWAYS {
        set(&mut headers, name, value);
    }
    set(&mut headers, header::REFERRER_POLICY, "no-referrer");
    set(
        &mut headers,
        HeaderName::from_static("x-robots-tag"),
        "noindex",
    );
    if is_https {
        set(&mut headers, header::STRICT_TRANSPORT_SECURITY, ONE_YEAR);
    }
    headers
}

/// Adds the headers to a response; what a handler set itself stays.
pub(crate) async fn close_doors(State(app): State<App>, request: Request, next: Next) -> Response {
    let path = request.uri().path().to_owned();
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    for (name, value) in ALWAYS {
        set(headers, name, value);
    }
    // Forms on plain http are told from foreign ones by their Origin, which "no-referrer" would
    // turn into null: so only link pages, which hold no form, go without. The welcome page has one.
    if path.starts_with(urls::ATTENDEE_LINKS) || path.starts_with(urls::HOST_LINKS) {
        set(headers, header::REFERRER_POLICY, "no-referrer");
    } else {
        set(headers, header::REFERRER_POLICY, "same-origin");
    }
    if is_link_page(&path) {
        set(headers, HeaderName::from_static("x-robots-tag"), "noindex");
    }
    if app.config().base_url.is_https() {
        set(headers, header::STRICT_TRANSPORT_SECURITY, ONE_YEAR);
    }
    set(headers, header::CACHE_CONTROL, "no-store");
    response
}

fn set(headers: &mut HeaderMap, name: HeaderName, value: &'static str) {
    headers
        .entry(name)
        .or_insert(HeaderValue::from_static(value));
}
