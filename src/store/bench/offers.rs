//! What shops ask for papers and supplies.

use sqlx::{FromRow, SqliteExecutor};
use tablefold_geometry::Length;

use crate::store::StoreResult;
use crate::store::saved::{Saved, Update, count, damaged, minor, minor_in};
use crate::workshop::{Item, LONGEST_SPOOL, MultiBuy, Offer, ShopPack};

/// An offer of the bench.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BenchOffer {
    /// What is offered.
    pub item: Item,
    /// Shop, pack, price.
    pub offer: Offer,
}

#[derive(FromRow)]
struct Row {
    id: i64,
    version: i64,
    paper_id: Option<i64>,
    supply_id: Option<i64>,
    shop: String,
    pack: Option<i64>,
    spool_nm: Option<i64>,
    price_minor: i64,
    multi_packs: Option<i64>,
    multi_minor: Option<i64>,
}

impl TryFrom<Row> for Saved<BenchOffer> {
    type Error = sqlx::Error;

    fn try_from(row: Row) -> StoreResult<Self> {
        let item = match (row.paper_id, row.supply_id) {
            (Some(paper), _) => Item::Paper(paper),
            (None, Some(supply)) => Item::Supply(supply),
            (None, None) => return Err(damaged("offer.paper_id", "nothing")),
        };
        let pack = match (row.pack, row.spool_nm) {
            (Some(pack), _) => ShopPack::Count(count("offer.pack", pack)?),
            (None, Some(nm)) if nm > 0 && nm <= LONGEST_SPOOL.nm() => {
                ShopPack::Spool(Length::from_nm(nm))
            }
            (None, nm) => return Err(damaged("offer.spool_nm", nm.unwrap_or(0))),
        };
        let price = |column, value| minor(column, Some(value)).map(Option::unwrap_or_default);
        let multi = match (row.multi_packs, row.multi_minor) {
            (Some(packs), Some(together)) => Some(MultiBuy {
                packs: count("offer.multi_packs", packs)?,
                price_minor: price("offer.multi_minor", together)?,
            }),
            _ => None,
        };
        Ok(Self {
            id: row.id,
            version: row.version,
            it: BenchOffer {
                item,
                offer: Offer {
                    shop: row.shop,
                    pack,
                    price_minor: price("offer.price_minor", row.price_minor)?,
                    multi,
                },
            },
        })
    }
}

/// Columns of a pack: a count or a length in nm.
fn pack_in(pack: ShopPack) -> (Option<u32>, Option<i64>) {
    match pack {
        ShopPack::Count(count) => (Some(count), None),
        ShopPack::Spool(length) => (None, Some(length.nm())),
        // Off the reel is the price of a metre, which stands at the supply.
        ShopPack::Metre => (None, Some(1_000_000_000)),
    }
}

/// All offers, by shop and price.
///
/// # Errors
/// When the database fails.
pub async fn list_offers(db: impl SqliteExecutor<'_>) -> StoreResult<Vec<Saved<BenchOffer>>> {
    let rows: Vec<Row> =
        sqlx::query_as("SELECT * FROM offer ORDER BY shop COLLATE NOCASE, price_minor, id")
            .fetch_all(db)
            .await?;
    rows.into_iter().map(TryInto::try_into).collect()
}

/// The offers for one thing, by shop and price.
///
/// # Errors
/// When the database fails.
pub async fn list_offers_of(
    db: impl SqliteExecutor<'_>,
    item: Item,
) -> StoreResult<Vec<Saved<BenchOffer>>> {
    let all = list_offers(db).await?;
    Ok(all
        .into_iter()
        .filter(|offer| offer.it.item == item)
        .collect())
}

/// One offer.
///
/// # Errors
/// When the database fails.
pub async fn find_offer(
    db: impl SqliteExecutor<'_>,
    id: i64,
) -> StoreResult<Option<Saved<BenchOffer>>> {
    let row: Option<Row> = sqlx::query_as("SELECT * FROM offer WHERE id = ?1")
        .bind(id)
        .fetch_optional(db)
        .await?;
    row.map(TryInto::try_into).transpose()
}

/// Adds an offer and gives its row number.
///
/// # Errors
/// When the database fails, or what is offered does not exist.
pub async fn insert_offer(db: impl SqliteExecutor<'_>, offer: &BenchOffer) -> StoreResult<i64> {
    let (paper, supply) = match offer.item {
        Item::Paper(id) => (Some(id), None),
        Item::Supply(id) => (None, Some(id)),
    };
    let (pack, spool) = pack_in(offer.offer.pack);
    let multi = offer.offer.multi;
    sqlx::query_scalar(
        "INSERT INTO offer (paper_id, supply_id, shop, pack, spool_nm, price_minor, multi_packs,
                            multi_minor)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) RETURNING id",
    )
    .bind(paper)
    .bind(supply)
    .bind(&offer.offer.shop)
    .bind(pack)
    .bind(spool)
    .bind(minor_in(Some(offer.offer.price_minor)))
    .bind(multi.map(|multi| multi.packs))
    .bind(minor_in(multi.map(|multi| multi.price_minor)))
    .fetch_one(db)
    .await
}

/// Replaces an offer if it still has that version. What is offered stays.
///
/// # Errors
/// When the database fails.
pub async fn update_offer(
    db: impl SqliteExecutor<'_>,
    (id, version): (i64, i64),
    offer: &Offer,
) -> StoreResult<Update> {
    let (pack, spool) = pack_in(offer.pack);
    let done = sqlx::query(
        "UPDATE offer SET shop = ?3, pack = ?4, spool_nm = ?5, price_minor = ?6, multi_packs = ?7,
                multi_minor = ?8, version = version + 1
         WHERE id = ?1 AND version = ?2",
    )
    .bind(id)
    .bind(version)
    .bind(&offer.shop)
    .bind(pack)
    .bind(spool)
    .bind(minor_in(Some(offer.price_minor)))
    .bind(offer.multi.map(|multi| multi.packs))
    .bind(minor_in(offer.multi.map(|multi| multi.price_minor)))
    .execute(db)
    .await?;
    Ok(Update::of(done.rows_affected()))
}

/// Removes an offer.
///
/// # Errors
/// When the database fails.
pub async fn delete_offer(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<()> {
    sqlx::query("DELETE FROM offer WHERE id = ?1")
        .bind(id)
        .execute(db)
        .await
        .map(drop)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Store;
    use crate::store::projects::tests::filled;

    fn offer(item: Item, pack: ShopPack, multi: Option<MultiBuy>) -> BenchOffer {
        BenchOffer {
            item,
            offer: Offer {
                shop: "Paper stall".to_owned(),
                pack,
                price_minor: 450,
                multi,
            },
        }
    }

    #[tokio::test]
    async fn offers_come_back_as_they_were_stored() {
        let store = Store::temporary().await.unwrap();
        filled(&store).await;
        let mut change = store.change().await.unwrap();
        let multi = MultiBuy {
            packs: 3,
            price_minor: 900,
        };
        let pack = offer(Item::Paper(1), ShopPack::Count(10), Some(multi));
        let spool = ShopPack::Spool(Length::from_mm(25_000));
        let spool = offer(Item::Supply(1), spool, None);
        let first = insert_offer(&mut *change, &pack).await.unwrap();
        insert_offer(&mut *change, &spool).await.unwrap();
        let of_paper = list_offers_of(&mut *change, Item::Paper(1)).await.unwrap();
        assert_eq!(of_paper.len(), 1);
        assert_eq!(of_paper[0].it, pack);
        let of_supply = list_offers_of(&mut *change, Item::Supply(1)).await.unwrap();
        assert_eq!(of_supply[0].it, spool);
        assert_eq!(list_offers(&mut *change).await.unwrap().len(), 2);

        let cheaper = Offer {
            price_minor: 400,
            multi: None,
            ..pack.offer
        };
        let update = update_offer(&mut *change, (first, 1), &cheaper).await;
        assert_eq!(update.unwrap(), Update::Done);
        let update = update_offer(&mut *change, (first, 1), &cheaper).await;
        assert_eq!(update.unwrap(), Update::Stale);
        let found = find_offer(&mut *change, first).await.unwrap().unwrap();
        assert_eq!(found.it.offer, cheaper);
        delete_offer(&mut *change, first).await.unwrap();
        assert_eq!(find_offer(&mut *change, first).await.unwrap(), None);
    }

    #[tokio::test]
    async fn an_offer_for_nothing_is_refused() {
        let store = Store::temporary().await.unwrap();
        let mut change = store.change().await.unwrap();
        let nothing = offer(Item::Paper(77), ShopPack::Count(1), None);
        assert!(insert_offer(&mut *change, &nothing).await.is_err());
    }
}
