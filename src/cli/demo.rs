//! Fills the temporary database of `serve --demo`.

use crate::app::App;
use crate::error::Cause;
use crate::store;
use crate::token::Token;

/// Puts in the instructor. Nobody knows the password: the way in is the link on the terminal.
///
/// # Errors
/// When the database fails.
pub(super) async fn fill(app: &App) -> Result<(), Cause> {
    let password = Token::for_session()?;
    let hash = app.passwords().hash(password.text()).await?;
    let mut change = app.store().change().await?;
    let now = app.clock().now();
    store::instructor::insert_instructor(&mut *change, "Demo instructor", &hash, now).await?;
    change.commit().await?;
    Ok(())
}
