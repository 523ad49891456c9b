//! What a class earns and what it costs beside paper and supplies; and everything that its costs
//! are computed from.

use sqlx::{FromRow, SqliteConnection, SqliteExecutor};
use tablefold_geometry::Length;

use super::StoreResult;
use super::bench::{self, Measured};
use super::project_facts::Bench;
use super::saved::{Update, count, damaged, length, minor, minor_in};
use crate::workshop::{AdhesiveStock, Bought, ClassMoney, Consumables, Item, Offer, Offers};

#[derive(FromRow)]
struct Row {
    version: i64,
    fee_minor: Option<i64>,
    margin: Option<i64>,
    venue_minor: Option<i64>,
    rate_minor: Option<i64>,
    own_minutes: Option<i64>,
    consumables: String,
    adhesive_id: Option<i64>,
    dots_apart_nm: i64,
}

impl Row {
    fn read(self) -> StoreResult<(ClassMoney, i64)> {
        let whole =
            |column: &str, value: Option<i64>| value.map(|value| count(column, value)).transpose();
        let money = ClassMoney {
            fee_minor: minor("class_money.fee_minor", self.fee_minor)?,
            margin: whole("class_money.margin", self.margin)?,
            venue_minor: minor("class_money.venue_minor", self.venue_minor)?,
            rate_minor: minor("class_money.rate_minor", self.rate_minor)?,
            own_minutes: whole("class_money.own_minutes", self.own_minutes)?,
            consumables: Consumables::from_slug(&self.consumables)
                .ok_or_else(|| damaged("class_money.consumables", &self.consumables))?,
            adhesive: self.adhesive_id,
            dots_apart: length("class_money.dots_apart_nm", self.dots_apart_nm)?,
        };
        Ok((money, self.version))
    }
}

/// What was saved for a class and its version; the defaults and 0 where nothing was.
///
/// # Errors
/// When the database fails.
pub async fn find_class_money(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
) -> StoreResult<(ClassMoney, i64)> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM class_money WHERE class_id = ?1")
        .bind(class_id)
        .fetch_optional(db)
        .await?;
    row.map_or_else(|| Ok((ClassMoney::default(), 0)), Row::read)
}

/// Saves it if it still has that version; version 0 is the first save.
///
/// # Errors
/// When the database fails, or the class or the adhesive does not exist.
pub async fn update_class_money(
    db: impl SqliteExecutor<'_>,
    (class_id, version): (i64, i64),
    money: &ClassMoney,
) -> StoreResult<Update> {
    // The first save inserts, a later one updates, and one that is stale does neither.
    let done = sqlx::query(
        "INSERT INTO class_money (class_id, fee_minor, margin, venue_minor, rate_minor,
                                  own_minutes, consumables, adhesive_id, dots_apart_nm)
         SELECT ?1, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10
         WHERE ?2 = 0 OR EXISTS (SELECT 1 FROM class_money WHERE class_id = ?1)
         ON CONFLICT (class_id) DO UPDATE SET
             fee_minor = excluded.fee_minor, margin = excluded.margin,
             venue_minor = excluded.venue_minor, rate_minor = excluded.rate_minor,
             own_minutes = excluded.own_minutes, consumables = excluded.consumables,
             adhesive_id = excluded.adhesive_id, dots_apart_nm = excluded.dots_apart_nm,
             version = version + 1
         WHERE version = ?2",
    )
    .bind(class_id)
    .bind(version)
    .bind(minor_in(money.fee_minor))
    .bind(money.margin)
    .bind(minor_in(money.venue_minor))
    .bind(minor_in(money.rate_minor))
    .bind(money.own_minutes)
    .bind(money.consumables.slug())
    .bind(money.adhesive)
    .bind(money.dots_apart.nm())
    .execute(db)
    .await?;
    Ok(Update::of(done.rows_affected()))
}

/// Prices and stock that a class's purchases and costs are computed from. Call it in a
/// transaction, so that all of it is of one moment.
///
/// # Errors
/// When the database fails.
pub async fn bought(db: &mut SqliteConnection, class_id: i64) -> StoreResult<Bought> {
    let (money, _) = find_class_money(&mut *db, class_id).await?;
    let bench = Bench::read(&mut *db).await?;
    let offers = bench::list_offers(&mut *db).await?;
    let adhesive = bench
        .supplies
        .iter()
        .find(|it| Some(it.id) == money.adhesive);
    Ok(Bought {
        adhesive: adhesive.map(|supply| AdhesiveStock {
            id: supply.id,
            name: supply.it.name.clone(),
            by_length: supply.it.measured == Measured::Length,
            on_hand: supply.it.on_hand,
            on_hand_length: supply.it.spools.iter().copied().sum::<Length>(),
        }),
        offers: all_offers(&bench, offers),
        money,
    })
}

/// The offers, and every plain price as another one.
fn all_offers(bench: &Bench, stored: Vec<super::Saved<bench::BenchOffer>>) -> Offers {
    let mut offers = Offers::default();
    for offer in stored {
        offers.add(offer.it.item, offer.it.offer);
    }
    for paper in &bench.papers {
        if let Some(price) = paper.it.price_minor {
            offers.add(Item::Paper(paper.id), Offer::single(price));
        }
    }
    for supply in &bench.supplies {
        if let Some(price) = supply.it.price_minor {
            let offer = match supply.it.measured {
                Measured::Each => Offer::single(price),
                Measured::Length => Offer::by_the_metre(price),
            };
            offers.add(Item::Supply(supply.id), offer);
        }
    }
    offers
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::super::class_lists::sample;
    use super::*;

    #[tokio::test]
    async fn the_first_save_inserts_and_a_stale_one_changes_nothing() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let (nothing, version) = find_class_money(&mut *change, id).await.unwrap();
        assert_eq!((nothing, version), (ClassMoney::default(), 0));
        let money = ClassMoney {
            fee_minor: Some(1200),
            margin: Some(20),
            venue_minor: Some(3000),
            rate_minor: None,
            own_minutes: Some(90),
            consumables: Consumables::Pack,
            adhesive: Some(1),
            dots_apart: Length::from_mm(20),
        };
        for (version, expected) in [
            (3, Update::Stale),
            (0, Update::Done),
            (0, Update::Stale),
            (1, Update::Done),
        ] {
            let done = update_class_money(&mut *change, (id, version), &money).await;
            assert_eq!(done.unwrap(), expected, "version {version}");
        }
        assert_eq!(
            find_class_money(&mut *change, id).await.unwrap(),
            (money, 2)
        );
    }

    #[tokio::test]
    async fn a_plain_price_counts_as_an_offer_and_tape_is_found_on_the_bench() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let money = ClassMoney {
            adhesive: Some(1),
            ..ClassMoney::default()
        };
        update_class_money(&mut *change, (id, 0), &money)
            .await
            .unwrap();
        let bought = bought(&mut change, id).await.unwrap();
        assert_eq!(bought.offers.of(Item::Paper(1)), [Offer::single(60)]);
        assert_eq!(bought.adhesive.map(|stock| stock.id), Some(1));
        let uses = bench::list_uses_of_supply(&mut *change, 1).await.unwrap();
        assert!(uses.iter().any(|used| used.kind == "class"), "{uses:?}");
    }
}
