//! All steps of a published class in one document, for phones with glue on the screen.

use std::collections::BTreeSet;

use askama::Template;
use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::HeaderMap;
use axum::response::Response;
use axum::routing::get;

use super::extract::Path;
use super::looks::{Look, looks};
use super::paperwork::{Heading, PackList, StepCard, own_pack, samples, step_cards};
use super::picture::LegendLine;
use super::picture_sizes::on_phone;
use super::published::{self, Asked, Opened, View};
use crate::app::App;
use crate::error::PageResult;
use crate::recipe::Caution;
use crate::store::links::LinkRole;
use crate::urls;
use crate::workshop::{ClassFacts, Packet};

/// Routes of the phone page.
pub fn router() -> Router<App> {
    Router::new().route(urls::ATTENDEE_LINK, get(show_steps))
}

#[derive(Template)]
#[template(path = "phone/steps.html")]
struct StepsPage {
    heading: Heading,
    /// Of the attendee whose own link it is.
    pack: Option<PackList>,
    /// Whether they came to the class after this revision.
    is_new: bool,
    cards: Vec<StepCard>,
    /// Of each project, where there are several.
    titles: Vec<String>,
    samples: Vec<LegendLine>,
    cautions: Vec<&'static str>,
    view: View,
    looks: Vec<Look>,
}

impl StepsPage {
    /// The list of contents: the cards of each piece under the title of their project, where
    /// another one came before, and under the name of the piece. One alone needs no heading.
    fn contents(&self) -> impl Iterator<Item = (&str, &str, &[StepCard])> {
        let has_several = self.has_several_pieces();
        let mut project = None;
        self.cards.chunk_by(is_of_one_piece).map(move |cards| {
            let first = cards.first();
            let title = first.filter(|card| project != Some(card.project));
            project = first.map(|card| card.project);
            let title = title.and_then(|card| self.titles.get(card.project));
            let piece = first.filter(|_| has_several);
            (
                title.map_or("", String::as_str),
                piece.map_or("", |card| card.piece.as_str()),
                cards,
            )
        })
    }

    /// Where there is one alone, no step has to say which.
    fn has_several_pieces(&self) -> bool {
        self.cards.chunk_by(is_of_one_piece).nth(1).is_some()
    }
}

fn is_of_one_piece(a: &StepCard, b: &StepCard) -> bool {
    a.project == b.project && a.piece == b.piece
}

async fn show_steps(
    State(app): State<App>,
    Path(token): Path<String>,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
) -> PageResult<Response> {
    let asked = Asked {
        token: &token,
        role: LinkRole::Attendee,
        query: query.as_deref().unwrap_or_default(),
        headers: &headers,
    };
    published::show(&app, asked, steps_page).await
}

fn steps_page(opened: &Opened<'_>) -> StepsPage {
    let (facts, packet) = (&opened.revision.facts, opened.packet);
    let cards = step_cards(facts, packet, opened.view, on_phone(opened.view.large));
    let pack = opened.attendee.and_then(|id| own_pack(facts, packet, id));
    StepsPage {
        heading: Heading::published(opened.revision),
        is_new: opened.attendee.is_some() && pack.is_none(),
        pack,
        samples: samples(&cards),
        titles: titles(facts),
        cautions: cautions(packet),
        cards,
        view: opened.view,
        looks: looks(opened.view, packet.recipe.ruler_of(None).unit(), &|view| {
            view.query()
        }),
    }
}

fn titles(facts: &ClassFacts) -> Vec<String> {
    let joined = facts.project.joined.iter();
    joined.map(|share| share.title.clone()).collect()
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
