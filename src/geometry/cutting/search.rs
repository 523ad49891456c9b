//! The search for a cheap plan of whole sheets.
//!
//! Patterns come from the linear program of the job, of demands and prices moved at random, and
//! from greedy filling; branch and bound chooses among them. Each round does a little of all.

use super::branch::{Choice, Found, Offer, choose};
use super::generate::{Generator, Question, Relaxed, Worth};
use super::meter::Meter;
use super::prices::Prices;
use super::random::Random;
use super::strips::Priced;

/// How often each pattern of the pool is used.
pub(super) type Uses = Vec<(usize, u32)>;

/// Numbers of sheets of each stock that no bound rules out.
struct Mix {
    cost: i64,
    limits: Vec<Option<u32>>,
    worth: Worth,
}

pub(super) struct Search<'a, 'm, 'r> {
    pub(super) generator: Generator<'a>,
    pub(super) meter: &'m mut Meter<'r>,
    random: Random,
    /// What the linear program says of the parts' worth.
    pub(super) worth: Worth,
    pub(super) best: Option<(i64, Uses)>,
    /// Numbers of sheets that may make a plan cheaper than the best, with their cost.
    mixes: Vec<Mix>,
    /// All mixes below this cost are known.
    mixed_to: i64,
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
            random: Random::new(20),
            worth: Worth::default(),
            mixes: Vec::new(),
            mixed_to: 0,
            exhausted: false,
            best: None,
            lacking: None,
        }
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
        self.greedy(None, 3);
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

    /// Rules out mixes of sheets, cost by cost from the bound up: where none is left at a cost,
    /// the bound rises; where some are, their patterns are what a cheaper plan needs.
    fn split_by_mix(&mut self) {
        let Some(&(best, _)) = self.best.as_ref() else {
            return;
        };
        if self.generator.problem.sheets.len() < 2 {
            return;
        }
        let demand: Vec<f64> = self.demand().iter().map(|&d| f64::from(d)).collect();
        let mut cost = self
            .generator
            .prices
            .up(self.mixed_to.max(self.generator.bound));
        while cost < best && self.meter.going() {
            let Some(mixes) = Prices::mixes(self.generator.problem, cost, 60) else {
                return;
            };
            for mix in mixes {
                let limits: Vec<Option<u32>> = mix.into_iter().map(Some).collect();
                let question = Question {
                    demand: &demand,
                    limits: &limits,
                    prove: true,
                    enough: cost,
                };
                let relaxed = self.generator.relax(&question, self.meter);
                if relaxed.bound <= cost {
                    let worth = relaxed.worth;
                    self.mixes.push(Mix {
                        cost,
                        limits,
                        worth,
                    });
                }
            }
            if !self.meter.going() {
                return;
            }
            if self.mixes.is_empty() {
                self.raise(cost + 1);
            }
            self.mixed_to = cost + 1;
            cost = self.generator.prices.up(cost + 1);
        }
    }

    /// Branch and bound within one mix of sheets.
    fn integer_in_mix(&mut self, round: usize, most: usize, steps: u64) {
        let best = self.best_cost();
        self.mixes.retain(|mix| mix.cost < best);
        if self.mixes.is_empty() {
            return;
        }
        let mix = &self.mixes[round % self.mixes.len()];
        let (cost, limits, worth) = (mix.cost, mix.limits.clone(), mix.worth.clone());
        let demand = self.demand();
        let found = self.choose(&demand, limits, &worth, most, steps, (cost, cost));
        if let Some(found) = found {
            self.offer(found);
        }
    }

    pub(super) fn demand(&self) -> Vec<u32> {
        self.generator.problem.demand.clone()
    }

    /// Looks for cheaper plans until the effort is spent or the plan is proven least.
    pub(super) fn run(&mut self) {
        let all = self.meter.left();
        self.dive(&self.demand(), &Vec::new(), 0.0);
        self.integer(100, all / 20);
        let mut round = 0;
        let mut stale = 0;
        // When nothing new turns up round after round, more rounds are of no use.
        while self.going() && stale < 3 {
            let (patterns, cost) = (self.generator.pool.len(), self.best_cost());
            let stage = [100, 200, 400, 800, 1600][usize::min(round / 2, 4)];
            self.limited(all / 60, |search| {
                while search.going() {
                    search.greedy(None, 2);
                }
            });
            self.limited(all / 40, |search| {
                while search.going() {
                    search.other_demand();
                    search.other_prices();
                }
            });
            self.limited(all / 40, |search| {
                while search.going() {
                    search.mend();
                }
            });
            self.limited(all / 20, Self::split_by_mix);
            self.integer_in_mix(round, stage, all / 25);
            let share = if round % 3 == 2 { all / 8 } else { all / 25 };
            self.integer(stage, share);
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

    /// A plan sheet by sheet; `None` takes the whole demand.
    pub(super) fn greedy(&mut self, demand: Option<(&[u32], &Uses)>, tries: usize) {
        let (mut left, mut uses) = match demand {
            Some((demand, uses)) => (demand.to_vec(), uses.clone()),
            None => (self.demand(), Vec::new()),
        };
        let values = self.values();
        let mut room = self.rooms(&uses);
        while left.iter().any(|&count| count > 0) {
            let Some((pattern, filled)) = self.fill(&values, &left, &room, tries) else {
                self.note_lacking(&left);
                return;
            };
            let stock = self.generator.pool[pattern].stock;
            // The same again while nothing is made in vain.
            let times = filled
                .iter()
                .zip(&left)
                .filter(|&(&made, _)| made > 0)
                .map(|(&made, &left)| left / made)
                .min()
                .unwrap_or(1)
                .clamp(1, room[stock]);
            for (left, made) in left.iter_mut().zip(&filled) {
                *left -= (made * times).min(*left);
            }
            room[stock] -= times;
            uses.push((pattern, times));
            if !self.meter.going() && self.best.is_some() {
                return;
            }
        }
        self.offer(uses);
    }

    fn note_lacking(&mut self, left: &[u32]) {
        let missing = left
            .iter()
            .copied()
            .enumerate()
            .find(|&(_, count)| count > 0);
        if let Some(missing) = missing {
            self.lacking = Some(missing);
        }
    }

    /// How many sheets of each stock are free beside what is in use.
    fn rooms(&self, uses: &Uses) -> Vec<u32> {
        let mut rooms: Vec<u32> = self
            .limits()
            .into_iter()
            .map(|limit| limit.unwrap_or(u32::MAX))
            .collect();
        for &(pattern, times) in uses {
            let room = &mut rooms[self.generator.pool[pattern].stock];
            *room = room.saturating_sub(times);
        }
        rooms
    }

    /// Worth of the parts for greedy filling: area and duals, blended and moved at random.
    fn values(&mut self) -> Vec<f64> {
        let problem = self.generator.problem;
        let sheet = problem
            .sheets
            .iter()
            .map(|s| s.w as f64 * s.h as f64)
            .fold(1.0, f64::max);
        let blend = self.random.unit();
        let spread = self.random.unit() * 0.5;
        let power = 1.0 + 0.3 * self.random.unit();
        (0..problem.rows())
            .map(|row| {
                let area = problem.area[row] / sheet;
                let dual = self.worth.parts.get(row).copied().unwrap_or(area).max(0.0);
                let value = blend * area + (1.0 - blend) * dual.max(0.3 * area);
                value.powf(power) * (1.0 + spread * (2.0 * self.random.unit() - 1.0))
            })
            .collect()
    }

    /// The best sheet to fill next: the cheapest that takes all, else most worth for its price.
    fn fill(
        &mut self,
        values: &[f64],
        left: &[u32],
        room: &[u32],
        tries: usize,
    ) -> Option<(usize, Vec<u32>)> {
        let problem = self.generator.problem;
        let mut best: Option<(f64, usize, super::tree::Tree)> = None;
        let mut steps = 0;
        for stock in (0..problem.sheets.len()).filter(|&stock| room[stock] > 0) {
            for strips in &self.generator.strips {
                let mut rest = left.to_vec();
                let filled = strips.fill_sheet(stock, values, &mut rest, tries, &mut self.random);
                let Some(filled) = filled else { continue };
                steps += filled.steps;
                let cost = problem.sheets[stock].cost as f64;
                let all = rest.iter().all(|&left| left == 0);
                let score = if all { 1e30 } else { filled.value } / cost;
                if best.as_ref().is_none_or(|&(most, ..)| score > most) {
                    best = Some((score, stock, filled.tree));
                }
            }
        }
        self.meter.charge(steps * 5 + 5000);
        let (_, stock, tree) = best?;
        let mut made = vec![0; left.len()];
        tree.count(1, &mut made);
        Some((self.generator.index_of(stock, tree)?, made))
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
            let values: Vec<i64> = (0..self.generator.problem.rows())
                .map(|row| {
                    let dual = self.worth.parts.get(row).copied().unwrap_or(0.0).max(0.0);
                    let factor = 1.0 + spread * (2.0 * self.random.unit() - 1.0);
                    (dual * factor.max(0.0) * 1e6) as i64
                })
                .collect();
            let mut priced = self.generator.price_strips(&values, self.meter);
            if self.random.below(4) == 0 && values.iter().all(|&value| value < 1 << 22) {
                priced.extend(self.generator.price_nested(&values, self.meter));
            }
            for Priced { stock, tree, .. } in priced {
                self.generator.add(stock, tree);
            }
        }
    }

    /// Rounds the linear program down, solves it again for what remains, and so on to the end.
    pub(super) fn dive(&mut self, demand: &[u32], kept: &Uses, stray: f64) {
        let mut left = demand.to_vec();
        let mut uses = kept.clone();
        for _ in 0..1000 {
            if left.iter().all(|&count| count == 0) {
                self.offer(uses);
                return;
            }
            let room = self.rooms(&uses);
            let pieces: u32 = left.iter().sum();
            let wanted: Vec<f64> = left.iter().map(|&count| f64::from(count)).collect();
            let relaxed = self.relax(&wanted, &self.within(&room));
            if !relaxed.lacking.is_empty() || !self.meter.going() || pieces == 0 {
                break;
            }
            if !self.round(&relaxed, &room, &mut left, &mut uses, stray) {
                break;
            }
            let sheets: f64 = relaxed.amounts.iter().map(|&(_, amount)| amount).sum();
            if sheets < 8.0 {
                let (left, uses) = (left.clone(), uses.clone());
                self.greedy(Some((&left, &uses)), 3);
            }
        }
        self.greedy(Some((&left, &uses)), 3);
    }

    /// The limits that are left, of the stocks that have one.
    fn within(&self, room: &[u32]) -> Vec<Option<u32>> {
        let limits = self.limits().into_iter().zip(room);
        limits.map(|(limit, &room)| limit.map(|_| room)).collect()
    }

    /// Takes the whole parts of the amounts, or one of the largest fraction.
    fn round(
        &mut self,
        relaxed: &Relaxed,
        room: &[u32],
        left: &mut [u32],
        uses: &mut Uses,
        stray: f64,
    ) -> bool {
        let mut room = room.to_vec();
        let mut taken: Uses = relaxed
            .amounts
            .iter()
            .map(|&(pattern, amount)| (pattern, (amount + 1e-6).floor() as u32))
            .filter(|&(_, times)| times > 0)
            .collect();
        if taken.is_empty() {
            let lot = |random: &mut Random| stray * random.unit();
            let mut most: Option<(f64, usize)> = None;
            for &(pattern, amount) in &relaxed.amounts {
                let score = amount + lot(&mut self.random);
                if most.is_none_or(|(other, _)| score > other) {
                    most = Some((score, pattern));
                }
            }
            taken.extend(most.map(|(_, pattern)| (pattern, 1)));
        }
        let mut any = false;
        for (pattern, times) in taken {
            let stock = self.generator.pool[pattern].stock;
            let times = times.min(room[stock]);
            if times == 0 {
                continue;
            }
            any = true;
            room[stock] -= times;
            for &(row, count) in &self.generator.pool[pattern].counts {
                left[row] = left[row].saturating_sub(count.saturating_mul(times));
            }
            uses.push((pattern, times));
        }
        any
    }

    /// Keeps some sheets of the best plan and plans the others anew.
    fn mend(&mut self) {
        let Some((cost, uses)) = self.best.clone() else {
            return self.dive(&self.demand(), &Vec::new(), 0.5);
        };
        let sheets: u32 = uses.iter().map(|&(_, times)| times).sum();
        let free = 2.0 + self.random.unit() * 22.0;
        let chance = (free / f64::from(sheets)).min(1.0);
        let mut kept: Uses = Vec::new();
        for &(pattern, times) in &uses {
            let freed = (0..times.min(64))
                .filter(|_| self.random.unit() < chance)
                .count() as u32;
            if times > freed {
                kept.push((pattern, times - freed));
            }
        }
        let mut left = self.demand();
        for &(pattern, times) in &kept {
            for &(row, count) in &self.generator.pool[pattern].counts {
                left[row] = left[row].saturating_sub(count.saturating_mul(times));
            }
        }
        let room = self.rooms(&kept);
        let wanted: Vec<f64> = left.iter().map(|&count| f64::from(count)).collect();
        let limits = self.within(&room);
        let relaxed = self.relax(&wanted, &limits);
        if !relaxed.lacking.is_empty() || !self.meter.going() {
            return;
        }
        let spent = self.cost(&kept);
        let cutoff = self.generator.prices.below(cost) - spent;
        let bound = (self.generator.bound - spent).max(0);
        let steps = self.meter.all() / 150;
        let found = self.choose(&left, limits, &relaxed.worth, 150, steps, (bound, cutoff));
        if let Some(mut found) = found {
            found.extend(kept);
            self.offer(found);
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
        };
        let prices = &generator.prices;
        let Found {
            uses,
            complete,
            steps,
        } = choose(
            &choice,
            steps.min(self.meter.left()),
            &|cost| prices.up(cost),
            &|cost| prices.below(cost),
        );
        self.meter.charge(steps);
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
