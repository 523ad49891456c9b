//! How many equal blanks one stock sheet gives on a trimmer, which cuts edge to edge.
//!
//! Squares, and blanks that may not be turned, lie in a plain grid. For others the best
//! guillotine pattern comes from a recursion over the places where a cut can be worth making:
//! sums of whole blank sides (normal patterns). Exact, in whole nanometres.

use std::collections::HashMap;

use super::Stock;
use crate::Length;

/// Sides with more normal positions than this are not searched: the better of the two grids
/// answers, a layout that can be cut but is not proven best. A sheet side W has about W² / 2ab
/// positions, so that such a sheet holds near a hundred blanks: a class of 40 takes one sheet of
/// it either way.
const MOST_POSITIONS: usize = 48;

/// The most blanks of `width` x `height` that edge-to-edge cuts take from one sheet.
#[must_use]
pub fn blanks_per_sheet(stock: &Stock, width: Length, height: Length) -> u32 {
    if width <= Length::ZERO || height <= Length::ZERO {
        return 0;
    }
    Yield::of(stock, (width, height)).most((stock.width.nm(), stock.height.nm()))
}

/// Counts one blank on rectangles cut from one kind of sheet.
pub(super) enum Yield {
    /// In a plain grid, upright or, if it may, turned.
    Grid { blank: (i64, i64), turns: bool },
    /// The best guillotine pattern.
    Guillotine(Guillotine),
}

impl Yield {
    /// Of a blank with an area.
    pub(super) fn of(stock: &Stock, (width, height): (Length, Length)) -> Self {
        let blank = (width.nm().max(1), height.nm().max(1));
        let turns = stock.turnable && blank.0 != blank.1;
        if turns {
            let positions =
                [stock.width, stock.height].map(|side| normal_positions(side.nm(), blank));
            if let [Some(across), Some(up)] = positions {
                return Self::Guillotine(Guillotine::new(blank, across, up));
            }
        }
        Self::Grid { blank, turns }
    }

    /// The most from a rectangle of the sheet, sides along its sides.
    pub(super) fn most(&mut self, part: (i64, i64)) -> u32 {
        match self {
            Self::Grid { blank, turns } => {
                let lying = if *turns {
                    grid(part, (blank.1, blank.0))
                } else {
                    0
                };
                grid(part, *blank).max(lying)
            }
            Self::Guillotine(guillotine) => guillotine.most(part),
        }
    }

    /// The narrowest strips across a rectangle, in order, that could hold more blanks: along its
    /// first side, or along its second.
    pub(super) fn strips(&self, side: i64, along_first: bool) -> Vec<i64> {
        match self {
            Self::Grid { blank, turns } => {
                let own = if along_first { blank.0 } else { blank.1 };
                let turned = if along_first { blank.1 } else { blank.0 };
                let steps = |step: i64| {
                    (1..=side / step)
                        .map(move |n| n * step)
                        .take(MOST_POSITIONS)
                };
                let mut strips: Vec<i64> = steps(own).collect();
                if *turns {
                    strips.extend(steps(turned));
                }
                strips.sort_unstable();
                strips
            }
            Self::Guillotine(guillotine) => {
                let positions = if along_first {
                    &guillotine.across
                } else {
                    &guillotine.up
                };
                let within = |at: &i64| *at > 0 && *at <= side;
                positions.iter().copied().filter(within).collect()
            }
        }
    }
}

fn grid(sheet: (i64, i64), blank: (i64, i64)) -> u32 {
    let fit = |sheet: i64, blank: i64| u32::try_from((sheet / blank).max(0)).unwrap_or(u32::MAX);
    fit(sheet.0, blank.0).saturating_mul(fit(sheet.1, blank.1))
}

/// Sums of blank sides up to `side`, with zero, in order; `None` where there are too many.
fn normal_positions(side: i64, (a, b): (i64, i64)) -> Option<Vec<i64>> {
    let mut sums = std::collections::BTreeSet::new();
    for i in 0..=side / a {
        for j in 0..=(side - i * a) / b {
            sums.insert(i * a + j * b);
            if sums.len() > MOST_POSITIONS {
                return None;
            }
        }
    }
    Some(sums.into_iter().collect())
}

pub(super) struct Guillotine {
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
