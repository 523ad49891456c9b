//! All steps of a published class in one document, for phones with glue on the screen.

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::Response;
use axum::routing::get;

use super::extract::Path;
use super::paperwork::{Heading, StepCard, step_cards};
use super::published;
use crate::app::App;
use crate::error::PageResult;
use crate::store::links::LinkRole;
use crate::urls;

/// Routes of the phone page.
pub fn router() -> Router<App> {
    Router::new().route(urls::ATTENDEE_LINK, get(show_steps))
}

#[derive(Template)]
#[template(path = "phone/steps.html")]
struct StepsPage {
    heading: Heading,
    cards: Vec<StepCard>,
    cautions: Vec<&'static str>,
}

async fn show_steps(
    State(app): State<App>,
    Path(token): Path<String>,
    headers: HeaderMap,
) -> PageResult<Response> {
    let link = (token.as_str(), LinkRole::Attendee);
    published::show(&app, link, &headers, |revision, packet| StepsPage {
        heading: Heading::published(revision),
        cards: step_cards(&revision.facts, packet),
        cautions: packet.cautions.iter().map(|c| c.text()).collect(),
    })
    .await
}
