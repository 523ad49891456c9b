//! Point 1, flat: panels are simple, disjoint and on the sheet; no paper is lost or invented.

use kurbo::Point;

use super::{Check, Worst};
use crate::polygon::{edges, signed_area};
use crate::region::Region;
use crate::{PanelId, Pattern};

/// Areas agree to this many mm².
const TOLERANCE_MM2: f64 = 1e-6;

/// Why the lists of a pattern do not even describe one.
pub(super) fn broken(pattern: &Pattern) -> Option<String> {
    let has = |id: PanelId| id.0 < pattern.panels.len();
    let ring = |outline: &[Point]| outline.len() >= 3 && outline.iter().all(|p| p.is_finite());
    if !has(pattern.root) {
        return Some("the root panel does not exist".into());
    }
    if !ring(&pattern.blank) {
        return Some("the sheet has no outline".into());
    }
    if let Some(panel) = pattern.panels.iter().find(|panel| !ring(&panel.outline)) {
        return Some(format!("the {} has no outline", panel.name));
    }
    let crease = pattern.creases.iter().find(|crease| {
        !(has(crease.parent) && has(crease.child))
            || crease.parent == crease.child
            || !(crease.a.is_finite() && crease.b.is_finite() && crease.angle_deg.abs() <= 180.0)
    });
    if let Some(crease) = crease {
        return Some(format!("the crease {} joins no two panels", crease.name));
    }
    let zone = pattern.glue.iter().find(|zone| {
        !(has(zone.on) && has(zone.to))
            || zone.on == zone.to
            || !ring(&zone.area)
            || zone.with_fold >= pattern.folds.len()
    });
    if let Some(zone) = zone {
        return Some(format!(
            "the glue of {} joins no two panels at any fold",
            zone.name
        ));
    }
    if pattern.waste.iter().any(|waste| !ring(&waste.outline)) {
        return Some("a bit of waste has no outline".into());
    }
    let known = |id: crate::CreaseId| id.0 < pattern.creases.len();
    let fold = pattern.folds.iter().find(|fold| {
        fold.creases
            .iter()
            .any(|(id, angle)| !known(*id) || angle.is_nan() || angle.abs() > 180.0)
    });
    fold.map(|fold| format!("the fold {} has no crease", fold.name))
}

pub(super) fn check(pattern: &Pattern) -> Check {
    let mut worst = Worst::new(TOLERANCE_MM2);
    if let Some(fault) = tangled(pattern) {
        // No area of a tangled outline means anything.
        worst.note(-1.0, || fault);
    } else {
        areas(pattern, &mut worst);
    }
    worst.check("flat", "mm²", |_| {
        format!(
            "{} panels lie flat side by side; panels and waste make up the sheet of {:.1} mm².",
            pattern.panels.len(),
            signed_area(&pattern.blank).abs(),
        )
    })
}

/// The first outline that crosses itself or runs the wrong way round.
fn tangled(pattern: &Pattern) -> Option<String> {
    pattern.panels.iter().find_map(|panel| {
        if let Some(at) = crosses_itself(&panel.outline) {
            return Some(format!(
                "The outline of the {} crosses itself near {at:.2}.",
                panel.name
            ));
        }
        (signed_area(&panel.outline) <= 0.0)
            .then(|| format!("The {} does not run counter-clockwise.", panel.name))
    })
}

/// Panels and waste are disjoint and make up the sheet.
fn areas(pattern: &Pattern, worst: &mut Worst) {
    let panels: Vec<&[Point]> = pattern
        .panels
        .iter()
        .map(|p| p.outline.as_slice())
        .collect();
    let waste: Vec<&[Point]> = pattern.waste.iter().map(|w| w.outline.as_slice()).collect();
    let everything: Vec<&[Point]> = panels.iter().chain(&waste).copied().collect();
    let area =
        |outlines: &[&[Point]]| -> f64 { outlines.iter().map(|o| signed_area(o).abs()).sum() };

    let blank = Region::union(&[&pattern.blank]);
    let covered = Region::union(&everything);
    let double = area(&everything) - covered.area();
    worst.note(TOLERANCE_MM2 - double.abs(), || {
        let shared = sharing(pattern).unwrap_or_else(|| "Bits of waste".into());
        format!("{shared} lie over each other on the flat sheet by {double:.6} mm².")
    });
    let outside = covered.minus(&blank).area();
    worst.note(TOLERANCE_MM2 - outside, || {
        format!("{outside:.6} mm² of the pattern lie outside the sheet.")
    });
    let lost = blank.minus(&covered).area();
    worst.note(TOLERANCE_MM2 - lost, || {
        format!("{lost:.6} mm² of the sheet are neither panel nor waste.")
    });
}

/// The first two panels that share paper.
fn sharing(pattern: &Pattern) -> Option<String> {
    let pairs = pattern.panels.iter().enumerate().flat_map(|(index, one)| {
        pattern
            .panels
            .iter()
            .skip(index + 1)
            .map(move |other| (one, other))
    });
    pairs
        .filter(|(one, other)| {
            crate::region::shared_area(&one.outline, &other.outline) > TOLERANCE_MM2
        })
        .map(|(one, other)| format!("The {} and the {}", one.name, other.name))
        .next()
}

/// Where two edges that are not neighbours meet.
fn crosses_itself(outline: &[Point]) -> Option<Point> {
    let edges: Vec<(Point, Point)> = edges(outline).collect();
    let side = |a: Point, b: Point, p: Point| (b - a).cross(p - a);
    for (i, &(a, b)) in edges.iter().enumerate() {
        for (j, &(c, d)) in edges.iter().enumerate().skip(i + 2) {
            if i == 0 && j == edges.len() - 1 {
                continue;
            }
            let apart = side(a, b, c) * side(a, b, d);
            let (from, to) = (side(c, d, a), side(c, d, b));
            if apart < 0.0 && from * to < 0.0 {
                return Some(a.lerp(b, from / (from - to)));
            }
        }
    }
    None
}
