//! Left-over pieces that were put back as stock on hand, so that nobody counts them twice.

use jiff::Timestamp;
use sqlx::{FromRow, SqliteExecutor};

use super::{StoreResult, from_text, to_text};

/// What was put back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftOvers {
    /// When.
    pub booked_at: Timestamp,
    /// How many pieces, all papers together.
    pub pieces: u32,
}

#[derive(FromRow)]
struct Row {
    booked_at: String,
    pieces: u32,
}

/// What was last put back of a class at a revision; 0 stands for a class never published.
///
/// # Errors
/// When the database fails.
pub async fn find_left_overs(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
    revision: u32,
) -> StoreResult<Option<LeftOvers>> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT booked_at, pieces FROM left_over WHERE class_id = ?1 AND revision = ?2
         ORDER BY id DESC LIMIT 1",
    )
    .bind(class_id)
    .bind(revision)
    .fetch_optional(db)
    .await?;
    let read = |row: Row| {
        Ok(LeftOvers {
            booked_at: from_text(&row.booked_at)?,
            pieces: row.pieces,
        })
    };
    row.map(read).transpose()
}

/// Notes what was put back.
///
/// # Errors
/// When the database fails.
pub async fn insert_left_overs(
    db: impl SqliteExecutor<'_>,
    (class_id, revision): (i64, u32),
    left: LeftOvers,
) -> StoreResult<()> {
    sqlx::query(
        "INSERT INTO left_over (class_id, revision, booked_at, pieces) VALUES (?1, ?2, ?3, ?4)",
    )
    .bind(class_id)
    .bind(revision)
    .bind(to_text(left.booked_at))
    .bind(left.pieces)
    .execute(db)
    .await
    .map(drop)
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::super::class_lists::sample;
    use super::*;

    #[tokio::test]
    async fn each_revision_remembers_what_was_put_back() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let left = |pieces| LeftOvers {
            booked_at: "2026-11-29T09:00:00Z".parse().unwrap(),
            pieces,
        };
        for (revision, pieces) in [(0, 3), (1, 4), (1, 5)] {
            insert_left_overs(&mut *change, (id, revision), left(pieces))
                .await
                .unwrap();
        }
        for (revision, pieces) in [(0, Some(3)), (1, Some(5)), (2, None)] {
            let found = find_left_overs(&mut *change, id, revision).await.unwrap();
            assert_eq!(found, pieces.map(left), "revision {revision}");
        }
    }
}
