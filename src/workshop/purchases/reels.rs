//! Whether pieces of given lengths can be cut from spools without joining.
//!
//! Exact by depth-first search over what each spool holds, shortest spool first, after a best fit
//! was tried; when the budget of steps is used up the answer is "not known".

use std::collections::HashSet;

/// Steps that all searches for one thing may take together: well under a second.
pub(super) const STEPS: usize = 1_000_000;
/// Spools that a piece is held against in the time of one step.
const HELD_IN_A_STEP: u64 = 8;

/// Pieces of one length, nm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Want {
    pub(super) length: u64,
    pub(super) count: u64,
}

/// All pieces end to end, nm.
pub(super) fn total(wants: &[Want]) -> u128 {
    let lengths = wants.iter();
    lengths
        .map(|want| u128::from(want.length) * u128::from(want.count))
        .sum()
}

/// Whether all pieces, each length once and the longest first, fit; `None` where the budget ran
/// out.
pub(super) fn fits(wants: &[Want], spools: &[u64], budget: &mut usize) -> Option<bool> {
    let longest = wants.first().map_or(0, |want| want.length);
    let shortest = wants.last().map_or(0, |want| want.length);
    let mut spools: Vec<u64> = spools.to_vec();
    spools.retain(|&spool| spool >= shortest);
    spools.sort_unstable();
    let there: u128 = spools.iter().map(|&spool| u128::from(spool)).sum();
    let hold_longest = spools.last().is_some_and(|&spool| spool >= longest);
    if total(wants) > there || (longest > 0 && !hold_longest) {
        return Some(false);
    }
    let pieces: u64 = wants.iter().map(|want| want.count).sum();
    let held = pieces.saturating_mul(spools.len() as u64) / HELD_IN_A_STEP;
    *budget = budget.checked_sub(usize::try_from(held).ok()?)?;
    if best_fit(wants, &spools).is_empty() {
        return Some(true);
    }
    let mut search = Search {
        lengths: wants.iter().map(|want| want.length).collect(),
        spools,
        failed: HashSet::new(),
        budget,
    };
    search.place(0, wants.iter().map(|want| want.count).collect())
}

/// Longest piece first, each on the spool where least stays over: the pieces that find no place.
pub(super) fn best_fit(wants: &[Want], spools: &[u64]) -> Vec<Want> {
    let mut left = spools.to_vec();
    let mut over = Vec::new();
    for want in wants {
        for placed in 0..want.count {
            let holds = left.iter_mut().filter(|spool| **spool >= want.length);
            let Some(spool) = holds.min_by_key(|spool| **spool) else {
                let count = want.count - placed;
                over.push(Want { count, ..*want });
                break;
            };
            *spool -= want.length;
        }
    }
    over
}

struct Search<'a> {
    lengths: Vec<u64>,
    spools: Vec<u64>,
    /// Spool and pieces still to place that are known to fail.
    failed: HashSet<(usize, Vec<u64>)>,
    budget: &'a mut usize,
}

impl Search<'_> {
    fn place(&mut self, spool: usize, left: Vec<u64>) -> Option<bool> {
        if left.iter().all(|&count| count == 0) {
            return Some(true);
        }
        let pieces = self.lengths.iter().zip(&left);
        let need: u128 = pieces
            .map(|(&length, &count)| u128::from(length) * u128::from(count))
            .sum();
        let spools = self.spools.iter().skip(spool);
        let there: u128 = spools.map(|&spool| u128::from(spool)).sum();
        if need > there || self.failed.contains(&(spool, left.clone())) {
            return Some(false);
        }
        let space = self.spools.get(spool).copied().unwrap_or(0);
        let mut patterns = Vec::new();
        self.fill(0, space, &left, &mut vec![0; left.len()], &mut patterns)?;
        for pattern in patterns {
            let rest = left.iter().zip(&pattern).map(|(count, used)| count - used);
            if self.place(spool + 1, rest.collect())? {
                return Some(true);
            }
        }
        self.failed.insert((spool, left));
        Some(false)
    }

    /// Every way to fill a spool to which no other piece can be added: a fuller spool is never
    /// worse. `None` where the budget ran out.
    fn fill(
        &mut self,
        at: usize,
        space: u64,
        left: &[u64],
        pattern: &mut Vec<u64>,
        patterns: &mut Vec<Vec<u64>>,
    ) -> Option<()> {
        *self.budget = self.budget.checked_sub(1)?;
        let Some(&length) = self.lengths.get(at) else {
            let more = |i: usize| left[i] > pattern[i] && self.lengths[i] <= space;
            if !(0..left.len()).any(more) {
                patterns.push(pattern.clone());
            }
            return Some(());
        };
        let most = left[at].min(space / length.max(1));
        for count in (0..=most).rev() {
            pattern[at] = count;
            self.fill(at + 1, space - count * length, left, pattern, patterns)?;
        }
        pattern[at] = 0;
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::tests::assigned;
    use super::*;

    fn want(length: u64, count: u64) -> Want {
        Want { length, count }
    }

    fn fits(wants: &[Want], spools: &[u64]) -> Option<bool> {
        super::fits(wants, spools, &mut STEPS.clone())
    }

    #[test]
    fn what_adds_up_may_still_need_a_joint() {
        assert_eq!(fits(&[want(60, 2)], &[100, 20]), Some(false));
        assert_eq!(
            fits(&[want(60, 1), want(40, 1), want(20, 1)], &[100, 20]),
            Some(true)
        );
        assert_eq!(fits(&[], &[]), Some(true));
        assert_eq!(fits(&[want(1, 1)], &[]), Some(false));
    }

    /// Best fit puts 5 on 8 and 4 and two of 3 on 10, and has no place for the last 3. 5 and 3 on
    /// 8, and 4, 3 and 3 on 10 are all five.
    #[test]
    fn the_search_finds_what_the_first_try_misses() {
        let wants = [want(5, 1), want(4, 1), want(3, 3)];
        assert_eq!(fits(&wants, &[8, 10]), Some(true));
        let missed = [want(4, 2), want(3, 4)];
        assert!(!best_fit(&missed, &[10, 10]).is_empty());
        assert_eq!(fits(&missed, &[10, 10]), Some(true));
    }

    #[test]
    fn a_search_without_a_budget_knows_nothing() {
        let missed = [want(4, 2), want(3, 4)];
        assert_eq!(super::fits(&missed, &[10, 10], &mut 2), None);
    }

    proptest! {
        #[test]
        fn the_search_agrees_with_every_assignment(
            pieces in prop::collection::vec(1_u64..12, 0..8),
            spools in prop::collection::vec(1_u64..20, 0..4),
        ) {
            let mut pieces = pieces;
            pieces.sort_unstable_by(|a, b| b.cmp(a));
            let of = |length| pieces.iter().filter(|&&other| other == length).count() as u64;
            let mut wants: Vec<Want> = pieces.iter().map(|&length| want(length, of(length))).collect();
            wants.dedup();
            let expected = assigned(&pieces, &mut spools.clone());
            prop_assert_eq!(fits(&wants, &spools), Some(expected));
        }
    }
}
