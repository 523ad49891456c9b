//! The verifier takes a good plan and refuses each kind of broken one.

use super::*;
use crate::cutting::{CutDirection, Plan, PlanFault};

fn good() -> (CutJob, Plan) {
    let sheets = vec![
        CutStock {
            available: Some(9),
            ..stock("A4", 210, 297, 38)
        },
        stock("A3", 297, 420, 80),
    ];
    let parts = vec![
        part("tin label", 60, 90, 14, false),
        part("seed envelope", 120, 140, 9, true),
    ];
    let job = CutJob::new(sheets, parts, mm(1), Some(3)).expect("the job can be planned");
    let plan = planned(&job).expect("a plan").least_paper;
    (job, plan)
}

fn broken(change: impl FnOnce(&mut Plan)) -> String {
    let (job, mut plan) = good();
    change(&mut plan);
    match verify(&job, &plan) {
        Ok(()) => "taken".to_owned(),
        Err(fault) => fault.to_string(),
    }
}

#[test]
fn a_good_plan_is_taken() {
    assert_eq!(broken(|_| ()), "taken");
}

#[test]
fn each_kind_of_broken_plan_is_refused() {
    insta::assert_snapshot!(broken(|plan| plan.sheets[0].stock = 5), @"pattern 0 names a sheet or part that the job doesn't have");
    insta::assert_snapshot!(broken(|plan| plan.sheets[0].placed[0].demand = 5), @"pattern 0 names a sheet or part that the job doesn't have");
    insta::assert_snapshot!(broken(|plan| { plan.sheets[0].placed.pop(); }), @"part tin label is made 10 times, 14 are wanted");
    insta::assert_snapshot!(broken(|plan| plan.sheets[0].count += 100), @"sheet A4 is used 105 times, there are 9");
    insta::assert_snapshot!(broken(|plan| plan.sheets[0].placed[0].width += mm(1)), @"pattern 0: a piece for part seed envelope has the wrong size or is turned wrongly");
    insta::assert_snapshot!(broken(|plan| plan.sheets[0].placed[0].x = mm(200)), @"pattern 0: part seed envelope lies beyond the edge");
    insta::assert_snapshot!(broken(|plan| {
        let first = plan.sheets[0].placed[0].clone();
        plan.sheets[0].placed.push(first);
    }), @"pattern 0: two parts overlap or are closer than the kerf");
    insta::assert_snapshot!(broken(|plan| plan.sheets[0].cuts[0].setting = mm(500)), @"pattern 0: cut 0 can't be made");
    insta::assert_snapshot!(broken(|plan| { plan.sheets[0].cuts.pop(); }), @"pattern 0: the cuts do not free part tin label");
    insta::assert_snapshot!(broken(|plan| plan.cost -= 1), @"the plan says that it costs 189, its sheets cost 190");
}

#[test]
fn a_part_turned_against_the_grain_is_refused() {
    let fault = broken(|plan| {
        for placed in plan.sheets.iter_mut().flat_map(|sheets| &mut sheets.placed) {
            if placed.demand == 0 {
                placed.turned = true;
                std::mem::swap(&mut placed.width, &mut placed.height);
            }
        }
    });
    assert!(
        fault.contains("tin label has the wrong size or is turned wrongly"),
        "{fault}"
    );
}

#[test]
fn one_phase_more_than_allowed_is_refused() {
    let sheets = || vec![stock("sheet", 100, 100, 1)];
    let parts = || vec![part("card", 60, 60, 1, false)];
    let plan = planned(&job(sheets(), parts(), None))
        .expect("a plan")
        .least_paper;
    let directions: Vec<CutDirection> = plan.sheets[0].cuts.iter().map(|c| c.direction).collect();
    assert_eq!(directions.len(), 2);
    let strict = job(
        vec![stock("sheet", 100, 100, 1), stock("strip", 60, 60, 9)],
        parts(),
        Some(1),
    );
    let fault = verify(&strict, &plan);
    assert!(
        matches!(
            fault,
            Err(PlanFault::Phases {
                phases: 2,
                most: 1,
                ..
            })
        ),
        "{fault:?}"
    );
}
