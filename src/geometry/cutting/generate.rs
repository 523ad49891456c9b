//! Column generation: patterns that the plan lacks, found by their price.

use std::collections::HashMap;

use super::axis::Axis;
use super::meter::Meter;
use super::nested::Nested;
use super::prices::{Prices, proven};
use super::problem::Problem;
use super::simplex::{Column, Master};
use super::strips::{Priced, Strips, laid};
use super::tree::{Along, Pattern, Tree};

pub(super) struct Generator<'a> {
    pub(super) problem: &'a Problem,
    pub(super) strips: [Strips; 2],
    nested: Option<Nested>,
    pub(super) prices: Prices,
    pub(super) pool: Vec<Pattern>,
    seen: HashMap<(usize, Vec<(usize, u32)>), usize>,
    /// Every plan costs at least this.
    pub(super) bound: i64,
    /// The dearest sheet: costs are measured by it.
    dearest: i64,
}

/// A linear program to solve.
pub(super) struct Question<'q> {
    pub(super) demand: &'q [f64],
    /// The most sheets of each stock.
    pub(super) limits: &'q [Option<u32>],
    /// The demand is the job's: keep the bound that its duals prove.
    pub(super) prove: bool,
    /// Stop once the bound is above this.
    pub(super) enough: i64,
}

/// What things are worth to a linear program, in dearest sheets.
#[derive(Clone, Default)]
pub(super) struct Worth {
    pub(super) parts: Vec<f64>,
    /// One more sheet of each stock beyond its price; 0 where it has no limit.
    pub(super) stocks: Vec<f64>,
}

/// What the linear program says.
pub(super) struct Relaxed {
    pub(super) worth: Worth,
    /// Proven: a whole plan within the limits costs at least this.
    pub(super) bound: i64,
    /// Pattern and how often, fractions allowed.
    pub(super) amounts: Vec<(usize, f64)>,
    /// What is missing, if the limits don't allow the demand.
    pub(super) lacking: Vec<(usize, f64)>,
    /// No better pattern exists.
    pub(super) settled: bool,
}

/// About how many places of an axis leave a pricing within so many steps.
fn strips_cap(problem: &Problem, axes: [&Axis; 2], steps: u64) -> usize {
    let lengths = axes.map(|axis| axis.points.len());
    let columns = problem.items.len();
    let mut cap = 3_000;
    while cap > 60 {
        let [x, y] = lengths.map(|length| length.min(cap));
        if ((x * y) as u64).saturating_mul(columns as u64) < 4 * steps {
            break;
        }
        cap = cap * 2 / 3;
    }
    cap
}

/// The places along the widths and along the heights.
pub(super) fn axes(problem: &Problem) -> [Axis; 2] {
    [Along::Height, Along::Width].map(|along| {
        let (items, sheets) = laid(problem, along);
        Axis::new(&items, &sheets, &problem.demand)
    })
}

impl<'a> Generator<'a> {
    pub(super) fn new(problem: &'a Problem, steps: u64) -> Self {
        let axes = axes(problem);
        let axes = [&axes[0], &axes[1]];
        let mut cap = strips_cap(problem, axes, steps / 40);
        let strips = loop {
            let strips = [Along::Height, Along::Width].map(|a| Strips::new(problem, a, axes, cap));
            let effort: u64 = strips.iter().map(Strips::effort).sum();
            if effort < steps / 40 || cap < 60 {
                break strips;
            }
            cap = cap * 2 / 3;
        };
        let nested = match problem.phases {
            None => Nested::new(problem, axes, steps / 4),
            Some(_) => None,
        };
        let mut generator = Self {
            problem,
            strips,
            nested,
            prices: Prices::new(problem),
            pool: Vec::new(),
            seen: HashMap::new(),
            bound: 0,
            dearest: problem.sheets.iter().map(|s| s.cost).max().unwrap_or(1),
        };
        generator.area_bound();
        generator
    }

    /// Parts' area by the cheapest sheet area: the bound where no better one is proven.
    fn area_bound(&mut self) {
        let problem = self.problem;
        let mut values = vec![0_i64; problem.rows()];
        for item in &problem.items {
            let area = i128::from(item.w) * i128::from(item.h);
            values[item.row] = i64::try_from(area).unwrap_or(0);
        }
        let area = |w: i64, h: i64| w.checked_mul(h).unwrap_or(i64::MAX);
        let best: Vec<i64> = problem.sheets.iter().map(|s| area(s.w, s.h)).collect();
        // With this price no limited sheet gains, so that the bound holds with limits too.
        let least = (0..best.len()).min_by(|&a, &b| {
            let worth = |s: usize| problem.sheets[s].cost as f64 / best[s] as f64;
            worth(a).total_cmp(&worth(b))
        });
        if let Some(least) = least {
            let price = (problem.sheets[least].cost, best[least]);
            let limits: Vec<_> = problem.sheets.iter().map(|s| s.available).collect();
            self.raise(proven(problem, &limits, &values, &best, price));
        }
    }

    pub(super) fn raise(&mut self, bound: i64) {
        if bound > self.bound {
            self.bound = self.prices.up(bound);
        }
    }

    /// Takes a pattern into the pool; its index if it is new.
    pub(super) fn add(&mut self, stock: usize, tree: Tree) -> Option<usize> {
        let before = self.pool.len();
        self.index_of(stock, tree).filter(|&index| index >= before)
    }

    /// Takes a pattern into the pool unless an equal one is there; `None` if it is empty.
    pub(super) fn index_of(&mut self, stock: usize, tree: Tree) -> Option<usize> {
        let pattern = Pattern::new(self.problem, stock, tree);
        if pattern.counts.is_empty() {
            return None;
        }
        let key = (stock, pattern.counts.clone());
        let index = *self.seen.entry(key).or_insert(self.pool.len());
        if index == self.pool.len() {
            self.pool.push(pattern);
        }
        Some(index)
    }

    /// Duals as whole numbers, and the price (cost, value) that turns them into money.
    pub(super) fn whole(&self, duals: &[f64]) -> (Vec<i64>, (i64, i64)) {
        let problem = self.problem;
        let most_area = problem.sheets.iter().map(|s| s.w as f64 * s.h as f64);
        let most_area = most_area.fold(1.0, f64::max);
        let densest = duals
            .iter()
            .zip(&problem.area)
            .map(|(dual, area)| dual / area)
            .fold(1e-30, f64::max);
        // Any sheet's worth stays below 2^29, so that two of them can be added.
        let scale = (f64::from(1 << 29) / (densest * most_area)).min(1e15);
        // Very dear parts, as where sheets lack, are counted in many dearest sheets.
        let (scale, unit) = if scale >= 1.0 {
            (scale.floor(), 1.0)
        } else {
            (1.0, (1.0 / scale).ceil().min(1e9))
        };
        let values = duals
            .iter()
            .take(problem.rows())
            .map(|dual| (dual.max(0.0) * scale / unit).floor() as i64)
            .collect();
        (values, (self.dearest * unit as i64, scale as i64))
    }

    /// The best patterns under part values, of three phases at most; `None` if stopped.
    pub(super) fn price_strips(
        &self,
        values: &[i64],
        meter: &mut Meter<'_>,
    ) -> Option<Vec<Priced>> {
        let mut all = Vec::new();
        for strips in &self.strips {
            meter.charge(5_000);
            all.extend(strips.price(values, meter)?);
        }
        Some(all)
    }

    pub(super) fn price_nested(
        &self,
        values: &[i64],
        meter: &mut Meter<'_>,
    ) -> Option<Vec<Priced>> {
        match &self.nested {
            None => Some(Vec::new()),
            Some(nested) => nested.price(values, meter),
        }
    }

    /// Its column, given the row of each stock's limit.
    fn column(&self, pattern: &Pattern, limit_rows: &[Option<usize>]) -> Column {
        let mut entries: Vec<(usize, f64)> = pattern
            .counts
            .iter()
            .map(|&(row, count)| (row, f64::from(count)))
            .collect();
        entries.extend(limit_rows[pattern.stock].map(|row| (row, -1.0)));
        Column {
            cost: self.cost(pattern.stock),
            entries,
        }
    }

    /// Price of the dearest sheet.
    pub(super) fn dearest(&self) -> i64 {
        self.dearest
    }

    /// Price of a sheet in dearest sheets.
    pub(super) fn cost(&self, stock: usize) -> f64 {
        self.problem.sheets[stock].cost as f64 / self.dearest as f64
    }

    /// Solves a linear program, making patterns as it goes.
    pub(super) fn relax(&mut self, question: &Question<'_>, meter: &mut Meter<'_>) -> Relaxed {
        let mut next = question.demand.len();
        let mut limit_rows = Vec::new();
        for limit in question.limits {
            limit_rows.push(limit.map(|_| next));
            next += usize::from(limit.is_some());
        }
        let limits: Vec<f64> = question
            .limits
            .iter()
            .flatten()
            .map(|&n| f64::from(n))
            .collect();
        let mut master = Master::new(question.demand, &limits, 10.0);
        for pattern in &self.pool {
            master.add(self.column(pattern, &limit_rows));
        }
        meter.charge(100 * self.pool.len() as u64);
        let mut bound = 0;
        let mut settled = false;
        let mut dearer = 0;
        loop {
            master.solve(meter);
            if !meter.going() {
                break;
            }
            let mut better = false;
            for nested in [false, true] {
                better = better
                    || self.improve(
                        &mut master,
                        nested,
                        &limit_rows,
                        question,
                        &mut bound,
                        meter,
                    );
            }
            if bound > question.enough || meter.stopped() {
                break;
            }
            if better {
                continue;
            }
            if !master.lacking().is_empty() && dearer < 4 {
                dearer += 1;
                master.make_missing_dearer();
                continue;
            }
            settled = true;
            break;
        }
        let dual = |row: usize| master.duals()[row];
        Relaxed {
            worth: Worth {
                parts: (0..question.demand.len()).map(dual).collect(),
                stocks: limit_rows.iter().map(|row| row.map_or(0.0, dual)).collect(),
            },
            bound,
            amounts: master.amounts(),
            lacking: master.lacking(),
            settled,
        }
    }

    /// Prices once; adds what improves the plan and says whether anything did.
    fn improve(
        &mut self,
        master: &mut Master,
        nested: bool,
        limit_rows: &[Option<usize>],
        question: &Question<'_>,
        bound: &mut i64,
        meter: &mut Meter<'_>,
    ) -> bool {
        if nested && self.nested.is_none() {
            return false;
        }
        let (values, price) = self.whole(master.duals());
        let priced = if nested {
            self.price_nested(&values, meter)
        } else {
            self.price_strips(&values, meter)
        };
        // What was stopped half-way proves nothing.
        let Some(priced) = priced else {
            return false;
        };
        let exact = if nested {
            true
        } else {
            self.problem.phases.is_some() && self.strips.iter().all(Strips::exact)
        };
        if exact && question.prove {
            let mut best = vec![0; self.problem.sheets.len()];
            for priced in &priced {
                best[priced.stock] = best[priced.stock].max(priced.value);
            }
            let proven = proven(self.problem, question.limits, &values, &best, price);
            *bound = (*bound).max(proven);
        }
        let mut better = false;
        for Priced { stock, tree, .. } in priced {
            let Some(index) = self.add(stock, tree) else {
                continue;
            };
            let column = self.column(&self.pool[index], limit_rows);
            better |= master.reduced_cost(&column) < -1e-7;
            master.add(column);
        }
        better
    }
}
