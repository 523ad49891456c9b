//! Column generation: patterns that the plan lacks, found by their price.

use std::collections::HashMap;

use super::meter::Meter;
use super::nested::Nested;
use super::prices::{Prices, proven};
use super::problem::Problem;
use super::simplex::{Column, Master};
use super::strips::{Priced, Strips};
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

/// What the linear program says.
pub(super) struct Relaxed {
    /// Worth of each part, then of each limited sheet, in dearest sheets.
    pub(super) duals: Vec<f64>,
    /// Pattern and how often, fractions allowed.
    pub(super) amounts: Vec<(usize, f64)>,
    /// What is missing, if the limits don't allow the demand.
    pub(super) lacking: Vec<(usize, f64)>,
    /// No better pattern exists.
    pub(super) settled: bool,
}

impl<'a> Generator<'a> {
    pub(super) fn new(problem: &'a Problem, steps: u64) -> Self {
        let mut cap = 3_000;
        let strips = loop {
            let strips = [Along::Height, Along::Width].map(|a| Strips::new(problem, a, cap));
            let effort: u64 = strips.iter().map(Strips::effort).sum();
            if effort < steps / 40 || cap < 60 {
                break strips;
            }
            cap = cap * 2 / 3;
        };
        let nested = match problem.phases {
            None => Nested::new(problem, steps / 20),
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
            self.raise(proven(problem, &values, &best, price));
        }
    }

    fn raise(&mut self, bound: i64) {
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
    fn whole(&self, duals: &[f64]) -> (Vec<i64>, (i64, i64)) {
        let problem = self.problem;
        let most_area = problem.sheets.iter().map(|s| s.w as f64 * s.h as f64);
        let most_area = most_area.fold(1.0, f64::max);
        let densest = duals
            .iter()
            .zip(&problem.area)
            .map(|(dual, area)| dual / area)
            .fold(1e-30, f64::max);
        // Any sheet's worth stays below 2^29, so that two of them can be added.
        let scale = (f64::from(1 << 29) / (densest * most_area))
            .clamp(1.0, 1e15)
            .floor();
        let values = duals
            .iter()
            .take(problem.rows())
            .map(|dual| (dual.max(0.0) * scale).floor() as i64)
            .collect();
        (values, (self.dearest, scale as i64))
    }

    /// The best patterns under part values: of three phases at most.
    pub(super) fn price_strips(&self, values: &[i64], meter: &mut Meter<'_>) -> Vec<Priced> {
        let mut all = Vec::new();
        for strips in &self.strips {
            let (priced, steps) = strips.price(values);
            meter.charge(steps);
            all.extend(priced);
        }
        all
    }

    pub(super) fn price_nested(&self, values: &[i64], meter: &mut Meter<'_>) -> Vec<Priced> {
        let Some(nested) = &self.nested else {
            return Vec::new();
        };
        meter.charge(nested.effort());
        nested.price(values)
    }

    pub(super) fn column(&self, pattern: &Pattern) -> Column {
        let mut entries: Vec<(usize, f64)> = pattern
            .counts
            .iter()
            .map(|&(row, count)| (row, f64::from(count)))
            .collect();
        if let Some(limit) = self.limit_row(pattern.stock) {
            entries.push((limit, -1.0));
        }
        Column {
            cost: self.problem.sheets[pattern.stock].cost as f64 / self.dearest as f64,
            entries,
        }
    }

    fn limit_row(&self, stock: usize) -> Option<usize> {
        let sheets = &self.problem.sheets;
        sheets[stock].available?;
        let before = sheets[..stock].iter().filter(|s| s.available.is_some());
        Some(self.problem.rows() + before.count())
    }

    /// Solves the linear program for a demand, making patterns as it goes.
    ///
    /// Only with the job's own demand and limits does what it proves hold: say so by `whole_job`.
    pub(super) fn relax(
        &mut self,
        demand: &[f64],
        limits: &[f64],
        whole_job: bool,
        meter: &mut Meter<'_>,
    ) -> Relaxed {
        let mut master = Master::new(demand, limits, 10.0);
        for pattern in &self.pool {
            master.add(self.column(pattern));
        }
        // Which pattern of the pool each column is.
        let mut settled = false;
        let mut dearer = 0;
        loop {
            master.solve();
            let going = meter.charge(std::mem::take(&mut master.steps));
            if !going {
                break;
            }
            if self.improve(&mut master, false, whole_job, meter)
                || self.improve(&mut master, true, whole_job, meter)
            {
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
        Relaxed {
            duals: master.duals().to_vec(),
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
        whole_job: bool,
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
        let exact = if nested {
            true
        } else {
            self.problem.phases.is_some() && self.strips.iter().all(Strips::exact)
        };
        if exact && whole_job {
            let mut best = vec![0; self.problem.sheets.len()];
            for priced in &priced {
                best[priced.stock] = best[priced.stock].max(priced.value);
            }
            self.raise(proven(self.problem, &values, &best, price));
        }
        let mut better = false;
        for Priced { stock, tree, .. } in priced {
            let Some(index) = self.add(stock, tree) else {
                continue;
            };
            let column = self.column(&self.pool[index]);
            better |= master.reduced_cost(&column) < -1e-7;
            master.add(column);
        }
        better
    }
}
