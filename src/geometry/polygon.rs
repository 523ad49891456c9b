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

/// The point deepest inside a polygon and its depth in mm, to a tenth of a millimetre:
/// twice the depth is the widest round dot (and so a sure width of strip) that fits.
pub(crate) fn deepest_point(outline: &[Point]) -> Option<(Point, f64)> {
    let rect = bounds(outline)?;
    let half = (rect.width().max(rect.height())) / 2.0;
    if !half.is_finite() || half <= 0.0 {
        return None;
    }
    let mut best = (rect.center(), depth_inside(rect.center(), outline));
    let mut cells = vec![(rect.center(), half)];
    // Quarter squares that could still hold a deeper point; the bound drops by half each time.
    while let Some((centre, half)) = cells.pop() {
        for (dx, dy) in [(-0.5, -0.5), (0.5, -0.5), (-0.5, 0.5), (0.5, 0.5)] {
            let p = centre + Vec2::new(dx, dy) * half;
            let depth = depth_inside(p, outline);
            if depth > best.1 {
                best = (p, depth);
            }
            if depth + half * std::f64::consts::FRAC_1_SQRT_2 > best.1 + 0.1 {
                cells.push((p, half / 2.0));
            }
        }
    }
    Some(best)
}
