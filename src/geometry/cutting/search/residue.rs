//! What a linear program leaves over: its whole parts are kept, the rest is planned exactly.
//!
//! The sheets kept lose nothing, so that all that a plan may lose is left for the few others.

use super::super::generate::Worth;
use super::super::random::Random;
use super::{Search, Uses};

/// Patterns that the integer step looks at for what remains.
const MOST_FOR_THE_REST: usize = 150;

/// Patterns of a choice by lot.
const MOST_BY_LOT: usize = 250;

/// What a cheaper plan is looked for in.
struct Aim {
    limits: Vec<Option<u32>>,
    worth: Worth,
    /// No plan costs less, and the greatest cost that is worth finding.
    bound: i64,
    cutoff: i64,
}

impl Search<'_, '_, '_> {
    /// Rounds linear programs and chooses among patterns by turns, until the effort is spent.
    pub(super) fn round_by_lot(&mut self) {
        while self.going() {
            self.by_lot();
            let steps = self.meter.all() / 100;
            self.limited(steps, |search| {
                while search.going() {
                    search.residue();
                }
            });
        }
    }

    /// One of the mixes that may be cheaper than the best plan, or any sheets.
    fn aim(&mut self) -> Aim {
        let best = self.best_cost();
        self.mixes.kept.retain(|mix| mix.cost < best);
        // Once all mixes are known, a cheaper plan can only come from one of them.
        let all_known = self.mixes.to >= best;
        let mixes = self.mixes.kept.len();
        if mixes > 0 && (all_known || self.random.below(2) == 0) {
            let mix = &self.mixes.kept[self.random.below(mixes)];
            return Aim {
                limits: mix.limits.clone(),
                worth: mix.worth.clone(),
                bound: mix.cost,
                cutoff: mix.cost,
            };
        }
        Aim {
            limits: self.limits(),
            worth: self.worth.clone(),
            bound: self.generator.bound,
            cutoff: self.generator.prices.below(best),
        }
    }

    /// Keeps the whole parts of a linear program moved a little, and plans what remains.
    pub(super) fn residue(&mut self) {
        let aim = self.aim();
        let more = 2.0 * self.random.unit();
        let moved = |demand: u32, random: &mut Random| f64::from(demand) + more * random.unit();
        let demand = self.demand();
        let wanted: Vec<f64> = demand.iter().map(|&d| moved(d, &mut self.random)).collect();
        let relaxed = self.relax(&wanted, &aim.limits);
        if !relaxed.lacking.is_empty() || !self.meter.going() {
            return;
        }
        let kept = self.kept(&relaxed.amounts);
        let left = self.missing(&kept);
        let mut limits = aim.limits;
        for &(pattern, times) in &kept {
            let stock = self.generator.pool[pattern].stock;
            limits[stock] = limits[stock].map(|limit| limit.saturating_sub(times));
        }
        let wanted: Vec<f64> = left.iter().map(|&count| f64::from(count)).collect();
        let relaxed = self.relax(&wanted, &limits);
        if !relaxed.lacking.is_empty() || !self.meter.going() {
            return;
        }
        let spent = self.cost(&kept);
        let cost = |&(pattern, amount): &(usize, f64)| {
            amount * self.generator.cost(self.generator.pool[pattern].stock)
        };
        let least: f64 = relaxed.amounts.iter().map(cost).sum();
        let room = (aim.cutoff - spent) as f64 / self.generator.dearest() as f64 - least;
        if room < -1e-9 {
            return;
        }
        let span = ((aim.bound - spent).max(0), aim.cutoff - spent);
        let steps = self.meter.all() / 150;
        let most = MOST_FOR_THE_REST;
        if let Some(mut found) = self.choose(&left, limits, &relaxed.worth, most, steps, span) {
            found.extend(kept);
            self.offer(found);
        }
    }

    /// The whole parts of some amounts, by lot one or two less.
    fn kept(&mut self, amounts: &[(usize, f64)]) -> Uses {
        let free = 1.5 * self.random.unit();
        let mut kept = Uses::new();
        for &(pattern, amount) in amounts {
            let times = (amount + 1e-6 - free * self.random.unit()).max(0.0).floor() as u32;
            if times > 0 {
                kept.push((pattern, times));
            }
        }
        kept
    }

    /// Branch and bound over patterns drawn by lot, the better ones more often: where one choice
    /// of them ends in the dark, another is quick.
    pub(super) fn by_lot(&mut self) {
        let aim = self.aim();
        if aim.cutoff < aim.bound {
            return;
        }
        let demand = self.demand();
        let ranked = self.promising(&demand, &aim.worth, usize::MAX);
        let mut drawn: Vec<(f64, usize)> = Vec::new();
        for (rank, pattern) in ranked.into_iter().enumerate() {
            drawn.push((rank as f64 * self.random.unit(), pattern));
        }
        drawn.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let chosen = drawn.into_iter().take(MOST_BY_LOT);
        let chosen: Vec<usize> = chosen.map(|(_, pattern)| pattern).collect();
        let steps = self.meter.all() / 100;
        let span = (aim.bound, aim.cutoff);
        if let Some(found) = self.choose_of(&demand, aim.limits, chosen, steps, span) {
            self.offer(found);
        }
    }
}
