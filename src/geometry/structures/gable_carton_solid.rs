//! The solid that a gable-top carton closes, and its faces.

use super::gable_carton::GableCarton;
use super::gable_carton_pattern::strip_half;
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

/// The outsides of the strips: front left, front right, back left, back right of the hole.
pub(super) const STRIPS: [Face; 4] = [
    Face::Numbered(13),
    Face::Numbered(14),
    Face::Numbered(15),
    Face::Numbered(16),
];

impl GableCarton {
    /// Walls, base, roof, the sides folded in; the under sides of the roof's four ends and the
    /// outsides of the strips, which hold nothing between themselves and the paper over them.
    pub(super) fn solid(&self) -> Solid {
        let (a, w, h) = (self.tube.front() / 2.0, self.tube.side(), self.eave());
        let (ridge, point) = (h + self.rise_mm(), a - w / 2.0);
        let at = Vec3::new;
        let ring = |name, corners: Vec<Vec3>| SolidFace {
            name,
            corners,
            open: false,
        };
        let wall = |name, z: f64| {
            ring(
                name,
                vec![at(-a, -h, z), at(-a, h, z), at(a, h, z), at(a, -h, z)],
            )
        };
        let side = |name, x: f64| {
            ring(
                name,
                vec![at(x, -h, 0.0), at(x, h, 0.0), at(x, h, w), at(x, -h, w)],
            )
        };
        let roof = |name, z: f64| {
            let (low, high) = ((-a, a), w / 2.0);
            ring(
                name,
                vec![
                    at(low.0, h, z),
                    at(low.0, ridge, high),
                    at(low.1, ridge, high),
                    at(low.1, h, z),
                ],
            )
        };
        let inwards = |name, x: f64| {
            let apex = at(point * x.signum(), ridge, w / 2.0);
            ring(name, vec![at(x, h, 0.0), apex, at(x, h, w)])
        };
        let under = |x: f64, z: f64| {
            let apex = at(point * x.signum(), ridge, w / 2.0);
            ring(
                "end of the roof, from below",
                vec![at(x, h, z), at(x, ridge, w / 2.0), apex],
            )
        };
        // The back is seen from the other side: what is left on the sheet is on the right.
        let strip = |name, side: f64, seen: f64| {
            let half = strip_half(a, self.strip, side);
            let corners = half.into_iter();
            let corners = corners.map(|(x, y)| at(x * seen, ridge + y, w / 2.0));
            ring(name, corners.collect())
        };
        let turned = |mut face: SolidFace| {
            face.corners.reverse();
            face
        };
        let floor = vec![at(-a, -h, 0.0), at(a, -h, 0.0), at(a, -h, w), at(-a, -h, w)];
        Solid::Faces(vec![
            wall("front", 0.0),
            turned(wall("back", w)),
            side("right side", a),
            turned(side("left side", -a)),
            ring("base", floor),
            roof("front half of the roof", 0.0),
            turned(roof("back half of the roof", w)),
            inwards("right side, folded in", a),
            turned(inwards("left side, folded in", -a)),
            under(a, 0.0),
            turned(under(a, w)),
            turned(under(-a, 0.0)),
            under(-a, w),
            turned(strip("front strip", -1.0, 1.0)),
            strip("front strip", 1.0, 1.0),
            turned(strip("back strip", -1.0, -1.0)),
            strip("back strip", 1.0, -1.0),
        ])
    }
}
