//! The flat pattern of a punch-board box: panels, creases, glue and the order of the hands.
//!
//! Axes of the pattern are u and v of the structure; see [`super::punch_box`] for the drawing.

use kurbo::Point;

use super::PunchBox;
use super::build::{Builder, ccw, mirror_x, mirror_y, rectangle, trim};
use super::notched_square::{
    FlapShape, GLUE_AREA_MM2, GLUE_WIDTH_MM, HeldDown, blank, notches, worth_gluing,
};
use crate::polygon::convex_overlap;
use crate::{CreaseId, Face, GlueZone, PanelId, PanelRole, Pattern, Side, Solid, WasteReason};

type Made = (PanelId, CreaseId);

/// Everything at one end of the box.
struct End {
    left_tab: Made,
    right_tab: Made,
    wall: Made,
    flap: Made,
}

/// Names of what lies at one end.
struct EndNames {
    face: Face,
    wall: &'static str,
    flap: &'static str,
    left_tab: &'static str,
    right_tab: &'static str,
}

const BOTTOM: EndNames = EndNames {
    face: Face::Bottom,
    wall: "bottom end wall",
    flap: "bottom end flap",
    left_tab: "bottom left tab",
    right_tab: "bottom right tab",
};

const TOP: EndNames = EndNames {
    face: Face::Top,
    wall: "top end wall",
    flap: "top end flap",
    left_tab: "top left tab",
    right_tab: "top right tab",
};

/// The panels along the middle row of the sheet.
struct Body {
    front: PanelId,
    left: Made,
    right: Made,
    inner: Made,
    outer: Made,
}

impl PunchBox {
    /// The flat pattern; the front is the root, u and v are x and y.
    #[must_use]
    pub fn pattern(&self) -> Pattern {
        let mut b = Builder::default();
        let body = self.add_body(&mut b);
        let bottom = self.add_end(&mut b, &body, &BOTTOM);
        let top = self.add_end(&mut b, &body, &TOP);
        notches(
            &mut b,
            self.width / 2.0,
            self.length / 2.0 + self.depth,
            self.s,
        );
        notches(
            &mut b,
            self.width / 2.0 + self.depth,
            self.length / 2.0,
            self.s,
        );

        b.fold("both side walls", &[body.left.1, body.right.1]);
        b.fold("inner side flap", &[body.inner.1]);
        let with_fold = b.fold("outer side flap", &[body.outer.1]);
        self.glue_back(&mut b, &body, with_fold);
        let tabs = self.fold_tabs(
            &mut b,
            &bottom,
            ["bottom tabs", "bottom left tab", "bottom right tab"],
        );
        let wall = b.fold("bottom end wall", &[bottom.wall.1]);
        self.glue_tabs(&mut b, &bottom, tabs, wall);
        let with_fold = b.fold("bottom end flap", &[bottom.flap.1]);
        self.glue_end_flap(&mut b, &body, &bottom, with_fold);
        let folds_before_filling = with_fold + 1;
        self.fold_tabs(&mut b, &top, ["top tabs", "top left tab", "top right tab"]);
        b.fold("top end wall", &[top.wall.1]);
        b.fold("top end flap", &[top.flap.1]);

        let solid = Solid::Box {
            x: self.width,
            y: self.length,
            z: self.depth,
            open: Vec::new(),
        };
        let sheet = blank(self.settings().sheet.mm());
        b.finish(
            "punch-board box",
            sheet,
            solid,
            (self.caliper.mm(), folds_before_filling),
        )
    }

    fn add_body(&self, b: &mut Builder) -> Body {
        let (x, y) = (self.width / 2.0, self.length / 2.0);
        let far = x + self.depth;
        let front = b.panel(
            "front",
            rectangle(-x, -y, x, y),
            (Face::Front, 0),
            PanelRole::Wall,
        );
        let wall = rectangle(x, -y, far, y);
        let left = b.panel(
            "left side wall",
            mirror_x(&wall),
            (Face::Left, 0),
            PanelRole::Wall,
        );
        let right = b.panel("right side wall", wall, (Face::Right, 0), PanelRole::Wall);
        let shape = FlapShape {
            side: self.length,
            s: self.s,
            trim_at: self.width,
            radius: 0.0,
        };
        let flap = |b: &mut Builder, name, quarters, layer| {
            let flap = shape.pointing_right(far).turned(quarters);
            flap.add(b, name, (Face::Back, layer))
        };
        let inner = flap(b, "inner side flap", 2, -1);
        let outer = flap(b, "outer side flap", 0, 0);
        let line = |x: f64| (Point::new(x, -y), Point::new(x, y));
        let right_crease = b.crease("right side", line(x), (front, right), 90.0);
        let left_crease = b.crease("left side", line(-x), (front, left), 90.0);
        let inner_crease = b.crease("inner side flap", line(-far), (left, inner), 90.0);
        let outer_crease = b.crease("outer side flap", line(far), (right, outer), 90.0);
        Body {
            front,
            left: (left, left_crease),
            right: (right, right_crease),
            inner: (inner, inner_crease),
            outer: (outer, outer_crease),
        }
    }

    fn add_end(&self, b: &mut Builder, body: &Body, names: &EndNames) -> End {
        let is_top = names.face == Face::Top;
        let (x, y) = (self.width / 2.0, self.length / 2.0);
        let far = y + self.depth;
        let upright = |outline: Vec<Point>| if is_top { outline } else { mirror_y(&outline) };
        let sign = if is_top { 1.0 } else { -1.0 };
        let wall = b.panel(
            names.wall,
            upright(rectangle(-x, y, x, far)),
            (names.face, 0),
            PanelRole::Wall,
        );
        let shape = FlapShape {
            side: self.width,
            s: self.s,
            trim_at: self.length,
            radius: self.tip_radius_mm(),
        };
        let flap = shape.pointing_right(far).turned(if is_top { 1 } else { 3 });
        // The top flap closes last, over the bottom one where they are long enough to meet.
        let layer = if is_top { 2 } else { 1 };
        let flap = flap.add(b, names.flap, (Face::Back, layer));
        let line = |v: f64| (Point::new(-x, v * sign), Point::new(x, v * sign));
        let wall_crease = b.crease(names.wall, line(y), (body.front, wall), 90.0);
        let flap_crease = b.crease(names.flap, line(far), (wall, flap), 90.0);
        End {
            left_tab: self.add_tab(b, names, (names.left_tab, body.left.0), -1.0),
            right_tab: self.add_tab(b, names, (names.right_tab, body.right.0), 1.0),
            wall: (wall, wall_crease),
            flap: (flap, flap_crease),
        }
    }

    /// The tab on the left (side -1) or right (+1) of an end, hinged on the side wall.
    fn add_tab(
        &self,
        b: &mut Builder,
        end: &EndNames,
        (name, side_wall): (&'static str, PanelId),
        side: f64,
    ) -> Made {
        let sign = if end.face == Face::Top { 1.0 } else { -1.0 };
        let there = |outline: &[Point]| {
            ccw(outline
                .iter()
                .map(|p| Point::new(p.x * side, p.y * sign))
                .collect())
        };
        let (tab, off) = self.corner();
        // The left tab goes first, so that it is the inner one where the two overlap.
        let layer = if self.tabs_overlap() && side < 0.0 {
            -2
        } else {
            -1
        };
        let panel = b.panel(name, there(&tab), (end.face, layer), PanelRole::Tab);
        b.waste(there(&off), WasteReason::Trim);
        let (x, y) = (self.width / 2.0 * side, self.length / 2.0 * sign);
        let far = (self.width / 2.0 + self.depth) * side;
        let notch = (self.length / 2.0 + self.depth) * sign;
        b.cut(Point::new(x, notch), Point::new(x, y));
        let hinge = (Point::new(x, y), Point::new(far, y));
        (panel, b.crease(name, hinge, (side_wall, panel), 90.0))
    }

    /// The top right corner: a square of side d, its far corner lost to the edge of the sheet;
    /// and what is trimmed off where it is longer than the box is wide.
    fn corner(&self) -> (Vec<Point>, Vec<Point>) {
        let (x, y, d) = (self.width / 2.0, self.length / 2.0, self.depth);
        let square = rectangle(x, y, x + d, y + d);
        // The edge of the sheet, u + v = R, keeps the corner next to the front.
        let on_edge = Point::new(x + d, y + self.s);
        let (tab, _) = trim(&square, on_edge, on_edge + kurbo::Vec2::new(-1.0, 1.0));
        let reach = y + self.tab_reach_mm();
        trim(&tab, Point::new(1.0, reach), Point::new(0.0, reach))
    }

    /// Two tabs that lie over each other cannot be folded at once: the left one goes first.
    fn fold_tabs(&self, b: &mut Builder, end: &End, names: [&'static str; 3]) -> usize {
        if self.tabs_overlap() {
            b.fold(names[1], &[end.left_tab.1]);
            b.fold(names[2], &[end.right_tab.1])
        } else {
            b.fold(names[0], &[end.left_tab.1, end.right_tab.1])
        }
    }

    /// The outer side flap onto the inner one. Closed, u of the outer flap lies at W + d − u and
    /// u of the inner one at −(W + d) − u.
    fn glue_back(&self, b: &mut Builder, body: &Body, with_fold: usize) {
        let span = 2.0 * (self.width + self.depth);
        let inner_there: Vec<Point> = b
            .outline(body.inner.0)
            .iter()
            .map(|p| Point::new(p.x + span, p.y))
            .collect();
        let area = convex_overlap(b.outline(body.outer.0), &inner_there);
        b.glue(GlueZone {
            name: "outer side flap on inner side flap",
            area,
            on: body.outer.0,
            on_side: Side::Inside,
            to: body.inner.0,
            needs_width_mm: GLUE_WIDTH_MM,
            needs_area_mm2: GLUE_AREA_MM2,
            with_fold,
        });
    }

    /// Both tabs to the end wall. Where they overlap the left one lies under the right one and
    /// is glued by the part that shows, or, if that is too little, to the right one.
    fn glue_tabs(&self, b: &mut Builder, end: &End, tabs: usize, wall: usize) {
        let right = self.bottom_right_tab();
        let left = mirror_x(&right);
        let mut zone = |name, area, on: Made, to: Made, with_fold| {
            b.glue(GlueZone {
                name,
                area,
                on: on.0,
                on_side: Side::Outside,
                to: to.0,
                needs_width_mm: GLUE_WIDTH_MM,
                needs_area_mm2: GLUE_AREA_MM2,
                with_fold,
            });
        };
        zone(
            "right tab on end wall",
            right,
            end.right_tab,
            end.wall,
            wall,
        );
        let shows = self.left_tab_that_shows(&left);
        if worth_gluing(&shows) {
            zone("left tab on end wall", shows, end.left_tab, end.wall, wall);
        } else {
            let covered = self.left_tab_under_right(&left);
            zone(
                "left tab on right tab",
                covered,
                end.left_tab,
                end.right_tab,
                tabs,
            );
        }
    }

    /// The part of the bottom left tab that the right one does not reach.
    fn left_tab_that_shows(&self, left: &[Point]) -> Vec<Point> {
        if !self.tabs_overlap() {
            return left.to_vec();
        }
        let meets = -self.length / 2.0 - (self.width - self.tab_reach_mm());
        trim(left, Point::new(1.0, meets), Point::new(0.0, meets)).1
    }

    /// The part of the bottom left tab under the right one, which lies mirrored over it when
    /// closed: what reaches r on the one reaches W − r on the other.
    fn left_tab_under_right(&self, left: &[Point]) -> Vec<Point> {
        let mirrored = |p: &Point| Point::new(p.x, -self.length - self.width - p.y);
        convex_overlap(left, &ccw(left.iter().map(mirrored).collect()))
    }

    fn bottom_right_tab(&self) -> Vec<Point> {
        mirror_y(&self.corner().0)
    }

    /// The bottom end flap onto the back. Closed, its v lies at −(L + d) − v.
    fn glue_end_flap(&self, b: &mut Builder, body: &Body, bottom: &End, with_fold: usize) {
        let across = self.width + self.depth;
        let along = self.length + self.depth;
        // All three seen in the plane of the closed back, x and y as on the front.
        let fold_up = |p: Point| Point::new(p.x, -along - p.y);
        HeldDown {
            name_outer: "bottom end flap on outer side flap",
            name_inner: "bottom end flap on inner side flap",
            flap: bottom.flap.0,
            outer: body.outer.0,
            inner: body.inner.0,
            with_fold,
        }
        .add_glue(
            b,
            [&fold_up, &|p| Point::new(across - p.x, p.y), &|p| {
                Point::new(-across - p.x, p.y)
            }],
            &fold_up,
        );
    }
}
