//! Whether two panels pass through each other, and how deep.

use kurbo::Point;

use crate::polygon::edges;
use crate::{Pose, Vec3};

/// A panel at one moment: its outline on the flat sheet, where it is, its corners there.
#[derive(Clone, Copy)]
pub(super) struct Placed<'a> {
    pub(super) outline: &'a [Point],
    pub(super) pose: &'a Pose,
    pub(super) corners: &'a [Vec3],
}

/// How far each of two panels sticks through the other, mm; 0 if they at most touch.
///
/// The planes meet in a line; where the line runs through both panels they cross. The depth is
/// the least that one of them would have to draw back.
pub(super) fn crossing_depth(one: &Placed<'_>, other: &Placed<'_>) -> f64 {
    let through_one = sides(one, other.corners);
    let through_other = sides(other, one.corners);
    let depth = through_one.min(through_other);
    if depth < 1e-9 || !meet(one, other) {
        0.0
    } else {
        depth
    }
}

/// The lesser of how far the corners reach to either side of a panel's plane.
fn sides(panel: &Placed<'_>, corners: &[Vec3]) -> f64 {
    let (mut below, mut above) = (0.0_f64, 0.0_f64);
    for &corner in corners {
        let height = panel.pose.flat_of(corner).1;
        above = above.max(height);
        below = below.max(-height);
    }
    above.min(below)
}

/// Whether the line in which the planes meet runs through both panels at once.
fn meet(one: &Placed<'_>, other: &Placed<'_>) -> bool {
    let line = one.pose.inside_normal().cross(other.pose.inside_normal());
    if line.length() < 1e-9 {
        return false;
    }
    let line = line.unit();
    let these = inside_intervals(one, other, line);
    let those = inside_intervals(other, one, line);
    these
        .iter()
        .any(|(a, b)| those.iter().any(|(c, d)| b.min(*d) - a.max(*c) > 1e-6))
}

/// The stretches of the line that lie inside `panel`: where its outline pierces the plane of
/// `cut`, taken in pairs along the line.
fn inside_intervals(panel: &Placed<'_>, cut: &Placed<'_>, line: Vec3) -> Vec<(f64, f64)> {
    let mut at: Vec<f64> = Vec::new();
    let height = |p: Vec3| {
        let h = cut.pose.flat_of(p).1;
        // A corner in the plane counts as above it, so that pairs stay pairs.
        if h.abs() < 1e-9 { 0.0 } else { h }
    };
    for (a, b) in edges(panel.outline) {
        let (a, b) = (panel.pose.place(a), panel.pose.place(b));
        let (ha, hb) = (height(a), height(b));
        if (ha >= 0.0) != (hb >= 0.0) {
            at.push(line.dot(a + (b - a) * (ha / (ha - hb))));
        }
    }
    at.sort_by(f64::total_cmp);
    at.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Whether any of a panel lies inside the block between two corners.
pub(super) fn enters(corners: &[Vec3], low: Vec3, high: Vec3) -> bool {
    let planes = [
        (Vec3::new(1.0, 0.0, 0.0), low.x),
        (Vec3::new(-1.0, 0.0, 0.0), -high.x),
        (Vec3::new(0.0, 1.0, 0.0), low.y),
        (Vec3::new(0.0, -1.0, 0.0), -high.y),
        (Vec3::new(0.0, 0.0, 1.0), low.z),
        (Vec3::new(0.0, 0.0, -1.0), -high.z),
    ];
    let mut rest = corners.to_vec();
    for (normal, offset) in planes {
        let mut kept = Vec::with_capacity(rest.len() + 1);
        for (&p, &q) in rest.iter().zip(rest.iter().cycle().skip(1)) {
            let (hp, hq) = (normal.dot(p) - offset, normal.dot(q) - offset);
            if hp > 0.0 {
                kept.push(p);
            }
            if (hp > 0.0) != (hq > 0.0) {
                kept.push(p + (q - p) * (hp / (hp - hq)));
            }
        }
        rest = kept;
    }
    !rest.is_empty()
}
