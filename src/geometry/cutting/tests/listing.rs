//! The list of all patterns against trying every cut.

use std::collections::BTreeSet;

use super::referee::Referee;
use super::*;
use crate::cutting::listing::all_patterns;
use crate::cutting::meter::Meter;
use crate::cutting::problem::Problem;
use crate::cutting::random::Random;

/// Counts of the patterns, cut off at the demand, without those that another one contains.
fn listed(problem: &Problem) -> BTreeSet<Vec<u32>> {
    let mut go_on = |_: &crate::cutting::Progress| ControlFlow::Continue(());
    let mut meter = Meter::new(&Effort::thorough(), &mut go_on);
    let all = all_patterns(problem, &mut meter).expect("the order is small");
    let counts = |tree: &crate::cutting::tree::Tree| -> Vec<u32> {
        let mut counts = vec![0; problem.rows()];
        tree.count(1, &mut counts);
        let cut_off = counts.iter().zip(&problem.demand);
        cut_off.map(|(count, wanted)| *count.min(wanted)).collect()
    };
    let all: BTreeSet<Vec<u32>> = all.iter().map(|(_, tree)| counts(tree)).collect();
    let within = |a: &Vec<u32>, b: &Vec<u32>| a != b && a.iter().zip(b).all(|(a, b)| a <= b);
    let largest = all.iter().filter(|a| !all.iter().any(|b| within(a, b)));
    largest.cloned().collect()
}

#[test]
fn no_pattern_of_a_small_sheet_is_left_out_and_none_made_up() {
    let mut random = Random::new(11);
    let mut seen = 0;
    while seen < 60 {
        let mut from = |low: usize, high: usize| (low + random.below(high - low + 1)) as i64;
        let (w, h) = (from(4, 10), from(4, 9));
        let sizes: Vec<(i64, i64, u32, bool)> = (0..from(1, 3))
            .map(|_| (from(1, 6), from(1, 5), from(1, 4) as u32, from(0, 1) == 0))
            .collect();
        let parts = sizes.iter().enumerate();
        let parts = parts.map(|(n, &(w, h, count, turnable))| {
            part(&format!("tin label {n}"), w, h, count, turnable)
        });
        let Ok(job) = CutJob::new(
            vec![stock("sheet", w, h, 1)],
            parts.collect(),
            Length::ZERO,
            Some(3),
        ) else {
            continue;
        };
        seen += 1;
        let all: BTreeSet<Vec<u32>> = Referee::new(&sizes)
            .patterns(w, h, Some(3))
            .into_iter()
            .collect();
        assert_eq!(listed(&Problem::new(&job)), all, "{job:?}");
    }
}
