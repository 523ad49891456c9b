//! Patterns near the best, drawn by lot from the tables of one pricing.
//!
//! The best pattern is read off the tables by taking at each place what loses nothing. Here a
//! little may be lost on the way: each draw has so much to spend. No part goes on the sheet more
//! often than it is wanted.

use super::super::axis::NOWHERE;
use super::super::meter::Meter;
use super::super::problem::Item;
use super::super::random::Random;
use super::super::tree::Tree;
use super::{Level, Strips, again};

/// The tables of one pricing.
pub(in super::super) struct Tables {
    values: Vec<i64>,
    stacks: Vec<Vec<i64>>,
    levels: Vec<Level>,
    /// For each level the best value at each place along x.
    rows: Vec<Vec<i64>>,
    /// For each sheet the best value at each place along y.
    sheets: Vec<Vec<i64>>,
}

/// What a draw may still lose.
pub(in super::super) struct Draw<'d> {
    slack: i64,
    random: &'d mut Random,
    looks: u64,
}

/// A way on from a place: what it loses, the place that remains, and what is laid down.
type Way<T> = (i64, usize, Option<T>);

impl<'d> Draw<'d> {
    pub(in super::super) fn new(slack: i64, random: &'d mut Random) -> Self {
        Self {
            slack,
            random,
            looks: 0,
        }
    }

    /// Looks at the tables so far.
    pub(in super::super) fn looks(&self) -> u64 {
        self.looks
    }

    /// Goes on from a place: by lot one of the ways that can be afforded, else one place back.
    fn step<T: Copy>(
        &mut self,
        best: &[i64],
        place: usize,
        ways: impl Iterator<Item = Way<T>>,
    ) -> (usize, Option<T>) {
        let back = best[place] - best[place - 1];
        let mut chosen = (back, place - 1, None);
        let mut affordable = usize::from(back == 0);
        for way in ways {
            self.looks += 1;
            if way.0 <= self.slack {
                affordable += 1;
                // Each of n ways stays with a chance of 1 / n.
                if self.random.below(affordable) == 0 {
                    chosen = way;
                }
            }
        }
        self.slack -= chosen.0;
        (chosen.1, chosen.2)
    }
}

impl Strips {
    /// Fills the tables; `None` if stopped, or with other than three phases.
    pub(in super::super) fn tables(&self, values: &[i64], meter: &mut Meter<'_>) -> Option<Tables> {
        if self.phases != 3 {
            return None;
        }
        let stacks = self.stacks(values, meter)?;
        let levels = self.levels(values, &stacks);
        let mut rows = Vec::new();
        for level in &levels {
            let active = self.active(level);
            let mut row = vec![0_i64; self.xs.points.len()];
            self.fill(level, &active, &mut row);
            rows.push(row);
            if !meter.charge(2 * (active.len() * self.xs.points.len()) as u64) {
                return None;
            }
        }
        let mut sheets = Vec::new();
        for &(x, y) in &self.ends {
            let mut best = vec![0_i64; y + 1];
            for place in 1..=y {
                best[place] = best[place - 1];
                for (level, row) in levels.iter().zip(&rows) {
                    let Some(rest) = self.under(place, level.height) else {
                        break;
                    };
                    best[place] = best[place].max(best[rest] + row[x]);
                }
            }
            sheets.push(best);
            if !meter.charge(8 * (y * levels.len()) as u64) {
                return None;
            }
        }
        Some(Tables {
            values: values.to_vec(),
            stacks,
            levels,
            rows,
            sheets,
        })
    }

    /// The place along y that remains beside something so high.
    fn under(&self, place: usize, height: i64) -> Option<usize> {
        self.ys.at_most(self.ys.points[place] - height)
    }

    /// The best value that a sheet can hold.
    pub(in super::super) fn most(&self, tables: &Tables, stock: usize) -> i64 {
        tables.sheets[stock].last().copied().unwrap_or(0)
    }

    /// A pattern by lot; its parts are taken off what is `left`.
    pub(in super::super) fn draw(
        &self,
        tables: &Tables,
        stock: usize,
        left: &mut [u32],
        draw: &mut Draw<'_>,
    ) -> Tree {
        let (x, mut place) = self.ends[stock];
        let best = &tables.sheets[stock];
        let mut pieces = Vec::new();
        while place > 0 {
            let ways = tables.levels.iter().zip(&tables.rows).enumerate();
            let ways = ways.map_while(|(index, (level, row))| {
                let rest = self.under(place, level.height)?;
                Some((best[place] - best[rest] - row[x], rest, Some(index)))
            });
            let (rest, level) = draw.step(best, place, ways);
            if let Some(level) = level {
                let strip = self.draw_strip(tables, (level, x), left, draw);
                pieces.push((tables.levels[level].height, strip));
            }
            place = rest;
        }
        Tree::Split {
            along: self.along,
            pieces: counted(pieces),
        }
    }

    fn draw_strip(
        &self,
        tables: &Tables,
        (level, mut place): (usize, usize),
        left: &mut [u32],
        draw: &mut Draw<'_>,
    ) -> Tree {
        let (level, row) = (&tables.levels[level], &tables.rows[level]);
        let mut pieces = Vec::new();
        while place > 0 {
            let ways = (0..self.columns.len()).map_while(|column| {
                let rest = self.before_x[column][place];
                (rest != NOWHERE).then_some((column, rest as usize))
            });
            let ways = ways.filter(|&(column, _)| level.worth[column] > 0);
            let ways = ways.map(|(column, rest)| {
                let loss = row[place] - row[rest] - level.worth[column];
                (loss, rest, Some(column))
            });
            let (rest, column) = draw.step(row, place, ways);
            if let Some(column) = column {
                let stack = self.draw_stack(tables, column, level, left, draw);
                pieces.extend(stack.map(|stack| (self.columns[column].w, stack)));
            }
            place = rest;
        }
        Tree::Split {
            along: self.along.other(),
            pieces: counted(pieces),
        }
    }

    /// Without a part that is still wanted the stack is empty, and stays waste.
    fn draw_stack(
        &self,
        tables: &Tables,
        column: usize,
        level: &Level,
        left: &mut [u32],
        draw: &mut Draw<'_>,
    ) -> Option<Tree> {
        let (values, best) = (&tables.values, &tables.stacks[column]);
        let mut pieces = Vec::new();
        let mut place = level.place;
        while place > 0 {
            let items = self.columns[column].items.iter();
            let ways = items.filter_map(|&(height, item)| {
                let rest = self.before_y[height][place];
                let row = self.items[item].row;
                let of_use = rest != NOWHERE && left[row] > 0 && values[row] > 0;
                let loss = || best[place] - best[rest as usize] - values[row];
                of_use.then(|| (loss(), rest as usize, Some(item)))
            });
            let (rest, item) = draw.step(best, place, ways);
            if let Some(item) = item {
                let Item { row, turned, h, .. } = self.items[item];
                left[row] -= 1;
                pieces.push((h, Tree::Part { row, turned }));
            }
            place = rest;
        }
        let along = self.along;
        let pieces = counted(pieces);
        (!pieces.is_empty()).then_some(Tree::Split { along, pieces })
    }
}

/// Equal pieces as one entry.
fn counted(pieces: Vec<(i64, Tree)>) -> Vec<(i64, u32, Tree)> {
    let mut kinds: Vec<(i64, Tree)> = Vec::new();
    let mut times = Vec::new();
    for piece in pieces {
        let kind = kinds.iter().position(|kind| *kind == piece);
        again(&mut times, kind.unwrap_or(kinds.len()));
        if kind.is_none() {
            kinds.push(piece);
        }
    }
    times.sort_unstable();
    let counted = kinds.into_iter().zip(times);
    counted
        .map(|((size, tree), (_, times))| (size, times, tree))
        .collect()
}

#[cfg(test)]
mod tests {
    use std::ops::ControlFlow;

    use super::*;
    use crate::Length;
    use crate::cutting::generate::axes;
    use crate::cutting::problem::Problem;
    use crate::cutting::tree::Along;
    use crate::{CutJob, CutPart, CutStock, Effort};
    use proptest::prelude::*;

    fn job(sizes: &[(i64, i64)], wanted: u32) -> CutJob {
        let part = |&(width, height): &(i64, i64)| CutPart {
            name: "part".to_owned(),
            width: Length::from_mm(width),
            height: Length::from_mm(height),
            quantity: wanted,
            turnable: true,
        };
        let sheet = CutStock {
            name: "sheet".to_owned(),
            width: Length::from_mm(120),
            height: Length::from_mm(100),
            cost: 1,
            available: None,
        };
        let parts = sizes.iter().map(part).collect();
        CutJob::new(vec![sheet], parts, Length::ZERO, Some(3)).expect("every part fits")
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]
        #[test]
        fn a_draw_loses_no_more_than_it_may_and_holds_no_more_than_is_wanted(
            sizes in prop::collection::vec((20i64..90, 20i64..90), 1..5),
            worth in prop::collection::vec(1i64..10_000, 5),
            share in 0i64..30,
            few in 0u32..4,
        ) {
            // So many of each that no draw runs out of them.
            let problem = Problem::new(&job(&sizes, 1000));
            let values = &worth[..problem.rows()];
            let axes = axes(&problem);
            let mut on = |_: &_| ControlFlow::Continue(());
            let mut meter = Meter::new(&Effort::quick(), &mut on);
            let mut random = Random::new(7);
            for along in [Along::Height, Along::Width] {
                let strips = Strips::new(&problem, along, [&axes[0], &axes[1]], 1000);
                let tables = strips.tables(values, &mut meter).expect("steps enough");
                let priced = strips.price(values, &mut meter).expect("steps enough");
                prop_assert_eq!(strips.most(&tables, 0), priced[0].value);
                let slack = strips.most(&tables, 0) * share / 100;
                for wanted in [1000, few] {
                    let mut left = vec![wanted; problem.rows()];
                    let mut draw = Draw::new(slack, &mut random);
                    let tree = strips.draw(&tables, 0, &mut left, &mut draw);
                    let mut counts = vec![0; problem.rows()];
                    tree.count(1, &mut counts);
                    for (count, left) in counts.iter().zip(&left) {
                        prop_assert_eq!(count + left, wanted);
                    }
                    let held: i64 = counts.iter().zip(values).map(|(&n, v)| i64::from(n) * v).sum();
                    prop_assert!(held <= priced[0].value);
                    prop_assert!(wanted < 1000 || held >= priced[0].value - slack);
                }
            }
        }
    }
}
