//! Getting in and out: sign-in, the one-time link, the password.

mod account_page;
mod sign_in;
mod welcome;

use axum::Router;
use axum::http::header;
use axum::response::Response;
use axum::routing::{get, post};

use sign_in::wait_message;

use super::see_other;
use crate::accounts::SessionCookie;
use crate::app::App;
use crate::token::Token;
use crate::urls;

/// Routes of this area.
pub fn router() -> Router<App> {
    Router::new()
        .route(
            urls::SIGN_IN,
            get(sign_in::show_sign_in).post(sign_in::create_session),
        )
        .route(urls::SIGN_OUT, post(sign_in::delete_session))
        .route(
            urls::WELCOME,
            get(welcome::show_welcome).post(welcome::use_link),
        )
        .route(urls::ACCOUNT, get(account_page::show_account))
        .route(
            urls::ACCOUNT_PASSWORD,
            get(account_page::edit_password).post(account_page::update_password),
        )
}

/// Hands out the session cookie and goes on.
fn signed_in(app: &App, token: &Token, next: &str) -> Response {
    let mut response = see_other(next);
    if let Some(cookie) = SessionCookie::of(&app.config().base_url).set(token) {
        response.headers_mut().insert(header::SET_COOKIE, cookie);
    }
    response
}
