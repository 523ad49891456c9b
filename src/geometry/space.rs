//! Points and rigid motions in space.
//!
//! Right-handed, millimetres; the root panel of a pattern lies in z = 0 and the solid stands on
//! it at z > 0. A [`Pose`] takes a point of the flat pattern to where it is in space:
//! `p -> R p + t`, R a rotation.

use std::ops::{Add, Mul, Neg, Sub};

use kurbo::Point;

/// A point or a vector in space, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// To the right in the flat pattern.
    pub x: f64,
    /// Up in the flat pattern.
    pub y: f64,
    /// Towards the eye: into the solid.
    pub z: f64,
}

impl Vec3 {
    /// The vector (x, y, z).
    #[must_use]
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// Dot product.
    #[must_use]
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// Cross product.
    #[must_use]
    pub fn cross(self, other: Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// Euclidean length.
    #[must_use]
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The least of each coordinate.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self::new(
            self.x.min(other.x),
            self.y.min(other.y),
            self.z.min(other.z),
        )
    }

    /// The greatest of each coordinate.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self::new(
            self.x.max(other.x),
            self.y.max(other.y),
            self.z.max(other.z),
        )
    }

    /// The same direction with length 1; the zero vector stays as it is.
    #[must_use]
    pub fn unit(self) -> Self {
        let length = self.length();
        if length > 0.0 {
            self * (1.0 / length)
        } else {
            self
        }
    }
}

impl Add for Vec3 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl Sub for Vec3 {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Neg for Vec3 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        Self::new(self.x * times, self.y * times, self.z * times)
    }
}

/// A rigid motion: where a panel is in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Images of the three axes (the columns of the rotation).
    axes: [Vec3; 3],
    shift: Vec3,
}

impl Pose {
    /// Flat on the table, where the pattern was drawn.
    pub const FLAT: Self = Self {
        axes: [
            Vec3::new(1.0, 0.0, 0.0),
            Vec3::new(0.0, 1.0, 0.0),
            Vec3::new(0.0, 0.0, 1.0),
        ],
        shift: Vec3::new(0.0, 0.0, 0.0),
    };

    /// A turn by `degrees` (right-hand rule) about the line from `a` to `b` of the flat pattern.
    #[must_use]
    pub fn turn_about(a: Point, b: Point, degrees: f64) -> Self {
        let axis = Vec3::new(b.x - a.x, b.y - a.y, 0.0).unit();
        let (sin, cos) = sin_cos_degrees(degrees);
        let turn = |v: Vec3| v * cos + axis.cross(v) * sin + axis * (axis.dot(v) * (1.0 - cos));
        let axes = Self::FLAT.axes.map(turn);
        let through = Vec3::new(a.x, a.y, 0.0);
        Self {
            axes,
            shift: through - turn(through),
        }
    }

    /// The same motion, and then this far along.
    #[must_use]
    pub fn shifted(mut self, by: Vec3) -> Self {
        self.shift = self.shift + by;
        self
    }

    /// Where a point of space goes.
    #[must_use]
    pub fn move_point(&self, p: Vec3) -> Vec3 {
        self.turn(p) + self.shift
    }

    /// The point of space that goes there.
    #[must_use]
    pub fn move_back(&self, p: Vec3) -> Vec3 {
        let r = p - self.shift;
        Vec3::new(
            self.axes[0].dot(r),
            self.axes[1].dot(r),
            self.axes[2].dot(r),
        )
    }

    /// First `inner`, then `self`.
    #[must_use]
    pub fn after(&self, inner: &Self) -> Self {
        Self {
            axes: inner.axes.map(|axis| self.turn(axis)),
            shift: self.turn(inner.shift) + self.shift,
        }
    }

    /// Where a direction goes.
    #[must_use]
    pub fn turn(&self, v: Vec3) -> Vec3 {
        self.axes[0] * v.x + self.axes[1] * v.y + self.axes[2] * v.z
    }

    /// Where a point of the flat pattern is.
    #[must_use]
    pub fn place(&self, p: Point) -> Vec3 {
        self.axes[0] * p.x + self.axes[1] * p.y + self.shift
    }

    /// Where a point in space goes.
    #[must_use]
    pub fn carry(&self, v: Vec3) -> Vec3 {
        self.turn(v) + self.shift
    }

    /// Where the direction that looked at the eye (the inside of the paper) looks now.
    #[must_use]
    pub fn inside_normal(&self) -> Vec3 {
        self.axes[2]
    }

    /// The flat coordinates of a point in space, and its height above the panel's inside.
    #[must_use]
    pub fn flat_of(&self, v: Vec3) -> (Point, f64) {
        let r = v - self.shift;
        (
            Point::new(self.axes[0].dot(r), self.axes[1].dot(r)),
            self.axes[2].dot(r),
        )
    }
}

/// Sine and cosine that are exact at the quarter turns: folded boxes then stand square.
fn sin_cos_degrees(degrees: f64) -> (f64, f64) {
    let quarters = degrees / 90.0;
    if quarters == quarters.round() && quarters.abs() < 1e6 {
        match (quarters as i64).rem_euclid(4) {
            0 => (0.0, 1.0),
            1 => (1.0, 0.0),
            2 => (0.0, -1.0),
            _ => (-1.0, 0.0),
        }
    } else {
        degrees.to_radians().sin_cos()
    }
}

/// Volume inside a closed surface of triangles that run counter-clockwise seen from outside:
/// one sixth of the sum of p · (q × r) (divergence theorem). Negative if the surface is inside out.
#[must_use]
pub fn enclosed_volume(triangles: &[[Vec3; 3]]) -> f64 {
    triangles
        .iter()
        .map(|[p, q, r]| p.dot(q.cross(*r)))
        .sum::<f64>()
        / 6.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A convex solid from its corners and faces (counter-clockwise from outside), as triangles.
    fn triangles(corners: &[(f64, f64, f64)], faces: &[&[usize]]) -> Vec<[Vec3; 3]> {
        let at = |i: usize| Vec3::new(corners[i].0, corners[i].1, corners[i].2);
        let fan = |face: &&[usize]| {
            let face = face.to_vec();
            (1..face.len() - 1)
                .map(move |i| [at(face[0]), at(face[i]), at(face[i + 1])])
                .collect::<Vec<_>>()
        };
        faces.iter().flat_map(fan).collect()
    }

    const BOX: [&[usize]; 6] = [
        &[0, 3, 2, 1],
        &[4, 5, 6, 7],
        &[0, 1, 5, 4],
        &[1, 2, 6, 5],
        &[2, 3, 7, 6],
        &[3, 0, 4, 7],
    ];

    fn shifted(solid: &[[Vec3; 3]], by: Vec3) -> Vec<[Vec3; 3]> {
        solid
            .iter()
            .map(|triangle| triangle.map(|p| p + by))
            .collect()
    }

    fn near(got: f64, want: f64) {
        assert!(
            (got - want).abs() <= 1e-9 * want.abs(),
            "{got} against {want}"
        );
    }

    /// Divergence theorem rows: unit corner tetrahedron 1/6; box 60 x 40 x 25 wherever it lies;
    /// the sign turns with the faces; frustum of 60 and 40 squares, 50 high: 126 666.67
    /// (50/3 · (3600 + 1600 + 2400), the frustum formula).
    #[test]
    fn volumes_are_those_of_the_text_books() {
        let corner = triangles(
            &[(0., 0., 0.), (1., 0., 0.), (0., 1., 0.), (0., 0., 1.)],
            &[&[0, 2, 1], &[0, 1, 3], &[0, 3, 2], &[1, 2, 3]],
        );
        near(enclosed_volume(&corner), 1.0 / 6.0);

        let (x, y, z) = (60., 40., 25.);
        let base = [(0., 0., 0.), (x, 0., 0.), (x, y, 0.), (0., y, 0.)];
        let lid = [(0., 0., z), (x, 0., z), (x, y, z), (0., y, z)];
        let block = triangles(&[base, lid].concat(), &BOX);
        near(enclosed_volume(&block), 60_000.0);
        near(
            enclosed_volume(&shifted(&block, Vec3::new(1000., -500., 333.))),
            60_000.0,
        );
        let inside_out: Vec<_> = block.iter().map(|[p, q, r]| [*p, *r, *q]).collect();
        near(enclosed_volume(&inside_out), -60_000.0);

        let square = |half: f64, z: f64| {
            [
                (-half, -half, z),
                (half, -half, z),
                (half, half, z),
                (-half, half, z),
            ]
        };
        let frustum = triangles(&[square(30., 0.), square(20., 50.)].concat(), &BOX);
        near(
            enclosed_volume(&frustum),
            50.0 / 3.0 * (3600.0 + 1600.0 + 2400.0),
        );
        assert!((enclosed_volume(&frustum) - 126_666.67).abs() < 0.005);
    }

    #[test]
    fn a_turn_there_and_back_is_none() {
        let (a, b) = (Point::new(3.0, -1.0), Point::new(-2.0, 7.5));
        let there = Pose::turn_about(a, b, 37.0);
        let back = Pose::turn_about(a, b, -37.0);
        let p = Point::new(11.0, 13.0);
        let (seen, height) = Pose::FLAT.flat_of(back.after(&there).place(p));
        assert!((seen - p).hypot() < 1e-12 && height.abs() < 1e-12);
        // The line itself stays, and everything keeps its distance from it.
        assert!((there.place(a) - Vec3::new(a.x, a.y, 0.0)).length() < 1e-12);
        let reach = |v: Vec3| (v - Vec3::new(a.x, a.y, 0.0)).length();
        assert!((reach(there.place(p)) - (p - a).hypot()).abs() < 1e-12);
    }

    #[test]
    fn quarter_turns_are_exact() {
        let quarter = Pose::turn_about(Point::ZERO, Point::new(0.0, 1.0), -90.0);
        assert_eq!(
            quarter.place(Point::new(2.0, 5.0)),
            Vec3::new(0.0, 5.0, 2.0)
        );
        let half = Pose::turn_about(Point::ZERO, Point::new(0.0, 1.0), 180.0);
        assert_eq!(half.place(Point::new(2.0, 5.0)).z, 0.0);
    }
}
