//! How much adhesive a piece takes: lines of tape by length, dots by count, wet glue by area.
//!
//! Glue zones are convex polygons in mm; a line of tape runs along the longest side.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul};

use kurbo::Point;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::Length;
use crate::polygon::signed_area;
use crate::words::mm_and_inches;

/// What holds a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Adhesive {
    /// Double-sided tape, one line along the joint.
    Tape {
        /// Width of the tape.
        width: Length,
    },
    /// Glue dots in a row along the joint.
    Dots {
        /// Across one dot.
        diameter: Length,
        /// From the middle of one dot to the next, at most.
        apart: Length,
    },
    /// Wet glue all over the joint.
    WetGlue,
}

/// How much of each a joint, a piece or a whole class takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct AdhesiveDemand {
    /// Tape, in mm of length.
    pub tape_mm: f64,
    /// Dots, by count.
    pub dots: u64,
    /// Surface to brush with wet glue, in mm².
    pub wet_mm2: f64,
}

/// Why an adhesive does not suit a joint.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum AdhesiveError {
    /// A measure of the adhesive is zero, negative or above 10 m.
    #[error("The {field} is {}. Give more than 0 and at most 10 m.", given.exact_text())]
    Measure {
        /// The field to mark.
        field: &'static str,
        /// The length given.
        given: Length,
    },
    /// The joint is not a polygon with an area.
    #[error("The joint has no area, so nothing sticks there. Give it an overlap.")]
    NoZone,
    /// The joint is narrower than the tape or the dot.
    #[error(
        "Tape or dots {} wide do not fit a joint {} wide. Use narrower ones, or wet glue.",
        wide.exact_text(),
        mm_and_inches(*zone_mm)
    )]
    TooWide {
        /// Width of the tape, or across a dot.
        wide: Length,
        /// Width of the joint in mm.
        zone_mm: f64,
    },
}

impl Adhesive {
    /// What a glue zone takes. One line of tape, or one row of dots, lies along the longest side.
    ///
    /// # Errors
    /// [`AdhesiveError`] if the zone has no area or is narrower than the tape or the dots, or if
    /// a measure of the adhesive is not above 0 (at most 10 m).
    pub fn demand(self, zone: &[Point]) -> Result<AdhesiveDemand, AdhesiveError> {
        let (area, long, narrow) = measure(zone).ok_or(AdhesiveError::NoZone)?;
        let fits = |wide: Length| {
            if wide.mm() > narrow + 1e-9 {
                Err(AdhesiveError::TooWide {
                    wide,
                    zone_mm: narrow,
                })
            } else {
                Ok(())
            }
        };
        match self {
            Self::Tape { width } => {
                positive("tape width", width)?;
                fits(width)?;
                Ok(AdhesiveDemand {
                    tape_mm: long,
                    ..AdhesiveDemand::default()
                })
            }
            Self::Dots { diameter, apart } => {
                positive("dot diameter", diameter)?;
                positive("distance between dots", apart)?;
                fits(diameter)?;
                Ok(AdhesiveDemand {
                    dots: dots_along(long - diameter.mm(), apart.mm()),
                    ..AdhesiveDemand::default()
                })
            }
            Self::WetGlue => Ok(AdhesiveDemand {
                wet_mm2: area,
                ..AdhesiveDemand::default()
            }),
        }
    }
}

impl Add for AdhesiveDemand {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            tape_mm: self.tape_mm + other.tape_mm,
            dots: self.dots.saturating_add(other.dots),
            wet_mm2: self.wet_mm2 + other.wet_mm2,
        }
    }
}

impl AddAssign for AdhesiveDemand {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sum for AdhesiveDemand {
    fn sum<I: Iterator<Item = Self>>(demands: I) -> Self {
        demands.fold(Self::default(), Add::add)
    }
}

impl Mul<u32> for AdhesiveDemand {
    type Output = Self;
    fn mul(self, times: u32) -> Self {
        Self {
            tape_mm: self.tape_mm * f64::from(times),
            dots: self.dots.saturating_mul(u64::from(times)),
            wet_mm2: self.wet_mm2 * f64::from(times),
        }
    }
}

fn positive(field: &'static str, given: Length) -> Result<(), AdhesiveError> {
    if given <= Length::ZERO || given > Length::MAX {
        return Err(AdhesiveError::Measure { field, given });
    }
    Ok(())
}

/// One dot at each end of `between` (middle to middle), the others at most `apart`. A tiny
/// allowance keeps a joint of exactly three gaps at four dots.
fn dots_along(between: f64, apart: f64) -> u64 {
    1 + (between.max(0.0) / apart - 1e-9).ceil().max(0.0) as u64
}

/// `(area, longest side, width at the narrowest)` of a convex polygon, mm.
fn measure(zone: &[Point]) -> Option<(f64, f64, f64)> {
    let sides = || zone.iter().zip(zone.iter().cycle().skip(1));
    let area = signed_area(zone).abs();
    let long = sides().map(|(&a, &b)| a.distance(b)).fold(0.0, f64::max);
    // A convex polygon is narrowest square to one of its sides.
    let narrow = sides()
        .filter(|&(&a, &b)| a.distance(b) > 1e-9)
        .map(|(&a, &b)| {
            let along = (b - a).normalize();
            zone.iter()
                .map(|&p| along.cross(p - a).abs())
                .fold(0.0, f64::max)
        })
        .fold(f64::INFINITY, f64::min);
    (area > 1e-9 && area.is_finite()).then_some((area, long, narrow))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const TAPE: Adhesive = Adhesive::Tape {
        width: Length::from_mm(6),
    };
    const DOTS: Adhesive = Adhesive::Dots {
        diameter: Length::from_mm(8),
        apart: Length::from_mm(20),
    };

    fn strip(x: f64, y: f64, long: f64, wide: f64) -> Vec<Point> {
        vec![
            Point::new(x, y),
            Point::new(x + long, y),
            Point::new(x + long, y + wide),
            Point::new(x, y + wide),
        ]
    }

    #[test]
    fn tape_runs_along_the_joint_and_glue_covers_it() {
        let zone = strip(3.0, 4.0, 70.0, 12.0);
        assert_eq!(TAPE.demand(&zone).unwrap().tape_mm, 70.0);
        assert_eq!(Adhesive::WetGlue.demand(&zone).unwrap().wet_mm2, 840.0);
    }

    #[test]
    fn dots_sit_at_both_ends_and_never_further_apart_than_said() {
        // Middles of the end dots are 4 mm in: 60 mm between them is three gaps of 20.
        let count = |long| DOTS.demand(&strip(0.0, 0.0, long, 10.0)).unwrap().dots;
        assert_eq!(count(68.0), 4);
        assert_eq!(count(68.1), 5);
        assert_eq!(count(67.9), 4);
        assert_eq!(
            DOTS.demand(&strip(0.0, 0.0, 8.0, 8.0)).unwrap().dots,
            1,
            "a joint as large as a dot"
        );
    }

    #[test]
    fn the_narrow_way_of_a_slanted_joint_is_found() {
        // A right triangle with legs 3 and 4 is 12/5 wide square to its hypotenuse.
        let zone = [(0.0, 0.0), (30.0, 0.0), (0.0, 40.0)].map(Point::from);
        let (area, long, narrow) = measure(&zone).unwrap();
        assert!((area - 600.0).abs() < 1e-9);
        assert!((long - 50.0).abs() < 1e-9);
        assert!((narrow - 24.0).abs() < 1e-9);
    }

    #[test]
    fn what_does_not_stick_is_refused_with_what_would_do() {
        let narrow = strip(0.0, 0.0, 70.0, 5.0);
        insta::assert_snapshot!(TAPE.demand(&narrow).unwrap_err(), @"Tape or dots 6 mm wide do not fit a joint 5.0 mm (0.20 in) wide. Use narrower ones, or wet glue.");
        insta::assert_snapshot!(DOTS.demand(&narrow).unwrap_err(), @"Tape or dots 8 mm wide do not fit a joint 5.0 mm (0.20 in) wide. Use narrower ones, or wet glue.");
        insta::assert_snapshot!(Adhesive::WetGlue.demand(&[]).unwrap_err(), @"The joint has no area, so nothing sticks there. Give it an overlap.");
        let nothing = Adhesive::Tape {
            width: Length::ZERO,
        };
        insta::assert_snapshot!(nothing.demand(&narrow).unwrap_err(), @"The tape width is 0 mm. Give more than 0 and at most 10 m.");
        assert!(Adhesive::WetGlue.demand(&[Point::ORIGIN; 4]).is_err());
        let nan = [
            Point::new(f64::NAN, 0.0),
            Point::new(1.0, 0.0),
            Point::new(0.0, 1.0),
        ];
        assert!(Adhesive::WetGlue.demand(&nan).is_err());
    }

    proptest! {
        #[test]
        fn a_class_takes_as_many_times_as_a_piece(
            long in 10.0..300.0f64, wide in 8.0..10.0f64, makers in 1..400u32,
        ) {
            for adhesive in [TAPE, DOTS, Adhesive::WetGlue] {
                let one = adhesive.demand(&strip(0.0, 0.0, long, wide)).unwrap();
                let all: AdhesiveDemand = (0..makers).map(|_| one).sum();
                let at_once = one * makers;
                prop_assert_eq!(all.dots, at_once.dots);
                prop_assert!((all.tape_mm - at_once.tape_mm).abs() < 1e-6 * (1.0 + all.tape_mm));
                prop_assert!((all.wet_mm2 - at_once.wet_mm2).abs() < 1e-6 * (1.0 + all.wet_mm2));
            }
        }

        #[test]
        fn a_longer_joint_never_takes_less(
            long in 10.0..300.0f64, more in 0.0..300.0f64, wide in 8.0..10.0f64,
        ) {
            for adhesive in [TAPE, DOTS, Adhesive::WetGlue] {
                let short = adhesive.demand(&strip(0.0, 0.0, long, wide)).unwrap();
                let longer = adhesive.demand(&strip(0.0, 0.0, long + more, wide)).unwrap();
                prop_assert!(longer.tape_mm >= short.tape_mm);
                prop_assert!(longer.dots >= short.dots);
                prop_assert!(longer.wet_mm2 >= short.wet_mm2);
            }
        }
    }
}
