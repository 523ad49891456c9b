//! The flat pattern of a pillow pouch: bent panels as strips, and the order of the hands.
//!
//! Strips of one bent panel are joined by smooth creases. The paper is at rest after each step,
//! and there all strips agree; on the way from one rest to the next it snaps through shapes that
//! strips only come near to.

use kurbo::Point;

use super::build::{Builder, ccw, rectangle};
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::pouch::Pouch;
use super::pouch_bend::STRIPS;
use super::work::{Edge, Work};
use crate::{
    CreaseId, CurveShape, Face, GlueZone, Length, PanelId, PanelRole, Pattern, Side, WasteReason,
};

/// The side flap ends this far inside the arched creases, mm (common practice, no source).
const FLAP_EASE_MM: f64 = 1.0;

/// A flap at one end of the front or of the back.
struct Flap {
    ends: Vec<CreaseId>,
    bends: Vec<CreaseId>,
}

impl Pouch {
    /// The flat pattern; the level strip of the front is the root.
    pub(super) fn pattern(&self) -> Pattern {
        let mut b = Builder::default();
        let front = self.panel_strips(&mut b, "front", 0.0, 0);
        let back = self.panel_strips(&mut b, "back", self.panel, STRIPS);
        let half = self.panel / 2.0;
        let edge = |x: f64, y: f64| (Point::new(x, -y), Point::new(x, y));
        let angle = self.side_angle();
        let mut bent = self.panel_bends(&mut b, ("front", 0.0), &front, STRIPS / 2);
        let pair = (front[STRIPS - 1], back[0]);
        let line = edge(half, self.length / 2.0);
        let side = b.crease("side between front and back", line, pair, angle);
        bent.extend(self.panel_bends(&mut b, ("back", self.panel), &back, 0));
        let (flap, flap_crease, flap_bends) = self.side_flap(&mut b, front[0]);
        let names = [
            ("bottom flap of the front", -1.0, &front, 0.0),
            ("bottom flap of the back", -1.0, &back, self.panel),
            ("top flap of the front", 1.0, &front, 0.0),
            ("top flap of the back", 1.0, &back, self.panel),
        ];
        let pressed = [
            "the front's bottom flap in",
            "the back's bottom flap in, over it",
            "the front's top flap in",
            "the back's top flap in, over it",
        ];
        let flaps =
            names.map(|(name, up, on, at)| (name, self.end_flap(&mut b, (name, up), on, at)));

        b.fold_to("the side flap over", vec![(flap_crease, 180.0)]);
        let with_fold = b.fold_to("the back over, onto the side flap", vec![(side, 180.0)]);
        self.glue_flap(&mut b, &flap, &back, with_fold);
        let bends = self.bends();
        bent.extend([(flap_crease, angle), (side, angle)]);
        bent.extend(flap_bends.into_iter().zip(bends));
        // The flaps bend along with the panels, until each is pressed in and snaps the other way.
        for (_, flap) in &flaps {
            bent.extend(flap.bends.iter().copied().zip(bends));
        }
        b.fold_to("both sides inwards, so that the pouch opens", bent);
        for (name, (_, flap)) in pressed.into_iter().zip(&flaps) {
            let mut creases: Vec<(CreaseId, f64)> = Vec::new();
            creases.extend(flap.ends.iter().copied().zip(self.end_angles()));
            creases.extend(flap.bends.iter().copied().zip(bends.map(|angle| -angle)));
            b.fold_to(name, creases);
        }
        // The top is filled and shut last.
        b.at_far_end(with_fold + 4..with_fold + 6);
        self.add_waste(&mut b);
        let y = self.length / 2.0 + self.arch;
        let sheet = rectangle(-half - self.flap, -y, 3.0 * half, y);
        let root = PanelId(STRIPS / 2);
        let mut pattern = b.finish("pillow pouch", sheet, self.solid(), (self.t, with_fold + 4));
        pattern.root = root;
        pattern
    }

    /// The strips of the front or of the back.
    fn panel_strips(
        &self,
        b: &mut Builder,
        name: &'static str,
        at: f64,
        first_face: usize,
    ) -> Vec<PanelId> {
        let (z, y) = (self.heights(), self.length / 2.0);
        let x = |i: usize| at + self.panel * (i as f64 / STRIPS as f64 - 0.5);
        let strip = |i: usize| {
            vec![
                Point::new(x(i), z[i] - y),
                Point::new(x(i + 1), z[i + 1] - y),
                Point::new(x(i + 1), y - z[i + 1]),
                Point::new(x(i), y - z[i]),
            ]
        };
        let strips: Vec<PanelId> = (0..STRIPS)
            .map(|i| b.panel(name, strip(i), (face(first_face + i), 0), PanelRole::Wall))
            .collect();
        strips
    }

    /// The bends between the strips of a panel, from the strip `from` outwards: a fold walks them
    /// in this order.
    fn panel_bends(
        &self,
        b: &mut Builder,
        (name, at): (&'static str, f64),
        strips: &[PanelId],
        from: usize,
    ) -> Vec<(CreaseId, f64)> {
        let (z, y) = (self.heights(), self.length / 2.0);
        let bends = self.bends();
        let right = (from..STRIPS - 1).map(|i| (i, [i, i + 1]));
        let left = (0..from).rev().map(|i| (i, [i + 1, i]));
        let bend = |(i, pair): (usize, [usize; 2])| {
            let x = at + self.panel * ((i + 1) as f64 / STRIPS as f64 - 0.5);
            let height = y - z[i + 1];
            let line = (Point::new(x, -height), Point::new(x, height));
            let [parent, child] = pair.map(|i| strips[i]);
            (b.bend(name, line, (parent, child), bends[i]), bends[i])
        };
        right.chain(left).map(bend).collect()
    }

    /// The strips of the flap at one end of a panel, each hung on its strip.
    fn end_flap(
        &self,
        b: &mut Builder,
        (name, up): (&'static str, f64),
        on: &[PanelId],
        at: f64,
    ) -> Flap {
        let (z, y) = (self.heights(), self.length / 2.0);
        let x = |i: usize| at + self.panel * (i as f64 / STRIPS as f64 - 0.5);
        let near = |i: usize| Point::new(x(i), (y - z[i]) * up);
        let far = |i: usize| Point::new(x(i), (y + z[i]) * up);
        let first = if up > 0.0 { 3 } else { 2 } * STRIPS;
        // The back's flap of an end is pressed in last, over the front's.
        let (layer, mirrored) = if at > 0.0 { (0, true) } else { (-1, false) };
        let mut strips = Vec::with_capacity(STRIPS);
        let mut ends = Vec::with_capacity(STRIPS);
        for (i, hung_on) in on.iter().enumerate().take(STRIPS) {
            let mut outline = vec![near(i), near(i + 1), far(i + 1), far(i)];
            outline.dedup();
            if outline.first() == outline.last() {
                outline.pop();
            }
            let place = if mirrored { STRIPS - 1 - i } else { i };
            let strip = b.panel(name, outline, (face(first + place), layer), PanelRole::Flap);
            let line = (near(i), near(i + 1));
            ends.push(b.crease(name, line, (*hung_on, strip), self.end_angles()[i]));
            strips.push(strip);
        }
        for (edge, bulges) in [(&near as &dyn Fn(usize) -> Point, -up), (&far, up)] {
            let corners = (0..=STRIPS).map(edge).collect();
            let middle = self.length / 2.0 * up + self.arch * bulges;
            let top = Point::new(at, middle);
            let radius = self.segment.radius * bulges;
            b.curve(corners, CurveShape::Cosine { top, radius });
        }
        let bends = self.bends();
        let bends = (1..STRIPS).map(|i| {
            let pair = (strips[i - 1], strips[i]);
            b.bend(name, (near(i), far(i)), pair, -bends[i - 1])
        });
        let bends = bends.collect();
        Flap { ends, bends }
    }

    /// Edges of the strips of the side flap, from its crease outwards: how far out they are, and
    /// how far the flap reaches up and down there.
    fn side_flap_edges(&self) -> Vec<(f64, f64)> {
        let (z, w) = (self.heights(), self.strip());
        let whole = (0..=STRIPS).map(|i| (i as f64 * w, z[i]));
        let mut edges: Vec<(f64, f64)> =
            whole.take_while(|edge| edge.0 < self.flap - 1e-6).collect();
        edges.push((self.flap, self.segment.arch(self.flap - self.panel / 2.0)));
        let reach = |(out, height): (f64, f64)| (out, self.length / 2.0 - height - FLAP_EASE_MM);
        edges.into_iter().map(reach).collect()
    }

    /// By how much the pouch is too short for the side flap to be glued, mm: its outer edge is its
    /// shortest, and each strip has to take its share of glue.
    pub(super) fn flap_is_short_by(&self) -> f64 {
        let edges = self.side_flap_edges();
        let shortest = edges.last().map_or(0.0, |edge| 2.0 * edge.1);
        let needed = (GLUE_AREA_MM2 / self.flap).max(GLUE_WIDTH_MM) + 0.1;
        needed - shortest
    }

    /// The strips of the side flap, its crease, and the bends between its strips.
    fn side_flap(
        &self,
        b: &mut Builder,
        front: PanelId,
    ) -> (Vec<PanelId>, CreaseId, Vec<CreaseId>) {
        let edges = self.side_flap_edges();
        let start = -self.panel / 2.0;
        let mut hinge = CreaseId(0);
        let mut strips: Vec<PanelId> = Vec::new();
        let mut bends = Vec::new();
        let angles = self.bends();
        for (i, pair) in edges.windows(2).enumerate() {
            let [(near, high), (far, low)] = [pair[0], pair[1]];
            let outline = ccw(vec![
                Point::new(start - far, -low),
                Point::new(start - near, -high),
                Point::new(start - near, high),
                Point::new(start - far, low),
            ]);
            // It lies inside the far side of the back.
            let place = (face(2 * STRIPS - 1 - i), -1);
            let strip = b.panel("side flap", outline, place, PanelRole::Flap);
            let line = (
                Point::new(start - near, -high),
                Point::new(start - near, high),
            );
            match strips.last() {
                Some(before) => {
                    bends.push(b.bend("side flap", line, (*before, strip), angles[i - 1]));
                }
                None => hinge = b.crease("side flap", line, (front, strip), self.side_angle()),
            }
            strips.push(strip);
        }
        for up in [1.0, -1.0] {
            let corner = |&(out, reach): &(f64, f64)| Point::new(start - out, reach * up);
            let corners = edges.iter().map(corner).collect();
            let reach = self.length / 2.0 - self.arch - FLAP_EASE_MM;
            let top = Point::new(2.0 * start, reach * up);
            let radius = -self.segment.radius * up;
            b.curve(corners, CurveShape::Cosine { top, radius });
        }
        (strips, hinge, bends)
    }

    /// Each strip of the side flap to the strip of the back that it lies in; together they have
    /// the width and the area that glue needs.
    fn glue_flap(&self, b: &mut Builder, flap: &[PanelId], back: &[PanelId], with_fold: usize) {
        for (strip, to) in flap.iter().zip(back.iter().rev()) {
            let area = b.outline(*strip).to_vec();
            let across: Vec<f64> = area.iter().map(|p| p.x).collect();
            let wide = across.iter().copied().fold(f64::NEG_INFINITY, f64::max)
                - across.iter().copied().fold(f64::INFINITY, f64::min);
            let share = wide / self.flap;
            b.glue(GlueZone {
                name: "side flap on back",
                area,
                on: *strip,
                on_side: Side::Outside,
                to: *to,
                needs_width_mm: GLUE_WIDTH_MM * share,
                needs_area_mm2: GLUE_AREA_MM2 * share,
                with_fold,
            });
        }
    }

    /// Both ends of the sheet beyond the flaps.
    fn add_waste(&self, b: &mut Builder) {
        let (z, y) = (self.heights(), self.length / 2.0);
        let half = self.panel / 2.0;
        let top = y + self.arch;
        let mut rim = vec![Point::new(-half - self.flap, top)];
        let flap = self.side_flap_edges().into_iter().rev();
        rim.extend(flap.map(|(out, reach)| Point::new(-half - out, reach)));
        for at in [0.0, self.panel] {
            let x = |i: usize| at + self.panel * (i as f64 / STRIPS as f64 - 0.5);
            let skip = usize::from(at > 0.0);
            rim.extend((skip..=STRIPS).map(|i| Point::new(x(i), y + z[i])));
        }
        rim.push(Point::new(3.0 * half, top));
        for up in [1.0, -1.0] {
            let outline = rim.iter().map(|p| Point::new(p.x, p.y * up)).collect();
            b.waste(outline, WasteReason::Shape);
        }
    }

    /// What the hands do, from the cut sheet to the closed pouch. `score` is the panel's width.
    pub(super) fn work(&self, score: Length) -> Vec<Work> {
        let side = |at| Work::Score {
            from: vec![Edge::Right],
            at,
        };
        let mut work = vec![
            side(score),
            side(score * 2),
            Work::ByTemplate {
                what: "the arches at both ends of front and back",
                cut: false,
            },
            Work::ByTemplate {
                what: "the round ends of front and back and the ends of the side flap",
                cut: true,
            },
            Work::Burnish,
            Work::Fold(0),
        ];
        let zones = self.side_flap_edges().len() - 1;
        work.extend((0..zones).map(Work::Glue));
        work.extend([1, 2, 3, 4].map(Work::Fold));
        work.push(Work::Fill);
        work.extend([5, 6].map(Work::Fold));
        work
    }
}

fn face(place: usize) -> Face {
    Face::Numbered(u16::try_from(place).unwrap_or(u16::MAX))
}
