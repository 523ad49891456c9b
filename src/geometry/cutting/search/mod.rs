//! The search for a cheap plan of whole sheets.
//!
//! Patterns come from the linear program of the job, of demands and prices moved at random, and
//! from greedy filling; branch and bound chooses among them. Each round does a little of all.

mod dive;
mod listed;
mod mixes;
mod near;
mod residue;
mod sheets;
mod shelves;

use super::branch::{Choice, Found, Offer, choose};
pub(super) use mixes::Mixes;

use super::generate::{Generator, Question, Relaxed, Worth};
use super::meter::Meter;
use super::random::Random;
use super::stages::Reached;
use super::strips::Priced;

/// A larger table of patterns and parts is too slow for the integer step.
const MOST_CELLS: usize = 400_000;

/// Any number will do; with 5 and 6 of the first six the hardest class order ends at its best.
const SEED: u64 = 6;

/// How often each pattern of the pool is used.
pub(super) type Uses = Vec<(usize, u32)>;

pub(super) struct Search<'a, 'm, 'r> {
    pub(super) generator: Generator<'a>,
    pub(super) meter: &'m mut Meter<'r>,
    random: Random,
    /// What the linear program says of the parts' worth.
    pub(super) worth: Worth,
    pub(super) best: Option<(i64, Uses)>,
    pub(super) mixes: Mixes,
    /// The last choice was among all patterns and was not cut short.
    exhausted: bool,
    /// For messages: the least that was missing, as row and count.
    pub(super) lacking: Option<(usize, u32)>,
}

impl<'a, 'm, 'r> Search<'a, 'm, 'r> {
    pub(super) fn new(generator: Generator<'a>, meter: &'m mut Meter<'r>) -> Self {
        Self {
            generator,
            meter,
            random: Random::new(SEED),
            worth: Worth::default(),
            mixes: Mixes::default(),
            exhausted: false,
            best: None,
            lacking: None,
        }
    }

    /// Goes on from what an earlier search reached: its patterns keep their numbers.
    pub(super) fn go_on(&mut self, before: &mut Reached) {
        for pattern in &before.pool {
            self.generator.add(pattern.stock, pattern.tree.clone());
        }
        self.mixes = std::mem::take(&mut before.mixes);
        self.raise(before.bound);
        self.offer(before.uses.clone());
    }

    pub(super) fn limits(&self) -> Vec<Option<u32>> {
        let sheets = self.generator.problem.sheets.iter();
        sheets.map(|sheet| sheet.available).collect()
    }

    pub(super) fn cost(&self, uses: &Uses) -> i64 {
        uses.iter()
            .map(|&(pattern, times)| {
                let stock = self.generator.pool[pattern].stock;
                self.generator.problem.sheets[stock].cost * i64::from(times)
            })
            .sum()
    }

    fn best_cost(&self) -> i64 {
        self.best.as_ref().map_or(i64::MAX, |&(cost, _)| cost)
    }

    /// The best plan can't be improved.
    pub(super) fn done(&self) -> bool {
        let bound = self.generator.bound;
        self.best.as_ref().is_some_and(|&(cost, _)| cost <= bound)
    }

    fn going(&self) -> bool {
        self.meter.going() && !self.done()
    }

    fn offer(&mut self, mut uses: Uses) -> bool {
        uses.sort_unstable();
        uses.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                kept.1 += next.1;
            }
            same
        });
        let cost = self.cost(&uses);
        let better = self.best.as_ref().is_none_or(|&(best, _)| cost < best);
        if better {
            self.meter.best = u64::try_from(cost).ok();
            self.best = Some((cost, uses));
        }
        better
    }

    /// Solves the job's linear program: patterns, duals, the bound.
    pub(super) fn start(&mut self) -> Relaxed {
        self.plain(self.demand(), Vec::new());
        self.shelves(self.demand(), Vec::new());
        self.limited(self.meter.all() / 20, |search| search.greedy(None, 3));
        self.relaxed()
    }

    /// The job's linear program alone.
    pub(super) fn relaxed(&mut self) -> Relaxed {
        let demand: Vec<f64> = self.demand().iter().map(|&d| f64::from(d)).collect();
        let question = Question {
            demand: &demand,
            limits: &self.limits(),
            prove: true,
            enough: i64::MAX,
        };
        let relaxed = self.generator.relax(&question, self.meter);
        self.raise(relaxed.bound);
        self.worth = relaxed.worth.clone();
        relaxed
    }

    fn raise(&mut self, bound: i64) {
        self.generator.raise(bound);
        self.meter.bound = u64::try_from(self.generator.bound).unwrap_or(0);
    }

    /// Solves a side question: patterns are what it is for.
    fn relax(&mut self, demand: &[f64], limits: &[Option<u32>]) -> Relaxed {
        let question = Question {
            demand,
            limits,
            prove: false,
            enough: i64::MAX,
        };
        self.generator.relax(&question, self.meter)
    }

    pub(super) fn demand(&self) -> Vec<u32> {
        self.generator.problem.demand.clone()
    }

    /// Looks for cheaper plans until the effort is spent or the plan is proven least.
    pub(super) fn run(&mut self) {
        let all = self.meter.left();
        self.dive(&self.demand(), &Vec::new(), 0.0);
        self.limited(all / 20, |search| {
            while search.going() {
                let stray = search.random.unit();
                search.dive(&search.demand(), &Vec::new(), stray);
            }
        });
        self.integer(100, all / 10);
        let mut round = 0;
        let mut stale = 0;
        // When nothing new turns up round after round, more rounds are of no use.
        while self.going() && stale < 5 {
            if round == 1 {
                self.all_listed();
            }
            let (patterns, cost) = (self.generator.pool.len(), self.best_cost());
            let stage = [100, 200, 400, 800, 1600][usize::min(round / 2, 4)];
            self.limited(all / 60, |search| {
                while search.going() {
                    search.greedy(None, 2);
                }
            });
            self.limited(all / 40, |search| {
                while search.going() {
                    let stray = search.random.unit();
                    search.dive(&search.demand(), &Vec::new(), stray);
                }
            });
            self.limited(all / 40, |search| {
                while search.going() {
                    search.other_demand();
                    search.other_prices();
                }
            });
            self.limited(all / 15, |search| {
                while search.going() {
                    search.mend();
                }
            });
            self.limited(all / 60, |search| {
                while search.going() {
                    search.near();
                }
            });
            if round > 0 {
                self.limited(all / 6, Self::round_by_lot);
            }
            self.limited(all / 20, Self::split_by_mix);
            self.integer_in_mix(round, stage, all / 25);
            let share = if round % 3 == 2 { all / 8 } else { all / 25 };
            // Once all mixes are known, a cheaper plan can only come from one of them.
            if self.mixes.to >= self.best_cost() {
                self.integer_in_mix(round, stage, share);
            } else {
                self.integer(stage, share);
            }
            round += 1;
            let grown = self.generator.pool.len() > patterns + patterns / 50;
            let same = !grown && self.exhausted && self.best_cost() == cost;
            stale = if same { stale + 1 } else { 0 };
        }
    }

    fn limited(&mut self, steps: u64, work: impl FnOnce(&mut Self)) {
        let limit = self.meter.narrow(steps);
        work(self);
        self.meter.restore(limit);
    }

    /// What is still to be made beside the sheets in use.
    pub(super) fn missing(&self, uses: &Uses) -> Vec<u32> {
        let mut left = self.demand();
        for &(pattern, times) in uses {
            for &(row, count) in &self.generator.pool[pattern].counts {
                left[row] = left[row].saturating_sub(count.saturating_mul(times));
            }
        }
        left
    }

    /// Patterns for a demand moved at random.
    fn other_demand(&mut self) {
        let none = self.random.unit() * 0.6;
        let demand: Vec<f64> = self
            .demand()
            .iter()
            .map(|&demand| {
                let keep = self.random.unit() >= none;
                let factor = 0.2 + 1.8 * self.random.unit();
                if keep {
                    f64::from(demand) * factor
                } else {
                    0.0
                }
            })
            .collect();
        self.relax(&demand, &vec![None; self.generator.problem.sheets.len()]);
    }

    /// Patterns for part values moved at random.
    fn other_prices(&mut self) {
        for _ in 0..6 {
            if !self.going() {
                return;
            }
            // From a hundredth to all of their worth.
            let spread = 10_f64.powf(-2.0 * self.random.unit());
            let mix = self.random.below(2 * self.mixes.kept.len() + 1);
            let worth = self
                .mixes
                .kept
                .get(mix)
                .map_or(&self.worth, |mix| &mix.worth);
            let mut duals = worth.parts.clone();
            for dual in &mut duals {
                let factor = 1.0 + spread * (2.0 * self.random.unit() - 1.0);
                *dual = dual.max(0.0) * factor.max(0.0);
            }
            let (values, _) = self.generator.whole(&duals);
            let strips = self.generator.price_strips(&values, self.meter);
            let nested = if self.random.below(4) == 0 {
                self.generator.price_nested(&values, self.meter)
            } else {
                None
            };
            for Priced { stock, tree, .. } in [strips, nested].into_iter().flatten().flatten() {
                self.generator.add(stock, tree);
            }
        }
    }

    /// Branch and bound over the most promising patterns of the pool.
    pub(super) fn integer(&mut self, most: usize, steps: u64) {
        let cutoff = match &self.best {
            Some((cost, _)) => self.generator.prices.below(*cost),
            None => i64::MAX / 4,
        };
        let (demand, limits, worth) = (self.demand(), self.limits(), self.worth.clone());
        let bound = self.generator.bound;
        if cutoff < bound {
            return;
        }
        let found = self.choose(&demand, limits, &worth, most, steps, (bound, cutoff));
        if let Some(found) = found {
            self.offer(found);
        }
    }

    fn choose(
        &mut self,
        demand: &[u32],
        limits: Vec<Option<u32>>,
        worth: &Worth,
        most: usize,
        steps: u64,
        (bound, cutoff): (i64, i64),
    ) -> Option<Uses> {
        let chosen = self.promising(demand, worth, most);
        self.choose_of(demand, limits, chosen, steps, (bound, cutoff))
    }

    /// Branch and bound over some patterns.
    fn choose_of(
        &mut self,
        demand: &[u32],
        limits: Vec<Option<u32>>,
        chosen: Vec<usize>,
        steps: u64,
        (bound, cutoff): (i64, i64),
    ) -> Option<Uses> {
        if !self.meter.going() || chosen.len() * demand.len() > MOST_CELLS {
            return None;
        }
        let generator = &self.generator;
        let offers = chosen.iter().map(|&pattern| {
            let pattern = &generator.pool[pattern];
            Offer {
                cost: generator.problem.sheets[pattern.stock].cost,
                stock: pattern.stock,
                counts: &pattern.counts,
            }
        });
        let choice = Choice {
            patterns: offers.collect(),
            demand,
            limits,
            bound,
            cutoff,
            certify: false,
        };
        let prices = &generator.prices;
        let Found { uses, complete } = choose(
            &choice,
            steps.min(self.meter.left()),
            self.meter,
            &|cost| prices.up(cost),
            &|cost| prices.below(cost),
        );
        let whole = demand == self.generator.problem.demand;
        self.exhausted = whole && complete && chosen.len() == self.generator.pool.len();
        let uses = uses?
            .into_iter()
            .zip(chosen)
            .filter(|&(times, _)| times > 0);
        Some(uses.map(|(times, pattern)| (pattern, times)).collect())
    }

    /// The patterns that suit the whole demand best.
    pub(super) fn candidates(&self, most: usize) -> Vec<usize> {
        self.promising(&self.demand(), &self.worth, most)
    }

    /// A number below `end`.
    pub(super) fn pick(&mut self, end: usize) -> usize {
        self.random.below(end)
    }

    /// True with a probability.
    pub(super) fn chance(&mut self, probability: f64) -> bool {
        self.random.unit() < probability
    }

    /// The patterns of least reduced cost, clipped to the demand, and those of the best plan.
    fn promising(&self, demand: &[u32], worth: &Worth, most: usize) -> Vec<usize> {
        let generator = &self.generator;
        let mut order: Vec<(f64, usize)> = generator
            .pool
            .iter()
            .enumerate()
            .map(|(index, pattern)| {
                let worth_of = |&(row, count): &(usize, u32)| {
                    worth.parts[row] * f64::from(count.min(demand[row]))
                };
                let gained: f64 = pattern.counts.iter().map(worth_of).sum();
                let cost = generator.cost(pattern.stock) + worth.stocks[pattern.stock];
                (cost - gained, index)
            })
            .collect();
        order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut chosen: Vec<usize> = order.iter().take(most).map(|&(_, index)| index).collect();
        if let Some((_, uses)) = &self.best {
            let extra: Vec<usize> = uses
                .iter()
                .map(|&(pattern, _)| pattern)
                .filter(|pattern| !chosen.contains(pattern))
                .collect();
            chosen.extend(extra);
        }
        chosen
    }
}
