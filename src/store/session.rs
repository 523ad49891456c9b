//! Who is signed in.

use jiff::Timestamp;
use sqlx::{FromRow, SqliteExecutor};

use super::{StoreResult, from_text, to_text};
use crate::token::TokenHash;

/// A session that has not reached its last day, with whom it belongs to.
#[derive(Clone, Debug)]
pub struct Session {
    /// Row id.
    pub id: i64,
    /// Whose it is.
    pub instructor_id: i64,
    /// Their name.
    pub name: String,
    /// When a request last came with it, to within a few minutes.
    pub last_seen_at: Timestamp,
    /// When it ends, however busy it is.
    pub expires_at: Timestamp,
}

#[derive(FromRow)]
struct Row {
    id: i64,
    instructor_id: i64,
    name: String,
    last_seen_at: String,
    expires_at: String,
}

/// The session behind a cookie.
///
/// # Errors
/// When the database fails.
pub async fn find_session(
    db: impl SqliteExecutor<'_>,
    token_hash: &TokenHash,
) -> StoreResult<Option<Session>> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT session.id, instructor_id, name, last_seen_at, expires_at
         FROM session JOIN instructor ON instructor.id = instructor_id
         WHERE token_hash = ?1",
    )
    .bind(token_hash.as_slice())
    .fetch_optional(db)
    .await?;
    row.map(|row| {
        Ok(Session {
            id: row.id,
            instructor_id: row.instructor_id,
            name: row.name,
            last_seen_at: from_text(&row.last_seen_at)?,
            expires_at: from_text(&row.expires_at)?,
        })
    })
    .transpose()
}

/// Stores a new session.
///
/// # Errors
/// When the database fails.
pub async fn insert_session(
    db: impl SqliteExecutor<'_>,
    instructor_id: i64,
    token_hash: &TokenHash,
    now: Timestamp,
    expires_at: Timestamp,
) -> StoreResult<()> {
    sqlx::query(
        "INSERT INTO session (instructor_id, token_hash, created_at, last_seen_at, expires_at)
         VALUES (?1, ?2, ?3, ?3, ?4)",
    )
    .bind(instructor_id)
    .bind(token_hash.as_slice())
    .bind(to_text(now))
    .bind(to_text(expires_at))
    .execute(db)
    .await?;
    Ok(())
}

/// Notes that a request came with this session.
///
/// # Errors
/// When the database fails.
pub async fn update_last_seen(
    db: impl SqliteExecutor<'_>,
    id: i64,
    now: Timestamp,
) -> StoreResult<()> {
    sqlx::query("UPDATE session SET last_seen_at = ?2 WHERE id = ?1")
        .bind(id)
        .bind(to_text(now))
        .execute(db)
        .await?;
    Ok(())
}

/// Ends one session: signing out.
///
/// # Errors
/// When the database fails.
pub async fn delete_session(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM session WHERE id = ?1")
        .bind(id)
        .execute(db)
        .await?;
    Ok(())
}

/// Ends every session of an instructor: the password changed.
///
/// # Errors
/// When the database fails.
pub async fn delete_sessions_of(
    db: impl SqliteExecutor<'_>,
    instructor_id: i64,
) -> StoreResult<()> {
    sqlx::query("DELETE FROM session WHERE instructor_id = ?1")
        .bind(instructor_id)
        .execute(db)
        .await?;
    Ok(())
}

/// Clears sessions that ended.
///
/// # Errors
/// When the database fails.
pub async fn delete_ended_sessions(
    db: impl SqliteExecutor<'_>,
    expired_before: Timestamp,
    idle_since_before: Timestamp,
) -> StoreResult<()> {
    sqlx::query("DELETE FROM session WHERE expires_at <= ?1 OR last_seen_at <= ?2")
        .bind(to_text(expired_before))
        .bind(to_text(idle_since_before))
        .execute(db)
        .await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::{Store, instructor};
    use super::*;

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    async fn with_two_sessions() -> (Store, i64) {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let now = at("2026-11-28T10:00:00Z");
        let id = instructor::insert_instructor(&mut *change, "Ines", "hash", now)
            .await
            .unwrap();
        for (byte, ends) in [(1, "2026-11-29T10:00:00Z"), (2, "2026-12-12T10:00:00Z")] {
            insert_session(&mut *change, id, &[byte; 32], now, at(ends))
                .await
                .unwrap();
        }
        change.commit().await.unwrap();
        (store, id)
    }

    #[tokio::test]
    async fn a_session_is_found_by_the_hash_of_its_token_alone() {
        let (store, id) = with_two_sessions().await;
        let found = find_session(store.read(), &[1; 32]).await.unwrap().unwrap();
        assert_eq!((found.instructor_id, found.name.as_str()), (id, "Ines"));
        assert!(
            find_session(store.read(), &[3; 32])
                .await
                .unwrap()
                .is_none()
        );
    }

    #[tokio::test]
    async fn being_seen_moves_only_that_session() {
        let (store, _) = with_two_sessions().await;
        let first = find_session(store.read(), &[1; 32]).await.unwrap().unwrap();
        let later = at("2026-11-28T11:00:00Z");
        let mut change = store.change().await.unwrap();
        update_last_seen(&mut *change, first.id, later)
            .await
            .unwrap();
        change.commit().await.unwrap();
        let first = find_session(store.read(), &[1; 32]).await.unwrap().unwrap();
        let second = find_session(store.read(), &[2; 32]).await.unwrap().unwrap();
        assert_eq!(first.last_seen_at, later);
        assert!(second.last_seen_at < later);
    }

    #[tokio::test]
    async fn ended_sessions_are_cleared_and_others_stay() {
        let (store, _) = with_two_sessions().await;
        let mut change = store.change().await.unwrap();
        let (now, idle) = (at("2026-11-29T10:00:00Z"), at("2026-11-28T09:00:00Z"));
        delete_ended_sessions(&mut *change, now, idle)
            .await
            .unwrap();
        change.commit().await.unwrap();
        assert!(
            find_session(store.read(), &[1; 32])
                .await
                .unwrap()
                .is_none()
        );
        assert!(
            find_session(store.read(), &[2; 32])
                .await
                .unwrap()
                .is_some()
        );
    }

    #[tokio::test]
    async fn signing_out_ends_one_session_and_a_new_password_ends_all() {
        let (store, id) = with_two_sessions().await;
        let first = find_session(store.read(), &[1; 32]).await.unwrap().unwrap();
        let mut change = store.change().await.unwrap();
        delete_session(&mut *change, first.id).await.unwrap();
        change.commit().await.unwrap();
        assert!(
            find_session(store.read(), &[1; 32])
                .await
                .unwrap()
                .is_none()
        );
        assert!(
            find_session(store.read(), &[2; 32])
                .await
                .unwrap()
                .is_some()
        );

        let mut change = store.change().await.unwrap();
        delete_sessions_of(&mut *change, id).await.unwrap();
        change.commit().await.unwrap();
        assert!(
            find_session(store.read(), &[2; 32])
                .await
                .unwrap()
                .is_none()
        );
    }
}
