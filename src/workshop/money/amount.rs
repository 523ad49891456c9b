//! Exact amounts.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};

use num_rational::BigRational;

/// An exact amount of money, as a fraction of minor units. May be negative: a loss.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Amount(BigRational);

impl Amount {
    /// A whole number of minor units.
    #[must_use]
    pub fn minor(minor: u64) -> Self {
        Self(BigRational::from_integer(minor.into()))
    }

    /// So many times the amount.
    #[must_use]
    pub fn times(&self, times: u64) -> Self {
        self.share(times.into(), 1)
    }

    /// `part` of `whole` equal shares; nothing of nothing is nothing.
    #[must_use]
    pub fn share(&self, part: u128, whole: u128) -> Self {
        if whole == 0 {
            return Self::default();
        }
        Self(&self.0 * BigRational::new(part.into(), whole.into()))
    }

    /// The quotient of two amounts, rounded up to a whole number; `None` where `by` is not above
    /// zero.
    #[must_use]
    pub fn over_rounded_up(&self, by: &Self) -> Option<u64> {
        if *by <= Self::default() {
            return None;
        }
        let quotient = (&self.0 / &by.0).ceil().to_integer();
        Some(
            u64::try_from(quotient).unwrap_or(if self.0 > BigRational::default() {
                u64::MAX
            } else {
                0
            }),
        )
    }

    /// Whole minor units, half to even (ASTM E29; IEEE 754 roundTiesToEven).
    #[must_use]
    pub fn rounded(&self) -> i64 {
        let two = BigRational::from_integer(2.into());
        let floor = self.0.floor();
        let doubled = (&self.0 - &floor) * &two;
        let one = BigRational::from_integer(1.into());
        let is_odd = !(&floor / &two).is_integer();
        let up = doubled > one || (doubled == one && is_odd);
        whole(&if up { floor + one } else { floor })
    }

    /// Whole minor units, up: a fee that must cover all of it.
    #[must_use]
    pub fn rounded_up(&self) -> i64 {
        whole(&self.0.ceil())
    }
}

fn whole(number: &BigRational) -> i64 {
    let negative = *number < BigRational::default();
    i64::try_from(number.to_integer()).unwrap_or(if negative { i64::MIN } else { i64::MAX })
}

impl Add for Amount {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Amount {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl AddAssign for Amount {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sum for Amount {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::default(), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rounded(part: u128, whole: u128) -> i64 {
        Amount::minor(1).share(part, whole).rounded()
    }

    /// Half to even: 3.965 is 3.96, 3.955 is 3.96, 126.5 is 126. Source: ASTM E29 and IS 2:1960,
    /// as a laboratory's rounding policy quotes them.
    #[test]
    fn halves_are_rounded_to_even() {
        assert_eq!(rounded(3965, 10), 396);
        assert_eq!(rounded(3955, 10), 396);
        assert_eq!(rounded(1265, 10), 126);
        assert_eq!(rounded(1, 3), 0);
        assert_eq!(rounded(2, 3), 1);
        let loss = Amount::default() - Amount::minor(5).share(1, 2);
        assert_eq!(loss.rounded(), -2);
    }

    #[test]
    fn shares_add_up_to_the_whole_exactly() {
        let whole = Amount::minor(100);
        let parts = [7_u128, 11, 19, 304_800_000 * 304_800_001];
        let all: u128 = parts.iter().sum();
        let sum: Amount = parts.iter().map(|&part| whole.share(part, all)).sum();
        assert_eq!(sum, whole);
    }

    #[test]
    fn a_quotient_is_rounded_up_and_nothing_divides_by_nothing() {
        let (ten, three) = (Amount::minor(10), Amount::minor(3));
        assert_eq!(ten.over_rounded_up(&three), Some(4));
        assert_eq!(ten.over_rounded_up(&Amount::default()), None);
        assert_eq!(ten.over_rounded_up(&(three.clone() - ten.clone())), None);
        assert_eq!((three - ten.clone()).over_rounded_up(&ten), Some(0));
        assert_eq!(Amount::minor(1).share(1, 0), Amount::default());
    }
}
