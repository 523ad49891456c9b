//! The bench: tools, papers and supplies.

mod calibrate;
mod more_papers;
mod offer_form;
mod offers;
mod paper_form;
mod papers;
mod same_paper;
mod show;
mod start;
mod supplies;
mod supply_form;
mod tool_form;
mod tools;

use axum::Router;
use axum::routing::{get, post};

use crate::app::App;
use crate::urls;

/// Routes of this area.
pub fn router() -> Router<App> {
    Router::new()
        .route(urls::BENCH, get(show::show_bench))
        .route(urls::BENCH_START, post(start::create_bench))
        .route(urls::NEW_TOOL, get(tools::new_tool))
        .route(urls::TOOLS, post(tools::create_tool))
        .route(urls::TOOL, get(tools::edit_tool).post(tools::update_tool))
        .route(
            urls::REMOVE_TOOL,
            get(tools::ask_remove_tool).post(tools::delete_tool),
        )
        .route(urls::CALIBRATE, post(calibrate::calibrate))
        .route(urls::NEW_PAPER, get(papers::new_paper))
        .route(urls::PAPERS, post(papers::create_paper))
        .route(
            urls::PAPER,
            get(papers::edit_paper).post(papers::update_paper),
        )
        .route(
            urls::REMOVE_PAPER,
            get(papers::ask_remove_paper).post(papers::delete_paper),
        )
        .route(urls::NEW_SUPPLY, get(supplies::new_supply))
        .route(urls::SUPPLIES, post(supplies::create_supply))
        .route(
            urls::SUPPLY,
            get(supplies::edit_supply).post(supplies::update_supply),
        )
        .route(
            urls::REMOVE_SUPPLY,
            get(supplies::ask_remove_supply).post(supplies::delete_supply),
        )
        .merge(offer_router())
}

fn offer_router() -> Router<App> {
    Router::new()
        .route(
            urls::PAPER_OFFERS,
            get(offers::new_paper_offer).post(offers::create_paper_offer),
        )
        .route(
            urls::SUPPLY_OFFERS,
            get(offers::new_supply_offer).post(offers::create_supply_offer),
        )
        .route(
            urls::OFFER,
            get(offers::edit_offer).post(offers::update_offer),
        )
        .route(
            urls::REMOVE_OFFER,
            get(offers::ask_remove_offer).post(offers::delete_offer),
        )
}
