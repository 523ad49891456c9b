//! The pause after wrong passwords: 1 s after the first, doubling, at most 15 minutes.
//!
//! Counted per name as typed, known or not, so that the pause tells nothing about who exists.
//! It is a pause, never a lock: a try during the pause is not counted, and after the pause the
//! right password opens at once. Kept in memory; a restart forgets it.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use jiff::{SignedDuration, Timestamp};

use crate::token::{TokenHash, hash_of};

const FIRST_PAUSE_S: i64 = 1;
const LONGEST_PAUSE_S: i64 = 15 * 60;
/// After so long without a wrong password the count starts anew.
const FORGET_AFTER_S: i64 = 24 * 60 * 60;
/// Names that are counted at once; typing made-up ones must not fill the memory.
const MOST_NAMES: usize = 1024;

/// Counts wrong passwords.
#[derive(Debug, Default)]
pub struct Throttle {
    counts: Mutex<HashMap<TokenHash, Count>>,
}

#[derive(Clone, Copy, Debug)]
struct Count {
    wrong: u32,
    last: Timestamp,
}

impl Count {
    fn open_again(self) -> Timestamp {
        let doublings = self.wrong.saturating_sub(1).min(20);
        let pause = (FIRST_PAUSE_S << doublings).min(LONGEST_PAUSE_S);
        self.last + SignedDuration::from_secs(pause)
    }
}

impl Throttle {
    /// How long this name still has to wait, if it has to.
    pub fn wait(&self, name: &str, now: Timestamp) -> Option<SignedDuration> {
        let counts = self.counts.lock().unwrap_or_else(PoisonError::into_inner);
        let left = now.duration_until(counts.get(&key(name))?.open_again());
        left.is_positive().then_some(left)
    }

    /// Notes a wrong password and gives the pause that follows.
    pub fn note_wrong(&self, name: &str, now: Timestamp) -> SignedDuration {
        let mut counts = self.counts.lock().unwrap_or_else(PoisonError::into_inner);
        let forget = SignedDuration::from_secs(FORGET_AFTER_S);
        counts.retain(|_, count| count.last.duration_until(now) < forget);
        let key = key(name);
        if counts.len() >= MOST_NAMES && !counts.contains_key(&key) {
            let oldest = counts
                .iter()
                .min_by_key(|(_, count)| (count.wrong, count.last));
            if let Some(oldest) = oldest.map(|(key, _)| *key) {
                counts.remove(&oldest);
            }
        }
        let count = counts.entry(key).or_insert(Count {
            wrong: 0,
            last: now,
        });
        count.wrong = count.wrong.saturating_add(1);
        count.last = now;
        now.duration_until(count.open_again())
    }

    /// Forgets the count: the right password came.
    pub fn note_right(&self, name: &str) {
        let mut counts = self.counts.lock().unwrap_or_else(PoisonError::into_inner);
        counts.remove(&key(name));
    }
}

/// Names are compared as the sign-in compares them, and kept only as a hash.
fn key(name: &str) -> TokenHash {
    hash_of(&name.trim().to_lowercase())
}

#[cfg(test)]
mod tests {
    use super::*;

    const START: Timestamp = Timestamp::UNIX_EPOCH;

    /// OWASP Authentication Cheat Sheet, "Account Lockout": exponential delay from one second.
    #[test]
    fn the_pause_doubles_from_one_second_to_a_quarter_of_an_hour() {
        let throttle = Throttle::default();
        let pauses: Vec<_> = (0..13)
            .map(|_| throttle.note_wrong("Ines", START).as_secs())
            .collect();
        assert_eq!(
            pauses,
            [1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900, 900]
        );
    }

    #[test]
    fn after_the_pause_the_name_is_open_again() {
        let throttle = Throttle::default();
        throttle.note_wrong("Ines", START);
        throttle.note_wrong("Ines", START);
        assert_eq!(throttle.wait(" INES ", START).unwrap().as_secs(), 2);
        assert!(throttle.wait("Otto", START).is_none());
        let later = START + SignedDuration::from_secs(2);
        assert!(throttle.wait("Ines", later).is_none());
    }

    #[test]
    fn the_right_password_and_a_day_both_start_anew() {
        let throttle = Throttle::default();
        throttle.note_wrong("Ines", START);
        throttle.note_right("Ines");
        assert_eq!(throttle.note_wrong("Ines", START).as_secs(), 1);
        let next_day = START + SignedDuration::from_hours(24);
        assert_eq!(throttle.note_wrong("Ines", next_day).as_secs(), 1);
    }

    #[test]
    fn made_up_names_do_not_fill_the_memory_or_push_out_a_long_count() {
        let throttle = Throttle::default();
        throttle.note_wrong("Ines", START);
        throttle.note_wrong("Ines", START);
        for number in 0..3 * MOST_NAMES {
            throttle.note_wrong(&format!("name {number}"), START);
        }
        assert!(throttle.counts.lock().unwrap().len() <= MOST_NAMES);
        assert_eq!(throttle.note_wrong("Ines", START).as_secs(), 4);
    }
}
