//! The bent panels of a pillow pouch as flat strips: where their edges are, the angles between
//! them, and the solid that they close.

use super::pouch::Pouch;
use super::segment::Segment;
use crate::{Solid, SolidFace, Vec3};

/// Flat strips for a bent panel: odd, so that the middle one is level.
pub(super) const STRIPS: usize = 11;

/// Heights of the edges of the strips over the chord, mm: on the arch.
fn heights(segment: &Segment, panel: f64) -> [f64; STRIPS + 1] {
    std::array::from_fn(|i| {
        if i == 0 || i == STRIPS {
            return 0.0;
        }
        segment.arch(panel * (i as f64 / STRIPS as f64 - 0.5))
    })
}

/// Height of the level strip of a panel with this arch, mm.
pub(super) fn middle_height(panel: f64, arch: f64) -> Option<f64> {
    let segment = Segment::of_arc(panel, arch)?;
    heights(&segment, panel).get(STRIPS / 2).copied()
}

impl Pouch {
    pub(super) fn heights(&self) -> [f64; STRIPS + 1] {
        heights(&self.segment, self.panel)
    }

    /// Where the edges of the strips are across the closed pouch, mm from its middle.
    pub(super) fn ridges(&self) -> [f64; STRIPS + 1] {
        let (z, w) = (self.heights(), self.strip());
        let mut x = [0.0; STRIPS + 1];
        for i in 0..STRIPS {
            let rise = z[i + 1] - z[i];
            x[i + 1] = x[i] + (w * w - rise * rise).max(0.0).sqrt();
        }
        x.map(|at| at - x[STRIPS] / 2.0)
    }

    pub(super) fn strip(&self) -> f64 {
        self.panel / STRIPS as f64
    }

    /// Slope of each strip of the front, radians, rising to the right seen from outside.
    fn slopes(&self) -> [f64; STRIPS] {
        let (z, w) = (self.heights(), self.strip());
        std::array::from_fn(|i| ((z[i] - z[i + 1]) / w).clamp(-1.0, 1.0).asin())
    }

    /// How far the paper bends at each edge between two strips, degrees.
    pub(super) fn bends(&self) -> [f64; STRIPS - 1] {
        let slopes = self.slopes();
        std::array::from_fn(|i| (slopes[i + 1] - slopes[i]).to_degrees())
    }

    /// The angle of the side creases when the pouch is closed, degrees.
    pub(super) fn side_angle(&self) -> f64 {
        180.0 - 2.0 * self.slopes()[STRIPS - 1].to_degrees()
    }

    /// The angle at which each strip of a flap stands on its panel, degrees: twice the angle
    /// between the strip and the 45° plane.
    pub(super) fn end_angles(&self) -> [f64; STRIPS] {
        let half = |slope: f64| (slope.cos() * std::f64::consts::FRAC_1_SQRT_2).acos();
        self.slopes().map(|slope| 2.0 * half(slope).to_degrees())
    }

    /// Faces: the front's strips, the back's (from the side between them), then those of the
    /// bottom and of the top end from left to right.
    pub(super) fn solid(&self) -> Solid {
        let (x, z, y) = (self.ridges(), self.heights(), self.length / 2.0);
        let level = z[STRIPS / 2];
        let at = |i: usize, end: f64, outside: f64| {
            Vec3::new(x[i], (y - z[i]) * end, level + z[i] * outside)
        };
        let mut faces = Vec::with_capacity(4 * STRIPS);
        for i in 0..STRIPS {
            let ring = [
                at(i, -1.0, -1.0),
                at(i + 1, -1.0, -1.0),
                at(i + 1, 1.0, -1.0),
                at(i, 1.0, -1.0),
            ];
            faces.push(solid_face("front", &ring, Vec3::new(0.0, 0.0, -1.0)));
        }
        for i in (0..STRIPS).rev() {
            let ring = [
                at(i, -1.0, 1.0),
                at(i + 1, -1.0, 1.0),
                at(i + 1, 1.0, 1.0),
                at(i, 1.0, 1.0),
            ];
            faces.push(solid_face("back", &ring, Vec3::new(0.0, 0.0, 1.0)));
        }
        for (name, end) in [("bottom end", -1.0), ("top end", 1.0)] {
            for i in 0..STRIPS {
                let ring = [
                    at(i, end, -1.0),
                    at(i + 1, end, -1.0),
                    at(i + 1, end, 1.0),
                    at(i, end, 1.0),
                ];
                faces.push(solid_face(name, &ring, Vec3::new(0.0, end, 0.0)));
            }
        }
        Solid::Faces(faces)
    }
}

/// A face that looks roughly along `out`; corners that coincide are one.
fn solid_face(name: &'static str, ring: &[Vec3], out: Vec3) -> SolidFace {
    let mut corners = ring.to_vec();
    corners.dedup();
    if corners.first() == corners.last() {
        corners.pop();
    }
    let normal = match corners.as_slice() {
        [a, b, c, ..] => (*b - *a).cross(*c - *a),
        _ => out,
    };
    if normal.dot(out) < 0.0 {
        corners.reverse();
    }
    SolidFace {
        name,
        corners,
        open: false,
    }
}
