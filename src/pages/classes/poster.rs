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
use crate::pages::paperwork::Heading;
use crate::pages::picture::Picture;
use crate::pages::qr::QrPicture;
use crate::pages::{Nav, Page};
use crate::recipe::finished;

#[derive(Template)]
#[template(path = "classes/poster.html")]
struct PosterPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    pieces: Vec<Piece>,
    published: bool,
    address: Option<String>,
    code: Option<QrPicture>,
}

/// A piece that is made, as it looks when it is finished.
struct Piece {
    name: String,
    portrait: Picture,
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
        let pieces = packet.recipe.pieces.iter().enumerate();
        Ok(Page::ok(PosterPage {
            nav: Nav::Classes,
            id,
            heading,
            pieces: pieces
                .map(|(at, piece)| Piece {
                    name: piece.name.clone(),
                    portrait: Picture::of(&finished(piece), &format!("piece{at}")),
                })
                .collect(),
            published,
            address,
            code,
        })
        .into_response())
    })
    .await
}
