//! The default wording of work on a body, and the glue that it takes.

use std::cmp::Ordering;
use std::fmt::Write as _;

use tablefold_geometry::{Body, Edge, GlueZone, Pattern, Serves, Side, Solid, WasteReason, Work};

use super::facts::ToolKind;
use super::operation::{MeasureValue, Operation, Verb};
use super::step_picture::{BodyNow, StepPicture};
use super::trimmings::{LINE, TAPE};
use super::wording::capital;

/// Which side a sheet shows while it is worked on.
pub(super) const INSIDE: &str = "The side you see ends up inside.";

/// "Lay the base sheet front down, a short edge against the fence at 0, and score at {at}." A
/// sheet without a mark has no left and no top, so each edge is told from the one before: `before`
/// is the work so far.
pub(super) fn score_text(body: &Body, before: &[Work], from: &[Edge], part: &str) -> String {
    let Some(first) = from.first() else {
        return String::new();
    };
    let mut text = match before.last().and_then(last_at_fence) {
        None => format!("{} and score at {{at}}.", laid(body, before, *first)),
        Some(edge) if edge == *first => {
            "Keep the same edge against the fence and score at {at}.".to_owned()
        }
        Some(edge) => format!("Turn the sheet {} and score at {{at}}.", turn(edge, *first)),
    };
    if *from == Edge::ALL {
        text.push_str(
            " Turn it a quarter to the left and score again, until all 4 edges are done.",
        );
    } else {
        for pair in from.windows(2) {
            if let [one, next] = pair {
                let _ = write!(text, " Turn it {} and score again.", turn(*one, *next));
            }
        }
    }
    if !part.is_empty() {
        let _ = write!(text, " Score {part}.");
    }
    text
}

fn last_at_fence(work: &Work) -> Option<Edge> {
    match work {
        Work::Score { from, .. } | Work::ScorePart { from, .. } => from.last().copied(),
        _ => None,
    }
}

/// How a sheet comes to lie on the score board. One that is worked on already lies as drawn.
fn laid(body: &Body, before: &[Work], edge: Edge) -> String {
    let name = body.name;
    if !before.is_empty() {
        return format!(
            "Lay the {name} sheet front down as in the picture, an edge against the fence at 0,"
        );
    }
    let (width, height) = body.blank;
    let (long, other) = match edge {
        Edge::Left | Edge::Right => (height, width),
        Edge::Top | Edge::Bottom => (width, height),
    };
    let which = match long.cmp(&other) {
        Ordering::Less => "a short edge",
        Ordering::Equal => "an edge",
        Ordering::Greater => "a long edge",
    };
    format!("Lay the {name} sheet front down, {which} against the fence at 0,")
}

/// How a sheet is turned for another edge to come where this one is.
pub(super) fn turn(from: Edge, to: Edge) -> &'static str {
    let place = |edge| Edge::ALL.iter().position(|it| *it == edge).unwrap_or(0);
    match (place(to) + 4 - place(from)) % 4 {
        1 => "a quarter to the left",
        2 => "half round",
        _ => "a quarter to the right",
    }
}

/// A step on the sheet while it lies flat; `None` for work that is written elsewhere.
pub(super) fn flat_step(
    work: &Work,
    body: &Body,
    drawn: impl Fn(BodyNow) -> StepPicture,
) -> Option<Operation> {
    let name = body.name;
    let step = |verb, key: &str, title: String, text: String| {
        Operation::new(verb, key.to_owned(), &title, &text)
    };
    Some(match work {
        Work::CutSlits { what } => {
            let title = format!("Cut the slits in the {name}");
            step(Verb::CutTo, "slits", title, format!("Cut {what}."))
                .with(ToolKind::Scissors)
                .taking(90)
                .tip("Stop at the crossing. A cut that goes on weakens the corner.")
                .drawn(drawn(BodyNow::Slits))
        }
        Work::CutAway { why, what } => {
            let title = match why {
                WasteReason::Notch => format!("Cut the notch of the {name}"),
                WasteReason::Shape => format!("Cut the {name} to shape"),
                WasteReason::Trim | WasteReason::Rounded => format!("Trim the {name}"),
                WasteReason::Window => format!("Cut out the opening of the {name}"),
            };
            let step = step(Verb::Trim, "trim", title, format!("Cut away {what}."))
                .with(ToolKind::Scissors)
                .taking(60)
                .drawn(drawn(BodyNow::TakeOff(*why)));
            if what.contains("template") {
                step.along_template()
            } else {
                step
            }
        }
        Work::TrimTo { what, stays_mm } => {
            let text = format!("Cut off {what} square, {{stays}} from the score they hang on.");
            step(Verb::Trim, "trim", format!("Trim the {name}"), text)
                .with(ToolKind::Scissors)
                .measuring("stays", MeasureValue::Derived(*stays_mm))
                .headed("stays")
                .taking(60)
                .tip("Untrimmed, they meet behind the wall that they are stuck to.")
                .drawn(drawn(BodyNow::TakeOff(WasteReason::Trim)))
        }
        Work::ByTemplate { what, cut } => {
            let mut in_class = body
                .work
                .iter()
                .filter(|it| !matches!(it, Work::CutOut { .. }));
            let is_first = in_class.next() == Some(work);
            by_template((name, is_first), (what, *cut), drawn)
        }
        Work::TurnOver => {
            let text = "Turn the sheet over like a page.".to_owned();
            step(Verb::Fold, "turn", format!("Turn the {name} over"), text)
                .taking(5)
                .drawn(drawn(BodyNow::TurnOver))
        }
        Work::Burnish => {
            let text = "Lay it front down. Fold each score and press it. Open it flat again.";
            step(
                Verb::Burnish,
                "burnish",
                format!("Press the scores of the {name}"),
                text.to_owned(),
            )
            .with(ToolKind::BoneFolder)
            .taking(90)
            .tip(INSIDE)
            .drawn(drawn(BodyNow::Burnish))
        }
        _ => return None,
    })
}

/// Work along a template, which is printed from the piece's pattern.
fn by_template(
    (name, is_first): (&str, bool),
    (what, cut): (&str, bool),
    drawn: impl Fn(BodyNow) -> StepPicture,
) -> Operation {
    let (verb, key, doing) = if cut {
        (Verb::CutTo, "template-cut", "Cut")
    } else {
        (Verb::ScoreAt, "template-score", "Score")
    };
    let title = format!("{doing} the {name} along the template");
    let lay = if is_first {
        format!("Lay the {name} sheet front down, the template on it, and hold both still.")
    } else {
        "Lay the template on the sheet and hold it still.".to_owned()
    };
    let text = format!("{lay} {doing} {what} along it.");
    let tool = if cut {
        ToolKind::Scissors
    } else {
        ToolKind::BoneFolder
    };
    Operation::new(verb, key.to_owned(), &title, &text)
        .with(tool)
        .taking(if cut { 150 } else { 120 })
        .along_template()
        .drawn(drawn(BodyNow::Template { cut }))
}

/// "Lid: fold both side walls up", short enough for a card: what is after a comma is for the text.
pub(super) fn fold_title(body: &Body, alone: bool, fold: usize) -> String {
    let name = body.pattern.folds.get(fold).map_or("", |step| step.name);
    let short = name.split(',').next().unwrap_or(name).trim();
    titled(body, alone, "fold", short)
}

/// "Lid: tape the 4 tabs".
pub(super) fn glue_title(body: &Body, alone: bool, zones: &[usize], tool: ToolKind) -> String {
    let verb = match tool {
        ToolKind::Tape => "tape",
        _ => "glue",
    };
    let first = zones.get(..1).unwrap_or_default();
    let named = [zones, first].map(|zones| panels_of(&body.pattern, zones, None).0);
    let fits = |what: &&String| words(&titled(body, alone, verb, what)) <= LONGEST;
    match named.iter().find(fits) {
        Some(what) => titled(body, alone, verb, what),
        None => format!("{} the {}", capital(verb), body.name),
    }
}

/// A title has at most so many words, to be read at a glance.
const LONGEST: usize = 7;

fn words(title: &str) -> usize {
    title.split(' ').count()
}

fn titled(body: &Body, alone: bool, verb: &str, what: &str) -> String {
    if alone {
        format!("{} {what}", capital(verb))
    } else {
        format!("{}: {verb} {what}", capital(body.name))
    }
}

/// Boxes are taped, as the punch-board box is; what lies flat takes a line of glue.
pub(super) fn tool_of_glue(serves: Serves) -> ToolKind {
    match serves {
        Serves::Solids => ToolKind::Tape,
        Serves::FlatThings | Serves::Cards => ToolKind::Glue,
    }
}

/// "the outside of the 4 tabs": where glue goes, side by side.
pub(super) fn where_glue_goes(pattern: &Pattern, zones: &[usize]) -> String {
    let sides = [(Side::Inside, "inside"), (Side::Outside, "outside")];
    let said = sides.map(|(side, name)| match panels_of(pattern, zones, Some(side)) {
        (_, 0) => None,
        (panels, _) => Some(format!("the {name} of {panels}")),
    });
    said.into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" and on ")
}

/// The panels that get glue, on one side or on any, and how many: "the glue flap", "both base
/// flaps", "the 4 tabs".
fn panels_of(pattern: &Pattern, zones: &[usize], side: Option<Side>) -> (String, usize) {
    let zones = zones.iter().filter_map(|zone| pattern.glue.get(*zone));
    let of_side = |zone: &&GlueZone| side.is_none_or(|side| zone.on_side == side);
    let mut names: Vec<&str> = Vec::new();
    for zone in zones.filter(of_side) {
        let name = pattern.panel(zone.on).map_or("paper", |panel| panel.name);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let said = match (names.as_slice(), common_end(&names)) {
        ([one], _) => format!("the {one}"),
        ([_, _], Some(common)) => format!("both {common}s"),
        (many, Some(common)) => format!("the {} {common}s", many.len()),
        (many, None) => {
            let listed = many.iter().map(|name| format!("the {name}"));
            listed.collect::<Vec<_>>().join(" and ")
        }
    };
    (said, names.len())
}

/// The last words that all names share: "base flap" of "left base flap" and "right base flap".
fn common_end(names: &[&str]) -> Option<String> {
    let (first, others) = names.split_first()?;
    let words: Vec<&str> = first.split(' ').collect();
    let end = |from: usize| words.get(from..).map(|words| words.join(" "));
    let shared = |end: &String| others.iter().all(|name| name.ends_with(&format!(" {end}")));
    (1..words.len()).filter_map(end).find(shared)
}

/// How contents come to be in a body: laid, put from above or slid in from an end.
pub(super) fn filling_verb(pattern: &Pattern) -> &'static str {
    match &pattern.solid {
        Solid::Flat { .. } => "Lay",
        Solid::Box { open, .. } if open.is_empty() => "Slide",
        Solid::Faces(faces) if faces.iter().all(|face| !face.open) => "Slide",
        Solid::Box { .. } | Solid::Faces(_) => "Put",
    }
}

/// Tape for these zones, mm: a zone too narrow for tape takes a line along its longest side.
pub(super) fn tape_mm(pattern: &Pattern, zones: &[usize]) -> f64 {
    let zones = zones.iter().filter_map(|zone| pattern.glue.get(*zone));
    zones
        .map(|zone| {
            let demand = TAPE.demand(&zone.area).or_else(|_| LINE.demand(&zone.area));
            demand.map_or(0.0, |demand| demand.tape_mm)
        })
        .sum()
}
