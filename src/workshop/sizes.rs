//! The sheets that one paper may be cut from: its sizes, on hand and in the shop.
//!
//! The rule of cost: what is on hand is used up before anything is bought; of what is bought the
//! least money is spent, or the least area taken where the price of a size is not known. So one
//! bought sheet counts more than all that is on hand together, which counts by its area.

use std::cmp::Reverse;

use tablefold_geometry::{CutPart, CutStock, Grain, Length, Paper, PatternDirection, Plan};

use super::facts::StockPaper;

/// A plan takes 50 sheets at most, and each size may be two: on hand and bought.
const MOST_SIZES: usize = 24;

/// How finely sheets on hand are told apart by their area.
const AREA_LEVELS: u64 = 10;

/// The most that a sheet may count: with more, the planner's lists of mixes take too long.
const MOST_COST: u64 = 50_000;

/// Sheets of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetPull {
    /// Row number.
    pub id: i64,
    /// The sheet as it lies when it is cut.
    pub paper: Paper,
    /// It lies a quarter turned, so that the grain of all sizes runs the same way.
    pub is_turned: bool,
    /// Sheets on hand.
    pub on_hand: u32,
    /// Price of one sheet, in minor units.
    pub price_minor: Option<u64>,
    /// Whether more can be had: its price is known, or a colourway names it.
    pub is_sold: bool,
}

impl SheetPull {
    /// Of so many sheets to take, those that are not on hand.
    #[must_use]
    pub const fn buy(&self, take: u32) -> u32 {
        take.saturating_sub(self.on_hand)
    }
}

/// What the cost of a plan counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlanCost {
    /// Sheets: there is one size.
    Sheets,
    /// What is bought, in steps; less than a step is what is taken from the shelf.
    Bought {
        /// One step.
        step: u64,
        /// By price; else by area, because a price is missing.
        by_price: bool,
        /// The steps are true to the prices or areas, and not rounded.
        is_exact: bool,
    },
}

impl PlanCost {
    /// What of a cost is bought, in steps; all of it where sheets are counted.
    #[must_use]
    pub fn bought(self, cost: u64) -> u64 {
        match self {
            Self::Sheets => cost,
            Self::Bought { step, .. } => cost / step.max(1),
        }
    }
}

/// The sizes of a paper as the planner is asked about them.
pub(super) struct Sizes {
    pub(super) sheets: Vec<SheetPull>,
    /// The planner turns a part on all sheets or on none: the strictest size decides.
    pub(super) turnable: bool,
    pub(super) stock: Vec<CutStock>,
    /// Index of the size, for each stock.
    size_of: Vec<usize>,
    pub(super) counts: PlanCost,
}

impl Sizes {
    /// The sizes worth a look for these parts; `named` are those that colourways ask for.
    pub(super) fn new(sizes: &[StockPaper], named: &[i64], parts: &[CutPart]) -> Self {
        let is_named = |size: &StockPaper| named.contains(&size.id);
        // What costs nothing is not for sale: it was paid before.
        let is_priced = |size: &StockPaper| size.price_minor.is_some_and(|price| price > 0);
        let there = |size: &&StockPaper| is_named(size) || is_priced(size) || size.on_hand > 0;
        let there: Vec<&StockPaper> = sizes.iter().filter(there).collect();
        let turnable = there.iter().all(|size| size.paper.turnable());
        let grain = main_grain(there.iter().filter(|size| is_named(size)).chain(&there));
        let sheet = |size: &StockPaper| {
            let (paper, is_turned) = laid(&size.paper, grain);
            SheetPull {
                id: size.id,
                paper,
                is_turned,
                on_hand: size.on_hand,
                price_minor: size.price_minor,
                is_sold: is_named(size) || is_priced(size),
            }
        };
        let useful =
            |sheet: &SheetPull| named.contains(&sheet.id) || enough(sheet, parts, turnable) > 0;
        let mut sheets: Vec<SheetPull> = there.into_iter().map(sheet).filter(useful).collect();
        sheets.sort_by_key(|s| (!named.contains(&s.id), Reverse(area(&s.paper)), s.id));
        sheets.truncate(MOST_SIZES);
        Self::counted(sheets, turnable, parts)
    }

    fn counted(sheets: Vec<SheetPull>, turnable: bool, parts: &[CutPart]) -> Self {
        let mut sizes = Self {
            sheets,
            turnable,
            stock: Vec::new(),
            size_of: Vec::new(),
            counts: PlanCost::Sheets,
        };
        if let [only] = sizes.sheets.as_slice() {
            let only = stock(only, 1, None);
            sizes.add(0, only);
            return sizes;
        }
        let of_use = |sheet: &SheetPull| sheet.on_hand.min(enough(sheet, parts, turnable));
        let on_hand: Vec<u32> = sizes.sheets.iter().map(of_use).collect();
        let (shelf, step) = shelf_costs(&sizes.sheets, &on_hand);
        let (bought, by_price, is_exact) = bought_costs(&sizes.sheets, step);
        for (index, sheet) in sizes.sheets.clone().iter().enumerate() {
            if on_hand[index] > 0 {
                sizes.add(index, stock(sheet, shelf[index], Some(on_hand[index])));
            }
            if sheet.is_sold {
                sizes.add(index, stock(sheet, bought[index], None));
            }
        }
        sizes.counts = PlanCost::Bought {
            step,
            by_price,
            is_exact,
        };
        sizes
    }

    fn add(&mut self, size: usize, stock: CutStock) {
        self.size_of.push(size);
        self.stock.push(stock);
    }

    /// The plan with the number of the size in place of the stock's: sheets that are cut alike
    /// are one pattern, whether they are on hand or bought.
    pub(super) fn by_size(&self, mut plan: Plan) -> Plan {
        let found = std::mem::take(&mut plan.sheets);
        for mut sheets in found {
            sheets.stock = self.size_of.get(sheets.stock).copied().unwrap_or(0);
            let alike = plan.sheets.iter_mut().find(|other| {
                (other.stock, &other.placed, &other.cuts)
                    == (sheets.stock, &sheets.placed, &sheets.cuts)
            });
            match alike {
                Some(other) => other.count = other.count.saturating_add(sheets.count),
                None => plan.sheets.push(sheets),
            }
        }
        plan.sheets
            .sort_by_key(|sheets| (sheets.stock, Reverse(sheets.count)));
        plan.cost = self.cost(&plan);
        plan
    }

    /// What a plan by size counts, with all that is on hand taken first.
    fn cost(&self, plan: &Plan) -> u64 {
        let mut left = vec![0_u64; self.sheets.len()];
        for sheets in &plan.sheets {
            left[sheets.stock] += u64::from(sheets.count);
        }
        // The sheets on hand of a size come before those to buy.
        let cost = self.stock.iter().zip(&self.size_of).map(|(stock, &size)| {
            let used = stock
                .available
                .map_or(left[size], |there| left[size].min(there.into()));
            left[size] -= used;
            used.saturating_mul(stock.cost)
        });
        cost.fold(0, u64::saturating_add)
    }
}

fn stock(sheet: &SheetPull, cost: u64, available: Option<u32>) -> CutStock {
    CutStock {
        name: sheet.paper.name.clone(),
        width: sheet.paper.width,
        height: sheet.paper.height,
        cost,
        available,
    }
}

/// The grain that parts are laid out for.
fn main_grain<'p>(mut sizes: impl Iterator<Item = &'p &'p StockPaper>) -> Grain {
    let known = sizes.find(|size| size.paper.grain != Grain::Unknown);
    known.map_or(Grain::Unknown, |size| size.paper.grain)
}

/// The sheet with its grain along the others', and whether it had to be turned a quarter. A
/// print with an up stays upright.
fn laid(paper: &Paper, grain: Grain) -> (Paper, bool) {
    let across = grain != Grain::Unknown && paper.grain != Grain::Unknown && paper.grain != grain;
    if !across || paper.direction == PatternDirection::OneWay {
        return (paper.clone(), false);
    }
    let turned = Paper {
        width: paper.height,
        height: paper.width,
        grain,
        ..paper.clone()
    };
    (turned, true)
}

/// How many of a part lie on a sheet in rows and columns.
fn holds(sheet: &SheetPull, part: &CutPart, turnable: bool) -> u64 {
    let along = |whole: Length, one: Length| (whole.nm() / one.nm().max(1)).max(0) as u64;
    let grid = |width: Length, height: Length| {
        along(sheet.paper.width, width) * along(sheet.paper.height, height)
    };
    let turned = if turnable {
        grid(part.height, part.width)
    } else {
        0
    };
    grid(part.width, part.height).max(turned)
}

/// So many sheets hold all parts that fit: no plan needs more of them.
fn enough(sheet: &SheetPull, parts: &[CutPart], turnable: bool) -> u32 {
    let sheets = |part: &CutPart| match holds(sheet, part, turnable) {
        0 => 0,
        each => u64::from(part.quantity).div_ceil(each),
    };
    let all = parts.iter().map(sheets).fold(0, u64::saturating_add);
    u32::try_from(all).unwrap_or(u32::MAX)
}

/// Whole square millimetres, 1 at least.
fn area(paper: &Paper) -> u64 {
    let side = |length: Length| u128::from(length.nm().unsigned_abs());
    let mm2 = (side(paper.width) * side(paper.height)).div_ceil(1_000_000_000_000);
    u64::try_from(mm2).unwrap_or(u64::MAX).max(1)
}

/// What a sheet on hand counts, size by size, and a step: more than all of them together.
fn shelf_costs(sheets: &[SheetPull], on_hand: &[u32]) -> (Vec<u64>, u64) {
    let on_hand = on_hand.iter().map(|&sheets| u64::from(sheets));
    let count: u64 = on_hand.clone().sum();
    // Many sheets are told apart less finely, so that prices stay within the planner's numbers.
    let levels = (MOST_COST / 20 / count.max(1)).clamp(1, AREA_LEVELS);
    let largest = sheets.iter().map(|sheet| area(&sheet.paper)).max();
    let cost = |sheet: &SheetPull| share(area(&sheet.paper), levels, largest.unwrap_or(1));
    let costs: Vec<u64> = sheets.iter().map(cost).collect();
    let all: u64 = on_hand.zip(&costs).map(|(count, cost)| count * cost).sum();
    (costs, 1 + all)
}

/// What a bought sheet counts, size by size; whether that is by price, and whether it is exact.
fn bought_costs(sheets: &[SheetPull], step: u64) -> (Vec<u64>, bool, bool) {
    let sold = || sheets.iter().filter(|sheet| sheet.is_sold);
    let by_price = sold().all(|sheet| sheet.price_minor.is_some());
    let worth = |sheet: &SheetPull| {
        let price = sheet.price_minor.filter(|_| by_price);
        price.map_or_else(|| area(&sheet.paper), |price| price.max(1))
    };
    let unit = sold().map(worth).fold(0, gcd).max(1);
    let most = sold().map(worth).max().unwrap_or(1);
    let steps = (MOST_COST / step).max(1);
    let is_exact = most / unit <= steps;
    let cost = |sheet: &SheetPull| {
        let steps = if is_exact {
            worth(sheet) / unit
        } else {
            share(worth(sheet), steps, most)
        };
        steps.max(1).saturating_mul(step)
    };
    (sheets.iter().map(cost).collect(), by_price, is_exact)
}

/// `part` of `whole` in so many levels, rounded up: 1 at least.
fn share(part: u64, levels: u64, whole: u64) -> u64 {
    let levels = (u128::from(part) * u128::from(levels)).div_ceil(u128::from(whole.max(1)));
    u64::try_from(levels).unwrap_or(u64::MAX).max(1)
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
