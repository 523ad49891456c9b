//! The drawing table on which a picture is put together: paths, arrows, measures, labels.
//!
//! Everything that labels keep away from has to be drawn first; labels then find their places.

mod arrows;
mod dimension;
mod labels;

use kurbo::{BezPath, Line, Point, Rect, Shape};

use super::placer::{Place, Placer, nearest};
use super::scene::{
    Anchor, LineRole, Scene, SceneItem, ScenePath, SceneText, TextSize, width_in_em,
};
use super::size::PictureSize;

/// A picture in the making.
pub(crate) struct Canvas {
    view: Rect,
    u: f64,
    items: Vec<SceneItem>,
    placer: Placer,
    notes: Vec<(SceneText, Option<Point>)>,
    /// Texts of measures whose lines are drawn: they are put where no line of another one runs.
    measures: Vec<(SceneText, Vec<Place>, Point)>,
    is_terse: bool,
}

/// How a label looks.
#[derive(Clone, Copy)]
pub(crate) struct LabelStyle {
    pub(crate) size: TextSize,
    pub(crate) now: bool,
}

impl LabelStyle {
    pub(crate) const SMALL: Self = Self {
        size: TextSize::Small,
        now: false,
    };
    pub(crate) const NOW: Self = Self {
        size: TextSize::Normal,
        now: true,
    };
    pub(crate) const LARGE_NOW: Self = Self {
        size: TextSize::Large,
        now: true,
    };

    /// How wide a text is at most, `u`: what a margin needs for it.
    pub(crate) fn width_of(self, text: &str) -> f64 {
        let is_bold = self.now || self.size == TextSize::Large;
        width_in_em(text, is_bold) * self.size.in_u()
    }
}

impl Canvas {
    /// A table for a picture of this size, with room for `content` and margins left, top, right
    /// and below, in `u`.
    pub(crate) fn round(size: PictureSize, content: Rect, margins: [f64; 4]) -> Self {
        let (view, u) = size.view(content, margins);
        Self {
            view,
            u,
            items: Vec::new(),
            placer: Placer::new(view, u),
            notes: Vec::new(),
            measures: Vec::new(),
            is_terse: size.is_terse(),
        }
    }

    pub(crate) fn u(&self) -> f64 {
        self.u
    }

    pub(crate) fn view(&self) -> Rect {
        self.view
    }

    /// Draws a path that labels may cross, such as a tint.
    pub(crate) fn area(&mut self, role: LineRole, now: bool, shape: &impl Shape) {
        let d = shape.to_path(self.u / 50.0);
        if d.elements().len() > 1 {
            self.items.push(SceneItem::Path(ScenePath { role, now, d }));
        }
    }

    /// Draws a path that labels keep off.
    pub(crate) fn draw(&mut self, role: LineRole, now: bool, shape: &impl Shape) {
        self.placer.avoid(shape);
        self.area(role, now, shape);
    }

    pub(crate) fn line(&mut self, role: LineRole, now: bool, from: Point, to: Point) {
        self.draw(role, now, &Line::new(from, to));
    }

    /// No label comes into this box.
    pub(crate) fn keep_clear(&mut self, area: Rect) {
        self.placer.keep_clear(area);
    }

    /// The finished picture; labels without a place get rows below it.
    pub(crate) fn finish(mut self, title: String, description: String) -> Scene {
        self.write_measures();
        let mut view = self.view;
        if self.is_terse {
            self.notes.clear();
        }
        for (mut text, belongs_to) in std::mem::take(&mut self.notes) {
            let height = 1.15 * text.size.in_u() * self.u;
            text.at = Point::new(view.x0 + 2.0 * self.u, view.y1 + height / 2.0);
            text.anchor = Anchor::Start;
            if let Some(point) = belongs_to {
                let row = text.bounds(self.u);
                // A name that can't be led to what it names says nothing.
                if !self.placer.reaches(row, point) {
                    continue;
                }
                self.line(LineRole::Dimension, false, nearest(row, point), point);
            }
            self.placer.keep(text.bounds(self.u));
            self.items.push(SceneItem::Text(text));
            view.y1 += height + 0.6 * self.u;
        }
        Scene {
            view,
            u: self.u,
            title,
            description,
            items: self.items,
        }
    }
}

/// A side that can be drawn, mm: from 1 mm to 100 m, and 1 mm for what is no number.
pub(crate) fn drawable(mm: f64) -> f64 {
    if mm.is_finite() {
        mm.clamp(1.0, 1e5)
    } else {
        1.0
    }
}

/// Nearer than this, mm, is the same place.
const SAME_MM: f64 = 1e-6;

/// A closed polygon as a path.
pub(crate) fn polygon(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    let mut points = points.iter();
    if let Some(first) = points.next() {
        path.move_to(*first);
        for point in points {
            path.line_to(*point);
        }
        path.close_path();
    }
    path
}

/// Several segments as one path; the pen stays down where one starts at the end of the last.
pub(crate) fn segments(lines: impl IntoIterator<Item = (Point, Point)>) -> BezPath {
    let mut path = BezPath::new();
    let mut at: Option<Point> = None;
    for (a, b) in lines {
        if at.is_none_or(|at| at.distance(a) > SAME_MM) {
            path.move_to(a);
        }
        path.line_to(b);
        at = Some(b);
    }
    path
}
