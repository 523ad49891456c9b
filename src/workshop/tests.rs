//! A whole packet: it balances, or says what is missing.

use std::sync::Arc;

use tablefold_geometry::{CutDirection, CutJob, Length, PatternUse};

use super::*;
use crate::demo::class;

fn said(class: &ClassFacts) -> String {
    let problems = packet(class, &plan_now)
        .map(|_| ())
        .expect_err("has a problem");
    problems
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn a_packet_balances_for_every_size_of_class() {
    for attendees in [1, 2, 3, 14, 40, 200] {
        let packet = packet(&class(attendees), &plan_now).expect("balances");
        assert_eq!(packet.packs.len(), attendees + 3);
        for line in &packet.balance {
            let need = line.packs + line.spares;
            assert_eq!(need + line.extra(), line.yields, "{}", line.what);
        }
        let packed: u64 = packet
            .packs
            .iter()
            .flat_map(|pack| &pack.items)
            .map(|item| u64::from(item.count))
            .sum();
        let given = packet.balance.iter().map(|line| line.yields - line.extra());
        assert_eq!(packed, given.sum::<u64>());
    }
}

#[test]
fn every_part_of_a_pack_is_of_its_own_colourway() {
    let packet = packet(&class(14), &plan_now).expect("balances");
    for pack in &packet.packs {
        for item in pack.items.iter().filter(|item| item.paper.is_some()) {
            let class = class(14);
            let own = class.colourway(pack.colourway).expect("there");
            let paper = own
                .papers
                .values()
                .find(|stock| Some(stock.id) == item.paper);
            assert!(
                paper.is_some_and(|stock| stock.paper.name == item.from),
                "{}",
                item.from
            );
        }
    }
}

#[test]
fn what_is_on_hand_is_not_bought() {
    let packet = packet(&class(14), &plan_now).expect("balances");
    let tin = packet
        .pull
        .counted
        .iter()
        .find(|thing| thing.supply == 1)
        .expect("tins");
    assert_eq!((tin.total(), tin.buy()), (17, 7));
    for paper in &packet.pull.papers {
        assert_eq!(paper.buy(), paper.sheets().saturating_sub(paper.on_hand));
    }
}

#[test]
fn no_tool_setting_comes_up_twice_among_the_batches() {
    let packet = packet(&class(14), &plan_now).expect("balances");
    let stamped: Vec<_> = packet
        .prep
        .batches
        .iter()
        .map(|b| (b.tool, b.settings.clone()))
        .collect();
    for (at, batch) in stamped.iter().enumerate() {
        assert!(!stamped[at + 1..].contains(batch), "{batch:?} is set twice");
    }
}

/// A sheet on the table: its pieces by number, those not cut free yet without a size.
type Table = Vec<Option<(Length, Length)>>;

/// Does the batches with paper: each row's cuts on each sheet, at the fence of the batch.
fn cut_all(batches: &[CutBatch], papers: &[PaperPull], choice: PlanChoice) -> Vec<Vec<Table>> {
    let sheets = |paper: &PaperPull| {
        let size = (paper.paper.width, paper.paper.height);
        let patterns = paper.plan_by(choice).sheets.iter();
        patterns
            .map(|sheets| {
                let mut table = vec![None; sheets.cuts.len() + 1];
                table[0] = Some(size);
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

#[test]
fn sheets_cut_by_the_batches_are_exactly_the_parts() {
    for attendees in [1, 14, 60] {
        let class = class(attendees);
        let packet = packet(&class, &plan_now).expect("balances");
        for choice in PlanChoice::ALL {
            let papers = &packet.pull.papers;
            let batches = cut_batches(papers, choice, 2);
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
        let batches = cut_batches(papers, choice, at_once);
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
            assert_eq!(strokes, expected, "{}", paper.paper.name);
        }
    }
}

#[test]
fn the_plan_that_is_chosen_is_the_plan_that_is_cut() {
    let mut class = class(14);
    class.cut_plan = PlanChoice::LeastFiddling;
    let packet = packet(&class, &plan_now).expect("balances");
    for paper in &packet.pull.papers {
        assert_eq!(
            paper.plan(),
            &paper.plans.least_fiddling,
            "{}",
            paper.paper.name
        );
        assert!(u64::from(paper.sheets()) >= paper.plans.bound);
    }
    let papers = &packet.pull.papers;
    let [least, few] = PlanChoice::ALL.map(|choice| plan_price(papers, choice, 2));
    assert!(few.sheets >= least.sheets && few.sheets <= least.sheets + papers.len() as u32);
    assert!(u64::from(least.sheets) >= least.least_sheets);
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
fn a_class_without_attendees_is_refused() {
    insta::assert_snapshot!(said(&class(0)), @"The class has no attendees. Add at least 1.");
}

#[test]
fn a_colourway_without_a_paper_is_named() {
    let mut class = class(4);
    class.colourways[1].papers.remove("label");
    insta::assert_snapshot!(said(&class), @r#"Colourway "Clay pot" has no paper for "label". Choose one under Colourways."#);
}

#[test]
fn an_attendee_without_a_colourway_is_named() {
    let mut class = class(4);
    class.attendees[2].colourway = 7;
    insta::assert_snapshot!(said(&class), @"Seat 3 has no colourway. Choose one under Attendees.");
}

#[test]
fn too_many_kits_are_refused() {
    insta::assert_snapshot!(said(&class(398)), @"401 kits are more than a class can have. Plan at most 400 attendees and spares.");
}

#[test]
fn a_paper_thicker_than_the_design_is_refused() {
    let mut class = class(4);
    if let Some(stock) = class.colourways[0].papers.get_mut("main") {
        stock.paper.caliper = Length::from_nm(400_000);
    }
    insta::assert_snapshot!(said(&class), @r#"
    Colourway "Meadow" uses Moss card (0.4 mm thick) for "main", but Seed box is designed for 0.25 mm. Choose a thinner paper, or design the piece for this one.
    Colourway "Meadow" uses Moss card (0.4 mm thick) for "main", but Seed envelope is designed for 0.25 mm. Choose a thinner paper, or design the piece for this one.
    "#);
}

#[test]
fn a_sheet_too_small_for_the_blank_is_refused() {
    let mut class = class(4);
    if let Some(stock) = class.colourways[0].papers.get_mut("main") {
        stock.paper.width = Length::inches(4);
    }
    insta::assert_snapshot!(said(&class), @"Moss card: Seed box: box sheet is 5 13/16 in x 5 13/16 in and does not fit a sheet of 4 in x 12 in either way round. Use a larger sheet, or make the piece smaller.");
}

#[test]
fn a_class_step_without_its_tool_is_refused() {
    let mut class = class(4);
    class.tools[0].count = 0;
    let said = said(&class);
    assert!(said.contains("needs a punch board"), "{said}");
}
