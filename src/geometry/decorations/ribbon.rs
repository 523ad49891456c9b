//! Ribbon: once round a girth, or a cross tie over the top of a box, with or without a bow.
//!
//! ```text
//! wrap:       girth + overlap
//! cross tie:  2 L + 2 W + 4 H      once round each way, crossing above and below
//! bow:        what people pull off for one; 8 in for a small bow (common practice, no source)
//! ```

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::Length;

/// The way a ribbon runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "run", rename_all = "snake_case")]
pub enum RibbonRun {
    /// Once round, the ends glued over each other.
    Wrap {
        /// Round the outside of what it goes round.
        girth: Length,
        /// How far the ends lie over each other.
        overlap: Length,
    },
    /// Once round each way, crossing on the top and on the bottom.
    Cross {
        /// Length of the box on the table.
        length: Length,
        /// Width of the box on the table.
        width: Length,
        /// How high it stands.
        height: Length,
    },
    /// Only the bow, stuck on.
    BowOnly,
}

/// Ribbon for one piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ribbon {
    run: RibbonRun,
    bow: Option<Length>,
}

/// Why a ribbon cannot be cut so.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum RibbonError {
    /// One of the measures is zero, negative or above 10 m.
    #[error("The {field} is {}. Give more than 0 and at most 10 m.", given.exact_text())]
    Measure {
        /// The field to mark.
        field: &'static str,
        /// The length given.
        given: Length,
    },
    /// The sum is above 10 m.
    #[error("One piece would take {} of ribbon. Give measures that add up to at most 10 m.", total.exact_text())]
    TooLong {
        /// The whole length.
        total: Length,
    },
    /// Neither a run nor a bow.
    #[error(
        "A ribbon that is only a bow needs a length for the bow. A small bow takes about 8 in."
    )]
    Nothing,
}

impl Ribbon {
    /// Ribbon for a small bow: 8 in (common practice, no source). Offer it; people change it.
    pub const SMALL_BOW: Length = Length::inches(8);

    /// A ribbon that runs so, with `bow` of ribbon added for a bow.
    ///
    /// # Errors
    /// [`RibbonError`] unless every measure is above 0 (the overlap may be 0) and the whole is
    /// at most 10 m.
    pub fn new(run: RibbonRun, bow: Option<Length>) -> Result<Self, RibbonError> {
        let (fields, overlap) = match run {
            RibbonRun::Wrap { girth, overlap } => (vec![("girth", girth)], Some(overlap)),
            RibbonRun::Cross {
                length,
                width,
                height,
            } => (
                vec![("length", length), ("width", width), ("height", height)],
                None,
            ),
            RibbonRun::BowOnly if bow.is_none() => return Err(RibbonError::Nothing),
            RibbonRun::BowOnly => (Vec::new(), None),
        };
        let bow_field = bow.map(|bow| ("bow", bow));
        for (field, given) in fields.into_iter().chain(bow_field) {
            if given <= Length::ZERO || given > Length::MAX {
                return Err(RibbonError::Measure { field, given });
            }
        }
        if let Some(given) = overlap
            && !(Length::ZERO..=Length::MAX).contains(&given)
        {
            return Err(RibbonError::Measure {
                field: "overlap",
                given,
            });
        }
        let ribbon = Self { run, bow };
        let total = ribbon.length();
        if total > Length::MAX {
            return Err(RibbonError::TooLong { total });
        }
        Ok(ribbon)
    }

    /// The way it runs.
    #[must_use]
    pub const fn run(&self) -> RibbonRun {
        self.run
    }

    /// The part that makes the bow.
    #[must_use]
    pub const fn bow(&self) -> Option<Length> {
        self.bow
    }

    /// The whole length, exact.
    #[must_use]
    pub fn length(&self) -> Length {
        let run = match self.run {
            RibbonRun::Wrap { girth, overlap } => ribbon_wrap(girth, overlap),
            RibbonRun::Cross {
                length,
                width,
                height,
            } => ribbon_cross(length, width, height),
            RibbonRun::BowOnly => Length::ZERO,
        };
        run + self.bow.unwrap_or(Length::ZERO)
    }

    /// The whole length up to the next multiple of `step`. A ribbon is pulled along a ruler
    /// more than once, so no ruler is too short for it. Without a step: exact.
    #[must_use]
    pub fn cut_length(&self, step: Length) -> Length {
        if step <= Length::ZERO {
            return self.length();
        }
        let over = self.length().nm() % step.nm();
        if over == 0 {
            self.length()
        } else {
            self.length() + step - Length::from_nm(over)
        }
    }
}

/// Ribbon once round `girth`, its ends `overlap` over each other.
#[must_use]
pub fn ribbon_wrap(girth: Length, overlap: Length) -> Length {
    girth + overlap
}

/// Ribbon once round each way of a box: 2 L + 2 W + 4 H.
#[must_use]
pub fn ribbon_cross(length: Length, width: Length, height: Length) -> Length {
    length * 2 + width * 2 + height * 4
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn cross(length: i64, width: i64, height: i64) -> RibbonRun {
        RibbonRun::Cross {
            length: Length::from_mm(length),
            width: Length::from_mm(width),
            height: Length::from_mm(height),
        }
    }

    #[test]
    fn a_small_bow_takes_about_8_in() {
        // Common practice, no source.
        let bow = Ribbon::new(RibbonRun::BowOnly, Some(Ribbon::SMALL_BOW)).unwrap();
        assert_eq!(bow.length(), Length::inches(8));
    }

    #[test]
    fn a_cross_tie_goes_round_both_ways() {
        // Plane geometry: one loop is 2 (L + H), the other 2 (W + H).
        let (l, w, h) = (200, 150, 60);
        let tied = Ribbon::new(cross(l, w, h), None).unwrap();
        assert_eq!(tied.length(), Length::from_mm(2 * (l + h) + 2 * (w + h)));
    }

    #[test]
    fn a_wrap_with_a_bow_is_the_sum_of_its_parts() {
        let run = RibbonRun::Wrap {
            girth: Length::inches(6),
            overlap: Length::inches(1),
        };
        let ribbon = Ribbon::new(run, Some(Ribbon::SMALL_BOW)).unwrap();
        assert_eq!(ribbon.length(), Length::inches(15));
    }

    #[test]
    fn a_ribbon_is_cut_up_to_the_next_mark() {
        let ribbon = Ribbon::new(cross(201, 150, 61), None).unwrap();
        assert_eq!(ribbon.length(), Length::from_mm(946));
        assert_eq!(ribbon.cut_length(Length::from_mm(10)), Length::from_mm(950));
        assert_eq!(ribbon.cut_length(Length::from_mm(1)), ribbon.length());
        assert_eq!(ribbon.cut_length(Length::ZERO), ribbon.length());
    }

    #[test]
    fn what_cannot_be_cut_is_refused_with_what_would_do() {
        let say = |run, bow| Ribbon::new(run, bow).unwrap_err();
        insta::assert_snapshot!(say(cross(200, 0, 60), None), @"The width is 0 mm. Give more than 0 and at most 10 m.");
        insta::assert_snapshot!(say(cross(200, 150, 60), Some(Length::ZERO)), @"The bow is 0 mm. Give more than 0 and at most 10 m.");
        insta::assert_snapshot!(say(cross(2000, 2000, 2000), None), @"One piece would take 16000 mm of ribbon. Give measures that add up to at most 10 m.");
        insta::assert_snapshot!(say(RibbonRun::BowOnly, None), @"A ribbon that is only a bow needs a length for the bow. A small bow takes about 8 in.");
        let wrap = RibbonRun::Wrap {
            girth: Length::from_nm(i64::MAX),
            overlap: Length::ZERO,
        };
        insta::assert_snapshot!(say(wrap, None), @"The girth is 9223372036854.775807 mm. Give more than 0 and at most 10 m.");
    }

    proptest! {
        #[test]
        fn ribbon_scales_with_the_box(
            l in 1..300i64, w in 1..300i64, h in 1..300i64, times in 1..4i64,
        ) {
            let once = Ribbon::new(cross(l, w, h), None).unwrap();
            let scaled = Ribbon::new(cross(l * times, w * times, h * times), None).unwrap();
            prop_assert_eq!(scaled.length(), once.length() * times);
        }

        #[test]
        fn a_larger_box_never_takes_less(
            l in 1..300i64, w in 1..300i64, h in 1..300i64, more in 1..100i64,
        ) {
            let once = Ribbon::new(cross(l, w, h), None).unwrap().length();
            for larger in [cross(l + more, w, h), cross(l, w + more, h), cross(l, w, h + more)] {
                prop_assert!(Ribbon::new(larger, None).unwrap().length() > once);
            }
        }
    }
}
