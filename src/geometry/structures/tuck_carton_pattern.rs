//! The flat pattern of a tuck-end carton, and the order of the hands.
//!
//! A tuck flap swings in without touching anything: held parallel to its wall it passes the dust
//! flaps, which draw back from it as far as the lid stands away at that moment.

use std::f64::consts::PI;

use kurbo::Point;

use super::build::{Builder, rectangle};
use super::tapered_flap::Flap;
use super::tube::{Walls, Wide};
use super::tuck_carton::{TuckCarton, dust_gap};
use super::work::{Edge, Work};
use crate::{CreaseId, CurveShape, Face, Length, PanelRole, Pattern, Solid, WasteReason};

/// Straight pieces for the half circle of a notch.
const NOTCH_PIECES: usize = 12;

/// One end of the carton. It lies on its back, one end towards you.
struct End {
    /// +1 at the far end, -1 at the near one.
    up: f64,
    face: Face,
    names: [&'static str; 4],
    /// Whether the lid hinges on the back.
    on_back: bool,
    folds: [&'static str; 3],
}

/// The creases of one end.
struct Lid {
    hinge: CreaseId,
    tuck: CreaseId,
    dust: [CreaseId; 2],
}

impl TuckCarton {
    /// The bottom, which is shut first and lies at the far end, and the top.
    fn ends(&self) -> [End; 2] {
        [
            End {
                up: 1.0,
                face: Face::Top,
                names: [
                    "bottom lid",
                    "bottom tuck flap",
                    "bottom left dust flap",
                    "bottom right dust flap",
                ],
                on_back: !self.reverse,
                folds: [
                    "both bottom dust flaps",
                    "the bottom lid half-way, its tuck flap bent in",
                    "the bottom lid shut, its tuck flap inside the wall",
                ],
            },
            End {
                up: -1.0,
                face: Face::Bottom,
                names: [
                    "top lid",
                    "top tuck flap",
                    "top left dust flap",
                    "top right dust flap",
                ],
                on_back: true,
                folds: [
                    "both top dust flaps",
                    "the top lid half-way, its tuck flap bent in",
                    "the top lid shut, its tuck flap inside the wall",
                ],
            },
        ]
    }

    /// The flat pattern; the back is the root.
    pub(super) fn pattern(&self, name: &'static str) -> Pattern {
        let mut b = Builder::default();
        let (columns, h) = (self.tube.columns(), self.depth / 2.0);
        let [far, near] = self.ends();
        let back = Wide {
            name: "back",
            outline: self.wall(&mut b, columns.root, [near.on_back, far.on_back]),
            face: Face::Front,
        };
        let front = Wide {
            name: "front",
            outline: self.wall(&mut b, columns.over, [!near.on_back, !far.on_back]),
            face: Face::Back,
        };
        let sides = (Face::Left, Face::Right);
        let walls = self.tube.walls(&mut b, (-h, h), (back, front), sides);
        let lids = [&far, &near].map(|end| self.lid(&mut b, &walls, end));
        b.join_waste(WasteReason::Shape);

        walls.glue_and_open(&mut b, "the front flat over the side", None);
        let half_way = 90.0 - (self.tuck / self.tube.side()).asin().to_degrees();
        for (lid, end) in lids.iter().zip([&far, &near]) {
            let [dust, half, shut] = end.folds;
            b.fold(dust, &lid.dust);
            let bent = 180.0 - half_way;
            b.fold_to(half, vec![(lid.hinge, half_way), (lid.tuck, bent)]);
            b.fold(shut, &[lid.hinge, lid.tuck]);
        }
        b.at_far_end(3..6);
        let solid = Solid::Box {
            x: self.tube.front(),
            y: self.depth,
            z: self.tube.side(),
            open: Vec::new(),
        };
        let reach = h + self.tube.side() + self.tuck;
        let sheet = rectangle(columns.flap.0, -reach, columns.right.1, reach);
        b.finish(name, sheet, solid, (self.tube.caliper.mm(), 6))
    }

    /// Front or back, with a thumb notch at each end (near, far) where no lid hinges on it.
    fn wall(&self, b: &mut Builder, (x0, x1): (f64, f64), hinged: [bool; 2]) -> Vec<Point> {
        let (h, middle, r) = (self.depth / 2.0, f64::midpoint(x0, x1), self.notch());
        let arc = |up: f64| {
            (0..=NOTCH_PIECES).map(move |i| {
                let angle = PI * (1.0 - i as f64 / NOTCH_PIECES as f64);
                Point::new(middle + r * angle.cos() * -up, (h - r * angle.sin()) * up)
            })
        };
        let mut notch = |up: f64| {
            b.waste(arc(up).collect(), WasteReason::Shape);
            let middle = Point::new(middle, h * up);
            b.curve(arc(up).collect(), CurveShape::Circle(middle));
        };
        let mut outline = vec![Point::new(x0, -h)];
        if !hinged[0] {
            outline.extend(arc(-1.0));
            notch(-1.0);
        }
        outline.extend([Point::new(x1, -h), Point::new(x1, h)]);
        if !hinged[1] {
            outline.extend(arc(1.0));
            notch(1.0);
        }
        outline.push(Point::new(x0, h));
        outline
    }

    /// Lid, tuck flap and dust flaps at one end, and what is cut away beside them.
    fn lid(&self, b: &mut Builder, walls: &Walls, end: &End) -> Lid {
        let (columns, h, w) = (self.tube.columns(), self.depth / 2.0, self.tube.side());
        let [name, tuck_name, left_name, right_name] = end.names;
        let (wall, bare, (x0, x1), tuck_face) = if end.on_back {
            (walls.root, columns.over, columns.root, Face::Back)
        } else {
            (walls.over, columns.root, columns.over, Face::Front)
        };
        let strip =
            |x0: f64, x1: f64, y0: f64, y1: f64| rectangle(x0, y0 * end.up, x1, y1 * end.up);
        let reach = h + w + self.tuck;
        let lid = b.panel(
            name,
            strip(x0, x1, h, h + w),
            (end.face, 0),
            PanelRole::Flap,
        );
        let line = (Point::new(x0, h * end.up), Point::new(x1, h * end.up));
        let hinge = b.crease(name, line, (wall, lid), 90.0);
        let ease = self.tube.ease();
        let tuck = Flap {
            name: tuck_name,
            on: lid,
            column: (x0, x1),
            from: h + w,
            deep: self.tuck,
            inset: (ease, ease),
            place: (tuck_face, -1),
        };
        let (tuck, _) = tuck.add(b, end.up, reach);
        let near = ease + dust_gap(&self.tube, self.tuck);
        // The side of a dust flap that looks at the wall with the tuck flap.
        let (left, right) = if end.on_back {
            ((near, ease), (ease, near))
        } else {
            ((ease, near), (near, ease))
        };
        let dust = [
            (left_name, walls.left, columns.left, left),
            (right_name, walls.right, columns.right, right),
        ];
        let dust = dust.map(|(name, on, column, inset)| {
            let flap = Flap {
                name,
                on,
                column,
                from: h,
                deep: self.dust,
                inset,
                place: (end.face, -1),
            };
            flap.add(b, end.up, reach).0
        });
        for (x0, x1) in [bare, columns.flap] {
            b.waste(strip(x0, x1, h, reach), WasteReason::Shape);
        }
        Lid { hinge, tuck, dust }
    }

    /// What the hands do, from the cut sheet to the closed carton.
    pub(super) fn work(&self, tuck_score: Length) -> Vec<Work> {
        let mut work = self.tube.scores();
        let ends = |at| Work::Score {
            from: vec![Edge::Top, Edge::Bottom],
            at,
        };
        work.extend([ends(tuck_score), ends(tuck_score + self.tube.side_score)]);
        work.extend([
            Work::CutAway {
                why: WasteReason::Shape,
                what: "what is outside the lids and flaps, and the thumb notches, along the template",
            },
            Work::Burnish,
            Work::Fold(0),
            Work::Glue(0),
        ]);
        work.extend((1..6).map(Work::Fold));
        work.push(Work::Fill);
        work.extend((6..9).map(Work::Fold));
        work
    }
}
