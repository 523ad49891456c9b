//! The account: who is signed in, and the password.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::signed_in;
use crate::accounts;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{ProtectedForm, Query, SignedIn};
use crate::pages::{Nav, Page};
use crate::store;
use crate::store::instructor::Instructor;
use crate::urls;

/// What was just done, to say so.
#[derive(Debug, Deserialize)]
pub(super) struct AccountQuery {
    done: Option<String>,
}

#[derive(Debug, Deserialize)]
pub(super) struct PasswordForm {
    old_password: String,
    new_password: String,
}

#[derive(Template)]
#[template(path = "account/account.html")]
struct AccountPage {
    nav: Nav,
    name: String,
    password_changed: bool,
}

#[derive(Template)]
#[template(path = "account/password.html")]
struct PasswordPage {
    nav: Nav,
    name: String,
    errors: FormErrors,
}

impl PasswordPage {
    const fn new(name: String, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Account,
            name,
            errors,
        }
    }
}

pub(super) async fn show_account(
    instructor: SignedIn,
    Query(query): Query<AccountQuery>,
) -> Page<impl Template> {
    Page::ok(AccountPage {
        nav: Nav::Account,
        name: instructor.name,
        password_changed: query.done.as_deref() == Some("password"),
    })
}

pub(super) async fn edit_password(instructor: SignedIn) -> Page<impl Template> {
    Page::ok(PasswordPage::new(instructor.name, FormErrors::default()))
}

pub(super) async fn update_password(
    State(app): State<App>,
    instructor: SignedIn,
    ProtectedForm(form): ProtectedForm<PasswordForm>,
) -> PageResult<Response> {
    let mut errors = FormErrors::default();
    let chosen = accounts::check_new_password(&form.new_password);
    errors.keep("new_password", "New password", chosen);
    let known = store::instructor::find_instructor(app.store().read()).await?;
    let known = known.ok_or(PageError::SignInFirst)?;
    let present = check_present_password(&app, &known, &form.old_password).await?;
    errors.keep("old_password", "Present password", present);
    if !errors.is_empty() {
        return Ok(Page::invalid(PasswordPage::new(instructor.name, errors)).into_response());
    }
    replace_password(&app, known.id, &known.password_hash, &form.new_password).await
}

/// Whether the person at the browser knows the password, with the same pause as at the sign-in:
/// a stolen session must not become a way to guess it.
async fn check_present_password(
    app: &App,
    known: &Instructor,
    typed: &str,
) -> PageResult<Result<(), String>> {
    let now = app.clock().now();
    if let Some(wait) = app.throttle().wait(&known.name, now) {
        let wait = super::wait_message(wait);
        return Ok(Err(format!("too many wrong ones came before this. {wait}")));
    }
    let fits = app
        .passwords()
        .matches(typed, Some(&known.password_hash))
        .await;
    if fits.map_err(PageError::internal)? {
        app.throttle().note_right(&known.name);
        return Ok(Ok(()));
    }
    app.throttle().note_wrong(&known.name, now);
    Ok(Err(
        "this is not the one you signed in with. Type that one.".to_owned(),
    ))
}

/// Ends every session, on all machines, and starts a new one here.
async fn replace_password(app: &App, id: i64, old: &str, new: &str) -> PageResult<Response> {
    let hash = app.passwords().hash(new).await;
    let hash = hash.map_err(PageError::internal)?;
    let mut change = app.store().change().await?;
    if !store::instructor::update_password(&mut *change, id, old, &hash).await? {
        return Err(PageError::SignInFirst);
    }
    store::session::delete_sessions_of(&mut *change, id).await?;
    let token = accounts::start(&mut change, id, app.clock().now()).await?;
    change.commit().await?;
    Ok(signed_in(app, &token, &urls::account_password_changed()))
}
