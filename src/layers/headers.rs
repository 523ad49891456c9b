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
        // RFC 6797: one year. Sub-domains may be other people's.
        set(
            headers,
            header::STRICT_TRANSPORT_SECURITY,
            "max-age=31536000",
        );
    }
    set(headers, header::CACHE_CONTROL, "no-store");
    response
}

fn set(headers: &mut HeaderMap, name: HeaderName, value: &'static str) {
    headers
        .entry(name)
        .or_insert(HeaderValue::from_static(value));
}
