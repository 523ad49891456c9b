//! Pages, one folder an area: routes, handlers, page and form structs. A handler has four
//! beats: extract, fetch, compute, return a page.

pub mod account;
pub mod bench;
mod both;
pub mod classes;
mod codings;
pub mod extract;
pub mod home;
pub mod host;
mod looks;
mod measure;
mod once;
pub mod paperwork;
pub mod phone;
pub mod picture;
pub mod picture_sizes;
pub mod projects;
pub mod published;
pub mod qr;
mod removal;
mod stale;
pub mod static_files;
pub mod when;
pub(crate) mod whole;

use askama::Template;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};

pub use measure::MeasureParts;

use crate::error::PageError;
use crate::urls;

/// Which part of the navigation a page belongs to; `base.html` asks every page for `nav`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nav {
    /// No navigation: pages for people who are not signed in, or hold a link.
    None,
    /// The start page.
    Home,
    /// Tools, rulers, papers, supplies.
    Bench,
    /// Projects.
    Projects,
    /// Classes.
    Classes,
    /// The instructor's account.
    Account,
}

/// One link of the navigation.
#[derive(Clone, Debug)]
pub struct NavItem {
    /// What it says.
    pub label: &'static str,
    /// Where it goes.
    pub href: String,
    /// Whether the page at hand belongs to it.
    pub current: bool,
}

impl Nav {
    /// Whether there is a navigation at all.
    #[must_use]
    pub fn is_shown(self) -> bool {
        self != Self::None
    }

    /// The links, in order.
    #[must_use]
    pub fn items(self) -> Vec<NavItem> {
        let all = [
            (Self::Bench, "Bench", urls::bench()),
            (Self::Projects, "Projects", urls::projects()),
            (Self::Classes, "Classes", urls::classes()),
            (Self::Account, "Account", urls::account()),
        ];
        all.into_iter()
            .map(|(nav, label, href)| NavItem {
                label,
                href,
                current: nav == self,
            })
            .collect()
    }
}

/// A page struct with the status it goes out with.
#[derive(Debug)]
pub struct Page<T> {
    status: StatusCode,
    template: T,
}

impl<T: Template> Page<T> {
    /// A page that shows what was asked for.
    pub const fn ok(template: T) -> Self {
        Self::with_status(StatusCode::OK, template)
    }

    /// A form again, with everything typed and what is wrong with it: status 422.
    pub const fn invalid(template: T) -> Self {
        Self::with_status(StatusCode::UNPROCESSABLE_ENTITY, template)
    }

    /// A page with another status.
    pub const fn with_status(status: StatusCode, template: T) -> Self {
        Self { status, template }
    }

    pub(crate) fn render(&self) -> Result<(StatusCode, String), askama::Error> {
        Ok((self.status, self.template.render()?))
    }
}

impl<T: Template> IntoResponse for Page<T> {
    fn into_response(self) -> Response {
        match self.render() {
            Ok((status, html)) => (status, Html(html)).into_response(),
            Err(error) => PageError::internal(error).into_response(),
        }
    }
}

/// After a form did its work: go on to an address from [`urls`], status 303.
#[must_use]
pub fn see_other(url: &str) -> Response {
    match HeaderValue::from_str(url) {
        Ok(to) => (StatusCode::SEE_OTHER, [(header::LOCATION, to)]).into_response(),
        Err(error) => PageError::internal(error).into_response(),
    }
}
