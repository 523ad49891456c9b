//! Patterns made to be cut many times: a few sheets' worth of parts at once.
//!
//! A pattern that is cut k times should hold a k-th of what is missing (after Haessler 1971, from
//! memory): it is filled with no more than that.

use super::super::search::Uses;
use super::Few;

/// Candidates that are compared for a place.
const MOST_COMPARED: u64 = 40;

impl Few<'_, '_, '_, '_> {
    /// The patterns in use without one to three of them, with up to as many for the rest: from
    /// among `candidates` as they suit, or made anew if there are none.
    pub(super) fn exchange(&mut self, now: &Uses, candidates: &[usize]) -> Vec<usize> {
        let mut kept = now.clone();
        let away = (1 + self.search.pick(3)).min(kept.len());
        let mut sheets = 0_u32;
        let mut stocks = Vec::new();
        for _ in 0..away {
            let index = self.search.pick(kept.len());
            let (pattern, times) = kept.swap_remove(index);
            sheets = sheets.saturating_add(times);
            stocks.push(self.search.generator.pool[pattern].stock);
        }
        let mut left = self.search.missing(&kept);
        let mut set: Vec<usize> = kept.iter().map(|&(pattern, _)| pattern).collect();
        let more = if away > 1 && self.search.chance(0.7) {
            away - 1
        } else {
            away
        };
        let values = self.search.values();
        for place in 0..more {
            let last = place + 1 == more;
            let times = if last {
                sheets.max(1)
            } else {
                1 + self.search.pick(sheets as usize) as u32
            };
            let wanted: Vec<u32> = left.iter().map(|left| left.div_ceil(times)).collect();
            if wanted.iter().all(|&count| count == 0) {
                break;
            }
            let found = if candidates.is_empty() {
                let stock = stocks[self.search.pick(stocks.len())];
                self.search.fill_by_lot(stock, &values, &wanted)
            } else {
                self.suited(candidates, &values, &wanted)
            };
            let Some(pattern) = found else { break };
            for &(row, count) in &self.search.generator.pool[pattern].counts {
                left[row] = left[row].saturating_sub(count.saturating_mul(times));
            }
            sheets = sheets.saturating_sub(times);
            set.push(pattern);
        }
        set.sort_unstable();
        set.dedup();
        set
    }

    /// Of some candidates by lot the one that holds most of what is wanted for its price.
    fn suited(&mut self, candidates: &[usize], values: &[f64], wanted: &[u32]) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for _ in 0..MOST_COMPARED {
            let pattern = candidates[self.search.pick(candidates.len())];
            let generator = &self.search.generator;
            let offer = &generator.pool[pattern];
            let worth =
                |&(row, count): &(usize, u32)| values[row] * f64::from(count.min(wanted[row]));
            let gained: f64 = offer.counts.iter().map(worth).sum();
            let score = gained / generator.cost(offer.stock);
            if best.is_none_or(|(most, _)| score > most) {
                best = Some((score, pattern));
            }
        }
        self.search.meter.charge(30 * MOST_COMPARED);
        best.map(|(_, pattern)| pattern)
    }
}
