//! Odd jobs: each gets a plan or a sentence, never a crash.

use super::*;
use crate::cutting::CutDirection;

fn refused(stock: Vec<CutStock>, parts: Vec<CutPart>, kerf: Length, stages: Option<u8>) -> String {
    match CutJob::new(stock, parts, kerf, stages) {
        Ok(job) => match planned(&job) {
            Ok(plans) => format!("planned at {}", plans.least_paper.cost),
            Err(error) => error.to_string(),
        },
        Err(error) => error.to_string(),
    }
}

#[test]
fn bad_input_is_named_and_quoted() {
    let sheet = || vec![stock("A4", 210, 297, 38)];
    let tag = || vec![part("tag", 40, 60, 9, true)];
    let none = Length::ZERO;
    insta::assert_snapshot!(refused(vec![], tag(), none, None), @"there is no sheet to cut from. Add at least one sheet size with its price.");
    insta::assert_snapshot!(refused(sheet(), vec![], none, None), @"there is no part to cut. Add at least one part with a quantity above 0.");
    insta::assert_snapshot!(refused(vec![stock("A4", 0, 297, 38)], tag(), none, None), @"sheet A4: the width 0 mm is not a size. Give a length above 0 and at most 10000 mm.");
    insta::assert_snapshot!(refused(vec![stock("A4", 210, 297, 0)], tag(), none, None), @"sheet A4: the price 0 can't be used. Give a whole number from 1 to 1000000000, in the smallest coin.");
    insta::assert_snapshot!(refused(sheet(), vec![part("tag", 40, -6, 9, true)], none, None), @"part tag: the height -6 mm is not a size. Give a length above 0 and at most 10000 mm.");
    insta::assert_snapshot!(refused(sheet(), vec![part("tag", 300, 211, 9, true)], none, None), @"part tag is 300 mm x 211 mm and fits no sheet either way round. Add a larger sheet, or make the part smaller.");
    insta::assert_snapshot!(refused(sheet(), vec![part("tag", 297, 20, 9, false)], none, None), @"part tag is 297 mm x 20 mm and fits no sheet without turning it. Add a larger sheet, or make the part smaller.");
    insta::assert_snapshot!(refused(sheet(), vec![part("tag", 1, 1, 9, false)], none, None), @"part tag is 1 mm x 1 mm, so small that a sheet A4 holds more than 20000. Give a smaller sheet, or a larger part.");
    insta::assert_snapshot!(refused(sheet(), tag(), mm(-1), None), @"the kerf -1 mm can't be used. Give 0 for a blade that takes nothing away, or at most 100 mm.");
    insta::assert_snapshot!(refused(sheet(), tag(), none, Some(7)), @"7 phases of cuts are not offered. Give 1, 2 or 3, or leave it empty for any number.");
    insta::assert_snapshot!(refused(sheet(), tag(), none, Some(1)), @"part tag can't be cut in 1 phase: it needs a trim. Allow one phase more.");
    insta::assert_snapshot!(refused(sheet(), vec![part("tag", 40, 60, 1_000_001, true)], none, None), @"1000001 pieces are more than a plan takes. Ask for at most 1000000 in one job.");
}

#[test]
fn too_few_sheets_name_the_part_that_is_short() {
    let few = CutStock {
        available: Some(2),
        ..stock("A4", 210, 297, 38)
    };
    let parts = vec![part("tin label", 200, 140, 6, false)];
    insta::assert_snapshot!(refused(vec![few], parts, Length::ZERO, Some(3)), @"there are too few sheets for part tin label: 2 of 6 can't be made. Make more sheets available.");
}

#[test]
fn a_limited_cheap_sheet_is_used_up_before_the_dear_one() {
    let cheap = CutStock {
        available: Some(2),
        ..stock("remnant", 100, 100, 1)
    };
    let job = job(
        vec![cheap, stock("sheet", 100, 100, 5)],
        vec![part("card", 100, 50, 7, false)],
        Some(3),
    );
    let plans = planned(&job).expect("a plan");
    assert_eq!((plans.least_paper.cost, plans.proven), (12, true));
}

#[test]
fn a_million_pieces_are_planned() {
    let parts = vec![
        part("tag", 40, 60, 600_000, true),
        part("band", 20, 200, 400_000, false),
    ];
    let plans = planned(&job(vec![stock("A4", 210, 297, 38)], parts, Some(3))).expect("a plan");
    assert!(plans.gap_percent() < 0.1, "{}", plans.gap_percent());
}

#[test]
fn a_kerf_is_taken_off_between_parts_not_at_the_edge() {
    // Three of 32 mm and two cuts of 2 mm fill 100 mm; with 3 mm only two fit.
    for (kerf, sheets) in [(2, 1), (3, 2)] {
        let parts = vec![part("strip", 32, 50, 3, false)];
        let job = CutJob::new(vec![stock("sheet", 100, 50, 1)], parts, mm(kerf), Some(1));
        let plans = planned(&job.expect("the job can be planned")).expect("a plan");
        assert_eq!(plans.least_paper.cost, sheets);
    }
}

#[test]
fn more_parts_than_asked_are_made_where_that_is_cheaper() {
    let job = job(
        vec![stock("sheet", 100, 50, 1)],
        vec![part("card", 50, 50, 3, false)],
        Some(2),
    );
    let plans = planned(&job).expect("a plan");
    assert_eq!(plans.least_paper.cost, 2);
}

#[test]
fn the_same_job_gives_the_same_plan() {
    let text = include_str!("../../../../tests/cutplan/atp35.json");
    let value: serde_json::Value = serde_json::from_str(text).expect("the order is JSON");
    let whole = |v: &serde_json::Value| v.as_i64().expect("a whole number");
    let parts = value["parts"].as_array().expect("parts").iter();
    let parts: Vec<CutPart> = parts
        .map(|p| {
            part(
                "p",
                whole(&p["width"]),
                whole(&p["height"]),
                whole(&p["quantity"]) as u32,
                false,
            )
        })
        .collect();
    let plan = || {
        planned(&job(
            vec![stock("sheet", 960, 649, 1)],
            parts.clone(),
            Some(3),
        ))
    };
    assert_eq!(plan().expect("a plan"), plan().expect("a plan"));
}

#[test]
fn stopping_gives_the_best_plan_so_far() {
    let parts = vec![
        part("tin label", 60, 90, 140, false),
        part("envelope", 120, 140, 90, true),
    ];
    let job = job(vec![stock("A4", 210, 297, 38)], parts, Some(3));
    let mut calls = 0;
    let stopped = plan_cuts(&job, &Effort::thorough(), &mut |progress| {
        calls += 1;
        assert!(progress.done <= progress.of);
        ControlFlow::Break(())
    });
    assert_eq!(calls, 1);
    match stopped {
        Ok(plans) => verify(&job, &plans.least_paper).expect("the plan keeps its promises"),
        Err(error) => assert_eq!(error, CutError::Stopped),
    }
}

#[test]
fn equal_settings_are_cut_one_after_another() {
    let job = job(
        vec![stock("sheet", 100, 90, 1)],
        vec![part("card", 50, 30, 6, false)],
        Some(3),
    );
    let plans = planned(&job).expect("a plan");
    let pattern = &plans.least_paper.sheets[0];
    // Two strips of three or three strips of two: each setting is made once.
    assert_eq!(pattern.settings, 2);
    assert_eq!(pattern.placed.len(), 6);
    let along = |direction| {
        pattern
            .cuts
            .iter()
            .filter(|cut| cut.direction == direction)
            .count()
    };
    // The last piece of a row needs no cut.
    assert!(along(CutDirection::Width) > 0 && along(CutDirection::Height) > 0);
}

#[test]
fn a_thousand_sizes_a_micrometre_apart_are_planned() {
    let parts = (0..1000)
        .map(|n| CutPart {
            width: Length::from_nm(30_000_000 + n * 1_000),
            height: Length::from_nm(41_000_000 - n * 1_000),
            ..part(&format!("tag {n}"), 1, 1, 1 + n as u32 % 3, n % 2 == 0)
        })
        .collect();
    let job = job(vec![stock("A4", 210, 297, 38)], parts, None);
    let plans = planned(&job).expect("a plan");
    // So few steps don't prove much for so many sizes; the plan is near its area all the same.
    assert!(plans.gap_percent() < 20.0, "{}", plans.gap_percent());
}

/// A thousand sizes from 15 mm to 194 mm, 10 500 pieces.
fn a_thousand_sizes() -> CutJob {
    let parts = (0..1000_i64)
        .map(|n| {
            let (width, height) = (15 + n * 7919 % 180, 15 + n * 104_729 % 180);
            part(
                &format!("tag {n}"),
                width,
                height,
                1 + n as u32 % 20,
                n % 2 == 0,
            )
        })
        .collect();
    let sheets = vec![stock("A4", 210, 297, 38), stock("A3", 297, 420, 80)];
    job(sheets, parts, Some(3))
}

#[test]
fn a_thousand_sizes_lie_within_a_tenth_of_their_area() {
    let plans = planned(&a_thousand_sizes()).expect("a plan");
    assert!(plans.gap_percent() < 10.0, "{}", plans.gap_percent());
}

#[test]
fn a_plan_is_asked_about_every_few_hundredths_of_a_second() {
    let sizes = (0..30).map(|n| part("tag", 20 + 3 * n, 41 + 5 * n, 40, n % 2 == 0));
    let few = job(vec![stock("A2", 420, 594, 90)], sizes.collect(), None);
    for job in [few, a_thousand_sizes()] {
        let effort = Effort { steps: 60_000_000 };
        let (mut last, mut longest) = (0, 0);
        plan_cuts(&job, &effort, &mut |progress| {
            longest = longest.max(progress.done - last);
            last = progress.done;
            ControlFlow::Continue(())
        })
        .expect("a plan");
        // A step is half a nanosecond: a break stops the work within 20 ms.
        assert!(longest <= 40_000_000, "{longest}");
    }
}

#[test]
fn a_break_at_any_moment_gives_a_whole_plan_and_no_more_calls() {
    let job = a_thousand_sizes();
    for moment in [0, 1, 2] {
        let mut calls = 0;
        let plans = plan_cuts(&job, &Effort { steps: 60_000_000 }, &mut |_| {
            calls += 1;
            if calls > moment {
                ControlFlow::Break(())
            } else {
                ControlFlow::Continue(())
            }
        });
        assert_eq!(calls, moment + 1);
        match plans {
            Ok(plans) => verify(&job, &plans.least_paper).expect("the plan keeps its promises"),
            Err(error) => assert_eq!((moment, error), (0, CutError::Stopped)),
        }
    }
}

#[test]
fn more_sizes_than_a_plan_takes_are_named() {
    let sizes = (0..1001).map(|n| part(&format!("tag {n}"), 20, 30, 1, true));
    insta::assert_snapshot!(refused(vec![stock("A4", 210, 297, 38)], sizes.collect(), Length::ZERO, None), @"1001 part sizes are more than a plan takes. Give at most 1000, or plan them in several jobs.");
    let sheets = (0..51).map(|n| stock(&format!("sheet {n}"), 210, 297, 38));
    insta::assert_snapshot!(refused(sheets.collect(), vec![part("tag", 20, 30, 1, true)], Length::ZERO, None), @"51 sheet sizes are more than a plan takes. Give at most 50.");
}

#[test]
fn lengths_without_a_common_measure_are_planned() {
    let parts = (0..7)
        .map(|n| CutPart {
            width: Length::from_nm(13_000_003 + n * 7_919_017),
            height: Length::from_nm(17_000_023 + n * 3_571_039),
            ..part(&format!("tag {n}"), 1, 1, 20_000, true)
        })
        .collect();
    let plans = planned(&job(vec![stock("A4", 210, 297, 38)], parts, None)).expect("a plan");
    assert!(plans.gap_percent() < 10.0, "{}", plans.gap_percent());
}

#[test]
fn every_limit_at_once_is_still_answered() {
    let sheets = (0..50)
        .map(|n| CutStock {
            cost: 1_000_000_000 - n,
            available: (n % 2 == 0).then_some(u32::MAX),
            ..stock(&format!("sheet {n}"), 1_000 + n as i64, 9_000 - n as i64, 1)
        })
        .collect();
    let parts = (0..100)
        .map(|n| {
            part(
                &format!("panel {n}"),
                80 + n,
                100 + 3 * n,
                10_000,
                n % 2 == 0,
            )
        })
        .collect();
    let job = CutJob::new(sheets, parts, mm(3), None).expect("the job can be planned");
    let plans = planned(&job).expect("a plan");
    assert!(plans.bound > 0);
}

#[test]
fn prices_far_apart_do_not_make_the_planner_walk_from_cost_to_cost() {
    // Between one dear sheet and two lie 99 990 costs, each of as many cheap sheets.
    let parts = vec![part("lid", 90, 90, 9, true), part("tag", 25, 25, 40, true)];
    for cheap_first in [true, false] {
        let mut sheets = vec![stock("scrap", 30, 30, 1), stock("card", 200, 200, 99_991)];
        if !cheap_first {
            sheets.reverse();
        }
        let plans = planned(&job(sheets, parts.clone(), Some(3))).expect("a plan");
        // Four lids lie on a card. The tags lie on scraps, or in what the lids leave.
        assert_eq!(plans.least_paper.cost / 99_991, 3);
        assert!(plans.least_paper.cost <= 3 * 99_991 + 40);
    }
}
