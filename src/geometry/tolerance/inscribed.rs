//! The widest round dot in a convex outline (counter-clockwise), exactly.
//!
//! [`crate::GlueZone::width_mm`] is a safe width, good to a fiftieth; how it changes with a
//! setting needs the exact one. The deepest point of a convex outline is as far from each of
//! three of its edges and no nearer to any other: every three are tried.

use kurbo::{Point, Vec2};

use crate::polygon::{edges, is_convex, signed_area};

/// An edge as a line: the depth of p inside it is `off` - `out` · p.
struct Line {
    out: Vec2,
    off: f64,
}

/// Diameter of the widest dot, mm; `None` where the outline is not convex or has no area.
pub(super) fn inscribed_width(outline: &[Point]) -> Option<f64> {
    if !is_convex(outline) || signed_area(outline) < 1e-9 {
        return None;
    }
    let lines: Vec<Line> = edges(outline)
        .filter(|(a, b)| (*b - *a).hypot() > 1e-9)
        .map(|(a, b)| {
            let along = (b - a) / (b - a).hypot();
            let out = Vec2::new(along.y, -along.x);
            let off = out.dot(a.to_vec2());
            Line { out, off }
        })
        .collect();
    let mut widest: Option<f64> = None;
    for (i, one) in lines.iter().enumerate() {
        for (j, two) in lines.iter().enumerate().skip(i + 1) {
            for three in lines.iter().skip(j + 1) {
                let Some((centre, depth)) = touching([one, two, three]) else {
                    continue;
                };
                let inside = lines
                    .iter()
                    .all(|line| line.off - line.out.dot(centre) >= depth - 1e-9);
                if inside && widest.is_none_or(|widest| 2.0 * depth > widest) {
                    widest = Some(2.0 * depth);
                }
            }
        }
    }
    widest
}

/// The point as deep inside three lines, and its depth.
fn touching([one, two, three]: [&Line; 3]) -> Option<(Vec2, f64)> {
    // out · p + depth = off, less the first line's.
    let (a, b) = (two.out - one.out, three.out - one.out);
    let (p, q) = (two.off - one.off, three.off - one.off);
    let det = a.cross(b);
    if det.abs() < 1e-9 {
        return None;
    }
    let centre = Vec2::new(p * b.y - q * a.y, a.x * q - b.x * p) / det;
    let depth = one.off - one.out.dot(centre);
    (depth > 0.0).then_some((centre, depth))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outline(points: &[(f64, f64)]) -> Vec<Point> {
        points.iter().map(|&at| at.into()).collect()
    }

    /// A rectangle takes a dot as wide as its shorter side; a triangle with sides 3, 4, 5 one
    /// of diameter 3 + 4 - 5 (Euclid IV.4); a square cut at the corners its side.
    #[test]
    fn the_widest_dot_is_that_of_euclid() {
        let rectangle = outline(&[(0.0, 0.0), (50.0, 0.0), (50.0, 7.5), (0.0, 7.5)]);
        let triangle = outline(&[(0.0, 0.0), (4.0, 0.0), (0.0, 3.0)]);
        let cut = outline(&[
            (1.0, 0.0),
            (9.0, 0.0),
            (10.0, 1.0),
            (10.0, 10.0),
            (0.0, 10.0),
            (0.0, 1.0),
        ]);
        for (outline, width) in [(rectangle, 7.5), (triangle, 2.0), (cut, 10.0)] {
            let found = inscribed_width(&outline).unwrap();
            assert!((found - width).abs() < 1e-9, "{outline:?} {found}");
        }
    }

    #[test]
    fn what_is_not_convex_has_no_exact_width() {
        let hook = outline(&[(0.0, 0.0), (4.0, 0.0), (1.0, 1.0), (0.0, 4.0)]);
        assert_eq!(inscribed_width(&hook), None);
        assert_eq!(inscribed_width(&[]), None);
        assert_eq!(
            inscribed_width(&outline(&[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)])),
            None
        );
    }
}
