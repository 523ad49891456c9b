//! In which order cuts are made, so that the fence is set as few times as possible.
//!
//! A piece must have been cut free before it is cut, and a piece that is cut in both directions
//! keeps the order of its directions. All cuts of one direction on one piece may come in any
//! order: what comes off has the size of the setting, and the same remains.

use std::collections::HashMap;

use tablefold_geometry::{CutDirection, FenceCut, Length};

/// A cut, and the cuts that come before it: they have lower numbers.
#[derive(Clone, Debug)]
pub(super) struct WaitingCut {
    pub(super) setting: Length,
    pub(super) after: Vec<usize>,
}

/// Which cuts of a sheet come before each of its cuts.
pub(super) fn precedence(cuts: &[FenceCut]) -> Vec<Vec<usize>> {
    let mut came_off: HashMap<usize, usize> = HashMap::new();
    // Of each piece: the direction it is cut in now, these cuts, and those of the one before.
    let mut runs: HashMap<usize, (CutDirection, Vec<usize>, Vec<usize>)> = HashMap::new();
    let mut all = Vec::with_capacity(cuts.len());
    for (index, cut) in cuts.iter().enumerate() {
        let (direction, now, before) = runs
            .entry(cut.piece)
            .or_insert_with(|| (cut.direction, Vec::new(), Vec::new()));
        if *direction != cut.direction {
            *direction = cut.direction;
            *before = std::mem::take(now);
        }
        now.push(index);
        let creator = came_off.get(&cut.piece).copied();
        all.push(before.iter().copied().chain(creator).collect());
        came_off.insert(cut.off, index);
    }
    all
}

/// Cuts made at one setting of the fence, in order.
pub(super) type Run = (Length, Vec<usize>);

/// A beam search over sequences of settings: at each setting all that can be cut is cut, which
/// is never worse than leaving some. Bounded, and the same on every run.
pub(super) fn fewest_set_ups(cuts: &[WaitingCut]) -> Vec<Run> {
    let mut settings: Vec<Length> = cuts.iter().map(|cut| cut.setting).collect();
    settings.sort_unstable_by(|a, b| b.cmp(a));
    settings.dedup();
    let width = (8_000 / cuts.len().max(1)).clamp(2, 24);
    let mut beam = vec![State::new(cuts, &settings)];
    while let Some(first) = beam.first() {
        if first.left == 0 {
            return first.replay(cuts, &settings);
        }
        let mut next: Vec<State> = Vec::new();
        for state in &beam {
            for setting in 0..settings.len() {
                next.extend(state.at(setting, cuts, &settings));
            }
        }
        next.sort_by(|a, b| a.rank().cmp(&b.rank()));
        next.dedup_by(|a, b| a.done == b.done);
        next.truncate(width);
        beam = next;
    }
    Vec::new()
}

struct State {
    done: Vec<bool>,
    left: usize,
    /// How many settings are still needed, at least.
    settings_left: usize,
    /// Settings so far, by number: the largest is 0.
    sequence: Vec<usize>,
}

impl State {
    fn new(cuts: &[WaitingCut], settings: &[Length]) -> Self {
        Self {
            done: vec![false; cuts.len()],
            left: cuts.len(),
            settings_left: settings.len(),
            sequence: Vec::new(),
        }
    }

    fn rank(&self) -> (usize, usize, &Vec<usize>, &Vec<bool>) {
        (self.settings_left, self.left, &self.sequence, &self.done)
    }

    /// The state after everything that can be cut at a setting; `None` where nothing can.
    fn at(&self, setting: usize, cuts: &[WaitingCut], settings: &[Length]) -> Option<Self> {
        let mut done = self.done.clone();
        let made = cut_at(settings[setting], cuts, &mut done);
        if made.is_empty() {
            return None;
        }
        let waits = cuts
            .iter()
            .zip(&done)
            .any(|(cut, done)| !done && cut.setting == settings[setting]);
        let mut sequence = self.sequence.clone();
        sequence.push(setting);
        Some(Self {
            left: self.left - made.len(),
            settings_left: self.settings_left - usize::from(!waits),
            done,
            sequence,
        })
    }

    fn replay(&self, cuts: &[WaitingCut], settings: &[Length]) -> Vec<Run> {
        let mut done = vec![false; cuts.len()];
        let run = |&setting: &usize| {
            let made = cut_at(settings[setting], cuts, &mut done);
            (settings[setting], made)
        };
        self.sequence.iter().map(run).collect()
    }
}

/// What comes before a cut has a lower number, so one pass finds everything.
fn cut_at(setting: Length, cuts: &[WaitingCut], done: &mut [bool]) -> Vec<usize> {
    let mut made = Vec::new();
    for (index, cut) in cuts.iter().enumerate() {
        let ready = !done[index] && cut.setting == setting;
        if ready && cut.after.iter().all(|&before| done[before]) {
            done[index] = true;
            made.push(index);
        }
    }
    made
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The fewest set-ups, by trying every sequence.
    fn exhaustive(cuts: &[WaitingCut], done: &[bool], most: usize) -> usize {
        if done.iter().all(|&done| done) {
            return 0;
        }
        if most == 0 {
            return 1;
        }
        let mut best = most;
        let mut tried = Vec::new();
        for cut in cuts {
            if tried.contains(&cut.setting) {
                continue;
            }
            tried.push(cut.setting);
            let mut next = done.to_vec();
            if !cut_at(cut.setting, cuts, &mut next).is_empty() {
                best = best.min(1 + exhaustive(cuts, &next, best - 1));
            }
        }
        best
    }

    proptest! {
        #[test]
        fn no_order_sets_the_fence_fewer_times(
            cuts in prop::collection::vec((1i64..5, prop::collection::vec(0usize..9, 0..3)), 1..9),
        ) {
            let cuts: Vec<WaitingCut> = cuts
                .into_iter()
                .enumerate()
                .map(|(index, (setting, after))| WaitingCut {
                    setting: Length::from_mm(setting),
                    after: after.into_iter().filter(|&before| before < index).collect(),
                })
                .collect();
            let runs = fewest_set_ups(&cuts);
            let mut made: Vec<usize> = Vec::new();
            for (setting, run) in &runs {
                for &cut in run {
                    prop_assert_eq!(cuts[cut].setting, *setting);
                    prop_assert!(cuts[cut].after.iter().all(|before| made.contains(before)));
                    made.push(cut);
                }
            }
            made.sort_unstable();
            prop_assert_eq!(made, (0..cuts.len()).collect::<Vec<_>>());
            let least = exhaustive(&cuts, &vec![false; cuts.len()], cuts.len());
            prop_assert_eq!(runs.len(), least);
        }
    }

    #[test]
    fn a_piece_waits_for_the_cut_that_frees_it_and_for_its_own_other_direction() {
        use CutDirection::{Height, Width};
        let cut = |direction, piece, off| FenceCut {
            direction,
            setting: Length::from_mm(10),
            piece,
            off,
        };
        let cuts = [
            cut(Width, 0, 1),
            cut(Width, 0, 2),
            cut(Height, 1, 3),
            cut(Height, 0, 4),
            cut(Width, 0, 5),
        ];
        let after = precedence(&cuts);
        assert_eq!(after, [vec![], vec![], vec![0], vec![0, 1], vec![3]]);
    }
}
