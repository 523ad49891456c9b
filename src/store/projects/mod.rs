//! Projects, their pieces, and what the instructor changed in their steps.

mod pieces;
mod steps;

pub use pieces::{
    Piece, delete_piece, find_piece, insert_piece, list_pieces, update_piece, update_piece_order,
};
pub use steps::{
    StepRow, delete_step_edit, find_step_edit, insert_own_step, insert_step_edit, list_step_edits,
    update_step_edit, update_step_order,
};

use sqlx::{FromRow, SqliteExecutor};
use tablefold_geometry::Hands;

use super::StoreResult;
use super::bench::Use;
use super::saved::{Saved, Update, count, from_json, to_json};

/// A project's own facts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Project {
    /// What it is called.
    pub title: String,
    /// How many are usually made.
    pub makes: u32,
    /// Row number of its punch board, if it is made on one.
    pub board: Option<i64>,
    /// Row number of its trimmer.
    pub trimmer: i64,
    /// Whose hands make it; `None` are those of beginners.
    pub hands: Option<Hands>,
    /// Of 100 makers, how many should succeed.
    pub wanted_of_100: u32,
}

#[derive(FromRow)]
struct Row {
    id: i64,
    version: i64,
    title: String,
    makes: i64,
    board_id: Option<i64>,
    trimmer_id: i64,
    hands: Option<String>,
    wanted_of_100: i64,
}

impl TryFrom<Row> for Saved<Project> {
    type Error = sqlx::Error;

    fn try_from(row: Row) -> StoreResult<Self> {
        Ok(Self {
            id: row.id,
            version: row.version,
            it: Project {
                title: row.title,
                makes: count("project.makes", row.makes)?,
                board: row.board_id,
                trimmer: row.trimmer_id,
                hands: row.hands.as_deref().map(from_json).transpose()?,
                wanted_of_100: count("project.wanted_of_100", row.wanted_of_100)?,
            },
        })
    }
}

/// All projects, newest first.
///
/// # Errors
/// When the database fails.
pub async fn list_projects(db: impl SqliteExecutor<'_>) -> StoreResult<Vec<Saved<Project>>> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM project ORDER BY id DESC")
        .fetch_all(db)
        .await?;
    rows.into_iter().map(TryInto::try_into).collect()
}

/// One project.
///
/// # Errors
/// When the database fails.
pub async fn find_project(
    db: impl SqliteExecutor<'_>,
    id: i64,
) -> StoreResult<Option<Saved<Project>>> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM project WHERE id = ?1")
        .bind(id)
        .fetch_optional(db)
        .await?;
    row.map(TryInto::try_into).transpose()
}

/// Adds a project and gives its row number.
///
/// # Errors
/// When the database fails.
pub async fn insert_project(db: impl SqliteExecutor<'_>, project: &Project) -> StoreResult<i64> {
    sqlx::query_scalar(
        "INSERT INTO project (title, makes, board_id, trimmer_id, hands, wanted_of_100)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6) RETURNING id",
    )
    .bind(&project.title)
    .bind(project.makes)
    .bind(project.board)
    .bind(project.trimmer)
    .bind(project.hands.as_ref().map(to_json).transpose()?)
    .bind(project.wanted_of_100)
    .fetch_one(db)
    .await
}

/// Replaces a project's own facts if it still has that version.
///
/// # Errors
/// When the database fails.
pub async fn update_project(
    db: impl SqliteExecutor<'_>,
    (id, version): (i64, i64),
    project: &Project,
) -> StoreResult<Update> {
    let done = sqlx::query(
        "UPDATE project SET title = ?3, makes = ?4, board_id = ?5, trimmer_id = ?6,
                hands = ?7, wanted_of_100 = ?8, version = version + 1
         WHERE id = ?1 AND version = ?2",
    )
    .bind(id)
    .bind(version)
    .bind(&project.title)
    .bind(project.makes)
    .bind(project.board)
    .bind(project.trimmer)
    .bind(project.hands.as_ref().map(to_json).transpose()?)
    .bind(project.wanted_of_100)
    .execute(db)
    .await?;
    Ok(Update::of(done.rows_affected()))
}

/// Classes in which a project is made.
///
/// # Errors
/// When the database fails.
pub async fn list_uses_of_project(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<Vec<Use>> {
    sqlx::query_as(
        "SELECT 'class' AS kind, id, title FROM class
         WHERE project_id = ?1
            OR id IN (SELECT class_id FROM class_project WHERE project_id = ?1)
         ORDER BY id",
    )
    .bind(id)
    .fetch_all(db)
    .await
}

/// Removes a project with its pieces and steps; the table refuses one with a class.
///
/// # Errors
/// When the database fails or a class makes it.
pub async fn delete_project(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM project WHERE id = ?1")
        .bind(id)
        .execute(db)
        .await
        .map(drop)
}

#[cfg(test)]
pub(in crate::store) mod tests;
