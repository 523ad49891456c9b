//! The solid that a gable-top carton closes, and its faces.

use super::gable_carton::GableCarton;
use crate::{Face, Solid, SolidFace, Vec3};

/// Faces of the solid.
pub(super) const FRONT: Face = Face::Numbered(0);
pub(super) const BACK: Face = Face::Numbered(1);
pub(super) const RIGHT: Face = Face::Numbered(2);
pub(super) const LEFT: Face = Face::Numbered(3);
pub(super) const BASE: Face = Face::Numbered(4);
pub(super) const FRONT_ROOF: Face = Face::Numbered(5);
pub(super) const BACK_ROOF: Face = Face::Numbered(6);
pub(super) const RIGHT_IN: Face = Face::Numbered(7);
pub(super) const LEFT_IN: Face = Face::Numbered(8);
/// The under sides of the ends of the roof: right front, right back, left front, left back.
pub(super) const UNDER: [Face; 4] = [
    Face::Numbered(9),
    Face::Numbered(10),
    Face::Numbered(11),
    Face::Numbered(12),
];
/// The outsides of the strips: front, back.
pub(super) const STRIPS: [Face; 2] = [Face::Numbered(13), Face::Numbered(14)];

impl GableCarton {
    /// Walls, base, roof, the sides folded in; the under sides of the roof's four ends and the
    /// outsides of the strips, which hold nothing between themselves and the paper over them.
    pub(super) fn solid(&self) -> Solid {
        let mut faces = self.walls_and_base();
        faces.extend(self.roof_faces());
        faces.extend(self.strip_faces());
        Solid::Faces(faces)
    }

    fn walls_and_base(&self) -> Vec<SolidFace> {
        let (a, w, h) = (self.tube.front() / 2.0, self.tube.side(), self.eave());
        let at = Vec3::new;
        let wall = |name, z: f64| {
            let (left, right) = ([at(-a, -h, z), at(-a, h, z)], [at(a, h, z), at(a, -h, z)]);
            face(name, [left, right].concat())
        };
        let side = |name, x: f64| {
            let (front, back) = ([at(x, -h, 0.0), at(x, h, 0.0)], [at(x, h, w), at(x, -h, w)]);
            face(name, [front, back].concat())
        };
        let floor = vec![at(-a, -h, 0.0), at(a, -h, 0.0), at(a, -h, w), at(-a, -h, w)];
        vec![
            wall("front", 0.0),
            turned(wall("back", w)),
            side("right side", a),
            turned(side("left side", -a)),
            face("base", floor),
        ]
    }

    fn roof_faces(&self) -> Vec<SolidFace> {
        let (a, w, h) = (self.tube.front() / 2.0, self.tube.side(), self.eave());
        let (ridge, middle) = (h + self.rise_mm(), w / 2.0);
        let at = Vec3::new;
        let end = |x: f64, z: f64| [at(x, h, z), at(x, ridge, middle)];
        let roof = |name, z: f64| {
            let ([low, high], [right_low, right_high]) = (end(-a, z), end(a, z));
            face(name, vec![low, high, right_high, right_low])
        };
        let point = |x: f64| at((a - middle) * x.signum(), ridge, middle);
        let inwards = |name, x: f64| face(name, vec![at(x, h, 0.0), point(x), at(x, h, w)]);
        let under = |x: f64, z: f64| {
            let [low, high] = end(x, z);
            face("end of the roof, from below", vec![low, high, point(x)])
        };
        vec![
            roof("front half of the roof", 0.0),
            turned(roof("back half of the roof", w)),
            inwards("right side, folded in", a),
            turned(inwards("left side, folded in", -a)),
            under(a, 0.0),
            turned(under(a, w)),
            turned(under(-a, 0.0)),
            under(-a, w),
        ]
    }

    fn strip_faces(&self) -> Vec<SolidFace> {
        let (a, middle) = (self.tube.front() / 2.0, self.tube.side() / 2.0);
        let ridge = self.eave() + self.rise_mm();
        let at = |x: f64, y: f64| Vec3::new(x, ridge + y, middle);
        let high = self.strip;
        let strip = |name| {
            let corners = [at(-a, 0.0), at(a, 0.0), at(a, high), at(-a, high)];
            face(name, corners.to_vec())
        };
        // What stands out has a face on each side.
        vec![turned(strip("front strip")), strip("back strip")]
    }
}

fn face(name: &'static str, corners: Vec<Vec3>) -> SolidFace {
    SolidFace {
        name,
        corners,
        open: false,
    }
}

/// The same face, looking the other way.
fn turned(mut face: SolidFace) -> SolidFace {
    face.corners.reverse();
    face
}
