//! The one-time link that the start of the server prints: to set it up, or to come in.
//! Opening it changes nothing, so that a preview of the link does not use it up.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::signed_in;
use crate::accounts;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm};
use crate::pages::{Nav, Page};
use crate::store;
use crate::store::one_time_link::{OneTimeLink, Purpose};
use crate::token::{Token, hash_of};
use crate::urls;

/// The fields of setting up; coming in sends none.
#[derive(Debug, Default, Deserialize)]
pub(super) struct WelcomeForm {
    #[serde(default)]
    name: String,
    #[serde(default)]
    password: String,
}

#[derive(Template)]
#[template(path = "account/setup.html")]
struct SetupPage {
    nav: Nav,
    token: String,
    form: WelcomeForm,
    errors: FormErrors,
}

#[derive(Template)]
#[template(path = "account/come_in.html")]
struct ComeInPage {
    nav: Nav,
    token: String,
    demo: bool,
}

pub(super) async fn show_welcome(
    State(app): State<App>,
    Path(token): Path<String>,
) -> PageResult<Response> {
    let link = find_link(&app, &token).await?;
    Ok(match link.purpose {
        Purpose::Setup => Page::ok(SetupPage {
            nav: Nav::None,
            token,
            form: WelcomeForm::default(),
            errors: FormErrors::default(),
        })
        .into_response(),
        Purpose::SignIn => Page::ok(ComeInPage {
            nav: Nav::None,
            token,
            demo: app.config().demo,
        })
        .into_response(),
    })
}

pub(super) async fn use_link(
    State(app): State<App>,
    Path(token): Path<String>,
    ProtectedForm(form): ProtectedForm<WelcomeForm>,
) -> PageResult<Response> {
    let link = find_link(&app, &token).await?;
    match link.purpose {
        Purpose::Setup => set_up(&app, token, link, form).await,
        Purpose::SignIn => come_in(&app, link).await,
    }
}

async fn find_link(app: &App, token: &str) -> PageResult<OneTimeLink> {
    let now = app.clock().now();
    store::one_time_link::find_open_link(app.store().read(), &hash_of(token), now)
        .await?
        .ok_or(PageError::BadLink)
}

async fn set_up(
    app: &App,
    token: String,
    link: OneTimeLink,
    form: WelcomeForm,
) -> PageResult<Response> {
    let mut errors = FormErrors::default();
    let name = errors.text("name", "Your name", &form.name, 80);
    let password = errors.keep(
        "password",
        "Password",
        accounts::check_new_password(&form.password),
    );
    let (Some(name), Some(())) = (name, password) else {
        return Ok(Page::invalid(SetupPage {
            nav: Nav::None,
            token,
            form,
            errors,
        })
        .into_response());
    };
    let hash = app.passwords().hash(&form.password).await;
    let hash = hash.map_err(PageError::internal)?;
    let session = insert_instructor(app, link, &name, &hash).await?;
    Ok(signed_in(app, &session, &urls::home()))
}

async fn insert_instructor(
    app: &App,
    link: OneTimeLink,
    name: &str,
    hash: &str,
) -> PageResult<Token> {
    let now = app.clock().now();
    let mut change = app.store().change().await?;
    // Checked again under the write lock: two people may have opened the link.
    if !store::one_time_link::update_link_used(&mut *change, link.id, now).await?
        || store::instructor::find_instructor(&mut *change)
            .await?
            .is_some()
    {
        return Err(PageError::BadLink);
    }
    let id = store::instructor::insert_instructor(&mut *change, name, hash, now).await?;
    let session = accounts::start(&mut change, id, now).await?;
    change.commit().await?;
    Ok(session)
}

async fn come_in(app: &App, link: OneTimeLink) -> PageResult<Response> {
    let now = app.clock().now();
    let mut change = app.store().change().await?;
    let instructor = store::instructor::find_instructor(&mut *change).await?;
    let used = store::one_time_link::update_link_used(&mut *change, link.id, now).await?;
    let (Some(instructor), true) = (instructor, used) else {
        return Err(PageError::BadLink);
    };
    let session = accounts::start(&mut change, instructor.id, now).await?;
    change.commit().await?;
    Ok(signed_in(app, &session, &urls::home()))
}
