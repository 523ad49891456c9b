//! A dual simplex with bounds on a dense tableau, for the small programs of the integer step.
//!
//! ```text
//!   min  sum cost(j) x(j)     A x - s = 0,   low <= (x, s) <= high
//! ```
//!
//! Costs are not negative, so the basis of all activities `s` is dual feasible from the start,
//! and stays so whatever bounds a branch moves: each node goes on where the last one ended.

use super::super::meter::Meter;

/// A program in rows of activities.
pub(super) struct Tableau {
    pub(super) rows: usize,
    /// Structural columns; the activities follow them.
    pub(super) columns: usize,
    width: usize,
    matrix: Vec<f64>,
    /// Cells as they were, to start anew from.
    first: Vec<f64>,
    cost: Vec<f64>,
    reduced: Vec<f64>,
    basis: Vec<usize>,
    place: Vec<usize>,
    at_high: Vec<bool>,
    level: Vec<f64>,
    pub(super) low: Vec<f64>,
    pub(super) high: Vec<f64>,
    /// The row that can't be brought within its bounds, and whether it is below them.
    stuck: Option<(usize, bool)>,
    pivots: u32,
    /// Steps not yet charged to the meter.
    steps: u64,
}

/// How a node ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Outcome {
    Optimal(f64),
    /// No point within the bounds, or none cheap enough.
    Empty,
    /// Too many pivots: treat as not known.
    Unclear,
}

const NOT_BASIC: usize = usize::MAX;
const FEASIBLE: f64 = 1e-7;
const PIVOT: f64 = 1e-7;

impl Tableau {
    /// Columns as (cost, entries); bounds first of the columns, then of the row activities.
    pub(super) fn new(
        rows: usize,
        columns: &[(f64, Vec<(usize, f64)>)],
        low: Vec<f64>,
        high: Vec<f64>,
    ) -> Self {
        let width = columns.len() + rows;
        let mut matrix = vec![0.0; rows * width];
        for (column, (_, entries)) in columns.iter().enumerate() {
            for &(row, factor) in entries {
                matrix[row * width + column] = -factor;
            }
        }
        for row in 0..rows {
            matrix[row * width + columns.len() + row] = 1.0;
        }
        let mut cost: Vec<f64> = columns.iter().map(|&(cost, _)| cost).collect();
        cost.resize(width, 0.0);
        let mut tableau = Self {
            rows,
            columns: columns.len(),
            width,
            first: matrix.clone(),
            matrix,
            reduced: cost.clone(),
            cost,
            basis: Vec::new(),
            place: Vec::new(),
            at_high: vec![false; width],
            level: vec![0.0; rows],
            low,
            high,
            stuck: None,
            pivots: 0,
            steps: 0,
        };
        tableau.restart();
        tableau
    }

    /// Back to the basis of all activities.
    pub(super) fn restart(&mut self) {
        self.matrix.clone_from(&self.first);
        self.reduced.clone_from(&self.cost);
        self.basis = (self.columns..self.width).collect();
        self.place = vec![NOT_BASIC; self.width];
        for (place, &variable) in self.basis.iter().enumerate() {
            self.place[variable] = place;
        }
        self.pivots = 0;
        self.rest();
    }

    /// Keeps the basis but makes the cells anew, so that rounding does not pile up.
    fn refresh(&mut self, meter: &mut Meter<'_>) {
        let mut basis = self.basis.clone();
        basis.retain(|&variable| variable < self.columns);
        self.restart();
        for variable in basis {
            let free = (0..self.rows).filter(|&row| self.basis[row] >= self.columns);
            let size = |row: usize| self.matrix[row * self.width + variable].abs();
            let row = free.max_by(|&a, &b| size(a).total_cmp(&size(b)));
            if let Some(row) = row.filter(|&row| size(row) > 1e-9) {
                self.exchange(row, variable);
                meter.charge(std::mem::take(&mut self.steps));
            }
            // What is half made is not looked at again.
            if meter.stopped() {
                break;
            }
        }
        self.pivots = 0;
        self.rest();
    }

    /// Puts every variable outside the basis on the bound that its reduced cost asks for.
    pub(super) fn rest(&mut self) {
        for variable in 0..self.width {
            if self.place[variable] == NOT_BASIC {
                self.at_high[variable] =
                    self.reduced[variable] < 0.0 && self.high[variable].is_finite();
            }
        }
        self.level.fill(0.0);
        for variable in 0..self.width {
            let value = self.resting(variable);
            if self.place[variable] == NOT_BASIC && value != 0.0 {
                self.steps += 2 * self.rows as u64;
                for row in 0..self.rows {
                    self.level[row] -= self.matrix[row * self.width + variable] * value;
                }
            }
        }
        self.steps += 4 * self.width as u64;
    }

    fn resting(&self, variable: usize) -> f64 {
        if self.at_high[variable] {
            self.high[variable]
        } else {
            self.low[variable]
        }
    }

    pub(super) fn value(&self, variable: usize) -> f64 {
        match self.place[variable] {
            NOT_BASIC => self.resting(variable),
            place => self.level[place],
        }
    }

    /// Weights of the rows that show why the last node was given up: those of a row that can't
    /// be met, else what the rows are worth.
    pub(super) fn weights(&self) -> (Vec<f64>, bool) {
        let rows = self.columns..self.width;
        match self.stuck {
            None => (self.reduced[rows].to_vec(), true),
            Some((row, below)) => {
                let cells = &self.matrix[row * self.width..(row + 1) * self.width];
                let sign = if below { 1.0 } else { -1.0 };
                (cells[rows].iter().map(|cell| sign * cell).collect(), false)
            }
        }
    }

    fn objective(&self) -> f64 {
        (0..self.columns)
            .map(|column| self.cost[column] * self.value(column))
            .sum()
    }

    /// Runs until the bounds hold, or the cost passes `cutoff`.
    pub(super) fn solve(&mut self, cutoff: f64, meter: &mut Meter<'_>) -> Outcome {
        self.stuck = None;
        if self.pivots > 300 {
            self.refresh(meter);
        } else {
            self.rest();
        }
        for round in 0..400 + 4 * self.rows {
            if !meter.charge(std::mem::take(&mut self.steps)) {
                return Outcome::Unclear;
            }
            let Some((row, below)) = self.leaving() else {
                let objective = self.objective();
                return if objective > cutoff {
                    Outcome::Empty
                } else {
                    Outcome::Optimal(objective)
                };
            };
            let Some(entering) = self.entering(row, below) else {
                self.stuck = Some((row, below));
                return Outcome::Empty;
            };
            let leaving = self.basis[row];
            let bound = if below {
                self.low[leaving]
            } else {
                self.high[leaving]
            };
            let by = (self.level[row] - bound) / self.matrix[row * self.width + entering];
            let value = self.resting(entering) + by;
            for at in 0..self.rows {
                self.level[at] -= self.matrix[at * self.width + entering] * by;
            }
            self.exchange(row, entering);
            self.level[row] = value;
            self.at_high[leaving] = !below;
            // The cost only rises: look now and then whether it is already too much.
            if round % 8 == 7 && self.objective() > cutoff {
                return Outcome::Empty;
            }
        }
        self.refresh(meter);
        Outcome::Unclear
    }

    /// The basic variable farthest outside its bounds, and whether it is below.
    fn leaving(&self) -> Option<(usize, bool)> {
        let mut worst = (FEASIBLE, None);
        for (row, (&variable, &level)) in self.basis.iter().zip(&self.level).enumerate() {
            let below = self.low[variable] - level;
            let above = level - self.high[variable];
            if below > worst.0 {
                worst = (below, Some((row, true)));
            }
            if above > worst.0 {
                worst = (above, Some((row, false)));
            }
        }
        worst.1
    }

    fn entering(&self, row: usize, below: bool) -> Option<usize> {
        let cells = &self.matrix[row * self.width..(row + 1) * self.width];
        let mut best: Option<(f64, f64, usize)> = None;
        for (variable, &cell) in cells.iter().enumerate() {
            if cell.abs() < PIVOT || self.place[variable] != NOT_BASIC {
                continue;
            }
            // The basic one rises as the other moves against the sign of the cell.
            if (cell < 0.0) != (below != self.at_high[variable])
                || self.low[variable] == self.high[variable]
            {
                continue;
            }
            let ratio = (self.reduced[variable] / cell).abs();
            let better = match best {
                None => true,
                Some((least, size, _)) => {
                    ratio < least - 1e-10 || (ratio < least + 1e-10 && cell.abs() > size)
                }
            };
            if better {
                best = Some((ratio, cell.abs(), variable));
            }
        }
        best.map(|(_, _, variable)| variable)
    }

    fn exchange(&mut self, row: usize, entering: usize) {
        let width = self.width;
        let by = 1.0 / self.matrix[row * width + entering];
        let (above, rest) = self.matrix.split_at_mut(row * width);
        let (pivot, under) = rest.split_at_mut(width);
        for cell in pivot.iter_mut() {
            *cell *= by;
        }
        let mut touched = 2;
        for cells in above
            .chunks_exact_mut(width)
            .chain(under.chunks_exact_mut(width))
        {
            let factor = cells[entering];
            if factor != 0.0 {
                touched += 1;
                for (cell, &from) in cells.iter_mut().zip(pivot.iter()) {
                    *cell -= factor * from;
                }
                cells[entering] = 0.0;
            }
        }
        let factor = self.reduced[entering];
        if factor != 0.0 {
            for (cell, &from) in self.reduced.iter_mut().zip(pivot.iter()) {
                *cell -= factor * from;
            }
            self.reduced[entering] = 0.0;
        }
        let leaving = std::mem::replace(&mut self.basis[row], entering);
        self.place[leaving] = NOT_BASIC;
        self.place[entering] = row;
        self.pivots += 1;
        self.steps += (touched * width * 2 / 3) as u64;
    }
}
