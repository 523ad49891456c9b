//! Rulers: the marks that a person can set, and measures as they read on them.
//!
//! Marks are the whole multiples of the step from the ruler's zero, between the shortest and the
//! longest measure it reaches. Turning derived millimetres into a [`Length`] always names a ruler
//! and a direction.

mod error;
mod text;

pub use error::RulerError;
pub use text::both;

use serde::{Deserialize, Serialize};

use crate::length::{Length, Unit};

/// How far `down` and `up` look past the given value, in mm, so that exact marks stay themselves.
const SLACK_MM: f64 = 1e-9;
/// Closer marks cannot be told apart by eye; it also bounds the number of marks.
const FINEST_STEP: Length = Length::from_nm(100_000);

/// A ruler with its unit, step and reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "RulerParts", into = "RulerParts")]
pub struct Ruler {
    unit: Unit,
    step: Length,
    shortest: Length,
    longest: Length,
}

impl Ruler {
    /// A ruler read in `unit` with marks every `step` from zero, of which those from `shortest`
    /// to `longest` can be set.
    ///
    /// # Errors
    /// - `unit` is feet;
    /// - `step` is below 0.1 mm or, on an inch ruler, neither divides an inch nor is whole inches;
    /// - `shortest` is below zero, `longest` is above 10 m, or no mark lies between them.
    pub fn new(
        unit: Unit,
        step: Length,
        shortest: Length,
        longest: Length,
    ) -> Result<Self, RulerError> {
        if unit == Unit::Foot {
            return Err(RulerError::Unit(unit));
        }
        if step < FINEST_STEP {
            return Err(RulerError::StepTooFine(step));
        }
        let inch = Unit::Inch.nm();
        if unit == Unit::Inch && inch % step.nm() != 0 && step.nm() % inch != 0 {
            return Err(RulerError::StepOffInch(step));
        }
        if shortest < Length::ZERO || longest > Length::MAX || shortest > Length::MAX {
            return Err(RulerError::Reach { shortest, longest });
        }
        let would_do = step * ceil_div(shortest.nm(), step.nm());
        if would_do > longest {
            return Err(RulerError::NoMarks {
                shortest,
                longest,
                step,
                would_do,
            });
        }
        Ok(Self {
            unit,
            step,
            shortest,
            longest,
        })
    }

    /// An inch ruler to 12 in with `denominator` marks an inch (clamped to 1..=64, and down to a
    /// power of two).
    #[must_use]
    pub fn inch(denominator: u32) -> Self {
        let denominator = 1_i64 << denominator.clamp(1, 64).ilog2();
        Self {
            unit: Unit::Inch,
            step: Length::from_nm(Unit::Inch.nm() / denominator),
            shortest: Length::ZERO,
            longest: Length::inches(12),
        }
    }

    /// A ruler of 300 mm with a mark every millimetre.
    #[must_use]
    pub fn millimetre() -> Self {
        Self {
            unit: Unit::Millimetre,
            step: Length::from_mm(1),
            shortest: Length::ZERO,
            longest: Length::from_mm(300),
        }
    }

    /// A ruler without marks: every nanometre from `shortest` to 10 m can be set.
    pub(crate) fn unmarked(shortest: Length) -> Self {
        Self {
            unit: Unit::Millimetre,
            step: Length::from_nm(1),
            shortest,
            longest: Length::MAX,
        }
    }

    /// The unit that it is read in.
    #[must_use]
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// The distance between marks.
    #[must_use]
    pub fn step(&self) -> Length {
        self.step
    }

    /// The shortest measure that can be set.
    #[must_use]
    pub fn shortest(&self) -> Length {
        self.shortest
    }

    /// The longest measure that can be set.
    #[must_use]
    pub fn longest(&self) -> Length {
        self.longest
    }

    /// The greatest mark within reach that is not above `mm` millimetres.
    #[must_use]
    pub fn down(&self, mm: f64) -> Option<Length> {
        let (steps, last) = ((mm + SLACK_MM) / self.step.mm(), self.last_index() as f64);
        // `min` would turn "no number" into the last mark.
        self.mark(if steps > last { last } else { steps.floor() })
    }

    /// The least mark within reach that is not below `mm` millimetres.
    #[must_use]
    pub fn up(&self, mm: f64) -> Option<Length> {
        let (steps, first) = ((mm - SLACK_MM) / self.step.mm(), self.first_index() as f64);
        self.mark(if steps < first { first } else { steps.ceil() })
    }

    /// The mark nearest to `mm` millimetres (halves go up); `None` where that is out of reach.
    #[must_use]
    pub fn nearest(&self, mm: f64) -> Option<Length> {
        self.mark((mm / self.step.mm()).round())
    }

    /// Whether the measure is a mark within reach.
    #[must_use]
    pub fn has(&self, length: Length) -> bool {
        self.on_grid(length) && length >= self.shortest && length <= self.longest
    }

    /// The marks within reach from `lo` to `hi`, both included, shortest first.
    pub fn marks_between(&self, lo: Length, hi: Length) -> impl Iterator<Item = Length> + use<> {
        let step = self.step;
        let first = ceil_div(lo.max(self.shortest).nm(), step.nm());
        let last = hi.min(self.longest).nm().div_euclid(step.nm());
        (first..=last).map(move |index| step * index)
    }

    /// The ruler of the other system, for conversions: inches read in whole millimetres, metric
    /// in sixteenths of an inch. Its reach is 10 m.
    #[must_use]
    pub fn other(&self) -> Self {
        let mut other = match self.unit {
            Unit::Inch | Unit::Foot => Self::millimetre(),
            Unit::Millimetre | Unit::Centimetre => Self::inch(16),
        };
        other.longest = Length::MAX;
        other
    }

    fn on_grid(&self, length: Length) -> bool {
        length.nm() % self.step.nm() == 0
    }

    fn first_index(&self) -> i64 {
        ceil_div(self.shortest.nm(), self.step.nm())
    }

    fn last_index(&self) -> i64 {
        self.longest.nm() / self.step.nm()
    }

    /// The mark of an index, `None` where it is out of reach or no number.
    fn mark(&self, index: f64) -> Option<Length> {
        let reach = self.first_index() as f64..=self.last_index() as f64;
        // Within the reach it is a small whole number: the conversion is exact.
        reach.contains(&index).then(|| self.step * index as i64)
    }
}

fn ceil_div(a: i64, b: i64) -> i64 {
    -(-a).div_euclid(b)
}

/// A ruler as stored: validated on the way in.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RulerParts {
    unit: Unit,
    step: Length,
    shortest: Length,
    longest: Length,
}

impl TryFrom<RulerParts> for Ruler {
    type Error = RulerError;
    fn try_from(parts: RulerParts) -> Result<Self, RulerError> {
        Self::new(parts.unit, parts.step, parts.shortest, parts.longest)
    }
}

impl From<Ruler> for RulerParts {
    fn from(ruler: Ruler) -> Self {
        Self {
            unit: ruler.unit,
            step: ruler.step,
            shortest: ruler.shortest,
            longest: ruler.longest,
        }
    }
}

#[cfg(test)]
mod tests;
