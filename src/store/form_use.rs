//! Forms that made something, so that the same form sent again makes nothing more.

use jiff::{SignedDuration, Timestamp};
use sqlx::{SqliteConnection, SqliteExecutor};

use super::{StoreResult, to_text};
use crate::token::TokenHash;

/// How long a form is remembered: longer than anyone leaves one open after saving it.
const KEPT: SignedDuration = SignedDuration::from_hours(24);

/// Path of what the form with this token made, if it made something.
///
/// # Errors
/// When the database fails.
pub async fn find_form_use(
    db: impl SqliteExecutor<'_>,
    token_hash: &TokenHash,
) -> StoreResult<Option<String>> {
    sqlx::query_scalar("SELECT location FROM form_use WHERE token_hash = ?1")
        .bind(token_hash.as_slice())
        .fetch_optional(db)
        .await
}

/// Remembers what a form made, and forgets the forms of yesterday.
///
/// # Errors
/// When the database fails, or the form was used before.
pub async fn insert_form_use(
    db: &mut SqliteConnection,
    token_hash: &TokenHash,
    location: &str,
    now: Timestamp,
) -> StoreResult<()> {
    sqlx::query("DELETE FROM form_use WHERE used_at < ?1")
        .bind(to_text(now - KEPT))
        .execute(&mut *db)
        .await?;
    sqlx::query("INSERT INTO form_use (token_hash, location, used_at) VALUES (?1, ?2, ?3)")
        .bind(token_hash.as_slice())
        .bind(location)
        .bind(to_text(now))
        .execute(db)
        .await
        .map(drop)
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::*;

    #[tokio::test]
    async fn a_form_is_remembered_for_a_day() {
        let store = Store::temporary().await.unwrap();
        let at = |text: &str| text.parse::<Timestamp>().unwrap();
        let uses = [
            ([1; 32], "2026-11-28T10:00:00Z"),
            ([2; 32], "2026-11-29T10:00:00Z"),
            ([3; 32], "2026-11-29T10:00:01Z"),
        ];
        let mut left = Vec::new();
        for (hash, now) in uses {
            let mut change = store.change().await.unwrap();
            insert_form_use(&mut change, &hash, "/projects/1", at(now))
                .await
                .unwrap();
            change.commit().await.unwrap();
            let first = find_form_use(store.read(), &[1; 32]).await.unwrap();
            left.push(first.is_some());
        }
        assert_eq!(left, [true, true, false]);
        let last = find_form_use(store.read(), &[3; 32]).await.unwrap();
        assert_eq!(last.as_deref(), Some("/projects/1"));
    }
}
