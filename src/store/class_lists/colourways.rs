//! Colourways of a class, with a paper for each role.

use std::collections::BTreeMap;

use sqlx::{FromRow, SqliteConnection};

use crate::recipe::Role;
use crate::store::StoreResult;

/// A colourway as stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredColourway {
    /// Row id.
    pub id: i64,
    /// What it is called.
    pub name: String,
    /// Whole kits to spare.
    pub spare_kits: u32,
    /// Row of the paper for each role.
    pub papers: BTreeMap<Role, i64>,
}

/// A colourway as typed; `id` is `None` for one that is added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColourwayChange {
    /// Row id, if it has one.
    pub id: Option<i64>,
    /// What it is called.
    pub name: String,
    /// Whole kits to spare.
    pub spare_kits: u32,
    /// Row of the paper for each role.
    pub papers: BTreeMap<Role, i64>,
}

#[derive(FromRow)]
struct ColourwayRow {
    id: i64,
    name: String,
    spare_kits: u32,
}

#[derive(FromRow)]
struct RolePaperRow {
    colourway_id: i64,
    role: String,
    paper_id: i64,
}

/// The colourways of a class in their order.
///
/// # Errors
/// When the database fails.
pub async fn list_colourways(
    db: &mut SqliteConnection,
    class_id: i64,
) -> StoreResult<Vec<StoredColourway>> {
    let rows: Vec<ColourwayRow> = sqlx::query_as(
        "SELECT id, name, spare_kits FROM colourway WHERE class_id = ?1 ORDER BY position, id",
    )
    .bind(class_id)
    .fetch_all(&mut *db)
    .await?;
    let papers: Vec<RolePaperRow> = sqlx::query_as(
        "SELECT colourway_id, role, paper_id
         FROM colourway_paper JOIN colourway ON colourway.id = colourway_id
         WHERE class_id = ?1",
    )
    .bind(class_id)
    .fetch_all(db)
    .await?;
    let mut of: BTreeMap<i64, BTreeMap<Role, i64>> = BTreeMap::new();
    for row in papers {
        let roles = of.entry(row.colourway_id).or_default();
        roles.insert(row.role, row.paper_id);
    }
    let stored = |row: ColourwayRow| StoredColourway {
        papers: of.remove(&row.id).unwrap_or_default(),
        id: row.id,
        name: row.name,
        spare_kits: row.spare_kits,
    };
    Ok(rows.into_iter().map(stored).collect())
}

/// Adds a colourway at the end and gives its id.
///
/// # Errors
/// When the database fails, the name is taken in this class, or a paper does not exist.
pub async fn insert_colourway(
    db: &mut SqliteConnection,
    class_id: i64,
    colourway: &ColourwayChange,
) -> StoreResult<i64> {
    let id = sqlx::query_scalar(
        "INSERT INTO colourway (class_id, position, name, spare_kits)
         VALUES (?1, (SELECT COUNT(*) FROM colourway WHERE class_id = ?1), ?2, ?3)
         RETURNING id",
    )
    .bind(class_id)
    .bind(&colourway.name)
    .bind(colourway.spare_kits)
    .fetch_one(&mut *db)
    .await?;
    insert_papers(db, id, &colourway.papers).await?;
    Ok(id)
}

/// Saves what was typed of a class's colourways: known ones change, new ones are added, those in
/// `removed` go. One that is gone meanwhile is added again: what was typed is kept.
///
/// # Errors
/// When the database fails, two names are alike, a paper does not exist, or a removed colourway
/// is in use.
pub async fn update_colourways(
    db: &mut SqliteConnection,
    class_id: i64,
    colourways: &[ColourwayChange],
    removed: &[i64],
) -> StoreResult<()> {
    // Names may change places; until all are written, each is one that nobody can type.
    sqlx::query("UPDATE colourway SET name = char(1) || id || name WHERE class_id = ?1")
        .bind(class_id)
        .execute(&mut *db)
        .await?;
    for id in removed {
        delete_colourway(db, class_id, *id).await?;
    }
    for colourway in colourways {
        let known = match colourway.id {
            Some(id) => update_colourway(db, class_id, id, colourway).await?,
            None => false,
        };
        if !known {
            insert_colourway(db, class_id, colourway).await?;
        }
    }
    // Those that nobody typed get their own name back.
    sqlx::query(
        "UPDATE colourway SET name = substr(name, 2 + length(id))
         WHERE class_id = ?1 AND substr(name, 1, 1) = char(1)",
    )
    .bind(class_id)
    .execute(db)
    .await?;
    Ok(())
}

async fn update_colourway(
    db: &mut SqliteConnection,
    class_id: i64,
    id: i64,
    colourway: &ColourwayChange,
) -> StoreResult<bool> {
    let done = sqlx::query(
        "UPDATE colourway SET name = ?3, spare_kits = ?4 WHERE id = ?2 AND class_id = ?1",
    )
    .bind(class_id)
    .bind(id)
    .bind(&colourway.name)
    .bind(colourway.spare_kits)
    .execute(&mut *db)
    .await?;
    if done.rows_affected() == 0 {
        return Ok(false);
    }
    sqlx::query("DELETE FROM colourway_paper WHERE colourway_id = ?1")
        .bind(id)
        .execute(&mut *db)
        .await?;
    insert_papers(db, id, &colourway.papers).await?;
    Ok(true)
}

async fn insert_papers(
    db: &mut SqliteConnection,
    colourway_id: i64,
    papers: &BTreeMap<Role, i64>,
) -> StoreResult<()> {
    for (role, paper) in papers {
        sqlx::query(
            "INSERT INTO colourway_paper (colourway_id, role, paper_id) VALUES (?1, ?2, ?3)",
        )
        .bind(colourway_id)
        .bind(role)
        .bind(paper)
        .execute(&mut *db)
        .await?;
    }
    Ok(())
}

async fn delete_colourway(db: &mut SqliteConnection, class_id: i64, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM colourway WHERE id = ?2 AND class_id = ?1")
        .bind(class_id)
        .bind(id)
        .execute(db)
        .await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::sample::{self, colourway};
    use super::*;
    use crate::store::Store;

    #[tokio::test]
    async fn colourways_may_change_names_with_each_other() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        insert_colourway(&mut change, id, &colourway(None, "Clay pot"))
            .await
            .unwrap();
        insert_colourway(&mut change, id, &colourway(None, "Dusk"))
            .await
            .unwrap();
        let swapped = [colourway(Some(1), "Clay pot"), colourway(Some(2), "Meadow")];
        update_colourways(&mut change, id, &swapped, &[])
            .await
            .unwrap();
        let stored = list_colourways(&mut change, id).await.unwrap();
        let names: Vec<_> = stored.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names, ["Clay pot", "Meadow", "Dusk"]);
        assert_eq!(stored[0].papers.len(), 3);
    }

    #[tokio::test]
    async fn a_colourway_that_is_gone_is_added_again_and_one_in_use_stays() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let typed = [colourway(Some(77), "Clay pot")];
        update_colourways(&mut change, id, &typed, &[])
            .await
            .unwrap();
        assert_eq!(list_colourways(&mut change, id).await.unwrap().len(), 2);
        assert!(update_colourways(&mut change, id, &[], &[1]).await.is_err());
        let other = update_colourway(&mut change, id + 1, 1, &typed[0])
            .await
            .unwrap();
        assert!(!other, "of another class");
    }
}
