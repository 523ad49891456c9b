//! What labels lack, and what would do.

use std::collections::BTreeSet;

use tablefold_geometry::Ruler;

use crate::pages::paperwork::counted;
use crate::print::{Label, LabelLine, PlacedLabel, can_write, missing};

/// As many names are said as can be read at a glance.
const NAMES: usize = 8;

pub(super) fn notes(labels: &[Label], placed: &[PlacedLabel], ruler: &Ruler) -> Vec<String> {
    let on = |count: usize| counted(count as u64, "label", "labels");
    let both = labels.iter().zip(placed);
    let no_code = both.filter(|(label, placed)| label.address.is_some() && placed.code.is_none());
    let no_code: Vec<&Label> = no_code.map(|(label, _)| label).collect();
    let mut notes = Vec::new();
    if let Some(takes) = code_takes(&no_code, ruler) {
        notes.push(format!("{} without a code: {takes}", on(no_code.len())));
    }
    let cut = placed.iter().filter(|it| it.is_cut).count();
    if cut > 0 {
        notes.push(format!(
            "On {} words are cut or left out, even at 8 pt. Make labels larger, or names shorter.",
            on(cut)
        ));
    }
    notes.extend(unwritten(labels));
    notes
}

/// The largest of the codes, and a label with room for it, on the instructor's ruler.
fn code_takes(labels: &[&Label], ruler: &Ruler) -> Option<String> {
    let takes = labels.iter().filter_map(|label| label.code_takes_mm());
    let largest = takes.max_by(|one, other| one.0.total_cmp(&other.0))?;
    let up = |mm: f64| match ruler.up(mm) {
        Some(mark) => ruler.text(mark),
        None => ruler.text_mm(mm),
    };
    let (side, height, width) = largest;
    Some(format!(
        "there is no room for one with squares of 0.5 mm beside or below the words. A code of this link is {} wide; make labels at least {} high and {} wide.",
        up(side),
        up(height),
        up(width)
    ))
}

/// Which words the font cannot write, and what is printed.
fn unwritten(labels: &[Label]) -> Vec<String> {
    let lines = || labels.iter().flat_map(|label| &label.lines);
    let named = |is: fn(&&LabelLine) -> bool| -> BTreeSet<(&str, &str)> {
        let lines = lines().filter(is);
        lines
            .map(|it| (it.text.as_str(), it.instead.as_str()))
            .collect()
    };
    let foreign = named(|line| !can_write(&line.text));
    let signs = named(|line| can_write(&line.text) && missing(&line.text).next().is_some());
    let mut notes = Vec::new();
    if !foreign.is_empty() {
        let said = listed(foreign.iter().map(|(text, instead)| match *instead {
            "" => format!("\u{201c}{text}\u{201d} is left out"),
            instead => format!("\u{201c}{text}\u{201d} is \u{201c}{instead}\u{201d}"),
        }));
        notes.push(format!(
            "The font of the labels has Latin, Greek and Cyrillic letters only: {said}. Spell names with those, or write them on the labels by hand."
        ));
    }
    if !signs.is_empty() {
        let said = listed(
            signs
                .iter()
                .map(|(text, _)| format!("\u{201c}{text}\u{201d}")),
        );
        notes.push(format!(
            "The font of the labels lacks a sign in {said}: it is left out."
        ));
    }
    notes
}

fn listed(said: impl ExactSizeIterator<Item = String>) -> String {
    let more = said.len().saturating_sub(NAMES);
    let mut said: Vec<String> = said.take(NAMES).collect();
    if more > 0 {
        said.push(format!("and {more} more"));
    }
    said.join(", ")
}
