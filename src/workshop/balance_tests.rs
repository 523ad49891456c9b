//! What can go wrong between packs, pull list and tables is refused.

use std::sync::Arc;

use tablefold_geometry::Plan;

use super::balance::{balance, off as off_lines};
use super::*;
use crate::demo::class;
use crate::recipe::{Recipe, ToolKind};

/// The lines that are off after the pull list was tampered with.
fn off(tamper: impl Fn(&mut Pull)) -> Vec<String> {
    let class = class(14);
    let recipe = Recipe::build(&class.project).expect("can be made");
    let made = packet(&class, &plan_now).expect("balances");
    let mut pull = made.pull.clone();
    tamper(&mut pull);
    let problems = off_lines(&balance(&recipe, &made.packs, &pull));
    problems.iter().map(ToString::to_string).collect()
}

/// The plan of the first paper, to be tampered with.
fn least(pull: &mut Pull) -> &mut Plan {
    &mut Arc::make_mut(&mut pull.papers[0].plans).least_paper
}

/// Sheets that are cut alike may give a few more; they are said, and nothing else may be over.
#[test]
fn only_what_is_cut_may_be_over() {
    let class = class(14);
    let recipe = Recipe::build(&class.project).expect("can be made");
    let made = packet(&class, &plan_now).expect("balances");
    let mut pull = made.pull.clone();
    let sheets = &mut least(&mut pull).sheets[0];
    let on_one = sheets.placed.len() as u64;
    sheets.count += 1;
    let lines = balance(&recipe, &made.packs, &pull);
    assert!(off_lines(&lines).is_empty());
    let extra = |lines: &[Balance]| lines.iter().map(Balance::extra).sum::<u64>();
    assert_eq!(extra(&lines), extra(&made.balance) + on_one);
}

#[test]
fn a_pull_list_that_is_short_or_over_does_not_balance() {
    assert_eq!(off(|_| ()), Vec::<String>::new());
    let sheet_less = off(|pull| least(pull).sheets[0].count -= 1);
    assert!(sheet_less[0].contains("does not balance"), "{sheet_less:?}");
    let part_less = off(|pull| {
        least(pull).sheets[0].placed.pop();
    });
    assert_eq!(part_less.len(), 1);
    assert_eq!(
        off(|pull| pull.papers.clear()).len(),
        4 * 3 + 1,
        "4 parts in 3 papers, and the tag, whose paper is the same in all"
    );
    assert_eq!(off(|pull| pull.ribbons[0].lengths[0].2 -= 1).len(), 1);
    assert_eq!(off(|pull| pull.counted[0].uses[0].1 += 1).len(), 1);
}

#[test]
fn attendees_and_spares_are_counted_apart() {
    let made = packet(&class(14), &plan_now).expect("balances");
    let tin = made
        .balance
        .iter()
        .find(|line| line.what.starts_with("Seed box: round seed tin"));
    let sides = tin.map(|line| (line.packs, line.spares, line.yields));
    assert_eq!(sides, Some((14, 3, 17)));
}

#[test]
fn what_is_pulled_for_no_pack_does_not_balance() {
    let class = class(14);
    let made = packet(&class, &plan_now).expect("balances");
    let mut packs = made.packs.clone();
    for pack in &mut packs {
        pack.items.retain(|item| item.name != "Seed box: tag");
    }
    let problems = off_lines(&balance(&made.recipe, &packs, &made.pull));
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(said.join("\n"), @"The packet does not balance: packs and spares need 0 of Seed box: tag, and 17 are made. Please report this.");
}

fn said(class: &ClassFacts) -> String {
    let problems = packet(class, &plan_now)
        .map(|_| ())
        .expect_err("has a problem");
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    lines.join("\n")
}

#[test]
fn more_things_than_can_be_packed_are_refused() {
    let mut class = class(14);
    class.project.pieces[1].spec.extras[0].count = u32::MAX;
    insta::assert_snapshot!(said(&class), @"4294967295 of Seed envelope: Leaf sticker in each kit are more than a class can pack. Plan at most 1000000 in all kits together.");
}

#[test]
fn a_tag_may_be_of_thicker_paper_than_its_piece() {
    let mut class = class(4);
    if let Some(stock) = class.colourways[0].papers.get_mut("label") {
        stock.paper.caliper = tablefold_geometry::Length::from_nm(400_000);
    }
    assert!(packet(&class, &plan_now).is_ok());
    if let Some(stock) = class.colourways[0].papers.get_mut("accent") {
        stock.paper.caliper = tablefold_geometry::Length::from_nm(400_000);
    }
    assert!(said(&class).contains("for \"accent\""), "bands go round");
}

#[test]
fn a_tool_that_nobody_listed_is_not_there() {
    let mut class = class(4);
    class.tools.retain(|tool| tool.kind != ToolKind::BoneFolder);
    let said = said(&class);
    assert!(said.contains("needs a bone folder"), "{said}");
}

#[test]
fn prep_does_each_batch_for_every_kit() {
    let made = packet(&class(14), &plan_now).expect("balances");
    for row in made.prep.batches.iter().flat_map(|batch| &batch.rows) {
        assert_eq!(row.count, 17, "{}", row.title);
        assert_eq!(row.counts.iter().map(|of| of.count).sum::<u32>(), 17);
    }
}

/// By hand: a minute for each fence setting, and 10 s for each stroke of the blade. The demo's
/// trimmer takes 2 sheets at once.
#[test]
fn prep_minutes_are_set_ups_and_work() {
    let made = packet(&class(14), &plan_now).expect("balances");
    let settings = made.prep.cuts.len() as u32;
    let sheets = made
        .pull
        .papers
        .iter()
        .flat_map(|paper| &paper.plan().sheets);
    let strokes = sheets.map(|sheets| sheets.count.div_ceil(2) * sheets.cuts.len() as u32);
    let seconds = settings * 60 + strokes.sum::<u32>() * 10;
    assert_eq!(made.prep.cut_minutes, seconds.div_ceil(60));
    let minutes: Vec<(Option<ToolKind>, u32)> = made
        .prep
        .batches
        .iter()
        .map(|batch| (batch.tool, batch.minutes))
        .collect();
    // 30 s to set a punch up and 17 x 15 s; 15 s to fetch scissors and 17 x 15 s.
    let punch = (Some(ToolKind::ShapePunch), 5);
    assert_eq!(minutes, [punch, punch, (Some(ToolKind::Scissors), 5)]);
}

#[test]
fn adhesive_is_that_of_every_kit() {
    let (few, many) = (packet(&class(1), &plan_now), packet(&class(9), &plan_now));
    let (few, many) = (few.expect("balances"), many.expect("balances"));
    // 3 spares each: 4 kits and 12.
    assert!((few.tape_mm * 3.0 - many.tape_mm).abs() < 1e-6);
    assert!((few.glue_mm * 3.0 - many.glue_mm).abs() < 1e-6);
    // The box and its band take tape, the envelope's bottom flap glue.
    let line = |key| few.recipe.step(key).map(|step| step.operation.adhesive_mm);
    assert_eq!(line("p2.glue").map(|mm| mm * 4.0), Some(few.glue_mm));
    assert!(few.tape_mm > few.glue_mm && few.glue_mm > 0.0);
}
