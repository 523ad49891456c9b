//! The envelope from the punch board, added to the project of a card.

use axum::extract::State;
use axum::response::Response;
use serde::Deserialize;

use super::pieces::{Loaded, find, load};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::once;
use crate::recipe::{make, matching_envelope};
use crate::store::projects::{self, Piece};
use crate::urls;

/// The token of the form.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct EnvelopeForm {
    once: String,
}

pub(super) async fn create_envelope(
    State(app): State<App>,
    _: SignedIn,
    Path((project, card)): Path<(i64, i64)>,
    ProtectedForm(form): ProtectedForm<EnvelopeForm>,
) -> PageResult<Response> {
    let (loaded, stored) = (load(&app, project).await?, find(&app, project, card).await?);
    let envelope = envelope_for(&loaded, (card, &stored.it))?;
    let mut change = app.store().change().await?;
    if let Some(made) = once::made(&mut change, &form.once).await? {
        return Ok(made);
    }
    let id = projects::insert_piece(&mut change, project, &envelope).await?;
    once::commit(&app, change, &form.once, &urls::piece(project, id)).await
}

/// The piece that takes the card, as it is stored.
fn envelope_for(loaded: &Loaded, (id, card): (i64, &Piece)) -> PageResult<Piece> {
    let refused = |why: String| PageError::bad_request(why, "Go back to the card and change it.");
    let facts = loaded.bench.piece(id, card);
    let facts = facts.ok_or_else(|| PageError::internal("a piece without its paper"))?;
    let made = make(&loaded.facts, &facts).map_err(|problem| refused(problem.message))?;
    let envelope = matching_envelope(&facts, &made).ok_or_else(|| {
        refused(format!(
            "\"{}\" gets no envelope from the punch board: that takes a folded card, and a punch \
             board on the bench.",
            card.name
        ))
    })?;
    make(&loaded.facts, &envelope).map_err(|problem| refused(problem.message))?;
    Ok(Piece {
        name: envelope.name,
        paper: envelope.paper_id,
        spec: envelope.spec,
    })
}
