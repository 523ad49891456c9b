//! What can go wrong with a request, as a page: a calm sentence and a next step.
//!
//! A handler returns [`PageError`]; it travels inside the response to the error layer, which
//! knows the request id, logs the cause once and renders `templates/error.html`.

use std::sync::Arc;

use askama::Template;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};

use crate::pages::Nav;
use crate::urls;

/// What a handler gives: a page, or an error that becomes one.
pub type PageResult<T> = Result<T, PageError>;

/// Any cause of a failure that is ours.
pub type Cause = Box<dyn std::error::Error + Send + Sync>;

/// Why there is no page.
#[derive(Debug)]
pub enum PageError {
    /// Nothing is at this address, or nothing that this visitor may know of.
    NotFound,
    /// A page that asks to sign in; the visitor comes back to `next` afterwards.
    SignIn {
        /// The path that was asked for.
        next: String,
    },
    /// A form was sent without being signed in.
    SignInFirst,
    /// A link that never worked, has expired, was used or revoked: one page for all of them.
    BadLink,
    /// A save that would have overwritten a newer one.
    Conflict(StaleSave),
    /// More was sent than any form holds.
    TooLarge,
    /// A request that no page of ours makes.
    BadRequest {
        /// What is wrong with it, a whole sentence.
        what: String,
        /// What would do, a whole sentence.
        instead: String,
    },
    /// A form that another site sent, or that does not say where it comes from.
    OtherSite,
    /// An address that exists, but not for this method.
    WrongMethod,
    /// The answer took too long.
    TooSlow,
    /// Our fault; the cause is for the log alone.
    Internal(Cause),
}

/// What was to be saved, beside what was saved meanwhile.
#[derive(Debug)]
pub struct StaleSave {
    /// What it is, as in "this paper".
    pub what: String,
    /// Where the newer text can be edited.
    pub again: String,
    /// The fields that differ.
    pub fields: Vec<StaleField>,
    /// The same form again, on top of the newer version.
    pub anyway: Option<SaveAnyway>,
}

/// A form that saves what was typed on top of what was saved meanwhile.
#[derive(Debug)]
pub struct SaveAnyway {
    /// Where it is sent.
    pub action: String,
    /// Everything that was typed, and the newer version.
    pub hidden: Vec<(String, String)>,
}

/// One field of a [`StaleSave`].
#[derive(Debug)]
pub struct StaleField {
    /// The field's label.
    pub label: String,
    /// What this visitor typed.
    pub yours: String,
    /// What is saved now.
    pub saved: String,
}

impl PageError {
    /// A failure that is ours, whatever its cause.
    pub fn internal(cause: impl Into<Cause>) -> Self {
        Self::Internal(cause.into())
    }

    /// A request that no page of ours makes: what is wrong, and what would do.
    pub fn bad_request(what: impl Into<String>, instead: impl Into<String>) -> Self {
        Self::BadRequest {
            what: what.into(),
            instead: instead.into(),
        }
    }

    /// The status that the visitor's browser sees.
    #[must_use]
    pub const fn status(&self) -> StatusCode {
        match self {
            Self::NotFound | Self::BadLink => StatusCode::NOT_FOUND,
            Self::SignIn { .. } => StatusCode::SEE_OTHER,
            Self::SignInFirst => StatusCode::UNAUTHORIZED,
            Self::Conflict(_) => StatusCode::CONFLICT,
            Self::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            Self::BadRequest { .. } => StatusCode::BAD_REQUEST,
            Self::OtherSite => StatusCode::FORBIDDEN,
            Self::WrongMethod => StatusCode::METHOD_NOT_ALLOWED,
            Self::TooSlow => StatusCode::SERVICE_UNAVAILABLE,
            Self::Internal(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// The error that a bare status from a library stands for.
    #[must_use]
    pub fn from_status(status: StatusCode) -> Option<Self> {
        match status {
            StatusCode::NOT_FOUND => Some(Self::NotFound),
            StatusCode::METHOD_NOT_ALLOWED => Some(Self::WrongMethod),
            StatusCode::PAYLOAD_TOO_LARGE => Some(Self::TooLarge),
            StatusCode::REQUEST_TIMEOUT => Some(Self::TooSlow),
            _ if status.is_client_error() => Some(Self::bad_request(
                "The server does not understand this request.",
                "Go back and use the links and forms of the pages.",
            )),
            _ if status.is_server_error() => Some(Self::internal(format!("bare status {status}"))),
            _ => None,
        }
    }

    const fn title(&self) -> &'static str {
        match self {
            Self::NotFound => "Nothing is here",
            Self::SignIn { .. } | Self::SignInFirst => "Sign in first",
            Self::BadLink => "This link does not open anything",
            Self::Conflict(_) => "Someone saved before you",
            Self::TooLarge => "That is too much at once",
            Self::BadRequest { .. } | Self::WrongMethod => "This does not work",
            Self::OtherSite => "This form came from elsewhere",
            Self::TooSlow => "That took too long",
            Self::Internal(_) => "Something broke on our side",
        }
    }

    fn sentences(&self) -> String {
        let text = match self {
            Self::NotFound => "There is no page at this address. It may have been removed.",
            Self::SignIn { .. } => "This page is for the instructor.",
            Self::SignInFirst => {
                "You are not signed in any more, so nothing was saved yet. Sign in in a second tab, \
                 then reload this page. Your browser asks whether to send the form again, with all \
                 that you typed: say yes."
            }
            Self::BadLink => {
                "Links are long and work for a limited time. Check that you have all of it, or \
                 ask the person who gave it to you for a new one."
            }
            Self::Conflict(stale) => {
                let then = match stale.anyway {
                    Some(_) => " and edit again, or save yours anyway",
                    None => ", then edit again",
                };
                return format!(
                    "This {} was changed since you opened it, so your text was not saved. Both \
                     are below. Copy what you want to keep{then}.",
                    stale.what,
                );
            }
            Self::TooLarge => {
                "One form takes up to 2 MB, about 800 pages of text. Nothing was saved. Go back, \
                 shorten what you typed, and save again."
            }
            Self::BadRequest { what, instead } => return format!("{what} {instead}"),
            Self::OtherSite => {
                "Forms are taken only from Tablefold's own pages, and your browser does not say \
                 that this one is. Nothing was saved. Open the page here again and send the form \
                 from there."
            }
            Self::WrongMethod => {
                "This address takes no request of this kind. Go back and use the links and forms \
                 of the pages."
            }
            Self::TooSlow => {
                "The server gave up after 30 seconds. Look whether your change was saved, then \
                 try again."
            }
            Self::Internal(_) => {
                "The change you sent may not be saved. Try again; if it happens again, give the \
                 number below to the person who runs this server."
            }
        };
        text.to_owned()
    }

    /// A page that is to be reloaded must stay: its way on opens beside it.
    const fn opens_beside(&self) -> bool {
        matches!(self, Self::SignInFirst)
    }

    /// The way on: a label and an address. Link holders get none, they know no other page.
    fn next_step(&self) -> Option<(&'static str, String)> {
        match self {
            Self::SignInFirst => Some(("Sign in", urls::sign_in())),
            Self::Conflict(stale) => Some(("Edit again", stale.again.clone())),
            Self::BadLink => None,
            _ => Some(("Go to the start page", urls::home())),
        }
    }
}

impl From<sqlx::Error> for PageError {
    fn from(error: sqlx::Error) -> Self {
        Self::internal(error)
    }
}

impl From<crate::token::NoRandomness> for PageError {
    fn from(error: crate::token::NoRandomness) -> Self {
        Self::internal(error)
    }
}

/// Carries the error to the layer that renders it.
#[derive(Clone)]
struct Carried(Arc<PageError>);

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        let mut response = self.status().into_response();
        if let Self::SignIn { next } = &self
            && let Ok(to) = HeaderValue::from_str(&urls::sign_in_then(next))
        {
            response.headers_mut().insert(header::LOCATION, to);
        }
        response.extensions_mut().insert(Carried(Arc::new(self)));
        response
    }
}

/// The error inside a response, if a handler returned one or a library gave a bare status.
pub(crate) fn carried(response: &mut Response) -> Option<Arc<PageError>> {
    if let Some(Carried(error)) = response.extensions_mut().remove::<Carried>() {
        return Some(error);
    }
    let written_by_a_page = response
        .headers()
        .get(header::CONTENT_TYPE)
        .is_some_and(|kind| kind.as_bytes().starts_with(b"text/html"));
    if written_by_a_page {
        return None;
    }
    PageError::from_status(response.status()).map(Arc::new)
}

/// An error, drawn.
#[derive(Template)]
#[template(path = "error.html")]
pub(crate) struct ErrorPage<'a> {
    nav: Nav,
    title: &'static str,
    sentences: String,
    next_step: Option<(&'static str, String)>,
    beside: bool,
    stale: &'a [StaleField],
    anyway: Option<&'a SaveAnyway>,
    request_id: Option<&'a str>,
}

impl<'a> ErrorPage<'a> {
    /// `on_link_page`: the visitor holds a link and knows nothing of the rest of the server.
    pub(crate) fn new(error: &'a PageError, request_id: &'a str, on_link_page: bool) -> Self {
        // An unknown address under a link is no different from a link that has ended.
        let error = match error {
            PageError::NotFound if on_link_page => &PageError::BadLink,
            other => other,
        };
        Self {
            nav: Nav::None,
            title: error.title(),
            sentences: error.sentences(),
            next_step: error.next_step().filter(|_| !on_link_page),
            beside: error.opens_beside(),
            anyway: match error {
                PageError::Conflict(stale) => stale.anyway.as_ref(),
                _ => None,
            },
            stale: match error {
                PageError::Conflict(stale) => &stale.fields,
                _ => &[],
            },
            request_id: matches!(error, PageError::Internal(_)).then_some(request_id),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(error: PageError) -> String {
        let page = ErrorPage::new(&error, "7KQ2M9XT", false);
        let step = page
            .next_step
            .map_or("no next step".to_owned(), |(label, href)| {
                format!("{label}: {href}")
            });
        format!(
            "{} {}\n{}\n{step}",
            error.status().as_u16(),
            page.title,
            page.sentences
        )
    }

    #[test]
    fn each_error_is_calm_and_gives_a_next_step() {
        insta::assert_snapshot!(drawn(PageError::NotFound), @"
        404 Nothing is here
        There is no page at this address. It may have been removed.
        Go to the start page: /
        ");
        insta::assert_snapshot!(drawn(PageError::SignInFirst), @"
        401 Sign in first
        You are not signed in any more, so nothing was saved yet. Sign in in a second tab, then reload this page. Your browser asks whether to send the form again, with all that you typed: say yes.
        Sign in: /sign-in
        ");
        insta::assert_snapshot!(drawn(PageError::BadLink), @"
        404 This link does not open anything
        Links are long and work for a limited time. Check that you have all of it, or ask the person who gave it to you for a new one.
        no next step
        ");
        insta::assert_snapshot!(drawn(PageError::TooLarge), @"
        413 That is too much at once
        One form takes up to 2 MB, about 800 pages of text. Nothing was saved. Go back, shorten what you typed, and save again.
        Go to the start page: /
        ");
        insta::assert_snapshot!(drawn(PageError::bad_request("The size is odd.", "Type 4.")), @"
        400 This does not work
        The size is odd. Type 4.
        Go to the start page: /
        ");
        insta::assert_snapshot!(drawn(PageError::OtherSite), @"
        403 This form came from elsewhere
        Forms are taken only from Tablefold's own pages, and your browser does not say that this one is. Nothing was saved. Open the page here again and send the form from there.
        Go to the start page: /
        ");
        insta::assert_snapshot!(drawn(PageError::WrongMethod), @"
        405 This does not work
        This address takes no request of this kind. Go back and use the links and forms of the pages.
        Go to the start page: /
        ");
        insta::assert_snapshot!(drawn(PageError::TooSlow), @"
        503 That took too long
        The server gave up after 30 seconds. Look whether your change was saved, then try again.
        Go to the start page: /
        ");
        insta::assert_snapshot!(drawn(PageError::internal("the secret cause")), @"
        500 Something broke on our side
        The change you sent may not be saved. Try again; if it happens again, give the number below to the person who runs this server.
        Go to the start page: /
        ");
    }

    #[test]
    fn a_stale_save_shows_both_texts_and_leads_back() {
        let error = PageError::Conflict(StaleSave {
            what: "paper".to_owned(),
            again: "/bench/papers/3".to_owned(),
            fields: vec![StaleField {
                label: "Name".to_owned(),
                yours: "Leaf <green>".to_owned(),
                saved: "Leaf".to_owned(),
            }],
            anyway: None,
        });
        let html = ErrorPage::new(&error, "7KQ2M9XT", false).render().unwrap();
        for piece in [
            "Leaf &#60;green&#62;",
            "<td class=\"typed\">Leaf</td>",
            "href=\"/bench/papers/3\"",
        ] {
            assert!(html.contains(piece), "no {piece} in {html}");
        }
        insta::assert_snapshot!(drawn(error), @"
        409 Someone saved before you
        This paper was changed since you opened it, so your text was not saved. Both are below. Copy what you want to keep, then edit again.
        Edit again: /bench/papers/3
        ");
    }

    #[test]
    fn on_a_link_page_every_dead_end_looks_alike() {
        let page = |error| ErrorPage::new(&error, "7KQ2M9XT", true).render().unwrap();
        assert_eq!(page(PageError::NotFound), page(PageError::BadLink));
        assert!(!page(PageError::NotFound).contains(&urls::sign_in()));
    }
}
