//! Removing a class: asked once more, because its links and revisions go with it.

use askama::Template;
use axum::extract::State;
use axum::response::Response;

use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, published, see_other};
use crate::store::classes;
use crate::urls;

#[derive(Template)]
#[template(path = "classes/remove.html")]
struct RemovePage {
    nav: Nav,
    id: i64,
    title: String,
}

/// The form has no field: the address says it all.
#[derive(serde::Deserialize)]
pub(super) struct RemoveForm {}

pub(super) async fn show_remove(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let class = classes::find_class(app.store().read(), id).await?;
    let class = class.ok_or(PageError::NotFound)?;
    Ok(Page::ok(RemovePage {
        nav: Nav::Classes,
        id,
        title: class.details.title,
    }))
}

pub(super) async fn delete_class(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(RemoveForm {}): ProtectedForm<RemoveForm>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    if !classes::delete_class(&mut change, id).await? {
        return Err(PageError::NotFound);
    }
    published::commit(&app, change, id).await?;
    Ok(see_other(&urls::classes()))
}
