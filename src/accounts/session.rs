//! Sessions: a random cookie, its hash in the database, two ends.
//!
//! Idle 12 h, so that a class day never ends in a sign-in page; 14 days at most, then the
//! password is asked for again.

use axum::http::{HeaderMap, HeaderValue, header};
use jiff::{SignedDuration, Timestamp};

use crate::config::BaseUrl;
use crate::error::PageError;
use crate::store::{self, Change, Store, StoreResult};
use crate::token::{Token, hash_of};

const IDLE: SignedDuration = SignedDuration::from_hours(12);
const LONGEST: SignedDuration = SignedDuration::from_hours(14 * 24);
/// Being seen is written at most this often: reading pages stays reading.
const SEEN_STEP: SignedDuration = SignedDuration::from_mins(5);

/// A session that is not over.
#[derive(Clone, Debug)]
pub struct Live {
    /// Row id of the session.
    pub session_id: i64,
    /// Whose it is.
    pub instructor_id: i64,
    /// Their name.
    pub name: String,
}

/// Name and rules of the session cookie.
///
/// Over https it has the `__Host-` prefix, which ties it to this host and to encryption. In a
/// hall's own network without https browsers refuse such cookies, so there it has a plain name
/// and no `Secure`: whoever listens on that network can take the session over.
#[derive(Clone, Copy, Debug)]
pub struct SessionCookie {
    https: bool,
}

impl SessionCookie {
    /// The cookie for a server that is reached at `base`.
    #[must_use]
    pub const fn of(base: &BaseUrl) -> Self {
        Self {
            https: base.is_https(),
        }
    }

    const fn name(self) -> &'static str {
        if self.https {
            "__Host-tablefold"
        } else {
            "tablefold"
        }
    }

    /// The value that hands the cookie out.
    #[must_use]
    pub fn set(self, token: &Token) -> Option<HeaderValue> {
        self.header(token.text(), LONGEST.as_secs())
    }

    /// The value that takes the cookie back.
    #[must_use]
    pub fn clear(self) -> Option<HeaderValue> {
        self.header("", 0)
    }

    fn header(self, value: &str, max_age_s: i64) -> Option<HeaderValue> {
        let secure = if self.https { "; Secure" } else { "" };
        let text = format!(
            "{}={value}; Path=/; Max-Age={max_age_s}; HttpOnly; SameSite=Lax{secure}",
            self.name()
        );
        // Base64url text cannot fail here; a missing header only means signing in again.
        HeaderValue::from_str(&text).ok()
    }

    /// The token that a request shows.
    pub(crate) fn read(self, headers: &HeaderMap) -> Option<&str> {
        headers
            .get_all(header::COOKIE)
            .iter()
            .filter_map(|line| line.to_str().ok())
            .flat_map(|line| line.split(';'))
            .filter_map(|pair| pair.trim().split_once('='))
            .find(|(name, _)| *name == self.name())
            .map(|(_, value)| value)
    }
}

/// Starts a session in a change and gives its token. Old sessions that are over are cleared.
///
/// # Errors
/// When the database fails or there are no random bytes.
pub async fn start(
    change: &mut Change,
    instructor_id: i64,
    now: Timestamp,
) -> Result<Token, PageError> {
    let token = Token::for_session()?;
    store::session::delete_ended_sessions(&mut **change, now, now - IDLE).await?;
    store::session::insert_session(
        &mut **change,
        instructor_id,
        &token.hash(),
        now,
        now + LONGEST,
    )
    .await?;
    Ok(token)
}

/// The session behind a token, unless it is over; notes that it was seen.
///
/// # Errors
/// When the database fails.
pub async fn find_live(store: &Store, token: &str, now: Timestamp) -> StoreResult<Option<Live>> {
    let Some(session) = store::session::find_session(store.read(), &hash_of(token)).await? else {
        return Ok(None);
    };
    let idle = session.last_seen_at.duration_until(now);
    if now >= session.expires_at || idle >= IDLE {
        return Ok(None);
    }
    if idle >= SEEN_STEP {
        let mut change = store.change().await?;
        store::session::update_last_seen(&mut *change, session.id, now).await?;
        change.commit().await?;
    }
    Ok(Some(Live {
        session_id: session.id,
        instructor_id: session.instructor_id,
        name: session.name,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cookie(base: &str) -> SessionCookie {
        SessionCookie::of(&BaseUrl::read(base).unwrap())
    }

    /// OWASP ASVS 5.0.0, 3.3.1 to 3.3.4: prefix, Secure, HttpOnly, SameSite, no Domain.
    #[test]
    fn the_cookie_is_bound_to_the_host_over_https() {
        let set = cookie("https://class.example").header("abc", 60).unwrap();
        insta::assert_snapshot!(set.to_str().unwrap(), @"__Host-tablefold=abc; Path=/; Max-Age=60; HttpOnly; SameSite=Lax; Secure");
    }

    #[test]
    fn the_cookie_of_a_plain_hall_network_has_a_name_of_its_own() {
        let set = cookie("http://192.168.1.20:8080")
            .header("abc", 60)
            .unwrap();
        insta::assert_snapshot!(set.to_str().unwrap(), @"tablefold=abc; Path=/; Max-Age=60; HttpOnly; SameSite=Lax");
    }

    #[test]
    fn the_cookie_is_read_among_others() {
        let mut headers = HeaderMap::new();
        headers.append(
            header::COOKIE,
            HeaderValue::from_static("a=1; xtablefold=2"),
        );
        headers.append(
            header::COOKIE,
            HeaderValue::from_static("tablefold=abc; b=3"),
        );
        assert_eq!(cookie("http://localhost").read(&headers), Some("abc"));
        assert_eq!(cookie("https://class.example").read(&headers), None);
    }
}
