//! How a punch-board box is made, in the order of the hands.

use tablefold_geometry::{Length, Pattern, PunchBox, PunchBoxSettings};

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
    fold_and_glue(draft, made, pattern, spec);
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
    for side in 2..=4u8 {
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
            both(step.with(ToolKind::PunchBoard))
                .set_at(&[first, second])
                .taking(75)
                .tip(tip)
                .drawn(StepPicture::Punch { side, punch: None }),
        );
    }
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

fn fold_and_glue(draft: &mut Draft, made: &PunchBox, pattern: &Pattern, spec: &PieceSpec) {
    let step = Operation::new(
        Verb::Burnish,
        "burnish".into(),
        "Fold and press all scores",
        "Fold each score towards you and press it with the bone folder. Open it flat again.",
    );
    draft.step(
        "sheet",
        &["tabs", "trim", "round"],
        step.with(ToolKind::BoneFolder)
            .taking(120)
            .tip("Front of the paper down: the side you see ends up inside.")
            .drawn(StepPicture::Burnish),
    );
    let step = Operation::new(
        Verb::Fold,
        "walls".into(),
        "Stand both sides up",
        "Fold both side walls up until they stand straight.",
    );
    draft.step(
        "sheet",
        &["burnish"],
        step.taking(30).drawn(StepPicture::Folds {
            from: "both side walls",
            to: "both side walls",
        }),
    );
    let glue = |verb_key: &str, title: &str, text: &str, fold: &'static str, seconds: u32| {
        Operation::new(Verb::Glue, verb_key.into(), title, text)
            .with(ToolKind::Tape)
            .taking(seconds)
            .sticking(tape_mm(pattern, fold))
            .drawn(StepPicture::Glue { fold })
    };
    draft.step(
        "sheet",
        &["walls"],
        glue(
            "back",
            "Tape the back",
            "Fold the inner side flap over. Put tape on the outer side flap where it is hatched, fold it over and press it onto the inner one.",
            "outer side flap",
            60,
        )
        .measuring("overlap", Derived(made.back_overlap_mm()))
        .tip("Line up the edges before you press: the box is square when they meet."),
    );
    let order = if made.tabs_overlap() {
        ", the left one first"
    } else {
        ""
    };
    // A left tab that hardly shows is taped to the right one.
    let taped = tape_mm(pattern, "bottom right tab") > 0.0;
    let tabs_in = if taped {
        String::new()
    } else {
        format!("Fold the 2 bottom tabs in{order}. ")
    };
    if taped {
        draft.step(
            "sheet",
            &["back"],
            glue(
                "bottom-tabs",
                "Tape the bottom tabs",
                "Fold the left bottom tab in and put tape on it where it is hatched. Fold the right one over it and press.",
                "bottom right tab",
                45,
            ),
        );
    }
    draft.step(
        "sheet",
        &["back", "bottom-tabs"],
        glue(
            "bottom",
            "Close the bottom end",
            &format!("{tabs_in}Put tape where it is hatched, fold the bottom end wall up and press it on."),
            "bottom end wall",
            75,
        )
        .tip(if made.tab_trim_mm() > 0.0 { "If a tab catches, shave a hair off its end." } else { "" }),
    );
    draft.step(
        "sheet",
        &["bottom"],
        glue(
            "bottom-flap",
            "Tape the bottom flap",
            "Put tape on the bottom end flap where it is hatched. Fold it over the back and press.",
            "bottom end flap",
            45,
        ),
    );
    put_in(draft, spec, "bottom-flap");
    let hold = if spec.band.is_some() {
        " The band will hold it."
    } else {
        " Hold it with a sticker or a dot of glue."
    };
    let step = Operation::new(
        Verb::Fold,
        "close".into(),
        "Close the top",
        &format!(
            "Fold the 2 top tabs in{order}. Fold the top end wall over them, and its flap down over the back.{hold}"
        ),
    );
    draft.step(
        "sheet",
        &["put-in"],
        step.taking(30).drawn(StepPicture::Close),
    );
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
