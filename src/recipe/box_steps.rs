//! How the sheet of a punch-board box is cut, punched and trimmed, in the order of the hands.

use tablefold_geometry::{Length, Pattern, PunchBox, PunchBoxSettings};

use super::box_folds;
use super::draft::Draft;
use super::facts::{PieceSpec, ToolKind};
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::StepPicture;
use super::trimmings::{LINE, TAPE};

use MeasureValue::{Count, Derived, Exact};

/// Parts and operations of a box. Times are starting estimates.
pub(super) fn write(draft: &mut Draft, spec: &PieceSpec, made: &PunchBox, pattern: &Pattern) {
    let settings = &made.settings();
    let sheet = settings.sheet;
    draft.part(
        "sheet",
        "box sheet",
        PartKind::Cut {
            role: spec.role.clone(),
            width: sheet,
            height: sheet,
        },
        1,
    );
    cut(draft, sheet);
    punch(draft, settings);
    shape(draft, made);
    box_folds::write(draft, made, pattern, spec);
}

pub(super) fn cut(draft: &mut Draft, side: Length) {
    let step = Operation::new(
        Verb::CutToSize,
        "cut".into(),
        "Cut the square",
        "Set the fence to {side}. Cut, turn the paper a quarter, cut again: a square of {side}.",
    );
    draft.step(
        "sheet",
        &[],
        step.with(ToolKind::Trimmer)
            .in_prep()
            .set_at(&[side])
            .measuring("side", Exact(side))
            .headed("side")
            .taking(40)
            .tip("Check the first one: both diagonals are equal when it is square.")
            .drawn(StepPicture::Cut {
                width: side,
                height: side,
            }),
    );
}

fn punch(draft: &mut Draft, settings: &PunchBoxSettings) {
    let (first, second) = (settings.punch_1, settings.punch_2);
    let both = |step: Operation| {
        step.measuring("first", Exact(first))
            .measuring("second", Exact(second))
    };
    let step = Operation::new(
        Verb::PunchAt,
        "punch-1".into(),
        "Punch and score side 1",
        "Lay an edge against the fence with the left corner at {first}. Punch, then score along the groove.",
    );
    draft.step(
        "sheet",
        &["cut"],
        both(step.with(ToolKind::PunchBoard))
            .set_at(&[first])
            .headed("first")
            .taking(60)
            .tip("Press the paper to the fence with one hand and score with the other.")
            .drawn(StepPicture::Punch {
                side: 1,
                punch: Some(0),
            }),
    );
    let step = Operation::new(
        Verb::PunchAt,
        "punch-2".into(),
        "Punch side 1 again",
        "Slide the same edge along until the corner is at {second}. Punch and score.",
    );
    draft.step(
        "sheet",
        &["punch-1"],
        both(step.with(ToolKind::PunchBoard))
            .set_at(&[second])
            .headed("second")
            .taking(45)
            .drawn(StepPicture::Punch {
                side: 1,
                punch: Some(1),
            }),
    );
    for side in 2..=4 {
        turn(draft, side, [first, second]);
    }
}

fn turn(draft: &mut Draft, side: u8, [first, second]: [Length; 2]) {
    let text = "Turn the paper a quarter to the left. Lay the first score you made on the guide, punch and score. Then lay the other score on the guide, punch and score.";
    let step = Operation::new(
        Verb::TurnAndPunch,
        format!("side-{side}"),
        &format!("Turn, punch side {side}"),
        text,
    );
    let before = if side == 2 {
        "punch-2".to_owned()
    } else {
        format!("side-{}", side - 1)
    };
    let tip = if side == 4 {
        "All 8 notches are there now, 2 on each side."
    } else {
        "No measuring now: the guide finds the place."
    };
    draft.step(
        "sheet",
        &[&before],
        step.with(ToolKind::PunchBoard)
            .set_at(&[first, second])
            .measuring("first", Exact(first))
            .measuring("second", Exact(second))
            .taking(75)
            .tip(tip)
            .drawn(StepPicture::Punch { side, punch: None }),
    );
}

fn shape(draft: &mut Draft, made: &PunchBox) {
    // The tabs lie beside the ends, and the ends are as wide as the front.
    let beside = match made.width_mm() - made.length_mm() {
        wider if wider > 1e-6 => "the long side",
        wider if wider < -1e-6 => "the short side",
        _ => "2 opposite sides of the front",
    };
    let text = format!(
        "Cut from each notch beside {beside} up to the first score you meet: {{cuts}} cuts. Stop at the score."
    );
    let step = Operation::new(
        Verb::CutTo,
        "tabs".into(),
        "Cut 4 times, free the tabs",
        &text,
    );
    draft.step(
        "sheet",
        &["side-4"],
        step.with(ToolKind::Scissors)
            .measuring("cuts", Count(4))
            .measuring("length", Derived(made.depth_mm()))
            .taking(90)
            .tip("Cut a hair beside the score and the tab lies flat later.")
            .drawn(StepPicture::FreeTabs),
    );
    trim(draft, made);
    if made.tip_radius_mm() > 0.0 {
        let step = Operation::new(
            Verb::Round,
            "round".into(),
            "Round the 2 end tips",
            "Round the tip of both end flaps, so that they tuck without catching.",
        );
        draft.step(
            "sheet",
            &["tabs", "trim"],
            step.with(ToolKind::Scissors)
                .taking(45)
                .drawn(StepPicture::Round),
        );
    }
}

/// One step for all that sticks out: the two long points, and on odd shapes ends and tabs too.
fn trim(draft: &mut Draft, made: &PunchBox) {
    let places = [
        (
            "trim",
            made.trim_mm(),
            "{trim} off the tip of both side flaps",
        ),
        (
            "end",
            made.end_flap_trim_mm(),
            "{end} off the tip of both end flaps",
        ),
        (
            "tab",
            made.tab_trim_mm(),
            "{tab} off the end of each of the 4 tabs",
        ),
    ];
    let long: Vec<_> = places.into_iter().filter(|place| place.1 > 0.0).collect();
    let Some(first) = long.first() else { return };
    let list: Vec<&str> = long.iter().map(|place| place.2).collect();
    let text = format!(
        "Cut {}, square across: there they would stick out.",
        list.join(", and ")
    );
    let title = if first.0 == "trim" {
        "Trim the 2 side points"
    } else {
        "Trim what sticks out"
    };
    let step = Operation::new(Verb::Trim, "trim".into(), title, &text)
        .with(ToolKind::Scissors)
        .headed(first.0)
        .taking(45 * long.len() as u32)
        .tip("Fold one flap over first and mark where the edge is.")
        .drawn(StepPicture::Trim);
    let step = long.iter().fold(step, |step, place| {
        step.measuring(place.0, Derived(place.1))
    });
    draft.step("sheet", &["tabs"], step);
}

/// Tape for everything that one fold presses together, mm.
pub(super) fn tape_mm(pattern: &Pattern, fold: &str) -> f64 {
    let zones = pattern.glue.iter().filter(|zone| {
        pattern
            .folds
            .get(zone.with_fold)
            .is_some_and(|step| step.name == fold)
    });
    // A zone too narrow for tape takes a line of glue along its longest side.
    zones
        .map(|zone| {
            let demand = TAPE.demand(&zone.area).or_else(|_| LINE.demand(&zone.area));
            demand.map_or(0.0, |demand| demand.tape_mm)
        })
        .sum()
}

/// The contents go in, with the caution that they ask for.
pub(super) fn put_in(draft: &mut Draft, spec: &PieceSpec, after: &str) {
    let caution = spec
        .hazards
        .iter()
        .min()
        .map(|&hazard| super::caution::Caution::of_hazard(hazard));
    let step = Operation::new(
        Verb::PutIn,
        "put-in".into(),
        &format!("Put in the {}", spec.contents_name),
        &format!("Slide the {} in.", spec.contents_name),
    );
    draft.step(
        "contents",
        &[after],
        step.taking(20).warned(caution).drawn(StepPicture::PutIn),
    );
}
