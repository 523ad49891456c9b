//! How many equal blanks one stock sheet gives on a trimmer, which cuts edge to edge.
//!
//! Squares, and blanks that may not be turned, lie in a plain grid. For others the best
//! guillotine pattern comes from a recursion over the places where a cut can be worth making:
//! sums of whole blank sides (normal patterns). Exact, in whole nanometres.

use std::collections::HashMap;

use super::Stock;
use crate::Length;

/// Sides with more normal positions than this are not searched: the better of the two grids
/// answers, a layout that can be cut but is not proven best. Piece blanks stay well below.
const MOST_POSITIONS: usize = 150;

/// The most blanks of `width` x `height` that edge-to-edge cuts take from one sheet.
#[must_use]
pub fn blanks_per_sheet(stock: &Stock, width: Length, height: Length) -> u32 {
    if width <= Length::ZERO || height <= Length::ZERO {
        return 0;
    }
    let sheet = (stock.width.nm(), stock.height.nm());
    let blank = (width.nm(), height.nm());
    let upright = grid(sheet, blank);
    if blank.0 == blank.1 || !stock.turnable {
        return upright;
    }
    let lying = grid(sheet, (blank.1, blank.0));
    let positions = [
        normal_positions(sheet.0, blank),
        normal_positions(sheet.1, blank),
    ];
    match positions {
        [Some(across), Some(up)] => Guillotine::new(blank, across, up).most(sheet),
        _ => upright.max(lying),
    }
}

fn grid(sheet: (i64, i64), blank: (i64, i64)) -> u32 {
    let fit = |sheet: i64, blank: i64| u32::try_from((sheet / blank).max(0)).unwrap_or(u32::MAX);
    fit(sheet.0, blank.0).saturating_mul(fit(sheet.1, blank.1))
}

/// Sums of blank sides up to `side`, with zero, in order; `None` where there are too many.
fn normal_positions(side: i64, (a, b): (i64, i64)) -> Option<Vec<i64>> {
    let mut sums = Vec::new();
    for i in 0..=side / a {
        for j in 0..=(side - i * a) / b {
            sums.push(i * a + j * b);
            if sums.len() > MOST_POSITIONS {
                return None;
            }
        }
    }
    sums.sort_unstable();
    sums.dedup();
    Some(sums)
}

struct Guillotine {
    blank: (i64, i64),
    across: Vec<i64>,
    up: Vec<i64>,
    known: HashMap<(i64, i64), u32>,
}

impl Guillotine {
    fn new(blank: (i64, i64), across: Vec<i64>, up: Vec<i64>) -> Self {
        Self {
            blank,
            across,
            up,
            known: HashMap::new(),
        }
    }

    /// The most from a rectangle; first shrunk to the positions that can be filled.
    fn most(&mut self, sheet: (i64, i64)) -> u32 {
        let (x, y) = (below(&self.across, sheet.0), below(&self.up, sheet.1));
        if let Some(known) = self.known.get(&(x, y)) {
            return *known;
        }
        let (a, b) = self.blank;
        let mut best = grid((x, y), (a, b)).max(grid((x, y), (b, a)));
        let area = i128::from(x) * i128::from(y) / (i128::from(a) * i128::from(b));
        // Mirrored cuts give the same parts, so the first part never exceeds half.
        for cut in halves(&self.across, x) {
            if i128::from(best) >= area {
                break;
            }
            best = best.max(self.most((cut, y)) + self.most((x - cut, y)));
        }
        for cut in halves(&self.up, y) {
            if i128::from(best) >= area {
                break;
            }
            best = best.max(self.most((x, cut)) + self.most((x, y - cut)));
        }
        self.known.insert((x, y), best);
        best
    }
}

/// The greatest position that is not above `side`.
fn below(positions: &[i64], side: i64) -> i64 {
    let after = positions.partition_point(|position| *position <= side);
    after
        .checked_sub(1)
        .and_then(|last| positions.get(last))
        .copied()
        .unwrap_or(0)
}

fn halves(positions: &[i64], side: i64) -> Vec<i64> {
    let inner = |cut: &i64| *cut > 0 && *cut <= side / 2;
    positions.iter().copied().filter(inner).collect()
}

/// The stock that a class is cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Cutting {
    /// Place in the list of stocks.
    pub(super) stock: usize,
    /// Sheets for all makes.
    pub(super) sheets: u32,
    /// Their price together, if known.
    pub(super) cost: Option<u64>,
    /// Blanks a sheet, for each stock.
    pub(super) per_sheet: Vec<u32>,
}

impl Cutting {
    /// What is compared: fewer sheets, then lower cost. An unknown price counts as the highest.
    pub(super) fn rank(&self) -> (u32, u64) {
        (self.sheets, self.cost.unwrap_or(u64::MAX))
    }

    /// The cheapest way to cut all makes from one kind of sheet; `None` where the blank is
    /// larger than every sheet. Equal ones: the first in the list.
    pub(super) fn best(stocks: &[Stock], blank: (Length, Length), makes: u32) -> Option<Self> {
        let per_sheet: Vec<u32> = stocks
            .iter()
            .map(|stock| blanks_per_sheet(stock, blank.0, blank.1))
            .collect();
        let mut best: Option<Self> = None;
        for (index, (stock, count)) in stocks.iter().zip(&per_sheet).enumerate() {
            if *count == 0 {
                continue;
            }
            let sheets = makes.div_ceil(*count);
            let cost = stock
                .price
                .and_then(|price| price.checked_mul(sheets.into()));
            let cutting = Self {
                stock: index,
                sheets,
                cost,
                per_sheet: per_sheet.clone(),
            };
            if best
                .as_ref()
                .is_none_or(|best| cutting.rank() < best.rank())
            {
                best = Some(cutting);
            }
        }
        best
    }
}
