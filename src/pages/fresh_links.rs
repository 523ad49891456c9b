//! Links that were just made, until the page after the redirect shows them: in memory alone, so
//! that no address and no table ever holds one.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use jiff::{SignedDuration, Timestamp};

use crate::token::Token;

/// A browser follows a redirect at once; what is older was never asked for.
const KEPT: SignedDuration = SignedDuration::from_mins(10);

/// Links that wait to be shown, by session and class.
#[derive(Default)]
pub struct FreshLinks(Mutex<HashMap<(i64, i64), Fresh>>);

struct Fresh {
    token: Token,
    made: Timestamp,
}

impl FreshLinks {
    /// Keeps the token of a link that a session made for a class.
    pub(crate) fn put(&self, (session, class): (i64, i64), token: Token, now: Timestamp) {
        let mut links = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        links.retain(|_, fresh| fresh.made.duration_until(now) < KEPT);
        links.insert((session, class), Fresh { token, made: now });
    }

    /// Takes the token out, to be shown this once.
    pub(crate) fn take(&self, (session, class): (i64, i64), now: Timestamp) -> Option<Token> {
        let mut links = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let fresh = links.remove(&(session, class))?;
        (fresh.made.duration_until(now) < KEPT).then_some(fresh.token)
    }
}

/// Tokens stay out of every log.
impl std::fmt::Debug for FreshLinks {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("FreshLinks")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_is_taken_once_by_the_session_that_made_it_and_soon() {
        let links = FreshLinks::default();
        let now: Timestamp = "2026-11-28T10:00:00Z".parse().unwrap();
        let put = || links.put((1, 7), Token::for_link().unwrap(), now);
        put();
        assert!(links.take((2, 7), now).is_none(), "another session");
        assert!(links.take((1, 8), now).is_none(), "another class");
        assert!(links.take((1, 7), now).is_some());
        assert!(links.take((1, 7), now).is_none(), "a second time");
        put();
        assert!(links.take((1, 7), now + KEPT).is_none(), "too late");
    }
}
