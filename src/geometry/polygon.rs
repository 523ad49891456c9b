//! Plane polygons: area, clipping by a straight line, distances. Counter-clockwise is positive.

use kurbo::{Point, Vec2};

/// Signed area in mm²: positive if counter-clockwise.
#[must_use]
pub fn signed_area(outline: &[Point]) -> f64 {
    // Relative to the first corner: no digits are lost on a polygon far from the origin.
    let Some(&origin) = outline.first() else {
        return 0.0;
    };
    edges(outline)
        .map(|(a, b)| (a - origin).cross(b - origin))
        .sum::<f64>()
        / 2.0
}

/// The edges, each from a corner to the next, closing the ring.
pub(crate) fn edges(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    outline
        .iter()
        .copied()
        .zip(outline.iter().copied().cycle().skip(1))
}

/// The part of a convex polygon on the left of the line from `a` towards `b`.
pub(crate) fn keep_left(outline: &[Point], a: Point, b: Point) -> Vec<Point> {
    let normal = left_of(b - a);
    let height = |p: Point| {
        let h = normal.dot(p - a);
        // A corner on the line, but for rounding, is on the line.
        if h.abs() < 1e-9 { 0.0 } else { h }
    };
    let mut kept = Vec::with_capacity(outline.len() + 1);
    for (p, q) in edges(outline) {
        let (hp, hq) = (height(p), height(q));
        if hp >= 0.0 {
            kept.push(p);
        }
        if hp * hq < 0.0 {
            kept.push(p.lerp(q, hp / (hp - hq)));
        }
    }
    if kept.len() < 3 || signed_area(&kept).abs() < 1e-9 {
        Vec::new()
    } else {
        kept
    }
}

/// What two convex counter-clockwise polygons have in common.
pub(crate) fn convex_overlap(one: &[Point], other: &[Point]) -> Vec<Point> {
    edges(other).fold(one.to_vec(), |rest, (a, b)| keep_left(&rest, a, b))
}

/// The unit vector at a right angle to `v`, on its left.
pub(crate) fn left_of(v: Vec2) -> Vec2 {
    let length = v.hypot();
    if length > 0.0 {
        Vec2::new(-v.y, v.x) / length
    } else {
        Vec2::ZERO
    }
}

/// Distance from a point to a piece of a line, mm.
pub(crate) fn distance_to_segment(p: Point, a: Point, b: Point) -> f64 {
    let along = b - a;
    let length2 = along.hypot2();
    let part = if length2 > 0.0 {
        ((p - a).dot(along) / length2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p - (a + along * part)).hypot()
}

/// How deep a point lies inside a polygon, mm: distance to the outline, negative outside.
pub(crate) fn depth_inside(p: Point, outline: &[Point]) -> f64 {
    let mut inside = false;
    let mut distance = f64::INFINITY;
    for (a, b) in edges(outline) {
        distance = distance.min(distance_to_segment(p, a, b));
        if (a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x {
            inside = !inside;
        }
    }
    if inside { distance } else { -distance }
}

/// Smallest and largest x and y of some points.
pub(crate) fn bounds(points: &[Point]) -> Option<kurbo::Rect> {
    let first = *points.first()?;
    let start = kurbo::Rect::from_points(first, first);
    Some(points.iter().fold(start, |rect, &p| rect.union_pt(p)))
}

/// Whether an outline never turns right; straight runs are allowed, and it goes round once.
pub(crate) fn is_convex(outline: &[Point]) -> bool {
    let corners = outline.iter().copied().cycle();
    let mut turned = 0.0;
    for ((a, b), c) in edges(outline).zip(corners.skip(2)) {
        let (this, next) = (b - a, c - b);
        let turn = this.cross(next);
        if turn < -1e-9 {
            return false;
        }
        turned += turn.atan2(this.dot(next));
    }
    turned < 1.5 * std::f64::consts::TAU
}

/// The point deepest inside a polygon and its depth in mm: twice the depth is the widest round
/// dot (and so a sure width of strip) that fits. Never too deep, and at most a fiftieth and
/// 0.05 mm short of the deepest.
pub(crate) fn deepest_point(outline: &[Point]) -> Option<(Point, f64)> {
    deepest_until(outline, f64::INFINITY)
}

/// Whether a round dot of this diameter fits into a polygon, but for a fiftieth and 0.05 mm.
pub(crate) fn dot_fits(outline: &[Point], diameter: f64) -> bool {
    deepest_until(outline, diameter / 2.0).is_some_and(|(_, depth)| 2.0 * depth >= diameter)
}

/// The deepest point, or the first one found that is as deep as asked.
fn deepest_until(outline: &[Point], asked: f64) -> Option<(Point, f64)> {
    let rect = bounds(outline)?;
    let half = (rect.width().max(rect.height())) / 2.0;
    if !half.is_finite() || half <= 0.0 {
        return None;
    }
    let sum = outline.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
    let middle = (sum / outline.len() as f64).to_point();
    let mut best = (middle, depth_inside(middle, outline));
    let mut cells = vec![(rect.center(), half)];
    let mut next = Vec::new();
    // Quarter squares that could still hold a deeper point; all of one size before smaller ones,
    // so that the best so far soon rules out most of them.
    while !cells.is_empty() && best.1 < asked {
        let mut deep: Vec<(Point, f64)> = Vec::with_capacity(4 * cells.len());
        for &(centre, half) in &cells {
            for (dx, dy) in [(-0.5, -0.5), (0.5, -0.5), (-0.5, 0.5), (0.5, 0.5)] {
                let p = centre + Vec2::new(dx, dy) * half;
                let depth = depth_inside(p, outline);
                if depth > best.1 {
                    best = (p, depth);
                }
                deep.push((p, depth));
            }
        }
        let half = cells.first().map_or(0.0, |cell| cell.1) / 2.0;
        let enough = best.1 * 1.02 + 0.05;
        let could = |&(p, depth): &(Point, f64)| {
            (depth + half * std::f64::consts::SQRT_2 > enough).then_some((p, half))
        };
        next.extend(deep.iter().filter_map(could));
        cells.clear();
        std::mem::swap(&mut cells, &mut next);
    }
    Some(best)
}
