//! A finger notch: half a circle taken out of an edge, so that a finger gets hold of what is
//! inside. A round punch set halfway over the edge makes it.

use kurbo::{Arc, BezPath, Point, Shape, Vec2};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::words::{derived, exact};
use crate::{Length, Ruler};

/// Half a circle at an edge. In JSON it is the diameter of its circle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Length", into = "Length")]
pub struct FingerNotch {
    diameter: Length,
}

/// Why a notch cannot be there.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{}", self.say(None))]
pub enum FingerNotchError {
    /// The circle has no size.
    NoSize {
        /// The diameter given.
        diameter: Length,
    },
    /// The mouth is wider than the edge.
    WiderThanEdge {
        /// Diameter of the circle.
        diameter: Length,
        /// Length of the edge in mm.
        edge_mm: f64,
    },
    /// The notch would cut the panel in two.
    DeeperThanPanel {
        /// Diameter of the circle.
        diameter: Length,
        /// Depth of the panel behind the edge in mm.
        depth_mm: f64,
    },
}

impl FingerNotchError {
    /// The sentence with its measures on `ruler`.
    #[must_use]
    pub fn text(&self, ruler: &Ruler) -> String {
        self.say(Some(ruler))
    }

    pub(crate) fn say(&self, ruler: Option<&Ruler>) -> String {
        match self {
            Self::NoSize { diameter } => format!(
                "A circle of {} cannot be punched for a finger notch. Give more than 0 and at most 10 m.",
                exact(ruler, *diameter)
            ),
            Self::WiderThanEdge { diameter, edge_mm } => format!(
                "A finger notch from a circle of {} takes the whole edge of {}. Use a smaller circle.",
                exact(ruler, *diameter),
                derived(ruler, *edge_mm)
            ),
            Self::DeeperThanPanel { diameter, depth_mm } => format!(
                "A finger notch from a circle of {} cuts through the panel, {} deep. Use a smaller circle.",
                exact(ruler, *diameter),
                derived(ruler, *depth_mm)
            ),
        }
    }
}

impl FingerNotch {
    /// Half of a circle of `diameter`.
    ///
    /// # Errors
    /// [`FingerNotchError::NoSize`] unless 0 < diameter ≤ 10 m.
    pub fn half_of(diameter: Length) -> Result<Self, FingerNotchError> {
        if diameter <= Length::ZERO || diameter > Length::MAX {
            return Err(FingerNotchError::NoSize { diameter });
        }
        Ok(Self { diameter })
    }

    /// Diameter of the circle to punch with.
    #[must_use]
    pub const fn diameter(self) -> Length {
        self.diameter
    }

    /// How far the notch reaches in from the edge, in mm.
    #[must_use]
    pub fn radius_mm(self) -> f64 {
        self.diameter.mm() / 2.0
    }

    /// Area of the waste in mm².
    #[must_use]
    pub fn area_mm2(self) -> f64 {
        std::f64::consts::PI * self.radius_mm().powi(2) / 2.0
    }

    /// Whether the notch fits an edge `edge_mm` long with `depth_mm` of panel behind it.
    ///
    /// # Errors
    /// [`FingerNotchError`] if the circle is as wide as the edge, or half of it as deep as the
    /// panel.
    pub fn check_fits(self, edge_mm: f64, depth_mm: f64) -> Result<(), FingerNotchError> {
        let diameter = self.diameter;
        if diameter.mm() >= edge_mm {
            Err(FingerNotchError::WiderThanEdge { diameter, edge_mm })
        } else if self.radius_mm() >= depth_mm {
            Err(FingerNotchError::DeeperThanPanel { diameter, depth_mm })
        } else {
            Ok(())
        }
    }

    /// The half circle, mm: mouth centred at `middle` of the edge, reaching `inward` (any
    /// length). Runs counter-clockwise when y is up.
    #[must_use]
    pub fn outline(self, middle: Point, inward: Vec2) -> BezPath {
        const TOLERANCE_MM: f64 = 1e-6;
        let start = inward.atan2() - std::f64::consts::FRAC_PI_2;
        let radius = Vec2::new(self.radius_mm(), self.radius_mm());
        let mut path =
            Arc::new(middle, radius, start, std::f64::consts::PI, 0.0).to_path(TOLERANCE_MM);
        path.close_path();
        path
    }

    /// [`Self::outline`] as a polygon of `sides` chords, for patterns.
    #[must_use]
    pub fn polygon(self, middle: Point, inward: Vec2, sides: u32) -> Vec<Point> {
        let start = inward.atan2() - std::f64::consts::FRAC_PI_2;
        let sides = sides.max(1);
        (0..=sides)
            .map(|i| {
                let angle = start + std::f64::consts::PI * f64::from(i) / f64::from(sides);
                middle + self.radius_mm() * Vec2::from_angle(angle)
            })
            .collect()
    }
}

impl TryFrom<Length> for FingerNotch {
    type Error = FingerNotchError;
    fn try_from(diameter: Length) -> Result<Self, FingerNotchError> {
        Self::half_of(diameter)
    }
}

impl From<FingerNotch> for Length {
    fn from(notch: FingerNotch) -> Self {
        notch.diameter
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn eighths(n: i64) -> Length {
        Length::from_nm(n * 3_175_000)
    }

    #[test]
    fn a_notch_is_half_of_a_half_inch_circle() {
        // Common practice, no source.
        let notch = FingerNotch::half_of(eighths(4)).unwrap();
        assert_eq!(notch.radius_mm(), 6.35);
        let whole = std::f64::consts::PI * 12.7 * 12.7 / 4.0;
        assert!((notch.area_mm2() - whole / 2.0).abs() < 1e-9);
    }

    #[test]
    fn the_outline_has_the_area_of_half_a_circle_and_points_inward() {
        let notch = FingerNotch::half_of(eighths(4)).unwrap();
        for inward in [
            Vec2::new(0.0, -1.0),
            Vec2::new(3.0, 0.0),
            Vec2::new(-1.0, 2.0),
        ] {
            let middle = Point::new(20.0, 5.0);
            let path = notch.outline(middle, inward);
            assert!((path.area() - notch.area_mm2()).abs() < 1e-4, "{inward:?}");
            // The centroid of half a disc lies 4r/3π from its diameter.
            let deep = middle + inward.normalize() * (notch.radius_mm() * 0.9);
            assert!(path.contains(deep), "{inward:?}");
            let corners = notch.polygon(middle, inward, 16);
            assert!(
                corners.iter().all(|&c| (c - middle).dot(inward) > -1e-9),
                "{inward:?}"
            );
        }
    }

    #[test]
    fn a_notch_in_json_is_checked() {
        let notch: FingerNotch = serde_json::from_str("\"1/2 in\"").unwrap();
        assert_eq!(notch.diameter(), eighths(4));
        assert_eq!(serde_json::to_string(&notch).unwrap(), "\"12.7 mm\"");
        assert!(serde_json::from_str::<FingerNotch>("\"0 mm\"").is_err());
    }

    #[test]
    fn a_notch_must_be_narrower_than_its_edge_and_shallower_than_its_panel() {
        let notch = FingerNotch::half_of(eighths(4)).unwrap();
        assert_eq!(notch.check_fits(12.8, 6.4), Ok(()));
        insta::assert_snapshot!(notch.check_fits(12.7, 50.0).unwrap_err(), @"A finger notch from a circle of 12.7 mm takes the whole edge of 12.7 mm (0.50 in). Use a smaller circle.");
        insta::assert_snapshot!(notch.check_fits(44.0, 6.35).unwrap_err(), @"A finger notch from a circle of 12.7 mm cuts through the panel, ≈ 6.3 mm (0.25 in) deep. Use a smaller circle.");
        insta::assert_snapshot!(FingerNotch::half_of(Length::ZERO).unwrap_err(), @"A circle of 0 mm cannot be punched for a finger notch. Give more than 0 and at most 10 m.");
    }
}
