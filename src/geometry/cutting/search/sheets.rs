//! Plans sheet by sheet: what the search starts from, and what ends a dive.

use super::super::problem::{Item, Problem};
use super::super::tree::{Along, Tree};
use super::{Search, Uses};

/// Sheet sizes that are filled before the best is taken.
const MOST_TRIED: usize = 6;

/// How often a sheet can be cut before it makes parts in vain; once at least.
pub(super) fn alike(made: &[u32], left: &[u32]) -> u32 {
    let times = made.iter().zip(left).filter(|&(&made, _)| made > 0);
    times
        .map(|(&made, &left)| left / made)
        .min()
        .unwrap_or(1)
        .max(1)
}

/// A sheet full of one part.
struct Grid {
    stock: usize,
    count: u32,
    tree: Tree,
}

impl Grid {
    /// The way to lie that gives most; `None` if the part does not fit the sheet.
    fn best(problem: &Problem, stock: usize, row: usize) -> Option<Self> {
        let sheet = problem.sheets[stock];
        let grid = |item: &Item| {
            let (across, down) = ((sheet.w / item.w) as u32, (sheet.h / item.h) as u32);
            let part = Tree::Part {
                row: item.row,
                turned: item.turned,
            };
            let along = |along, pieces| Tree::Split { along, pieces };
            let (across, tree) = if problem.phases != Some(1) {
                let strip = along(Along::Width, vec![(item.w, across, part)]);
                (across, along(Along::Height, vec![(item.h, down, strip)]))
            } else if item.w == sheet.w {
                (across, along(Along::Height, vec![(item.h, down, part)]))
            } else if item.h == sheet.h {
                (across, along(Along::Width, vec![(item.w, across, part)]))
            } else {
                return None;
            };
            let count = across * down;
            (count > 0).then_some(Self { stock, count, tree })
        };
        let items = problem.items.iter().filter(|item| item.row == row);
        items.filter_map(grid).max_by_key(|grid| grid.count)
    }
}

impl Search<'_, '_, '_> {
    /// A plan of one part after another: never good, always quick.
    pub(in super::super) fn plain(&mut self, mut left: Vec<u32>, mut uses: Uses) {
        let problem = self.generator.problem;
        for row in (0..problem.rows())
            .filter(|&row| left[row] > 0)
            .collect::<Vec<_>>()
        {
            let mut grids: Vec<Grid> = (0..problem.sheets.len())
                .filter_map(|stock| Grid::best(problem, stock, row))
                .collect();
            let dear = |grid: &Grid| problem.sheets[grid.stock].cost as f64 / grid.count as f64;
            grids.sort_by(|a, b| dear(a).total_cmp(&dear(b)));
            let mut room = self.rooms(&uses);
            for grid in grids {
                let (stock, each) = (grid.stock, grid.count);
                let times = left[row].div_ceil(each).min(room[stock]);
                if let Some(pattern) = self.generator.index_of(stock, grid.tree)
                    && times > 0
                {
                    room[stock] -= times;
                    left[row] = left[row].saturating_sub(each.saturating_mul(times));
                    uses.push((pattern, times));
                }
            }
        }
        if left.iter().all(|&count| count == 0) {
            self.offer(uses);
        } else {
            self.note_lacking(&left);
        }
    }

    /// A plan sheet by sheet; `None` takes the whole demand.
    pub(super) fn greedy(&mut self, demand: Option<(&[u32], &Uses)>, tries: usize) {
        let (mut left, mut uses) = match demand {
            Some((demand, uses)) => (demand.to_vec(), uses.clone()),
            None => (self.demand(), Vec::new()),
        };
        if !self.meter.going() {
            return;
        }
        let values = self.values();
        let mut room = self.rooms(&uses);
        while left.iter().any(|&count| count > 0) {
            let Some((pattern, filled)) = self.fill(&values, &left, &room, tries) else {
                self.note_lacking(&left);
                return;
            };
            let stock = self.generator.pool[pattern].stock;
            // The same again while nothing is made in vain.
            let times = alike(&filled, &left).min(room[stock]);
            for (left, made) in left.iter_mut().zip(&filled) {
                *left -= (made * times).min(*left);
            }
            room[stock] -= times;
            uses.push((pattern, times));
            if !self.meter.going() {
                if !self.meter.stopped() && self.worth.parts.is_empty() {
                    self.shelves(left, uses);
                }
                return;
            }
        }
        self.offer(uses);
    }

    pub(super) fn note_lacking(&mut self, left: &[u32]) {
        let missing = left
            .iter()
            .copied()
            .enumerate()
            .find(|&(_, count)| count > 0);
        if let Some(missing) = missing {
            self.lacking = Some(missing);
        }
    }

    /// How many sheets of each stock are free beside what is in use.
    pub(in super::super) fn rooms(&self, uses: &Uses) -> Vec<u32> {
        let mut rooms: Vec<u32> = self
            .limits()
            .into_iter()
            .map(|limit| limit.unwrap_or(u32::MAX))
            .collect();
        for &(pattern, times) in uses {
            let room = &mut rooms[self.generator.pool[pattern].stock];
            *room = room.saturating_sub(times);
        }
        rooms
    }

    /// Worth of the parts for greedy filling: area and duals, blended and moved at random.
    pub(in super::super) fn values(&mut self) -> Vec<f64> {
        let problem = self.generator.problem;
        let sheet = problem
            .sheets
            .iter()
            .map(|s| s.w as f64 * s.h as f64)
            .fold(1.0, f64::max);
        let blend = self.random.unit();
        let spread = self.random.unit() * 0.5;
        let power = 1.0 + 0.3 * self.random.unit();
        (0..problem.rows())
            .map(|row| {
                let area = problem.area[row] / sheet;
                let dual = self.worth.parts.get(row).copied().unwrap_or(area).max(0.0);
                let value = blend * area + (1.0 - blend) * dual.max(0.3 * area);
                value.powf(power) * (1.0 + spread * (2.0 * self.random.unit() - 1.0))
            })
            .collect()
    }

    /// One sheet of a stock, filled in one direction by lot: quick, never the best.
    pub(in super::super) fn fill_by_lot(
        &mut self,
        stock: usize,
        values: &[f64],
        left: &[u32],
    ) -> Option<usize> {
        let strips = &self.generator.strips[self.random.below(2)];
        let mut rest = left.to_vec();
        let filled = strips.fill_sheet(stock, values, &mut rest, 2, &mut self.random)?;
        self.meter.charge(filled.steps * 5 + 2000);
        self.generator.index_of(stock, filled.tree)
    }

    /// The best sheet to fill next: the cheapest that takes all, else most worth for its price.
    fn fill(
        &mut self,
        values: &[f64],
        left: &[u32],
        room: &[u32],
        tries: usize,
    ) -> Option<(usize, Vec<u32>)> {
        let problem = self.generator.problem;
        let mut best: Option<(f64, usize, Tree)> = None;
        let mut steps = 0;
        let mut stocks: Vec<usize> = (0..room.len()).filter(|&stock| room[stock] > 0).collect();
        // Of many sheet sizes a few by lot.
        while stocks.len() > MOST_TRIED {
            let lot = self.random.below(stocks.len());
            stocks.swap_remove(lot);
        }
        for stock in stocks {
            for strips in &self.generator.strips {
                let mut rest = left.to_vec();
                let filled = strips.fill_sheet(stock, values, &mut rest, tries, &mut self.random);
                let Some(filled) = filled else { continue };
                steps += filled.steps;
                let cost = problem.sheets[stock].cost as f64;
                let all = rest.iter().all(|&left| left == 0);
                let score = if all { 1e30 } else { filled.value } / cost;
                if best.as_ref().is_none_or(|&(most, ..)| score > most) {
                    best = Some((score, stock, filled.tree));
                }
            }
        }
        self.meter.charge(steps * 5 + 5000);
        let (_, stock, tree) = best?;
        let mut made = vec![0; left.len()];
        tree.count(1, &mut made);
        Some((self.generator.index_of(stock, tree)?, made))
    }
}
