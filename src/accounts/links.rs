//! One-time links that the command line prints.

use jiff::SignedDuration;

use crate::app::App;
use crate::error::Cause;
use crate::store;
use crate::store::one_time_link::Purpose;
use crate::token::Token;
use crate::urls;

const LASTS: SignedDuration = SignedDuration::from_hours(24);

/// The whole address of a new link to choose a name and a password; `None` once that is done.
/// Older links of the kind stop working.
///
/// # Errors
/// When the database fails or there are no random bytes.
pub async fn make_setup_link(app: &App) -> Result<Option<String>, Cause> {
    let mut change = app.store().change().await?;
    let exists = store::instructor::find_instructor(&mut *change)
        .await?
        .is_some();
    store::one_time_link::delete_links_for(&mut *change, Purpose::Setup).await?;
    change.commit().await?;
    if exists {
        return Ok(None);
    }
    make_link(app, Purpose::Setup).await.map(Some)
}

/// The whole address of a new link that signs in without a password.
///
/// # Errors
/// When the database fails or there are no random bytes.
pub async fn make_sign_in_link(app: &App) -> Result<String, Cause> {
    make_link(app, Purpose::SignIn).await
}

async fn make_link(app: &App, purpose: Purpose) -> Result<String, Cause> {
    let token = Token::for_link()?;
    let ends = app.clock().now() + LASTS;
    let mut change = app.store().change().await?;
    store::one_time_link::insert_link(&mut *change, purpose, &token.hash(), ends).await?;
    change.commit().await?;
    Ok(app
        .config()
        .base_url
        .with_path(&urls::welcome(token.text())))
}
