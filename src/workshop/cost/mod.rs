//! What a class costs and earns.
//!
//! - Paper: every sheet that the plan takes, off-cuts too, is shared among the parts cut from
//!   that paper, whichever its size, by their area.
//! - Ribbon, adhesive and counted things: what is used, or whole packs; every kit the same.
//! - A price of one is what is paid now, pack price over pack size; for what is only taken from
//!   the shelf it is the lowest on offer.
//! - Tools are not counted. Amounts stay exact fractions; each is rounded once, when shown.

use std::collections::BTreeMap;

use super::class_money::{Bought, Consumables};
use super::facts::ClassFacts;
use super::money::Amount;
use super::offers::{Item, Offer, Pack};
use super::packet::Packet;
use super::pull::{PaperPull, kits_by_colourway};
use super::purchases::{Buying, Need, Quantity};
use super::shopping::{ShoppingLine, shopping};
use crate::recipe::PartKind;

/// What one thing costs the class.
#[derive(Clone, Debug, PartialEq)]
pub struct MaterialCost {
    /// What it is called.
    pub name: String,
    /// How much of it is used.
    pub used: Quantity,
    /// What that costs; `None` where no price is known.
    pub cost: Option<Amount>,
}

/// What a kit of one colourway costs.
#[derive(Clone, Debug, PartialEq)]
pub struct KitCost {
    /// The colourway's name.
    pub name: String,
    /// Kits of it, spares included.
    pub kits: u32,
    /// Its paper.
    pub paper: Amount,
    /// Everything else in it.
    pub rest: Amount,
}

impl KitCost {
    /// One kit.
    #[must_use]
    pub fn kit(&self) -> Amount {
        self.paper.clone() + self.rest.clone()
    }
}

/// From how many attendees on the fee covers everything.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BreakEven {
    /// The fee is not known.
    NoFee,
    /// The fee does not even cover a kit.
    Never,
    /// From so many.
    At(u64),
}

/// What a class costs and earns.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// Everything that is used.
    pub materials: Vec<MaterialCost>,
    /// A kit of each colourway.
    pub kits: Vec<KitCost>,
    /// Names of what has no price: then every cost is a least one.
    pub unpriced: Vec<String>,
    /// All materials.
    pub material: Amount,
    /// Kits of attendees, on average.
    pub mean_kit: Amount,
    /// Spare kits, all together.
    pub spares: Amount,
    /// The venue.
    pub venue: Amount,
    /// Prep and class as they are planned, in minutes.
    pub planned_minutes: u32,
    /// Own minutes that count.
    pub own_minutes: u32,
    /// What they cost.
    pub time: Amount,
    /// Materials, venue, time.
    pub total: Amount,
    /// What is paid at shops now; the rest stays on the bench.
    pub spent: Amount,
    /// Fee times attendees.
    pub income: Option<Amount>,
    /// Income less total: negative is a loss.
    pub result: Option<Amount>,
    /// When the fee covers everything.
    pub break_even: BreakEven,
    /// The lowest fee that covers everything, in minor units.
    pub covering_fee: i64,
    /// The lowest fee of which the wanted margin stays, in minor units.
    pub margin_fee: Option<i64>,
}

/// What a class costs and earns.
#[must_use]
pub fn cost(class: &ClassFacts, packet: &Packet, bought: &Bought) -> Cost {
    let lines = shopping(packet, bought);
    let materials: Vec<(Item, MaterialCost)> = lines
        .iter()
        .map(|line| (line.item, material(line, bought)))
        .collect();
    let kits = kits(class, packet, &materials);
    let attending = |id: i64| {
        class
            .attendees
            .iter()
            .filter(|it| it.colourway == id)
            .count() as u64
    };
    let attendees = class.attendees.len() as u64;
    let taught: Amount = kits
        .iter()
        .map(|(id, kit)| kit.kit().times(attending(*id)))
        .sum();
    let material: Amount = materials.iter().filter_map(|(_, it)| it.cost.clone()).sum();
    let spares = material.clone() - taught.clone();
    let money = &bought.money;
    let venue = Amount::minor(money.venue_minor.unwrap_or(0));
    let planned = packet.prep.minutes().saturating_add(class.minutes);
    let own_minutes = money.own_minutes.unwrap_or(planned);
    let time = Amount::minor(money.rate_minor.unwrap_or(0)).share(own_minutes.into(), 60);
    let total = material.clone() + venue.clone() + time.clone();
    let mean_kit = taught.share(1, attendees.into());
    let fee = money.fee_minor.map(Amount::minor);
    let income = fee.as_ref().map(|fee| fee.times(attendees));
    let fixed = spares.clone() + venue.clone() + time.clone();
    Cost {
        unpriced: unpriced(&lines, &materials),
        kits: kits.into_iter().map(|(_, kit)| kit).collect(),
        break_even: break_even(fee, &mean_kit, &fixed),
        covering_fee: total.share(1, attendees.into()).rounded_up(),
        margin_fee: money
            .margin
            .map(|margin| margin_fee(&total, attendees, margin)),
        result: income.clone().map(|income| income - total.clone()),
        income,
        spent: spent(&lines),
        materials: materials.into_iter().map(|(_, it)| it).collect(),
        material,
        mean_kit,
        spares,
        venue,
        planned_minutes: planned,
        own_minutes,
        time,
        total,
    }
}

fn spent(lines: &[ShoppingLine]) -> Amount {
    let price = |line: &ShoppingLine| match &line.buying {
        Buying::Buy(purchase) => Amount::minor(purchase.price_minor),
        _ => Amount::default(),
    };
    lines.iter().map(price).sum()
}

/// What has no price, to use or to buy, each name once.
fn unpriced(lines: &[ShoppingLine], materials: &[(Item, MaterialCost)]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for (line, (_, material)) in lines.iter().zip(materials) {
        if (line.is_unpriced() || material.cost.is_none()) && !names.contains(&line.name) {
            names.push(line.name.clone());
        }
    }
    names
}

fn break_even(fee: Option<Amount>, mean_kit: &Amount, fixed: &Amount) -> BreakEven {
    let Some(fee) = fee else {
        return BreakEven::NoFee;
    };
    let stays = fee - mean_kit.clone();
    match fixed.over_rounded_up(&stays) {
        Some(attendees) => BreakEven::At(attendees.max(1)),
        None => BreakEven::Never,
    }
}

/// Rounded up, so that the margin is reached and not just missed.
fn margin_fee(total: &Amount, attendees: u64, margin: u32) -> i64 {
    let stays = u128::from(100_u32.saturating_sub(margin).max(1));
    total.share(100, stays * u128::from(attendees)).rounded_up()
}

fn material(line: &ShoppingLine, bought: &Bought) -> MaterialCost {
    let used = line.need.used();
    let offers = bought.offers.of(line.item);
    let whole_packs =
        matches!(line.item, Item::Supply(_)) && bought.money.consumables == Consumables::Pack;
    let cost = if used.is_nothing() {
        Some(Amount::default())
    } else {
        used_cost(&line.need, &line.buying, offers, whole_packs)
    };
    MaterialCost {
        name: line.name.clone(),
        used,
        cost,
    }
}

fn used_cost(need: &Need, buying: &Buying, offers: &[Offer], whole_packs: bool) -> Option<Amount> {
    let used = units(need.used());
    let (Buying::Buy(purchase), false) = (buying, used == 0) else {
        return Some(lowest(need, offers)?.at(used));
    };
    let paid = Amount::minor(purchase.price_minor);
    let bought = units(purchase.bought);
    if whole_packs {
        let from_shelf = used.saturating_sub(units(need.missing()));
        return Some(paid.clone() + paid.share(from_shelf, bought));
    }
    Some(paid.share(used, bought))
}

/// A price for so many units: sheets, things, or nanometres.
struct Rate {
    price: Amount,
    units: u128,
}

impl Rate {
    fn at(&self, units: u128) -> Amount {
        self.price.share(units, self.units)
    }
}

/// The lowest price of one on offer.
fn lowest(need: &Need, offers: &[Offer]) -> Option<Rate> {
    let is_counted = matches!(need, Need::Count { .. });
    let size = |offer: &Offer| match offer.pack {
        Pack::Count(count) if is_counted => Some(u128::from(count)),
        Pack::Spool(length) if !is_counted => u128::try_from(length.nm()).ok(),
        Pack::Metre if !is_counted => Some(1_000_000_000),
        _ => None,
    };
    let rates = offers.iter().filter_map(|offer| {
        let size = size(offer)?;
        let single = Rate {
            price: Amount::minor(offer.price_minor),
            units: size,
        };
        let multi = offer.multi.map(|multi| Rate {
            price: Amount::minor(multi.price_minor),
            units: size * u128::from(multi.packs),
        });
        Some(std::iter::once(single).chain(multi))
    });
    rates.flatten().min_by_key(|rate| rate.at(1))
}

fn units(quantity: Quantity) -> u128 {
    match quantity {
        Quantity::Count(count) => count.into(),
        Quantity::Length(length) => u128::try_from(length.nm()).unwrap_or(0),
    }
}

/// A kit of each colourway that has one, by row number.
fn kits(
    class: &ClassFacts,
    packet: &Packet,
    materials: &[(Item, MaterialCost)],
) -> Vec<(i64, KitCost)> {
    let kits = kits_by_colourway(class);
    let all: u32 = kits.values().sum();
    let areas: BTreeMap<i64, BTreeMap<i64, u128>> = class
        .colourways
        .iter()
        .map(|colourway| (colourway.id, areas(packet, colourway)))
        .collect();
    let kits_of = |colourway: i64| kits.get(&colourway).copied().unwrap_or(0);
    let mut rest = Amount::default();
    let mut paper: BTreeMap<i64, Amount> = BTreeMap::new();
    for (item, material) in materials {
        let Some(cost) = &material.cost else { continue };
        let Item::Paper(id) = item else {
            rest += cost.share(1, all.into());
            continue;
        };
        let of_size = |paper: &&PaperPull| paper.sizes.iter().any(|size| size.id == *id);
        let paper_of = packet.pull.papers.iter().find(of_size).map(|it| it.id);
        let kind = paper_of.unwrap_or(*id);
        let area = |colourway: &i64| areas[colourway].get(&kind).copied().unwrap_or(0);
        let whole: u128 = areas
            .keys()
            .map(|of| area(of) * u128::from(kits_of(*of)))
            .sum();
        for colourway in areas.keys() {
            *paper.entry(*colourway).or_default() += cost.share(area(colourway), whole);
        }
    }
    let with_kits = class
        .colourways
        .iter()
        .filter(|colourway| kits_of(colourway.id) > 0);
    let kit = |colourway: &super::facts::Colourway| KitCost {
        name: colourway.name.clone(),
        kits: kits_of(colourway.id),
        paper: paper.get(&colourway.id).cloned().unwrap_or_default(),
        rest: rest.clone(),
    };
    with_kits
        .map(|colourway| (colourway.id, kit(colourway)))
        .collect()
}

/// Area of a kit's parts on each paper, nm².
fn areas(packet: &Packet, colourway: &super::facts::Colourway) -> BTreeMap<i64, u128> {
    let mut areas = BTreeMap::new();
    for part in &packet.recipe.parts {
        let PartKind::Cut {
            role,
            width,
            height,
        } = &part.kind
        else {
            continue;
        };
        let side = |length: &tablefold_geometry::Length| u128::try_from(length.nm()).unwrap_or(0);
        if let Some(stock) = colourway.papers.get(role) {
            *areas.entry(stock.kind()).or_default() +=
                side(width) * side(height) * u128::from(part.per_kit);
        }
    }
    areas
}

#[cfg(test)]
mod tests;
