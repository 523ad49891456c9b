//! A poster for the wall of the hall: what is made, and the code that opens the step cards.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::links::attendees_address;
use super::load;
use super::planning::with_packet;
use crate::app::App;
use crate::error::PageResult;
use crate::pages::extract::{Path, SignedIn};
use crate::pages::paperwork::{Heading, Portrait, portraits};
use crate::pages::qr::QrPicture;
use crate::pages::{Nav, Page};

#[derive(Template)]
#[template(path = "classes/poster.html")]
struct PosterPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    portraits: Vec<Portrait>,
    published: bool,
    address: Option<String>,
    code: Option<QrPicture>,
}

pub(super) async fn show_poster(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let heading = loaded.heading()?;
    let address = attendees_address(&app, id).await?;
    let code = address.as_deref();
    let code = code.and_then(|address| QrPicture::large(address, "QR code of the step cards"));
    let published = loaded.revision.is_some();
    with_packet(&app, &loaded, |packet| {
        Ok(Page::ok(PosterPage {
            nav: Nav::Classes,
            id,
            heading,
            portraits: portraits(&packet.recipe.pieces, "piece"),
            published,
            address,
            code,
        })
        .into_response())
    })
    .await
}
