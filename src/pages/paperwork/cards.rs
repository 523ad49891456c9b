//! Step cards: one for each step that attendees do.

use tablefold_geometry::{PictureSize, Ruler, Scene};

use crate::pages::picture::{LegendLine, Picture};
use crate::pages::published::View;
use crate::recipe::{MeasureValue, Operation, Step, draw, for_left_hand};
use crate::workshop::{ClassFacts, Packet};

/// A step as an attendee reads it.
#[derive(Clone, Debug)]
pub struct StepCard {
    /// From 1.
    pub number: usize,
    /// How many there are.
    pub total: usize,
    /// Tells it from all others, in every revision.
    pub key: String,
    /// Which of the class's projects it belongs to, from 0.
    pub project: usize,
    /// The piece it belongs to; empty for a step of the instructor's own.
    pub piece: String,
    /// What to do, in a few words.
    pub title: String,
    /// What it looks like.
    pub picture: Option<Picture>,
    /// What the lines of the picture mean.
    pub legend: Vec<LegendLine>,
    /// THE measure.
    pub measure: Option<BigMeasure>,
    /// With which tool; empty for bare hands.
    pub tool: &'static str,
    /// The instruction.
    pub text: String,
    /// One tip; may be empty.
    pub tip: String,
    /// One caution; may be empty.
    pub caution: &'static str,
}

impl StepCard {
    /// How many letters of text it has.
    #[must_use]
    pub fn letters(&self) -> usize {
        let texts = [self.text.as_str(), &self.tip, self.caution];
        texts.iter().map(|text| text.chars().count()).sum()
    }
}

/// A measure that is read from a metre away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BigMeasure {
    /// On the project's ruler.
    pub text: String,
    /// For screen readers.
    pub spoken: String,
    /// On the other ruler; may be empty.
    pub other: String,
}

/// The cards of all class steps, in order.
#[must_use]
pub fn step_cards(
    facts: &ClassFacts,
    packet: &Packet,
    view: View,
    size: PictureSize,
) -> Vec<StepCard> {
    let steps = || packet.recipe.steps.iter().filter(|step| step.is_class());
    let total = steps().count();
    let numbered = steps().enumerate();
    numbered
        .map(|(index, step)| {
            card(
                &Shown {
                    facts,
                    packet,
                    view,
                    size,
                },
                step,
                (index + 1, total),
            )
        })
        .collect()
}

/// Each line that some card explains, once: a page holds its sample once and refers to it.
#[must_use]
pub fn samples(cards: &[StepCard]) -> Vec<LegendLine> {
    let mut samples: Vec<LegendLine> = Vec::new();
    for line in cards.iter().flat_map(|card| &card.legend) {
        if !samples.iter().any(|other| other.words == line.words) {
            samples.push(line.clone());
        }
    }
    samples
}

/// What cards are made of, and how they are to look.
struct Shown<'a> {
    facts: &'a ClassFacts,
    packet: &'a Packet,
    view: View,
    size: PictureSize,
}

impl Shown<'_> {
    /// The picture, and whether it is one for the other hand. A tool is the same for either hand:
    /// its pictures, and the words with them, stay.
    fn scene(&self, operation: &Operation) -> (Option<Scene>, bool) {
        let pieces = &self.packet.recipe.pieces;
        let drawn = |mirrored| draw(&self.facts.project, pieces, operation, mirrored, self.size);
        let scene = drawn(false);
        if !self.view.left_handed {
            return (scene, false);
        }
        let mirrored = drawn(true);
        let differs = scene != mirrored;
        (mirrored, differs)
    }
}

fn card(shown: &Shown<'_>, step: &Step, (number, total): (usize, usize)) -> StepCard {
    let operation = &step.operation;
    let recipe = &shown.packet.recipe;
    let ruler = recipe.ruler_of(operation.tool);
    let read = if shown.view.other_units {
        &ruler.other()
    } else {
        ruler
    };
    let (scene, is_mirrored) = shown.scene(operation);
    let words = |text: String| {
        if is_mirrored {
            for_left_hand(&text)
        } else {
            text
        }
    };
    let legend = scene.iter().flat_map(Scene::legend).map(LegendLine::from);
    let piece = operation.piece.and_then(|at| recipe.pieces.get(at));
    let headline = operation.headline.and_then(|key| operation.measure(key));
    StepCard {
        number,
        total,
        key: format!("{}.{}", step.project, operation.key),
        project: step.project,
        piece: piece.map_or_else(String::new, |piece| piece.name.clone()),
        title: words(operation.title.clone()),
        picture: scene
            .as_ref()
            .map(|scene| Picture::of(scene, &format!("s{number}"))),
        legend: legend.collect(),
        measure: headline.map(|value| BigMeasure::of(value, ruler, shown.view.other_units)),
        tool: operation.tool.map_or("", |tool| tool.name()),
        text: words(step.text(read)),
        tip: words(step.tip(read)),
        caution: operation.caution.map_or("", |caution| caution.text()),
    }
}

impl BigMeasure {
    /// A value on the project's ruler, spoken, and converted; the conversion first if asked.
    #[must_use]
    pub fn of(value: MeasureValue, ruler: &Ruler, other_first: bool) -> Self {
        let own = value.text(ruler);
        let other = value.converted(ruler);
        let spoken_on = |ruler: &Ruler, text: &String| match value {
            MeasureValue::Exact(length) => ruler.spoken(length),
            _ => text.clone(),
        };
        match other {
            Some(text) if other_first => Self {
                spoken: spoken_on(&ruler.other(), &text),
                other: own,
                text,
            },
            other => Self {
                spoken: spoken_on(ruler, &own),
                other: other.unwrap_or_default(),
                text: own,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{packet, plan_now};

    #[test]
    fn every_class_step_has_a_card_and_cards_are_numbered_through() {
        let facts = demo::class(3);
        let packet = packet(&facts, &plan_now).expect("balances");
        let cards = step_cards(&facts, &packet, View::default(), PictureSize::FREE);
        let steps = packet.recipe.steps.iter().filter(|step| step.is_class());
        assert_eq!(cards.len(), steps.count());
        for (index, card) in cards.iter().enumerate() {
            assert_eq!((card.number, card.total), (index + 1, cards.len()));
            assert!(!card.title.is_empty() && !card.text.is_empty(), "{card:?}");
            assert!(!card.text.contains('{'), "{}", card.text);
        }
        let samples = samples(&cards);
        let ids: std::collections::HashSet<String> = samples.iter().map(LegendLine::id).collect();
        assert!(ids.len() > 3 && ids.len() == samples.len(), "{ids:?}");
    }

    #[test]
    fn cards_for_left_handers_mirror_what_hands_do_and_leave_the_tools() {
        let mut facts = demo::class(3);
        facts.project.edits = vec![crate::recipe::StepEdit {
            key: "p1.close".to_owned(),
            title: None,
            text: Some("Hold its left end.".to_owned()),
            tip: None,
            hidden: false,
            phase: None,
            position: None,
            seconds: None,
        }];
        let packet = packet(&facts, &plan_now).expect("balances");
        let left = View {
            left_handed: true,
            ..View::default()
        };
        let of = |view| step_cards(&facts, &packet, view, PictureSize::FREE);
        let pairs: Vec<_> = of(View::default()).into_iter().zip(of(left)).collect();
        let differ = pairs.iter().filter(|(a, b)| a.picture != b.picture).count();
        assert!(differ > 3 && differ < pairs.len(), "{differ}");
        for (right, left) in &pairs {
            let mirrored = if right.picture == left.picture {
                right.text.clone()
            } else {
                for_left_hand(&right.text)
            };
            assert_eq!(left.text, mirrored);
            assert_eq!(left.measure, right.measure);
        }
        let told = |text: &str| pairs.iter().any(|(_, left)| left.text == text);
        assert!(told("Hold its right end."));
    }

    #[test]
    fn the_other_units_come_first_and_the_tools_own_stay_beside_them() {
        // 25.4 mm to the inch, exactly: NIST SP 811, appendix B.6.
        let ruler = Ruler::inch(16);
        let value = MeasureValue::Exact(tablefold_geometry::Length::from_mm(127));
        let own = BigMeasure::of(value, &ruler, false);
        assert_eq!((own.text.as_str(), own.other.as_str()), ("5 in", "127 mm"));
        let other = BigMeasure::of(value, &ruler, true);
        assert_eq!(
            (other.text.as_str(), other.other.as_str()),
            ("127 mm", "5 in")
        );
        assert_eq!(other.spoken, "127 millimetres");
        let count = BigMeasure::of(MeasureValue::Count(3), &ruler, true);
        assert_eq!((count.text.as_str(), count.other.as_str()), ("3", ""));
    }
}
