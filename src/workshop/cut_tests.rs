//! The list of fence settings, followed blindly: does every part come off?
//!
//! An independent reader: it knows the sheets and the cuts of each pattern, and shares no code
//! with the list.

use std::sync::Arc;

use proptest::prelude::*;
use tablefold_geometry::{CutDirection, CutJob, Length, PatternUse};

use super::*;
use crate::demo::{class, class_of_two_sizes};

/// A sheet on the table: its pieces by number, those not cut free yet without a size.
type Table = Vec<Option<(Length, Length)>>;

/// Does the batches with paper: each row's cuts on each sheet, at the fence of the batch.
fn cut_all(batches: &[CutBatch], papers: &[PaperPull], choice: PlanChoice) -> Vec<Vec<Table>> {
    let sheets = |paper: &PaperPull| {
        let patterns = paper.plan_by(choice).sheets.iter();
        patterns
            .map(|sheets| {
                let mut table = vec![None; sheets.cuts.len() + 1];
                let sheet = &paper.sizes[sheets.stock].paper;
                table[0] = Some((sheet.width, sheet.height));
                table
            })
            .collect()
    };
    let mut tables: Vec<Vec<Table>> = papers.iter().map(sheets).collect();
    for batch in batches {
        for row in &batch.rows {
            let (paper, pattern) = row.sheet;
            let cuts = &papers[paper].plan_by(choice).sheets[pattern].cuts;
            let table = &mut tables[paper][pattern];
            for &cut in &row.cuts {
                let cut = cuts[cut];
                let (width, height) = table[cut.piece].expect("it was cut free before");
                let fence = batch.setting;
                let (rest, off) = match cut.direction {
                    CutDirection::Width => ((width - fence, height), (fence, height)),
                    CutDirection::Height => ((width, height - fence), (width, fence)),
                };
                assert!(rest.0 > Length::ZERO && rest.1 > Length::ZERO, "{cut:?}");
                assert!(table[cut.off].is_none(), "{cut:?} is made twice");
                table[cut.piece] = Some(rest);
                table[cut.off] = Some(off);
            }
        }
    }
    tables
}

/// Every part comes off, by either plan.
fn check(class: &ClassFacts) {
    {
        let packet = packet(class, &plan_now).expect("balances");
        for choice in PlanChoice::ALL {
            let papers = &packet.pull.papers;
            let (batches, _) = cut_batches(papers, choice, 2);
            let tables = cut_all(&batches, papers, choice);
            for (paper, tables) in papers.iter().zip(tables) {
                let mut made: Vec<(Length, Length)> = Vec::new();
                for (sheets, table) in paper.plan_by(choice).sheets.iter().zip(tables) {
                    let pieces = table
                        .into_iter()
                        .map(|piece| piece.expect("every cut is made"));
                    for piece in pieces {
                        made.extend(vec![piece; sheets.count as usize]);
                    }
                }
                for part in &paper.demands {
                    for _ in 0..part.quantity {
                        let turned = (part.height, part.width);
                        let at = made.iter().position(|&piece| {
                            piece == (part.width, part.height) || part.turnable && piece == turned
                        });
                        made.swap_remove(at.unwrap_or_else(|| panic!("no {} is left", part.name)));
                    }
                }
            }
        }
    }
}

#[test]
fn the_rows_of_the_batches_count_every_part_and_every_stroke() {
    let class = class(14);
    let packet = packet(&class, &plan_now).expect("balances");
    let (choice, papers) = (class.cut_plan, &packet.pull.papers);
    for (at_once, piles) in [(1, 1), (2, 2), (20, 20)] {
        let (batches, _) = cut_batches(papers, choice, at_once);
        for (index, paper) in papers.iter().enumerate() {
            let rows = || {
                batches
                    .iter()
                    .flat_map(|batch| &batch.rows)
                    .filter(|r| r.sheet.0 == index)
            };
            for demand in 0..paper.demands.len() {
                let freed = rows().filter(|row| row.what == Freed::Part(demand));
                let freed: u32 = freed.map(|row| row.pieces).sum();
                // A part that is a whole sheet is never cut.
                assert!(
                    freed == paper.yields(demand)
                        || paper.plan().sheets.iter().any(|s| s.cuts.is_empty())
                );
            }
            let strokes: u32 = rows().map(|row| row.strokes).sum();
            let expected: u32 = paper
                .plan()
                .sheets
                .iter()
                .map(|sheets| sheets.count.div_ceil(piles) * sheets.cuts.len() as u32)
                .sum();
            assert_eq!(strokes, expected, "{}", paper.name);
        }
    }
}

#[test]
fn the_plan_that_is_chosen_is_the_plan_that_is_cut() {
    let mut class = class(14);
    class.cut_plan = PlanChoice::LeastFiddling;
    let packet = packet(&class, &plan_now).expect("balances");
    for paper in &packet.pull.papers {
        assert_eq!(paper.plan(), &paper.plans.least_fiddling, "{}", paper.name);
        assert!(u64::from(paper.sheets()) >= paper.plans.bound);
    }
    let papers = &packet.pull.papers;
    let [least, few] = PlanChoice::ALL.map(|choice| plan_price(papers, choice, 2));
    assert!(few.sheets >= least.sheets && few.sheets <= least.sheets + papers.len() as u32);
    assert!(Some(u64::from(least.sheets)) >= least.least_sheets);
    assert!(few.work.set_ups >= few.work.least_set_ups);
    // More paper is taken only for less fiddling.
    assert!(few.patterns <= least.patterns && few.work.set_ups <= least.work.set_ups);
    let is_less = few.patterns < least.patterns || few.work.set_ups < least.work.set_ups;
    assert!(is_less || few.sheets == least.sheets);
}

/// A planner that leaves a part out, or says that a cut is elsewhere than it is.
#[test]
fn a_plan_that_cannot_be_cut_as_it_says_is_refused() {
    let breaks: [fn(&mut PatternUse); 3] = [
        |sheets| sheets.placed.truncate(1),
        |sheets| sheets.count -= 1,
        |sheets| sheets.cuts[0].setting += Length::from_nm(1),
    ];
    for break_it in breaks {
        let faulty = |job: &CutJob| {
            let mut plans = Arc::unwrap_or_clone(plan_now(job)?);
            break_it(&mut plans.least_paper.sheets[0]);
            Ok(Arc::new(plans))
        };
        let problems = packet(&class(3), &faulty).map(|_| ()).expect_err("refused");
        assert!(
            problems
                .iter()
                .all(|problem| matches!(problem, PacketProblem::NoCutPlan { .. }))
        );
    }
}

#[test]
fn following_the_fence_settings_cuts_every_part() {
    for attendees in [1, 14, 60] {
        check(&class(attendees));
        check(&class_of_two_sizes(attendees));
    }
}

#[test]
fn a_sheet_as_wide_as_its_part_still_gives_it() {
    let mut class = class(5);
    let made = packet(&class, &plan_now).expect("balances");
    let band = made.recipe.pieces[0].band.clone().expect("has one");
    for colourway in &mut class.colourways {
        if let Some(stock) = colourway.papers.get_mut("accent") {
            stock.paper.width = band.strip_length();
            stock.paper.height = band.strip_length();
        }
    }
    check(&class);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn fence_settings_cut_every_part_from_any_sheet(
        (width, height) in (230i64..900, 230i64..900),
        attendees in 1usize..30,
    ) {
        let mut class = class(attendees);
        for colourway in &mut class.colourways {
            for stock in colourway.papers.values_mut() {
                stock.paper.width = Length::from_mm(width);
                stock.paper.height = Length::from_mm(height);
            }
        }
        check(&class);
    }
}
