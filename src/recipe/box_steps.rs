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
        "Lay the box sheet front down, an edge against the fence, the left corner at {first}. Punch, then score along the groove.",
    );
    draft.step(
        "sheet",
        &["cut"],
        both(step.with(ToolKind::PunchBoard))
            .set_at(&[first])
            .headed("first")
            .taking(60)
            .tip("Press the paper to the fence.")
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
    let lies = match made.width_mm() - made.length_mm() {
        wider if wider > 1e-6 => "a corner up and the middle rectangle lying wide",
        wider if wider < -1e-6 => "a corner up and the middle rectangle standing tall",
        _ => "a corner up",
    };
    let text = format!(
        "Lay the sheet with {lies}. At the top and at the bottom, cut from each of the 2 notches along the score to the first crossing: {{cuts}} cuts."
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
            .tip("Stop at the crossing. A cut that goes on weakens the corner.")
            .drawn(StepPicture::FreeTabs),
    );
    trim(draft, made);
    if made.tip_radius_mm() > 0.0 {
        let step = Operation::new(
            Verb::Round,
            "round".into(),
            "Round the 2 end tips",
            "Round the tip of both end flaps, so that they do not catch.",
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

/// Less than 1/32 in is within what hands cut: no step of its own, a tip where it shows.
const HAIR_MM: f64 = 0.8;

fn trim(draft: &mut Draft, made: &PunchBox) {
    let places = [
        (
            "side",
            made.trim_mm(),
            made.width_mm(),
            "the tips of both side flaps",
        ),
        (
            "end",
            made.end_flap_trim_mm(),
            made.length_mm(),
            "the tips of both end flaps",
        ),
        (
            "tab",
            made.tab_trim_mm(),
            made.tab_reach_mm(),
            "the ends of the 4 tabs",
        ),
    ];
    trim_step(draft, "tabs", &places);
}

/// A place that is trimmed: key of the measure, what comes off and what stays (mm), in words.
pub(super) type Trimmed = (&'static str, f64, f64, &'static str);

/// One step for all that sticks out. What stays is measured from the score, because a point that
/// is cut off can't be measured.
pub(super) fn trim_step(draft: &mut Draft, after: &str, places: &[Trimmed]) {
    let long: Vec<&Trimmed> = places.iter().filter(|place| place.1 > HAIR_MM).collect();
    let Some(first) = long.first() else { return };
    let cuts: Vec<String> = long
        .iter()
        .map(|(key, .., what)| format!("Cut off {what} square, {{{key}}} from the score."))
        .collect();
    let title = if first.0 == "side" {
        "Trim the 2 side points"
    } else {
        "Trim what sticks out"
    };
    let step = Operation::new(Verb::Trim, "trim".into(), title, &cuts.join(" "))
        .with(ToolKind::Scissors)
        .headed(first.0)
        .measuring("off", Derived(first.1))
        .taking(45 * long.len() as u32)
        .tip("Untrimmed they stick out past the edge by {off}.")
        .drawn(StepPicture::Trim);
    let step = long.iter().fold(step, |step, place| {
        step.measuring(place.0, Derived(place.2))
    });
    draft.step("sheet", &[after], step);
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
    let text = format!("Slide the {} in.", spec.contents_name);
    put_in_so(draft, spec, after, &text);
}

/// The same in other words.
pub(super) fn put_in_so(draft: &mut Draft, spec: &PieceSpec, after: &str, text: &str) {
    let caution = spec
        .hazards
        .iter()
        .min()
        .map(|&hazard| super::caution::Caution::of_hazard(hazard));
    let step = Operation::new(
        Verb::PutIn,
        "put-in".into(),
        &format!("Put in the {}", spec.contents_name),
        text,
    );
    draft.step(
        "contents",
        &[after],
        step.taking(20).warned(caution).drawn(StepPicture::PutIn),
    );
}
