//! Prep batches as cards: the setting large, how many of which paper, a helper, and a frame
//! where one pays.

use std::collections::BTreeMap;

use tablefold_geometry::{FramePicture, Length, Ruler, both, frame_picture};

use super::counted;
use crate::pages::picture::Picture;
use crate::pages::picture_sizes::on_prep_list;
use crate::recipe::{Recipe, Step};
use crate::workshop::{Batch, BatchCount, BatchRow, Frame, FrameFrom, SetUps};

/// Everything with one tool at one setting.
#[derive(Clone, Debug)]
pub struct BatchView {
    /// Its place in the order, from 1.
    pub number: usize,
    /// With which tool.
    pub tool: String,
    /// Where it is set: the setting, and the same on the other ruler.
    pub settings: Vec<(String, String)>,
    /// What is done.
    pub rows: Vec<BatchLine>,
    /// All together.
    pub minutes: u32,
    /// Who helps.
    pub helper: Helper,
}

/// One operation over all kits.
#[derive(Clone, Debug)]
pub struct BatchLine {
    /// The piece it belongs to.
    pub piece: String,
    /// What is done.
    pub title: String,
    /// How.
    pub text: String,
    /// "8 x Moss card: Meadow 5, Plum 3".
    pub counts: Vec<String>,
    /// In all.
    pub count: u32,
    /// A frame for the blanks.
    pub frame: Option<FrameView>,
}

/// A frame made of waste.
#[derive(Clone, Debug)]
pub struct FrameView {
    /// What it looks like.
    pub picture: Picture,
    /// How it is made and used.
    pub text: String,
    /// Whether a knife is needed.
    pub is_cut: bool,
}

/// Who helps with something: a field of the form, and what stands in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Helper {
    /// The field's id and the name that its errors go by.
    pub id: String,
    /// The field's name: it says what the name is stored for.
    pub field: String,
    /// What the helper helps with, for screen readers and errors.
    pub what: String,
    /// The name; empty where nobody is named.
    pub name: String,
    keys: Vec<String>,
}

impl Helper {
    /// A field for what these keys stand for.
    pub(super) fn new(keys: Vec<String>, what: String) -> Self {
        Self {
            id: format!("helper-{}", keys.first().map_or("", String::as_str)),
            field: format!("helper-{}", keys.join(" ")),
            what,
            name: String::new(),
            keys,
        }
    }

    /// Puts in who was named for its keys: all of them, where batches came together since.
    pub(super) fn take(&mut self, names: &BTreeMap<String, String>) {
        let mut own: Vec<&str> = Vec::new();
        for name in self.keys.iter().filter_map(|key| names.get(key)) {
            if !name.is_empty() && !own.contains(&name.as_str()) {
                own.push(name);
            }
        }
        self.name = own.join(", ");
    }

    /// Whether the name is stored for this key.
    #[must_use]
    pub fn is_for(&self, key: &str) -> bool {
        self.keys.iter().any(|own| own == key)
    }
}

/// "5 set-ups, about 2 minutes: no order takes less."; empty where nothing is set up.
pub(super) fn set_ups_in_words(set_ups: SetUps) -> String {
    if set_ups.count == 0 {
        return String::new();
    }
    let count = counted(u64::from(set_ups.count), "set-up", "set-ups");
    let minutes = counted(u64::from(set_ups.seconds.div_ceil(60)), "minute", "minutes");
    if set_ups.is_least() {
        return format!("{count}, about {minutes}: no order takes less.");
    }
    let least = counted(
        u64::from(set_ups.at_least_seconds / 60),
        "minute",
        "minutes",
    );
    format!("{count}, about {minutes}. No order can take less than {least}.")
}

pub(super) fn batch_views(batches: &[Batch], recipe: &Recipe) -> Vec<BatchView> {
    let view = |(index, batch): (usize, &Batch)| batch_view(index + 1, batch, recipe);
    batches.iter().enumerate().map(view).collect()
}

fn batch_view(number: usize, batch: &Batch, recipe: &Recipe) -> BatchView {
    let tool = batch.tool.map_or("by hand", |tool| tool.name());
    let rows = || {
        batch
            .rows
            .iter()
            .filter_map(|row| Some((row, recipe.steps.get(row.step)?)))
    };
    let keys = rows().map(|(_, step)| step.operation.key.clone());
    let line = |(index, (row, step)): (usize, (&BatchRow, &Step))| {
        batch_line(&format!("frame{number}-{index}"), row, step, recipe)
    };
    BatchView {
        number,
        tool: capital(tool),
        settings: batch
            .settings
            .iter()
            .map(|&at| both(recipe.ruler_of(batch.tool), at))
            .collect(),
        rows: rows().enumerate().map(line).collect(),
        minutes: batch.minutes,
        helper: Helper::new(keys.collect(), format!("batch {number}, {tool}")),
    }
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    let first = chars.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(chars).collect()
}

fn batch_line(prefix: &str, row: &BatchRow, step: &Step, recipe: &Recipe) -> BatchLine {
    let piece = step.operation.piece.and_then(|at| recipe.pieces.get(at));
    BatchLine {
        piece: piece.map_or_else(String::new, |piece| piece.name.clone()),
        title: row.title.clone(),
        text: step.text(recipe.ruler_of(step.operation.tool)),
        counts: row.counts.iter().map(count_in_words).collect(),
        count: row.count,
        frame: row
            .frame
            .as_ref()
            .map(|frame| frame_view(prefix, frame, &recipe.ruler)),
    }
}

/// The colourway is left out where it is the only one and says nothing more.
fn count_in_words(count: &BatchCount) -> String {
    let each = count
        .colourways
        .iter()
        .map(|(name, n)| format!("{name} {n}"));
    let each = each.collect::<Vec<_>>().join(", ");
    match (count.from.as_str(), count.colourways.as_slice()) {
        ("", _) => each,
        (from, [(name, _)]) => format!("{} x {from} ({name})", count.count),
        (from, _) => format!("{} x {from} ({each})", count.count),
    }
}

fn frame_view(prefix: &str, frame: &Frame, ruler: &Ruler) -> FrameView {
    let play = frame.opening.0 - frame.blank.0;
    let fine = fine(ruler, play);
    let text = |length| fine.text(length);
    let scene = frame_picture(
        FramePicture {
            ruler: &fine,
            outside: frame.outside,
            opening: frame.opening,
            blank: frame.blank,
            round: matches!(frame.from, FrameFrom::Punched { .. }),
            mark: frame.mark,
        },
        on_prep_list(),
    );
    let size = |(width, height): (Length, Length)| format!("{} x {}", text(width), text(height));
    let words = match &frame.from {
        FrameFrom::Punched { part } => format!(
            "Frame: keep the waste that the first {part} was punched from. Its hole, {} across, fits every other one: lay each blank in it.",
            text(frame.opening.0),
        ),
        FrameFrom::LeftOver { paper } => format!(
            "Frame: cut an opening of {} into a left-over of {paper}, {} or larger: the blank and {} of play each way. Tape the frame in place at the tool and lay each blank in it.",
            size(frame.opening),
            size(frame.outside),
            text(play),
        ),
    };
    FrameView {
        picture: Picture::of(&scene, prefix),
        text: words,
        is_cut: matches!(frame.from, FrameFrom::LeftOver { .. }),
    }
}

/// A frame is drawn by hand round a blank, so its ruler may have finer marks than a fence.
fn fine(ruler: &Ruler, play: Length) -> Ruler {
    if play <= Length::ZERO {
        return *ruler;
    }
    let step = ruler.step().min(play);
    Ruler::new(ruler.unit(), step, Length::ZERO, Length::MAX).unwrap_or(*ruler)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn set_ups_say_whether_they_are_proven_least() {
        let words = |count, seconds, at_least_seconds| {
            set_ups_in_words(SetUps {
                count,
                seconds,
                at_least_seconds,
            })
        };
        insta::assert_snapshot!(words(1, 30, 30), @"1 set-up, about 1 minute: no order takes less.");
        insta::assert_snapshot!(words(14, 840, 770), @"14 set-ups, about 14 minutes. No order can take less than 12 minutes.");
        assert_eq!(words(0, 0, 0), "");
    }

    #[test]
    fn a_helper_keeps_the_names_of_batches_that_came_together() {
        let keys = ["p1.tag-stamp", "p2.tag-stamp", "p3.tag-stamp"].map(str::to_owned);
        let mut helper = Helper::new(keys.to_vec(), "batch 1, shape punch".to_owned());
        let name = |key: &str, name: &str| (key.to_owned(), name.to_owned());
        helper.take(&BTreeMap::from([
            name("p1.tag-stamp", "Robin"),
            name("p2.tag-stamp", "Wren"),
            name("p3.tag-stamp", "Robin"),
        ]));
        assert_eq!(helper.name, "Robin, Wren");
        assert_eq!(
            helper.field,
            "helper-p1.tag-stamp p2.tag-stamp p3.tag-stamp"
        );
    }

    #[test]
    fn counts_name_paper_and_colourways() {
        let count = |from: &str, colourways: &[(&str, u32)]| BatchCount {
            from: from.to_owned(),
            count: colourways.iter().map(|c| c.1).sum(),
            colourways: colourways
                .iter()
                .map(|&(name, n)| (name.to_owned(), n))
                .collect(),
        };
        let two = [("Meadow", 5), ("Plum", 3)];
        insta::assert_snapshot!(count_in_words(&count("Cream card", &two)), @"8 x Cream card (Meadow 5, Plum 3)");
        insta::assert_snapshot!(count_in_words(&count("Cream card", &two[..1])), @"5 x Cream card (Meadow)");
        insta::assert_snapshot!(count_in_words(&count("", &two)), @"Meadow 5, Plum 3");
    }
}
