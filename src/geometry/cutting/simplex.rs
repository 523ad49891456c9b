//! A small revised simplex for the master problem of column generation.
//!
//! ```text
//!   min  sum cost(j) x(j)     each wanted part: at least its demand
//!                             each limited sheet: at most what there is
//! ```
//!
//! Rows are few, columns come while it runs, and the duals are what it is for. The inverse of
//! the basis is kept as a dense matrix and made anew now and then.

use super::meter::Meter;

/// A column: cost and entries (row, factor).
pub(super) struct Column {
    pub(super) cost: f64,
    pub(super) entries: Vec<(usize, f64)>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Basic {
    /// Stands for a part that is missing.
    Missing(usize),
    /// What is made beyond the demand, or left of a limit.
    Slack(usize),
    Column(usize),
}

pub(super) struct Master {
    rows: usize,
    /// The rows that are demands; the others are limits.
    parts: usize,
    /// Demands, then minus the limits.
    rhs: Vec<f64>,
    /// The demands nudged, each a little differently, so that ties do not go round in circles.
    nudged: Vec<f64>,
    columns: Vec<Column>,
    basis: Vec<Basic>,
    inverse: Vec<f64>,
    level: Vec<f64>,
    duals: Vec<f64>,
    /// Cost of a missing part.
    missing: f64,
    pivots: usize,
    /// Steps not yet charged to the meter.
    steps: u64,
}

const TOLERANCE: f64 = 1e-9;

impl Master {
    /// `demand` for the parts, `limits` for the sheets that are limited.
    pub(super) fn new(demand: &[f64], limits: &[f64], missing: f64) -> Self {
        let rows = demand.len() + limits.len();
        let rhs: Vec<f64> = demand
            .iter()
            .copied()
            .chain(limits.iter().map(|limit| -limit))
            .collect();
        let nudge = |(row, &rhs): (usize, &f64)| {
            let tie = if row < demand.len() { 1e-7 } else { 0.0 };
            rhs + tie * (1.0 + ((row * 7919 + 13) % 101) as f64 / 101.0)
        };
        let mut master = Self {
            rows,
            parts: demand.len(),
            nudged: rhs.iter().enumerate().map(nudge).collect(),
            rhs,
            columns: Vec::new(),
            basis: Vec::new(),
            inverse: Vec::new(),
            level: Vec::new(),
            duals: Vec::new(),
            missing,
            pivots: 0,
            steps: 0,
        };
        master.clear();
        master.levels();
        master
    }

    pub(super) fn add(&mut self, column: Column) {
        self.columns.push(column);
    }

    pub(super) fn duals(&self) -> &[f64] {
        &self.duals
    }

    /// The amounts of the columns that are in use.
    pub(super) fn amounts(&self) -> Vec<(usize, f64)> {
        let mut exact: Vec<(usize, f64)> = Vec::new();
        for (place, basic) in self.basis.iter().enumerate() {
            if let Basic::Column(column) = *basic {
                let amount: f64 = self
                    .row(place)
                    .iter()
                    .zip(&self.rhs)
                    .map(|(a, b)| a * b)
                    .sum();
                if amount > 1e-7 {
                    exact.push((column, amount));
                }
            }
        }
        exact.sort_by_key(|&(column, _)| column);
        exact
    }

    /// How much of each part is missing.
    pub(super) fn lacking(&self) -> Vec<(usize, f64)> {
        let missing = |(place, basic): (usize, &Basic)| match *basic {
            Basic::Missing(row) if self.level[place] > 1e-5 => Some((row, self.level[place])),
            _ => None,
        };
        self.basis.iter().enumerate().filter_map(missing).collect()
    }

    pub(super) fn make_missing_dearer(&mut self) {
        self.missing *= 100.0;
        self.price_out();
    }

    fn row(&self, place: usize) -> &[f64] {
        &self.inverse[place * self.rows..(place + 1) * self.rows]
    }

    fn cost(&self, basic: Basic) -> f64 {
        match basic {
            Basic::Missing(_) => self.missing,
            Basic::Slack(_) => 0.0,
            Basic::Column(column) => self.columns[column].cost,
        }
    }

    /// Runs until no column improves the plan, or `most_steps` are taken.
    pub(super) fn solve(&mut self, meter: &mut Meter<'_>) {
        self.price_out();
        let most = 50 * self.rows + 10 * self.columns.len() + 1000;
        for _ in 0..most {
            if !meter.charge(std::mem::take(&mut self.steps)) {
                return;
            }
            let Some(entering) = self.entering() else {
                return;
            };
            if !self.bring_in(entering, meter) {
                return;
            }
        }
    }

    fn price_out(&mut self) {
        self.duals = vec![0.0; self.rows];
        for (place, &basic) in self.basis.iter().enumerate() {
            let cost = self.cost(basic);
            if cost != 0.0 {
                let row = &self.inverse[place * self.rows..(place + 1) * self.rows];
                for (dual, factor) in self.duals.iter_mut().zip(row) {
                    *dual += cost * factor;
                }
            }
        }
        self.steps += (self.rows * self.rows) as u64;
    }

    pub(super) fn reduced_cost(&self, column: &Column) -> f64 {
        let priced: f64 = column
            .entries
            .iter()
            .map(|&(row, factor)| self.duals[row] * factor)
            .sum();
        column.cost - priced
    }

    fn entering(&mut self) -> Option<Basic> {
        let mut best = (-TOLERANCE, None);
        for (row, &dual) in self.duals.iter().enumerate() {
            // Surplus costs nothing and takes one from its row.
            if dual < best.0 {
                best = (dual, Some(Basic::Slack(row)));
            }
        }
        for (index, column) in self.columns.iter().enumerate() {
            let reduced = self.reduced_cost(column);
            if reduced < best.0 {
                best = (reduced, Some(Basic::Column(index)));
            }
            self.steps += 4 + 2 * column.entries.len() as u64;
        }
        best.1.filter(|entering| !self.basis.contains(entering))
    }

    fn bring_in(&mut self, entering: Basic, meter: &mut Meter<'_>) -> bool {
        let change = self.image(entering);
        let mut leaving: Option<(usize, f64)> = None;
        for (place, &by) in change.iter().enumerate() {
            if by > 1e-9 {
                let ratio = self.level[place].max(0.0) / by;
                let better = match leaving {
                    None => true,
                    Some((other, least)) => {
                        ratio < least - 1e-12 || (ratio <= least + 1e-12 && by > change[other])
                    }
                };
                if better {
                    leaving = Some((place, ratio));
                }
            }
        }
        let Some((leaving, _)) = leaving else {
            return false;
        };
        self.pivot(leaving, &change);
        self.basis[leaving] = entering;
        self.pivots += 1;
        if self.pivots.is_multiple_of(100 + self.rows) {
            self.refactor(meter);
        }
        self.price_out();
        true
    }

    /// The entering column in terms of the basis.
    fn image(&self, entering: Basic) -> Vec<f64> {
        let single;
        let entries: &[(usize, f64)] = match entering {
            Basic::Column(column) => &self.columns[column].entries,
            Basic::Missing(row) => {
                single = [(row, 1.0)];
                &single
            }
            Basic::Slack(row) => {
                single = [(row, -1.0)];
                &single
            }
        };
        (0..self.rows)
            .map(|place| {
                let row = self.row(place);
                entries.iter().map(|&(at, factor)| row[at] * factor).sum()
            })
            .collect()
    }

    fn pivot(&mut self, leaving: usize, change: &[f64]) {
        let rows = self.rows;
        let by = 1.0 / change[leaving];
        for value in &mut self.inverse[leaving * rows..(leaving + 1) * rows] {
            *value *= by;
        }
        self.level[leaving] *= by;
        let pivot: Vec<f64> = self.row(leaving).to_vec();
        let amount = self.level[leaving];
        for (place, &factor) in change.iter().enumerate() {
            if place == leaving || factor == 0.0 {
                continue;
            }
            for (value, from) in self.inverse[place * rows..(place + 1) * rows]
                .iter_mut()
                .zip(&pivot)
            {
                *value -= factor * from;
            }
            self.level[place] -= factor * amount;
        }
        self.steps += 100 + (rows * rows) as u64;
    }

    /// Makes the inverse anew from the basis; columns that no longer pivot leave it.
    fn refactor(&mut self, meter: &mut Meter<'_>) {
        let rows = self.rows;
        let old = std::mem::take(&mut self.basis);
        self.clear();
        let mut free = vec![true; rows];
        for basic in old {
            if self.basis.contains(&basic) && !matches!(basic, Basic::Column(_)) {
                if let Some(place) = self.basis.iter().position(|&other| other == basic) {
                    free[place] = false;
                }
                continue;
            }
            let change = self.image(basic);
            let place = (0..rows)
                .filter(|&place| free[place])
                .max_by(|&a, &b| change[a].abs().total_cmp(&change[b].abs()));
            if let Some(place) = place.filter(|&place| change[place].abs() > 1e-9) {
                self.pivot(place, &change);
                self.basis[place] = basic;
                free[place] = false;
            }
            // A basis of missing parts is a poor one, but whole.
            if !meter.charge(std::mem::take(&mut self.steps)) && meter.stopped() {
                break;
            }
        }
        self.levels();
    }

    /// The basis of what is missing and what is left.
    fn clear(&mut self) {
        let rows = self.rows;
        self.inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            let sign = if row < self.parts { 1.0 } else { -1.0 };
            self.inverse[row * rows + row] = sign;
        }
        let basic = |row| {
            if row < self.parts {
                Basic::Missing(row)
            } else {
                Basic::Slack(row)
            }
        };
        self.basis = (0..rows).map(basic).collect();
        self.level = vec![0.0; rows];
    }

    fn levels(&mut self) {
        let level = |place| {
            let row: &[f64] = self.row(place);
            row.iter().zip(&self.nudged).map(|(a, b)| a * b).sum()
        };
        self.level = (0..self.rows).map(level).collect();
    }
}
