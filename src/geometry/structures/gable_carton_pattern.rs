//! The flat pattern of a gable-top carton, and the order of the hands.
//!
//! The roof closes in two moves: the sides are pushed in, then both halves come together. All
//! panels stay rigid and joined on the way: the angles follow the mechanism ([`leans`]) and are
//! exact at each of the moments given, which are close together.

use std::f64::consts::PI;

use kurbo::Point;

use super::build::{Builder, rectangle, trim};
use super::gable_carton::{GableCarton, HOLE_MM, leans};
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::tapered_flap::Flap;
use super::tube::{TAPER, WallFaces, Walls};
use super::work::{Edge, Work};
use crate::{
    CreaseId, Face, GlueZone, Length, PanelId, PanelRole, Pattern, Side, Solid, SolidFace, Vec3,
    WasteReason,
};

/// Straight pieces for half the round of the hole.
const HOLE_PIECES: usize = 6;
/// Parts of a move at which the angles of the moving roof are given.
const MOMENTS: usize = 32;
/// The moment just before the end at which a fold is looked at.
const ARRIVING: f64 = 0.97;
/// How far the roof has come when the sides are pushed in.
const PUSHED_IN: f64 = 0.5;

/// Faces of the solid.
const FRONT: Face = Face::Numbered(0);
const BACK: Face = Face::Numbered(1);
const RIGHT: Face = Face::Numbered(2);
const LEFT: Face = Face::Numbered(3);
const BOTTOM: Face = Face::Numbered(4);
const FRONT_ROOF: Face = Face::Numbered(5);
const BACK_ROOF: Face = Face::Numbered(6);
const RIGHT_IN: Face = Face::Numbered(7);
const LEFT_IN: Face = Face::Numbered(8);
const UNDER: [Face; 4] = [
    Face::Numbered(9),
    Face::Numbered(10),
    Face::Numbered(11),
    Face::Numbered(12),
];

/// A moment of the moving roof, in degrees.
struct Moment {
    eave: f64,
    side: f64,
    flank: f64,
    slanted: f64,
}

/// The creases of the top.
#[derive(Default)]
struct Top {
    eaves: Vec<CreaseId>,
    sides: Vec<CreaseId>,
    /// Between roof and flanks, along the scores of the tube.
    flanks: Vec<CreaseId>,
    slanted: Vec<CreaseId>,
    strips: Vec<CreaseId>,
}

impl GableCarton {
    fn eave(&self) -> f64 {
        self.height / 2.0
    }

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
    fn moment_at(&self, part: f64) -> Moment {
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

    /// The flat pattern; the front is the root.
    pub(super) fn pattern(&self, name: &'static str) -> Pattern {
        let mut b = Builder::default();
        let (columns, h) = (self.tube.columns(), self.eave());
        let faces = WallFaces {
            front: FRONT,
            right: RIGHT,
            left: LEFT,
            back: BACK,
        };
        let wall = |(x0, x1): (f64, f64)| rectangle(x0, -h, x1, h);
        let walls = (wall(columns.front), wall(columns.back));
        let mut walls = self.tube.walls(&mut b, (-h, h), walls, faces);
        let (top, seam) = self.top(&mut b, &mut walls);
        let bottom = self.bottom_flaps(&mut b, &walls);
        b.join_waste(WasteReason::Shape);

        walls.glue_and_open(&mut b, Some(seam));
        self.fold_bottom(&mut b, &bottom);
        self.fold_top(&mut b, &top);
        let reach = (h + self.bottom, h + self.roof + self.strip);
        let sheet = rectangle(columns.flap.0, -reach.0, columns.right.1, reach.1);
        b.finish(name, sheet, self.solid(), (self.tube.caliper.mm(), 6))
    }

    /// Roof, strips, what folds in over the sides, and the glue flap's part under the roof: it
    /// and what it is glued to.
    fn top(&self, b: &mut Builder, walls: &mut Walls) -> (Top, (PanelId, PanelId)) {
        let columns = self.tube.columns();
        let closed = &self.moment_at(1.0);
        let mut top = Top::default();
        let front = self.half_roof(b, &mut top, (walls.front, columns.front), true);
        let back = self.half_roof(b, &mut top, (walls.back, columns.back), false);
        let (h, e) = (self.eave(), self.eave() + self.roof);
        let sides = [
            (
                walls.right,
                columns.right,
                [
                    "right side, folded in",
                    "right flank at the front",
                    "right flank at the back",
                ],
            ),
            (
                walls.left,
                columns.left,
                [
                    "left side, folded in",
                    "left flank at the back",
                    "left flank at the front",
                ],
            ),
        ];
        // Before the flanks that lie under it: stacks are told from the roof down.
        let flap = self.flap_under_roof(b);
        let mut glued_to = walls.right;
        for (wall, (x0, x1), names) in sides {
            let is_right = wall == walls.right;
            let middle = Point::new(f64::midpoint(x0, x1), e);
            let (low, high) = (
                (Point::new(x0, h), Point::new(x1, h)),
                (Point::new(x0, e), Point::new(x1, e)),
            );
            let face = if is_right { RIGHT_IN } else { LEFT_IN };
            let triangle = vec![low.0, low.1, middle];
            let triangle = b.panel(names[0], triangle, (face, 0), PanelRole::Flap);
            top.sides
                .push(b.crease(names[0], low, (wall, triangle), closed.side));
            // On the right column the front's roof is on the left, on the left one the back's.
            let under = if is_right {
                [UNDER[0], UNDER[1]]
            } else {
                [UNDER[3], UNDER[2]]
            };
            let one = b.panel(
                names[1],
                vec![low.0, middle, high.0],
                (under[0], -2),
                PanelRole::Tab,
            );
            let two = b.panel(
                names[2],
                vec![low.1, high.1, middle],
                (under[1], -2),
                PanelRole::Tab,
            );
            let mut along = |b: &mut Builder, name, line, pair| {
                let id = b.crease(name, line, pair, closed.flank);
                top.flanks.push(id);
                id
            };
            if is_right {
                walls
                    .front_right
                    .push(along(b, names[1], (low.0, high.0), (front, one)));
                glued_to = two;
            } else {
                walls
                    .left_back
                    .push(along(b, names[1], (low.0, high.0), (back, one)));
                walls
                    .front_left
                    .push(along(b, names[2], (low.1, high.1), (front, two)));
            }
            for (name, from, flank) in [(names[1], low.0, one), (names[2], low.1, two)] {
                top.slanted
                    .push(b.crease(name, (from, middle), (triangle, flank), closed.slanted));
            }
            let above = rectangle(x0, e, x1, e + self.strip);
            b.waste(above, WasteReason::Shape);
        }
        let hinge = (
            Point::new(columns.flap.1, h + self.tube.ease()),
            Point::new(columns.flap.1, e - self.tube.ease()),
        );
        let hinge = b.crease(
            "glue flap under the roof",
            hinge,
            (back, flap),
            closed.flank,
        );
        walls.back_flap.push(hinge);
        top.flanks.push(hinge);
        (top, (flap, glued_to))
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
        let (name, strip_name, face, layer) = if is_front {
            ("front half of the roof", "front strip", FRONT_ROOF, 1)
        } else {
            ("back half of the roof", "back strip", BACK_ROOF, 0)
        };
        let (h, e) = (self.eave(), self.eave() + self.roof);
        let (end, middle) = (e + self.strip, f64::midpoint(x0, x1));
        let roof = b.panel(name, rectangle(x0, h, x1, e), (face, 0), PanelRole::Flap);
        let eave = (Point::new(x0, h), Point::new(x1, h));
        top.eaves
            .push(b.crease(name, eave, (wall, roof), closed.eave));
        let at = e + self.strip / 2.0;
        let round = |side: f64| {
            (0..=HOLE_PIECES).map(move |i| {
                let angle = PI * i as f64 / HOLE_PIECES as f64;
                Point::new(
                    middle + side * HOLE_MM * angle.sin(),
                    at - HOLE_MM * angle.cos(),
                )
            })
        };
        let mut halves = Vec::new();
        for (side, x) in [(-1.0, x0), (1.0, x1)] {
            let mut outline = vec![Point::new(x, end), Point::new(x, e), Point::new(middle, e)];
            outline.extend(round(side));
            outline.push(Point::new(middle, end));
            let strip = b.loose(strip_name, outline, layer);
            let ridge = (Point::new(x, e), Point::new(middle, e));
            top.strips
                .push(b.crease(strip_name, ridge, (roof, strip), -closed.eave));
            halves.push(strip);
            b.waste(round(side).collect(), WasteReason::Shape);
        }
        // One paper above and below the hole.
        for (from, to) in [(e, at - HOLE_MM), (at + HOLE_MM, end)] {
            let line = (Point::new(middle, from), Point::new(middle, to));
            b.bend(strip_name, line, (halves[0], halves[1]), 0.0);
        }
        roof
    }

    /// The part of the glue flap that holds a flank of the right side under the back half of the
    /// roof: within the flank, and clear of its edges.
    fn flap_under_roof(&self, b: &mut Builder) -> PanelId {
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
        b.panel(
            "glue flap under the roof",
            outline,
            (BACK_ROOF, -1),
            PanelRole::Flap,
        )
    }

    /// The four flaps of the bottom: left, right, back, front.
    fn bottom_flaps(&self, b: &mut Builder, walls: &Walls) -> [(CreaseId, PanelId); 4] {
        let (columns, h, deep) = (self.tube.columns(), self.eave(), self.bottom);
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
                place: (BOTTOM, -2),
            };
            flap.add(b, -1.0, reach)
        };
        let left = side(b, "left bottom flap", walls.left, columns.left);
        let right = side(b, "right bottom flap", walls.right, columns.right);
        let whole = |b: &mut Builder, name, on, (x0, x1): (f64, f64), layer| {
            let outline = rectangle(x0, -reach, x1, -h);
            let flap = b.panel(name, outline, (BOTTOM, layer), PanelRole::Flap);
            let line = (Point::new(x0, -h), Point::new(x1, -h));
            (b.crease(name, line, (on, flap), 90.0), flap)
        };
        let back = whole(b, "back bottom flap", walls.back, columns.back, -1);
        let front = whole(b, "front bottom flap", walls.front, columns.front, 0);
        let (x0, x1) = columns.flap;
        b.waste(rectangle(x0, -reach, x1, -h), WasteReason::Shape);
        [left, right, back, front]
    }

    fn fold_bottom(&self, b: &mut Builder, flaps: &[(CreaseId, PanelId); 4]) {
        let columns = self.tube.columns();
        let [left, right, back, front] = *flaps;
        b.fold("both bottom flaps of the sides", &[left.0, right.0]);
        let with_fold = b.fold("the back bottom flap over them", &[back.0]);
        // The part of a side's flap that the back one reaches.
        let up = |x: f64| (Point::new(x, 0.0), Point::new(x, 1.0));
        let (from, to) = up(columns.left.0 + self.bottom);
        let on_left = trim(b.outline(left.1), from, to).0;
        let (from, to) = up(columns.right.1 - self.bottom);
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
            "left bottom flap under the back one",
            on_left,
            (left.1, back.1),
            with_fold,
        );
        glue(
            "right bottom flap under the back one",
            on_right,
            (right.1, back.1),
            with_fold,
        );
        let (x0, x1) = columns.back;
        let overlap = 2.0 * self.bottom - self.tube.side();
        let end = -self.eave() - self.bottom;
        let strip = rectangle(x0, end, x1, end + overlap);
        glue(
            "back bottom flap under the front one",
            strip,
            (back.1, front.1),
            with_fold + 1,
        );
        b.fold("the front bottom flap over it", &[front.0]);
    }

    fn fold_top(&self, b: &mut Builder, top: &Top) {
        b.fold("both strips outwards along the ridge score", &top.strips);
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
                "both halves of the roof together until strip lies on strip, and a ribbon through \
                 the holes",
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

    /// Walls, bottom, roof, the sides folded in, and the under sides of the roof's four ends,
    /// which hold nothing between themselves and the roof.
    fn solid(&self) -> Solid {
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
            ring("bottom", floor),
            roof("front half of the roof", 0.0),
            turned(roof("back half of the roof", w)),
            inwards("right side, folded in", a),
            turned(inwards("left side, folded in", -a)),
            under(a, 0.0),
            turned(under(a, w)),
            turned(under(-a, 0.0)),
            under(-a, w),
        ])
    }

    /// What the hands do, from the cut sheet to the closed carton.
    pub(super) fn work(&self, [bottom, strip, roof]: [Length; 3]) -> Vec<Work> {
        let mut work = self.tube.scores();
        let score = |edge, at| Work::Score {
            from: vec![edge],
            at,
        };
        work.extend([
            score(Edge::Bottom, bottom),
            score(Edge::Top, strip),
            score(Edge::Top, roof),
        ]);
        work.extend([
            Work::ByTemplate {
                what: "the two slanted lines over each side",
                cut: false,
            },
            Work::CutAway {
                why: WasteReason::Shape,
                what: "what is over the sides, the ends of the flaps and the hole in each strip, \
                       along the template",
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
        work
    }
}

/// The angle of a crease that runs along `edge` with the parent on its left, by the inside
/// normals of both panels, degrees.
fn fold_angle(parent: Vec3, child: Vec3, edge: Vec3) -> f64 {
    let turned = -parent.cross(child).dot(edge.unit());
    turned.atan2(parent.dot(child)).to_degrees()
}
