//! Curves that panels follow with chords. Folding and pictures make do with the chords; a blade
//! and a printer follow the curve itself, nowhere further from it than [`SAG_MM`].
//!
//! ```text
//!        .-'''-.  sag s     radius r, chord c: s = c² / (8 r) but for terms of higher order,
//!      .'-------'.          and never more than that, so n = length / √(8 s r) pieces do
//!          c
//! ```

use std::f64::consts::{PI, TAU};

use kurbo::{Point, Vec2};

/// How far an exported line may be from its curve, mm: less than any hand or machine cuts to.
pub const SAG_MM: f64 = 0.02;

/// Corners this near are one, mm.
const SAME_MM: f64 = 1e-6;

/// What a run of chords stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CurveShape {
    /// A circle round this middle; each chord is of less than half of it.
    Circle(Point),
    /// y = top.y + radius · (cos((x − top.x) / |radius|) − 1) · sign, with the sign of `radius`:
    /// the plane section of a cylinder at 45°, unrolled.
    Cosine {
        /// Its highest point, or its lowest where the radius is negative.
        top: Point,
        /// Radius of the cylinder, mm.
        radius: f64,
    },
}

/// A run of edges or creases that is a curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Corners on it, in order along it, mm: the ends of its chords.
    pub corners: Vec<Point>,
    /// What it is.
    pub shape: CurveShape,
}

/// How many straight pieces keep within [`SAG_MM`] of so much of a curve, mm, of this least
/// radius, mm.
#[must_use]
pub fn straight_pieces(length: f64, radius: f64) -> usize {
    let pieces = (length.abs() / (8.0 * SAG_MM * radius.abs()).sqrt()).ceil();
    // Nothing that can be cut takes more; what is no number takes one.
    pieces.clamp(1.0, 100_000.0) as usize
}

impl Curve {
    /// The points of the curve between two corners that follow each other on it, either way;
    /// `None` where they do not.
    fn between(&self, from: Point, to: Point) -> Option<Vec<Point>> {
        let is = |one: Point, other: Point| (one - other).hypot() < SAME_MM;
        let mut chords = self.corners.iter().zip(self.corners.iter().skip(1));
        chords
            .any(|(&a, &b)| (is(a, from) && is(b, to)) || (is(a, to) && is(b, from)))
            .then(|| self.shape.between(from, to))
    }
}

impl CurveShape {
    fn between(self, from: Point, to: Point) -> Vec<Point> {
        let inner = |pieces: usize| (1..pieces).map(move |n| n as f64 / pieces as f64);
        match self {
            Self::Circle(middle) => {
                let (start, end) = (from - middle, to - middle);
                let turn = (end.atan2() - start.atan2() + PI).rem_euclid(TAU) - PI;
                let radius = start.hypot();
                let pieces = straight_pieces(radius * turn, radius);
                let at = |part| middle + Vec2::from_angle(start.atan2() + turn * part) * radius;
                inner(pieces).map(at).collect()
            }
            Self::Cosine { top, radius } => {
                let pieces = straight_pieces(to.x - from.x, radius);
                let at = |part: f64| {
                    let x = from.x + (to.x - from.x) * part;
                    let fall = 1.0 - ((x - top.x) / radius).cos();
                    Point::new(x, top.y - radius * fall)
                };
                inner(pieces).map(at).collect()
            }
        }
    }
}

/// A line with each chord of a curve replaced by the curve.
pub(crate) fn along_curves(line: Vec<Point>, closed: bool, curves: &[Curve]) -> Vec<Point> {
    if curves.is_empty() {
        return line;
    }
    let mut through = Vec::with_capacity(line.len());
    let wraps = usize::from(closed);
    let next = line.iter().cycle().skip(1);
    let edges = (line.len() + wraps).saturating_sub(1);
    for (&from, &to) in line.iter().zip(next).take(edges) {
        through.push(from);
        let between = curves.iter().find_map(|curve| curve.between(from, to));
        through.extend(between.into_iter().flatten());
    }
    if !closed {
        through.extend(line.last());
    }
    through
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sagitta of a chord c in a circle of radius r: r − √(r² − c²/4), by Pythagoras.
    #[test]
    fn a_circle_of_four_chords_becomes_one_within_the_sag() {
        for radius in [3.0, 25.0, 400.0] {
            let middle = Point::new(7.0, -2.0);
            let corner = |n: f64| middle + Vec2::from_angle(n * PI / 2.0) * radius;
            let mut corners: Vec<Point> = (0..4).map(|n| corner(f64::from(n))).collect();
            let ring = corners.clone();
            corners.push(ring[0]);
            let shape = CurveShape::Circle(middle);
            let round = along_curves(ring, true, &[Curve { corners, shape }]);
            let next = round.iter().cycle().skip(1);
            for (a, b) in round.iter().zip(next) {
                assert!(((*a - middle).hypot() - radius).abs() < 1e-9);
                let half = (*b - *a).hypot() / 2.0;
                let sag = radius - (radius * radius - half * half).sqrt();
                assert!(sag <= SAG_MM && half > 0.0, "{radius} {sag}");
            }
        }
    }

    #[test]
    fn an_edge_that_is_no_chord_of_the_curve_stays_straight() {
        let at = |angle: f64| Point::new(5.0 * angle.cos(), 5.0 * angle.sin());
        let corners: Vec<Point> = (0..=2).map(|n| at(PI * f64::from(n) / 2.0)).collect();
        let curve = Curve {
            corners: corners.clone(),
            shape: CurveShape::Circle(Point::ORIGIN),
        };
        let half = along_curves(corners, true, std::slice::from_ref(&curve));
        // The mouth of the half circle, from end to end, has both ends on the circle.
        assert!(half.iter().all(|p| p.y > -1e-9));
        let mouth = vec![at(0.0), at(PI)];
        assert_eq!(along_curves(mouth.clone(), false, &[curve]), mouth);
    }

    #[test]
    fn a_cosine_bends_up_or_down_as_its_radius_says() {
        let curve = |radius: f64| {
            let at = |x: f64| Point::new(x, 10.0 - radius * (1.0 - (x / radius).cos()));
            let corners = vec![at(-20.0), at(20.0)];
            let shape = CurveShape::Cosine {
                top: Point::new(0.0, 10.0),
                radius,
            };
            along_curves(corners.clone(), false, &[Curve { corners, shape }])
        };
        let middle = |line: Vec<Point>| line[line.len() / 2];
        // Beside the middle by one of at least 16 pieces at most.
        assert!(middle(curve(30.0)).y > 9.8);
        assert!(middle(curve(-30.0)).y < 10.2);
        assert!(curve(30.0).first().unwrap().y < 5.0);
    }
}
