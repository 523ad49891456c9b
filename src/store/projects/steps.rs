//! What the instructor changed in the steps, and steps of their own.

use sqlx::{FromRow, SqliteConnection, SqliteExecutor};

use crate::recipe::{Phase, StepEdit};
use crate::store::StoreResult;
use crate::store::saved::{Update, count, from_word, to_word};

/// A change with the count of its saves.
#[derive(Clone, Debug, PartialEq)]
pub struct StepRow {
    /// How often it was saved.
    pub version: i64,
    /// The change.
    pub edit: StepEdit,
}

#[derive(FromRow)]
struct Row {
    key: String,
    version: i64,
    title: Option<String>,
    text: Option<String>,
    tip: Option<String>,
    hidden: bool,
    phase: Option<String>,
    position: Option<f64>,
    seconds: Option<i64>,
}

impl TryFrom<Row> for StepRow {
    type Error = sqlx::Error;

    fn try_from(row: Row) -> StoreResult<Self> {
        let seconds = row.seconds.map(|value| count("step_edit.seconds", value));
        Ok(Self {
            version: row.version,
            edit: StepEdit {
                key: row.key,
                title: row.title,
                text: row.text,
                tip: row.tip,
                hidden: row.hidden,
                phase: row.phase.map(from_word).transpose()?,
                position: row.position,
                seconds: seconds.transpose()?,
            },
        })
    }
}

/// Every change in a project's steps; own steps in the order in which they were added.
///
/// # Errors
/// When the database fails.
pub async fn list_step_edits(
    db: impl SqliteExecutor<'_>,
    project: i64,
) -> StoreResult<Vec<StepRow>> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT key, version, title, text, tip, hidden, phase, position, seconds
         FROM step_edit WHERE project_id = ?1 ORDER BY rowid",
    )
    .bind(project)
    .fetch_all(db)
    .await?;
    rows.into_iter().map(TryInto::try_into).collect()
}

/// What was changed in one step.
///
/// # Errors
/// When the database fails.
pub async fn find_step_edit(
    db: impl SqliteExecutor<'_>,
    project: i64,
    key: &str,
) -> StoreResult<Option<StepRow>> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT key, version, title, text, tip, hidden, phase, position, seconds
         FROM step_edit WHERE project_id = ?1 AND key = ?2",
    )
    .bind(project)
    .bind(key)
    .fetch_optional(db)
    .await?;
    row.map(TryInto::try_into).transpose()
}

fn phase_word(edit: &StepEdit) -> StoreResult<Option<String>> {
    edit.phase.map(|phase: Phase| to_word(&phase)).transpose()
}

/// Stores the first change of a step; stale where there is one already.
///
/// # Errors
/// When the database fails.
pub async fn insert_step_edit(
    db: impl SqliteExecutor<'_>,
    project: i64,
    edit: &StepEdit,
) -> StoreResult<Update> {
    let done = sqlx::query(
        "INSERT INTO step_edit (project_id, key, title, text, tip, hidden, phase, position, seconds)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)
         ON CONFLICT (project_id, key) DO NOTHING",
    )
    .bind(project)
    .bind(&edit.key)
    .bind(&edit.title)
    .bind(&edit.text)
    .bind(&edit.tip)
    .bind(edit.hidden)
    .bind(phase_word(edit)?)
    .bind(edit.position)
    .bind(edit.seconds)
    .execute(db)
    .await?;
    Ok(Update::of(done.rows_affected()))
}

/// Replaces the change of a step if it still has that version. Its place stays.
///
/// # Errors
/// When the database fails.
pub async fn update_step_edit(
    db: impl SqliteExecutor<'_>,
    project: i64,
    version: i64,
    edit: &StepEdit,
) -> StoreResult<Update> {
    let done = sqlx::query(
        "UPDATE step_edit SET title = ?4, text = ?5, tip = ?6, hidden = ?7, phase = ?8,
                seconds = ?9, version = version + 1
         WHERE project_id = ?1 AND key = ?2 AND version = ?3",
    )
    .bind(project)
    .bind(&edit.key)
    .bind(version)
    .bind(&edit.title)
    .bind(&edit.text)
    .bind(&edit.tip)
    .bind(edit.hidden)
    .bind(phase_word(edit)?)
    .bind(edit.seconds)
    .execute(db)
    .await?;
    Ok(Update::of(done.rows_affected()))
}

/// Adds a step of the instructor's own under the next free key, and gives the key. The key
/// that `edit` carries is not used.
///
/// # Errors
/// When the database fails.
pub async fn insert_own_step(
    db: &mut SqliteConnection,
    project: i64,
    edit: &StepEdit,
) -> StoreResult<String> {
    let last: i64 = sqlx::query_scalar(
        "SELECT COALESCE(MAX(CAST(substr(key, 5) AS INTEGER)), 0)
         FROM step_edit WHERE project_id = ?1 AND key GLOB 'own-*'",
    )
    .bind(project)
    .fetch_one(&mut *db)
    .await?;
    let key = format!("own-{}", last + 1);
    let edit = StepEdit {
        key: key.clone(),
        ..edit.clone()
    };
    insert_step_edit(db, project, &edit).await?;
    Ok(key)
}

/// Puts all steps of a project in this order. What they say stays, and so do their versions:
/// a move does not make an open form stale.
///
/// # Errors
/// When the database fails.
pub async fn update_step_order(
    db: &mut SqliteConnection,
    project: i64,
    keys: &[String],
) -> StoreResult<()> {
    for (position, key) in keys.iter().enumerate() {
        sqlx::query(
            "INSERT INTO step_edit (project_id, key, version, position) VALUES (?1, ?2, 0, ?3)
             ON CONFLICT (project_id, key) DO UPDATE SET position = excluded.position",
        )
        .bind(project)
        .bind(key)
        .bind(position as f64)
        .execute(&mut *db)
        .await?;
    }
    Ok(())
}

/// Puts a step back to what the recipe says, in the place where it is; an own step goes.
///
/// # Errors
/// When the database fails.
pub async fn delete_step_edit(
    db: impl SqliteExecutor<'_>,
    project: i64,
    key: &str,
) -> StoreResult<()> {
    let sql = if key.starts_with("own-") {
        "DELETE FROM step_edit WHERE project_id = ?1 AND key = ?2"
    } else {
        "UPDATE step_edit SET title = NULL, text = NULL, tip = NULL, hidden = 0, phase = NULL,
                seconds = NULL, version = version + 1
         WHERE project_id = ?1 AND key = ?2"
    };
    sqlx::query(sql)
        .bind(project)
        .bind(key)
        .execute(db)
        .await
        .map(drop)
}
