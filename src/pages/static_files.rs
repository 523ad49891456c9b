//! Files that never change at their address: embedded, fingerprinted by their bytes, compressed once.

use std::sync::LazyLock;

use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::Response;
use axum::routing::get;
use data_encoding::HEXLOWER;

use super::codings::Codings;
use super::extract::Path;
use crate::app::App;
use crate::error::{Cause, PageError, PageResult};
use crate::token::hash_of;
use crate::urls;

struct StaticFile {
    name: &'static str,
    fingerprint: String,
    codings: Result<Codings, Cause>,
}

static FILES: LazyLock<[StaticFile; 3]> = LazyLock::new(|| {
    [
        StaticFile::new("style.css", "text/css; charset=utf-8", styles()),
        StaticFile::new(
            "icon.svg",
            "image/svg+xml; charset=utf-8",
            include_str!("../../static/icon.svg").to_owned(),
        ),
        StaticFile::new(
            "phone.js",
            "text/javascript; charset=utf-8",
            include_str!("../../static/phone.js").to_owned(),
        ),
    ]
});

/// The style sheet without its comments and spaces; as it is, should the minifier ever refuse it.
fn styles() -> String {
    let source = include_str!("../../static/style.css");
    minifier::css::minify(source).map_or_else(|_| source.to_owned(), |small| small.to_string())
}

impl StaticFile {
    fn new(name: &'static str, kind: &'static str, text: String) -> Self {
        let set = [
            (header::CONTENT_TYPE, kind),
            (header::CACHE_CONTROL, "public, max-age=31536000, immutable"),
        ];
        let headers =
            HeaderMap::from_iter(set.map(|(name, value)| (name, HeaderValue::from_static(value))));
        Self {
            name,
            fingerprint: HEXLOWER.encode(&hash_of(&text)[..6]),
            codings: Codings::new(text, &headers),
        }
    }
}

/// Twelve characters that change with the file; "none" for a name that does not exist.
#[must_use]
pub fn fingerprint(name: &str) -> &'static str {
    let file = FILES.iter().find(|file| file.name == name);
    file.map_or("none", |file| &file.fingerprint)
}

/// Routes of the static files.
pub fn router() -> Router<App> {
    Router::new()
        .route(urls::STATIC_FILE, get(show_file))
        .route(urls::ROBOTS, get(show_robots))
}

async fn show_file(
    Path((print, name)): Path<(String, String)>,
    headers: HeaderMap,
) -> PageResult<Response> {
    let file = FILES
        .iter()
        .find(|file| file.name == name && file.fingerprint == print)
        .ok_or(PageError::NotFound)?;
    match &file.codings {
        Ok(codings) => Ok(codings.answer(&headers).map(Body::from)),
        Err(error) => Err(PageError::internal(error.to_string())),
    }
}

/// Paths that links start with, never links themselves (W3C TAG, "Good Practices for
/// Capability URLs").
async fn show_robots() -> String {
    format!(
        "User-agent: *\nDisallow: {}\nDisallow: {}\nDisallow: {}\n",
        urls::ATTENDEE_LINKS,
        urls::HOST_LINKS,
        urls::WELCOME_LINKS
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_style_sheet_stays_under_20_kb() {
        let (sent, written) = (styles(), include_str!("../../static/style.css"));
        assert!(sent.len() < 20_000, "{}", sent.len());
        assert!(sent.len() < written.len(), "the minifier refused it");
        for kept in [
            "content:\"Caution. \"",
            "calc(100% - 3px)",
            "@media (min-width:60rem)",
        ] {
            assert!(sent.contains(kept), "{kept}");
        }
    }

    #[test]
    fn every_file_has_a_fingerprint_of_its_own() {
        assert_ne!(fingerprint("style.css"), fingerprint("icon.svg"));
        assert_eq!(fingerprint("style.css").len(), 12);
        assert_eq!(fingerprint("other.css"), "none");
        assert!(FILES.iter().all(|file| file.codings.is_ok()));
    }
}
