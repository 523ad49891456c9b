//! Lengths that a person can type or set on a ruler: exact integers of nanometres.
//!
//! 1/64 in = 396 875 nm and every metric mark are integers, so settings never drift, compare
//! exactly and survive the database.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// An exact length in nanometres. Typed lengths are never negative; a difference may be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

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
        Self(mm * 1_000_000)
    }

    /// A length of whole inches (25.4 mm, exact).
    #[must_use]
    pub const fn inches(inches: i64) -> Self {
        Self(inches * 25_400_000)
    }

    /// The fraction `numerator / denominator` of an inch; `None` where that is no whole number
    /// of nanometres (64ths are, 128ths are not).
    #[must_use]
    pub const fn inch_fraction(numerator: i64, denominator: i64) -> Option<Self> {
        let nm = numerator * 25_400_000;
        if denominator > 0 && nm % denominator == 0 {
            Some(Self(nm / denominator))
        } else {
            None
        }
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
    /// Rounds towards zero to a whole nanometre.
    fn div(self, by: i64) -> Self {
        Self(self.0 / by)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}
