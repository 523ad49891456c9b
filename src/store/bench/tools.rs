//! Tools, with the rulers of those that have one.

use serde::{Deserialize, Serialize};
use sqlx::{FromRow, SqliteExecutor};
use tablefold_geometry::{PunchBoard, Ruler, Trimmer};

use super::Use;
use crate::recipe::ToolKind;
use crate::store::StoreResult;
use crate::store::saved::{Saved, Update, count, damaged, from_json, to_json};
use crate::workshop::BroughtBy;

/// A tool of the bench.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BenchTool {
    /// What it is.
    pub kind: ToolKind,
    /// What the instructor calls it.
    pub name: String,
    /// How many there are; for a tool that attendees bring, one each.
    pub count: u32,
    /// Who brings it.
    pub brought_by: BroughtBy,
    /// Its ruler and notch.
    pub params: ToolParams,
}

/// What of a tool is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ToolParams {
    /// Nothing.
    None,
    /// Notch depth and ruler of a punch board.
    Board(PunchBoard),
    /// The ruler of a score board; of a trimmer that was stored before it had more.
    Ruled(Ruler),
    /// The ruler of a trimmer and how many sheets it cuts at once.
    Trims(Trimmer),
}

impl ToolParams {
    /// The ruler, if the tool has one.
    #[must_use]
    pub fn ruler(&self) -> Option<&Ruler> {
        match self {
            Self::None => None,
            Self::Board(board) => Some(board.ruler()),
            Self::Ruled(ruler) => Some(ruler),
            Self::Trims(trimmer) => Some(trimmer.ruler()),
        }
    }
}

impl BenchTool {
    /// The punch board that it is.
    #[must_use]
    pub fn board(&self) -> Option<PunchBoard> {
        match (self.kind, self.params) {
            (ToolKind::PunchBoard, ToolParams::Board(board)) => Some(board),
            _ => None,
        }
    }

    /// The trimmer that it is.
    #[must_use]
    pub fn trimmer(&self) -> Option<Trimmer> {
        match (self.kind, self.params) {
            (ToolKind::Trimmer, ToolParams::Ruled(ruler)) => Some(Trimmer::new(ruler)),
            (ToolKind::Trimmer, ToolParams::Trims(trimmer)) => Some(trimmer),
            _ => None,
        }
    }
}

#[derive(FromRow)]
struct Row {
    id: i64,
    version: i64,
    kind: String,
    name: String,
    count: i64,
    brought_by: String,
    params: String,
}

impl TryFrom<Row> for Saved<BenchTool> {
    type Error = sqlx::Error;

    fn try_from(row: Row) -> StoreResult<Self> {
        let kind = ToolKind::from_slug(&row.kind);
        let brought_by = BroughtBy::from_slug(&row.brought_by);
        Ok(Self {
            id: row.id,
            version: row.version,
            it: BenchTool {
                kind: kind.ok_or_else(|| damaged("tool.kind", &row.kind))?,
                name: row.name,
                count: count("tool.count", row.count)?,
                brought_by: brought_by
                    .ok_or_else(|| damaged("tool.brought_by", &row.brought_by))?,
                params: from_json(&row.params)?,
            },
        })
    }
}

/// All tools: boards and trimmers first, then as they were added.
///
/// # Errors
/// When the database fails.
pub async fn list_tools(db: impl SqliteExecutor<'_>) -> StoreResult<Vec<Saved<BenchTool>>> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT id, version, kind, name, count, brought_by, params FROM tool
         ORDER BY kind <> 'punch_board', kind <> 'trimmer', kind <> 'score_board', id",
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(TryInto::try_into).collect()
}

/// One tool.
///
/// # Errors
/// When the database fails.
pub async fn find_tool(
    db: impl SqliteExecutor<'_>,
    id: i64,
) -> StoreResult<Option<Saved<BenchTool>>> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT id, version, kind, name, count, brought_by, params FROM tool WHERE id = ?1",
    )
    .bind(id)
    .fetch_optional(db)
    .await?;
    row.map(TryInto::try_into).transpose()
}

/// Adds a tool and gives its row number.
///
/// # Errors
/// When the database fails.
pub async fn insert_tool(db: impl SqliteExecutor<'_>, tool: &BenchTool) -> StoreResult<i64> {
    sqlx::query_scalar(
        "INSERT INTO tool (kind, name, count, brought_by, params)
         VALUES (?1, ?2, ?3, ?4, ?5) RETURNING id",
    )
    .bind(tool.kind.slug())
    .bind(&tool.name)
    .bind(tool.count)
    .bind(tool.brought_by.slug())
    .bind(to_json(&tool.params)?)
    .fetch_one(db)
    .await
}

/// Replaces a tool if it still has that version. Its kind stays: projects rely on it.
///
/// # Errors
/// When the database fails.
pub async fn update_tool(
    db: impl SqliteExecutor<'_>,
    (id, version): (i64, i64),
    tool: &BenchTool,
) -> StoreResult<Update> {
    let done = sqlx::query(
        "UPDATE tool SET name = ?3, count = ?4, brought_by = ?5, params = ?6,
                version = version + 1
         WHERE id = ?1 AND version = ?2",
    )
    .bind(id)
    .bind(version)
    .bind(&tool.name)
    .bind(tool.count)
    .bind(tool.brought_by.slug())
    .bind(to_json(&tool.params)?)
    .execute(db)
    .await?;
    Ok(Update::of(done.rows_affected()))
}

/// Projects that are made with a tool.
///
/// # Errors
/// When the database fails.
pub async fn list_uses_of_tool(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<Vec<Use>> {
    sqlx::query_as(
        "SELECT 'project' AS kind, id, title FROM project
         WHERE board_id = ?1 OR trimmer_id = ?1 ORDER BY id",
    )
    .bind(id)
    .fetch_all(db)
    .await
}

/// Removes a tool; the table refuses one in use.
///
/// # Errors
/// When the database fails or the tool is in use.
pub async fn delete_tool(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM tool WHERE id = ?1")
        .bind(id)
        .execute(db)
        .await
        .map(drop)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Store;

    pub(super) fn board() -> BenchTool {
        BenchTool {
            kind: ToolKind::PunchBoard,
            name: "Blue board".to_owned(),
            count: 2,
            brought_by: BroughtBy::Instructor,
            params: ToolParams::Board(PunchBoard::default_inch()),
        }
    }

    #[tokio::test]
    async fn a_board_comes_back_as_it_was_stored() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let scissors = BenchTool {
            kind: ToolKind::Scissors,
            name: "Scissors".to_owned(),
            count: 1,
            brought_by: BroughtBy::Attendee,
            params: ToolParams::None,
        };
        insert_tool(&mut *change, &scissors).await.unwrap();
        let id = insert_tool(&mut *change, &board()).await.unwrap();
        change.commit().await.unwrap();
        let found = find_tool(store.read(), id).await.unwrap().unwrap();
        assert_eq!((found.version, &found.it), (1, &board()));
        assert_eq!(found.it.board(), Some(PunchBoard::default_inch()));
        assert_eq!(found.it.trimmer(), None);
        let kinds: Vec<ToolKind> = list_tools(store.read())
            .await
            .unwrap()
            .into_iter()
            .map(|tool| tool.it.kind)
            .collect();
        assert_eq!(kinds, [ToolKind::PunchBoard, ToolKind::Scissors]);
    }

    #[tokio::test]
    async fn a_stale_save_of_a_tool_changes_nothing() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let id = insert_tool(&mut *change, &board()).await.unwrap();
        let renamed = |name: &str| BenchTool {
            name: name.to_owned(),
            ..board()
        };
        let first = update_tool(&mut *change, (id, 1), &renamed("Red board")).await;
        assert_eq!(first.unwrap(), Update::Done);
        let late = update_tool(&mut *change, (id, 1), &renamed("Old board")).await;
        assert_eq!(late.unwrap(), Update::Stale);
        let found = find_tool(&mut *change, id).await.unwrap().unwrap();
        assert_eq!((found.version, found.it.name.as_str()), (2, "Red board"));
        delete_tool(&mut *change, id).await.unwrap();
        assert!(find_tool(&mut *change, id).await.unwrap().is_none());
    }

    #[tokio::test]
    async fn a_damaged_tool_is_an_error_and_no_panic() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        sqlx::query(
            "INSERT INTO tool (kind, name, count, brought_by, params)
             VALUES ('spade', 'x', 1, 'venue', '\"none\"')",
        )
        .execute(&mut *change)
        .await
        .unwrap();
        assert!(list_tools(&mut *change).await.is_err());
    }
}
