//! Point 2, hinges: panels stay joined along their creases at every moment, and paper that is
//! joined on the flat sheet without a crease or a cut does not come apart.
//!
//! A smooth crease stands for paper that bends, and agrees whenever the paper is at rest: before
//! and after each step. On the way bent paper takes shapes that flat strips only come near to.

use kurbo::Point;

use super::moments::Moments;
use super::{Check, Worst};
use crate::polygon::{depth_inside, distance_to_segment, edges, left_of};
use crate::{Crease, Folded, Pattern, Pose};

/// Both panels of a crease agree on it to this many mm.
const TOLERANCE_MM: f64 = 1e-9;

pub(super) fn check(pattern: &Pattern, moments: &Moments) -> Check {
    let mut worst = Worst::new(TOLERANCE_MM);
    for (panel, corners) in pattern.panels.iter().zip(moments.closed.panels()) {
        if corners.is_empty() {
            worst.note(-1.0, || {
                format!("No crease joins the {} to the rest.", panel.name)
            });
        }
    }
    for (index, crease) in pattern.creases.iter().enumerate() {
        lies_between(pattern, crease, &mut worst);
        at_its_angle(pattern, moments, index, &mut worst);
        let mut look = |folded: &Folded, when: &dyn Fn() -> String| {
            let gap = gap(crease, folded);
            worst.note(TOLERANCE_MM - gap, || {
                format!(
                    "The crease {} comes apart by {gap:.6} mm {}.",
                    crease.name,
                    when()
                )
            });
        };
        look(&moments.closed, &|| "when closed".into());
        for (step, part, folded) in moments.each() {
            if crease.smooth && part < 1.0 {
                continue;
            }
            let name = pattern.folds.get(step).map_or("", |fold| fold.name);
            look(folded, &|| {
                format!("at {:.0} % of the fold {name}", part * 100.0)
            });
        }
    }
    final_angles(pattern, &mut worst);
    torn(pattern, &mut worst);
    worst.check("hinges", "mm", |_| {
        let at = moments.each().count() + 1;
        match pattern.creases.len() {
            1 => format!("The crease holds its panels together at {at} moments."),
            n => format!("{n} creases hold their panels together at {at} moments."),
        }
    })
}

/// The order of the hands has to end at the final angles.
fn final_angles(pattern: &Pattern, worst: &mut Worst) {
    let reached = pattern.angles_after(pattern.folds.len());
    for (crease, reached) in pattern.creases.iter().zip(reached) {
        let off = (crease.angle_deg - reached).abs();
        if off > 1e-9 {
            worst.note(-off, || {
                format!(
                    "The folds leave the crease {} at {reached}° and it should end at {}°.",
                    crease.name, crease.angle_deg,
                )
            });
        }
    }
}

/// A crease runs along the outlines of both its panels, the parent on its left.
fn lies_between(pattern: &Pattern, crease: &Crease, worst: &mut Worst) {
    let middle = crease.a.midpoint(crease.b);
    let left = left_of(crease.b - crease.a) * 1e-3;
    if (crease.b - crease.a).hypot() < 1e-6 {
        worst.note(-1.0, || {
            format!("The crease {} has no length.", crease.name)
        });
    }
    for (id, inwards) in [(crease.parent, left), (crease.child, -left)] {
        let Some(panel) = pattern.panel(id) else {
            continue;
        };
        let off = [crease.a, middle, crease.b]
            .map(|p| depth_inside(p, &panel.outline).abs())
            .into_iter()
            .fold(0.0, f64::max);
        worst.note(TOLERANCE_MM - off, || {
            format!(
                "The crease {} is {off:.6} mm off the edge of the {}.",
                crease.name, panel.name
            )
        });
        if depth_inside(middle + inwards, &panel.outline) < 0.0 {
            worst.note(-1.0, || {
                format!(
                    "The {} lies on the wrong side of the crease {}.",
                    panel.name, crease.name
                )
            });
        }
    }
}

/// How far apart the two panels see the ends of a crease, mm.
fn gap(crease: &Crease, folded: &Folded) -> f64 {
    let (Some(parent), Some(child)) = (folded.pose(crease.parent), folded.pose(crease.child))
    else {
        return f64::INFINITY;
    };
    [crease.a, crease.b]
        .map(|p| (parent.place(p) - child.place(p)).length())
        .into_iter()
        .fold(0.0, f64::max)
}

/// At rest, after each step, the two panels stand at the angle that the crease has then.
fn at_its_angle(pattern: &Pattern, moments: &Moments, index: usize, worst: &mut Worst) {
    let Some(crease) = pattern.creases.get(index) else {
        return;
    };
    for (after, folded) in moments.after.iter().enumerate() {
        let angle = pattern.angles_after(after).get(index).copied();
        let off = angle.map_or(f64::INFINITY, |angle| off_angle(crease, angle, folded));
        worst.note(TOLERANCE_MM - off, || {
            format!(
                "The crease {} is not at its angle after {after} folds: its panel is \
                 {off:.6} mm off at 1 mm from it.",
                crease.name,
            )
        });
    }
}

/// How far off the child is, 1 mm from the crease, where the crease has this angle, mm. Creases
/// in a ring round a vertex are not walked, so their angles have to agree of themselves.
fn off_angle(crease: &Crease, degrees: f64, folded: &Folded) -> f64 {
    let (Some(parent), Some(child)) = (folded.pose(crease.parent), folded.pose(crease.child))
    else {
        return f64::INFINITY;
    };
    let beside = crease.a + left_of(crease.b - crease.a);
    let turned = parent.after(&Pose::turn_about(crease.a, crease.b, -degrees));
    (turned.place(beside) - child.place(beside)).length()
}

/// Edges that two panels share have to be creases or cuts.
fn torn(pattern: &Pattern, worst: &mut Worst) {
    for (index, one) in pattern.panels.iter().enumerate() {
        for other in pattern.panels.iter().skip(index + 1) {
            for edge in edges(&one.outline) {
                let shared = edges(&other.outline).filter_map(|e| shared_part(edge, e));
                for (p, q) in shared {
                    if !is_parted(pattern, p, q) {
                        worst.note(-(q - p).hypot(), || {
                            format!(
                                "The {} and the {} are one paper along {:.2} mm: crease it or \
                                 cut it.",
                                one.name,
                                other.name,
                                (q - p).hypot(),
                            )
                        });
                    }
                }
            }
        }
    }
}

/// The piece that two edges have in common, if it is longer than a thousandth of a millimetre.
fn shared_part((a, b): (Point, Point), (c, d): (Point, Point)) -> Option<(Point, Point)> {
    let along = b - a;
    let length = along.hypot();
    if length <= 0.0 {
        return None;
    }
    let unit = along / length;
    let off = |p: Point| unit.cross(p - a).abs();
    if off(c) > 1e-6 || off(d) > 1e-6 {
        return None;
    }
    let (s, t) = (unit.dot(c - a), unit.dot(d - a));
    let (from, to) = (s.min(t).max(0.0), s.max(t).min(length));
    (to - from > 1e-3).then(|| (a + unit * from, a + unit * to))
}

fn is_parted(pattern: &Pattern, p: Point, q: Point) -> bool {
    let on = |a: Point, b: Point| {
        [p, q]
            .iter()
            .all(|&end| distance_to_segment(end, a, b) < 1e-6)
    };
    pattern.creases.iter().any(|crease| on(crease.a, crease.b))
        || pattern.cuts.iter().any(|cut| on(cut.a, cut.b))
}
