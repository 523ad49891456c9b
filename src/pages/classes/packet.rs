//! The packet: its contents with proof that it balances, and each list of it for printing.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::attendees_address;
use super::planning::with_packet;
use super::{Loaded, load};
use crate::app::App;
use crate::error::PageResult;
use crate::pages::extract::{Path, Query, SignedIn};
use crate::pages::paperwork::{
    Heading, HostList, PackList, PackTotals, host_list, pack_lists, pack_totals,
};
use crate::pages::qr::QrPicture;
use crate::pages::{Nav, Page};
use crate::workshop::{Balance, Packet};

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
    extra: u64,
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
    code: Option<QrPicture>,
    address: Option<String>,
}

/// How packs are laid out.
#[derive(Debug, Deserialize)]
pub(super) struct PacksQuery {
    per_page: Option<String>,
}

/// A page of a packet, or what takes its place.
pub(super) async fn printed<T: Template>(
    app: &App,
    id: i64,
    page: impl FnOnce(&Loaded, Heading, &Packet) -> T,
) -> PageResult<Response> {
    let loaded = load(app, id).await?;
    let heading = loaded.heading()?;
    let page = |packet: &Packet| Ok(Page::ok(page(&loaded, heading, packet)).into_response());
    with_packet(app, &loaded, page).await
}

pub(super) async fn show_contents(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    printed(&app, id, |_, heading, packet| PacketPage {
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
        extra: packet.balance.iter().map(Balance::extra).sum(),
        balance: packet.balance.clone(),
    })
    .await
}

pub(super) async fn show_packs(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(query): Query<PacksQuery>,
) -> PageResult<Response> {
    printed(&app, id, |_, heading, packet| PacksPage {
        nav: Nav::Classes,
        id,
        heading,
        packs: pack_lists(packet),
        totals: pack_totals(packet),
        one_a_page: query.per_page.as_deref() == Some("1"),
    })
    .await
}

pub(super) async fn show_host(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let address = attendees_address(&app, id).await?;
    printed(&app, id, |loaded, heading, packet| HostPage {
        nav: Nav::Classes,
        id,
        heading,
        host: host_list(&loaded.facts, packet),
        code: QrPicture::of_step_cards(address.as_deref()),
        address,
    })
    .await
}
