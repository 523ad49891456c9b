//! The start page: what to do next.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::routing::get;

use super::extract::SignedIn;
use super::{Nav, Page};
use crate::app::App;
use crate::urls;

/// Routes of the start page.
pub fn router() -> Router<App> {
    Router::new().route(urls::HOME, get(show_home))
}

#[derive(Template)]
#[template(path = "home.html")]
struct HomePage {
    nav: Nav,
    name: String,
    demo: bool,
}

async fn show_home(State(app): State<App>, instructor: SignedIn) -> Page<impl Template> {
    Page::ok(HomePage {
        nav: Nav::Home,
        name: instructor.name,
        demo: app.config().demo,
    })
}
