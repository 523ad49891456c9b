//! The default wording of work on a body, and the glue that it takes.

use tablefold_geometry::{Body, Edge, Pattern, Serves, Work};

use super::facts::ToolKind;
use super::operation::{Operation, Verb};
use super::step_picture::{BodyNow, StepPicture};
use super::trimmings::{LINE, TAPE};
use super::wording::capital;

/// "Lay the left edge against the fence and score at {at}."
pub(super) fn score_text(from: &[Edge], part: &str) -> String {
    let only = if part.is_empty() {
        String::new()
    } else {
        format!(" Score {part}.")
    };
    let mut text = match from {
        [edge] => format!(
            "Lay the {} against the fence and score at {{at}}.",
            edge.name()
        ),
        all if all.len() == Edge::ALL.len() => {
            "Lay an edge against the fence and score at {at}. Turn the sheet a quarter and score \
             again, until all 4 edges are done."
                .to_owned()
        }
        several => {
            let names: Vec<&str> = several.iter().map(|edge| edge.name()).collect();
            format!(
                "Score at {{at}} from the {}, one after the other.",
                names.join(" and from the ")
            )
        }
    };
    text.push_str(&only);
    text
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
            let title = format!("Cut the slits, {name}");
            step(Verb::CutTo, "slits", title, format!("Cut {what}."))
                .with(ToolKind::Scissors)
                .taking(90)
                .tip("Stop at the crossing. A cut that goes on weakens the corner.")
                .drawn(drawn(BodyNow::Slits))
        }
        Work::CutAway { why, what } => {
            let title = format!("Trim the {name}");
            step(Verb::Trim, "trim", title, format!("Cut away {what}."))
                .with(ToolKind::Scissors)
                .taking(60)
                .drawn(drawn(BodyNow::TakeOff(*why)))
        }
        Work::ByTemplate { what, cut } => by_template(name, what, *cut, drawn),
        Work::TurnOver => {
            let text = "Turn the sheet over like a page.".to_owned();
            step(Verb::Fold, "turn", format!("Turn the {name} over"), text)
                .taking(5)
                .drawn(drawn(BodyNow::TurnOver))
        }
        Work::Burnish => {
            let text = "Fold each score and press it with the bone folder. Open it flat again.";
            step(
                Verb::Burnish,
                "burnish",
                format!("Press the scores, {name}"),
                text.to_owned(),
            )
            .with(ToolKind::BoneFolder)
            .taking(90)
            .tip("Front of the paper down: the side you see ends up inside.")
            .drawn(drawn(BodyNow::Burnish))
        }
        _ => return None,
    })
}

/// Work along a template, which is printed from the piece's pattern.
fn by_template(
    name: &str,
    what: &str,
    cut: bool,
    drawn: impl Fn(BodyNow) -> StepPicture,
) -> Operation {
    let (verb, key, doing) = if cut {
        (Verb::CutTo, "template-cut", "Cut")
    } else {
        (Verb::ScoreAt, "template-score", "Score")
    };
    let title = format!("{doing} along the template, {name}");
    let text = format!(
        "Lay the printed template on the sheet and hold it still. {doing} {what} along it."
    );
    let tool = if cut {
        ToolKind::Scissors
    } else {
        ToolKind::BoneFolder
    };
    Operation::new(verb, key.to_owned(), &title, &text)
        .with(tool)
        .taking(if cut { 150 } else { 120 })
        .tip("Print the template at true size and lay it on a cut sheet: they are equal.")
        .drawn(drawn(BodyNow::Template { cut }))
}

/// "Fold the lid: both side walls", short enough for a card.
pub(super) fn fold_title(body: &Body, alone: bool, fold: usize) -> String {
    const LONGEST: usize = 6;
    let name = body.pattern.folds.get(fold).map_or("", |step| step.name);
    let short = name.split(',').next().unwrap_or(name).trim();
    let title = if alone {
        format!("Fold {short}")
    } else {
        format!("{}: fold {short}", capital(body.name))
    };
    if title.split(' ').count() <= LONGEST {
        return title;
    }
    if alone {
        format!("Fold {}", fold + 1)
    } else {
        format!("{}: fold {}", capital(body.name), fold + 1)
    }
}

/// Boxes are taped, as the punch-board box is; what lies flat takes a line of glue.
pub(super) fn tool_of_glue(serves: Serves) -> ToolKind {
    match serves {
        Serves::Solids => ToolKind::Tape,
        Serves::FlatThings | Serves::Cards => ToolKind::Glue,
    }
}

/// "tab on end wall, 4 times".
pub(super) fn counted_zones(pattern: &Pattern, zones: &[usize]) -> String {
    let mut names: Vec<(&str, usize)> = Vec::new();
    for zone in zones.iter().filter_map(|zone| pattern.glue.get(*zone)) {
        match names.iter_mut().find(|(name, _)| *name == zone.name) {
            Some((_, count)) => *count += 1,
            None => names.push((zone.name, 1)),
        }
    }
    let said = names.into_iter().map(|(name, count)| match count {
        1 => name.to_owned(),
        _ => format!("{name}, {count} times"),
    });
    said.collect::<Vec<_>>().join("; ")
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
