//! Papers, with what is on hand.

use sqlx::{FromRow, SqliteExecutor};
use tablefold_geometry::{Paper, Stock, caliper_estimate};

use super::Use;
use crate::store::saved::{Saved, Update, count, from_word, length, minor, minor_in, to_word};
use crate::store::{StoreResult, unless_taken};
use crate::workshop::StockPaper;

/// A paper of the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchPaper {
    /// The sheet.
    pub paper: Paper,
    /// Price of one sheet, in minor units.
    pub price_minor: Option<u64>,
    /// Sheets on hand.
    pub on_hand: u32,
    /// Row number of the paper that it is another size of; that one is nobody's other size.
    pub same_as: Option<i64>,
}

impl BenchPaper {
    /// The sheet as sizing takes it.
    #[must_use]
    pub fn stock(&self) -> Stock {
        Stock {
            name: self.paper.name.clone(),
            width: self.paper.width,
            height: self.paper.height,
            price: self.price_minor,
            turnable: self.paper.turnable(),
        }
    }

    /// Whether the caliper is what the grammage suggests, and not measured.
    #[must_use]
    pub fn is_estimate(&self) -> bool {
        self.paper.gsm.map(caliper_estimate) == Some(self.paper.caliper)
    }
}

impl Saved<BenchPaper> {
    /// The paper as a class takes it, in this size alone.
    #[must_use]
    pub fn stock_paper(&self) -> StockPaper {
        StockPaper {
            id: self.id,
            paper: self.it.paper.clone(),
            price_minor: self.it.price_minor,
            on_hand: self.it.on_hand,
            same_as: self.it.same_as,
            sizes: Vec::new(),
        }
    }

    /// Row number that stands for the paper in all its sizes.
    #[must_use]
    pub fn kind(&self) -> i64 {
        self.it.same_as.unwrap_or(self.id)
    }
}

#[derive(FromRow)]
struct Row {
    id: i64,
    version: i64,
    name: String,
    width_nm: i64,
    height_nm: i64,
    gsm: Option<f64>,
    caliper_nm: i64,
    grain: String,
    direction: String,
    faces: String,
    price_minor: Option<i64>,
    on_hand: i64,
    same_as: Option<i64>,
}

impl TryFrom<Row> for Saved<BenchPaper> {
    type Error = sqlx::Error;

    fn try_from(row: Row) -> StoreResult<Self> {
        let paper = Paper {
            name: row.name,
            width: length("paper.width_nm", row.width_nm)?,
            height: length("paper.height_nm", row.height_nm)?,
            gsm: row.gsm,
            caliper: length("paper.caliper_nm", row.caliper_nm)?,
            grain: from_word(row.grain)?,
            direction: from_word(row.direction)?,
            faces: from_word(row.faces)?,
        };
        Ok(Self {
            id: row.id,
            version: row.version,
            it: BenchPaper {
                paper,
                price_minor: minor("paper.price_minor", row.price_minor)?,
                on_hand: count("paper.on_hand", row.on_hand)?,
                same_as: row.same_as,
            },
        })
    }
}

/// All papers by name.
///
/// # Errors
/// When the database fails.
pub async fn list_papers(db: impl SqliteExecutor<'_>) -> StoreResult<Vec<Saved<BenchPaper>>> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM paper ORDER BY name COLLATE NOCASE, id")
        .fetch_all(db)
        .await?;
    rows.into_iter().map(TryInto::try_into).collect()
}

/// One paper.
///
/// # Errors
/// When the database fails.
pub async fn find_paper(
    db: impl SqliteExecutor<'_>,
    id: i64,
) -> StoreResult<Option<Saved<BenchPaper>>> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM paper WHERE id = ?1")
        .bind(id)
        .fetch_optional(db)
        .await?;
    row.map(TryInto::try_into).transpose()
}

/// Adds a paper and gives its row number; `None` where another one has its name.
///
/// # Errors
/// When the database fails.
pub async fn insert_paper(
    db: impl SqliteExecutor<'_>,
    paper: &BenchPaper,
) -> StoreResult<Option<i64>> {
    let sheet = &paper.paper;
    let inserted = sqlx::query_scalar(
        "INSERT INTO paper (name, width_nm, height_nm, gsm, caliper_nm, grain, direction, faces,
                            price_minor, on_hand, same_as)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11) RETURNING id",
    )
    .bind(&sheet.name)
    .bind(sheet.width.nm())
    .bind(sheet.height.nm())
    .bind(sheet.gsm)
    .bind(sheet.caliper.nm())
    .bind(to_word(&sheet.grain)?)
    .bind(to_word(&sheet.direction)?)
    .bind(to_word(&sheet.faces)?)
    .bind(minor_in(paper.price_minor))
    .bind(paper.on_hand)
    .bind(paper.same_as)
    .fetch_one(db)
    .await;
    unless_taken(inserted)
}

/// Replaces a paper if it still has that version; `None` where another one has its name.
///
/// # Errors
/// When the database fails.
pub async fn update_paper(
    db: impl SqliteExecutor<'_>,
    (id, version): (i64, i64),
    paper: &BenchPaper,
) -> StoreResult<Option<Update>> {
    let sheet = &paper.paper;
    let done = sqlx::query(
        "UPDATE paper SET name = ?3, width_nm = ?4, height_nm = ?5, gsm = ?6, caliper_nm = ?7,
                grain = ?8, direction = ?9, faces = ?10, price_minor = ?11, on_hand = ?12,
                same_as = ?13, version = version + 1
         WHERE id = ?1 AND version = ?2",
    )
    .bind(id)
    .bind(version)
    .bind(&sheet.name)
    .bind(sheet.width.nm())
    .bind(sheet.height.nm())
    .bind(sheet.gsm)
    .bind(sheet.caliper.nm())
    .bind(to_word(&sheet.grain)?)
    .bind(to_word(&sheet.direction)?)
    .bind(to_word(&sheet.faces)?)
    .bind(minor_in(paper.price_minor))
    .bind(paper.on_hand)
    .bind(paper.same_as)
    .execute(db)
    .await
    .map(|done| Update::of(done.rows_affected()));
    unless_taken(done)
}

/// Gives a paper's other sizes its thickness and, where it is known, its weight.
///
/// # Errors
/// When the database fails.
pub async fn update_other_sizes(
    db: impl SqliteExecutor<'_>,
    id: i64,
    paper: &BenchPaper,
) -> StoreResult<()> {
    sqlx::query(
        "UPDATE paper SET caliper_nm = ?2, gsm = COALESCE(?3, gsm), version = version + 1
         WHERE same_as = ?1 AND (caliper_nm <> ?2 OR gsm IS NOT COALESCE(?3, gsm))",
    )
    .bind(id)
    .bind(paper.paper.caliper.nm())
    .bind(paper.paper.gsm)
    .execute(db)
    .await
    .map(drop)
}

/// The paper of that name.
///
/// # Errors
/// When the database fails.
pub async fn find_paper_named(
    db: impl SqliteExecutor<'_>,
    name: &str,
) -> StoreResult<Option<Saved<BenchPaper>>> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM paper WHERE name = ?1")
        .bind(name)
        .fetch_optional(db)
        .await?;
    row.map(TryInto::try_into).transpose()
}

/// Puts so many sheets of a paper on the shelf, at most a million in all.
///
/// # Errors
/// When the database fails.
pub async fn update_on_hand(db: impl SqliteExecutor<'_>, id: i64, more: u32) -> StoreResult<()> {
    sqlx::query(
        "UPDATE paper SET on_hand = MAX(on_hand, MIN(on_hand + ?2, 1000000)),
                version = version + 1
         WHERE id = ?1",
    )
    .bind(id)
    .bind(more)
    .execute(db)
    .await
    .map(drop)
}

/// Projects, classes and other sizes that a paper is used in.
///
/// # Errors
/// When the database fails.
pub async fn list_uses_of_paper(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<Vec<Use>> {
    sqlx::query_as(
        "SELECT DISTINCT 'project' AS kind, project.id, project.title
         FROM piece JOIN project ON project.id = piece.project_id WHERE piece.paper_id = ?1
         UNION
         SELECT DISTINCT 'class', class.id, class.title
         FROM colourway_paper
         JOIN colourway ON colourway.id = colourway_paper.colourway_id
         JOIN class ON class.id = colourway.class_id
         WHERE colourway_paper.paper_id = ?1
         UNION
         SELECT 'paper', id, name FROM paper WHERE same_as = ?1
         ORDER BY 1 DESC, 2",
    )
    .bind(id)
    .fetch_all(db)
    .await
}

/// Removes a paper; the table refuses one in use.
///
/// # Errors
/// When the database fails or the paper is in use.
pub async fn delete_paper(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM paper WHERE id = ?1")
        .bind(id)
        .execute(db)
        .await
        .map(drop)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::store::Store;
    use tablefold_geometry::{Faces, Grain, PatternDirection};

    fn moss() -> BenchPaper {
        let mut paper = demo::project().pieces.remove(0).paper;
        paper.name = "Moss 🌱".to_owned();
        paper.grain = Grain::AlongHeight;
        paper.direction = PatternDirection::OneWay;
        paper.faces = Faces::OneSided;
        BenchPaper {
            paper,
            price_minor: Some(45),
            on_hand: 12,
            same_as: None,
        }
    }

    #[tokio::test]
    async fn a_paper_comes_back_as_it_was_stored() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let id = insert_paper(&mut *change, &moss()).await.unwrap().unwrap();
        let found = find_paper(&mut *change, id).await.unwrap().unwrap();
        assert_eq!(found.it, moss());
        assert_eq!(list_papers(&mut *change).await.unwrap(), [found]);
        delete_paper(&mut *change, id).await.unwrap();
        assert!(list_papers(&mut *change).await.unwrap().is_empty());
    }

    #[tokio::test]
    async fn sheets_that_come_back_count_as_a_save() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let id = insert_paper(&mut *change, &moss()).await.unwrap().unwrap();
        update_on_hand(&mut *change, id, 5).await.unwrap();
        let found = find_paper_named(&mut *change, "Moss 🌱").await.unwrap();
        let found = found.unwrap();
        assert_eq!((found.id, found.version, found.it.on_hand), (id, 2, 17));
        update_on_hand(&mut *change, id, u32::MAX).await.unwrap();
        let found = find_paper(&mut *change, id).await.unwrap().unwrap();
        assert_eq!(found.it.on_hand, 1_000_000);
        assert_eq!(find_paper_named(&mut *change, "Moss").await.unwrap(), None);
    }

    #[tokio::test]
    async fn a_paper_keeps_its_other_sizes_and_they_its_thickness() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let id = insert_paper(&mut *change, &moss()).await.unwrap().unwrap();
        let mut small = moss();
        small.paper.name = "Moss A4".to_owned();
        small.same_as = Some(id);
        let size = insert_paper(&mut *change, &small).await.unwrap().unwrap();
        let found = find_paper(&mut *change, size).await.unwrap().unwrap();
        assert_eq!((&found.it, found.kind()), (&small, id));
        let uses = list_uses_of_paper(&mut *change, id).await.unwrap();
        let uses: Vec<_> = uses.iter().map(|it| (&*it.kind, &*it.title)).collect();
        assert_eq!(uses, [("paper", "Moss A4")]);
        assert!(delete_paper(&mut *change, id).await.is_err());
        // Nothing to give: no save that would make an open form stale.
        update_other_sizes(&mut *change, id, &moss()).await.unwrap();
        let mut thick = moss();
        thick.paper.caliper = tablefold_geometry::Length::from_nm(310_000);
        thick.paper.gsm = None;
        for versions in [2, 2] {
            update_other_sizes(&mut *change, id, &thick).await.unwrap();
            let found = find_paper(&mut *change, size).await.unwrap().unwrap();
            assert_eq!(found.version, versions);
            assert_eq!(found.it.paper.caliper, thick.paper.caliper);
            assert_eq!(found.it.paper.gsm, small.paper.gsm);
        }
        small.same_as = Some(size);
        assert!(
            update_paper(&mut *change, (size, 2), &small).await.is_err(),
            "itself"
        );
    }

    #[tokio::test]
    async fn two_papers_never_share_a_name() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        insert_paper(&mut *change, &moss()).await.unwrap().unwrap();
        assert_eq!(insert_paper(&mut *change, &moss()).await.unwrap(), None);
        let mut clay = moss();
        clay.paper.name = "Clay".to_owned();
        let id = insert_paper(&mut *change, &clay).await.unwrap().unwrap();
        assert_eq!(
            update_paper(&mut *change, (id, 1), &moss()).await.unwrap(),
            None
        );
        clay.on_hand = 3;
        let done = update_paper(&mut *change, (id, 1), &clay).await.unwrap();
        assert_eq!(done, Some(Update::Done));
        let late = update_paper(&mut *change, (id, 1), &clay).await.unwrap();
        assert_eq!(late, Some(Update::Stale));
    }
}
