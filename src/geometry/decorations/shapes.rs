//! Punched shapes: plain circles, squares and tags, and the rectangle of paper that each is
//! punched from.
//!
//! Outlines are in mm, centred at the origin, y up.
//!
//! ```text
//!      ____________
//!     /            |      a tag: two corners cut at 45°, a hole on the middle line,
//!    |  o          |      its centre `from_end` from the cut end
//!     \____________|
//! ```

use kurbo::{BezPath, Circle, Point, Rect, Shape as _};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::Length;

/// What to punch. Becomes a [`PunchedShape`] once it is known to be possible.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum Punch {
    /// A circle.
    Circle {
        /// Right across.
        diameter: Length,
    },
    /// A square.
    Square {
        /// Each side.
        side: Length,
    },
    /// A tag: a rectangle, perhaps with two corners cut off and a hole.
    Tag {
        /// Along the tag, from the cut end.
        length: Length,
        /// Across the tag.
        width: Length,
        /// How much of each side the two cut corners take; 0 leaves them square.
        corner: Length,
        /// A hole for a string, if any.
        hole: Option<TagHole>,
    },
}

/// A round hole on the middle line of a tag.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TagHole {
    /// Right across.
    pub diameter: Length,
    /// From the cut end of the tag to the middle of the hole.
    pub from_end: Length,
}

/// A shape that can be punched: its sides are positive, and a tag keeps paper round its hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Punch", into = "Punch")]
pub struct PunchedShape(Punch);

/// Why a shape cannot be punched.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum PunchError {
    /// A side is zero, negative or above 10 m.
    #[error("The {field} is {}. Give more than 0 and at most 10 m.", given.exact_text())]
    Side {
        /// The field to mark.
        field: &'static str,
        /// The length given.
        given: Length,
    },
    /// The cut corners meet, or run past the tag.
    #[error(
        "Corners cut by {} leave no end on the tag. Give 0 or more, and less than {}.",
        corner.exact_text(),
        less_than.exact_text()
    )]
    Corner {
        /// The corner given.
        corner: Length,
        /// It must be less than this.
        less_than: Length,
    },
    /// The hole breaks the edge of the tag.
    #[error(
        "A hole {} across, its middle {} from the end, breaks the edge of the tag. Move it in or make it smaller.",
        hole.diameter.exact_text(),
        hole.from_end.exact_text()
    )]
    Hole {
        /// The hole given.
        hole: TagHole,
    },
    /// The margin is negative or above 10 m.
    #[error("The margin is {}. Give 0 to 10 m.", given.exact_text())]
    Margin {
        /// The margin given.
        given: Length,
    },
}

impl PunchedShape {
    /// The shape, if it can be punched.
    ///
    /// # Errors
    /// [`PunchError`] unless all sides are above 0 and at most 10 m, the corners are less than
    /// half the width and less than the length, and the hole lies inside the tag.
    pub fn new(punch: Punch) -> Result<Self, PunchError> {
        match punch {
            Punch::Circle { diameter } => positive("diameter", diameter)?,
            Punch::Square { side } => positive("side", side)?,
            Punch::Tag {
                length,
                width,
                corner,
                hole,
            } => {
                positive("length", length)?;
                positive("width", width)?;
                let less_than = (width / 2).min(length);
                if corner < Length::ZERO || corner >= less_than {
                    return Err(PunchError::Corner { corner, less_than });
                }
                if let Some(hole) = hole {
                    positive("hole diameter", hole.diameter)?;
                    if !hole_fits(length, width, corner, hole) {
                        return Err(PunchError::Hole { hole });
                    }
                }
            }
        }
        Ok(Self(punch))
    }

    /// What it is.
    #[must_use]
    pub const fn punch(&self) -> Punch {
        self.0
    }

    /// Sides of the smallest rectangle round it.
    #[must_use]
    pub const fn size(&self) -> (Length, Length) {
        match self.0 {
            Punch::Circle { diameter } => (diameter, diameter),
            Punch::Square { side } => (side, side),
            Punch::Tag { length, width, .. } => (length, width),
        }
    }

    /// The rectangle to punch it from: the shape with `margin` left all round.
    ///
    /// # Errors
    /// [`PunchError::Margin`] unless 0 ≤ margin ≤ 10 m.
    pub fn blank(&self, margin: Length) -> Result<(Length, Length), PunchError> {
        if !(Length::ZERO..=Length::MAX).contains(&margin) {
            return Err(PunchError::Margin { given: margin });
        }
        let (width, height) = self.size();
        Ok((width + margin * 2, height + margin * 2))
    }

    /// Area of the piece in mm², without its hole.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        let disc = |diameter: Length| std::f64::consts::PI * diameter.mm().powi(2) / 4.0;
        match self.0 {
            Punch::Circle { diameter } => disc(diameter),
            Punch::Square { side } => side.mm().powi(2),
            Punch::Tag {
                length,
                width,
                corner,
                hole,
            } => {
                length.mm() * width.mm()
                    - corner.mm().powi(2)
                    - hole.map_or(0.0, |hole| disc(hole.diameter))
            }
        }
    }

    /// The outline; a hole is a second loop that runs the other way round.
    #[must_use]
    pub fn outline(&self) -> BezPath {
        const TOLERANCE_MM: f64 = 1e-6;
        let (width, height) = self.size();
        let (x, y) = (width.mm() / 2.0, height.mm() / 2.0);
        match self.0 {
            Punch::Circle { .. } => Circle::new(Point::ORIGIN, x).to_path(TOLERANCE_MM),
            Punch::Square { .. } => Rect::new(-x, -y, x, y).to_path(TOLERANCE_MM),
            Punch::Tag { corner, hole, .. } => {
                let mut path = tag_loop(x, y, corner.mm());
                if let Some(hole) = hole {
                    let centre = Point::new(hole.from_end.mm() - x, 0.0);
                    let round = Circle::new(centre, hole.diameter.mm() / 2.0);
                    path.extend(round.to_path(TOLERANCE_MM).reverse_subpaths());
                }
                path
            }
        }
    }
}

impl TryFrom<Punch> for PunchedShape {
    type Error = PunchError;
    fn try_from(punch: Punch) -> Result<Self, PunchError> {
        Self::new(punch)
    }
}

impl From<PunchedShape> for Punch {
    fn from(shape: PunchedShape) -> Self {
        shape.0
    }
}

fn positive(field: &'static str, given: Length) -> Result<(), PunchError> {
    if given <= Length::ZERO || given > Length::MAX {
        return Err(PunchError::Side { field, given });
    }
    Ok(())
}

/// Whether the hole keeps clear of both ends, both sides and the cut corners.
fn hole_fits(length: Length, width: Length, corner: Length, hole: TagHole) -> bool {
    let (length, width) = (length.mm(), width.mm());
    let (centre, radius) = (hole.from_end.mm(), hole.diameter.mm() / 2.0);
    // Distance from the middle line to the line x + y = corner, measured square to it.
    let to_corner = (centre + width / 2.0 - corner.mm()) / std::f64::consts::SQRT_2;
    [centre, length - centre, width / 2.0, to_corner]
        .iter()
        .all(|&room| room > radius)
}

fn tag_loop(x: f64, y: f64, corner: f64) -> BezPath {
    let mut points = vec![Point::new(x, -y), Point::new(x, y)];
    if corner > 0.0 {
        points.extend([
            Point::new(corner - x, y),
            Point::new(-x, y - corner),
            Point::new(-x, corner - y),
            Point::new(corner - x, -y),
        ]);
    } else {
        points.extend([Point::new(-x, y), Point::new(-x, -y)]);
    }
    let mut path = BezPath::new();
    path.move_to(points[0]);
    for &point in &points[1..] {
        path.line_to(point);
    }
    path.close_path();
    path
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn tag(length: i64, width: i64, corner: i64, hole: Option<(i64, i64)>) -> Punch {
        Punch::Tag {
            length: Length::from_mm(length),
            width: Length::from_mm(width),
            corner: Length::from_mm(corner),
            hole: hole.map(|(diameter, from_end)| TagHole {
                diameter: Length::from_mm(diameter),
                from_end: Length::from_mm(from_end),
            }),
        }
    }

    #[test]
    fn a_tag_loses_two_half_squares_and_its_hole() {
        let shape = PunchedShape::new(tag(70, 40, 10, Some((6, 12)))).unwrap();
        // By hand: 70 · 40 − 2 · (10 · 10 / 2) − π · 3².
        let by_hand = 2800.0 - 100.0 - 28.274_333_882;
        assert!((shape.area_mm2() - by_hand).abs() < 1e-6);
        let drawn = shape.outline();
        assert!((drawn.area() - by_hand).abs() < 1e-4, "{}", drawn.area());
        assert!(
            drawn.winding(Point::new(12.0 - 35.0, 0.0)) == 0,
            "the hole is open"
        );
    }

    #[test]
    fn the_blank_has_the_margin_on_every_side() {
        let shape = PunchedShape::new(tag(70, 40, 0, None)).unwrap();
        assert_eq!(
            shape.blank(Length::from_mm(3)),
            Ok((Length::from_mm(76), Length::from_mm(46)))
        );
        insta::assert_snapshot!(shape.blank(Length::from_mm(-3)).unwrap_err(), @"The margin is -3 mm. Give 0 to 10 m.");
    }

    #[test]
    fn what_cannot_be_punched_is_refused_with_what_would_do() {
        let say = |punch| PunchedShape::new(punch).unwrap_err();
        let nothing = Punch::Circle {
            diameter: Length::ZERO,
        };
        insta::assert_snapshot!(say(nothing), @"The diameter is 0 mm. Give more than 0 and at most 10 m.");
        insta::assert_snapshot!(say(tag(70, i64::MAX / 1_000_000, 0, None)), @"The width is 9223372036854 mm. Give more than 0 and at most 10 m.");
        insta::assert_snapshot!(say(tag(70, 40, 20, None)), @"Corners cut by 20 mm leave no end on the tag. Give 0 or more, and less than 20 mm.");
        insta::assert_snapshot!(say(tag(70, 40, 10, Some((6, 3)))), @"A hole 6 mm across, its middle 3 mm from the end, breaks the edge of the tag. Move it in or make it smaller.");
        insta::assert_snapshot!(say(tag(70, 40, 10, Some((0, 12)))), @"The hole diameter is 0 mm. Give more than 0 and at most 10 m.");
    }

    #[test]
    fn a_hole_may_not_break_a_cut_corner() {
        // 19 mm corners on a 40 mm tag: the end is 2 mm wide, so 45° lines pass
        // (3 + 20 − 19) / √2 = 2.83 mm from a centre 3 mm in.
        assert!(PunchedShape::new(tag(70, 40, 19, Some((5, 3)))).is_ok());
        assert!(PunchedShape::new(tag(70, 40, 0, Some((5, 3)))).is_ok());
        let near = Punch::Tag {
            length: Length::from_mm(70),
            width: Length::from_mm(40),
            corner: Length::from_mm(19),
            hole: Some(TagHole {
                diameter: Length::from_nm(5_800_000),
                from_end: Length::from_mm(3),
            }),
        };
        assert!(PunchedShape::new(near).is_err());
    }

    #[test]
    fn a_shape_in_json_is_checked() {
        let text =
            r#"{"shape": "tag", "length": 70, "width": 40, "corner": "10 mm", "hole": null}"#;
        let shape: PunchedShape = serde_json::from_str(text).unwrap();
        assert_eq!(shape.punch(), tag(70, 40, 10, None));
        assert!(serde_json::from_str::<PunchedShape>(&text.replace("10 mm", "30 mm")).is_err());
    }

    proptest! {
        #[test]
        fn outlines_have_the_area_they_claim_and_lie_in_their_size(
            length in 20..300i64, width in 20..300i64, corner in 0..9i64,
        ) {
            for punch in [
                tag(length, width, corner, Some((5, 8 + corner))),
                Punch::Square { side: Length::from_mm(length) },
                Punch::Circle { diameter: Length::from_mm(length) },
            ] {
                let Ok(shape) = PunchedShape::new(punch) else { continue };
                let path = shape.outline();
                let area = shape.area_mm2();
                prop_assert!((path.area() - area).abs() < 1e-5 * area, "{} {area}", path.area());
                let (size, bounds) = (shape.size(), path.bounding_box());
                prop_assert!((bounds.width() - size.0.mm()).abs() < 1e-5);
                prop_assert!((bounds.height() - size.1.mm()).abs() < 1e-5);
            }
        }
    }
}
