//! Passwords: which are taken, and how they are kept.
//!
//! Argon2id with 19 456 KiB, 2 passes, 1 lane (OWASP Password Storage Cheat Sheet). A hash made
//! with less is renewed when its owner next signs in.

use std::sync::Arc;

use argon2::password_hash::phc::PasswordHash;
use argon2::{Algorithm, Argon2, Params, PasswordHasher as _, PasswordVerifier as _, Version};
use tokio::sync::Semaphore;

use super::common_passwords::COMMON;

/// Fewest characters of a password.
const MIN_CHARS: usize = 8;
/// Most characters of a password.
const MAX_CHARS: usize = 256;
const MEMORY_KIB: u32 = 19_456;
const PASSES: u32 = 2;
const LANES: u32 = 1;

/// Hashing could not be done; not the same as a wrong password.
#[derive(Debug, thiserror::Error)]
pub enum PasswordError {
    /// The hash in the database is none, or the machine gave no random bytes.
    #[error("a password hash cannot be made or read: {0}")]
    Hash(#[from] argon2::password_hash::Error),
    /// The thread that hashes stopped.
    #[error("the hashing thread stopped: {0}")]
    Thread(#[from] tokio::task::JoinError),
    /// The server is going down.
    #[error("hashing has ended: {0}")]
    Closed(#[from] tokio::sync::AcquireError),
}

/// Checks a password that someone chose: its length, and that it is not one that everyone tries.
///
/// # Errors
/// A sentence without the label; it never repeats the password.
pub fn check_new_password(chosen: &str) -> Result<(), String> {
    let chars = chosen.chars().count();
    if chars < MIN_CHARS {
        return Err(format!(
            "{chars} characters are too few. Type at least {MIN_CHARS}; 15 or more are better, \
             such as four words in a row."
        ));
    }
    if chars > MAX_CHARS {
        return Err(format!(
            "{chars} characters are too many. Type at most {MAX_CHARS}."
        ));
    }
    if COMMON.contains(&chosen.to_lowercase().as_str()) {
        return Err(
            "this one is among the first that anyone tries. Choose another, such as four \
                    words in a row."
                .to_owned(),
        );
    }
    Ok(())
}

/// Hashes and compares on threads of their own, two at a time, so that a burst of sign-ins
/// takes neither the memory nor the whole processor.
#[derive(Clone, Debug)]
pub struct PasswordHasher {
    places: Arc<Semaphore>,
}

impl Default for PasswordHasher {
    fn default() -> Self {
        Self {
            places: Arc::new(Semaphore::new(2)),
        }
    }
}

impl PasswordHasher {
    /// The PHC string of a new password.
    ///
    /// # Errors
    /// When hashing cannot be done.
    pub async fn hash(&self, password: &str) -> Result<String, PasswordError> {
        let password = password.to_owned();
        self.on_thread(move || {
            let hash: PasswordHash = argon2()?.hash_password(password.as_bytes())?;
            Ok(hash.to_string())
        })
        .await
    }

    /// Whether `password` is the one behind `stored`. Without a stored hash the same work is
    /// done for nothing, so that the time of an answer does not tell whether a name exists.
    ///
    /// # Errors
    /// When the stored hash cannot be read or hashing cannot be done.
    pub async fn matches(
        &self,
        password: &str,
        stored: Option<&str>,
    ) -> Result<bool, PasswordError> {
        let (password, stored) = (password.to_owned(), stored.map(str::to_owned));
        self.on_thread(move || {
            let argon2 = argon2()?;
            let Some(stored) = stored else {
                argon2.hash_password(password.as_bytes())?;
                return Ok(false);
            };
            match argon2.verify_password(password.as_bytes(), &PasswordHash::new(&stored)?) {
                Ok(()) => Ok(true),
                Err(argon2::password_hash::Error::PasswordInvalid) => Ok(false),
                Err(error) => Err(error),
            }
        })
        .await
    }

    async fn on_thread<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> argon2::password_hash::Result<T> + Send + 'static,
    ) -> Result<T, PasswordError> {
        let place = self.places.clone().acquire_owned().await?;
        let done = tokio::task::spawn_blocking(move || {
            let done = work();
            drop(place);
            done
        });
        Ok(done.await??)
    }
}

/// Whether a stored hash was made with less work than new ones get.
#[must_use]
pub(crate) fn is_weaker_than_new(stored: &str) -> bool {
    let Ok(hash) = PasswordHash::new(stored) else {
        return true;
    };
    let Ok(params) = Params::try_from(&hash) else {
        return true;
    };
    hash.algorithm.as_str() != "argon2id"
        || params.m_cost() < MEMORY_KIB
        || params.t_cost() < PASSES
        || params.p_cost() < LANES
}

fn argon2() -> argon2::password_hash::Result<Argon2<'static>> {
    let params = Params::new(MEMORY_KIB, PASSES, LANES, None)?;
    Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Expected values: OWASP Password Storage Cheat Sheet, "m=19456 (19 MiB), t=2, p=1".
    #[tokio::test]
    async fn a_new_hash_names_the_published_work() {
        let hash = PasswordHasher::default()
            .hash("four paper seed tins")
            .await
            .unwrap();
        assert!(
            hash.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"),
            "{hash}"
        );
        assert!(!is_weaker_than_new(&hash));
    }

    #[tokio::test]
    async fn only_the_right_password_matches() {
        let hasher = PasswordHasher::default();
        let hash = hasher.hash("four paper seed tins").await.unwrap();
        assert!(
            hasher
                .matches("four paper seed tins", Some(&hash))
                .await
                .unwrap()
        );
        assert!(
            !hasher
                .matches("Four paper seed tins", Some(&hash))
                .await
                .unwrap()
        );
        assert!(!hasher.matches("four paper seed tins", None).await.unwrap());
        assert!(hasher.matches("x", Some("no hash")).await.is_err());
    }

    #[test]
    fn a_hash_with_less_work_is_weaker() {
        let weak = Argon2::new(
            Algorithm::Argon2id,
            Version::V0x13,
            Params::new(8_192, 1, 1, None).unwrap(),
        );
        let hash: PasswordHash = weak.hash_password(b"four paper seed tins").unwrap();
        assert!(is_weaker_than_new(&hash.to_string()));
        assert!(is_weaker_than_new("no hash"));
    }

    #[test]
    fn each_refused_password_says_what_would_do() {
        let refusal = |chosen: &str| check_new_password(chosen).unwrap_err();
        insta::assert_snapshot!(refusal("seeds"), @"5 characters are too few. Type at least 8; 15 or more are better, such as four words in a row.");
        insta::assert_snapshot!(refusal(&"x".repeat(257)), @"257 characters are too many. Type at most 256.");
        insta::assert_snapshot!(refusal("Password123"), @"this one is among the first that anyone tries. Choose another, such as four words in a row.");
    }

    /// OWASP ASVS 5.0.0, 6.2.5 and 6.2.9: no rules of composition, 64 characters and more.
    #[test]
    fn any_characters_will_do() {
        for chosen in [
            "aaaaaaab",
            "        x",
            "🌱🌱🌱🌱🌱🌱🌱🌱",
            &"x".repeat(256),
        ] {
            assert_eq!(check_new_password(chosen), Ok(()), "{chosen}");
        }
    }

    #[test]
    fn the_common_ones_are_about_a_hundred_and_each_could_be_chosen() {
        assert!(COMMON.len() >= 100);
        for common in COMMON {
            assert!(
                common.chars().count() >= MIN_CHARS,
                "{common} is refused by length"
            );
            assert_eq!(*common, common.to_lowercase());
        }
    }
}
