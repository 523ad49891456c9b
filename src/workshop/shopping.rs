//! The shopping list: what a packet needs, what is there, and what to buy for least money.

use tablefold_geometry::Length;

use super::class_money::{AdhesiveStock, Bought};
use super::offers::Item;
use super::packet::Packet;
use super::purchases::{Buying, Need};
use crate::recipe::ToolKind;

/// One thing that a class needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShoppingLine {
    /// Which.
    pub item: Item,
    /// What it is called.
    pub name: String,
    /// How much is needed, and what is there.
    pub need: Need,
    /// What to buy.
    pub buying: Buying,
}

impl ShoppingLine {
    /// Whether nobody can say what buying it costs.
    #[must_use]
    pub const fn is_unpriced(&self) -> bool {
        matches!(
            self.buying,
            Buying::NoOffer | Buying::TooShort | Buying::TooMany
        )
    }
}

/// What a packet needs: papers, ribbons, counted things, adhesive.
#[must_use]
pub fn shopping(packet: &Packet, bought: &Bought) -> Vec<ShoppingLine> {
    let line = |(item, name, need): (Item, String, Need)| ShoppingLine {
        buying: need.buy(bought.offers.of(item)),
        item,
        name,
        need,
    };
    needs(packet, bought).into_iter().map(line).collect()
}

fn needs(packet: &Packet, bought: &Bought) -> Vec<(Item, String, Need)> {
    let pull = &packet.pull;
    let sizes = pull.papers.iter().flat_map(|paper| paper.taken());
    let papers = sizes.map(|(size, take)| {
        let need = Need::Count {
            need: take,
            on_hand: size.on_hand,
        };
        (Item::Paper(size.id), size.paper.name.clone(), need)
    });
    let ribbons = pull.ribbons.iter().map(|ribbon| {
        let need = Need::Pieces {
            pieces: ribbon.pieces(),
            spools: ribbon.spools.clone(),
        };
        (Item::Supply(ribbon.supply), ribbon.name.clone(), need)
    });
    let counted = pull.counted.iter().map(|thing| {
        let need = Need::Count {
            need: thing.total(),
            on_hand: thing.on_hand,
        };
        (Item::Supply(thing.supply), thing.name.clone(), need)
    });
    let mut needs: Vec<_> = papers.chain(ribbons).chain(counted).collect();
    if let Some(stock) = &bought.adhesive {
        add_adhesive(&mut needs, packet, stock, bought.money.dots_apart);
    }
    needs
}

fn add_adhesive(
    needs: &mut Vec<(Item, String, Need)>,
    packet: &Packet,
    stock: &AdhesiveStock,
    apart: Length,
) {
    let item = Item::Supply(stock.id);
    let listed = needs.iter_mut().find(|(other, ..)| *other == item);
    let is_listed = listed.is_some();
    if stock.by_length {
        let need = Need::Joined {
            need: Length::from_nm((packet.tape_mm * 1e6).ceil() as i64),
            // What is there serves the pieces that must not be joined first.
            on_hand: if is_listed {
                Length::ZERO
            } else {
                stock.on_hand_length
            },
        };
        needs.push((item, stock.name.clone(), need));
        return;
    }
    let dots = dots(packet, apart);
    match listed {
        Some((.., Need::Count { need, .. })) => *need = need.saturating_add(dots),
        _ => {
            let need = Need::Count {
                need: dots,
                on_hand: stock.on_hand,
            };
            needs.push((item, stock.name.clone(), need));
        }
    }
}

/// Dots for all kits, where tape would go: a step's joints count as one line, with a dot at each end and the others
/// at most `apart`.
fn dots(packet: &Packet, apart: Length) -> u32 {
    let steps = packet.recipe.steps.iter().filter(|step| !step.hidden);
    let steps = steps.filter(|step| step.operation.tool == Some(ToolKind::Tape));
    let lines = steps
        .map(|step| step.operation.adhesive_mm)
        .filter(|mm| *mm > 0.0);
    let apart = apart.mm().max(1.0);
    // A hair of float error must not add a dot.
    let one = lines.map(|mm| 1 + (mm / apart - 1e-9).ceil().max(0.0) as u64);
    let all = one.sum::<u64>().saturating_mul(packet.packs.len() as u64);
    u32::try_from(all).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::purchases::Quantity;
    use crate::workshop::{Offer, packet, plan_now};

    fn line(lines: &[ShoppingLine], item: Item) -> &ShoppingLine {
        lines.iter().find(|line| line.item == item).expect("listed")
    }

    fn stock(id: i64, by_length: bool) -> AdhesiveStock {
        AdhesiveStock {
            id,
            name: "Joint tape".to_owned(),
            by_length,
            on_hand: 0,
            on_hand_length: Length::from_mm(1000),
        }
    }

    #[test]
    fn what_is_there_is_not_bought_and_what_has_no_price_is_named() {
        let packet = packet(&demo::class(14), &plan_now).expect("balances");
        let mut bought = Bought::default();
        bought.offers.add(Item::Supply(1), Offer::single(120));
        let lines = shopping(&packet, &bought);
        let tins = line(&lines, Item::Supply(1));
        let Buying::Buy(purchase) = &tins.buying else {
            panic!("{tins:?}")
        };
        // 17 kits, 10 tins are there.
        assert_eq!(purchase.price_minor, 7 * 120);
        assert_eq!(line(&lines, Item::Supply(3)).buying, Buying::Nothing);
        assert!(
            line(&lines, Item::Supply(4)).is_unpriced(),
            "12 of 17 stickers"
        );
        assert!(line(&lines, Item::Supply(2)).is_unpriced(), "ribbon");
        for paper in &packet.pull.papers {
            let listed = line(&lines, Item::Paper(paper.id));
            assert_eq!(listed.need.used(), Quantity::Count(paper.sheets().into()));
        }
    }

    #[test]
    fn tape_is_as_long_as_all_joints_and_dots_are_counted() {
        let packet = packet(&demo::class(14), &plan_now).expect("balances");
        let with = |adhesive| Bought {
            adhesive: Some(adhesive),
            ..Bought::default()
        };
        let lines = shopping(&packet, &with(stock(9, true)));
        let Need::Joined { need, .. } = line(&lines, Item::Supply(9)).need else {
            panic!("tape")
        };
        assert!((need.mm() - packet.tape_mm).abs() < 1e-3);
        let lines = shopping(&packet, &with(stock(9, false)));
        let Quantity::Count(dots) = line(&lines, Item::Supply(9)).need.used() else {
            panic!("dots")
        };
        let at_least = (packet.tape_mm / 25.0) as u64;
        assert!((at_least..at_least + 17 * 12).contains(&dots), "{dots}");
        // Dots that a kit holds as well are counted once.
        let lines = shopping(&packet, &with(stock(4, false)));
        assert_eq!(
            lines
                .iter()
                .filter(|line| line.item == Item::Supply(4))
                .count(),
            1
        );
        assert_eq!(
            line(&lines, Item::Supply(4)).need.used(),
            Quantity::Count(dots + 17)
        );
    }
}
