//! Parts beyond what is wanted are not cut: their paper stays whole.
//!
//! Whole pieces of a split go first, so that a strip without a wanted part is never cut off.
//! Nothing is added, so a plan takes no more cuts and no more phases than before.

use super::problem::Problem;
use super::tree::Tree;

/// The trees of a plan with how many sheets are cut by each; the last are pruned first.
pub(super) fn without_surplus(problem: &Problem, plan: &mut [(Tree, u32)]) {
    let mut surplus = made(problem, plan);
    for (surplus, &wanted) in surplus.iter_mut().zip(&problem.demand) {
        *surplus = surplus.saturating_sub(u64::from(wanted));
    }
    for (tree, sheets) in plan.iter_mut().rev() {
        let each: Vec<u32> = surplus
            .iter()
            .map(|&surplus| {
                u32::try_from(surplus / u64::from((*sheets).max(1))).unwrap_or(u32::MAX)
            })
            .collect();
        let mut room = each.clone();
        // A sheet that nobody needs would not be in the plan.
        let Some(pruned) = prune(tree, &mut room) else {
            continue;
        };
        *tree = pruned;
        for (surplus, (each, room)) in surplus.iter_mut().zip(each.into_iter().zip(room)) {
            *surplus -= u64::from(each - room) * u64::from(*sheets);
        }
    }
}

fn made(problem: &Problem, plan: &[(Tree, u32)]) -> Vec<u64> {
    let mut made = vec![0; problem.rows()];
    for (tree, sheets) in plan {
        let mut counts = vec![0; problem.rows()];
        tree.count(1, &mut counts);
        for (made, count) in made.iter_mut().zip(counts) {
            *made += u64::from(count) * u64::from(*sheets);
        }
    }
    made
}

/// The tree without as many parts as `room` allows, which is used up; `None` where none is left.
fn prune(tree: &Tree, room: &mut [u32]) -> Option<Tree> {
    let (along, pieces) = match tree {
        Tree::Part { row, .. } if room[*row] > 0 => {
            room[*row] -= 1;
            return None;
        }
        Tree::Part { .. } => return Some(tree.clone()),
        Tree::Split { along, pieces } => (*along, pieces),
    };
    let mut kept: Vec<(i64, u32, Tree)> = Vec::new();
    for (size, times, inside) in pieces {
        let times = times - drop_whole(inside, *times, room);
        let spared = if times > 0 {
            prune_one(inside, room)
        } else {
            None
        };
        let whole = times - u32::from(spared.is_some());
        kept.extend((whole > 0).then(|| (*size, whole, inside.clone())));
        kept.extend(spared.map(|inside| (*size, 1, inside)));
    }
    (!kept.is_empty()).then_some(Tree::Split {
        along,
        pieces: kept,
    })
}

/// Drops equal pieces whose parts are all beyond what is wanted; says how many.
fn drop_whole(inside: &Tree, times: u32, room: &mut [u32]) -> u32 {
    let mut counts = vec![0; room.len()];
    inside.count(1, &mut counts);
    let fits = counts
        .iter()
        .zip(room.iter())
        .filter(|(count, _)| **count > 0);
    let dropped = fits
        .map(|(&count, &room)| room / count)
        .min()
        .unwrap_or(0)
        .min(times);
    for (room, count) in room.iter_mut().zip(counts) {
        *room -= count * dropped;
    }
    dropped
}

/// A piece with some parts left out; `None` where none can be.
fn prune_one(inside: &Tree, room: &mut [u32]) -> Option<Tree> {
    let before = room.to_vec();
    let pruned = prune(inside, room);
    if before == *room { None } else { pruned }
}

#[cfg(test)]
mod tests {
    use std::ops::ControlFlow;

    use crate::{CutJob, CutPart, CutStock, Effort, Length, plan_cuts, verify};

    #[test]
    fn a_sheet_is_not_cut_into_parts_that_nobody_wants() {
        let sheet = CutStock {
            name: "card".to_owned(),
            width: Length::from_mm(300),
            height: Length::from_mm(300),
            cost: 1,
            available: None,
        };
        let part = |name: &str, side, quantity| CutPart {
            name: name.to_owned(),
            width: Length::from_mm(side),
            height: Length::from_mm(side),
            quantity,
            turnable: true,
        };
        // 9 x 9 tags fill a sheet; 17 are 2 strips of 9 less 1: at most 2 + 17 cuts.
        for parts in [
            vec![part("tag", 33, 17)],
            vec![part("box", 140, 5), part("tag", 33, 3)],
        ] {
            let wanted: u32 = parts.iter().map(|part| part.quantity).sum();
            let job = CutJob::new(vec![sheet.clone()], parts, Length::ZERO, Some(3)).unwrap();
            let plans = plan_cuts(&job, &Effort::quick(), &mut |_| ControlFlow::Continue(()));
            let plans = plans.unwrap();
            assert_eq!(verify(&job, &plans.least_paper), Ok(()));
            let sheets = plans.least_paper.sheets.iter();
            let made: u32 = sheets
                .clone()
                .map(|s| s.count * s.placed.len() as u32)
                .sum();
            let most = sheets.map(|sheets| sheets.count - 1).sum::<u32>();
            assert!(made <= wanted + most * 4, "{made} for {wanted}");
        }
    }
}
