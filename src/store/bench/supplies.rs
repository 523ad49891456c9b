//! Bought things: counted, or cut from a spool.

use sqlx::{FromRow, SqliteExecutor};
use tablefold_geometry::Length;

use super::Use;
use crate::store::saved::{Saved, Update, count, damaged, from_json, minor, minor_in, to_json};
use crate::store::{StoreResult, unless_taken};
use crate::workshop::{LONGEST_SPOOL, SupplyStock};

/// A supply of the bench.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BenchSupply {
    /// What it is called.
    pub name: String,
    /// How it is measured out.
    pub measured: Measured,
    /// Price of one, or of a metre, in minor units.
    pub price_minor: Option<u64>,
    /// On hand, where it is counted.
    pub on_hand: u32,
    /// Spools on hand, where it is a length.
    pub spools: Vec<Length>,
}

/// How a supply is measured out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measured {
    /// By count.
    Each,
    /// By length, from a spool.
    Length,
}

impl Measured {
    /// The word in forms and in the database.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::Each => "each",
            Self::Length => "length",
        }
    }
}

impl Saved<BenchSupply> {
    /// The supply as a class takes it.
    #[must_use]
    pub fn stock(&self) -> SupplyStock {
        SupplyStock {
            id: self.id,
            name: self.it.name.clone(),
            on_hand: self.it.on_hand,
            spools: self.it.spools.clone(),
        }
    }
}

#[derive(FromRow)]
struct Row {
    id: i64,
    version: i64,
    name: String,
    unit: String,
    price_minor: Option<i64>,
    on_hand: i64,
    spools: String,
}

impl TryFrom<Row> for Saved<BenchSupply> {
    type Error = sqlx::Error;

    fn try_from(row: Row) -> StoreResult<Self> {
        let measured = match row.unit.as_str() {
            "each" => Measured::Each,
            "length" => Measured::Length,
            other => return Err(damaged("supply.unit", other)),
        };
        Ok(Self {
            id: row.id,
            version: row.version,
            it: BenchSupply {
                name: row.name,
                measured,
                price_minor: minor("supply.price_minor", row.price_minor)?,
                on_hand: count("supply.on_hand", row.on_hand)?,
                spools: spools(&row.spools)?,
            },
        })
    }
}

/// Lengths of spools from a column: JSON, nanometres.
fn spools(text: &str) -> StoreResult<Vec<Length>> {
    let lengths: Vec<i64> = from_json(text)?;
    let is_good = |nm: &i64| (0..=LONGEST_SPOOL.nm()).contains(nm);
    match lengths.iter().find(|nm| !is_good(nm)) {
        Some(nm) => Err(damaged("supply.spools", nm)),
        None => Ok(lengths.into_iter().map(Length::from_nm).collect()),
    }
}

fn spools_in(spools: &[Length]) -> StoreResult<String> {
    let lengths: Vec<i64> = spools.iter().map(|spool| spool.nm()).collect();
    to_json(&lengths)
}

/// All supplies by name.
///
/// # Errors
/// When the database fails.
pub async fn list_supplies(db: impl SqliteExecutor<'_>) -> StoreResult<Vec<Saved<BenchSupply>>> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM supply ORDER BY name COLLATE NOCASE, id")
        .fetch_all(db)
        .await?;
    rows.into_iter().map(TryInto::try_into).collect()
}

/// One supply.
///
/// # Errors
/// When the database fails.
pub async fn find_supply(
    db: impl SqliteExecutor<'_>,
    id: i64,
) -> StoreResult<Option<Saved<BenchSupply>>> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM supply WHERE id = ?1")
        .bind(id)
        .fetch_optional(db)
        .await?;
    row.map(TryInto::try_into).transpose()
}

/// Adds a supply and gives its row number; `None` where another one has its name.
///
/// # Errors
/// When the database fails.
pub async fn insert_supply(
    db: impl SqliteExecutor<'_>,
    supply: &BenchSupply,
) -> StoreResult<Option<i64>> {
    let inserted = sqlx::query_scalar(
        "INSERT INTO supply (name, unit, price_minor, on_hand, spools)
         VALUES (?1, ?2, ?3, ?4, ?5) RETURNING id",
    )
    .bind(&supply.name)
    .bind(supply.measured.slug())
    .bind(minor_in(supply.price_minor))
    .bind(supply.on_hand)
    .bind(spools_in(&supply.spools)?)
    .fetch_one(db)
    .await;
    unless_taken(inserted)
}

/// Replaces a supply if it still has that version; `None` where another one has its name. How
/// it is measured stays: pieces rely on it.
///
/// # Errors
/// When the database fails.
pub async fn update_supply(
    db: impl SqliteExecutor<'_>,
    (id, version): (i64, i64),
    supply: &BenchSupply,
) -> StoreResult<Option<Update>> {
    let done = sqlx::query(
        "UPDATE supply SET name = ?3, price_minor = ?4, on_hand = ?5, spools = ?6,
                version = version + 1
         WHERE id = ?1 AND version = ?2",
    )
    .bind(id)
    .bind(version)
    .bind(&supply.name)
    .bind(minor_in(supply.price_minor))
    .bind(supply.on_hand)
    .bind(spools_in(&supply.spools)?)
    .execute(db)
    .await
    .map(|done| Update::of(done.rows_affected()));
    unless_taken(done)
}

/// Projects that a supply is used in.
///
/// # Errors
/// When the database fails.
pub async fn list_uses_of_supply(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<Vec<Use>> {
    sqlx::query_as(
        "SELECT DISTINCT 'project' AS kind, project.id, project.title
         FROM piece_supply
         JOIN piece ON piece.id = piece_supply.piece_id
         JOIN project ON project.id = piece.project_id
         WHERE piece_supply.supply_id = ?1
         UNION
         SELECT 'class', class.id, class.title
         FROM class_money JOIN class ON class.id = class_money.class_id
         WHERE class_money.adhesive_id = ?1
         ORDER BY 1 DESC, 2",
    )
    .bind(id)
    .fetch_all(db)
    .await
}

/// Removes a supply; the table refuses one in use.
///
/// # Errors
/// When the database fails or the supply is in use.
pub async fn delete_supply(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM supply WHERE id = ?1")
        .bind(id)
        .execute(db)
        .await
        .map(drop)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Store;

    #[tokio::test]
    async fn a_ribbon_comes_back_as_it_was_stored() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let mut ribbon = BenchSupply {
            name: "Jute ribbon".to_owned(),
            measured: Measured::Length,
            price_minor: None,
            on_hand: 0,
            spools: vec![Length::from_mm(8_000)],
        };
        let id = insert_supply(&mut *change, &ribbon).await.unwrap().unwrap();
        assert_eq!(insert_supply(&mut *change, &ribbon).await.unwrap(), None);
        ribbon.spools = vec![Length::from_mm(25_000), Length::from_mm(700)];
        let done = update_supply(&mut *change, (id, 1), &ribbon).await.unwrap();
        assert_eq!(done, Some(Update::Done));
        let late = update_supply(&mut *change, (id, 1), &ribbon).await.unwrap();
        assert_eq!(late, Some(Update::Stale));
        let found = find_supply(&mut *change, id).await.unwrap().unwrap();
        assert_eq!(found.it, ribbon);
        assert_eq!(found.stock().spools, ribbon.spools);
        assert_eq!(list_supplies(&mut *change).await.unwrap(), [found]);
        assert!(
            list_uses_of_supply(&mut *change, id)
                .await
                .unwrap()
                .is_empty()
        );
        delete_supply(&mut *change, id).await.unwrap();
        assert!(list_supplies(&mut *change).await.unwrap().is_empty());
    }
}
