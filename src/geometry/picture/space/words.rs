//! The text alternative: how far each part is folded, what moves, where glue goes.

use super::{SpaceBody, SpacePicture};
use crate::picture::scene::for_other_hand;
use crate::{CreaseId, Folded, Side, fold};

/// More names than this are counted, not listed.
const MOST_NAMES: usize = 5;
/// A direction counts as level or upright from here on, as the share that is not.
const NEARLY: f64 = 0.1;

/// Words as the hand that reads them says them.
pub(super) fn said(facts: &SpacePicture<'_>, words: &str) -> String {
    if facts.mirrored {
        for_other_hand(words)
    } else {
        words.to_owned()
    }
}

pub(super) fn description(facts: &SpacePicture<'_>) -> String {
    let names: Vec<&str> = facts.bodies.iter().map(|body| body.pattern.name).collect();
    let is_carried = facts.bodies.iter().any(|body| body.carried.is_some());
    let state = match (facts.plain, is_carried) {
        (true, _) => "finished",
        (false, true) => "folded",
        (false, false) => "part-folded",
    };
    let turned = if facts.view.is_round() {
        "turned end for end, "
    } else {
        ""
    };
    let mut sentences = vec![format!(
        "The {state} {}, {turned}seen from above.",
        names.join(" and ")
    )];
    if !facts.plain {
        for body in facts.bodies {
            match body.carried {
                Some(_) => sentences.push(format!("The {} moves into place.", body.pattern.name)),
                None if is_carried => {}
                None => sentences.extend(states(body)),
            }
            sentences.extend(glue(body));
        }
    }
    let mut words = said(facts, &sentences.join(" "));
    // What people typed stays as it is for the other hand too.
    if let Some((_, name, way)) = &facts.contents {
        words += &match way {
            Some(_) => format!(" Going in: {name}."),
            None => format!(" Inside: {name}."),
        };
    }
    words
}

/// "The left side wall and the right side wall stand up." and so on, each state once.
fn states(body: &SpaceBody<'_>) -> Vec<String> {
    let folded = fold(body.pattern, &body.angles);
    let mut groups: Vec<((&str, &str), Vec<&str>)> = Vec::new();
    for (index, crease) in body.pattern.creases.iter().enumerate() {
        let Some(state) = state(body, &folded, CreaseId(index)) else {
            continue;
        };
        let name = body
            .pattern
            .panel(crease.child)
            .map_or("", |panel| panel.name);
        match groups.iter_mut().find(|(known, _)| *known == state) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => groups.push((state, vec![name])),
        }
    }
    if groups.is_empty() {
        return vec!["It lies flat.".to_owned()];
    }
    let sentence = |((one, many), names): &((&str, &str), Vec<&str>)| {
        let list = listed(names);
        let verb = if names.len() == 1 { one } else { many };
        format!("{list} {verb}.")
    };
    groups.iter().map(sentence).collect()
}

/// What a folded panel does, of one and of several; nothing if it is not folded.
fn state(
    body: &SpaceBody<'_>,
    folded: &Folded,
    id: CreaseId,
) -> Option<(&'static str, &'static str)> {
    let crease = body.pattern.creases.get(id.0)?;
    let angle = body.angles.get(id.0).copied().unwrap_or(0.0);
    let to = body
        .moves
        .iter()
        .find(|(now, _)| *now == id)
        .map(|(_, to)| *to);
    if let Some(to) = to {
        let part = if to == 0.0 { 1.0 } else { angle / to };
        return Some(match part {
            p if p < 0.05 => ("is folded next", "are folded next"),
            p if p < 0.35 => ("is a little folded", "are a little folded"),
            p if p < 0.7 => ("is half folded", "are half folded"),
            p if p < 0.95 => ("is almost folded", "are almost folded"),
            _ => ("is folded first", "are folded first"),
        });
    }
    if angle.abs() < 1.0 {
        return None;
    }
    let inside = body.place.after(folded.pose(crease.child)?).inside_normal();
    Some(match inside.z {
        z if z.abs() < NEARLY => ("stands up", "stand up"),
        z if z < NEARLY - 1.0 => ("lies folded over", "lie folded over"),
        _ => ("is folded", "are folded"),
    })
}

fn listed(names: &[&str]) -> String {
    match names {
        [] => "Nothing".to_owned(),
        [one] => format!("The {one}"),
        [firsts @ .., last] if names.len() <= MOST_NAMES => {
            format!("The {} and the {last}", firsts.join(", the "))
        }
        [first, second, rest @ ..] => {
            format!("The {first}, the {second} and {} other parts", rest.len())
        }
    }
}

/// Where glue goes, all that sticks to one panel from the same side in one sentence.
fn glue(body: &SpaceBody<'_>) -> Vec<String> {
    let panel = |id| body.pattern.panel(id).map_or("paper", |panel| panel.name);
    let zones = body
        .glue
        .iter()
        .filter_map(|&zone| body.pattern.glue.get(zone));
    let mut groups: Vec<((&str, &str), Vec<&str>)> = Vec::new();
    for zone in zones {
        let side = match zone.on_side {
            Side::Inside => "inside",
            Side::Outside => "outside",
        };
        let (on, to) = (panel(zone.on), panel(zone.to));
        match groups.iter_mut().find(|(group, _)| *group == (side, to)) {
            Some((_, names)) if names.contains(&on) => {}
            Some((_, names)) => names.push(on),
            None => groups.push(((side, to), vec![on])),
        }
    }
    let sentence = |((side, to), names): &((&str, &str), Vec<&str>)| {
        let on = listed(names).replacen("The ", "the ", 1);
        let it = if names.len() == 1 {
            "it sticks"
        } else {
            "they stick"
        };
        format!("Glue goes on the {side} of {on}, on the hatched area; {it} to the {to}.")
    };
    groups.iter().map(sentence).collect()
}
