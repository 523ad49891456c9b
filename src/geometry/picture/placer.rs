//! Puts labels where they collide with nothing, the same way each time.
//!
//! A label comes with candidate places, best first. The first that lies in the view, meets no
//! other text and no kept-clear box, and crosses no line wins. Where there is none, the caller asks
//! for the nearest clear place, or gives the label a row of its own.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use kurbo::{Line, Point, Rect, Shape, Vec2};

use super::scene::{Anchor, SceneText, box_at};

/// A place a label may stand at.
pub(crate) type Place = (Point, Anchor);

/// Free places are looked for on a grid of this step, `u`.
const CELL: f64 = 3.0;

/// What is taken already.
pub(crate) struct Placer {
    view: Rect,
    u: f64,
    texts: Vec<Rect>,
    kept_clear: Vec<Rect>,
    lines: Vec<Line>,
}

impl Placer {
    pub(crate) fn new(view: Rect, u: f64) -> Self {
        Self {
            view,
            u,
            texts: Vec::new(),
            kept_clear: Vec::new(),
            lines: Vec::new(),
        }
    }

    /// A text stands here.
    pub(crate) fn keep(&mut self, text: Rect) {
        self.texts.push(text);
    }

    /// No label may touch this box.
    pub(crate) fn keep_clear(&mut self, area: Rect) {
        self.kept_clear.push(area);
    }

    /// No label may cross this path.
    pub(crate) fn avoid(&mut self, path: &impl Shape) {
        let mut from = Point::ORIGIN;
        let mut start = Point::ORIGIN;
        kurbo::flatten(
            path.path_elements(0.1),
            self.u / 5.0,
            |element| match element {
                kurbo::PathEl::MoveTo(p) => (from, start) = (p, p),
                kurbo::PathEl::LineTo(p) => {
                    self.lines.push(Line::new(from, p));
                    from = p;
                }
                _ => {
                    self.lines.push(Line::new(from, start));
                    from = start;
                }
            },
        );
    }

    /// Moves the label to the first of its places that is free and crosses no line, and takes it.
    pub(crate) fn place(&mut self, label: &SceneText, places: &[Place]) -> Option<SceneText> {
        self.place_inside(label, places, self.view.inflate(self.u, self.u))
    }

    /// As [`Placer::place`], but only at a place in `room`.
    pub(crate) fn place_inside(
        &mut self,
        label: &SceneText,
        places: &[Place],
        room: Rect,
    ) -> Option<SceneText> {
        let extent = label.extent(self.u);
        let found = places.iter().find_map(|&(at, anchor)| {
            let bounds = box_at(at, anchor, extent);
            let is_good = room.union(bounds) == room && self.is_clear(bounds);
            is_good.then_some(((at, anchor), bounds))
        });
        let (place, bounds) = found?;
        Some(self.take(label, place, bounds))
    }

    /// At the place nearest to a point that crosses no line and is wanted, from which a pointer runs
    /// there over no other text.
    pub(crate) fn place_near(
        &mut self,
        label: &SceneText,
        point: Point,
        is_wanted: impl Fn(Rect) -> bool,
    ) -> Option<SceneText> {
        let extent = label.extent(self.u);
        let [rows, columns] = [self.view.height(), self.view.width()]
            .map(|side| (side / (CELL * self.u)).clamp(1.0, 60.0) as i32);
        let cells = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
        // Nearest first: the first that will do is the answer. Bits of a distance sort as it does.
        let mut nearest: BinaryHeap<_> = cells
            .map(|(row, column)| {
                let at = self.cell(row, column);
                Reverse((at.distance_squared(point).to_bits(), row, column))
            })
            .collect();
        let at = std::iter::from_fn(|| nearest.pop()).find_map(|Reverse((_, row, column))| {
            let at = self.cell(row, column);
            let bounds = box_at(at, Anchor::Middle, extent);
            let is_good = self.is_clear(bounds) && is_wanted(bounds) && self.reaches(bounds, point);
            is_good.then_some(at)
        })?;
        Some(self.take(
            label,
            (at, Anchor::Middle),
            box_at(at, Anchor::Middle, extent),
        ))
    }

    /// Whether a pointer from a text to a point runs over no other text.
    pub(crate) fn reaches(&self, text: Rect, to: Point) -> bool {
        let pointer = Line::new(nearest(text, to), to);
        !self.texts.iter().any(|other| meets(pointer, *other))
    }

    /// The middle of a cell of the grid on which free places are looked for.
    fn cell(&self, row: i32, column: i32) -> Point {
        let cell = Vec2::new(f64::from(column) + 0.5, f64::from(row) + 0.6);
        self.view.origin() + cell * (CELL * self.u)
    }

    /// Whether a box is free and crosses no line.
    fn is_clear(&self, bounds: Rect) -> bool {
        self.is_free(bounds) && !self.lines.iter().any(|line| meets(*line, bounds))
    }

    fn take(&mut self, label: &SceneText, (at, anchor): Place, bounds: Rect) -> SceneText {
        self.texts.push(bounds);
        SceneText {
            at,
            anchor,
            ..label.clone()
        }
    }

    fn is_free(&self, bounds: Rect) -> bool {
        let slack = 1e-6 * self.u;
        bounds.x0 >= self.view.x0 - slack
            && bounds.x1 <= self.view.x1 + slack
            && bounds.y0 >= self.view.y0 - slack
            && bounds.y1 <= self.view.y1 + slack
            && !self
                .texts
                .iter()
                .chain(&self.kept_clear)
                .any(|other| overlaps(bounds, *other))
    }
}

/// The point of a box that is nearest to another.
pub(crate) fn nearest(area: Rect, to: Point) -> Point {
    Point::new(to.x.clamp(area.x0, area.x1), to.y.clamp(area.y0, area.y1))
}

/// Whether two boxes share more than an edge.
fn overlaps(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// Whether a segment runs through a box (Liang and Barsky's clipping).
fn meets(line: Line, area: Rect) -> bool {
    // Most lines are far away.
    if line.p0.x.max(line.p1.x) <= area.x0
        || line.p0.x.min(line.p1.x) >= area.x1
        || line.p0.y.max(line.p1.y) <= area.y0
        || line.p0.y.min(line.p1.y) >= area.y1
    {
        return false;
    }
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let step = line.p1 - line.p0;
    for (delta, low, high) in [
        (step.x, area.x0 - line.p0.x, area.x1 - line.p0.x),
        (step.y, area.y0 - line.p0.y, area.y1 - line.p0.y),
    ] {
        if delta == 0.0 {
            if low >= 0.0 || high <= 0.0 {
                return false;
            }
        } else {
            let (near, far) = if delta > 0.0 {
                (low, high)
            } else {
                (high, low)
            };
            enter = enter.max(near / delta);
            leave = leave.min(far / delta);
        }
    }
    enter < leave
}

#[cfg(test)]
mod tests {
    use super::super::scene::TextSize;
    use super::*;

    fn label(text: &str) -> SceneText {
        SceneText {
            at: Point::ORIGIN,
            anchor: Anchor::Middle,
            size: TextSize::Small,
            now: false,
            text: text.to_owned(),
        }
    }

    #[test]
    fn a_label_goes_to_the_first_place_that_is_free_of_lines() {
        let mut placer = Placer::new(Rect::new(0.0, 0.0, 100.0, 100.0), 1.0);
        placer.avoid(&Line::new((0.0, 50.0), (100.0, 50.0)));
        let places = [
            (Point::new(50.0, 50.0), Anchor::Middle),
            (Point::new(50.0, 60.0), Anchor::Middle),
        ];
        let first = placer.place(&label("lid"), &places).expect("room");
        assert_eq!(first.at.y, 60.0);
        assert!(
            placer.place(&label("lid"), &places).is_none(),
            "one place is taken, the line runs through the other"
        );
        let near = placer.place_near(&label("lid"), places[0].0, |_| true);
        let near = near.expect("room").bounds(1.0);
        assert!(near.y1 <= 50.0 || near.y0 >= 50.0, "{near:?}");
        assert!((near.center() - places[0].0).hypot() < 7.0, "{near:?}");
    }

    #[test]
    fn a_segment_meets_a_box_only_where_it_runs_through_it() {
        let area = Rect::new(0.0, 0.0, 10.0, 10.0);
        assert!(meets(Line::new((-5.0, -5.0), (15.0, 15.0)), area));
        assert!(meets(Line::new((2.0, 2.0), (3.0, 3.0)), area), "inside");
        assert!(
            !meets(Line::new((-5.0, 0.0), (15.0, 0.0)), area),
            "along the edge"
        );
        assert!(!meets(Line::new((11.0, -5.0), (11.0, 15.0)), area));
        assert!(
            !meets(Line::new((-3.0, 8.0), (8.0, 19.0)), area),
            "past the corner"
        );
    }
}
