//! The integer step: how often to use each pattern of a list, by branch and bound.
//!
//! Every node is a linear program whose cost is raised to the next sum of sheet prices. The node
//! of least cost is taken next, and followed downward until it ends. The numbers of sheets are
//! branched on first: few of them, and each settles much.

mod certify;
mod tableau;

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::meter::Meter;
use tableau::{Outcome, Tableau};

/// A choice among patterns.
pub(super) struct Choice<'a> {
    /// Cost, stock, and row with count of each pattern.
    pub(super) patterns: Vec<Offer<'a>>,
    pub(super) demand: &'a [u32],
    /// Limits of the stocks.
    pub(super) limits: Vec<Option<u32>>,
    /// No plan costs less.
    pub(super) bound: i64,
    /// The greatest cost that is worth finding.
    pub(super) cutoff: i64,
    /// Every branch that is given up is checked in whole numbers: a complete search is a proof.
    pub(super) certify: bool,
}

/// A pattern on offer.
pub(super) struct Offer<'a> {
    pub(super) cost: i64,
    pub(super) stock: usize,
    pub(super) counts: &'a [(usize, u32)],
}

/// What the search found.
pub(super) struct Found {
    /// How often each pattern is used, if a plan was found.
    pub(super) uses: Option<Vec<u32>>,
    /// The search was not cut short: no choice among these patterns costs less.
    pub(super) complete: bool,
}

/// A branch: variable and its bounds.
type Bounds = (u32, f64, f64);

struct Node {
    cost: f64,
    path: Vec<Bounds>,
}

struct Search<'a> {
    choice: &'a Choice<'a>,
    tableau: Tableau,
    low: Vec<f64>,
    high: Vec<f64>,
    cutoff: i64,
    best: Option<Vec<u32>>,
    complete: bool,
    below: &'a dyn Fn(i64) -> i64,
    up: &'a dyn Fn(i64) -> i64,
}

const WHOLE: f64 = 1e-6;
/// Nodes kept at once; beyond these the search is no longer complete.
const MOST_NODES: usize = 200_000;

/// Searches with at most `most_steps`; `up` and `below` are the neighbouring sums of prices.
pub(super) fn choose(
    choice: &Choice<'_>,
    most_steps: u64,
    meter: &mut Meter<'_>,
    up: &dyn Fn(i64) -> i64,
    below: &dyn Fn(i64) -> i64,
) -> Found {
    let limit = meter.narrow(most_steps);
    let mut search = Search::new(choice, up, below);
    search.run(meter);
    meter.restore(limit);
    Found {
        uses: search.best,
        complete: search.complete,
    }
}

impl<'a> Search<'a> {
    fn new(
        choice: &'a Choice<'a>,
        up: &'a dyn Fn(i64) -> i64,
        below: &'a dyn Fn(i64) -> i64,
    ) -> Self {
        let parts = choice.demand.len();
        let rows = parts + choice.limits.len();
        let mut columns = Vec::new();
        let (mut low, mut high) = (Vec::new(), Vec::new());
        for pattern in &choice.patterns {
            let mut entries = vec![(parts + pattern.stock, 1.0)];
            let mut most = 0;
            for &(row, count) in pattern.counts {
                let wanted = choice.demand[row];
                if wanted > 0 {
                    entries.push((row, f64::from(count.min(wanted))));
                    most = most.max(wanted.div_ceil(count));
                }
            }
            let most = most.min(choice.limits[pattern.stock].unwrap_or(u32::MAX));
            columns.push((pattern.cost as f64, entries));
            low.push(0.0);
            high.push(f64::from(most));
        }
        for &demand in choice.demand {
            low.push(f64::from(demand));
            high.push(f64::INFINITY);
        }
        for &limit in &choice.limits {
            low.push(0.0);
            high.push(limit.map_or(f64::INFINITY, f64::from));
        }
        Self {
            tableau: Tableau::new(rows, &columns, low.clone(), high.clone()),
            choice,
            low,
            high,
            cutoff: choice.cutoff,
            best: None,
            complete: true,
            below,
            up,
        }
    }

    fn run(&mut self, meter: &mut Meter<'_>) {
        // Lowest cost first, in thousandths; of equal ones the latest, which is the deepest.
        let mut open: BinaryHeap<(Reverse<i64>, usize)> = BinaryHeap::new();
        let mut nodes: Vec<Option<Node>> = vec![Some(Node {
            cost: 0.0,
            path: Vec::new(),
        })];
        open.push((Reverse(0), 0));
        while let Some((_, index)) = open.pop() {
            let Some(node) = nodes[index].take() else {
                continue;
            };
            if self.lifted(node.cost) > self.cutoff && !self.choice.certify {
                return;
            }
            self.dive(node, meter, &mut |node: Node| {
                // Of nodes that come to the same sum the one with most room within it.
                let cost = (node.cost * 1000.0) as i64;
                nodes.push(Some(node));
                open.push((Reverse(cost), nodes.len() - 1));
            });
            if self.best.is_some() && self.cutoff < self.choice.bound {
                return;
            }
            if !meter.going() || nodes.len() > MOST_NODES {
                self.complete = false;
                return;
            }
        }
    }

    /// The least sum of prices that a node of this cost may come to.
    fn lifted(&self, cost: f64) -> i64 {
        (self.up)((cost - 1e-6).ceil() as i64).max(self.choice.bound)
    }

    /// Follows a node down; what is left aside goes to `later`.
    fn dive(&mut self, node: Node, meter: &mut Meter<'_>, later: &mut dyn FnMut(Node)) {
        let mut path = node.path;
        self.tableau.low.clone_from(&self.low);
        self.tableau.high.clone_from(&self.high);
        for &(variable, low, high) in &path {
            let variable = variable as usize;
            self.tableau.low[variable] = low;
            self.tableau.high[variable] = high;
        }
        let mut least = node.cost;
        meter.charge(500 + 4 * self.low.len() as u64);
        loop {
            let outcome = self.tableau.solve(self.cutoff as f64 + 1e-6, meter);
            // The choice of a branch takes about as long as a look along a row or two.
            meter.charge(300 + 8 * self.low.len() as u64);
            let cost = match outcome {
                Outcome::Empty => return self.certify(),
                Outcome::Unclear => {
                    self.complete = false;
                    return;
                }
                Outcome::Optimal(cost) => cost,
            };
            least = f64::max(least, cost);
            if self.lifted(least) > self.cutoff {
                return self.certify();
            }
            let Some(variable) = self.split() else {
                self.keep();
                return self.certify();
            };
            let value = self.tableau.value(variable);
            let (low, high) = (self.tableau.low[variable], self.tableau.high[variable]);
            let down = (variable as u32, low, value.floor());
            let up = (variable as u32, value.floor() + 1.0, high);
            let (first, second) = if variable < self.tableau.columns || value.fract() > 0.5 {
                (up, down)
            } else {
                (down, up)
            };
            let mut other = path.clone();
            other.push(second);
            later(Node {
                cost: least,
                path: other,
            });
            path.push(first);
            self.tableau.low[variable] = first.1;
            self.tableau.high[variable] = first.2;
            if !meter.going() {
                later(Node { cost: least, path });
                return;
            }
        }
    }

    /// A variable that is not whole: a number of sheets, else the pattern nearest above.
    fn split(&self) -> Option<usize> {
        let columns = self.tableau.columns;
        let first_stock = columns + self.choice.demand.len();
        let fraction = |variable: usize| {
            let value = self.tableau.value(variable);
            let fraction = value - value.floor();
            (fraction > WHOLE && fraction < 1.0 - WHOLE).then_some(fraction)
        };
        let stock = (first_stock..columns + self.tableau.rows).find(|&s| fraction(s).is_some());
        stock.or_else(|| {
            (0..columns)
                .filter_map(|column| fraction(column).map(|fraction| (column, fraction)))
                .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
                .map(|(column, _)| column)
        })
    }

    /// Takes over a whole point, once its counts are checked in whole numbers.
    fn keep(&mut self) {
        let uses: Vec<u32> = (0..self.tableau.columns)
            .map(|column| self.tableau.value(column).round().max(0.0) as u32)
            .collect();
        let mut made = vec![0_u64; self.choice.demand.len()];
        let mut cost = 0_i64;
        let mut taken = vec![0_u64; self.choice.limits.len()];
        for (pattern, &uses) in self.choice.patterns.iter().zip(&uses) {
            cost += pattern.cost * i64::from(uses);
            taken[pattern.stock] += u64::from(uses);
            for &(row, count) in pattern.counts {
                made[row] += u64::from(count) * u64::from(uses);
            }
        }
        let enough = made
            .iter()
            .zip(self.choice.demand)
            .all(|(&made, &wanted)| made >= u64::from(wanted));
        let within = taken
            .iter()
            .zip(&self.choice.limits)
            .all(|(&taken, &limit)| limit.is_none_or(|limit| taken <= u64::from(limit)));
        if enough && within && cost <= self.cutoff {
            self.best = Some(uses);
            self.cutoff = (self.below)(cost);
        } else if !enough || !within {
            self.complete = false;
        }
    }
}
