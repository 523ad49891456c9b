//! Areas of the plane with holes and islands, on an exact integer grid.
//!
//! One step of the grid is 2^-34 mm (6e-11 mm), so that a sheet of 10 m fits well inside the
//! range of the engine (2^62) and an area errs by less than 1e-7 mm² on a 300 mm sheet.

use std::borrow::Cow;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;
use kurbo::{Point, Vec2};

use crate::polygon::{convex_overlap, deepest_point, is_convex, signed_area};

const STEPS_PER_MM: f64 = (1_u64 << 34) as f64;
/// Nothing on paper is longer; further corners are brought here.
const FAR_MM: f64 = 1e8;

type Ring = Vec<IntPoint<i64>>;

/// An area of the plane, in mm.
#[derive(Clone, Debug, Default)]
pub(crate) struct Region {
    shapes: Vec<Vec<Ring>>,
}

impl Region {
    /// Everything that at least one outline covers; outlines may run either way.
    pub(crate) fn union(outlines: &[&[Point]]) -> Self {
        let rings: Vec<Ring> = outlines.iter().map(|outline| ring(outline)).collect();
        let shapes = Overlay::from_subj(&rings).overlay(OverlayRule::Subject, FillRule::NonZero);
        Self { shapes }
    }

    /// Rings that bound areas and holes, as [`Region::rings`] gives them: a point inside an even
    /// number of them is outside.
    pub(crate) fn evenly(rings: &[&[Point]]) -> Self {
        let rings: Vec<Ring> = rings.iter().map(|outline| ring(outline)).collect();
        let shapes = Overlay::from_subj(&rings).overlay(OverlayRule::Subject, FillRule::EvenOdd);
        Self { shapes }
    }

    /// What some outlines cover and none of the others does; each may run either way.
    pub(crate) fn difference(outlines: &[&[Point]], others: &[&[Point]]) -> Self {
        let rings = |outlines: &[&[Point]]| -> Vec<Ring> {
            outlines.iter().map(|outline| ring(outline)).collect()
        };
        let shapes = Overlay::from_subj_and_clip(&rings(outlines), &rings(others))
            .overlay(OverlayRule::Difference, FillRule::NonZero);
        Self { shapes }
    }

    /// What both cover.
    pub(crate) fn intersect(&self, other: &Self) -> Self {
        self.combine(other, OverlayRule::Intersect)
    }

    /// What this covers and the other does not.
    pub(crate) fn minus(&self, other: &Self) -> Self {
        self.combine(other, OverlayRule::Difference)
    }

    fn combine(&self, other: &Self, rule: OverlayRule) -> Self {
        if self.shapes.is_empty() {
            return match rule {
                OverlayRule::Intersect | OverlayRule::Difference => Self::default(),
                _ => other.clone(),
            };
        }
        let shapes = Overlay::from_subj_and_clip(&self.shapes, &other.shapes)
            .overlay(rule, FillRule::NonZero);
        Self { shapes }
    }

    /// Area in mm².
    pub(crate) fn area(&self) -> f64 {
        let twice: i128 = self
            .shapes
            .iter()
            .flatten()
            .map(|ring| twice_area(ring))
            .sum();
        twice.unsigned_abs() as f64 / (2.0 * STEPS_PER_MM * STEPS_PER_MM)
    }

    /// The rings as outlines in mm: outer ones and holes run opposite ways.
    pub(crate) fn rings(&self) -> Vec<Vec<Point>> {
        let back =
            |p: &IntPoint<i64>| Point::new(p.x as f64 / STEPS_PER_MM, p.y as f64 / STEPS_PER_MM);
        self.shapes
            .iter()
            .flatten()
            .map(|ring| ring.iter().map(back).collect())
            .collect()
    }
}

/// Area that two outlines share, mm².
pub(crate) fn shared_area(one: &[Point], other: &[Point]) -> f64 {
    shared_spot(one, other).0
}

/// Area that two outlines share, mm², and a point inside it, if there is any.
pub(crate) fn shared_spot(one: &[Point], other: &[Point]) -> (f64, Option<Point>) {
    let (one, other) = (ccw(one), ccw(other));
    // Convex outlines, almost all there are, need no engine.
    if is_convex(&one) && is_convex(&other) {
        let shared = convex_overlap(&one, &other);
        let sum = shared.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
        let middle = (!shared.is_empty()).then(|| (sum / shared.len() as f64).to_point());
        return (signed_area(&shared).max(0.0), middle);
    }
    let shared = overlap(&one, &other);
    let rings = shared.rings();
    let spots = rings.iter().filter_map(|ring| deepest_point(ring));
    let spot = spots.max_by(|p, q| p.1.total_cmp(&q.1)).map(|(p, _)| p);
    (shared.area(), spot)
}

fn ccw(outline: &[Point]) -> Cow<'_, [Point]> {
    if signed_area(outline) < 0.0 {
        Cow::Owned(outline.iter().rev().copied().collect())
    } else {
        Cow::Borrowed(outline)
    }
}

/// Area of `one` that `other` does not cover, mm².
pub(crate) fn area_outside(one: &[Point], other: &[Point]) -> f64 {
    (signed_area(one).abs() - shared_area(one, other)).max(0.0)
}

/// What two outlines both cover.
pub(crate) fn overlap(one: &[Point], other: &[Point]) -> Region {
    Region::union(&[one]).intersect(&Region::union(&[other]))
}

fn ring(outline: &[Point]) -> Ring {
    let step = |mm: f64| (mm.clamp(-FAR_MM, FAR_MM) * STEPS_PER_MM).round() as i64;
    let mut ring: Ring = outline
        .iter()
        .map(|p| IntPoint::new(step(p.x), step(p.y)))
        .collect();
    // The engine adds up windings: every outline counts the same way round.
    if twice_area(&ring) < 0 {
        ring.reverse();
    }
    ring
}

fn twice_area(ring: &[IntPoint<i64>]) -> i128 {
    let Some(&o) = ring.first() else { return 0 };
    let from = |p: &IntPoint<i64>| (i128::from(p.x - o.x), i128::from(p.y - o.y));
    ring.iter()
        .zip(ring.iter().cycle().skip(1))
        .map(|(p, q)| {
            let ((px, py), (qx, qy)) = (from(p), from(q));
            px * qy - qx * py
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, side: f64) -> Vec<Point> {
        vec![
            Point::new(x, y),
            Point::new(x + side, y),
            Point::new(x + side, y + side),
            Point::new(x, y + side),
        ]
    }

    #[test]
    fn union_counts_shared_paper_once_whichever_way_it_runs() {
        let (one, mut other) = (square(0.0, 0.0, 10.0), square(5.0, 5.0, 10.0));
        other.reverse();
        let area = Region::union(&[&one, &other]).area();
        assert!((area - 175.0).abs() < 1e-9, "{area}");
        let shared = overlap(&one, &other).area();
        assert!((shared - 25.0).abs() < 1e-9, "{shared}");
        assert!(
            (shared_area(&one, &other) - 25.0).abs() < 1e-9,
            "without the engine"
        );
        assert!((area_outside(&one, &other) - 75.0).abs() < 1e-9);
    }

    #[test]
    fn a_hole_is_not_area() {
        let (one, other) = (square(0.0, 0.0, 10.0), square(2.0, 2.0, 4.0));
        let ring = Region::union(&[&one]).minus(&Region::union(&[&other]));
        assert!((ring.area() - 84.0).abs() < 1e-9, "{}", ring.area());
        assert_eq!(ring.rings().len(), 2);
    }

    #[test]
    fn nothing_has_no_area() {
        assert_eq!(Region::union(&[]).area(), 0.0);
        let one = square(0.0, 0.0, 1.0);
        assert_eq!(overlap(&one, &square(3.0, 3.0, 1.0)).area(), 0.0);
    }

    #[test]
    fn no_corner_is_too_far_away() {
        let wild = [
            Point::new(f64::MAX, 0.0),
            Point::new(0.0, f64::INFINITY),
            Point::new(f64::NAN, f64::MIN),
        ];
        assert!(Region::union(&[&wild]).area().is_finite());
    }

    /// A star-shaped outline round a middle: one distance for each equal angle.
    fn star(middle: Point, reaches: &[f64]) -> Vec<Point> {
        let step = std::f64::consts::TAU / reaches.len() as f64;
        let corner =
            |(i, reach): (usize, &f64)| middle + Vec2::from_angle(i as f64 * step) * *reach;
        reaches.iter().enumerate().map(corner).collect()
    }

    fn geo_polygon(outline: &[Point]) -> geo::Polygon {
        let ring = outline
            .iter()
            .map(|p| geo::Coord { x: p.x, y: p.y })
            .collect::<Vec<_>>();
        geo::Polygon::new(ring.into(), Vec::new())
    }

    proptest::proptest! {
        /// Against the `geo` crate; and where both are convex, the engine against plain clipping.
        #[test]
        fn shared_areas_are_those_of_another_library(
            one in proptest::collection::vec(1.0_f64..50.0, 3..9),
            other in proptest::collection::vec(1.0_f64..50.0, 3..9),
            x in -40.0_f64..40.0,
            y in -40.0_f64..40.0,
        ) {
            use geo::{Area, BooleanOps};
            let (one, other) = (star(Point::ZERO, &one), star(Point::new(x, y), &other));
            let shared = shared_area(&one, &other);
            let theirs = geo_polygon(&one).intersection(&geo_polygon(&other)).unsigned_area();
            proptest::prop_assert!((shared - theirs).abs() < 1e-5, "{shared} {theirs}");
            let engine = overlap(&one, &other).area();
            proptest::prop_assert!((shared - engine).abs() < 1e-6, "{shared} {engine}");
            let outlines: [&[Point]; 2] = [&one, &other];
            let union = Region::union(&outlines).area();
            let sum = signed_area(&one) + signed_area(&other);
            proptest::prop_assert!((union + shared - sum).abs() < 1e-6, "{union} {shared} {sum}");
        }
    }
}
