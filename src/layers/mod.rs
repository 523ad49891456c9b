//! What every request passes before a handler sees it, one file a layer. The stack itself, with
//! its order, stands in [`crate::app`].

pub(crate) mod csrf;
pub(crate) mod error_pages;
pub(crate) mod headers;
pub(crate) mod request_id;
pub(crate) mod span;

use crate::urls;

/// Whether a path belongs to people who hold a link and know nothing of the rest.
fn is_link_page(path: &str) -> bool {
    [urls::ATTENDEE_LINKS, urls::HOST_LINKS, urls::WELCOME_LINKS]
        .iter()
        .any(|prefix| path.starts_with(prefix))
}
