//! Rectangles at any angle: where words stand, and whether something is in their way.

use tablefold_geometry::Point;

/// A line with two ends, mm.
pub(super) type Segment = [Point; 2];

/// The corners of a rectangle, in order round it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Quad(pub(super) [Point; 4]);

impl Quad {
    /// Round a middle, its width along `angle_deg` (clockwise on the page, y being down).
    pub(super) fn round(middle: Point, (width, height): (f64, f64), angle_deg: f64) -> Self {
        let corner = |x: f64, y: f64| {
            let (x, y) = turn((x * width / 2.0, y * height / 2.0), angle_deg);
            Point::new(middle.x + x, middle.y + y)
        };
        Self([
            corner(-1.0, -1.0),
            corner(1.0, -1.0),
            corner(1.0, 1.0),
            corner(-1.0, 1.0),
        ])
    }

    pub(super) fn sides(&self) -> impl Iterator<Item = Segment> + '_ {
        sides(&self.0)
    }

    pub(super) fn overlaps(&self, other: &Self) -> bool {
        let crosses = self
            .sides()
            .any(|one| other.sides().any(|two| cross(one, two)));
        crosses || inside(self.0[0], &other.0) || inside(other.0[0], &self.0)
    }

    /// Whether a line runs through it or ends in it.
    pub(super) fn meets(&self, line: Segment) -> bool {
        inside(line[0], &self.0) || self.sides().any(|side| cross(side, line))
    }

    /// Whether it lies wholly inside a polygon.
    pub(super) fn lies_in(&self, polygon: &[Point]) -> bool {
        self.0.iter().all(|&corner| inside(corner, polygon))
            && !sides(polygon).any(|edge| self.meets(edge))
    }
}

/// Turned clockwise on the page (y down); quarter turns are exact.
pub(super) fn turn((x, y): (f64, f64), angle_deg: f64) -> (f64, f64) {
    if angle_deg == 0.0 {
        return (x, y);
    }
    if angle_deg == 90.0 {
        return (-y, x);
    }
    let (sine, cosine) = angle_deg.to_radians().sin_cos();
    (x * cosine - y * sine, x * sine + y * cosine)
}

/// The edges of a polygon.
pub(super) fn sides(polygon: &[Point]) -> impl Iterator<Item = Segment> + '_ {
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|(&a, &b)| [a, b])
}

/// Whether a point lies in a polygon.
pub(super) fn inside(p: Point, polygon: &[Point]) -> bool {
    sides(polygon).fold(false, |is_in, [a, b]| {
        let beside = (a.y > p.y) != (b.y > p.y);
        let hit = beside && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x;
        is_in != hit
    })
}

/// Whether two lines cross, ends included.
fn cross([a, b]: Segment, [c, d]: Segment) -> bool {
    let side = |from: Point, to: Point, p: Point| (to - from).cross(p - from);
    let (one, two) = (side(a, b, c), side(a, b, d));
    let (three, four) = (side(c, d, a), side(c, d, b));
    let apart = |p: f64, q: f64| (p > 0.0 && q > 0.0) || (p < 0.0 && q < 0.0);
    if one == 0.0 && two == 0.0 && three == 0.0 && four == 0.0 {
        // On one line: they meet where both stretches do.
        let meet = |p: f64, q: f64, r: f64, s: f64| p.min(q) <= r.max(s) && r.min(s) <= p.max(q);
        return meet(a.x, b.x, c.x, d.x) && meet(a.y, b.y, c.y, d.y);
    }
    !apart(one, two) && !apart(three, four)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    #[test]
    fn lines_cross_touch_or_miss() {
        let flat = [p(0.0, 0.0), p(10.0, 0.0)];
        assert!(cross(flat, [p(5.0, -1.0), p(5.0, 1.0)]));
        assert!(cross(flat, [p(10.0, 0.0), p(12.0, 3.0)]), "at the end");
        assert!(cross(flat, [p(8.0, 0.0), p(20.0, 0.0)]), "along it");
        assert!(!cross(flat, [p(11.0, 0.0), p(20.0, 0.0)]));
        assert!(!cross(flat, [p(5.0, 0.1), p(5.0, 1.0)]));
    }

    #[test]
    fn a_word_lies_in_a_panel_until_it_is_too_long() {
        let panel = [p(0.0, 0.0), p(20.0, 0.0), p(20.0, 10.0), p(0.0, 10.0)];
        let word = |width, angle| Quad::round(p(10.0, 5.0), (width, 4.0), angle);
        assert!(word(18.0, 0.0).lies_in(&panel));
        assert!(!word(22.0, 0.0).lies_in(&panel));
        assert!(!word(18.0, 90.0).lies_in(&panel));
        assert!(word(8.0, 45.0).lies_in(&panel));
    }

    #[test]
    fn quads_overlap_where_one_holds_the_other() {
        let large = Quad::round(p(0.0, 0.0), (20.0, 20.0), 0.0);
        let small = Quad::round(p(1.0, 1.0), (2.0, 2.0), 45.0);
        assert!(large.overlaps(&small) && small.overlaps(&large));
        assert!(!small.overlaps(&Quad::round(p(9.0, 9.0), (2.0, 2.0), 0.0)));
    }
}
