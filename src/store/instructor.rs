//! The one instructor.

use jiff::Timestamp;
use sqlx::{FromRow, SqliteExecutor};

use super::{StoreResult, to_text};

/// The person who runs the workshop.
#[derive(Clone, Debug, FromRow)]
pub struct Instructor {
    /// Always 1: one instructor a server.
    pub id: i64,
    /// As they typed it.
    pub name: String,
    /// PHC string of the password.
    pub password_hash: String,
}

/// The instructor, once there is one.
///
/// # Errors
/// When the database fails.
pub async fn find_instructor(db: impl SqliteExecutor<'_>) -> StoreResult<Option<Instructor>> {
    sqlx::query_as("SELECT id, name, password_hash FROM instructor")
        .fetch_optional(db)
        .await
}

/// Stores the instructor and gives the id; a second one is refused by the table.
///
/// # Errors
/// When the database fails or an instructor exists.
pub async fn insert_instructor(
    db: impl SqliteExecutor<'_>,
    name: &str,
    password_hash: &str,
    now: Timestamp,
) -> StoreResult<i64> {
    sqlx::query_scalar(
        "INSERT INTO instructor (id, name, password_hash, created_at)
         VALUES (1, ?1, ?2, ?3) RETURNING id",
    )
    .bind(name)
    .bind(password_hash)
    .bind(to_text(now))
    .fetch_one(db)
    .await
}

/// Replaces the password if it is still `old_hash`; false when someone else was quicker.
///
/// # Errors
/// When the database fails.
pub async fn update_password(
    db: impl SqliteExecutor<'_>,
    id: i64,
    old_hash: &str,
    new_hash: &str,
) -> StoreResult<bool> {
    let done = sqlx::query(
        "UPDATE instructor SET password_hash = ?3, version = version + 1
         WHERE id = ?1 AND password_hash = ?2",
    )
    .bind(id)
    .bind(old_hash)
    .bind(new_hash)
    .execute(db)
    .await?;
    Ok(done.rows_affected() == 1)
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::*;

    #[tokio::test]
    async fn a_second_instructor_is_refused() {
        let store = Store::temporary().await.unwrap();
        assert!(find_instructor(store.read()).await.unwrap().is_none());
        let mut change = store.change().await.unwrap();
        insert_instructor(&mut *change, "Ines", "hash", Timestamp::UNIX_EPOCH)
            .await
            .unwrap();
        let second = insert_instructor(&mut *change, "Otto", "hash", Timestamp::UNIX_EPOCH).await;
        assert!(second.is_err());
        change.commit().await.unwrap();
        let found = find_instructor(store.read()).await.unwrap().unwrap();
        assert_eq!((found.id, found.name.as_str()), (1, "Ines"));
    }

    #[tokio::test]
    async fn a_password_is_replaced_only_where_the_old_one_still_stands() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let id = insert_instructor(&mut *change, "Ines", "old", Timestamp::UNIX_EPOCH)
            .await
            .unwrap();
        assert!(
            update_password(&mut *change, id, "old", "new")
                .await
                .unwrap()
        );
        assert!(
            !update_password(&mut *change, id, "old", "late")
                .await
                .unwrap()
        );
        change.commit().await.unwrap();
        let found = find_instructor(store.read()).await.unwrap().unwrap();
        assert_eq!(found.password_hash, "new");
    }
}
