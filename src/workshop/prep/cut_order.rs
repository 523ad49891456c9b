//! Which cut of a sheet waits for which.
//!
//! A piece must have been cut free before it is cut, and a piece that is cut in both directions
//! keeps the order of its directions. All cuts of one direction on one piece may come in any
//! order: what comes off has the size of the setting, and the same remains.

use std::collections::HashMap;

use tablefold_geometry::{CutDirection, FenceCut};

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

#[cfg(test)]
mod tests {
    use super::*;
    use tablefold_geometry::Length;

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
