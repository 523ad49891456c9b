//! The one place that knows what time it is, so that tests can set it.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use jiff::{SignedDuration, Timestamp};

/// Tells the time: the machine's, or one that a test holds still.
#[derive(Clone, Debug)]
pub struct Clock(Source);

#[derive(Clone, Debug)]
enum Source {
    Machine,
    Held(Arc<AtomicI64>),
}

impl Clock {
    /// The machine's own clock.
    #[must_use]
    pub const fn machine() -> Self {
        Self(Source::Machine)
    }

    /// A clock that stands at `at` until [`Clock::advance`] moves it.
    #[must_use]
    pub fn held(at: Timestamp) -> Self {
        Self(Source::Held(Arc::new(AtomicI64::new(at.as_second()))))
    }

    /// The time now.
    #[must_use]
    pub fn now(&self) -> Timestamp {
        match &self.0 {
            #[expect(
                clippy::disallowed_methods,
                reason = "this is the clock that the rest asks"
            )]
            Source::Machine => Timestamp::now(),
            Source::Held(second) => {
                Timestamp::from_second(second.load(Ordering::SeqCst)).unwrap_or(Timestamp::MAX)
            }
        }
    }

    /// Moves a held clock forward by whole seconds; the machine's clock stays as it is.
    pub fn advance(&self, by: SignedDuration) {
        if let Source::Held(second) = &self.0 {
            second.fetch_add(by.as_secs(), Ordering::SeqCst);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_held_clock_moves_only_when_told() {
        let clock = Clock::held(Timestamp::UNIX_EPOCH);
        assert_eq!(clock.now(), Timestamp::UNIX_EPOCH);
        clock.advance(SignedDuration::from_hours(2));
        assert_eq!(clock.now().to_string(), "1970-01-01T02:00:00Z");
    }
}
