//! Point 4, clear: nothing pokes into the contents, and no panel passes through another by more
//! than the paper between them, in the hands or in the closed piece.
//!
//! Panels fold as sheets without thickness; the thickness comes back as room. The wall of a face
//! (layer 0) takes half a caliper from the inside, each further layer inside it a whole one.

use super::crossing::{Placed, crossing_depth, enters};
use super::moments::Moments;
use super::stack::{FacePlane, IN_PLANE_MM, faces, facing, growing, order, plane_of, taken_inside};
use super::{Check, ContentsBox, Worst};
use crate::region::shared_spot;
use crate::{Face, Folded, Panel, PanelId, Pattern, Pose, Solid, Vec3};

/// Sheets share a place if they overlap by more, mm².
const OVERLAP_MM2: f64 = 1e-3;

pub(super) fn check(
    pattern: &Pattern,
    moments: &Moments,
    contents: Option<&ContentsBox>,
    lie: Option<&Pose>,
) -> Check {
    let faces = faces(&pattern.solid);
    let mut worst = Worst::new(f64::INFINITY);
    if let Some(contents) = contents {
        room(pattern, moments, &faces, (contents, lie), &mut worst);
    }
    let pairs = (0..pattern.panels.len())
        .flat_map(|i| (i + 1..pattern.panels.len()).map(move |j| (PanelId(i), PanelId(j))));
    let whole: Vec<Option<PanelId>> = (0..pattern.panels.len())
        .map(|id| pattern.bent_panel(PanelId(id)).first().copied())
        .collect();
    for (one, other) in pairs {
        let (Some(a), Some(b)) = (pattern.panel(one), pattern.panel(other)) else {
            continue;
        };
        // Strips of one bent panel part for a moment as it snaps over.
        if whole.get(one.0) != whole.get(other.0) {
            crossings(pattern, moments, (one, a), (other, b), &mut worst);
        }
        layers(pattern, moments, &faces, (one, a), (other, b), &mut worst);
    }
    if worst.margin == f64::INFINITY {
        worst.margin = pattern.caliper_mm;
    }
    worst.check("clear", "mm", |margin| match contents {
        Some(_) => {
            format!("The contents have {margin:.2} mm to spare, and no panel is in the way.")
        }
        None => "No panel passes through another.".into(),
    })
}

/// The room that the sheets inside each face leave, against what goes in.
fn room(
    pattern: &Pattern,
    moments: &Moments,
    faces: &[FacePlane],
    (contents, lie): (&ContentsBox, Option<&Pose>),
    worst: &mut Worst,
) {
    let Some((low, high)) = cavity(pattern, contents) else {
        return room_in_faces(pattern, moments, faces, (contents, lie), worst);
    };
    let have = high - low;
    let axes = [
        ("width", have.x, contents.x),
        ("length", have.y, contents.y),
        ("depth", have.z, contents.z),
    ];
    for (axis, have, needed) in axes {
        // Contents made to the very size differ from it by the rounding of the last digit.
        let spare = have - needed;
        let spare = if spare.abs() < 1e-9 { 0.0 } else { spare };
        worst.note(spare, || {
            format!("The contents need {needed:.2} mm in the {axis}; there are {have:.2} mm.")
        });
    }
    let middle = (low + high) * 0.5;
    let half = Vec3::new(contents.x, contents.y, contents.z) * 0.5;
    for (panel, corners) in pattern.panels.iter().zip(moments.closed.panels()) {
        let lies = faces.iter().any(|plane| plane.holds(corners));
        if !lies && enters(corners, middle - half, middle + half) {
            worst.note(-pattern.caliper_mm.max(f64::MIN_POSITIVE), || {
                format!("The {} stands in the way of the contents.", panel.name)
            });
        }
    }
}

/// Two corners of the room inside a closed box or a flat piece.
fn cavity(pattern: &Pattern, contents: &ContentsBox) -> Option<(Vec3, Vec3)> {
    let taken = |face: Face| taken_inside(pattern, face);
    match pattern.solid {
        Solid::Box { x, y, z, .. } => {
            let (left, bottom) = (taken(Face::Left) - x / 2.0, taken(Face::Bottom) - y / 2.0);
            let (right, top) = (x / 2.0 - taken(Face::Right), y / 2.0 - taken(Face::Top));
            let (front, back) = (taken(Face::Front), z - taken(Face::Back));
            Some((Vec3::new(left, bottom, front), Vec3::new(right, top, back)))
        }
        // What is in a flat piece has the paper bend round it: the girth stays what it is.
        Solid::Flat { x, y, .. } => {
            let lost = pattern.caliper_mm + contents.z;
            let (x, y) = ((x - lost) / 2.0, (y - lost) / 2.0);
            Some((Vec3::new(-x, -y, 0.0), Vec3::new(x, y, contents.z)))
        }
        Solid::Faces(_) => None,
    }
}

/// The room in a solid of any faces, for contents in its middle or where they lie: how much
/// larger they could be until a panel, moved in by the paper inside it, is in their way.
fn room_in_faces(
    pattern: &Pattern,
    moments: &Moments,
    faces: &[FacePlane],
    (contents, lie): (&ContentsBox, Option<&Pose>),
    worst: &mut Worst,
) {
    let (low, high) = pattern.solid.bounds();
    let middle = Pose::FLAT.shifted((low + high) * 0.5);
    let lie = lie.unwrap_or(&middle);
    let t = pattern.caliper_mm;
    let mut sheets: Vec<(&'static str, Vec<Vec3>)> = Vec::new();
    for (panel, corners) in pattern.panels.iter().zip(moments.closed.panels()) {
        let plane = plane_of(faces, panel).filter(|plane| plane.holds(corners));
        let inside = f64::from((-i16::from(panel.layer)).max(0));
        let by = plane.map_or(Vec3::default(), |plane| {
            plane.outward * (-(0.5 + inside) * t)
        });
        let seen = corners.iter().map(|&p| lie.move_back(p + by));
        sheets.push((panel.name, seen.collect()));
    }
    let half = Vec3::new(contents.x, contents.y, contents.z) * 0.5;
    let in_the_way = |larger: f64| {
        let half = half + Vec3::new(larger, larger, larger) * 0.5;
        let enters = |corners: &[Vec3]| enters(corners, -half, half);
        sheets.iter().find(|(_, corners)| enters(corners))
    };
    // Contents made to the very size touch; the same slack as for a box.
    let first = in_the_way(-1e-9);
    let least = contents.x.min(contents.y).min(contents.z);
    let (mut fits, mut does_not) = match first {
        Some(_) => (-least, 0.0),
        None => (0.0, (high - low).length()),
    };
    for _ in 0..40 {
        let between = f64::midpoint(fits, does_not);
        if in_the_way(between).is_some() {
            does_not = between;
        } else {
            fits = between;
        }
    }
    let spare = if fits.abs() < 1e-9 { 0.0 } else { fits };
    let spare = first.map_or(spare, |_| spare.min(-1e-6));
    worst.note(spare, || {
        let name = first.map_or("paper", |(name, _)| name);
        format!(
            "The {name} is in the way of the contents, which would fit if each side were {:.2} mm \
             less.",
            -spare
        )
    });
}

type Named<'a> = (PanelId, &'a Panel);

/// Panels that go through each other, at the moments at which one of them moves.
fn crossings(
    pattern: &Pattern,
    moments: &Moments,
    (one, a): Named<'_>,
    (other, b): Named<'_>,
    worst: &mut Worst,
) {
    // Sheets without thickness at most touch; what one sheet of paper gives way is let pass.
    let allowed = pattern.caliper_mm;
    let mut look = |folded: &Folded, when: &dyn Fn() -> String| {
        let (Some(at), Some(to)) = (placed(folded, one, a), placed(folded, other, b)) else {
            return;
        };
        let depth = crossing_depth(&at, &to);
        if depth > allowed {
            worst.note(allowed - depth, || {
                format!(
                    "The {} goes {depth:.2} mm through the {} {}.",
                    a.name,
                    b.name,
                    when()
                )
            });
        }
    };
    look(&moments.closed, &|| "when closed".into());
    let moving: Vec<bool> = (0..pattern.folds.len())
        .map(|step| moments.parts(one, other, step))
        .collect();
    for (step, part, folded) in moments.each() {
        if moving.get(step).copied().unwrap_or(false) {
            let name = pattern.folds.get(step).map_or("", |fold| fold.name);
            look(folded, &|| {
                format!("at {:.0} % of the fold {name}", part * 100.0)
            });
        }
    }
}

fn placed<'a>(folded: &'a Folded, id: PanelId, panel: &'a Panel) -> Option<Placed<'a>> {
    let corners = folded.panels().get(id.0)?.as_slice();
    Some(Placed {
        outline: &panel.outline,
        pose: folded.pose(id)?,
        corners,
    })
}

/// Sheets that lie over each other in the closed piece have places of their own in the stack,
/// and each arrives from the side on which its place is.
fn layers(
    pattern: &Pattern,
    moments: &Moments,
    faces: &[FacePlane],
    (one, a): Named<'_>,
    (other, b): Named<'_>,
    worst: &mut Worst,
) {
    let (Some(at), Some(to)) = (moments.closed.pose(one), moments.closed.pose(other)) else {
        return;
    };
    let there: Vec<_> = b.outline.iter().map(|&p| at.flat_of(to.place(p))).collect();
    if there.iter().any(|(_, height)| height.abs() > IN_PLANE_MM) {
        return;
    }
    let there: Vec<_> = there.into_iter().map(|(p, _)| p).collect();
    let (shared, spot) = shared_spot(&a.outline, &there);
    if shared <= OVERLAP_MM2 {
        return;
    }
    let between = facing(pattern, faces, (a, b)) * order(pattern, b) - order(pattern, a);
    if between == 0 {
        worst.note(-pattern.caliper_mm, || {
            format!(
                "The {} and the {} have the same place in the stack.",
                a.name, b.name
            )
        });
        return;
    }
    let last = (0..pattern.folds.len())
        .rev()
        .find(|&step| moments.parts(one, other, step));
    let arriving = last.and_then(|step| moments.arriving(step));
    let (Some(folded), Some(up)) = (arriving, growing(pattern, faces, a)) else {
        return;
    };
    let Some(spot) = spot else { return };
    let height = height_of(folded, (one, other), (at, to), spot);
    // Seen from a, its inside looks along the stack or against it.
    let along = at.inside_normal().dot(up) * height;
    if along * f64::from(between) < 0.0 {
        worst.note(-along.abs(), || {
            format!(
                "The {} arrives on the wrong side of the {}: its place in the stack is {} it.",
                b.name,
                a.name,
                if between > 0 { "outside" } else { "inside" },
            )
        });
    }
}

/// How high the second panel stands over the inside of the first at the moment, at the spot (of
/// the first, flat) where they lie over each other when closed.
fn height_of(
    folded: &Folded,
    (one, other): (PanelId, PanelId),
    (at, to): (&Pose, &Pose),
    spot: kurbo::Point,
) -> f64 {
    let on_other = to.flat_of(at.place(spot)).0;
    match (folded.pose(one), folded.pose(other)) {
        (Some(now_one), Some(now_other)) => now_one.flat_of(now_other.place(on_other)).1,
        _ => 0.0,
    }
}
