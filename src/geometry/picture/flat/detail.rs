//! What comes off is often too small to see: one bit of it, magnified in a corner.

use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

use super::{Canvas, Flat, LineRole, PictureSize, Waste, WasteReason};
use super::{edges, middle, polygon, segments};

/// Side of the detail, `u`; in a small picture.
const SIDE: f64 = 24.0;
const SIDE_IN_SMALL: f64 = 17.0;
/// A bit this large, in `u`, shows well enough without; in a small picture the detail would take
/// more than it gives.
const PLAIN_ENOUGH: f64 = 10.0;
const PLAIN_IN_SMALL: f64 = 5.0;

impl Flat<'_> {
    /// Draws the detail in the lower right corner of the view, which has to be free.
    pub(super) fn draw_detail(&self, canvas: &mut Canvas, size: PictureSize) {
        let (u, view) = (canvas.u(), canvas.view());
        let off = self.detailed(u, size);
        let corner = Point::new(view.x1 - 1.5 * u, view.y1 - 1.5 * u);
        let far = |waste: &Waste| (self.turn * middle(&waste.outline)).distance(corner);
        let Some(waste) = off.iter().min_by(|a, b| far(a).total_cmp(&far(b))) else {
            return;
        };
        let bit = self.sheet(&waste.outline).bounding_box();
        let across = bit.width().max(bit.height());
        let side = detail_side(size) * u;
        let frame = Rect::new(corner.x - side, corner.y - side, corner.x, corner.y);
        let larger = Affine::translate(frame.center().to_vec2())
            * Affine::scale(0.45 * side / across)
            * Affine::translate(-bit.center().to_vec2());
        canvas.keep_clear(frame);
        let from_bit = frame.center() - bit.center();
        let lead = from_bit / from_bit.hypot().max(1e-9);
        canvas.line(
            LineRole::Dimension,
            false,
            bit.center() + lead * u,
            meet(frame, from_bit),
        );
        self.draw_magnified(canvas, larger, frame, &off);
        canvas.draw(LineRole::Dimension, false, &frame);
    }

    /// What comes off, where all of it is too small to see at this `u`.
    pub(super) fn detailed(&self, u: f64, size: PictureSize) -> Vec<&Waste> {
        let enough = if size.is_small() {
            PLAIN_IN_SMALL
        } else {
            PLAIN_ENOUGH
        };
        let needs_it = |waste: &Waste| {
            let bit = self.sheet(&waste.outline).bounding_box();
            let across = bit.width().max(bit.height());
            waste.why != WasteReason::Window && across > 0.0 && across <= enough * u
        };
        let now = self.attached().filter(|(_, now)| *now);
        let off: Vec<&Waste> = now.map(|(waste, _)| waste).collect();
        if off.iter().all(|waste| needs_it(waste)) {
            off
        } else {
            Vec::new()
        }
    }

    fn draw_magnified(&self, canvas: &mut Canvas, larger: Affine, frame: Rect, off: &[&Waste]) {
        let place = |p: &Point| larger * (self.turn * *p);
        let clipped = |outline: &[Point]| {
            let points: Vec<Point> = outline.iter().map(place).collect();
            polygon(&clip(points, frame))
        };
        let panels = self.pattern.panels.iter();
        let paper: BezPath = panels.flat_map(|it| clipped(&it.outline)).collect();
        canvas.area(LineRole::Back, false, &paper);
        for waste in off {
            canvas.area(LineRole::Back, false, &clipped(&waste.outline));
            canvas.area(LineRole::Waste, false, &clipped(&waste.outline));
        }
        let lines = |found: Vec<(Point, Point)>| {
            let placed = found.into_iter().map(|(a, b)| (place(&a), place(&b)));
            segments(placed.filter_map(|(a, b)| clip_line(a, b, frame)))
        };
        let attached = self.attached().map(|(waste, _)| waste);
        let paper = edges::of_paper(self.pattern, attached, &[]);
        canvas.draw(LineRole::Outline, false, &lines(paper));
        let creases = self.pattern.creases.iter().filter(|crease| !crease.smooth);
        let creases = creases.map(|crease| (crease.a, crease.b)).collect();
        canvas.draw(LineRole::Crease, false, &lines(creases));
        canvas.draw(LineRole::Cut, true, &lines(edges::inner(self.pattern, off)));
    }
}

/// Side of the detail in a picture of this size, `u`.
pub(super) fn detail_side(size: PictureSize) -> f64 {
    if size.is_small() { SIDE_IN_SMALL } else { SIDE }
}

/// Where the way from outside to the middle of a frame reaches its edge.
fn meet(frame: Rect, way: Vec2) -> Point {
    let half = frame.size() / 2.0;
    let scale = (half.width / way.x.abs().max(1e-9)).min(half.height / way.y.abs().max(1e-9));
    frame.center() - way * scale.min(1.0)
}

/// The part of a polygon in a frame (Sutherland and Hodgman, one edge after another).
fn clip(points: Vec<Point>, frame: Rect) -> Vec<Point> {
    type Depth = fn(Point, Rect) -> f64;
    let edges: [Depth; 4] = [
        |p, r| p.x - r.x0,
        |p, r| r.x1 - p.x,
        |p, r| p.y - r.y0,
        |p, r| r.y1 - p.y,
    ];
    edges.into_iter().fold(points, |points, depth| {
        let mut kept = Vec::new();
        for (a, b) in points.iter().zip(points.iter().cycle().skip(1)) {
            let (at_a, at_b) = (depth(*a, frame), depth(*b, frame));
            if at_a >= 0.0 {
                kept.push(*a);
            }
            if (at_a >= 0.0) != (at_b >= 0.0) {
                kept.push(a.lerp(*b, at_a / (at_a - at_b)));
            }
        }
        kept
    })
}

/// The part of a segment in a frame.
fn clip_line(a: Point, b: Point, frame: Rect) -> Option<(Point, Point)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let way = b - a;
    for (step, low, high) in [
        (way.x, frame.x0 - a.x, frame.x1 - a.x),
        (way.y, frame.y0 - a.y, frame.y1 - a.y),
    ] {
        if step == 0.0 {
            if low > 0.0 || high < 0.0 {
                return None;
            }
            continue;
        }
        let (near, far) = if step > 0.0 {
            (low / step, high / step)
        } else {
            (high / step, low / step)
        };
        (from, to) = (from.max(near), to.min(far));
    }
    (from < to).then(|| (a + way * from, a + way * to))
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Rect = Rect::new(0.0, 0.0, 10.0, 10.0);

    #[test]
    fn a_polygon_is_clipped_to_its_part_in_the_frame() {
        let square = [(5.0, 5.0), (15.0, 5.0), (15.0, 15.0), (5.0, 15.0)].map(Point::from);
        let part = polygon(&clip(square.to_vec(), FRAME));
        assert_eq!(part.area().abs(), 25.0);
        let far = square.map(|p| p + Vec2::new(20.0, 0.0));
        assert!(clip(far.to_vec(), FRAME).is_empty());
    }

    #[test]
    fn a_segment_is_clipped_at_both_ends() {
        let part = clip_line(Point::new(-5.0, 5.0), Point::new(15.0, 5.0), FRAME);
        assert_eq!(part, Some((Point::new(0.0, 5.0), Point::new(10.0, 5.0))));
        assert_eq!(
            clip_line(Point::new(-5.0, 11.0), Point::new(15.0, 11.0), FRAME),
            None
        );
        assert_eq!(
            clip_line(Point::new(3.0, -9.0), Point::new(3.0, -1.0), FRAME),
            None
        );
    }
}
