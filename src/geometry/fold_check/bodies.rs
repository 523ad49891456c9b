//! A structure of several bodies: the check of each, and point 7, nests: one goes into the other.

use super::stack::{FacePlane, faces, taken_inside, taken_outside};
use super::{Check, ContentsBox, Worst, fold_check, fold_check_lying};
use crate::{Body, Face, Nest, Solid, Structure, Vec3};

/// The fold check of every body; of each point the worst, with the body's name where it fails.
pub(crate) fn bodies_check(structure: &Structure, contents: Option<&ContentsBox>) -> Vec<Check> {
    let lie = structure.kind().family().contents_lie(structure);
    let mut all = fold_check_lying(structure.pattern(), contents, lie.as_ref());
    let name_fault = |check: &mut Check, body: &Body| {
        if !check.holds {
            check.says = format!("The {}: {}", body.name, check.says);
        }
    };
    if structure.bodies().count() > 1 {
        for check in &mut all {
            name_fault(check, structure.main());
        }
    }
    for body in structure.bodies().skip(1) {
        for (so_far, mut check) in all.iter_mut().zip(fold_check(&body.pattern, None)) {
            name_fault(&mut check, body);
            // Room is asked of the body that holds the contents; the others have only to fold.
            let tighter = check.margin < so_far.margin && check.name != "clear";
            if so_far.holds && (!check.holds || tighter) {
                *so_far = check;
            }
        }
    }
    all
}

/// Whether each body that goes into another has the play that it needs; `None` where none does.
pub(crate) fn nest_check(structure: &Structure) -> Option<Check> {
    let bodies: Vec<&Body> = structure.bodies().collect();
    let mut worst = Worst::new(f64::INFINITY);
    for nest in structure.nests() {
        let (Some(inner), Some(outer)) = (bodies.get(nest.inner), bodies.get(nest.outer)) else {
            worst.note(-1.0, || "A body is missing.".to_owned());
            continue;
        };
        let needs = nest.play_mm + structure.load().stuck_on.mm();
        for (_, face, play) in plays(nest, inner, outer) {
            // Made to the very play, it differs by the rounding of the last digit.
            let spare = play - needs;
            let spare = if spare.abs() < 1e-9 { 0.0 } else { spare };
            worst.note(spare, || {
                format!(
                    "The {} has {play:.2} mm of play at the {face} of the {} and needs {needs:.2} mm.",
                    inner.name, outer.name,
                )
            });
        }
    }
    (!structure.nests().is_empty()).then(|| {
        worst.check("nests", "mm", |margin| {
            format!("What goes into each other has {margin:.2} mm to spare beyond its play.")
        })
    })
}

/// Play at each face that holds the inner body, as if the other side of the outer one gave as
/// much: twice the room between the outside of the one and the inside of the other, mm.
pub(crate) fn plays(nest: &Nest, inner: &Body, outer: &Body) -> Vec<(Face, &'static str, f64)> {
    let flat_sides = flat_sides(outer);
    // Paper that lies flat goes round what is in it: half a caliper at each edge.
    let at_edge = flat_sides.as_ref().map(|_| outer.pattern.caliper_mm / 2.0);
    let planes = faces(flat_sides.as_ref().unwrap_or(&outer.pattern.solid));
    let held = planes
        .iter()
        .filter(|plane| nest.faces.contains(&plane.face));
    held.map(|plane| {
        let height = |p: Vec3| {
            let in_piece = inner.place.move_point(p);
            plane.height(outer.place.move_back(in_piece))
        };
        let inner_planes = faces(&inner.pattern.solid);
        let corners = inner_planes.iter().flat_map(corners);
        let highest = corners.map(height).fold(f64::NEG_INFINITY, f64::max);
        let outward = outer.place.turn(plane.outward);
        let along = |it: &&FacePlane| inner.place.turn(it.outward).dot(outward) > 0.999;
        let paper = inner_planes.iter().find(along);
        let paper = paper.map_or(0.0, |it| taken_outside(&inner.pattern, it.face));
        let taken = at_edge.unwrap_or_else(|| taken_inside(&outer.pattern, plane.face));
        let gap = -highest - paper - taken;
        (plane.face, plane.name, 2.0 * gap)
    })
    .collect()
}

/// The edges of a piece that lies flat, as the sides of a box without depth.
fn flat_sides(body: &Body) -> Option<Solid> {
    match body.pattern.solid {
        Solid::Flat { x, y, .. } => Some(Solid::Box {
            x,
            y,
            z: 0.0,
            open: Vec::new(),
        }),
        _ => None,
    }
}

fn corners(plane: &FacePlane) -> Vec<Vec3> {
    plane.outline.iter().map(|&p| plane.in_space(p)).collect()
}
