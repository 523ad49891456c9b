//! Where the eye is: one rule, the same for every picture of a piece.
//!
//! The piece lies on the table as it does in the flat pictures, y away from you. You look down at
//! it by [`HEIGHT_DEG`], from a little to the left or to the right: from the side that shows more
//! of the insides that the folds move and of the glue. Far away, so that parallel lines stay
//! parallel.
//!
//! ```text
//!         z ^  ^ y            eye = (sin a cos h, -cos a cos h, sin h)
//!           | /               a = AROUND_DEG to the right, negative to the left
//!           +--> x            right = (cos a, sin a, 0),  up = eye x right
//! ```

use kurbo::Point;

use crate::polygon::signed_area;
use crate::{Pattern, Side, Vec3, fold};

/// How far you look down: steep enough that a wall in front hides little of the inside.
const HEIGHT_DEG: f64 = 57.0;
/// How far from straight on.
const AROUND_DEG: f64 = 22.0;
/// Where the light comes from: left, the back, above; as shares of right, up the table, z.
const LIGHT: (f64, f64, f64) = (-0.5, -0.25, 0.83);
/// A side of a piece that looks away from the light by more is in the shade.
const LIT: f64 = 0.45;

/// From where a piece is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpaceView {
    right: Vec3,
    up: Vec3,
    eye: Vec3,
    light: Vec3,
    is_round: bool,
}

impl SpaceView {
    /// The view of a piece, for all its pictures.
    #[must_use]
    pub fn of(pattern: &Pattern) -> Self {
        let (right, left) = (Self::from_side(1.0), Self::from_side(-1.0));
        // Equal but for rounding stays on the right.
        if left.shows(pattern) > right.shows(pattern) * (1.0 + 1e-9) {
            left
        } else {
            right
        }
    }

    /// Seen from the right (1) or from the left (-1).
    fn from_side(side: f64) -> Self {
        let (sin_h, cos_h) = HEIGHT_DEG.to_radians().sin_cos();
        let (sin, cos) = (AROUND_DEG * side).to_radians().sin_cos();
        let eye = Vec3::new(sin * cos_h, -cos * cos_h, sin_h);
        let right = Vec3::new(cos, sin, 0.0);
        let away = Vec3::new(-sin, cos, 0.0);
        let (x, y, z) = LIGHT;
        Self {
            right,
            up: eye.cross(right),
            eye,
            light: (right * x + away * y + Vec3::new(0.0, 0.0, z)).unit(),
            is_round: false,
        }
    }

    /// The same piece turned end for end on the table: what was the far end is towards you.
    #[must_use]
    pub fn turned_round(self) -> Self {
        let round = |v: Vec3| Vec3::new(-v.x, -v.y, v.z);
        Self {
            right: round(self.right),
            up: round(self.up),
            eye: round(self.eye),
            light: round(self.light),
            is_round: !self.is_round,
        }
    }

    /// The view in which a fold is drawn, by its place in the pattern.
    pub(super) fn of_fold(self, pattern: &Pattern, fold: usize) -> Self {
        match pattern.folds.get(fold) {
            Some(fold) if fold.is_far => self.turned_round(),
            _ => self,
        }
    }

    /// Whether the piece is turned end for end.
    pub(super) const fn is_round(&self) -> bool {
        self.is_round
    }

    /// The same piece turned over like a page: its other side up.
    #[must_use]
    pub fn turned_over(self) -> Self {
        let over = |v: Vec3| Vec3::new(-v.x, v.y, -v.z);
        Self {
            right: over(self.right),
            up: over(self.up),
            eye: over(self.eye),
            light: over(self.light),
            is_round: self.is_round,
        }
    }

    /// How much the folds and the glue show of themselves, mm².
    fn shows(&self, pattern: &Pattern) -> f64 {
        let folds = (0..pattern.folds.len()).map(|step| {
            let eye = self.of_fold(pattern, step).eye;
            let folded = fold(pattern, &pattern.angles_during(step, 0.5));
            let creases = pattern.folds.get(step).map(|fold| fold.creases.iter());
            let moving = creases.into_iter().flatten().filter_map(|(crease, _)| {
                let id = pattern.creases.get(crease.0)?.child;
                let inside = folded.pose(id)?.inside_normal();
                let area = signed_area(&pattern.panel(id)?.outline);
                Some(area * inside.dot(eye).max(0.0))
            });
            moving.sum::<f64>()
        });
        let glue = pattern.glue.iter().filter_map(|zone| {
            let folded = fold(pattern, &pattern.angles_after(zone.with_fold));
            let eye = self.of_fold(pattern, zone.with_fold).eye;
            let inside = folded.pose(zone.on)?.inside_normal().dot(eye);
            let facing = if zone.on_side == Side::Inside {
                inside
            } else {
                -inside
            };
            Some(zone.area_mm2() * facing.max(0.0))
        });
        folds.sum::<f64>() + glue.sum::<f64>()
    }

    /// The direction to the eye, of length 1.
    pub(super) const fn eye(&self) -> Vec3 {
        self.eye
    }

    /// The ways that run right and up in the picture.
    pub(super) const fn across(&self) -> (Vec3, Vec3) {
        (self.right, self.up)
    }

    /// Where a point is in the picture, mm, y down.
    pub(super) fn seen(&self, p: Vec3) -> Point {
        Point::new(self.right.dot(p), -self.up.dot(p))
    }

    /// Whether a side that looks that way is in the shade.
    pub(super) fn is_in_shade(&self, normal: Vec3) -> bool {
        normal.dot(self.light) < LIT
    }
}
