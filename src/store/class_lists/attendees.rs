//! Attendees of a class, in their order.

use sqlx::{FromRow, SqliteExecutor};

use crate::store::StoreResult;

/// An attendee as stored.
#[derive(Clone, Debug, PartialEq, Eq, FromRow)]
pub struct StoredAttendee {
    /// Row id.
    pub id: i64,
    /// A name, or "Seat 3".
    pub name: String,
    /// Row of their colourway.
    pub colourway_id: i64,
}

/// The attendees of a class in their order.
///
/// # Errors
/// When the database fails.
pub async fn list_attendees(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
) -> StoreResult<Vec<StoredAttendee>> {
    sqlx::query_as(
        "SELECT id, name, colourway_id FROM attendee WHERE class_id = ?1 ORDER BY position, id",
    )
    .bind(class_id)
    .fetch_all(db)
    .await
}

/// Adds an attendee at the end.
///
/// # Errors
/// When the database fails or the colourway does not exist.
pub async fn insert_attendee(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    name: &str,
    colourway_id: i64,
) -> StoreResult<()> {
    sqlx::query(
        "INSERT INTO attendee (class_id, position, name, colourway_id)
         VALUES (?1, (SELECT COALESCE(MAX(position) + 1, 0) FROM attendee WHERE class_id = ?1),
                 ?2, ?3)",
    )
    .bind(class_id)
    .bind(name)
    .bind(colourway_id)
    .execute(db)
    .await?;
    Ok(())
}

/// Saves one attendee; false when the class has none of that id.
///
/// # Errors
/// When the database fails or the colourway does not exist.
pub async fn update_attendee(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    attendee: &StoredAttendee,
) -> StoreResult<bool> {
    let done = sqlx::query(
        "UPDATE attendee SET name = ?3, colourway_id = ?4 WHERE id = ?2 AND class_id = ?1",
    )
    .bind(class_id)
    .bind(attendee.id)
    .bind(&attendee.name)
    .bind(attendee.colourway_id)
    .execute(db)
    .await?;
    Ok(done.rows_affected() == 1)
}

/// Removes one attendee of a class.
///
/// # Errors
/// When the database fails.
pub async fn delete_attendee(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    id: i64,
) -> StoreResult<()> {
    sqlx::query("DELETE FROM attendee WHERE id = ?2 AND class_id = ?1")
        .bind(class_id)
        .bind(id)
        .execute(db)
        .await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::store::Store;

    #[tokio::test]
    async fn attendees_keep_their_order_and_belong_to_their_class() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let renamed = StoredAttendee {
            id: 2,
            name: "Ada 🌱".to_owned(),
            colourway_id: 1,
        };
        assert!(update_attendee(&mut *change, id, &renamed).await.unwrap());
        assert!(
            !update_attendee(&mut *change, id + 1, &renamed)
                .await
                .unwrap()
        );
        delete_attendee(&mut *change, id + 1, 1).await.unwrap();
        delete_attendee(&mut *change, id, 3).await.unwrap();
        insert_attendee(&mut *change, id, "Seat 4", 1)
            .await
            .unwrap();
        let stored = list_attendees(&mut *change, id).await.unwrap();
        let names: Vec<_> = stored.iter().map(|a| a.name.as_str()).collect();
        assert_eq!(names, ["Seat 1", "Ada 🌱", "Seat 4"]);
    }
}
