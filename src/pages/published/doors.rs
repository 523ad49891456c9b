//! Which links open what, in memory: a hall full of phones asks the database nothing, and whoever
//! guesses links costs it nothing.

use std::collections::HashMap;
use std::sync::{Arc, PoisonError, RwLock};

use jiff::Timestamp;

use crate::store::links::{LinkRole, OpenLink, list_open_links};
use crate::store::{Store, StoreResult};
use crate::token::TokenHash;

/// All working links. Whoever changes links, revisions, attendees or classes calls
/// [`Doors::forget`] after the commit.
#[derive(Debug, Default)]
pub(super) struct Doors(RwLock<State>);

#[derive(Debug, Default)]
struct State {
    /// Counts changes, so that a list which was read before one is not kept after it.
    changes: u64,
    known: Option<Arc<HashMap<TokenHash, OpenLink>>>,
}

impl Doors {
    /// What a token opens, if the list is in memory.
    pub(super) fn known(
        &self,
        (hash, role): (&TokenHash, LinkRole),
        now: Timestamp,
    ) -> Option<OpenLink> {
        opens(self.state().known.as_deref()?, (hash, role), now)
    }

    /// What a token opens; reads the list if it has to.
    pub(super) async fn find(
        &self,
        store: &Store,
        (hash, role): (&TokenHash, LinkRole),
        now: Timestamp,
    ) -> StoreResult<Option<OpenLink>> {
        let links = self.links(store).await?;
        Ok(opens(&links, (hash, role), now))
    }

    /// The next who comes reads the list anew.
    pub(super) fn forget(&self) {
        let mut state = self.0.write().unwrap_or_else(PoisonError::into_inner);
        state.changes += 1;
        state.known = None;
    }

    async fn links(&self, store: &Store) -> StoreResult<Arc<HashMap<TokenHash, OpenLink>>> {
        let changes = {
            let state = self.state();
            if let Some(known) = &state.known {
                return Ok(Arc::clone(known));
            }
            state.changes
        };
        let read: HashMap<_, _> = list_open_links(store.read()).await?.into_iter().collect();
        let read = Arc::new(read);
        let mut state = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if state.changes == changes {
            state.known = Some(Arc::clone(&read));
        }
        Ok(read)
    }

    /// A panic while the lock was held leaves the list whole: it goes in by one assignment.
    fn state(&self) -> std::sync::RwLockReadGuard<'_, State> {
        self.0.read().unwrap_or_else(PoisonError::into_inner)
    }
}

fn opens(
    links: &HashMap<TokenHash, OpenLink>,
    (hash, role): (&TokenHash, LinkRole),
    now: Timestamp,
) -> Option<OpenLink> {
    let open = links.get(hash).copied();
    open.filter(|open| open.role == role && open.expires_at > now)
}
