//! The stack of sheets on the faces of a solid: planes, and which sheet lies outside which.

use kurbo::{Point, Rect};

use crate::{Face, Panel, Pattern, Solid, SolidFace, Vec3};

/// Corners this near to a plane lie in it, mm.
pub(super) const IN_PLANE_MM: f64 = 1e-6;

/// A face of the solid: its plane, and its outline in it.
pub(super) struct FacePlane {
    pub(super) face: Face,
    /// What it is called in a sentence.
    pub(super) name: &'static str,
    /// Unit vector out of the solid.
    pub(super) outward: Vec3,
    /// Distance of the plane from the origin along `outward`, mm.
    pub(super) offset: f64,
    axes: [Vec3; 2],
    /// The face, in the two axes of the plane, mm.
    pub(super) outline: Vec<Point>,
    /// Whether it is meant to stay open.
    pub(super) open: bool,
}

impl FacePlane {
    /// Height of a point above the face, mm; positive is outside.
    pub(super) fn height(&self, p: Vec3) -> f64 {
        self.outward.dot(p) - self.offset
    }

    /// The point seen in the plane.
    pub(super) fn seen(&self, p: Vec3) -> Point {
        Point::new(self.axes[0].dot(p), self.axes[1].dot(p))
    }

    /// Where a point of the plane is in space.
    pub(super) fn in_space(&self, p: Point) -> Vec3 {
        self.axes[0] * p.x + self.axes[1] * p.y + self.outward * self.offset
    }

    /// Whether all corners lie in the plane; nothing does not.
    pub(super) fn holds(&self, corners: &[Vec3]) -> bool {
        !corners.is_empty() && corners.iter().all(|&p| self.height(p).abs() < IN_PLANE_MM)
    }
}

const X: Vec3 = Vec3::new(1.0, 0.0, 0.0);
const Y: Vec3 = Vec3::new(0.0, 1.0, 0.0);
const Z: Vec3 = Vec3::new(0.0, 0.0, 1.0);

/// The faces of the solid that have an area.
pub(super) fn faces(solid: &Solid) -> Vec<FacePlane> {
    let (x, y, z, open) = match solid {
        Solid::Box { x, y, z, open } => (*x, *y, Some(*z), open),
        Solid::Flat { x, y, open } => (*x, *y, None, open),
        Solid::Faces(faces) => {
            return (0_u16..).zip(faces).filter_map(numbered).collect();
        }
    };
    let all = Face::ALL
        .into_iter()
        .filter(|face| z.is_some() || matches!(face, Face::Front | Face::Back));
    let z = z.unwrap_or(0.0);
    let front = Rect::new(-x / 2.0, -y / 2.0, x / 2.0, y / 2.0);
    let side = Rect::new(-y / 2.0, 0.0, y / 2.0, z);
    let end = Rect::new(-x / 2.0, 0.0, x / 2.0, z);
    let plane = |face: Face| {
        let (outward, offset, axes, rect) = match face {
            Face::Front => (-Z, 0.0, [X, Y], front),
            Face::Back => (Z, z, [X, Y], front),
            Face::Left => (-X, x / 2.0, [Y, Z], side),
            Face::Right => (X, x / 2.0, [Y, Z], side),
            Face::Bottom => (-Y, y / 2.0, [X, Z], end),
            Face::Top => (Y, y / 2.0, [X, Z], end),
            Face::Numbered(_) => return None,
        };
        Some(FacePlane {
            face,
            name: face.name(),
            outward,
            offset,
            axes,
            outline: vec![
                Point::new(rect.x0, rect.y0),
                Point::new(rect.x1, rect.y0),
                Point::new(rect.x1, rect.y1),
                Point::new(rect.x0, rect.y1),
            ],
            open: open.contains(&face),
        })
    };
    all.filter_map(plane).collect()
}

/// A face given by its corners; `None` if it has no area.
fn numbered((place, face): (u16, &SolidFace)) -> Option<FacePlane> {
    let first = *face.corners.first()?;
    let corners = || face.corners.iter().map(|&p| p - first);
    let next = corners().skip(1).chain(corners().take(1));
    let normal = corners()
        .zip(next)
        .fold(Vec3::default(), |sum, (p, q)| sum + p.cross(q));
    let across = corners().find(|p| p.length() > 1e-9)?.unit();
    if normal.length() < 1e-12 {
        return None;
    }
    let outward = normal.unit();
    let mut plane = FacePlane {
        face: Face::Numbered(place),
        name: face.name,
        outward,
        offset: outward.dot(first),
        axes: [across, outward.cross(across)],
        outline: Vec::new(),
        open: face.open,
    };
    plane.outline = face.corners.iter().map(|&p| plane.seen(p)).collect();
    Some(plane)
}

/// How far the paper on a face reaches into the solid from its crease plane, mm: half a caliper,
/// and a whole one for each layer inside. A face without a sheet takes nothing.
pub(super) fn taken_inside(pattern: &Pattern, face: Face) -> f64 {
    taken(pattern, face, |layer| -layer)
}

/// How far the paper on a face reaches out of the solid, mm.
pub(super) fn taken_outside(pattern: &Pattern, face: Face) -> f64 {
    taken(pattern, face, |layer| layer)
}

fn taken(pattern: &Pattern, face: Face, further: impl Fn(i16) -> i16) -> f64 {
    let layers = pattern
        .panels
        .iter()
        .filter(|panel| panel.plane == Some(face))
        .map(|panel| f64::from(further(i16::from(panel.layer)).max(0)));
    let most = layers.reduce(f64::max);
    most.map_or(0.0, |most| (0.5 + most) * pattern.caliper_mm)
}

/// The plane of a panel's face.
pub(super) fn plane_of<'a>(faces: &'a [FacePlane], panel: &Panel) -> Option<&'a FacePlane> {
    faces.iter().find(|plane| Some(plane.face) == panel.plane)
}

/// Place in the stack along the outward direction of the panel's face. In a flat piece front and
/// back are one stack: the front comes first, its outer sheets before its inner ones.
pub(super) fn order(pattern: &Pattern, panel: &Panel) -> i32 {
    match (&pattern.solid, panel.plane) {
        (Solid::Flat { .. }, Some(Face::Front)) => -1000 - i32::from(panel.layer),
        _ => i32::from(panel.layer),
    }
}

/// -1 if the stacks of two panels grow in opposite directions, as on the two sides of paper that
/// stands out from the solid; else 1.
pub(super) fn facing(
    pattern: &Pattern,
    faces: &[FacePlane],
    (one, other): (&Panel, &Panel),
) -> i32 {
    let ways = [one, other].map(|panel| growing(pattern, faces, panel));
    match ways {
        [Some(one), Some(other)] if one.dot(other) < 0.0 => -1,
        _ => 1,
    }
}

/// The direction in which [`order`] grows, if the panel lies on a face.
pub(super) fn growing(pattern: &Pattern, faces: &[FacePlane], panel: &Panel) -> Option<Vec3> {
    match pattern.solid {
        Solid::Flat { .. } => Some(Z),
        Solid::Box { .. } | Solid::Faces(_) => plane_of(faces, panel).map(|plane| plane.outward),
    }
}
