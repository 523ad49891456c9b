//! A form that makes something makes it once. It holds a random token, and the store remembers
//! for a day what the form with that token made: a second click, or the way back and Save again,
//! leads there. A form without a token is taken as it is.

use askama::Template;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};

use super::{Page, see_other};
use crate::app::App;
use crate::error::PageResult;
use crate::store::Change;
use crate::store::form_use::{find_form_use, insert_form_use};
use crate::token::{Token, hash_of};

/// The token of a form that is opened.
pub(crate) fn token() -> PageResult<String> {
    Ok(Token::for_link()?.text().to_owned())
}

/// The page of a form that is opened. A browser may keep it to itself for its way back, so that
/// the token there is the one that was used.
pub(crate) fn page<T: Template>(page: Page<T>) -> Response {
    let kept = HeaderValue::from_static("private, no-cache");
    ([(header::CACHE_CONTROL, kept)], page).into_response()
}

/// Where the form with this token led before. Asked under the write lock, so that of two
/// requests at once one comes second.
pub(crate) async fn made(change: &mut Change, token: &str) -> PageResult<Option<Response>> {
    if token.is_empty() {
        return Ok(None);
    }
    let location = find_form_use(&mut **change, &hash_of(token)).await?;
    Ok(location.map(|location| see_other(&location)))
}

/// Keeps the change together with the token, and goes on to what was made.
pub(crate) async fn commit(
    app: &App,
    mut change: Change,
    token: &str,
    location: &str,
) -> PageResult<Response> {
    keep(app, &mut change, token, location).await?;
    change.commit().await?;
    Ok(see_other(location))
}

/// Remembers in the change what the form with this token makes.
pub(crate) async fn keep(
    app: &App,
    change: &mut Change,
    token: &str,
    location: &str,
) -> PageResult<()> {
    if !token.is_empty() {
        let now = app.clock().now();
        insert_form_use(change, &hash_of(token), location, now).await?;
    }
    Ok(())
}
