//! Costs of the seed-swap evening.

use super::*;
use crate::demo;
use crate::workshop::{ClassMoney, packet, plan_now};
use tablefold_geometry::Length;

/// Every paper 60, everything else with a price too.
fn priced(money: ClassMoney) -> Bought {
    let mut bought = Bought {
        money,
        ..Bought::default()
    };
    for paper in 1..=7 {
        bought.offers.add(Item::Paper(paper), Offer::single(60));
    }
    for supply in [1, 3, 4] {
        bought.offers.add(Item::Supply(supply), Offer::single(25));
    }
    let ribbon = Offer {
        pack: Pack::Spool(Length::from_mm(10_000)),
        ..Offer::single(300)
    };
    bought.offers.add(Item::Supply(2), ribbon);
    bought
}

fn of(attendees: usize, bought: &Bought) -> Cost {
    let class = demo::class(attendees);
    let packet = packet(&class, &plan_now).expect("balances");
    cost(&class, &packet, bought)
}

#[test]
fn kits_add_up_to_exactly_what_all_materials_cost() {
    for attendees in [1, 2, 14, 40] {
        for consumables in Consumables::ALL {
            let money = ClassMoney {
                consumables,
                ..ClassMoney::default()
            };
            let cost = of(attendees, &priced(money));
            let kits: Amount = cost
                .kits
                .iter()
                .map(|kit| kit.kit().times(kit.kits.into()))
                .sum();
            assert_eq!(kits, cost.material, "{attendees} attendees");
            assert!(cost.unpriced.is_empty(), "{:?}", cost.unpriced);
        }
    }
}

/// By hand: every sheet that the plan takes costs 60, whichever part lies on it.
#[test]
fn paper_costs_what_the_plan_takes_off_cuts_too() {
    let class = demo::class(14);
    let packet = packet(&class, &plan_now).expect("balances");
    let cost = cost(&class, &packet, &priced(ClassMoney::default()));
    let sheets: u64 = packet
        .pull
        .papers
        .iter()
        .map(|paper| u64::from(paper.sheets()))
        .sum();
    let paper: Amount = cost
        .kits
        .iter()
        .map(|kit| kit.paper.times(kit.kits.into()))
        .sum();
    assert_eq!(paper, Amount::minor(60 * sheets));
}

/// 17 tins at 25; 17 pieces of ribbon from spools of 10 m at 300: by use their length, by pack
/// the spools that are bought and what comes from the shelf.
#[test]
fn consumables_cost_what_is_used_or_whole_packs() {
    let ribbon = |consumables| {
        let money = ClassMoney {
            consumables,
            ..ClassMoney::default()
        };
        let cost = of(14, &priced(money));
        let tins = cost.materials.iter().find(|it| it.name == "Round seed tin");
        assert_eq!(
            tins.and_then(|it| it.cost.clone()),
            Some(Amount::minor(17 * 25))
        );
        let ribbon = cost.materials.iter().find(|it| it.name == "Jute ribbon");
        let ribbon = ribbon.expect("used").clone();
        let Quantity::Length(length) = ribbon.used else {
            panic!("a length")
        };
        (ribbon.cost.expect("priced"), length)
    };
    let (used, length) = ribbon(Consumables::Use);
    let rate = Amount::minor(300).share(1, 10_000_000_000);
    assert_eq!(used, rate.times(length.nm() as u64));
    let (packs, _) = ribbon(Consumables::Pack);
    assert!(packs > Amount::minor(300) && packs > used, "{packs:?}");
}

#[test]
fn a_price_that_is_missing_is_named_and_the_rest_still_adds_up() {
    let mut bought = Bought::default();
    bought.offers.add(Item::Supply(1), Offer::single(25));
    let cost = of(14, &bought);
    assert_eq!(cost.material, Amount::minor(17 * 25));
    assert_eq!(cost.unpriced.len(), cost.materials.len() - 1);
    assert!(!cost.unpriced.contains(&"Round seed tin".to_owned()));
}

/// By hand: 90 minutes at 20.00 an hour are 30.00; with 50.00 for the venue and no materials 80.00
/// in all, 5.714... for each of 14.
#[test]
fn fee_margin_and_break_even_follow_from_what_it_costs() {
    let money = ClassMoney {
        fee_minor: Some(800),
        margin: Some(20),
        venue_minor: Some(5000),
        rate_minor: Some(2000),
        own_minutes: Some(90),
        ..ClassMoney::default()
    };
    let bought = Bought {
        money,
        ..Bought::default()
    };
    let cost = of(14, &bought);
    assert_eq!(cost.total, Amount::minor(8000));
    assert_eq!(cost.covering_fee, 572);
    assert_eq!(cost.break_even, BreakEven::At(10));
    assert_eq!(cost.result, Some(Amount::minor(3200)));
    // 7.15 x 14 = 100.10, of which a fifth is 20.02 and 20.10 stays; 7.14 leaves too little.
    assert_eq!(cost.margin_fee, Some(715));
}

#[test]
fn a_fee_below_a_kit_never_covers_the_class() {
    let money = |fee| ClassMoney {
        fee_minor: fee,
        ..ClassMoney::default()
    };
    assert_eq!(
        of(14, &priced(money(Some(10)))).break_even,
        BreakEven::Never
    );
    assert_eq!(of(14, &priced(money(None))).break_even, BreakEven::NoFee);
    let without_rate = of(14, &priced(money(None)));
    assert_eq!(without_rate.time, Amount::default());
    assert!(without_rate.own_minutes > 120, "prep and class");
}

/// The fee that covers the class leaves nothing and loses nothing, for any number of attendees.
#[test]
fn the_covering_fee_is_the_lowest_that_loses_nothing() {
    for attendees in [1, 3, 14, 40] {
        let with_fee = |fee| {
            let money = ClassMoney {
                fee_minor: u64::try_from(fee).ok(),
                venue_minor: Some(3333),
                ..ClassMoney::default()
            };
            of(attendees, &priced(money))
        };
        let fee = with_fee(0).covering_fee;
        assert!(with_fee(fee).result >= Some(Amount::default()));
        assert!(with_fee(fee - 1).result < Some(Amount::default()));
        let BreakEven::At(n) = with_fee(fee).break_even else {
            panic!("covered")
        };
        assert!(n <= attendees as u64, "{n} of {attendees}");
    }
}
