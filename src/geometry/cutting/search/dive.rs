//! Whole plans from linear programs: rounded down and solved again, from the start or in part.

use super::super::generate::Relaxed;
use super::super::random::Random;
use super::{Search, Uses};

impl Search<'_, '_, '_> {
    /// Rounds the linear program down, solves it again for what remains, and so on to the end.
    pub(super) fn dive(&mut self, demand: &[u32], kept: &Uses, stray: f64) {
        let mut left = demand.to_vec();
        let mut uses = kept.clone();
        for _ in 0..1000 {
            if !self.meter.going() {
                return;
            }
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
    pub(super) fn within(&self, room: &[u32]) -> Vec<Option<u32>> {
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
        let mut taken: Uses = Vec::new();
        for &(pattern, amount) in &relaxed.amounts {
            // By lot a little more or less: else every dive begins alike.
            let lot = 1.6 * stray * (self.random.unit() - 0.5);
            let times = (amount + 1e-6 + lot).max(0.0).floor() as u32;
            if times > 0 {
                taken.push((pattern, times));
            }
        }
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
    pub(super) fn mend(&mut self) {
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
        let left = self.missing(&kept);
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
}
