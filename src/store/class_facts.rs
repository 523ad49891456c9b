//! A class with its project and everything of the bench that it uses: what a packet is computed
//! from.

use sqlx::SqliteConnection;

use super::StoreResult;
use super::bench::{BenchOffer, BenchPaper, BenchSupply, BenchTool, list_offers};
use super::class_lists::{self, StoredColourway};
use super::class_project::{ClassProject, class_project};
use super::classes::{self, Class};
use super::project_facts::Bench;
use super::saved::{Saved, damaged};
use crate::recipe::ToolKind;
use crate::workshop::{
    Attendee, BroughtBy, ClassFacts, Colourway, Item, ShopPack, StockPaper, SupplyStock, ToolOnDay,
};

/// What the packet of a class is computed from; `None` where there is no such class.
/// Call it in a transaction, so that all of it is of one moment.
///
/// # Errors
/// When the database fails.
pub async fn class_facts(
    db: &mut SqliteConnection,
    class_id: i64,
) -> StoreResult<Option<ClassFacts>> {
    let Some(class) = classes::find_class(&mut *db, class_id).await? else {
        return Ok(None);
    };
    let made = class_project(&mut *db, &class.details).await?;
    let made = made.ok_or_else(|| damaged("class.project_id", class.details.project_id))?;
    let ClassProject {
        facts: project,
        apart,
    } = made;
    let bench = Bench::read(&mut *db).await?;
    let offers = list_offers(&mut *db).await?;
    let colourways = class_lists::list_colourways(&mut *db, class_id).await?;
    let attendees = class_lists::list_attendees(&mut *db, class_id).await?;
    let on_day = class_lists::list_class_tools(&mut *db, class_id).await?;
    let attendees = attendees.into_iter().map(|attendee| Attendee {
        id: attendee.id,
        name: attendee.name,
        colourway: attendee.colourway_id,
    });
    let used: Vec<i64> = project
        .pieces
        .iter()
        .flat_map(|piece| piece.spec.supplies())
        .collect();
    let Class {
        details, cut_plan, ..
    } = class;
    Ok(Some(ClassFacts {
        title: details.title,
        date: details.date,
        starts: details.starts,
        minutes: details.minutes,
        place: details.place,
        colourways: colourways
            .into_iter()
            .map(|colourway| with_papers((&bench, &offers), colourway))
            .collect::<StoreResult<_>>()?,
        attendees: attendees.collect(),
        tools: tools_on_day(&bench.tools, &on_day),
        supplies: supplies(&bench, &used),
        cut_plan,
        project,
        apart,
    }))
}

/// How many of each kind there are on the day: as typed for the class, else as the bench has
/// them. A kind that is nowhere is there 0 times, so that a step that needs it is refused.
#[must_use]
pub fn tools_on_day(bench: &[Saved<BenchTool>], typed: &[ToolOnDay]) -> Vec<ToolOnDay> {
    let of_kind = |kind| {
        let typed = typed.iter().find(|tool| tool.kind == kind);
        typed.cloned().unwrap_or_else(|| on_bench(bench, kind))
    };
    ToolKind::ALL.into_iter().map(of_kind).collect()
}

/// All tools of a kind on the bench; whoever brings most of them is named.
#[must_use]
pub fn on_bench(bench: &[Saved<BenchTool>], kind: ToolKind) -> ToolOnDay {
    let of_kind = || {
        bench
            .iter()
            .map(|tool| &tool.it)
            .filter(|tool| tool.kind == kind)
    };
    let most = of_kind().max_by_key(|tool| tool.count);
    ToolOnDay {
        kind,
        count: of_kind()
            .map(|tool| tool.count)
            .fold(0, u32::saturating_add),
        brought_by: most.map_or(BroughtBy::Instructor, |tool| tool.brought_by),
    }
}

fn with_papers(
    (bench, offers): (&Bench, &[Saved<BenchOffer>]),
    colourway: StoredColourway,
) -> StoreResult<Colourway> {
    let stock = |(role, id): (String, i64)| {
        let paper = bench
            .paper(id)
            .ok_or_else(|| damaged("colourway_paper.paper_id", id))?;
        Ok((role, in_all_sizes(bench, offers, paper)))
    };
    Ok(Colourway {
        id: colourway.id,
        name: colourway.name,
        papers: colourway
            .papers
            .into_iter()
            .map(stock)
            .collect::<StoreResult<_>>()?,
        spare_kits: colourway.spare_kits,
    })
}

/// A paper with its other sizes, in the order of their rows.
fn in_all_sizes(
    bench: &Bench,
    offers: &[Saved<BenchOffer>],
    paper: &Saved<BenchPaper>,
) -> StockPaper {
    let stock = |paper: &Saved<BenchPaper>| StockPaper {
        price_minor: lowest_price(offers, paper),
        ..paper.stock_paper()
    };
    let others = bench.papers.iter();
    let others = others.filter(|it| it.kind() == paper.kind() && it.id != paper.id);
    let mut sizes: Vec<StockPaper> = others.map(stock).collect();
    sizes.sort_by_key(|size| size.id);
    StockPaper {
        sizes,
        ..stock(paper)
    }
}

/// The lowest price of a sheet: its own, or its share of a pack on offer, rounded up.
fn lowest_price(offers: &[Saved<BenchOffer>], paper: &Saved<BenchPaper>) -> Option<u64> {
    let of_paper = offers
        .iter()
        .filter(|offer| offer.it.item == Item::Paper(paper.id));
    let each = |offer: &Saved<BenchOffer>| {
        let offer = &offer.it.offer;
        let ShopPack::Count(sheets) = offer.pack else {
            return None;
        };
        let single = offer.price_minor.div_ceil(sheets.max(1).into());
        let multi = offer.multi.map(|multi| {
            let sheets = u64::from(sheets) * u64::from(multi.packs);
            multi.price_minor.div_ceil(sheets.max(1))
        });
        Some(multi.map_or(single, |multi| multi.min(single)))
    };
    of_paper.filter_map(each).chain(paper.it.price_minor).min()
}

fn supplies(bench: &Bench, used: &[i64]) -> Vec<SupplyStock> {
    let of_project = bench
        .supplies
        .iter()
        .filter(|supply| used.contains(&supply.id));
    of_project.map(Saved::<BenchSupply>::stock).collect()
}

#[cfg(test)]
mod tests {
    use super::super::Store;
    use super::super::class_lists::sample;
    use super::*;
    use crate::store::bench;
    use crate::workshop::{MultiBuy, Offer, packet, plan_now};

    #[tokio::test]
    async fn a_stored_class_has_a_packet_that_balances() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let one = |kind| ToolOnDay {
            kind,
            count: 1,
            brought_by: BroughtBy::Instructor,
        };
        let tools = ToolKind::ALL.map(one);
        class_lists::update_class_tools(&mut change, id, &tools)
            .await
            .unwrap();
        let facts = class_facts(&mut change, id).await.unwrap().unwrap();
        assert_eq!(facts.attendees.len(), 3);
        assert_eq!(facts.colourways[0].spare_kits, 1);
        assert_eq!(facts.supplies.len(), 4);
        let made = packet(&facts, &plan_now).expect("balances");
        assert_eq!(made.packs.len(), 4);
        assert!(class_facts(&mut change, id + 1).await.unwrap().is_none());
    }

    #[tokio::test]
    async fn a_role_brings_all_sizes_of_its_paper_with_their_lowest_prices() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let named = bench::find_paper(&mut *change, 1).await.unwrap().unwrap();
        let mut a4 = named.it.clone();
        (a4.paper.name, a4.price_minor, a4.same_as) = ("A4".to_owned(), None, Some(1));
        let size = bench::insert_paper(&mut *change, &a4).await.unwrap();
        let size = size.unwrap();
        a4.paper.name = "Another paper".to_owned();
        a4.same_as = None;
        bench::insert_paper(&mut *change, &a4).await.unwrap();
        let prices = |facts: &ClassFacts| {
            let stock = &facts.colourways[0].papers["main"];
            let all = stock.all_sizes();
            all.map(|it| (it.id, it.price_minor)).collect::<Vec<_>>()
        };
        let facts = class_facts(&mut change, id).await.unwrap().unwrap();
        assert_eq!(prices(&facts), [(1, Some(60)), (size, None)]);
        // 3 packs of 5 for 2.00 are 13.4 pence a sheet.
        let packs = |paper, price_minor, multi| BenchOffer {
            item: Item::Paper(paper),
            offer: Offer {
                pack: ShopPack::Count(5),
                multi,
                ..Offer::single(price_minor)
            },
        };
        let three = MultiBuy {
            packs: 3,
            price_minor: 200,
        };
        for offer in [packs(size, 90, Some(three)), packs(1, 400, None)] {
            bench::insert_offer(&mut *change, &offer).await.unwrap();
        }
        let facts = class_facts(&mut change, id).await.unwrap().unwrap();
        assert_eq!(prices(&facts), [(1, Some(60)), (size, Some(14))]);
        let main = &facts.colourways[0].papers["main"];
        assert_eq!((main.kind(), main.sizes[0].kind()), (1, 1));
        assert_eq!(main.kind_name(), named.it.paper.name);
    }

    #[tokio::test]
    async fn what_is_typed_for_the_day_comes_before_the_bench() {
        let store = Store::temporary().await.unwrap();
        let id = sample::class(&store).await;
        let mut change = store.change().await.unwrap();
        let typed = ToolOnDay {
            kind: ToolKind::Scissors,
            count: 5,
            brought_by: BroughtBy::Venue,
        };
        class_lists::update_class_tools(&mut change, id, std::slice::from_ref(&typed))
            .await
            .unwrap();
        let facts = class_facts(&mut change, id).await.unwrap().unwrap();
        let of = |kind| facts.tools.iter().find(|tool| tool.kind == kind).unwrap();
        assert_eq!(of(ToolKind::Scissors), &typed);
        assert!(of(ToolKind::PunchBoard).count > 0, "from the bench");
        assert_eq!(of(ToolKind::CornerRounder).count, 0, "nowhere");
    }
}
