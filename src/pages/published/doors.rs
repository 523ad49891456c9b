//! Which links open what, in memory: a hall full of phones asks the database nothing, and whoever
//! guesses links costs it nothing.

use std::collections::HashMap;
use std::sync::{Arc, PoisonError, RwLock};

use jiff::Timestamp;

use crate::store::links::{LinkRole, OpenLink, list_open_links};
use crate::store::{Store, StoreResult};
use crate::token::TokenHash;

/// The links that worked when they were read.
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
    pub(super) fn known(&self, link: (TokenHash, LinkRole), now: Timestamp) -> Option<OpenLink> {
        opens(self.state().known.as_deref()?, link, now)
    }

    /// What a token opens; reads the list if it has to.
    pub(super) async fn find(
        &self,
        store: &Store,
        link: (TokenHash, LinkRole),
        now: Timestamp,
    ) -> StoreResult<Option<OpenLink>> {
        let links = self.links(store, now).await?;
        Ok(opens(&links, link, now))
    }

    /// The next who comes reads the list anew.
    pub(super) fn forget(&self) {
        let mut state = self.0.write().unwrap_or_else(PoisonError::into_inner);
        state.changes += 1;
        state.known = None;
    }

    async fn links(
        &self,
        store: &Store,
        now: Timestamp,
    ) -> StoreResult<Arc<HashMap<TokenHash, OpenLink>>> {
        let changes = {
            let state = self.state();
            if let Some(known) = &state.known {
                return Ok(Arc::clone(known));
            }
            state.changes
        };
        let read = list_open_links(store.read()).await?.into_iter();
        let read = Arc::new(read.filter(|(_, open)| open.expires_at > now).collect());
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
    (hash, role): (TokenHash, LinkRole),
    now: Timestamp,
) -> Option<OpenLink> {
    let open = links.get(&hash).copied();
    open.filter(|open| open.role == role && open.expires_at > now)
}
