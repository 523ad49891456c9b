//! How a punch-board box is made, in the order of the hands.

use tablefold_geometry::{Length, PunchBox, PunchBoxSettings};

use super::draft::Draft;
use super::facts::{PieceSpec, ToolKind};
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::StepPicture;

use MeasureValue::{Count, Derived, Exact};

/// Parts and operations of a box. Times are starting estimates.
pub(super) fn write(draft: &mut Draft, spec: &PieceSpec, made: &PunchBox, settings: &PunchBoxSettings) {
    let sheet = settings.sheet;
    draft.part("sheet", "box sheet", PartKind::Cut { role: spec.role.clone(), width: sheet, height: sheet }, 1);
    cut(draft, sheet);
    punch(draft, settings);
    shape(draft, made);
    fold_and_glue(draft, made, spec);
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
            .drawn(StepPicture::Cut { width: side, height: side }),
    );
}

fn punch(draft: &mut Draft, settings: &PunchBoxSettings) {
    let (first, second) = (settings.punch_1, settings.punch_2);
    let both = |step: Operation| step.measuring("first", Exact(first)).measuring("second", Exact(second));
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
            .drawn(StepPicture::Punch { side: 1, punch: Some(0) }),
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
            .drawn(StepPicture::Punch { side: 1, punch: Some(1) }),
    );
    for side in 2..=4u8 {
        let text = "Turn the paper a quarter to the left. Lay the first score you made on the guide, punch and score. Then lay the other score on the guide, punch and score.";
        let step = Operation::new(
            Verb::TurnAndPunch,
            format!("side-{side}"),
            &format!("Turn, punch side {side}"),
            text,
        );
        let before = if side == 2 { "punch-2".to_owned() } else { format!("side-{}", side - 1) };
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
    let step = Operation::new(
        Verb::CutTo,
        "tabs".into(),
        "Cut 4 times, free the tabs",
        "Cut from each notch beside the short side up to the first score you meet: {cuts} cuts. Stop at the score.",
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
    if made.trim_mm() > 0.0 {
        let step = Operation::new(
            Verb::Trim,
            "trim".into(),
            "Trim the 2 long points",
            "Cut {trim} off the tip of each of the 2 long flaps, square across: there they would stick out past the edge.",
        );
        draft.step(
            "sheet",
            &["side-4"],
            step.with(ToolKind::Scissors)
                .measuring("trim", Derived(made.trim_mm()))
                .headed("trim")
                .taking(45)
                .tip("Fold one flap over first and mark where the edge is.")
                .drawn(StepPicture::Trim),
        );
    }
    let step = Operation::new(
        Verb::Round,
        "round".into(),
        "Round the 2 end tips",
        "Round the tip of both end flaps, so that they tuck without catching.",
    );
    draft.step(
        "sheet",
        &["side-4"],
        step.with(ToolKind::Scissors).taking(45).drawn(StepPicture::Round),
    );
}

fn fold_and_glue(draft: &mut Draft, made: &PunchBox, spec: &PieceSpec) {
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
        Verb::Glue,
        "back".into(),
        "Tape the back",
        "Stand both side walls up. Fold the left long flap over, put tape on it, and press the right one on top.",
    );
    draft.step(
        "sheet",
        &["burnish"],
        step.with(ToolKind::Tape)
            .measuring("overlap", Derived(made.back_overlap_mm()))
            .taking(90)
            .tip("Line up the edges before you press: the box is square when they meet.")
            .sticking(made.back_overlap_mm().max(made.length_mm() / 2.0))
            .drawn(StepPicture::Folds { from: 0, to: 3 }),
    );
    let step = Operation::new(
        Verb::Glue,
        "bottom".into(),
        "Close the bottom",
        "Fold the 2 bottom tabs in and put tape on them. Fold the bottom up onto them and tape its flap to the back.",
    );
    draft.step(
        "sheet",
        &["back"],
        step.with(ToolKind::Tape)
            .taking(120)
            .sticking(2.0 * made.depth_mm() + made.width_mm() / 2.0)
            .drawn(StepPicture::Folds { from: 3, to: 6 }),
    );
    put_in(draft, spec, "bottom");
    let step = Operation::new(
        Verb::Fold,
        "close".into(),
        "Close the top",
        "Fold the 2 top tabs in, the top over them, and its rounded flap down over the back.",
    );
    draft.step("sheet", &["put-in"], step.taking(30).drawn(StepPicture::Folds { from: 6, to: usize::MAX }));
}

/// The contents go in, with the caution that they ask for.
pub(super) fn put_in(draft: &mut Draft, spec: &PieceSpec, after: &str) {
    let caution = spec.hazards.iter().min().map(|&hazard| super::caution::Caution::of_hazard(hazard));
    let step = Operation::new(
        Verb::PutIn,
        "put-in".into(),
        &format!("Put in the {}", spec.contents_name),
        &format!("Slide the {} in.", spec.contents_name),
    );
    draft.step("contents", &[after], step.taking(20).warned(caution).drawn(StepPicture::PutIn));
}
