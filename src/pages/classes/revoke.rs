//! Revoking a link: asked once more, because codes that were printed lead nowhere afterwards.

use askama::Template;
use axum::extract::State;
use axum::response::Response;

use super::links::{Kind, class, numbered};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, published, see_other};
use crate::store;
use crate::store::class_lists::list_attendees;
use crate::urls;

#[derive(Template)]
#[template(path = "classes/revoke.html")]
struct RevokePage {
    nav: Nav,
    class: i64,
    link: i64,
    number: usize,
    /// What it shows, or whose own it is.
    what: String,
}

/// The form has no field: the address says it all.
#[derive(serde::Deserialize)]
pub(super) struct RevokeForm {}

pub(super) async fn show_revoke(
    State(app): State<App>,
    _: SignedIn,
    Path((id, link)): Path<(i64, i64)>,
) -> PageResult<Page<impl Template>> {
    let class = class(&app, id).await?;
    let links = store::links::list_links(app.store().read(), id).await?;
    let now = app.clock().now();
    let mut working = numbered(&links).filter(|(_, it)| it.works(now));
    let found = working.find(|(_, it)| it.id == link);
    let (number, found) = found.ok_or(PageError::NotFound)?;
    let attendees = list_attendees(app.store().read(), id).await?;
    let mut own = attendees.into_iter();
    let whose = own.find(|one| Some(one.id) == found.attendee_id);
    Ok(Page::ok(RevokePage {
        nav: Nav::Classes,
        class: class.id,
        link,
        number,
        what: whose.map_or_else(|| Kind::of(found).label().to_owned(), |one| one.name),
    }))
}

pub(super) async fn revoke_link(
    State(app): State<App>,
    _: SignedIn,
    Path((id, link)): Path<(i64, i64)>,
    ProtectedForm(RevokeForm {}): ProtectedForm<RevokeForm>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let now = app.clock().now();
    if !store::links::update_link_revoked(&mut *change, id, link, now).await? {
        return Err(PageError::NotFound);
    }
    published::commit(&app, change, id).await?;
    Ok(see_other(&urls::class_links(id)))
}
