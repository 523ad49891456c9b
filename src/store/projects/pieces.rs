//! Pieces of projects. What was asked of a piece is JSON with a version; its paper and supplies
//! are columns as well, so that the tables guard them.

use sqlx::{FromRow, SqliteConnection, SqliteExecutor};

use crate::recipe::{PieceSpec, StoredSpec};
use crate::store::StoreResult;
use crate::store::saved::{Saved, Update, from_json, to_json};

/// A piece as it is stored.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What the instructor calls it.
    pub name: String,
    /// Row number of the paper that it is designed for.
    pub paper: i64,
    /// What was asked for.
    pub spec: PieceSpec,
}

#[derive(FromRow)]
struct Row {
    id: i64,
    version: i64,
    name: String,
    paper_id: i64,
    spec: String,
}

impl TryFrom<Row> for Saved<Piece> {
    type Error = sqlx::Error;

    fn try_from(row: Row) -> StoreResult<Self> {
        let StoredSpec::V1(spec) = from_json(&row.spec)?;
        Ok(Self {
            id: row.id,
            version: row.version,
            it: Piece {
                name: row.name,
                paper: row.paper_id,
                spec,
            },
        })
    }
}

/// The pieces of a project, in order.
///
/// # Errors
/// When the database fails.
pub async fn list_pieces(
    db: impl SqliteExecutor<'_>,
    project: i64,
) -> StoreResult<Vec<Saved<Piece>>> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT id, version, name, paper_id, spec FROM piece
         WHERE project_id = ?1 ORDER BY position, id",
    )
    .bind(project)
    .fetch_all(db)
    .await?;
    rows.into_iter().map(TryInto::try_into).collect()
}

/// One piece of a project.
///
/// # Errors
/// When the database fails.
pub async fn find_piece(
    db: impl SqliteExecutor<'_>,
    project: i64,
    id: i64,
) -> StoreResult<Option<Saved<Piece>>> {
    let row: Option<Row> = sqlx::query_as(
        "SELECT id, version, name, paper_id, spec FROM piece WHERE id = ?1 AND project_id = ?2",
    )
    .bind(id)
    .bind(project)
    .fetch_optional(db)
    .await?;
    row.map(TryInto::try_into).transpose()
}

/// Adds a piece as the last one of its project and gives its row number.
///
/// # Errors
/// When the database fails.
pub async fn insert_piece(
    db: &mut SqliteConnection,
    project: i64,
    piece: &Piece,
) -> StoreResult<i64> {
    let id = sqlx::query_scalar(
        "INSERT INTO piece (project_id, position, name, paper_id, spec)
         VALUES (?1, (SELECT COALESCE(MAX(position), 0) + 1 FROM piece WHERE project_id = ?1),
                 ?2, ?3, ?4)
         RETURNING id",
    )
    .bind(project)
    .bind(&piece.name)
    .bind(piece.paper)
    .bind(to_json(&StoredSpec::V1(piece.spec.clone()))?)
    .fetch_one(&mut *db)
    .await?;
    insert_supplies(db, id, &piece.spec).await?;
    Ok(id)
}

/// Replaces a piece if it still has that version.
///
/// # Errors
/// When the database fails.
pub async fn update_piece(
    db: &mut SqliteConnection,
    (id, version): (i64, i64),
    piece: &Piece,
) -> StoreResult<Update> {
    let done = sqlx::query(
        "UPDATE piece SET name = ?3, paper_id = ?4, spec = ?5, version = version + 1
         WHERE id = ?1 AND version = ?2",
    )
    .bind(id)
    .bind(version)
    .bind(&piece.name)
    .bind(piece.paper)
    .bind(to_json(&StoredSpec::V1(piece.spec.clone()))?)
    .execute(&mut *db)
    .await?;
    let update = Update::of(done.rows_affected());
    if update == Update::Done {
        sqlx::query("DELETE FROM piece_supply WHERE piece_id = ?1")
            .bind(id)
            .execute(&mut *db)
            .await?;
        insert_supplies(db, id, &piece.spec).await?;
    }
    Ok(update)
}

async fn insert_supplies(db: &mut SqliteConnection, id: i64, spec: &PieceSpec) -> StoreResult<()> {
    for supply in spec.supplies() {
        sqlx::query("INSERT OR IGNORE INTO piece_supply (piece_id, supply_id) VALUES (?1, ?2)")
            .bind(id)
            .bind(supply)
            .execute(&mut *db)
            .await?;
    }
    Ok(())
}

/// Puts the pieces of a project in this order.
///
/// # Errors
/// When the database fails.
pub async fn update_piece_order(
    db: &mut SqliteConnection,
    project: i64,
    ids: &[i64],
) -> StoreResult<()> {
    for (position, id) in (1_i64..).zip(ids) {
        sqlx::query("UPDATE piece SET position = ?3 WHERE id = ?1 AND project_id = ?2")
            .bind(id)
            .bind(project)
            .bind(position)
            .execute(&mut *db)
            .await?;
    }
    Ok(())
}

/// Removes a piece, and what was changed in its steps.
///
/// # Errors
/// When the database fails.
pub async fn delete_piece(db: &mut SqliteConnection, project: i64, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM piece WHERE id = ?1 AND project_id = ?2")
        .bind(id)
        .bind(project)
        .execute(&mut *db)
        .await?;
    sqlx::query("DELETE FROM step_edit WHERE project_id = ?1 AND key GLOB ?2")
        .bind(project)
        .bind(format!("p{id}.*"))
        .execute(&mut *db)
        .await
        .map(drop)
}
