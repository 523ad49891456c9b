//! All steps of a published class in one document, for phones with glue on the screen.

use std::collections::BTreeSet;

use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::Response;
use axum::routing::get;

use super::extract::Path;
use super::paperwork::{Heading, StepCard, samples, step_cards};
use super::picture::LegendLine;
use super::published;
use crate::app::App;
use crate::error::PageResult;
use crate::recipe::Caution;
use crate::store::links::LinkRole;
use crate::urls;
use crate::workshop::Packet;

/// Routes of the phone page.
pub fn router() -> Router<App> {
    Router::new().route(urls::ATTENDEE_LINK, get(show_steps))
}

#[derive(Template)]
#[template(path = "phone/steps.html")]
struct StepsPage {
    heading: Heading,
    cards: Vec<StepCard>,
    samples: Vec<LegendLine>,
    cautions: Vec<&'static str>,
}

async fn show_steps(
    State(app): State<App>,
    Path(token): Path<String>,
    headers: HeaderMap,
) -> PageResult<Response> {
    let link = (token.as_str(), LinkRole::Attendee);
    published::show(&app, link, &headers, |revision, packet| {
        let cards = step_cards(&revision.facts, packet);
        StepsPage {
            heading: Heading::published(revision),
            samples: samples(&cards),
            cautions: cautions(packet),
            cards,
        }
    })
    .await
}

/// Of what attendees do and take home; those of the instructor's own work stay with the host.
fn cautions(packet: &Packet) -> Vec<&'static str> {
    let steps = packet.recipe.steps.iter().filter(|step| step.is_class());
    let in_class = steps.filter_map(|step| step.operation.caution);
    let pieces = packet.recipe.pieces.iter();
    let of_pieces = pieces.flat_map(|piece| piece.cautions.iter().copied());
    let all: BTreeSet<Caution> = in_class.chain(of_pieces).collect();
    all.into_iter().map(Caution::text).collect()
}
