//! The packet: its contents with proof that it balances, and each list of it for printing.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::{Loaded, load, refused};
use crate::app::App;
use crate::error::PageResult;
use crate::pages::extract::{Path, Query, SignedIn};
use crate::pages::paperwork::{
    Heading, HostList, PackList, PackTotals, StepCard, host_list, pack_lists, pack_totals, samples,
    step_cards,
};
use crate::pages::picture::LegendLine;
use crate::pages::{Nav, Page};
use crate::workshop::{Balance, Packet, packet};

#[derive(Template)]
#[template(path = "classes/packet.html")]
struct PacketPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    packs: usize,
    cards: usize,
    sheets: u64,
    prep_minutes: u32,
    balance: Vec<Balance>,
    sums: (u64, u64, u64),
}

#[derive(Template)]
#[template(path = "classes/packs.html")]
struct PacksPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    packs: Vec<PackList>,
    totals: PackTotals,
    one_a_page: bool,
}

#[derive(Template)]
#[template(path = "classes/host_list.html")]
struct HostPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    host: HostList,
}

#[derive(Template)]
#[template(path = "classes/cards.html")]
struct CardsPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    cards: Vec<StepCard>,
    samples: Vec<LegendLine>,
}

/// How packs are laid out.
#[derive(Debug, Deserialize)]
pub(super) struct PacksQuery {
    per_page: Option<String>,
}

/// A page of a packet, or its refusal with everything that is missing.
fn printed<T: Template>(
    loaded: &Loaded,
    page: impl FnOnce(Heading, &Packet) -> T,
) -> PageResult<Response> {
    Ok(match packet(&loaded.facts) {
        Ok(packet) => Page::ok(page(loaded.heading()?, &packet)).into_response(),
        Err(problems) => refused(&loaded.class, &problems),
    })
}

pub(super) async fn show_contents(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    printed(&loaded, |heading, packet| PacketPage {
        nav: Nav::Classes,
        id,
        heading,
        packs: packet.packs.len(),
        cards: packet.recipe.steps.iter().filter(|s| s.is_class()).count(),
        sheets: packet
            .pull
            .papers
            .iter()
            .map(|p| u64::from(p.sheets()))
            .sum(),
        prep_minutes: packet.prep.minutes(),
        sums: packet.balance.iter().fold((0, 0, 0), |sum, line| {
            (sum.0 + line.packs, sum.1 + line.spares, sum.2 + line.yields)
        }),
        balance: packet.balance.clone(),
    })
}

pub(super) async fn show_packs(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(query): Query<PacksQuery>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    printed(&loaded, |heading, packet| PacksPage {
        nav: Nav::Classes,
        id,
        heading,
        packs: pack_lists(packet),
        totals: pack_totals(packet),
        one_a_page: query.per_page.as_deref() == Some("1"),
    })
}

pub(super) async fn show_host(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    printed(&loaded, |heading, packet| HostPage {
        nav: Nav::Classes,
        id,
        heading,
        host: host_list(&loaded.facts, packet),
    })
}

pub(super) async fn show_cards(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    printed(&loaded, |heading, packet| {
        let cards = step_cards(&loaded.facts, packet);
        CardsPage {
            nav: Nav::Classes,
            id,
            heading,
            samples: samples(&cards),
            cards,
        }
    })
}
