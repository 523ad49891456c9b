//! Mixes of sheets: how many of each stock a plan may take.
//!
//! A plan costs a sum of sheet prices, and few mixes make a given sum. Each is a linear program
//! of its own, mostly dearer than the sum it stands for: then no plan is made of that mix.

use super::super::generate::{Question, Worth};
use super::super::sums::{Found, next_sum};
use super::Search;

/// With more mixes of a cost than this, looking at each takes too long.
const MOST_MIXES: usize = 200;

/// Which mixes may make a plan cheaper than the best.
#[derive(Default)]
pub(in super::super) struct Mixes {
    /// Those that no bound rules out.
    pub(super) kept: Vec<Mix>,
    /// All mixes below this cost are known.
    pub(super) to: i64,
    /// Mixes of that cost that were not looked at yet.
    pending: Vec<Vec<Option<u32>>>,
}

/// Numbers of sheets of each stock that no bound rules out.
pub(super) struct Mix {
    pub(super) cost: i64,
    pub(super) limits: Vec<Option<u32>>,
    pub(super) worth: Worth,
}

impl Search<'_, '_, '_> {
    /// Rules out mixes of sheets, cost by cost from the bound up: where none is left at a cost,
    /// the bound rises; where some are, their patterns are what a cheaper plan needs.
    pub(super) fn split_by_mix(&mut self) {
        let Some(&(best, _)) = self.best.as_ref() else {
            return;
        };
        if self.generator.problem.sheets.len() < 2 {
            return;
        }
        while self.mixes.to < best && self.meter.going() {
            if self.mixes.pending.is_empty() && !self.next_mixes(best) {
                return;
            }
            while let Some(limits) = self.mixes.pending.pop() {
                if !self.look_at_mix(limits) {
                    return;
                }
            }
            if self.mixes.kept.is_empty() {
                self.raise(self.mixes.to + 1);
            }
            self.mixes.to += 1;
        }
    }

    /// Lists the mixes of the next cost; false if there is no need or there are too many.
    fn next_mixes(&mut self, best: i64) -> bool {
        let from = self.mixes.to.max(self.generator.bound);
        let next = next_sum(self.generator.problem, from, best, MOST_MIXES);
        self.meter.charge(500 + 30 * next.tries);
        match next.sum {
            Found::TooMany => false,
            Found::Nothing => {
                self.mixes.to = best;
                if self.mixes.kept.is_empty() {
                    self.raise(best);
                }
                false
            }
            Found::Sum(sum) => {
                self.mixes.to = sum.cost;
                let limits = |mix: Vec<u32>| mix.into_iter().map(Some).collect();
                self.mixes.pending = sum.mixes.into_iter().map(limits).collect();
                true
            }
        }
    }

    /// Rules a mix out or keeps it for a search; false if it must wait for more effort.
    fn look_at_mix(&mut self, limits: Vec<Option<u32>>) -> bool {
        let cost = self.mixes.to;
        let demand: Vec<f64> = self.demand().iter().map(|&d| f64::from(d)).collect();
        let question = Question {
            demand: &demand,
            limits: &limits,
            prove: true,
            enough: cost,
        };
        let relaxed = self.generator.relax(&question, self.meter);
        if relaxed.bound > cost {
            return true;
        }
        if !relaxed.settled {
            self.mixes.pending.push(limits);
            return false;
        }
        let worth = relaxed.worth;
        self.mixes.kept.push(Mix {
            cost,
            limits,
            worth,
        });
        true
    }

    /// Branch and bound within one mix of sheets.
    pub(super) fn integer_in_mix(&mut self, round: usize, most: usize, steps: u64) {
        let best = self.best_cost();
        self.mixes.kept.retain(|mix| mix.cost < best);
        if self.mixes.kept.is_empty() {
            return;
        }
        let mix = &self.mixes.kept[round % self.mixes.kept.len()];
        let (cost, limits, worth) = (mix.cost, mix.limits.clone(), mix.worth.clone());
        let demand = self.demand();
        let found = self.choose(&demand, limits, &worth, most, steps, (cost, cost));
        if let Some(found) = found {
            self.offer(found);
        }
    }
}
