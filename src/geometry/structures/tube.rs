//! What every tube of four walls shares: scores in a row, a glue flap, and the moves that glue it
//! flat and stand it up square.
//!
//! ```text
//!   |flap|     over     | left |     root     | right|   seen from the inside
//!   |  g |      L       |  W   |      L       |  W   |   scores from the right edge at
//!   |----|--------------|------|--------------|------|   W, W + L, 2 W + L, 2 W + 2 L
//! ```
//!
//! The tube lies on its root wall while it is folded; the wall that comes over it carries the glue
//! flap, which lies inside the right wall, which loses one caliper to it. Its width is what
//! the sheet leaves.

use kurbo::Point;

use super::build::{Builder, rectangle};
use super::limits::Asked;
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::work::{Edge, Work};
use super::{StructureError, Tools};
use crate::{CreaseId, Face, GlueZone, Length, PanelId, PanelRole, Ruler, Side, WasteReason};

/// Narrowest glue flap, mm (common practice, no source).
pub(super) const LEAST_FLAP_MM: f64 = 8.0;
/// Usual width of the glue flap, mm (common practice, no source).
const USUAL_FLAP_MM: f64 = 10.0;
/// Every flap narrows on each side by this share of its depth (common practice, no source).
pub(super) const TAPER: f64 = 0.2;
/// A flap that goes inside is this much short of its corner, or a caliper, mm (common practice,
/// no source).
const LEAST_EASE_MM: f64 = 0.5;

/// The four walls, by what is set on the tools.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tube {
    pub(super) sheet_width: Length,
    /// The first score from the right edge: the width of a side.
    pub(super) side_score: Length,
    /// The second one: a side and the front.
    pub(super) front_score: Length,
    pub(super) caliper: Length,
}

/// The least side and front of a tube, mm, and what goes wrong below them.
pub(super) struct Least {
    pub(super) side: (f64, &'static str),
    pub(super) front: (f64, &'static str),
}

/// The walls of a pattern, and the creases between them.
pub(super) struct Walls {
    pub(super) root: PanelId,
    pub(super) right: PanelId,
    pub(super) left: PanelId,
    pub(super) over: PanelId,
    pub(super) flap: PanelId,
    /// The creases along each of the four scores.
    pub(super) root_right: Vec<CreaseId>,
    pub(super) root_left: Vec<CreaseId>,
    pub(super) left_over: Vec<CreaseId>,
    pub(super) over_flap: Vec<CreaseId>,
}

/// A wide wall: its name, its outline, which may have notches, its face of the solid.
pub(super) struct Wide {
    pub(super) name: &'static str,
    pub(super) outline: Vec<Point>,
    pub(super) face: Face,
}

impl Tube {
    /// Nothing set yet: what a caliper alone decides.
    pub(super) fn of_caliper(caliper: Length) -> Self {
        Self {
            sheet_width: Length::ZERO,
            side_score: Length::ZERO,
            front_score: Length::ZERO,
            caliper,
        }
    }

    /// Width of the front and the back, mm.
    pub(super) fn front(&self) -> f64 {
        (self.front_score - self.side_score).mm()
    }

    /// Width of the two sides, mm.
    pub(super) fn side(&self) -> f64 {
        self.side_score.mm()
    }

    /// Width of the glue flap, mm.
    pub(super) fn flap(&self) -> f64 {
        (self.sheet_width - self.front_score * 2).mm()
    }

    /// How far a flap that goes inside stays away from its corners, mm.
    pub(super) fn ease(&self) -> f64 {
        self.caliper.mm().max(LEAST_EASE_MM)
    }

    /// Left and right of a column of the sheet, mm from the middle of the root.
    pub(super) fn columns(&self) -> Columns {
        let (a, w) = (self.front() / 2.0, self.side());
        Columns {
            root: (-a, a),
            right: (a, a + w),
            left: (-a - w, -a),
            over: (-3.0 * a - w, -a - w),
            flap: (-3.0 * a - w - self.flap(), -3.0 * a - w),
        }
    }

    /// Whether the tube can be scored and glued.
    pub(super) fn check(&self, tools: &Tools, least: &Least) -> Result<(), StructureError> {
        let score = tools.score.unwrap_or(*tools.main_ruler());
        let (side, front) = (self.side_score, self.front_score);
        Asked::new("side_score", side, &score).at_least(least.side.0, least.side.1)?;
        let panels = 2.0 * front.mm();
        let front = Asked::new("front_score", front, &score);
        front.at_least(side.mm() + least.front.0, least.front.1)?;
        front.twice_in_reach(
            "the last score, twice as far from the edge, is out of the board's reach",
        )?;
        let sheet = Asked::new("sheet_width", self.sheet_width, &tools.trimmer);
        let why = "the four walls leave no glue flap";
        sheet.at_least(panels + LEAST_FLAP_MM, why)?;
        let why = "the glue flap is wider than half a side";
        sheet.at_most(panels + self.side() / 2.0, why)
    }

    /// The narrowest sheet for these scores: a glue flap of the usual width or, where that is too
    /// wide, one as wide as may be.
    pub(super) fn narrowest(
        trimmer: &Ruler,
        (side_score, front_score): (Length, Length),
        caliper: Length,
    ) -> Option<Self> {
        let panels = 2.0 * front_score.mm();
        let most = panels + side_score.mm() / 2.0;
        let usual = trimmer.up(panels + USUAL_FLAP_MM);
        let usual = usual.filter(|width| width.mm() <= most + 1e-9);
        let sheet_width = usual.or_else(|| trimmer.down(most))?;
        (sheet_width.mm() >= panels + LEAST_FLAP_MM - 1e-9).then_some(Self {
            sheet_width,
            side_score,
            front_score,
            caliper,
        })
    }

    /// The scores between the walls.
    pub(super) fn scores(&self) -> Vec<Work> {
        let (side, front) = (self.side_score, self.front_score);
        let score = |at| Work::Score {
            from: vec![Edge::Right],
            at,
        };
        [side, front, side + front, front * 2].map(score).to_vec()
    }

    /// The four walls from y to y, and the glue flap; the root is the first panel. The faces are
    /// those of the left and of the right side.
    pub(super) fn walls(
        &self,
        b: &mut Builder,
        (y0, y1): (f64, f64),
        (root, over): (Wide, Wide),
        (left, right): (Face, Face),
    ) -> Walls {
        let columns = self.columns();
        let side = |(x0, x1): (f64, f64)| rectangle(x0, y0, x1, y1);
        let wall = PanelRole::Wall;
        let own = b.panel(root.name, root.outline, (root.face, 0), wall);
        let right_wall = b.panel("right side", side(columns.right), (right, 0), wall);
        let left_wall = b.panel("left side", side(columns.left), (left, 0), wall);
        let over_wall = b.panel(over.name, over.outline, (over.face, 0), wall);
        let flap = self.flap_outline((y0, y1));
        let line = |x: f64, inset: f64| (Point::new(x, y0 + inset), Point::new(x, y1 - inset));
        let hinge = line(columns.flap.1, self.ease());
        self.flap_waste(b, (y0, y1));
        let flap = b.panel("glue flap", flap, (right, -1), PanelRole::Flap);
        let mut crease = |name, line, pair| vec![b.crease(name, line, pair, 90.0)];
        Walls {
            root_right: crease("right side", line(columns.right.0, 0.0), (own, right_wall)),
            root_left: crease("left side", line(columns.left.1, 0.0), (own, left_wall)),
            left_over: crease(over.name, line(columns.over.1, 0.0), (left_wall, over_wall)),
            over_flap: crease("glue flap", hinge, (over_wall, flap)),
            root: own,
            right: right_wall,
            left: left_wall,
            over: over_wall,
            flap,
        }
    }

    fn flap_outline(&self, (y0, y1): (f64, f64)) -> Vec<Point> {
        let (far, near) = self.columns().flap;
        let (inset, tip) = (self.ease(), self.ease() + TAPER * self.flap());
        vec![
            Point::new(far, y0 + tip),
            Point::new(near, y0 + inset),
            Point::new(near, y1 - inset),
            Point::new(far, y1 - tip),
        ]
    }

    fn flap_waste(&self, b: &mut Builder, (y0, y1): (f64, f64)) {
        let (far, near) = self.columns().flap;
        let (inset, tip) = (self.ease(), self.ease() + TAPER * self.flap());
        for (y, up) in [(y0, 1.0), (y1, -1.0)] {
            let corner = vec![
                Point::new(far, y),
                Point::new(near, y),
                Point::new(near, y + inset * up),
                Point::new(far, y + tip * up),
            ];
            b.waste(corner, WasteReason::Shape);
        }
    }

    /// How short a tube may be for its glue flap, mm.
    pub(super) fn least_height(&self) -> f64 {
        let ends = 2.0 * (self.ease() + TAPER * self.flap());
        ends + (GLUE_AREA_MM2 / self.flap()).max(GLUE_WIDTH_MM) + 1.0
    }
}

/// Left and right of each column of the sheet, mm.
#[derive(Clone, Copy)]
pub(super) struct Columns {
    pub(super) root: (f64, f64),
    pub(super) right: (f64, f64),
    pub(super) left: (f64, f64),
    pub(super) over: (f64, f64),
    pub(super) flap: (f64, f64),
}

impl Walls {
    /// Glues the tube lying flat, where the hands can press it, and opens it: wall stays beside
    /// wall on the way, so that glue stays on its place. Returns the fold that glues.
    pub(super) fn glue_and_open(
        &self,
        b: &mut Builder,
        first: &'static str,
        above: Option<(PanelId, PanelId)>,
    ) {
        let to = |creases: &[CreaseId], angle| creases.iter().map(|id| (*id, angle)).collect();
        b.fold_to(first, to(&self.left_over, 180.0));
        let shut = to(&self.root_right, 180.0);
        let with_fold = b.fold_to("the right side flat over, onto the glue flap", shut);
        let own = Some(("flap inside the right side", (self.flap, self.right)));
        let above = above.map(|pair| ("flap beyond it, on the top of the right side", pair));
        for (name, (on, to)) in own.into_iter().chain(above) {
            let area = b.outline(on).to_vec();
            b.glue(GlueZone {
                name,
                area,
                on,
                on_side: Side::Outside,
                to,
                needs_width_mm: GLUE_WIDTH_MM,
                needs_area_mm2: GLUE_AREA_MM2,
                with_fold,
            });
        }
        let all = [
            self.root_right.as_slice(),
            &self.root_left,
            &self.left_over,
            &self.over_flap,
        ];
        let name = "the flat tube open, until it stands square";
        b.fold_to(name, to(&all.concat(), 90.0));
    }
}
