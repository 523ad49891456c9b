//! Files that never change at their address: embedded, and fingerprinted by their bytes.

use std::sync::LazyLock;

use axum::Router;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use data_encoding::HEXLOWER;

use super::extract::Path;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::token::hash_of;
use crate::urls;

struct StaticFile {
    name: &'static str,
    kind: &'static str,
    text: &'static str,
}

/// The style sheet without its comments and spaces; as it is, should the minifier ever refuse it.
static STYLES: LazyLock<String> = LazyLock::new(|| {
    let source = include_str!("../../static/style.css");
    minifier::css::minify(source).map_or_else(|_| source.to_owned(), |small| small.to_string())
});

static FILES: LazyLock<[StaticFile; 3]> = LazyLock::new(|| {
    [
        StaticFile {
            name: "style.css",
            kind: "text/css; charset=utf-8",
            text: &STYLES,
        },
        StaticFile {
            name: "icon.svg",
            kind: "image/svg+xml; charset=utf-8",
            text: include_str!("../../static/icon.svg"),
        },
        StaticFile {
            name: "phone.js",
            kind: "text/javascript; charset=utf-8",
            text: include_str!("../../static/phone.js"),
        },
    ]
});

static FINGERPRINTS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let short = |file: &StaticFile| HEXLOWER.encode(&hash_of(file.text)[..6]);
    FILES.iter().map(short).collect()
});

/// Twelve characters that change with the file; "none" for a name that does not exist.
#[must_use]
pub fn fingerprint(name: &str) -> &'static str {
    FILES
        .iter()
        .zip(FINGERPRINTS.iter())
        .find(|(file, _)| file.name == name)
        .map_or("none", |(_, fingerprint)| fingerprint)
}

/// Routes of the static files.
pub fn router() -> Router<App> {
    Router::new()
        .route(urls::STATIC_FILE, get(show_file))
        .route(urls::ROBOTS, get(show_robots))
}

async fn show_file(Path((print, name)): Path<(String, String)>) -> PageResult<Response> {
    let file = FILES
        .iter()
        .find(|file| file.name == name && fingerprint(&name) == print)
        .ok_or(PageError::NotFound)?;
    let headers = [
        (header::CONTENT_TYPE, file.kind),
        (header::CACHE_CONTROL, "public, max-age=31536000, immutable"),
    ];
    Ok((headers, file.text).into_response())
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
        let (sent, written) = (FILES[0].text, include_str!("../../static/style.css"));
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
    }
}
