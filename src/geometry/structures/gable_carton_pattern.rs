//! The flat pattern of a gable-top carton, and the order of the hands.
//!
//! It lies on its front with the roof towards you, where the sides are seen to fold in; here it is
//! drawn the other way up and mirrored at the end.

use kurbo::Point;

use super::build::{Builder, ccw, mirror_y, rectangle, trim};
use super::gable_carton::GableCarton;
use super::gable_carton_hole::Hole;
use super::gable_carton_roof::Top;
use super::gable_carton_solid::{
    BACK, BACK_ROOF, BASE, FRONT, FRONT_ROOF, LEFT, LEFT_IN, RIGHT, RIGHT_IN, STRIPS, UNDER,
};
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::tapered_flap::Flap;
use super::tube::{TAPER, Walls, Wide};
use super::work::{Edge, Work};
use crate::{
    CreaseId, CurveShape, Face, GlueZone, Length, PanelId, PanelRole, Pattern, Side, Solid,
    WasteReason,
};

/// What folds in over a side.
struct SideTop {
    face: Face,
    /// Of the triangle, and of its flanks from left to right on the sheet.
    names: [&'static str; 3],
    /// Where the flanks lie under the roof.
    under: [(Face, i8); 2],
}

const RIGHT_TOP: SideTop = SideTop {
    face: RIGHT_IN,
    names: [
        "right side, folded in",
        "right flank at the front",
        "right flank at the back",
    ],
    // The glue flap lies between the roof and the flank at the back.
    under: [(UNDER[0], 1), (UNDER[1], 2)],
};

const LEFT_TOP: SideTop = SideTop {
    face: LEFT_IN,
    names: [
        "left side, folded in",
        "left flank at the back",
        "left flank at the front",
    ],
    under: [(UNDER[3], 1), (UNDER[2], 1)],
};

impl GableCarton {
    pub(super) fn eave(&self) -> f64 {
        self.height / 2.0
    }

    /// The flat pattern; the front is the root.
    pub(super) fn pattern(&self, name: &'static str) -> Pattern {
        let mut b = Builder::default();
        let (columns, h) = (self.tube.columns(), self.eave());
        let wide = |name, (x0, x1): (f64, f64), face| Wide {
            name,
            outline: rectangle(x0, -h, x1, h),
            face,
        };
        let front = wide("front", columns.root, FRONT);
        let back = wide("back", columns.over, BACK);
        let mut walls = self
            .tube
            .walls(&mut b, (-h, h), (front, back), (LEFT, RIGHT));
        let (top, seam) = self.top(&mut b, &mut walls);
        let base = self.base_flaps(&mut b, &walls);
        b.join_waste(WasteReason::Shape);

        walls.glue_and_open(&mut b, "the back flat over the side", Some(seam));
        self.fold_base(&mut b, &base);
        self.fold_top(&mut b, &top);
        let reach = (h + self.base, h + self.roof + self.strip);
        let sheet = rectangle(columns.flap.0, -reach.0, columns.right.1, reach.1);
        let upright = b.finish(name, sheet, self.solid(), (self.tube.caliper.mm(), 6));
        roof_towards_you(upright)
    }

    /// Roof, strips, what folds in over the sides, and the glue flap's part under the roof: it
    /// and what it is glued to.
    fn top(&self, b: &mut Builder, walls: &mut Walls) -> (Top, (PanelId, PanelId)) {
        let (columns, closed) = (self.tube.columns(), self.moment_at(1.0));
        let mut top = Top::default();
        let front = self.half_roof(b, &mut top, (walls.root, columns.root), true);
        let back = self.half_roof(b, &mut top, (walls.over, columns.over), false);
        // Before the flanks that lie under it: stacks are told from the roof down.
        let (flap, flap_hinge) = self.flap_under_roof(b, back);
        let right = self.folded_in(b, &mut top, walls.right, &RIGHT_TOP, columns.right);
        let left = self.folded_in(b, &mut top, walls.left, &LEFT_TOP, columns.left);
        let (h, e) = (self.eave(), self.eave() + self.roof);
        let mut along = |name, x: f64, pair| {
            let line = (Point::new(x, h), Point::new(x, e));
            b.crease(name, line, pair, closed.flank)
        };
        let right_front = along(RIGHT_TOP.names[1], columns.right.0, (front, right[0]));
        // When the back comes over, its roof moves and the flank beside it stays.
        let left_back = along(LEFT_TOP.names[1], columns.left.0, (left[0], back));
        let left_front = along(LEFT_TOP.names[2], columns.left.1, (front, left[1]));
        walls.root_right.push(right_front);
        walls.left_over.push(left_back);
        walls.root_left.push(left_front);
        walls.over_flap.push(flap_hinge);
        top.flanks = vec![right_front, left_back, left_front, flap_hinge];
        (top, (flap, right[1]))
    }

    /// What folds in over a side: the triangle, and its flanks from left to right on the sheet.
    fn folded_in(
        &self,
        b: &mut Builder,
        top: &mut Top,
        wall: PanelId,
        side: &SideTop,
        (x0, x1): (f64, f64),
    ) -> [PanelId; 2] {
        let closed = self.moment_at(1.0);
        let (h, e) = (self.eave(), self.eave() + self.roof);
        let [left, right] = [x0, x1].map(|x| [Point::new(x, h), Point::new(x, e)]);
        let middle = Point::new(f64::midpoint(x0, x1), e);
        let [name, left_name, right_name] = side.names;
        let outline = vec![left[0], right[0], middle];
        let triangle = b.panel(name, outline, (side.face, 0), PanelRole::Flap);
        let eave = (left[0], right[0]);
        top.sides
            .push(b.crease(name, eave, (wall, triangle), closed.side));
        let flanks = [
            (left_name, vec![left[0], middle, left[1]], side.under[0]),
            (right_name, vec![right[0], right[1], middle], side.under[1]),
        ];
        let flanks = flanks.map(|(name, outline, place)| {
            let line = (outline[0], middle);
            let flank = b.panel(name, outline, place, PanelRole::Tab);
            top.slanted
                .push(b.crease(name, line, (triangle, flank), closed.slanted));
            flank
        });
        let above = rectangle(x0, e, x1, e + self.strip);
        b.waste(above, WasteReason::Shape);
        flanks
    }

    /// One half of the roof with its strip, which is two panels with half of the hole each.
    fn half_roof(
        &self,
        b: &mut Builder,
        top: &mut Top,
        (wall, (x0, x1)): (PanelId, (f64, f64)),
        is_front: bool,
    ) -> PanelId {
        let closed = &self.moment_at(1.0);
        let (name, strip_name, face, strip_face) = if is_front {
            let name = "front half of the roof";
            (name, "front strip", FRONT_ROOF, STRIPS[0])
        } else {
            let name = "back half of the roof";
            (name, "back strip", BACK_ROOF, STRIPS[1])
        };
        let (h, e) = (self.eave(), self.eave() + self.roof);
        let middle = f64::midpoint(x0, x1);
        let roof = b.panel(name, rectangle(x0, h, x1, e), (face, 0), PanelRole::Flap);
        let eave = (Point::new(x0, h), Point::new(x1, h));
        top.eaves
            .push(b.crease(name, eave, (wall, roof), closed.eave));
        let on_sheet = |(x, y): (f64, f64)| Point::new(middle + x, e + y);
        let mut halves = Vec::new();
        let size = (self.tube.front() / 2.0, self.strip);
        for (side, x) in [(-1.0, x0), (1.0, x1)] {
            let half = self.hole.strip_half(size, side);
            let outline = ccw(half.into_iter().map(on_sheet).collect());
            let strip = b.panel(strip_name, outline, (strip_face, 1), PanelRole::Flap);
            let ridge = (Point::new(x, e), Point::new(middle, e));
            top.strips
                .push(b.crease(strip_name, ridge, (roof, strip), -closed.eave));
            halves.push(strip);
        }
        let hole = self.hole.outline(self.strip).into_iter().map(on_sheet);
        b.waste(hole.collect(), WasteReason::Window);
        for side in [-1.0, 1.0] {
            let (end, middle) = self.hole.end(self.strip, side);
            let end = end.into_iter().map(on_sheet).collect();
            b.curve(end, CurveShape::Circle(on_sheet(middle)));
        }
        let at = e + self.strip / 2.0;
        let (end, radius) = (e + self.strip, self.hole.radius);
        // One paper above and below the hole.
        for (from, to) in [(e, at - radius), (at + radius, end)] {
            let line = (Point::new(middle, from), Point::new(middle, to));
            b.bend(strip_name, line, (halves[0], halves[1]), 0.0);
        }
        roof
    }

    /// The part of the glue flap that holds a flank of the right side under the back half of the
    /// roof: within the flank, and clear of its edges.
    fn flap_under_roof(&self, b: &mut Builder, back: PanelId) -> (PanelId, CreaseId) {
        let (far, near) = self.tube.columns().flap;
        let (h, ease) = (self.eave(), self.tube.ease());
        let wide = self.tube.flap().min(self.tube.side() / 4.0);
        let (low, high) = (h + ease, h + self.roof - ease);
        let (rise, fall) = (2.0 * self.roof / self.tube.side() * wide, TAPER * wide);
        let (inner, outer) = (
            [Point::new(near, low), Point::new(near, high)],
            [
                Point::new(near - wide, low + rise),
                Point::new(near - wide, high - fall),
            ],
        );
        let end = h + self.roof + self.strip;
        let at = |y: f64| [Point::new(near, y), Point::new(near - wide, y)];
        let [below, above] = [at(h), at(end)];
        for outline in [
            vec![below[0], inner[0], outer[0], below[1]],
            vec![inner[1], above[0], above[1], outer[1]],
            rectangle(far, h, near - wide, end),
        ] {
            b.waste(outline, WasteReason::Shape);
        }
        let outline = vec![inner[0], inner[1], outer[1], outer[0]];
        let name = "glue flap under the roof";
        let flap = b.panel(name, outline, (BACK_ROOF, -1), PanelRole::Flap);
        let line = (inner[0], inner[1]);
        let hinge = b.crease(name, line, (back, flap), self.moment_at(1.0).flank);
        (flap, hinge)
    }

    /// The four flaps of the base: left, right, back, front.
    fn base_flaps(&self, b: &mut Builder, walls: &Walls) -> [(CreaseId, PanelId); 4] {
        let (columns, h, deep) = (self.tube.columns(), self.eave(), self.base);
        let ease = self.tube.ease();
        let reach = h + deep;
        let side = |b: &mut Builder, name, on, column| {
            let flap = Flap {
                name,
                on,
                column,
                from: h,
                deep: deep.min(self.tube.front() / 2.0 - ease),
                inset: (ease, ease),
                place: (BASE, -2),
            };
            flap.add(b, -1.0, reach)
        };
        let left = side(b, "left base flap", walls.left, columns.left);
        let right = side(b, "right base flap", walls.right, columns.right);
        let whole = |b: &mut Builder, name, on, (x0, x1): (f64, f64), layer| {
            let outline = rectangle(x0, -reach, x1, -h);
            let flap = b.panel(name, outline, (BASE, layer), PanelRole::Flap);
            let line = (Point::new(x0, -h), Point::new(x1, -h));
            (b.crease(name, line, (on, flap), 90.0), flap)
        };
        let back = whole(b, "back base flap", walls.over, columns.over, -1);
        let front = whole(b, "front base flap", walls.root, columns.root, 0);
        let (x0, x1) = columns.flap;
        b.waste(rectangle(x0, -reach, x1, -h), WasteReason::Shape);
        [left, right, back, front]
    }

    fn fold_base(&self, b: &mut Builder, flaps: &[(CreaseId, PanelId); 4]) {
        let columns = self.tube.columns();
        let [left, right, back, front] = *flaps;
        b.fold("both base flaps of the sides", &[left.0, right.0]);
        let with_fold = b.fold("the back base flap over them", &[back.0]);
        // The part of a side's flap that the back one reaches.
        let up = |x: f64| (Point::new(x, 0.0), Point::new(x, 1.0));
        let (from, to) = up(columns.left.0 + self.base);
        let on_left = trim(b.outline(left.1), from, to).0;
        let (from, to) = up(columns.right.1 - self.base);
        let on_right = trim(b.outline(right.1), from, to).1;
        let mut glue = |name, area, (on, to), with_fold| {
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
        };
        glue(
            "left base flap under the back one",
            on_left,
            (left.1, back.1),
            with_fold,
        );
        glue(
            "right base flap under the back one",
            on_right,
            (right.1, back.1),
            with_fold,
        );
        let (x0, x1) = columns.over;
        let overlap = 2.0 * self.base - self.tube.side();
        let end = -self.eave() - self.base;
        let strip = rectangle(x0, end, x1, end + overlap);
        glue(
            "back base flap under the front one",
            strip,
            (back.1, front.1),
            with_fold + 1,
        );
        b.fold("the front base flap over it", &[front.0]);
        b.at_far_end(with_fold - 1..with_fold + 2);
    }

    /// What the hands do, from the cut sheet to the closed carton.
    pub(super) fn work(&self, [base, strip, roof]: [Length; 3]) -> Vec<Work> {
        let slot = self.slot();
        let mut work = vec![Hole::work(slot)];
        work.extend(self.tube.scores());
        let score = |edge, at| Work::Score {
            from: vec![edge],
            at,
        };
        work.extend([
            score(Edge::Top, base),
            score(Edge::Bottom, strip),
            score(Edge::Bottom, roof),
        ]);
        work.extend([
            Work::ByTemplate {
                what: "the two slanted lines over each side",
                cut: false,
            },
            Work::CutAway {
                why: WasteReason::Shape,
                what: "what is over the sides and the ends of the flaps, along the template",
            },
            Work::Burnish,
            Work::Fold(0),
            Work::Glue(0),
            Work::Glue(1),
            Work::Fold(1),
            Work::Fold(2),
            Work::Fold(3),
            Work::Glue(2),
            Work::Glue(3),
            Work::Fold(4),
            Work::Glue(4),
            Work::Fold(5),
            Work::Fill,
        ]);
        work.extend((6..9).map(Work::Fold));
        if slot.is_none() {
            let through = "both holes";
            work.push(Work::Tie { through });
        }
        work
    }
}

/// The pattern mirrored, so that its roof lies towards you: there what folds in is seen.
fn roof_towards_you(mut pattern: Pattern) -> Pattern {
    let over = |p: Point| Point::new(p.x, -p.y);
    let outlines = [&mut pattern.blank].into_iter();
    let outlines = outlines.chain(pattern.panels.iter_mut().map(|panel| &mut panel.outline));
    let outlines = outlines.chain(pattern.waste.iter_mut().map(|waste| &mut waste.outline));
    for outline in outlines.chain(pattern.glue.iter_mut().map(|zone| &mut zone.area)) {
        *outline = mirror_y(outline);
    }
    for crease in &mut pattern.creases {
        (crease.a, crease.b) = (over(crease.b), over(crease.a));
    }
    if let Solid::Faces(faces) = &mut pattern.solid {
        for face in faces {
            face.corners.reverse();
            for corner in &mut face.corners {
                corner.y = -corner.y;
            }
        }
    }
    pattern
}
