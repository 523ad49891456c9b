//! How a punched box is folded, taped, filled and closed, in the order of the hands.

use tablefold_geometry::{Pattern, PunchBox};

use super::box_steps::{put_in, tape_mm};
use super::draft::Draft;
use super::facts::{PieceSpec, ToolKind};
use super::operation::{MeasureValue, Operation, Verb};
use super::step_picture::StepPicture;
use super::work_words::INSIDE;

use MeasureValue::Derived;

/// From the flat sheet to the closed box. Times are starting estimates.
pub(super) fn write(draft: &mut Draft, made: &PunchBox, pattern: &Pattern, spec: &PieceSpec) {
    let order = if made.tabs_overlap() {
        ", the left one first"
    } else {
        ""
    };
    press(draft);
    tape_back(draft, made, pattern);
    tape_bottom(draft, made, pattern, order);
    put_in(draft, spec, "bottom-flap");
    close(draft, order, spec);
}

fn press(draft: &mut Draft) {
    let step = Operation::new(
        Verb::Burnish,
        "burnish".into(),
        "Fold and press all scores",
        "Lay it front down. Fold each score towards you and press it. Open it flat again.",
    );
    draft.step(
        "sheet",
        &["tabs", "trim", "round"],
        step.with(ToolKind::BoneFolder)
            .taking(120)
            .tip(INSIDE)
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
}

/// Tape on everything that one fold presses together.
fn glue(
    pattern: &Pattern,
    key: &str,
    title: &str,
    text: &str,
    fold: &'static str,
    seconds: u32,
) -> Operation {
    Operation::new(Verb::Glue, key.into(), title, text)
        .with(ToolKind::Tape)
        .taking(seconds)
        .sticking(tape_mm(pattern, fold))
        .drawn(StepPicture::Glue { fold })
}

fn tape_back(draft: &mut Draft, made: &PunchBox, pattern: &Pattern) {
    let text = "Fold the inner side flap over. Put tape on the outer side flap where it is hatched, fold it over and press it onto the inner one.";
    let step = glue(
        pattern,
        "back",
        "Tape the back",
        text,
        "outer side flap",
        60,
    );
    draft.step(
        "sheet",
        &["walls"],
        step.measuring("overlap", Derived(made.back_overlap_mm()))
            .tip("Line up the edges before you press: the box is square when they meet."),
    );
}

fn tape_bottom(draft: &mut Draft, made: &PunchBox, pattern: &Pattern, order: &str) {
    // A left tab that hardly shows is taped to the right one.
    let tabs_apart = tape_mm(pattern, "bottom right tab") > 0.0;
    if tabs_apart {
        let text = "Fold the left bottom tab in and put tape on it where it is hatched. Fold the right one over it and press.";
        let fold = "bottom right tab";
        let step = glue(
            pattern,
            "bottom-tabs",
            "Tape the bottom tabs",
            text,
            fold,
            45,
        );
        draft.step("sheet", &["back"], step);
    }
    let tabs_in = if tabs_apart {
        String::new()
    } else {
        format!("Fold the 2 bottom tabs in{order}. ")
    };
    let text = format!(
        "{tabs_in}Put tape where it is hatched, fold the bottom end wall up and press it on."
    );
    let tip = if made.tab_trim_mm() > 0.0 {
        "If a tab catches, shave a hair off its end."
    } else {
        ""
    };
    let fold = "bottom end wall";
    let step = glue(pattern, "bottom", "Close the bottom end", &text, fold, 75);
    draft.step("sheet", &["back", "bottom-tabs"], step.tip(tip));
    draft.step(
        "sheet",
        &["bottom"],
        glue(
            pattern,
            "bottom-flap",
            "Tape the bottom flap",
            "Put tape on the bottom end flap where it is hatched. Fold it over the back and press.",
            "bottom end flap",
            45,
        ),
    );
}

fn close(draft: &mut Draft, order: &str, spec: &PieceSpec) {
    let hold = if spec.band.is_some() {
        "The band will hold it."
    } else {
        "Hold it with a sticker or a dot of glue."
    };
    let step = Operation::new(
        Verb::Fold,
        "close".into(),
        "Close the top",
        &format!(
            "Fold the 2 top tabs in{order}. Fold the top end wall over them, and its flap down over the back. {hold}"
        ),
    );
    draft.step(
        "sheet",
        &["put-in"],
        step.taking(30).drawn(StepPicture::Close),
    );
}
