//! Published revisions: the facts of a class, frozen as JSON with a version.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use sqlx::{FromRow, SqliteConnection, SqliteExecutor};

use super::{StoreResult, from_text, to_text};
use crate::workshop::{ClassFacts, PlanChoice};

/// A published revision.
#[derive(Clone, Debug, PartialEq)]
pub struct Revision {
    /// Row id.
    pub id: i64,
    /// From 1.
    pub number: u32,
    /// When it was published.
    pub published_at: Timestamp,
    /// What was published.
    pub facts: ClassFacts,
}

/// The form in which facts are frozen: a later form is a later variant, old rows stay readable.
#[derive(Serialize, Deserialize)]
#[serde(tag = "version")]
enum Frozen {
    #[serde(rename = "1")]
    V1(Box<ClassFacts>),
}

#[derive(FromRow)]
struct RevisionRow {
    id: i64,
    number: u32,
    published_at: String,
    facts: String,
}

impl RevisionRow {
    fn read(self) -> StoreResult<Revision> {
        Ok(Revision {
            id: self.id,
            number: self.number,
            published_at: from_text(&self.published_at)?,
            facts: thawed(&self.facts)?,
        })
    }
}

/// The newest revision of a class.
///
/// # Errors
/// When the database fails, or a newer Tablefold wrote the row.
pub async fn find_newest_revision(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
) -> StoreResult<Option<Revision>> {
    let row: Option<RevisionRow> = sqlx::query_as(
        "SELECT id, number, published_at, facts FROM revision
         WHERE class_id = ?1 ORDER BY number DESC LIMIT 1",
    )
    .bind(class_id)
    .fetch_optional(db)
    .await?;
    row.map(RevisionRow::read).transpose()
}

/// One revision.
///
/// # Errors
/// When the database fails, or a newer Tablefold wrote the row.
pub async fn find_revision(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<Option<Revision>> {
    let row: Option<RevisionRow> =
        sqlx::query_as("SELECT id, number, published_at, facts FROM revision WHERE id = ?1")
            .bind(id)
            .fetch_optional(db)
            .await?;
    row.map(RevisionRow::read).transpose()
}

/// Freezes facts as the next revision of a class and gives its number. Joins the transaction in
/// which the facts were read, so that no save comes between.
///
/// # Errors
/// When the database fails.
pub async fn insert_revision(
    db: &mut SqliteConnection,
    class_id: i64,
    facts: &ClassFacts,
    now: Timestamp,
) -> StoreResult<u32> {
    sqlx::query_scalar(
        "INSERT INTO revision (class_id, number, published_at, facts)
         VALUES (?1, (SELECT COALESCE(MAX(number), 0) + 1 FROM revision WHERE class_id = ?1),
                 ?2, ?3)
         RETURNING number",
    )
    .bind(class_id)
    .bind(to_text(now))
    .bind(frozen(facts)?)
    .fetch_one(db)
    .await
}

/// Whether a revision says the same as the class does now. Stock, prices and how sheets are cut
/// are the instructor's own: they change no card and no list that a link shows.
///
/// # Errors
/// When the facts do not survive JSON, which is a fault of ours.
pub fn is_current(revision: &Revision, now: &ClassFacts) -> StoreResult<bool> {
    // Both went through JSON, so a float that prints short compares equal.
    let now = thawed(&frozen(now)?)?;
    Ok(without_stock(now) == without_stock(revision.facts.clone()))
}

fn without_stock(mut facts: ClassFacts) -> ClassFacts {
    let papers = facts
        .colourways
        .iter_mut()
        .flat_map(|c| c.papers.values_mut());
    for stock in papers {
        stock.on_hand = 0;
        stock.price_minor = None;
        stock.sizes.clear();
    }
    for sheet in facts.project.pieces.iter_mut().flat_map(|p| &mut p.sheets) {
        sheet.price = None;
    }
    facts.supplies.clear();
    facts.cut_plan = PlanChoice::default();
    facts.project.trimmer = facts.project.trimmer.taking(1);
    facts
}

fn frozen(facts: &ClassFacts) -> StoreResult<String> {
    let frozen = Frozen::V1(Box::new(facts.clone()));
    serde_json::to_string(&frozen).map_err(|error| sqlx::Error::Encode(Box::new(error)))
}

fn thawed(text: &str) -> StoreResult<ClassFacts> {
    let Frozen::V1(facts) =
        serde_json::from_str(text).map_err(|error| sqlx::Error::Decode(Box::new(error)))?;
    Ok(*facts)
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::super::class_lists::sample;
    use super::*;
    use crate::demo::class;

    #[tokio::test]
    async fn frozen_facts_come_back_and_numbers_count_up() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let facts = class(3);
        let now: Timestamp = "2026-11-20T09:30:00Z".parse().unwrap();
        assert!(
            find_newest_revision(&mut *change, id)
                .await
                .unwrap()
                .is_none()
        );
        for number in 1..=3 {
            let made = insert_revision(&mut change, id, &facts, now).await.unwrap();
            assert_eq!(made, number);
        }
        let newest = find_newest_revision(&mut *change, id)
            .await
            .unwrap()
            .unwrap();
        assert_eq!((newest.number, newest.published_at), (3, now));
        assert_eq!(newest.facts, facts);
        let same = find_revision(&mut *change, newest.id).await.unwrap();
        assert_eq!(same, Some(newest));
    }

    #[tokio::test]
    async fn stock_and_prices_make_no_new_revision_but_a_name_does() {
        let facts = class(3);
        let revision = Revision {
            id: 1,
            number: 1,
            published_at: Timestamp::UNIX_EPOCH,
            facts: facts.clone(),
        };
        let mut stocked = facts.clone();
        for stock in stocked
            .colourways
            .iter_mut()
            .flat_map(|c| c.papers.values_mut())
        {
            stock.on_hand += 5;
            stock.price_minor = Some(7);
        }
        assert!(is_current(&revision, &stocked).unwrap());
        let mut renamed = facts;
        renamed.attendees[0].name.push('a');
        assert!(!is_current(&revision, &renamed).unwrap());
    }
}
