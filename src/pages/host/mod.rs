//! What the host of a published class prints again: the host's list and all packs.

use askama::Template;
use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::HeaderMap;
use axum::response::Response;
use axum::routing::get;

use super::Nav;
use super::extract::Path;
use super::paperwork::{
    Heading, HostList, PackList, PackTotals, host_list, pack_lists, pack_totals,
};
use super::published::{self, Asked};
use super::qr::QrPicture;
use crate::app::App;
use crate::error::PageResult;
use crate::store::links::LinkRole;
use crate::urls;

/// Routes of the host page.
pub fn router() -> Router<App> {
    Router::new().route(urls::HOST_LINK, get(show_lists))
}

#[derive(Template)]
#[template(path = "host/lists.html")]
struct ListsPage {
    nav: Nav,
    heading: Heading,
    host: HostList,
    /// Of the step cards, as code and as text.
    code: Option<QrPicture>,
    address: Option<String>,
    packs: Vec<PackList>,
    totals: PackTotals,
}

async fn show_lists(
    State(app): State<App>,
    Path(token): Path<String>,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
) -> PageResult<Response> {
    let asked = Asked {
        token: &token,
        role: LinkRole::Host,
        query: query.as_deref().unwrap_or_default(),
        headers: &headers,
    };
    published::show(&app, asked, |opened| ListsPage {
        nav: Nav::None,
        heading: Heading::published(opened.revision),
        code: QrPicture::of_step_cards(opened.steps_address),
        address: opened.steps_address.map(str::to_owned),
        host: host_list(&opened.revision.facts, opened.packet),
        packs: pack_lists(opened.packet),
        totals: pack_totals(opened.packet),
    })
    .await
}
