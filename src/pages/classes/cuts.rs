//! Cut cards, and the choice between the two cut plans.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::left_overs::{LeftOverForm, booked, usual_form};
use super::planning::with_packet;
use super::{Loaded, load};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::paperwork::{CutCards, Heading, cut_cards};
use crate::pages::{Nav, Page, see_other};
use crate::store::classes::update_cut_plan;
use crate::urls;
use crate::workshop::{Packet, PlanChoice};

#[derive(Template)]
#[template(path = "classes/cuts.html")]
struct CutsPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    cuts: CutCards,
    form: LeftOverForm,
    errors: FormErrors,
    /// What was put back already, in words.
    booked: Option<String>,
}

pub(super) async fn show_cuts(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let booked = booked(&app, &loaded).await?;
    let form = usual_form(&loaded.facts);
    with_packet(&app, &loaded, |packet| {
        let page = page(&app, &loaded, packet, (form, FormErrors::default()), booked)?;
        Ok(Page::ok(page).into_response())
    })
    .await
}

/// The page again with what is wrong with the form of left-overs.
pub(super) fn invalid(
    app: &App,
    loaded: &Loaded,
    packet: &Packet,
    form: (LeftOverForm, FormErrors),
    booked: Option<String>,
) -> PageResult<Response> {
    Ok(Page::invalid(page(app, loaded, packet, form, booked)?).into_response())
}

fn page(
    app: &App,
    loaded: &Loaded,
    packet: &Packet,
    (form, errors): (LeftOverForm, FormErrors),
    booked: Option<String>,
) -> PageResult<CutsPage> {
    Ok(CutsPage {
        nav: Nav::Classes,
        id: loaded.class.id,
        heading: loaded.heading()?,
        cuts: cut_cards(&loaded.facts, packet, app.config().currency),
        form,
        errors,
        booked,
    })
}

/// Which of the two buttons was pressed.
#[derive(Debug, Deserialize)]
pub(super) struct PlanForm {
    plan: String,
}

pub(super) async fn update_plan(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<PlanForm>,
) -> PageResult<Response> {
    let choice = PlanChoice::from_slug(&form.plan).ok_or_else(|| {
        PageError::bad_request(
            "This is no cut plan.",
            "Open the cut cards and press the button of one of the two plans.",
        )
    })?;
    let mut change = app.store().change().await?;
    if !update_cut_plan(&mut *change, id, choice).await? {
        return Err(PageError::NotFound);
    }
    change.commit().await?;
    Ok(see_other(&urls::class_cuts(id)))
}
