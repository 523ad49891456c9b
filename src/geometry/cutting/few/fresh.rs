//! Patterns made to be cut many times: a few sheets' worth of parts at once.
//!
//! A pattern that is cut k times should hold a k-th of what is missing (after Haessler 1971, from
//! memory): it is filled with no more than that.

use super::super::search::Uses;
use super::Few;

impl Few<'_, '_, '_, '_> {
    /// The patterns in use without one to three of them, with up to as many made for the rest.
    pub(super) fn fresh(&mut self, now: &Uses) -> Vec<usize> {
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
        let mut left = self.missing(&kept);
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
            let stock = stocks[self.search.pick(stocks.len())];
            let Some((pattern, made)) = self.search.fill_by_lot(stock, &values, &wanted) else {
                break;
            };
            for (left, made) in left.iter_mut().zip(made) {
                *left = left.saturating_sub(made.saturating_mul(times));
            }
            sheets = sheets.saturating_sub(times);
            set.push(pattern);
        }
        set.sort_unstable();
        set.dedup();
        set
    }

    /// What is still to be made beside the sheets in use.
    fn missing(&self, uses: &Uses) -> Vec<u32> {
        let generator = &self.search.generator;
        let mut left = generator.problem.demand.clone();
        for &(pattern, times) in uses {
            for &(row, count) in &generator.pool[pattern].counts {
                left[row] = left[row].saturating_sub(count.saturating_mul(times));
            }
        }
        left
    }
}
