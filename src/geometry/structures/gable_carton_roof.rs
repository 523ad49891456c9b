//! How the roof of a gable-top carton closes.
//!
//! In two moves: the sides are pushed in, then both halves come together. All panels stay rigid
//! and joined on the way: the angles follow the mechanism ([`leans`]) and are exact at each of the
//! moments given, which are close together.

use std::f64::consts::FRAC_PI_2;

use super::build::Builder;
use super::gable_carton::GableCarton;
use crate::{CreaseId, Vec3};

/// Parts of a move at which the angles of the moving roof are given.
const MOMENTS: usize = 32;
/// The moment just before the end at which a fold is looked at.
const ARRIVING: f64 = 0.97;
/// How far the roof has come when the sides are pushed in.
const PUSHED_IN: f64 = 0.5;

/// A moment of the moving roof, in degrees.
pub(super) struct Moment {
    pub(super) eave: f64,
    pub(super) side: f64,
    pub(super) flank: f64,
    pub(super) slanted: f64,
}

/// The creases of the top.
#[derive(Default)]
pub(super) struct Top {
    pub(super) eaves: Vec<CreaseId>,
    pub(super) sides: Vec<CreaseId>,
    /// Between roof and flanks, along the scores of the tube.
    pub(super) flanks: Vec<CreaseId>,
    pub(super) slanted: Vec<CreaseId>,
    pub(super) strips: Vec<CreaseId>,
}

impl GableCarton {
    /// The angles while the roof leans by `roof` and the triangles by `side`, radians.
    fn moment(&self, roof: f64, side: f64) -> Moment {
        let (w, s) = (self.tube.side(), self.roof);
        let corner = Vec3::default();
        let ridge = Vec3::new(0.0, s * roof.cos(), s * roof.sin());
        let point = Vec3::new(-s * side.sin(), s * side.cos(), w / 2.0);
        let of_roof = Vec3::new(0.0, -roof.sin(), roof.cos());
        let of_side = Vec3::new(-side.cos(), -side.sin(), 0.0);
        let of_flank = (point - corner).cross(ridge - corner).unit();
        Moment {
            eave: roof.to_degrees(),
            side: side.to_degrees(),
            flank: fold_angle(of_roof, of_flank, ridge),
            slanted: fold_angle(of_flank, of_side, point),
        }
    }

    /// The angles when the roof has come this far, from 0 (upright) to 1 (closed).
    pub(super) fn moment_at(&self, part: f64) -> Moment {
        let (roof, side) = leans(self.closed_lean(), part);
        let moment = self.moment(roof, side);
        if part < 1.0 {
            return moment;
        }
        Moment {
            flank: 180.0,
            ..moment
        }
    }

    pub(super) fn fold_top(&self, b: &mut Builder, top: &Top) {
        b.fold("both strips outwards, along the ridge score", &top.strips);
        let creases = [&top.eaves, &top.sides, &top.flanks, &top.slanted];
        let at = |part: f64| -> Vec<f64> {
            let moment = self.moment_at(part);
            let angles = [moment.eave, moment.side, moment.flank, moment.slanted];
            let each = creases.iter().zip(angles);
            each.flat_map(|(creases, angle)| creases.iter().map(move |_| angle))
                .collect()
        };
        let ids: Vec<CreaseId> = creases.iter().copied().flatten().copied().collect();
        let mut parts: Vec<f64> = (1..MOMENTS).map(|i| i as f64 / MOMENTS as f64).collect();
        parts.push(ARRIVING);
        parts.sort_by(f64::total_cmp);
        for (name, from, to) in [
            (
                "the tops of both sides in, while the roof leans after them",
                0.0,
                PUSHED_IN,
            ),
            (
                "both roof halves together, until strip lies on strip",
                PUSHED_IN,
                1.0,
            ),
        ] {
            let way = parts
                .iter()
                .map(|part| (*part, at(from + (to - from) * part)));
            let ends = ids.iter().copied().zip(at(to)).collect();
            b.fold_along(name, ends, way.collect());
        }
    }
}

/// How far the roof and the triangles of the sides lean from upright, radians, when they have come
/// this far, from 0 to 1; closed, both lean by `closed`: 1 = cos θ cos φ + k sin θ, k = sin of it.
/// The sides lead at first, and hardly move at the end.
pub(super) fn leans(closed: f64, part: f64) -> (f64, f64) {
    if part >= 1.0 {
        return (closed, closed);
    }
    let side = closed * (FRAC_PI_2 * part).sin();
    let (k, cos) = (closed.sin(), side.cos());
    let roof = k.atan2(cos) - (1.0 / k.hypot(cos)).min(1.0).acos();
    (roof, side)
}

/// The angle of a crease that runs along `edge` with the parent on its left, by the inside
/// normals of both panels, degrees.
fn fold_angle(parent: Vec3, child: Vec3, edge: Vec3) -> f64 {
    let turned = -parent.cross(child).dot(edge.unit());
    turned.atan2(parent.dot(child)).to_degrees()
}
