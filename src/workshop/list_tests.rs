//! The lists of a packet against counts done by hand.

use tablefold_geometry::Length;

use super::*;
use crate::demo::class;
use crate::recipe::{Caution, Hazard, Phase, StepEdit, ToolKind};

fn made(class: &ClassFacts) -> Packet {
    packet(class, &plan_now).expect("balances")
}

/// Box: punching 330 s, tabs 90, rounding 45, pressing 120, walls 30, taping 60 + 75 + 45, tin 20,
/// closing 30, band 60 + 20 + 75, tag 45 + 30, bow 90. Envelope: punching 195, pressing 60,
/// sides 20, gluing 60, packet 20, closing 20. In all 1540 s.
#[test]
fn class_minutes_are_those_of_the_class_steps_that_are_shown() {
    let mut class = class(14);
    assert_eq!(made(&class).class_minutes, 26);
    class.project.edits = vec![StepEdit {
        key: "p1.burnish".to_owned(),
        hidden: true,
        ..StepEdit::default()
    }];
    assert_eq!(made(&class).class_minutes, 24);
}

#[test]
fn the_host_is_told_of_every_hazard() {
    let mut class = class(3);
    class.project.pieces[0].spec.hazards = vec![Hazard::Food, Hazard::Flame];
    let cautions = made(&class).cautions;
    for caution in [
        Caution::Flame,
        Caution::Food,
        Caution::SmallParts,
        Caution::Trimmer,
    ] {
        assert!(cautions.contains(&caution), "{caution:?}");
    }
}

#[test]
fn tools_on_the_tables_are_those_of_class_steps() {
    let tools = made(&class(14)).tools;
    let listed: Vec<(ToolKind, u32, usize)> = tools
        .iter()
        .map(|tool| (tool.kind, tool.count, tool.steps))
        .collect();
    assert_eq!(
        listed,
        [
            (ToolKind::PunchBoard, 2, 5 + 4),
            (ToolKind::ScoreBoard, 2, 1),
            (ToolKind::Scissors, 1, 2),
            (ToolKind::BoneFolder, 6, 2),
            (ToolKind::HolePunch, 2, 1),
            (ToolKind::Tape, 5, 4),
            (ToolKind::Glue, 4, 3),
        ]
    );
}

/// 17 bows of 8 in are 3454.4 mm; 2 m are there and hold 9 of them whole: a bow is not joined.
#[test]
fn only_the_ribbon_that_is_missing_is_bought() {
    let ribbon = &made(&class(14)).pull.ribbons[0];
    assert_eq!(ribbon.total(), Length::inches(17 * 8));
    assert_eq!(ribbon.buy(), Length::inches(8 * 8));
    let few = &made(&class(1)).pull.ribbons[0];
    assert_eq!(few.buy(), Length::ZERO, "4 bows are less than 2 m");
}

#[test]
fn a_print_with_an_up_is_never_turned() {
    let made = made(&class(14));
    let mut one_way = 0;
    for paper in &made.pull.papers {
        for demand in &paper.demands {
            assert_eq!(
                demand.turnable,
                paper.sizes[0].paper.turnable(),
                "{}",
                demand.name
            );
        }
        if !paper.sizes[0].paper.turnable() {
            one_way += 1;
            let placed = paper.plan().sheets.iter().flat_map(|sheets| &sheets.placed);
            assert!(placed.clone().all(|part| !part.turned), "{}", paper.name);
        }
    }
    assert_eq!(one_way, 2);
}

/// Everything but the cutting of sheets, done beforehand: walls by hand, then tape, then by hand
/// again is three batches, not two.
#[test]
fn a_batch_never_holds_a_step_that_waits_for_a_later_batch() {
    let mut class = class(5);
    let recipe = made(&class).recipe;
    let in_prep = |key: &String| StepEdit {
        key: key.clone(),
        phase: Some(Phase::Prep),
        ..StepEdit::default()
    };
    let keys = recipe.steps.iter().map(|step| &step.operation.key);
    class.project.edits = keys.map(in_prep).collect();
    let made = made(&class);
    let rows = made.prep.batches.iter().flat_map(|batch| &batch.rows);
    let order: Vec<usize> = rows.map(|row| row.step).collect();
    let cuts = made
        .recipe
        .steps
        .iter()
        .filter(|s| s.operation.key.ends_with("cut"));
    assert_eq!(
        order.len(),
        made.recipe.steps.len() - (cuts.count() - 1),
        "ribbon is in a batch"
    );
    let place = |key: &str| {
        let step = |&i: &usize| made.recipe.steps[i].operation.key == key;
        order.iter().position(step)
    };
    for (at, &step) in order.iter().enumerate() {
        for before in &made.recipe.steps[step].operation.after {
            assert!(place(before) < Some(at), "{before} comes too late");
        }
    }
}
