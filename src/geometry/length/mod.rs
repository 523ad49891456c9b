//! Lengths that a person can type or set on a ruler: exact integers of nanometres.
//!
//! 1/64 in = 396 875 nm and every metric mark are integers, so settings never drift, compare
//! exactly and survive the database.

mod error;
mod number;
mod print;
mod read;
mod unit;

pub use error::{LengthError, Quoted};
pub(crate) use print::decimal;
pub use unit::Unit;

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// An exact length in nanometres. Typed lengths are never negative; a difference may be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// 2 to the 63rd, the first value that no longer fits a signed 64-bit integer.
const TOO_FAR: f64 = 9_223_372_036_854_775_808.0;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    /// The longest length that can be typed: 10 m.
    pub const MAX: Self = Self(10_000_000_000);

    /// A length of `nm` nanometres.
    #[must_use]
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// A length of whole millimetres.
    #[must_use]
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm.saturating_mul(1_000_000))
    }

    /// A length of whole inches (25.4 mm, exact).
    #[must_use]
    pub const fn inches(inches: i64) -> Self {
        Self(inches.saturating_mul(25_400_000))
    }

    /// The fraction `numerator / denominator` of an inch; `None` where that is no whole number
    /// of nanometres (64ths are, 1024ths and thirds are not).
    #[must_use]
    pub const fn inch_fraction(numerator: i64, denominator: i64) -> Option<Self> {
        let Some(nm) = numerator.checked_mul(25_400_000) else {
            return None;
        };
        if denominator > 0 && nm % denominator == 0 {
            Some(Self(nm / denominator))
        } else {
            None
        }
    }

    /// The whole multiple of `step` nearest to `mm` millimetres; `None` where `mm` is not finite,
    /// `step` is not above zero, or the result is out of range. Halves round away from zero.
    #[must_use]
    pub fn nearest_multiple(mm: f64, step: Self) -> Option<Self> {
        if step.0 <= 0 {
            return None;
        }
        let times = (mm * 1e6 / step.0 as f64).round();
        // Out of range would saturate without a word.
        if !times.is_finite() || times.abs() >= TOO_FAR {
            return None;
        }
        (times as i64).checked_mul(step.0).map(Self)
    }

    /// Nanometres.
    #[must_use]
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// Millimetres, for derived geometry.
    #[must_use]
    pub fn mm(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// The sum, or `None` where it does not fit.
    #[must_use]
    pub const fn checked_add(self, other: Self) -> Option<Self> {
        match self.0.checked_add(other.0) {
            Some(nm) => Some(Self(nm)),
            None => None,
        }
    }

    /// The difference, or `None` where it does not fit.
    #[must_use]
    pub const fn checked_sub(self, other: Self) -> Option<Self> {
        match self.0.checked_sub(other.0) {
            Some(nm) => Some(Self(nm)),
            None => None,
        }
    }

    /// `times` as long, or `None` where it does not fit.
    #[must_use]
    pub const fn checked_mul(self, times: i64) -> Option<Self> {
        match self.0.checked_mul(times) {
            Some(nm) => Some(Self(nm)),
            None => None,
        }
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl Div<i64> for Length {
    type Output = Self;
    /// Rounds down to a whole nanometre. Panics when `by` is zero, as integers do.
    fn div(self, by: i64) -> Self {
        let quotient = self.0 / by;
        let inexact = self.0 % by != 0;
        if inexact && (self.0 < 0) != (by < 0) {
            Self(quotient - 1)
        } else {
            Self(quotient)
        }
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests;
