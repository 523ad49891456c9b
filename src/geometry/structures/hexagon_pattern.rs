//! The pattern of one six-sided tray, base or lid.
//!
//! ```text
//!         +----------+            two sides of the floor lie along the top and bottom edge of
//!       tab\  wall  /tab          the sheet, d from it: these are scored on the score board;
//!      .--- +------+ ---.         all else follows a template
//!     / wall/      \wall \
//!     \    /  floor \    /        a  side of the floor, f = √3 a across flats, d depth
//!  tab >--+          +--< tab     the sheet is f + 2 d high and at least 2 a + √3 d wide
//!     /    \        /    \
//!     \ wall\      /wall /        three walls carry a tab at each end, which is glued behind
//!      '--- +------+ ---'         the next wall: those three walls are folded up last and
//!       tab/  wall  \tab          close over the tabs
//!         +----------+
//! ```
//!
//! Walls 0 to 5 run counter-clockwise from the top edge; the even ones carry the tabs.

use kurbo::{Point, Vec2};

use super::build::{Builder, rectangle, solid_face};
use super::floor::Floor;
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::work::{Edge, Work};
use crate::{
    CreaseId, Face, GlueZone, Length, PanelId, PanelRole, Pattern, Side, Solid, Vec3, WasteReason,
};

pub(super) const SQRT_3: f64 = 1.732_050_807_568_877_2;
/// A tab needs no more than this, mm (common practice, no source).
const MOST_TAB_MM: f64 = 15.0;

/// The walls by their place among the faces of the solid.
pub(super) const WALLS: [Face; 6] = [
    Face::Numbered(1),
    Face::Numbered(2),
    Face::Numbered(3),
    Face::Numbered(4),
    Face::Numbered(5),
    Face::Numbered(6),
];
const WALL_NAMES: [&str; 6] = [
    "top wall",
    "upper left wall",
    "lower left wall",
    "bottom wall",
    "lower right wall",
    "upper right wall",
];
/// The tab at each corner, between the wall of that number and the next.
const TAB_NAMES: [&str; 6] = [
    "first tab",
    "second tab",
    "third tab",
    "fourth tab",
    "fifth tab",
    "sixth tab",
];

/// A wall with the creases that it hangs on.
type Wall = (PanelId, Vec<CreaseId>);

/// A six-sided tray without a lid, crease to crease, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct HexTray {
    /// Of the sheet.
    pub(super) sheet: (f64, f64),
    /// From the floor to the rim.
    pub(super) depth: f64,
    /// Caliper.
    pub(super) t: f64,
}

impl HexTray {
    /// The tray whose top and bottom wall are scored at one distance from the sheet's edges.
    pub(super) fn of(blank: (Length, Length), score: Length, caliper: Length) -> Self {
        Self {
            sheet: (blank.0.mm(), blank.1.mm()),
            depth: score.mm(),
            t: caliper.mm(),
        }
    }

    /// Across the flats of the floor, mm.
    pub(super) fn flats(&self) -> f64 {
        self.sheet.1 - 2.0 * self.depth
    }

    /// A side of the floor, mm.
    pub(super) fn side(&self) -> f64 {
        self.flats() / SQRT_3
    }

    /// Least width of the sheet, mm.
    pub(super) fn least_width(&self) -> f64 {
        least_width(self.flats(), self.depth)
    }

    /// Across flats, clear of the tabs: as if each wall had one inside it, mm.
    pub(super) fn clear(&self) -> f64 {
        self.flats() - 3.0 * self.t
    }

    /// Across flats, over the walls, mm.
    pub(super) fn outside(&self) -> f64 {
        self.flats() + self.t
    }

    /// The prism over the floor: (3 √3 / 2) a² d, mm³.
    pub(super) fn volume(&self) -> f64 {
        1.5 * SQRT_3 * self.side().powi(2) * self.depth
    }

    /// How far a tab reaches along its wall, mm: two of them never meet.
    fn tab(&self) -> f64 {
        let tip = self.depth * SQRT_3 / 2.0;
        tip.min(self.side() / 2.0 - self.t).min(MOST_TAB_MM)
    }

    /// The flat pattern; the floor is the root, with a round window so many mm across if there is
    /// one.
    pub(super) fn pattern(
        &self,
        name: &'static str,
        floor_name: &'static str,
        window_mm: Option<f64>,
    ) -> Pattern {
        let mut b = Builder::default();
        let corners = (0..6).map(|k| self.corner(k)).collect();
        let floor = Floor::add(&mut b, floor_name, corners, Face::Numbered(0), window_mm);
        let walls: Vec<Wall> = (0..6).map(|k| self.wall(&mut b, &floor, k)).collect();
        let tabs: Vec<(PanelId, CreaseId)> =
            (0..6).map(|k| self.tab_at(&mut b, &walls, k)).collect();
        self.waste(&mut b);
        let every_other = |first: usize| {
            let every = walls.iter().skip(first).step_by(2);
            every.flat_map(|wall| wall.1.clone()).collect::<Vec<_>>()
        };
        b.fold("the walls with tabs up", &every_other(0));
        let creases: Vec<CreaseId> = tabs.iter().map(|tab| tab.1).collect();
        b.fold("all six tabs in", &creases);
        let with_fold = b.fold("the other three walls up", &every_other(1));
        for (k, tab) in tabs.iter().enumerate() {
            let area = b.outline(tab.0).to_vec();
            b.glue(GlueZone {
                name: "tab behind the next wall",
                area,
                on: tab.0,
                on_side: Side::Outside,
                to: walls[without_tabs(k)].0,
                needs_width_mm: GLUE_WIDTH_MM,
                needs_area_mm2: GLUE_AREA_MM2,
                with_fold,
            });
        }
        let (x, y) = (self.sheet.0 / 2.0, self.sheet.1 / 2.0);
        let sheet = rectangle(-x, -y, x, y);
        let solid = self.solid(floor_name);
        b.finish(name, sheet, solid, (self.t, with_fold + 1))
    }

    /// The corner of the floor between wall k and the next.
    fn corner(&self, k: usize) -> Point {
        let (a, f) = (self.side() / 2.0, self.flats() / 2.0);
        let at = [
            (-a, f),
            (-2.0 * a, 0.0),
            (-a, -f),
            (a, -f),
            (2.0 * a, 0.0),
            (a, f),
        ];
        Point::from(at[k % 6])
    }

    /// Where that corner comes if it is moved out with wall k.
    fn out(&self, corner: usize, wall: usize) -> Point {
        self.corner(corner) + outward(wall) * self.depth
    }

    fn wall(&self, b: &mut Builder, floor: &Floor, k: usize) -> Wall {
        let (from, to) = (k + 5, k);
        let line = (self.corner(from), self.corner(to));
        let outline = vec![line.0, self.out(from, k), self.out(to, k), line.1];
        let name = WALL_NAMES[k];
        let wall = b.panel(name, outline, (WALLS[k], 0), PanelRole::Wall);
        (wall, floor.hinge(b, name, line, wall))
    }

    /// The tab at corner k: it hangs on the even wall there and fills the gap of 60° as far as it
    /// reaches.
    fn tab_at(&self, b: &mut Builder, walls: &[Wall], k: usize) -> (PanelId, CreaseId) {
        let (on, to) = (with_tabs(k), without_tabs(k));
        let (corner, hinge, slit) = (self.corner(k), self.out(k, on), self.out(k, to));
        // Along the slit and along the rim the gap narrows as an equilateral triangle does.
        let part = (self.tab() / (self.depth * SQRT_3 / 2.0)).min(1.0);
        let (at_slit, at_rim) = (corner.lerp(slit, part), hinge.lerp(slit, part));
        let mut outline = vec![corner, at_slit, at_rim, hinge];
        if part >= 1.0 {
            outline.remove(2);
        } else {
            b.waste(vec![at_slit, slit, at_rim], WasteReason::Shape);
        }
        b.cut(at_slit, corner);
        let name = TAB_NAMES[k];
        let tab = b.panel(name, outline, (WALLS[to], -1), PanelRole::Tab);
        let crease = b.crease(name, (corner, hinge), (walls[on].0, tab), 60.0);
        (tab, crease)
    }

    /// What is left of the sheet round walls and tabs: four corners, and a strip at each side of
    /// a sheet that is wider than it has to be.
    fn waste(&self, b: &mut Builder) {
        let (x, y) = (self.least_width() / 2.0, self.sheet.1 / 2.0);
        for (sx, sy, at) in [
            (-1.0, 1.0, [(0, 0), (0, 1), (1, 1)]),
            (-1.0, -1.0, [(2, 3), (2, 2), (1, 2)]),
            (1.0, -1.0, [(3, 3), (3, 4), (4, 4)]),
            (1.0, 1.0, [(5, 0), (5, 5), (4, 5)]),
        ] {
            let mut outline = vec![Point::new(sx * x, sy * y)];
            outline.extend(at.map(|(corner, wall)| self.out(corner, wall)));
            b.waste(outline, WasteReason::Shape);
            let strip = rectangle(sx * x, 0.0, sx * self.sheet.0 / 2.0, sy * y);
            b.waste(strip, WasteReason::Shape);
        }
    }

    fn solid(&self, floor_name: &'static str) -> Solid {
        let at = |k: usize, z: f64| {
            let p = self.corner(k);
            Vec3::new(p.x, p.y, z)
        };
        let (d, up) = (self.depth, Vec3::new(0.0, 0.0, 1.0));
        let level = |z: f64| (0..6).map(|k| at(k, z)).collect::<Vec<_>>();
        let mut faces = vec![solid_face(floor_name, level(0.0), -up, false)];
        for (k, name) in WALL_NAMES.into_iter().enumerate() {
            let corners = vec![at(k + 5, 0.0), at(k, 0.0), at(k, d), at(k + 5, d)];
            let n = outward(k);
            faces.push(solid_face(name, corners, Vec3::new(n.x, n.y, 0.0), false));
        }
        faces.push(solid_face("rim", level(d), up, true));
        Solid::Faces(faces)
    }

    /// What the hands do to the sheet, up to the standing tray.
    pub(super) fn work(score: Length) -> Vec<Work> {
        let mut work = vec![
            Work::ByTemplate {
                what: "the four slanting sides of the floor and the six tabs",
                cut: false,
            },
            Work::ScorePart {
                from: vec![Edge::Top, Edge::Bottom],
                at: score,
                part: "only from one slanting score to the other",
            },
            Work::ByTemplate {
                what: "the outline of walls and tabs",
                cut: true,
            },
            Work::CutSlits {
                what: "the six slits between tab and wall, up to the corner of the floor",
            },
            Work::Burnish,
            Work::Fold(0),
            Work::Fold(1),
        ];
        work.extend((0..6).map(Work::Glue));
        work.push(Work::Fold(2));
        work
    }
}

/// Least width of a sheet for a tray this wide across flats and this deep, mm.
pub(super) fn least_width(flats: f64, depth: f64) -> f64 {
    2.0 * flats / SQRT_3 + SQRT_3 * depth
}

/// The wall at corner k that carries the tab there, and the one that the tab is glued to.
fn with_tabs(k: usize) -> usize {
    (k + k % 2) % 6
}

fn without_tabs(k: usize) -> usize {
    k + 1 - k % 2
}

/// The direction out of the floor over wall k.
fn outward(k: usize) -> Vec2 {
    let (x, y) = (SQRT_3 / 2.0, 0.5);
    let at = [(0.0, 1.0), (-x, y), (-x, -y), (0.0, -1.0), (x, -y), (x, y)];
    Vec2::from(at[k % 6])
}
