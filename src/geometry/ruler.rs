//! Rulers: the marks that a person can set, and measures as they read on them.
//!
//! Marks are the whole multiples of the step from the ruler's zero, between the shortest and the
//! longest measure it reaches. Turning derived millimetres into a [`Length`] always names a ruler
//! and a direction.

use serde::{Deserialize, Serialize};

use crate::length::{Length, Unit, decimal};

/// Derived millimetres this close to a mark are on it: far below what paper or hands can show,
/// far above the rounding of `f64`.
const ON_MARK_MM: f64 = 1e-6;
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

/// Why a ruler cannot be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RulerError {
    /// Rulers are read in inches, millimetres or centimetres.
    #[error("A ruler in {} cannot be used here. Choose in, mm or cm.", .0.symbol())]
    Unit(Unit),
    /// Marks closer than 0.1 mm.
    #[error("A step of {} is too fine to set. Type 0.1 mm or more.", .0.exact_text())]
    StepTooFine(Length),
    /// An inch ruler whose step does not divide an inch.
    #[error(
        "A step of {} does not divide an inch. Type 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64 in.",
        .0.exact_text()
    )]
    StepOffInch(Length),
    /// No mark between shortest and longest.
    #[error(
        "There is no mark from {} to {} at steps of {}. Type a longest measure of {} or more.",
        shortest.exact_text(), longest.exact_text(), step.exact_text(), would_do.exact_text()
    )]
    NoMarks {
        /// The shortest measure asked for.
        shortest: Length,
        /// The longest measure asked for.
        longest: Length,
        /// The step.
        step: Length,
        /// The first mark from the shortest measure on.
        would_do: Length,
    },
    /// Below zero or over 10 m.
    #[error(
        "A ruler from {} to {} is out of range. Type lengths from 0 to 10000 mm.",
        shortest.exact_text(), longest.exact_text()
    )]
    Reach {
        /// The shortest measure asked for.
        shortest: Length,
        /// The longest measure asked for.
        longest: Length,
    },
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
        let steps = ((mm + SLACK_MM) / self.step.mm()).floor();
        self.mark(steps.min(self.last_index() as f64))
    }

    /// The least mark within reach that is not below `mm` millimetres.
    #[must_use]
    pub fn up(&self, mm: f64) -> Option<Length> {
        let steps = ((mm - SLACK_MM) / self.step.mm()).ceil();
        self.mark(steps.max(self.first_index() as f64))
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

    /// The measure as read on this ruler, "5 1/4 in", "133 mm", "13.3 cm". Off the marks it is
    /// the nearest one behind "≈"; below half a step, "< 1/16 in". Reach does not matter here.
    #[must_use]
    pub fn text(&self, length: Length) -> String {
        if self.on_grid(length) {
            return self.mark_text(length);
        }
        match Length::nearest_multiple(length.mm(), self.step) {
            Some(Length::ZERO) if length > Length::ZERO => {
                format!("< {}", self.mark_text(self.step))
            }
            Some(mark) => format!("≈ {}", self.mark_text(mark)),
            None => length.exact_text(),
        }
    }

    /// A derived value as read on this ruler: the mark if it is within 1e-6 mm of one, else as
    /// [`Ruler::text`].
    #[must_use]
    pub fn text_mm(&self, mm: f64) -> String {
        match Length::nearest_multiple(mm, self.step) {
            Some(mark) if (mark.mm() - mm).abs() <= ON_MARK_MM => self.mark_text(mark),
            // A nanometre is far below the step: rounding to one cannot reach another mark.
            Some(_) => match Length::nearest_multiple(mm, Length::from_nm(1)) {
                Some(length) => self.text(length),
                None => format!("{mm} mm"),
            },
            None => format!("{mm} mm"),
        }
    }

    /// The measure in words, for people who listen: "5 and a quarter inches".
    #[must_use]
    pub fn spoken(&self, length: Length) -> String {
        if self.on_grid(length) {
            return self.spoken_mark(length);
        }
        match Length::nearest_multiple(length.mm(), self.step) {
            Some(Length::ZERO) if length > Length::ZERO => {
                format!("less than {}", self.spoken_mark(self.step))
            }
            Some(mark) => format!("about {}", self.spoken_mark(mark)),
            None => length.exact_text(),
        }
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

    fn mark_text(&self, mark: Length) -> String {
        let unit = self.unit.nm();
        let number = match self.unit {
            Unit::Inch | Unit::Foot => {
                let sign = if mark < Length::ZERO { "-" } else { "" };
                match mixed(mark) {
                    (whole, 0, _) => format!("{sign}{whole}"),
                    (0, top, bottom) => format!("{sign}{top}/{bottom}"),
                    (whole, top, bottom) => format!("{sign}{whole} {top}/{bottom}"),
                }
            }
            Unit::Millimetre | Unit::Centimetre => decimal(mark.nm(), unit),
        };
        format!("{number} {}", self.unit.symbol())
    }

    fn spoken_mark(&self, mark: Length) -> String {
        let sign = if mark < Length::ZERO { "minus " } else { "" };
        let words = match self.unit {
            Unit::Inch | Unit::Foot => match mixed(mark) {
                (1, 0, _) => "1 inch".to_owned(),
                (whole, 0, _) => format!("{whole} inches"),
                (0, top, bottom) => format!("{} of an inch", spoken_fraction(top, bottom)),
                (whole, top, bottom) => {
                    format!("{whole} and {} inches", spoken_fraction(top, bottom))
                }
            },
            Unit::Millimetre | Unit::Centimetre => {
                let number = decimal(mark.nm().saturating_abs(), self.unit.nm());
                let plural = if number == "1" { "" } else { "s" };
                let unit = match self.unit {
                    Unit::Centimetre => "centimetre",
                    _ => "millimetre",
                };
                format!("{number} {unit}{plural}")
            }
        };
        format!("{sign}{words}")
    }
}

/// The measure on its own ruler and converted to the other system: ("5 1/4 in", "≈ 133 mm").
#[must_use]
pub fn both(ruler: &Ruler, length: Length) -> (String, String) {
    (ruler.text(length), ruler.other().text(length))
}

/// Inches as whole, numerator and denominator in lowest terms, without sign.
fn mixed(length: Length) -> (u64, u64, u64) {
    let inch = Unit::Inch.nm().unsigned_abs();
    let nm = length.nm().unsigned_abs();
    let (whole, rest) = (nm / inch, nm % inch);
    let divisor = gcd(rest, inch);
    (whole, rest / divisor, inch / divisor)
}

fn spoken_fraction(top: u64, bottom: u64) -> String {
    match (top, bottom) {
        (1, 2) => "a half".to_owned(),
        (1, 4) => "a quarter".to_owned(),
        (3, 4) => "three quarters".to_owned(),
        (1, 8) => "an eighth".to_owned(),
        (1, 16) => "a sixteenth".to_owned(),
        (1, 32) => "a thirty-second".to_owned(),
        (1, 64) => "a sixty-fourth".to_owned(),
        (_, 8) => format!("{top} eighths"),
        (_, 16) => format!("{top} sixteenths"),
        (_, 32) => format!("{top} thirty-seconds"),
        (_, 64) => format!("{top} sixty-fourths"),
        _ => format!("{top} over {bottom}"),
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
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
