//! The plan that is least work for the hands: few patterns, few fence settings, at a cost that
//! stays near the least.
//!
//! From a plan's patterns some are taken away and at most as many put in their place; a small
//! branch and bound says whether the demand can still be met within the budget. Steps that make
//! it a little worse are taken now and then, ever fewer (simulated annealing). What is put in
//! comes from the pool, or is made for what is missing.

mod fresh;

use std::collections::HashMap;

use super::branch::{Choice, Offer, choose};
use super::order::working_order;
use super::search::{Search, Uses};
use crate::Length;

/// What a pattern costs the hands beside its fence settings: another picture, another pile.
const A_PATTERN: f64 = 5.0;

/// Patterns of the pool that are worth a look.
const MOST_CANDIDATES: usize = 600;

pub(super) struct Few<'s, 'a, 'm, 'r> {
    search: &'s mut Search<'a, 'm, 'r>,
    kerf: Length,
    budget: i64,
    /// How often new patterns are made: they rarely fit a budget that leaves no room.
    freshly: f64,
    fiddling: HashMap<usize, f64>,
}

impl<'s, 'a, 'm, 'r> Few<'s, 'a, 'm, 'r> {
    pub(super) fn new(search: &'s mut Search<'a, 'm, 'r>, kerf: Length, budget: i64) -> Self {
        let tight = search.best.as_ref().is_none_or(|&(cost, _)| budget <= cost);
        Self {
            freshly: if tight { 0.05 } else { 0.1 },
            search,
            kerf,
            budget,
            fiddling: HashMap::new(),
        }
    }

    /// The least fiddling found from the best of some plans on.
    pub(super) fn run(&mut self, starts: Vec<Uses>) -> Uses {
        let mut least: Option<(f64, Uses)> = None;
        for uses in starts {
            let cost = self.cost(&uses);
            if least.as_ref().is_none_or(|&(other, _)| cost < other) {
                least = Some((cost, uses));
            }
        }
        let Some((_, start)) = least else {
            return Uses::new();
        };
        let mut candidates = self.search.candidates(MOST_CANDIDATES);
        let mut known = self.search.generator.pool.len();
        let mut now = start.clone();
        let mut now_cost = self.cost(&now);
        let (mut best, mut best_cost) = (start, now_cost);
        let all = self.search.meter.left().max(1);
        while self.search.meter.going() && !candidates.is_empty() {
            let warmth = 5.0 * self.search.meter.left() as f64 / all as f64;
            let set = if self.search.chance(self.freshly) {
                let set = self.exchange(&now, &[]);
                candidates.extend(set.iter().filter(|&&pattern| pattern >= known));
                known = self.search.generator.pool.len();
                set
            } else if self.search.chance(0.3) {
                self.exchange(&now, &candidates)
            } else {
                self.neighbour(&now, &candidates)
            };
            let cost: f64 = set.iter().map(|&pattern| self.fiddling(pattern)).sum();
            let worse = cost - now_cost;
            let taken = worse <= 0.0 || self.search.chance((-worse / warmth).exp());
            if set.is_empty() || !taken || !self.covers(&set) {
                self.search.meter.charge(500);
                continue;
            }
            if let Some(uses) = self.within_budget(&set) {
                now_cost = self.cost(&uses);
                now = uses;
                if now_cost < best_cost {
                    (best, best_cost) = (now.clone(), now_cost);
                }
            }
        }
        best
    }

    /// Fiddling, and of equal plans the cheaper one.
    fn cost(&mut self, uses: &Uses) -> f64 {
        let paper = self.search.cost(uses) as f64 / self.budget.max(1) as f64;
        let each = |&(pattern, _): &(usize, u32)| self.fiddling(pattern);
        uses.iter().map(each).sum::<f64>() + 0.5 * paper
    }

    fn fiddling(&mut self, pattern: usize) -> f64 {
        if let Some(&known) = self.fiddling.get(&pattern) {
            return known;
        }
        let generator = &self.search.generator;
        let tree = &generator.pool[pattern];
        let sheet = generator.problem.sheets[tree.stock];
        let ordered = working_order(generator.problem, self.kerf, sheet, &tree.tree);
        self.search.meter.charge(300 * ordered.cuts.len() as u64);
        let fiddling = A_PATTERN + ordered.settings as f64;
        self.fiddling.insert(pattern, fiddling);
        fiddling
    }

    /// The patterns in use without one to three of them, with up to as many others.
    fn neighbour(&mut self, now: &Uses, candidates: &[usize]) -> Vec<usize> {
        let mut set: Vec<usize> = now.iter().map(|&(pattern, _)| pattern).collect();
        let away = (1 + self.search.pick(3)).min(set.len());
        for _ in 0..away {
            let index = self.search.pick(set.len());
            set.swap_remove(index);
        }
        for _ in 0..self.search.pick(away + 1) {
            let other = candidates[self.search.pick(candidates.len())];
            if !set.contains(&other) {
                set.push(other);
            }
        }
        set.sort_unstable();
        set
    }

    /// Whether each part lies on one of the patterns at least.
    fn covers(&self, set: &[usize]) -> bool {
        let generator = &self.search.generator;
        let mut there = vec![false; generator.problem.rows()];
        for &pattern in set {
            for &(row, _) in &generator.pool[pattern].counts {
                there[row] = true;
            }
        }
        there.into_iter().all(|there| there)
    }

    fn within_budget(&mut self, set: &[usize]) -> Option<Uses> {
        let generator = &self.search.generator;
        let offers = set.iter().map(|&pattern| {
            let pattern = &generator.pool[pattern];
            Offer {
                cost: generator.problem.sheets[pattern.stock].cost,
                stock: pattern.stock,
                counts: &pattern.counts,
            }
        });
        let choice = Choice {
            patterns: offers.collect(),
            demand: &generator.problem.demand,
            limits: self.search.limits(),
            // The first plan within the budget will do.
            bound: self.budget,
            cutoff: self.budget,
            certify: false,
        };
        let prices = &generator.prices;
        // A hundred looks at the whole table.
        let cells = choice.demand.len() * (choice.demand.len() + set.len());
        let found = choose(
            &choice,
            30_000 + 100 * cells as u64,
            self.search.meter,
            &|cost| prices.up(cost),
            &|cost| prices.below(cost),
        );
        self.search.meter.charge(5_000);
        let uses = found.uses?.into_iter().zip(set);
        let uses = uses.filter(|&(times, _)| times > 0);
        Some(uses.map(|(times, &pattern)| (pattern, times)).collect())
    }
}
