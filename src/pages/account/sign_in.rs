//! Signing in and out.

use askama::Template;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use jiff::SignedDuration;
use serde::Deserialize;

use super::signed_in;
use crate::accounts::{self, SessionCookie};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{MaybeSignedIn, ProtectedForm, Query, SignedIn};
use crate::pages::{Nav, Page, see_other};
use crate::store;
use crate::store::instructor::Instructor;
use crate::urls;

/// Where to go on to, if the address says so.
#[derive(Debug, Deserialize)]
pub(super) struct SignInQuery {
    next: Option<String>,
}

#[derive(Debug, Deserialize)]
pub(super) struct SignInForm {
    name: String,
    password: String,
    #[serde(default)]
    next: String,
}

#[derive(Template)]
#[template(path = "account/sign_in.html")]
struct SignInPage {
    nav: Nav,
    /// Nobody has set the server up yet: the way in is the link on the terminal.
    no_instructor: bool,
    name: String,
    next: String,
    errors: FormErrors,
}

pub(super) async fn show_sign_in(
    State(app): State<App>,
    MaybeSignedIn(already): MaybeSignedIn,
    Query(query): Query<SignInQuery>,
) -> PageResult<Response> {
    let next = own_path_or_home(query.next.as_deref().unwrap_or_default());
    if already.is_some() {
        return Ok(see_other(&next));
    }
    let instructor = store::instructor::find_instructor(app.store().read()).await?;
    Ok(Page::ok(SignInPage {
        nav: Nav::None,
        no_instructor: instructor.is_none(),
        name: String::new(),
        next,
        errors: FormErrors::default(),
    })
    .into_response())
}

pub(super) async fn create_session(
    State(app): State<App>,
    ProtectedForm(form): ProtectedForm<SignInForm>,
) -> PageResult<Response> {
    let now = app.clock().now();
    if let Some(wait) = app.throttle().wait(&form.name, now) {
        return Ok(again(
            form,
            StatusCode::TOO_MANY_REQUESTS,
            wait_message(wait),
        ));
    }
    let Some(instructor) = find_by_password(&app, &form).await? else {
        let wait = app.throttle().note_wrong(&form.name, now);
        tracing::warn!(wait_s = wait.as_secs(), "a sign-in failed");
        let message = format!("Name and password do not fit. {}", wait_message(wait));
        return Ok(again(form, StatusCode::UNPROCESSABLE_ENTITY, message));
    };
    app.throttle().note_right(&form.name);
    renew_weak_hash(&app, &instructor, &form.password).await?;
    let mut change = app.store().change().await?;
    let token = accounts::start(&mut change, instructor.id, now).await?;
    change.commit().await?;
    tracing::info!("the instructor signed in");
    Ok(signed_in(&app, &token, &own_path_or_home(&form.next)))
}

/// The instructor, if both name and password fit. The password is hashed whatever the name.
async fn find_by_password(app: &App, form: &SignInForm) -> PageResult<Option<Instructor>> {
    let instructor = store::instructor::find_instructor(app.store().read()).await?;
    let named = instructor.filter(|known| same_name(&known.name, &form.name));
    let stored = named.as_ref().map(|known| known.password_hash.as_str());
    let fits = app.passwords().matches(&form.password, stored).await;
    let fits = fits.map_err(PageError::internal)?;
    Ok(named.filter(|_| fits))
}

fn same_name(known: &str, typed: &str) -> bool {
    known.trim().to_lowercase() == typed.trim().to_lowercase()
}

async fn renew_weak_hash(app: &App, instructor: &Instructor, password: &str) -> PageResult<()> {
    if !accounts::is_weaker_than_new(&instructor.password_hash) {
        return Ok(());
    }
    let hash = app.passwords().hash(password).await;
    let hash = hash.map_err(PageError::internal)?;
    let mut change = app.store().change().await?;
    let old = &instructor.password_hash;
    store::instructor::update_password(&mut *change, instructor.id, old, &hash).await?;
    Ok(change.commit().await?)
}

fn again(form: SignInForm, status: StatusCode, message: String) -> Response {
    let mut errors = FormErrors::default();
    errors.add("password", message);
    Page::with_status(
        status,
        SignInPage {
            nav: Nav::None,
            no_instructor: false,
            name: form.name,
            next: own_path_or_home(&form.next),
            errors,
        },
    )
    .into_response()
}

pub(super) fn wait_message(wait: SignedDuration) -> String {
    // Round up, or the message names a moment that is still too early.
    let seconds = wait.as_secs() + i64::from(wait.subsec_nanos() > 0);
    match seconds {
        ..=1 => "Try again in 1 second.".to_owned(),
        2..=90 => format!("Try again in {seconds} seconds."),
        _ => format!("Try again in {} minutes.", (seconds + 59) / 60),
    }
}

fn own_path_or_home(next: &str) -> String {
    if urls::is_own_path(next) {
        next.to_owned()
    } else {
        urls::home()
    }
}

pub(super) async fn delete_session(
    State(app): State<App>,
    session: SignedIn,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    store::session::delete_session(&mut *change, session.session_id).await?;
    change.commit().await?;
    let mut response = see_other(&urls::sign_in());
    if let Some(cookie) = SessionCookie::of(&app.config().base_url).clear() {
        response.headers_mut().insert(header::SET_COOKIE, cookie);
    }
    Ok(response)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pause_is_told_in_words_and_never_too_short() {
        insta::assert_snapshot!(wait_message(SignedDuration::from_secs(1)), @"Try again in 1 second.");
        insta::assert_snapshot!(wait_message(SignedDuration::from_millis(31_200)), @"Try again in 32 seconds.");
        insta::assert_snapshot!(wait_message(SignedDuration::from_secs(901)), @"Try again in 16 minutes.");
    }
}
