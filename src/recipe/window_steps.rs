//! Openings: a window in a lid with the square of film behind it, a slot or a hole in a roof.

use tablefold_geometry::{Length, Work};

use super::facts::ToolKind;
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::StepPicture;

use MeasureValue::{Derived, Exact};

/// What the film is called on lists, and in colourways, where it is chosen like a paper.
pub(super) const FILM: &str = "window film";
/// A strip of tape along each side of the film, mm wide (common practice, no source).
const TAPE_MM: f64 = 6.0;

/// The film as a part of the kit.
pub(super) fn film_part(side: Length) -> PartKind {
    PartKind::Cut {
        role: FILM.to_owned(),
        width: side,
        height: side,
    }
}

/// Cuts or punches an opening before anything is scored; `None` for other work.
pub(super) fn cut_out(work: &Work) -> Option<Operation> {
    let Work::CutOut {
        name,
        across,
        way,
        by_punch,
    } = work
    else {
        return None;
    };
    let (verb, tool, doing, text) = if *by_punch {
        let text = format!(
            "Lay the template on the sheet, edge on edge, and hold both still. Punch the {name} \
             through both, {{across}} {way}."
        );
        (Verb::Stamp, ToolKind::HolePunch, "Punch", text)
    } else {
        let text = format!(
            "Lay the sheet on a cutting mat and the template on it, and hold both still. Cut the \
             {name}, {{across}} {way}, with the point of the knife. Turn the sheet, not your hand."
        );
        (Verb::CutTo, ToolKind::CraftKnife, "Cut", text)
    };
    let title = format!("{doing} the {name}");
    let step = Operation::new(verb, "cut-out".into(), &title, &text)
        .with(tool)
        .in_prep()
        .set_at(&[*across])
        .measuring("across", Exact(*across))
        .headed("across");
    let seconds = if *by_punch { 40 } else { 150 };
    Some(step.taking(seconds).along_template())
}

/// Cuts the film.
pub(super) fn cut_film(part: &str, side: Length) -> Operation {
    let key = format!("{part}-cut");
    let text = "Cut a square of clear film of {side}.";
    Operation::new(Verb::CutToSize, key, "Cut the window film", text)
        .with(ToolKind::Trimmer)
        .in_prep()
        .set_at(&[side])
        .measuring("side", Exact(side))
        .headed("side")
        .taking(25)
        .tip("Hold it by its edges: fingers leave marks.")
        .drawn(StepPicture::Cut {
            width: side,
            height: side,
        })
}

/// Tapes the film over the window while the sheet still lies flat.
pub(super) fn tape(body: &str, across: Length, side: Length) -> Operation {
    let beyond = (side - across).mm() / 2.0;
    let text = "Put tape along the 4 sides of the film. Lay it over the window, on the side that \
                ends up inside, so that it lies {beyond} on the paper all round, and press.";
    let title = format!("Tape film behind the {body}'s window");
    Operation::new(Verb::Glue, "film".into(), &title, text)
        .with(ToolKind::Tape)
        .measuring("beyond", Derived(beyond))
        .headed("beyond")
        .taking(60)
        .sticking(4.0 * (side.mm() - TAPE_MM))
        .tip("Touch the film at its edges only: fingers leave marks.")
}
