//! Publishing: the facts are frozen as the next revision, if the packet balances.

use std::time::Duration;

use axum::extract::State;
use axum::response::Response;

use super::planning::{Made, PATIENCE, make, planning};
use super::{load, refused};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{published, see_other};
use crate::store::class_facts::class_facts;
use crate::store::classes::find_class;
use crate::store::revisions;
use crate::urls;

/// The form has no field: what is published is what the class is.
#[derive(serde::Deserialize)]
pub(super) struct PublishForm {}

pub(super) async fn create_revision(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(PublishForm {}): ProtectedForm<PublishForm>,
) -> PageResult<Response> {
    // The plans first, so that nobody waits for the transaction.
    let loaded = load(&app, id).await?;
    make(&app.planner().waiting(PATIENCE), &loaded.facts).await;
    // One transaction from reading to freezing: no save comes between.
    let mut change = app.store().change().await?;
    let class = find_class(&mut *change, id).await?;
    let class = class.ok_or(PageError::NotFound)?;
    let facts = class_facts(&mut change, id).await?;
    let facts = facts.ok_or(PageError::NotFound)?;
    match make(&app.planner().waiting(Duration::ZERO), &facts).await {
        Made::Packet(_) => {}
        Made::Refused(problems) => return Ok(refused(&class, &facts, &problems)),
        Made::Planning(percent) => {
            return Ok(planning(&facts.title, percent, Some(urls::class(id))));
        }
    }
    let newest = revisions::find_newest_revision(&mut *change, id).await?;
    let already = match &newest {
        Some(revision) => revisions::is_current(revision, &facts)?,
        None => false,
    };
    // A second press of the button is no second revision.
    if !already {
        revisions::insert_revision(&mut change, id, &facts, app.clock().now()).await?;
        published::commit(&app, change, id).await?;
    }
    Ok(see_other(&urls::class_published(id)))
}
