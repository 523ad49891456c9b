//! A sleeve: a tube of four panels and a glue flap, both ends open, with a thumb notch.
//!
//! ```text
//!   +-----+----------+----------------+----------+----------------+  seen from the inside;
//!   |glue : left     :      top       :   right  :     bottom     |  scores at W, W + D,
//!   |flap : side     :                :   side   :                |  2 W + D and 2 W + 2 D
//!   |  g  :    D     :       W        :     D    :       W        |  from the right edge; the
//!   +-----+----------+-----.___.------+----------+----------------+  flap takes what is left
//!                            notch: half a circle
//! ```
//!
//! Two scores opposite each other folded right over lay it flat, the bottom on the flap: so it is
//! glued, and then opened. The flap lies inside the bottom.

use kurbo::{Point, Vec2};

use super::build::{Builder, rectangle, solid_face};
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::work::{Edge, Work};
use crate::{
    Face, FingerNotch, GlueZone, Length, PanelRole, Pattern, Side, Solid, Vec3, WasteReason,
};

/// Chords that draw the notch: within 0.02 mm of the round for a 1 in circle.
const NOTCH_SIDES: u32 = 32;
/// The ends of the flap slant by this much of its width, so that they stay inside: 15° (common
/// practice, no source).
const SLANT: f64 = 0.27;

/// The walls of the sleeve, by their place among the faces of its solid.
pub(super) const WALLS: [Face; 4] = [
    Face::Numbered(0),
    Face::Numbered(1),
    Face::Numbered(2),
    Face::Numbered(3),
];

/// A tube with both ends open, crease to crease, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Sleeve {
    /// Of top and bottom.
    pub(super) width: f64,
    /// Of the two sides.
    pub(super) depth: f64,
    /// From open end to open end.
    pub(super) length: f64,
    pub(super) flap: f64,
    pub(super) notch: FingerNotch,
    /// Caliper.
    pub(super) t: f64,
}

impl Sleeve {
    /// Between the bare sides, and between the top and the flap on the bottom, mm.
    pub(super) fn clear(&self) -> (f64, f64) {
        (self.width - self.t, self.depth - 2.0 * self.t)
    }

    /// The flat pattern; the top is the root.
    pub(super) fn pattern(&self) -> Pattern {
        let (x, y, d) = (self.width / 2.0, self.length / 2.0, self.depth);
        let mut b = Builder::default();
        let notch = self.notch_outline();
        let top = b.panel("top", self.top(), (WALLS[0], 0), PanelRole::Wall);
        let mut wall = |name, from, to, face| {
            b.panel(name, rectangle(from, -y, to, y), (face, 0), PanelRole::Wall)
        };
        let left = wall("left side", -x - d, -x, WALLS[1]);
        let right = wall("right side", x, x + d, WALLS[2]);
        let bottom = wall("bottom", x + d, 3.0 * x + d, WALLS[3]);
        let (near, far) = (-x - d, -x - d - self.flap);
        let slant = (SLANT * self.flap).min(y / 2.0);
        let flap = vec![
            Point::new(near, -y),
            Point::new(near, y),
            Point::new(far, y - slant),
            Point::new(far, slant - y),
        ];
        let on_flap = flap.clone();
        let flap = b.panel("glue flap", flap, (WALLS[3], -1), PanelRole::Tab);
        for end in [-y, y] {
            let inner = end - slant.copysign(end);
            let corner = [(near, end), (far, end), (far, inner)];
            b.waste(corner.map(Point::from).to_vec(), WasteReason::Trim);
        }
        b.waste(notch, WasteReason::Notch);

        let line = |at: f64| (Point::new(at, -y), Point::new(at, y));
        let at_left = b.crease("top to left side", line(-x), (top, left), 90.0);
        let at_flap = b.crease("left side to glue flap", line(near), (left, flap), 90.0);
        let at_right = b.crease("top to right side", line(x), (top, right), 90.0);
        let at_bottom = b.crease("right side to bottom", line(x + d), (right, bottom), 90.0);
        b.fold_to(
            "the left side over, flat on the top",
            vec![(at_left, 180.0)],
        );
        let with_fold = b.fold_to(
            "the bottom over, onto the glue flap",
            vec![(at_bottom, 180.0)],
        );
        b.fold(
            "the tube open, until it stands square",
            &[at_left, at_flap, at_right, at_bottom],
        );
        b.glue(GlueZone {
            name: "glue flap on the bottom",
            area: on_flap,
            on: flap,
            on_side: Side::Outside,
            to: bottom,
            needs_width_mm: GLUE_WIDTH_MM,
            needs_area_mm2: GLUE_AREA_MM2,
            with_fold,
        });
        let sheet = rectangle(far, -y, 3.0 * x + d, y);
        b.finish("sleeve", sheet, self.solid(), (self.t, 3))
    }

    /// The half circle, as it runs round by itself.
    fn notch_outline(&self) -> Vec<Point> {
        let middle = Point::new(0.0, -self.length / 2.0);
        self.notch.polygon(middle, Vec2::new(0.0, 1.0), NOTCH_SIDES)
    }

    /// The top without its notch.
    fn top(&self) -> Vec<Point> {
        let (x, y) = (self.width / 2.0, self.length / 2.0);
        let mut outline = rectangle(-x, -y, x, y);
        // Between the two bottom corners, the other way round.
        outline.splice(1..1, self.notch_outline().into_iter().rev());
        outline
    }

    /// A box whose top has the notch and whose ends are open.
    fn solid(&self) -> Solid {
        let (x, y, z) = (self.width / 2.0, self.length / 2.0, self.depth);
        let side = |x: f64| [(-y, 0.0), (y, 0.0), (y, z), (-y, z)].map(|(y, z)| Vec3::new(x, y, z));
        let end = |y: f64| [(-x, 0.0), (x, 0.0), (x, z), (-x, z)].map(|(x, z)| Vec3::new(x, y, z));
        let level = |outline: &[Point], z: f64| {
            let corners = outline.iter().map(|p| Vec3::new(p.x, p.y, z));
            corners.collect::<Vec<_>>()
        };
        let bottom = level(&rectangle(-x, -y, x, y), z);
        let up = Vec3::new(0.0, 0.0, 1.0);
        let (right, far) = (Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0));
        Solid::Faces(vec![
            solid_face("top", level(&self.top(), 0.0), -up, false),
            solid_face("left side", side(-x).to_vec(), -right, false),
            solid_face("right side", side(x).to_vec(), right, false),
            solid_face("bottom", bottom, up, false),
            solid_face("front end", end(-y).to_vec(), -far, true),
            solid_face("back end", end(y).to_vec(), far, true),
        ])
    }

    /// What the hands do to the sheet, up to the open tube, given its first two scores.
    pub(super) fn work(scores: [Length; 2]) -> Vec<Work> {
        let [first, second] = scores;
        let score = |at| Work::Score {
            from: vec![Edge::Right],
            at,
        };
        vec![
            score(first),
            score(second),
            score(first + second),
            score(second * 2),
            Work::CutAway {
                why: WasteReason::Notch,
                what: "half of a circle for the thumb, at the bottom edge halfway between the second \
                       and the third score",
            },
            Work::CutAway {
                why: WasteReason::Trim,
                what: "a slanting sliver at both ends of the glue flap",
            },
            Work::Burnish,
            Work::Fold(0),
            Work::Glue(0),
            Work::Fold(1),
            Work::Fold(2),
        ]
    }
}
