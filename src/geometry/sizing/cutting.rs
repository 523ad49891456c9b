//! How many sheets a class is cut from, where a piece takes one blank or several.
//!
//! Of one blank the count is exact for one kind of sheet: as many blanks a sheet as edge-to-edge
//! cuts give. Of several blanks it is safe, not exact: the lesser of two plans that can be cut.
//! Either every sheet gives whole sets, the blanks parted by straight cuts from edge to edge; or
//! each blank is cut from sheets of its own and what is left over of each shares sheets in the
//! same way. A better plan may exist; the cut planner finds it for the class.

use super::Stock;
use super::yields::Yield;
use crate::Length;

/// The stock that a class is cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Cutting {
    /// Place in the list of stocks.
    pub(super) stock: usize,
    /// Sheets for all makes.
    pub(super) sheets: u32,
    /// Their price together, if known.
    pub(super) cost: Option<u64>,
    /// Pieces a sheet, for each stock.
    pub(super) per_sheet: Vec<u32>,
    /// For each blank: blanks a sheet, for each stock.
    pub(super) of_each: Vec<Vec<u32>>,
}

impl Cutting {
    /// What is compared: fewer sheets, then lower cost. An unknown price counts as the highest.
    pub(super) fn rank(&self) -> (u32, u64) {
        (self.sheets, self.cost.unwrap_or(u64::MAX))
    }

    /// The cheapest way to cut all makes from one kind of sheet; `None` where some blank is
    /// larger than every sheet. Equal ones: the first in the list.
    pub(super) fn best(stocks: &[Stock], blanks: &[(Length, Length)], makes: u32) -> Option<Self> {
        let mut on: Vec<OnStock> = stocks.iter().map(|it| OnStock::of(it, blanks)).collect();
        let per_sheet = on.iter_mut().map(OnStock::sets).collect();
        let of_each = (0..blanks.len())
            .map(|blank| on.iter().map(|it| it.count(blank)).collect())
            .collect();
        let mut best: Option<(u32, Option<u64>, usize)> = None;
        let cost = |cost: Option<u64>| cost.unwrap_or(u64::MAX);
        for (index, (stock, on)) in stocks.iter().zip(&mut on).enumerate() {
            let Some(sheets) = on.sheets(makes) else {
                continue;
            };
            let price = stock.price;
            let price = price.and_then(|price| price.checked_mul(sheets.into()));
            if best.is_none_or(|best| (sheets, cost(price)) < (best.0, cost(best.1))) {
                best = Some((sheets, price, index));
            }
        }
        let (sheets, cost, stock) = best?;
        Some(Self {
            stock,
            sheets,
            cost,
            per_sheet,
            of_each,
        })
    }
}

/// The paper in some blanks, nm².
pub(super) fn area(blanks: &[(Length, Length)]) -> i128 {
    let area = |blank: &(Length, Length)| i128::from(blank.0.nm()) * i128::from(blank.1.nm());
    blanks.iter().map(area).sum()
}

/// The blanks of one piece on one kind of sheet.
struct OnStock {
    sheet: (i64, i64),
    yields: Vec<Yield>,
    /// Blanks a sheet, each alone.
    each: Vec<u32>,
    /// Sets a sheet, once counted.
    sets: Option<u32>,
}

impl OnStock {
    fn of(stock: &Stock, blanks: &[(Length, Length)]) -> Self {
        let sheet = (stock.width.nm(), stock.height.nm());
        let mut yields: Vec<Yield> = blanks.iter().map(|it| Yield::of(stock, *it)).collect();
        let each = yields.iter_mut().map(|it| it.most(sheet)).collect();
        Self {
            sheet,
            yields,
            each,
            sets: None,
        }
    }

    fn count(&self, blank: usize) -> u32 {
        self.each.get(blank).copied().unwrap_or(0)
    }

    /// Whole sets from one sheet.
    fn sets(&mut self) -> u32 {
        if let Some(sets) = self.sets {
            return sets;
        }
        let most = self.each.iter().copied().min().unwrap_or(0);
        let sets = if self.yields.len() < 2 {
            most
        } else {
            let blanks = self.yields.len();
            let more = (1..=most).take_while(|sets| self.share(&vec![*sets; blanks]));
            more.last().unwrap_or(0)
        };
        self.sets = Some(sets);
        sets
    }

    /// Sheets for so many sets; `None` where some blank is larger than the sheet.
    fn sheets(&mut self, makes: u32) -> Option<u32> {
        if self.each.contains(&0) || self.each.is_empty() {
            return None;
        }
        let apart = self.apart(makes);
        let sets = self.sets();
        Some(match sets {
            0 => apart,
            sets => apart.min(makes.div_ceil(sets)),
        })
    }

    /// Each blank from sheets of its own; the rests share sheets where they can.
    fn apart(&mut self, makes: u32) -> u32 {
        let full: u32 = self.each.iter().map(|each| makes / each).sum();
        let rests: Vec<u32> = self.each.iter().map(|each| makes % each).collect();
        let mut shared: Vec<Vec<u32>> = Vec::new();
        for (blank, rest) in rests.iter().enumerate().filter(|(_, rest)| **rest > 0) {
            let with = |sheet: &Vec<u32>| {
                let mut sheet = sheet.clone();
                if let Some(slot) = sheet.get_mut(blank) {
                    *slot = *rest;
                }
                sheet
            };
            let place = (0..shared.len()).find(|at| {
                let together = shared.get(*at).map(with);
                together.is_some_and(|together| self.share(&together))
            });
            match place.and_then(|at| shared.get_mut(at)) {
                Some(sheet) => *sheet = with(sheet),
                None => shared.push(with(&vec![0; rests.len()])),
            }
        }
        full.saturating_add(u32::try_from(shared.len()).unwrap_or(u32::MAX))
    }

    /// Whether one sheet gives so many of each blank, by straight cuts that part the blanks.
    fn share(&mut self, wanted: &[u32]) -> bool {
        let wanted: Vec<(usize, u32)> = wanted
            .iter()
            .copied()
            .enumerate()
            .filter(|(_, wanted)| *wanted > 0)
            .collect();
        share(&mut self.yields, self.sheet, &wanted)
    }
}

fn share(yields: &mut [Yield], part: (i64, i64), wanted: &[(usize, u32)]) -> bool {
    let Some(((blank, count), rest)) = wanted.split_first() else {
        return true;
    };
    let Some(own) = yields.get_mut(*blank) else {
        return false;
    };
    if own.most(part) < *count {
        return false;
    }
    if rest.is_empty() {
        return true;
    }
    for along_first in [true, false] {
        let (side, across) = if along_first { part } else { (part.1, part.0) };
        let rectangle = |side: i64| {
            if along_first {
                (side, across)
            } else {
                (across, side)
            }
        };
        let Some(own) = yields.get_mut(*blank) else {
            return false;
        };
        // The narrowest strip that does leaves most for the others.
        let strips = own.strips(side, along_first);
        let strip = strips
            .into_iter()
            .find(|strip| own.most(rectangle(*strip)) >= *count);
        if strip.is_some_and(|strip| share(yields, rectangle(side - strip), rest)) {
            return true;
        }
    }
    false
}
