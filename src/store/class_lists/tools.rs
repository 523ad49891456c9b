//! Tools on the day, where they differ from the bench.

use sqlx::{FromRow, SqliteConnection, SqliteExecutor};

use crate::recipe::ToolKind;
use crate::store::StoreResult;
use crate::workshop::{BroughtBy, ToolOnDay};

#[derive(FromRow)]
struct ToolRow {
    kind: String,
    count: u32,
    brought_by: String,
}

/// Tools on the day where they differ from the bench.
///
/// # Errors
/// When the database fails.
pub async fn list_class_tools(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
) -> StoreResult<Vec<ToolOnDay>> {
    let rows: Vec<ToolRow> =
        sqlx::query_as("SELECT kind, count, brought_by FROM class_tool WHERE class_id = ?1")
            .bind(class_id)
            .fetch_all(db)
            .await?;
    rows.into_iter().map(ToolRow::read).collect()
}

/// Replaces what differs from the bench.
///
/// # Errors
/// When the database fails.
pub async fn update_class_tools(
    db: &mut SqliteConnection,
    class_id: i64,
    tools: &[ToolOnDay],
) -> StoreResult<()> {
    sqlx::query("DELETE FROM class_tool WHERE class_id = ?1")
        .bind(class_id)
        .execute(&mut *db)
        .await?;
    for tool in tools {
        sqlx::query(
            "INSERT INTO class_tool (class_id, kind, count, brought_by) VALUES (?1, ?2, ?3, ?4)",
        )
        .bind(class_id)
        .bind(tool.kind.slug())
        .bind(tool.count)
        .bind(tool.brought_by.slug())
        .execute(&mut *db)
        .await?;
    }
    Ok(())
}

impl ToolRow {
    fn read(self) -> StoreResult<ToolOnDay> {
        let unknown = |what: &str| sqlx::Error::Decode(format!("unknown tool: {what}").into());
        Ok(ToolOnDay {
            kind: ToolKind::from_slug(&self.kind).ok_or_else(|| unknown(&self.kind))?,
            count: self.count,
            brought_by: BroughtBy::from_slug(&self.brought_by)
                .ok_or_else(|| unknown(&self.brought_by))?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::store::Store;

    #[tokio::test]
    async fn tools_are_replaced_as_a_whole() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let tool = |kind, count| ToolOnDay {
            kind,
            count,
            brought_by: BroughtBy::Venue,
        };
        let first = [tool(ToolKind::Trimmer, 1), tool(ToolKind::Glue, 9)];
        update_class_tools(&mut change, id, &first).await.unwrap();
        update_class_tools(&mut change, id, &first[1..])
            .await
            .unwrap();
        let stored = list_class_tools(&mut *change, id).await.unwrap();
        assert_eq!(stored, first[1..]);
    }
}
