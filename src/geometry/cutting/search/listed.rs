//! Small orders to the end: all patterns, and a search through them that leaves nothing out.

use super::super::branch::{Choice, Offer, choose};
use super::super::generate::Generator;
use super::super::listing::all_patterns;
use super::Search;

/// With more part sizes than this the list is too long.
const MOST_SIZES: usize = 8;

/// Steps for the list, and again for the search.
const LEAST_STEPS: u64 = 60_000_000;
const MOST_STEPS: u64 = 200_000_000;

impl Search<'_, '_, '_> {
    /// Lists all patterns, if they are few, and finds the cheapest plan of them.
    pub(super) fn all_listed(&mut self) {
        let problem = self.generator.problem;
        if problem.phases != Some(3) || problem.rows() > MOST_SIZES {
            return;
        }
        let steps = (self.meter.all() / 10).clamp(LEAST_STEPS, MOST_STEPS);
        let limit = self.meter.narrow(steps);
        let listed = all_patterns(problem, self.meter);
        self.meter.restore(limit);
        let Some(listed) = listed else { return };
        let mut patterns: Vec<usize> = listed
            .into_iter()
            .filter_map(|(stock, tree)| self.generator.index_of(stock, tree))
            .collect();
        patterns.sort_unstable();
        patterns.dedup();
        self.search_listed(&patterns, steps);
    }

    fn search_listed(&mut self, patterns: &[usize], steps: u64) {
        let Some((best, _)) = self.best else { return };
        let cutoff = self.generator.prices.below(best);
        let Generator { pool, problem, .. } = &self.generator;
        let offer = |&pattern: &usize| Offer {
            cost: problem.sheets[pool[pattern].stock].cost,
            stock: pool[pattern].stock,
            counts: &pool[pattern].counts,
        };
        let choice = Choice {
            patterns: patterns.iter().map(offer).collect(),
            demand: &problem.demand,
            limits: self.limits(),
            bound: self.generator.bound,
            cutoff,
            certify: true,
        };
        let prices = &self.generator.prices;
        let (up, below) = (|cost| prices.up(cost), |cost| prices.below(cost));
        let found = choose(&choice, steps, self.meter, &up, &below);
        if let Some(uses) = found.uses {
            let uses = uses.into_iter().zip(patterns.iter().copied());
            let uses = uses.filter(|&(times, _)| times > 0);
            self.offer(uses.map(|(times, pattern)| (pattern, times)).collect());
        }
        if found.complete {
            self.raise(self.best_cost());
        }
    }
}
