//! The best pattern of at most three phases under given part values.
//!
//! ```text
//!   +-----+-----+---+----+
//!   |  A  |  A  | C | ## |   phase 1: levels, from a knapsack over level heights
//!   +-----+-----+ C | ## |   phase 2: columns, from a knapsack over widths
//!   |  B  |  B  | C | ## |   phase 3: a stack of equal widths, from a knapsack over heights
//!   +-----+-----+---+----+
//! ```
//!
//! Once as drawn and once with the axes exchanged. All values are whole numbers: the result is
//! exact, and the bound that rests on it is proven. After Gilmore and Gomory 1965.

mod sample;
mod trees;

pub(super) use sample::Draw;

use super::axis::{Axis, NOWHERE};
use super::meter::Meter;
use super::problem::{Item, Problem, Sheet};
use super::tree::{Along, Tree};

/// Parts of one width, as (index into heights, index into items).
struct Column {
    w: i64,
    items: Vec<(usize, usize)>,
}

pub(super) struct Strips {
    items: Vec<Item>,
    sheets: Vec<Sheet>,
    /// Along which the levels follow each other.
    along: Along,
    phases: u8,
    columns: Vec<Column>,
    heights: Vec<i64>,
    xs: Axis,
    ys: Axis,
    /// For each column and place along x the place that remains.
    before_x: Vec<Vec<u32>>,
    before_y: Vec<Vec<u32>>,
    /// Index of each sheet's full width and height.
    ends: Vec<(usize, usize)>,
}

/// A pattern and its value.
pub(super) struct Priced {
    pub(super) stock: usize,
    pub(super) value: i64,
    pub(super) tree: Tree,
}

/// A level of some height: what each column is worth in it.
struct Level {
    height: i64,
    /// Place along y, where the level is made of stacks.
    place: usize,
    worth: Vec<i64>,
}

impl Strips {
    pub(super) fn new(problem: &Problem, along: Along, axes: [&Axis; 2], cap: usize) -> Self {
        let (items, sheets) = laid(problem, along);
        let phases = problem.phases.unwrap_or(3).min(3);
        let mut widths: Vec<i64> = items.iter().map(|item| item.w).collect();
        let mut heights: Vec<i64> = items.iter().map(|item| item.h).collect();
        for sizes in [&mut widths, &mut heights] {
            sizes.sort_unstable();
            sizes.dedup();
        }
        let column = |&w: &i64| Column {
            w,
            items: items
                .iter()
                .enumerate()
                .filter(|(_, item)| item.w == w)
                .map(|(index, item)| (heights.partition_point(|&h| h < item.h), index))
                .collect(),
        };
        let columns: Vec<Column> = widths.iter().map(column).collect();
        let [across, down] = match along {
            Along::Height => axes,
            Along::Width => [axes[1], axes[0]],
        };
        let xs = across.thinned(&items, &sheets, cap);
        let ys = {
            let (items, sheets) = laid(problem, along.other());
            down.thinned(&items, &sheets, cap)
        };
        let ends = sheets
            .iter()
            .map(|sheet| {
                let end = |axis: &Axis, size| axis.at_most(size).unwrap_or(0);
                (end(&xs, sheet.w), end(&ys, sheet.h))
            })
            .collect();
        Self {
            before_x: columns.iter().map(|column| xs.before(column.w)).collect(),
            before_y: heights.iter().map(|&h| ys.before(h)).collect(),
            items,
            sheets,
            along,
            phases,
            columns,
            heights,
            xs,
            ys,
            ends,
        }
    }

    /// Whether no place was left out, so that the best value is the true best.
    pub(super) fn exact(&self) -> bool {
        self.xs.exact && self.ys.exact
    }

    /// About how many steps one pricing takes.
    pub(super) fn effort(&self) -> u64 {
        (self.ys.points.len() as u64).saturating_mul(
            self.xs.points.len() as u64 * self.columns.len() as u64 + self.ys.points.len() as u64,
        )
    }

    pub(super) fn along(&self) -> Along {
        self.along
    }

    pub(super) fn phases(&self) -> u8 {
        self.phases
    }

    pub(super) fn items(&self) -> &[Item] {
        &self.items
    }

    pub(super) fn sheet(&self, stock: usize) -> Sheet {
        self.sheets[stock]
    }

    pub(super) fn end_x(&self, stock: usize) -> usize {
        self.ends[stock].0
    }

    pub(super) fn before_x(&self, column: usize) -> &[u32] {
        &self.before_x[column]
    }

    pub(super) fn column_count(&self) -> usize {
        self.columns.len()
    }

    pub(super) fn column_width(&self, column: usize) -> i64 {
        self.columns[column].w
    }

    pub(super) fn column_items(&self, column: usize) -> impl Iterator<Item = usize> {
        self.columns[column].items.iter().map(|&(_, item)| item)
    }

    /// The best pattern for each sheet that holds anything of value; `None` if stopped.
    pub(super) fn price(&self, values: &[i64], meter: &mut Meter<'_>) -> Option<Vec<Priced>> {
        let stacks = self.stacks(values, meter)?;
        let levels = self.levels(values, &stacks);
        let mut worth = vec![vec![0_i64; levels.len()]; self.sheets.len()];
        let mut row = vec![0_i64; self.xs.points.len()];
        for (index, level) in levels.iter().enumerate() {
            if self.phases == 1 {
                for (sheet, worth) in self.sheets.iter().zip(&mut worth) {
                    worth[index] = self.full_strip(level, sheet.w);
                }
                continue;
            }
            let active = self.active(level);
            self.fill(level, &active, &mut row);
            meter.charge(2 * (active.len() * row.len()) as u64);
            if meter.stopped() {
                return None;
            }
            for (&(end, _), worth) in self.ends.iter().zip(&mut worth) {
                worth[index] = row[end];
            }
        }
        let mut best = Vec::new();
        for (stock, worth) in worth.iter().enumerate() {
            let (value, chosen, more) = self.choose(&levels, worth, self.ends[stock].1);
            meter.charge(2 * more);
            if value > 0 {
                let tree = self.tree(values, &levels, &stacks, stock, &chosen);
                best.push(Priced { stock, value, tree });
            }
        }
        Some(best)
    }

    /// For each column the best stack at each place; without stacks before the third phase.
    fn stacks(&self, values: &[i64], meter: &mut Meter<'_>) -> Option<Vec<Vec<i64>>> {
        if self.phases < 3 {
            return Some(Vec::new());
        }
        let stack = |column: &Column| {
            let mut best = vec![0_i64; self.ys.points.len()];
            let wanted: Vec<(usize, i64)> = self.wanted(column, values);
            if wanted.is_empty() {
                return best;
            }
            for place in 1..best.len() {
                best[place] = best[place - 1];
                for &(height, value) in &wanted {
                    let rest = self.before_y[height][place];
                    if rest != NOWHERE {
                        best[place] = best[place].max(best[rest as usize] + value);
                    }
                }
            }
            best
        };
        let mut stacks = Vec::new();
        for column in &self.columns {
            stacks.push(stack(column));
            meter.charge(4 * self.ys.points.len() as u64);
            if meter.stopped() {
                return None;
            }
        }
        Some(stacks)
    }

    /// The parts of value in a column: height index and value, the best one of each height.
    fn wanted(&self, column: &Column, values: &[i64]) -> Vec<(usize, i64)> {
        column
            .items
            .iter()
            .map(|&(height, item)| (height, values[self.items[item].row]))
            .filter(|&(_, value)| value > 0)
            .collect()
    }

    fn levels(&self, values: &[i64], stacks: &[Vec<i64>]) -> Vec<Level> {
        if self.phases < 3 {
            return self.plain_levels(values);
        }
        let worth = |place: usize| stacks.iter().map(|stack| stack[place]).collect::<Vec<_>>();
        let mut levels: Vec<Level> = Vec::new();
        for (place, &height) in self.ys.points.iter().enumerate().skip(1) {
            if stacks.iter().any(|stack| stack[place] > stack[place - 1]) {
                levels.push(Level {
                    height,
                    place,
                    worth: worth(place),
                });
            }
        }
        levels
    }

    /// Levels for two phases: parts exactly as high as the level.
    fn plain_levels(&self, values: &[i64]) -> Vec<Level> {
        let level = |(index, &height): (usize, &i64)| Level {
            height,
            place: 0,
            worth: self
                .columns
                .iter()
                .map(|column| {
                    let high = column.items.iter().filter(|&&(h, _)| h == index);
                    high.map(|&(_, item)| values[self.items[item].row])
                        .max()
                        .unwrap_or(0)
                })
                .collect(),
        };
        self.heights.iter().enumerate().map(level).collect()
    }

    fn full_strip(&self, level: &Level, width: i64) -> i64 {
        let full = self.columns.iter().position(|column| column.w == width);
        full.map_or(0, |column| level.worth[column])
    }

    /// The columns of a level that no narrower one is worth as much as.
    fn active(&self, level: &Level) -> Vec<usize> {
        let mut most = 0;
        let mut active = Vec::new();
        for (column, &worth) in level.worth.iter().enumerate() {
            if worth > most {
                most = worth;
                active.push(column);
            }
        }
        active
    }

    fn fill(&self, level: &Level, active: &[usize], row: &mut [i64]) {
        row[0] = 0;
        for place in 1..row.len() {
            let mut best = row[place - 1];
            for &column in active {
                let rest = self.before_x[column][place];
                if rest == NOWHERE {
                    break;
                }
                best = best.max(row[rest as usize] + level.worth[column]);
            }
            row[place] = best;
        }
    }

    /// The best levels up to a height: value, (level, times), steps.
    fn choose(&self, levels: &[Level], worth: &[i64], end: usize) -> (i64, Vec<(usize, u32)>, u64) {
        let mut most = 0;
        let mut useful: Vec<usize> = Vec::new();
        let mut order: Vec<usize> = (0..levels.len()).collect();
        order.sort_by_key(|&level| levels[level].height);
        for level in order {
            if worth[level] > most {
                most = worth[level];
                useful.push(level);
            }
        }
        let mut best = vec![(0_i64, usize::MAX, 0_usize); end + 1];
        let mut rests = vec![0_usize; useful.len()];
        for place in 1..=end {
            best[place] = (best[place - 1].0, usize::MAX, place - 1);
            for (&level, rest) in useful.iter().zip(&mut rests) {
                let room = self.ys.points[place] - levels[level].height;
                if room < 0 {
                    break;
                }
                while *rest < place && self.ys.points[*rest + 1] <= room {
                    *rest += 1;
                }
                let value = best[*rest].0 + worth[level];
                if value > best[place].0 {
                    best[place] = (value, level, *rest);
                }
            }
        }
        let mut chosen = Vec::new();
        let mut place = end;
        while place > 0 {
            let (_, level, rest) = best[place];
            if level != usize::MAX {
                again(&mut chosen, level);
            }
            place = rest;
        }
        (best[end].0, chosen, (useful.len() * end) as u64)
    }
}

/// Items and sheets as they lie when the levels follow each other along `along`.
pub(super) fn laid(problem: &Problem, along: Along) -> (Vec<Item>, Vec<Sheet>) {
    let (mut items, mut sheets) = (problem.items.clone(), problem.sheets.clone());
    if along == Along::Width {
        for item in &mut items {
            (item.w, item.h) = (item.h, item.w);
        }
        for sheet in &mut sheets {
            (sheet.w, sheet.h) = (sheet.h, sheet.w);
        }
    }
    (items, sheets)
}

/// Counts one more of `what`.
fn again(chosen: &mut Vec<(usize, u32)>, what: usize) {
    match chosen.iter_mut().find(|(of, _)| *of == what) {
        Some((_, times)) => *times += 1,
        None => chosen.push((what, 1)),
    }
}
