//! How a punch-board envelope is made, in the order of the hands.

use tablefold_geometry::{Pattern, PunchEnvelope, PunchEnvelopeSettings};

use super::box_steps::{cut, put_in, tape_mm, trim_step};
use super::draft::Draft;
use super::facts::{PieceSpec, ToolKind};
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::StepPicture;
use super::work_words::INSIDE;

use MeasureValue::Exact;

/// Parts and operations of an envelope. Times are starting estimates.
pub(super) fn write(draft: &mut Draft, spec: &PieceSpec, made: &PunchEnvelope, pattern: &Pattern) {
    let settings = &made.settings();
    let sheet = settings.sheet;
    let kind = PartKind::Cut {
        role: spec.role.clone(),
        width: sheet,
        height: sheet,
    };
    draft.part("sheet", "envelope sheet", kind, 1);
    cut(draft, sheet);
    punch(draft, settings);
    trim(draft, made);
    fold_and_glue(draft, pattern, spec);
}

/// Side flaps that reach past the edge; on tiny envelopes the bottom and top flaps do so too.
fn trim(draft: &mut Draft, made: &PunchEnvelope) {
    let (width, height) = (made.width_mm(), made.height_mm());
    let places = [
        (
            "side",
            made.trim_mm(),
            width.min(height),
            "the tips of both side flaps",
        ),
        (
            "end",
            made.end_flap_trim_mm(),
            width.max(height),
            "the tips of the bottom and top flaps",
        ),
    ];
    trim_step(draft, "side-4", &places);
}

fn punch(draft: &mut Draft, settings: &PunchEnvelopeSettings) {
    let step = Operation::new(
        Verb::PunchAt,
        "punch-1".into(),
        "Punch and score side 1",
        "Lay the envelope sheet front down, an edge against the fence, the left corner at {first}. Punch, then score along the groove.",
    );
    draft.step(
        "sheet",
        &["cut"],
        step.with(ToolKind::PunchBoard)
            .set_at(&[settings.punch])
            .measuring("first", Exact(settings.punch))
            .headed("first")
            .taking(60)
            .tip("Press the paper to the fence.")
            .drawn(StepPicture::Punch {
                side: 1,
                punch: Some(0),
            }),
    );
    for side in 2..=4u8 {
        let step = Operation::new(
            Verb::TurnAndPunch,
            format!("side-{side}"),
            &format!("Turn, punch side {side}"),
            "Turn the paper a quarter to the left. Lay the score you just made on the guide. Punch and score.",
        );
        let before = if side == 2 {
            "punch-1".to_owned()
        } else {
            format!("side-{}", side - 1)
        };
        draft.step(
            "sheet",
            &[&before],
            step.with(ToolKind::PunchBoard)
                .set_at(&[settings.punch])
                .measuring("first", Exact(settings.punch))
                .taking(45)
                .drawn(StepPicture::Punch { side, punch: None }),
        );
    }
}

fn fold_and_glue(draft: &mut Draft, pattern: &Pattern, spec: &PieceSpec) {
    let step = Operation::new(
        Verb::Burnish,
        "burnish".into(),
        "Fold and press all scores",
        "Lay it front down. Fold each of the 4 scores towards you and press it. Open it flat again.",
    );
    draft.step(
        "sheet",
        &["side-4", "trim"],
        step.with(ToolKind::BoneFolder)
            .taking(60)
            .tip(INSIDE)
            .drawn(StepPicture::Burnish),
    );
    let step = Operation::new(
        Verb::Fold,
        "sides".into(),
        "Fold the 2 side flaps in",
        "Fold the flaps on the 2 long sides in, one over the other.",
    );
    draft.step(
        "sheet",
        &["burnish"],
        step.taking(20).drawn(StepPicture::Folds {
            from: "inner side flap",
            to: "outer side flap",
        }),
    );
    let step = Operation::new(
        Verb::Glue,
        "glue".into(),
        "Glue the bottom flap",
        "Put a line of glue on the bottom flap where it is hatched. Fold it up and press it onto the side flaps.",
    );
    draft.step(
        "sheet",
        &["sides"],
        step.with(ToolKind::Glue)
            .taking(60)
            .tip("A thin line, just inside the edge: more glue sticks the envelope to itself inside.")
            .sticking(tape_mm(pattern, "bottom flap"))
            .drawn(StepPicture::Glue { fold: "bottom flap" }),
    );
    put_in(draft, spec, "glue");
    let step = Operation::new(
        Verb::Fold,
        "close".into(),
        "Close the top flap",
        "Fold the top flap down. Hold it with a sticker or a dot of glue.",
    );
    draft.step(
        "sheet",
        &["put-in"],
        step.taking(20).drawn(StepPicture::Close),
    );
}
