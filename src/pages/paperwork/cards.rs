//! Step cards: one for each step that attendees do.

use tablefold_geometry::Ruler;

use crate::pages::picture::{LegendLine, Picture};
use crate::recipe::{MeasureValue, Step, draw};
use crate::workshop::{ClassFacts, Packet};

/// A step as an attendee reads it.
#[derive(Clone, Debug)]
pub struct StepCard {
    /// From 1.
    pub number: usize,
    /// How many there are.
    pub total: usize,
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
pub fn step_cards(facts: &ClassFacts, packet: &Packet) -> Vec<StepCard> {
    let steps = || packet.recipe.steps.iter().filter(|step| step.is_class());
    let total = steps().count();
    let numbered = steps().enumerate();
    numbered
        .map(|(index, step)| card(facts, packet, step, (index + 1, total)))
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

fn card(
    facts: &ClassFacts,
    packet: &Packet,
    step: &Step,
    (number, total): (usize, usize),
) -> StepCard {
    let operation = &step.operation;
    let ruler = packet.recipe.ruler_of(operation.tool);
    let scene = draw(&facts.project, &packet.recipe.pieces, operation, false);
    let picture = |scene| Picture::of(scene, &format!("s{number}"));
    let legend = |scene: &tablefold_geometry::Scene| scene.legend();
    let piece = operation.piece.and_then(|at| packet.recipe.pieces.get(at));
    let headline = operation.headline.and_then(|key| operation.measure(key));
    StepCard {
        number,
        total,
        piece: piece.map_or_else(String::new, |piece| piece.name.clone()),
        title: operation.title.clone(),
        picture: scene.as_ref().map(picture),
        legend: scene
            .iter()
            .flat_map(legend)
            .map(LegendLine::from)
            .collect(),
        measure: headline.map(|value| BigMeasure::of(value, ruler)),
        tool: operation.tool.map_or("", |tool| tool.name()),
        text: step.text(ruler),
        tip: step.tip(ruler),
        caution: operation.caution.map_or("", |caution| caution.text()),
    }
}

impl BigMeasure {
    /// A value on the project's ruler, spoken, and converted.
    #[must_use]
    pub fn of(value: MeasureValue, ruler: &Ruler) -> Self {
        let text = value.text(ruler);
        Self {
            spoken: match value {
                MeasureValue::Exact(length) => ruler.spoken(length),
                _ => text.clone(),
            },
            other: value.converted(ruler).unwrap_or_default(),
            text,
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
        let cards = step_cards(&facts, &packet);
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
}
