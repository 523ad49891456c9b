//! What handlers take out of a request. Bad input becomes our page, never a library's text; the
//! stock extractors are banned by `.clippy.toml`.

mod form;

use axum::extract::{FromRef, FromRequestParts};
use axum::http::Method;
use axum::http::request::Parts;
use serde::de::DeserializeOwned;

pub use form::ProtectedForm;

use crate::accounts::{self, SessionCookie};
use crate::app::App;
use crate::error::PageError;

/// The variable parts of an address. One that does not parse is an address where nothing is.
#[derive(Clone, Debug)]
pub struct Path<T>(pub T);

impl<S, T> FromRequestParts<S> for Path<T>
where
    S: Send + Sync,
    T: DeserializeOwned + Send,
{
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, PageError> {
        #[expect(clippy::disallowed_types, reason = "this is the wrapper around it")]
        let found = axum::extract::Path::<T>::from_request_parts(parts, state).await;
        found
            .map(|path| Self(path.0))
            .map_err(|_| PageError::NotFound)
    }
}

/// What stands after the question mark. Our own links always parse.
#[derive(Clone, Debug)]
pub struct Query<T>(pub T);

impl<S, T> FromRequestParts<S> for Query<T>
where
    S: Send + Sync,
    T: DeserializeOwned,
{
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, PageError> {
        let query = parts.uri.query().unwrap_or_default();
        let parsed = serde_html_form::from_str(query);
        parsed.map(Self).map_err(|_| {
            PageError::bad_request(
                "The part of the address after the question mark does not fit this page.",
                "Remove it, or use the links of the pages.",
            )
        })
    }
}

/// The instructor, signed in. A page that asks for it sends others to sign in and back; a form
/// answers that nothing was saved.
#[derive(Clone, Debug)]
pub struct SignedIn {
    /// Row id.
    pub instructor_id: i64,
    /// As they typed it.
    pub name: String,
    /// Row id of the session, for signing out.
    pub session_id: i64,
}

impl<S> FromRequestParts<S> for SignedIn
where
    S: Send + Sync,
    App: FromRef<S>,
{
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, PageError> {
        let app = App::from_ref(state);
        if let Some(live) = find_live(parts, &app).await? {
            return Ok(Self {
                instructor_id: live.instructor_id,
                name: live.name,
                session_id: live.session_id,
            });
        }
        if parts.method != Method::GET && parts.method != Method::HEAD {
            return Err(PageError::SignInFirst);
        }
        let next = parts
            .uri
            .path_and_query()
            .map_or_else(|| "/".to_owned(), ToString::to_string);
        Err(PageError::SignIn { next })
    }
}

async fn find_live(parts: &Parts, app: &App) -> Result<Option<accounts::Live>, PageError> {
    let cookie = SessionCookie::of(&app.config().base_url);
    let Some(token) = cookie.read(&parts.headers) else {
        return Ok(None);
    };
    Ok(accounts::find_live(app.store(), token, app.clock().now()).await?)
}

/// The instructor if signed in, and `None` for anyone else.
#[derive(Clone, Debug)]
pub struct MaybeSignedIn(pub Option<SignedIn>);

impl<S> FromRequestParts<S> for MaybeSignedIn
where
    S: Send + Sync,
    App: FromRef<S>,
{
    type Rejection = PageError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, PageError> {
        match SignedIn::from_request_parts(parts, state).await {
            Ok(signed_in) => Ok(Self(Some(signed_in))),
            Err(PageError::SignIn { .. } | PageError::SignInFirst) => Ok(Self(None)),
            Err(error) => Err(error),
        }
    }
}
