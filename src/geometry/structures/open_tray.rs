//! What every open tray shares: a floor, four walls, and a tab at each corner glued behind an end
//! wall.
//!
//! ```text
//!   +------+----------------+------+   scores at d from each edge, right across the sheet
//!   | tab  :    end wall    :  tab |   slits along the side scores, from the edge to the end
//!   +------+----------------+------+   scores: they free the tabs from the end walls
//!   | side |                | side |
//!   | wall |     floor      | wall |   W, L  floor, crease to crease
//!   |      |                |      |   d     depth, crease to rim
//!   +------+----------------+------+   tabs reach as far along the end wall as they are high,
//!   | tab  :    end wall    :  tab |   at most to its middle; the rest is cut off
//!   +------+----------------+------+
//! ```

use kurbo::Point;

use super::build::{Builder, ccw, rectangle};
use super::floor::Floor;
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::work::{Edge, Work};
use crate::{
    CreaseId, Face, GlueZone, Length, PanelId, PanelRole, Pattern, Side, Solid, WasteReason,
};

/// A tab this long and this high takes a strip and a spot of glue that hold.
pub(super) const LEAST_TAB_MM: f64 = 5.5;

/// A tray without a lid, crease to crease, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OpenTray {
    /// Of the floor, along x.
    pub(super) width: f64,
    /// Of the floor, along y.
    pub(super) length: f64,
    /// From the floor to the rim.
    pub(super) depth: f64,
    /// Caliper.
    pub(super) t: f64,
}

/// The panels at one end.
struct End {
    wall: (PanelId, Vec<CreaseId>),
    tabs: [(PanelId, CreaseId); 2],
}

impl OpenTray {
    /// The tray that scores at one distance from each edge make.
    pub(super) fn of(blank: (Length, Length), score: Length, caliper: Length) -> Self {
        Self {
            width: (blank.0 - score * 2).mm(),
            length: (blank.1 - score * 2).mm(),
            depth: score.mm(),
            t: caliper.mm(),
        }
    }

    /// Between the bare walls, along x and y, mm: half a caliper less at each.
    pub(super) fn between_walls(&self) -> (f64, f64) {
        (self.width - self.t, self.length - self.t)
    }

    /// Clear of the tabs, which lie inside the two end walls, mm.
    pub(super) fn clear(&self) -> (f64, f64) {
        (self.width - self.t, self.length - 3.0 * self.t)
    }

    /// Over the walls, mm.
    pub(super) fn outside(&self) -> (f64, f64) {
        (self.width + self.t, self.length + self.t)
    }

    /// How far a tab reaches along its end wall, mm: two of them never meet.
    pub(super) fn tab_reach(&self) -> f64 {
        self.depth.min(self.width / 2.0 - self.t)
    }

    fn tabs_are_cut(&self) -> bool {
        self.tab_reach() < self.depth - 1e-9
    }

    /// The flat pattern; the floor is the root.
    pub(super) fn pattern(&self, name: &'static str, floor_name: &'static str) -> Pattern {
        self.with_window(name, floor_name, None)
    }

    /// The same with a round window in the floor, so many mm across.
    pub(super) fn with_window(
        &self,
        name: &'static str,
        floor_name: &'static str,
        window_mm: Option<f64>,
    ) -> Pattern {
        let (x, y, d) = (self.width / 2.0, self.length / 2.0, self.depth);
        let mut b = Builder::default();
        let floor = rectangle(-x, -y, x, y);
        let floor = Floor::add(&mut b, floor_name, floor, Face::Front, window_mm);
        let mut side = |name, sign: f64, face| {
            let outline = rectangle(x * sign, -y, (x + d) * sign, y);
            let wall = b.panel(name, outline, (face, 0), PanelRole::Wall);
            let line = (Point::new(x * sign, -y), Point::new(x * sign, y));
            (wall, floor.hinge(&mut b, name, line, wall))
        };
        let left = side("left wall", -1.0, Face::Left);
        let right = side("right wall", 1.0, Face::Right);
        let walls = [left.0, right.0];
        let bottom = self.end(&mut b, &floor, walls, Face::Bottom);
        let top = self.end(&mut b, &floor, walls, Face::Top);

        b.fold("both side walls up", &[left.1, right.1].concat());
        let tabs = [bottom.tabs, top.tabs].concat();
        let creases: Vec<CreaseId> = tabs.iter().map(|tab| tab.1).collect();
        b.fold("all four tabs in", &creases);
        let end_walls = [&bottom, &top].map(|end| end.wall.1.as_slice());
        let with_fold = b.fold("both end walls up", &end_walls.concat());
        for end in [&bottom, &top] {
            for tab in end.tabs {
                let area = b.outline(tab.0).to_vec();
                b.glue(GlueZone {
                    name: "tab on end wall",
                    area,
                    on: tab.0,
                    on_side: Side::Outside,
                    to: end.wall.0,
                    needs_width_mm: GLUE_WIDTH_MM,
                    needs_area_mm2: GLUE_AREA_MM2,
                    with_fold,
                });
            }
        }
        let solid = Solid::Box {
            x: self.width,
            y: self.length,
            z: d,
            open: vec![Face::Back],
        };
        let sheet = rectangle(-x - d, -y - d, x + d, y + d);
        b.finish(name, sheet, solid, (self.t, with_fold + 1))
    }

    /// The wall at one end with its tabs, which hang on the side walls.
    fn end(&self, b: &mut Builder, floor: &Floor, walls: [PanelId; 2], face: Face) -> End {
        let (x, y, d) = (self.width / 2.0, self.length / 2.0, self.depth);
        let (up, name, tab_names) = if face == Face::Top {
            (1.0, "top end wall", ["top left tab", "top right tab"])
        } else {
            let tabs = ["bottom left tab", "bottom right tab"];
            (-1.0, "bottom end wall", tabs)
        };
        let outline = ccw(rectangle(-x, y * up, x, (y + d) * up));
        let wall = b.panel(name, outline, (face, 0), PanelRole::Wall);
        let line = (Point::new(-x, y * up), Point::new(x, y * up));
        let wall = (wall, floor.hinge(b, name, line, wall));
        let reach = y + self.tab_reach();
        let mut tab = |index: usize, across: f64| {
            let (name, side) = (tab_names[index], walls[index]);
            let (near, far) = (x * across, (x + d) * across);
            let outline = rectangle(near, y * up, far, reach * up);
            let tab = b.panel(name, outline, (face, -1), PanelRole::Tab);
            let rest = rectangle(near, reach * up, far, (y + d) * up);
            b.waste(rest, WasteReason::Trim);
            b.cut(Point::new(near, (y + d) * up), Point::new(near, y * up));
            let hinge = (Point::new(near, y * up), Point::new(far, y * up));
            (tab, b.crease(name, hinge, (side, tab), 90.0))
        };
        let tabs = [tab(0, -1.0), tab(1, 1.0)];
        End { wall, tabs }
    }

    /// What the hands do to the sheet, up to the standing tray.
    pub(super) fn work(&self, score: Length) -> Vec<Work> {
        let mut work = vec![
            Work::Score {
                from: Edge::ALL.to_vec(),
                at: score,
            },
            Work::CutSlits {
                what: "the slits at the four corners, from the edge to the first score",
            },
        ];
        if self.tabs_are_cut() {
            work.push(Work::TrimTo {
                what: "the ends of the four tabs",
                stays_mm: self.tab_reach(),
            });
        }
        work.extend([Work::Burnish, Work::Fold(0), Work::Fold(1)]);
        work.extend((0..4).map(Work::Glue));
        work.push(Work::Fold(2));
        work
    }
}
