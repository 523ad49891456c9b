//! Links that work once: to set the server up, or to come in without a password.

use jiff::Timestamp;
use sqlx::{FromRow, SqliteExecutor};

use super::{StoreResult, to_text};
use crate::token::TokenHash;

/// What a one-time link is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, sqlx::Type)]
#[sqlx(rename_all = "snake_case")]
pub enum Purpose {
    /// Choose a name and a password.
    Setup,
    /// Come in as the instructor who exists.
    SignIn,
}

/// A link that still works.
#[derive(Clone, Copy, Debug, FromRow)]
pub struct OneTimeLink {
    /// Row id.
    pub id: i64,
    /// What it is for.
    pub purpose: Purpose,
}

/// The link behind a token, if it is unused and not expired.
///
/// # Errors
/// When the database fails.
pub async fn find_open_link(
    db: impl SqliteExecutor<'_>,
    token_hash: &TokenHash,
    now: Timestamp,
) -> StoreResult<Option<OneTimeLink>> {
    sqlx::query_as(
        "SELECT id, purpose FROM one_time_link
         WHERE token_hash = ?1 AND used_at IS NULL AND expires_at > ?2",
    )
    .bind(token_hash.as_slice())
    .bind(to_text(now))
    .fetch_optional(db)
    .await
}

/// Stores a new link.
///
/// # Errors
/// When the database fails.
pub async fn insert_link(
    db: impl SqliteExecutor<'_>,
    purpose: Purpose,
    token_hash: &TokenHash,
    expires_at: Timestamp,
) -> StoreResult<()> {
    sqlx::query("INSERT INTO one_time_link (purpose, token_hash, expires_at) VALUES (?1, ?2, ?3)")
        .bind(purpose)
        .bind(token_hash.as_slice())
        .bind(to_text(expires_at))
        .execute(db)
        .await?;
    Ok(())
}

/// Uses a link up; false when it was used in the meantime.
///
/// # Errors
/// When the database fails.
pub async fn update_link_used(
    db: impl SqliteExecutor<'_>,
    id: i64,
    now: Timestamp,
) -> StoreResult<bool> {
    let done =
        sqlx::query("UPDATE one_time_link SET used_at = ?2 WHERE id = ?1 AND used_at IS NULL")
            .bind(id)
            .bind(to_text(now))
            .execute(db)
            .await?;
    Ok(done.rows_affected() == 1)
}

/// Forgets all links for a purpose: a newer one replaces them.
///
/// # Errors
/// When the database fails.
pub async fn delete_links_for(db: impl SqliteExecutor<'_>, purpose: Purpose) -> StoreResult<()> {
    sqlx::query("DELETE FROM one_time_link WHERE purpose = ?1")
        .bind(purpose)
        .execute(db)
        .await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::*;

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    const HASH: TokenHash = [7; 32];

    async fn with_link() -> Store {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        insert_link(
            &mut *change,
            Purpose::SignIn,
            &HASH,
            at("2026-11-28T10:00:00Z"),
        )
        .await
        .unwrap();
        change.commit().await.unwrap();
        store
    }

    #[tokio::test]
    async fn a_link_opens_until_its_last_second_and_no_longer() {
        let store = with_link().await;
        let before = find_open_link(store.read(), &HASH, at("2026-11-28T09:59:59Z")).await;
        assert_eq!(before.unwrap().unwrap().purpose, Purpose::SignIn);
        let after = find_open_link(store.read(), &HASH, at("2026-11-28T10:00:00Z")).await;
        assert!(after.unwrap().is_none());
    }

    #[tokio::test]
    async fn a_link_is_used_once() {
        let store = with_link().await;
        let now = at("2026-11-28T09:00:00Z");
        let mut change = store.change().await.unwrap();
        let link = find_open_link(&mut *change, &HASH, now)
            .await
            .unwrap()
            .unwrap();
        assert!(update_link_used(&mut *change, link.id, now).await.unwrap());
        assert!(!update_link_used(&mut *change, link.id, now).await.unwrap());
        assert!(
            find_open_link(&mut *change, &HASH, now)
                .await
                .unwrap()
                .is_none()
        );
    }

    #[tokio::test]
    async fn a_newer_link_replaces_those_of_its_purpose_alone() {
        let store = with_link().await;
        let now = at("2026-11-28T09:00:00Z");
        let mut change = store.change().await.unwrap();
        delete_links_for(&mut *change, Purpose::Setup)
            .await
            .unwrap();
        assert!(
            find_open_link(&mut *change, &HASH, now)
                .await
                .unwrap()
                .is_some()
        );
        delete_links_for(&mut *change, Purpose::SignIn)
            .await
            .unwrap();
        assert!(
            find_open_link(&mut *change, &HASH, now)
                .await
                .unwrap()
                .is_none()
        );
    }
}
