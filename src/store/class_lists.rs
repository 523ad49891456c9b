//! What belongs to one class: colourways with their papers, attendees, tools on the day.

use std::collections::BTreeMap;

use sqlx::{FromRow, SqliteConnection, SqliteExecutor};

use super::StoreResult;
use crate::recipe::{Role, ToolKind};
use crate::workshop::{BroughtBy, ToolOnDay};

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

#[derive(FromRow)]
struct ToolRow {
    kind: String,
    count: u32,
    brought_by: String,
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

/// A class for tests of the store.
#[cfg(test)]
pub(in crate::store) mod sample {
    use super::super::Store;
    use super::super::classes::{ClassDetails, insert_class};
    use super::super::projects::tests::filled;
    use super::*;

    /// Of the first project of a test database.
    pub(in crate::store) fn details() -> ClassDetails {
        ClassDetails {
            title: "Seed-swap evening".to_owned(),
            project_id: 1,
            date: jiff::civil::date(2026, 11, 28),
            starts: jiff::civil::time(18, 30, 0, 0),
            minutes: 120,
            place: "Allotment hall".to_owned(),
        }
    }

    /// A colourway that uses one paper for everything.
    pub(in crate::store) fn colourway(id: Option<i64>, name: &str) -> ColourwayChange {
        let role = |role: &str| (role.to_owned(), 1);
        ColourwayChange {
            id,
            name: name.to_owned(),
            spare_kits: 1,
            papers: ["main", "accent", "label"].map(role).into(),
        }
    }

    /// Three seats and a spare kit in one colourway.
    pub(in crate::store) async fn class(store: &Store) -> i64 {
        assert_eq!(filled(store).await, details().project_id);
        let mut change = store.change().await.unwrap();
        let id = insert_class(&mut *change, &details()).await.unwrap();
        let first = insert_colourway(&mut change, id, &colourway(None, "Meadow"))
            .await
            .unwrap();
        for name in ["Seat 1", "Seat 2", "Seat 3"] {
            insert_attendee(&mut *change, id, name, first)
                .await
                .unwrap();
        }
        change.commit().await.unwrap();
        id
    }
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::sample::colourway;
    use super::*;

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
