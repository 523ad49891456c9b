//! What is cut out of the strips of a gable-top carton: a hole for a ribbon in each, or a slot for
//! a hand.
//!
//! ```text
//!   +---------------------------+     panels have no holes: a strip is two halves that are one
//!   |       .-----------.       |     paper, joined above and below the hole in the middle
//!   |      (      |      )      |
//!   |       '-----------'       |
//!   +---------- ridge ----------+
//! ```

use std::f64::consts::PI;

use super::limits::Asked;
use super::tube::Tube;
use super::work::Work;
use super::{Opening, SetOn, SettingField, StructureError};
use crate::{Length, Ruler};

/// Radius of the hole for the ribbon, mm (common practice, no source).
const HOLE_MM: f64 = 3.0;
/// A slot for a hand instead of that hole.
pub(super) const SLOT: Opening = Opening {
    field: SettingField::new("slot", "hand slot", SetOn::Template),
    label: "Hand slot in the roof",
    hint: "Through both strips, so long; empty for holes for a ribbon. 60 to 80 mm is usual",
    closing: Some(
        "the hand that carries it by its slot, and tape between the strips if it has to stay shut",
    ),
};
/// Least height of strips with that hole, mm (common practice, no source).
const LEAST_STRIP_MM: f64 = 12.0;
/// Radius of the ends of a hand slot, mm: it is 20 mm high (common practice, no source).
const SLOT_END_MM: f64 = 10.0;
/// Shortest hand slot, mm (common practice, no source).
const LEAST_SLOT_MM: f64 = 40.0;
/// Paper that stays round a hand slot, mm (common practice, no source).
pub(super) const PAPER_ROUND_MM: f64 = 10.0;

/// What is cut out of the middle of each strip: a round, or a slot with round ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hole {
    /// Of its ends, mm.
    pub(super) radius: f64,
    /// Half of what is straight between them, mm.
    straight: f64,
    /// Straight pieces for half a round.
    pieces: usize,
}

impl Hole {
    pub(super) fn of(slot: Option<Length>) -> Self {
        match slot {
            None => Self {
                radius: HOLE_MM,
                straight: 0.0,
                pieces: 6,
            },
            Some(slot) => Self {
                radius: SLOT_END_MM,
                straight: slot.mm() / 2.0 - SLOT_END_MM,
                pieces: 12,
            },
        }
    }

    /// How the hands make it.
    pub(super) fn work(slot: Option<Length>) -> Work {
        match slot {
            None => Work::CutOut {
                name: "hole in each strip",
                across: Length::from_mm(6),
                way: "wide",
                by_punch: true,
            },
            Some(slot) => Work::CutOut {
                name: "slot in each strip",
                across: slot,
                way: "long",
                by_punch: false,
            },
        }
    }

    /// Half of a strip so wide to each side of its middle and so high, with half of the hole cut
    /// into it: on the right (1) or on the left (-1). From the ridge up.
    pub(super) fn strip_half(self, (wide, high): (f64, f64), side: f64) -> Vec<(f64, f64)> {
        let mut outline = vec![(side * wide, high), (side * wide, 0.0), (0.0, 0.0)];
        outline.extend(self.half(high, side));
        outline.push((0.0, high));
        outline
    }

    /// All of it in the middle of a strip so high.
    pub(super) fn outline(self, high: f64) -> Vec<(f64, f64)> {
        let (right, left) = (self.half(high, 1.0), self.half(high, -1.0));
        // The two ends of the left half are those of the right one.
        let inner = left.get(1..left.len() - 1).unwrap_or_default();
        right.iter().chain(inner.iter().rev()).copied().collect()
    }

    /// The round end on one side, from below to above, and its middle.
    pub(super) fn end(self, high: f64, side: f64) -> (Vec<(f64, f64)>, (f64, f64)) {
        let mut half = self.half(high, side);
        if self.straight > 0.0 {
            half.pop();
            half.remove(0);
        }
        (half, (side * self.straight, high / 2.0))
    }

    /// From below, over its end, to above.
    fn half(self, high: f64, side: f64) -> Vec<(f64, f64)> {
        let middle = high / 2.0;
        let at = |i: usize| {
            let (sin, cos) = (PI * i as f64 / self.pieces as f64).sin_cos();
            let out = self.straight + self.radius * sin;
            (side * out, middle - self.radius * cos)
        };
        let mut half: Vec<(f64, f64)> = (0..=self.pieces).map(at).collect();
        let (below, above) = ((0.0, middle - self.radius), (0.0, middle + self.radius));
        if self.straight > 0.0 {
            half.insert(0, below);
            half.push(above);
        } else {
            // On the middle line, and not beside it by a rounding.
            half[0] = below;
            half[self.pieces] = above;
        }
        half
    }
}

/// The least height of the strips, and why.
pub(super) fn least_strip(slot: Option<Length>) -> (f64, &'static str) {
    match slot {
        None => (LEAST_STRIP_MM, "so low a strip has no room for a hole"),
        Some(_) => (
            2.0 * (SLOT_END_MM + PAPER_ROUND_MM),
            "so low a strip has no room for a slot 20 mm high and 10 mm of paper round it",
        ),
    }
}

/// Whether a hand slot lies within the strips.
pub(super) fn check_slot(tube: &Tube, slot: Length, score: &Ruler) -> Result<(), StructureError> {
    let asked = Asked::new(SLOT.field.key, slot, score);
    asked.at_least(LEAST_SLOT_MM, "a hand does not go into so short a slot")?;
    let why = "10 mm of paper has to stay at both ends of it";
    asked.at_most(tube.front() - 2.0 * PAPER_ROUND_MM, why)
}
