//! The drawing table on which a picture is put together: paths, arrows, measures, labels.
//!
//! Everything that labels keep away from has to be drawn first; labels then find their places.

use kurbo::{Arc, BezPath, Circle, Line, Point, Rect, Shape, Vec2};

use super::placer::{Place, Placer};
use super::scene::{Anchor, LineRole, Scene, SceneItem, ScenePath, SceneText, TextSize, shorten};

/// A picture in the making.
pub(crate) struct Canvas {
    view: Rect,
    u: f64,
    items: Vec<SceneItem>,
    placer: Placer,
    notes: Vec<(SceneText, Option<Point>)>,
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
}

impl Canvas {
    /// A table with room for `content` and margins left, top, right and below, in `u`.
    /// The left and right margins together are under 100.
    pub(crate) fn round(content: Rect, [left, top, right, below]: [f64; 4]) -> Self {
        let width = content.width().max(1.0) / (1.0 - (left + right) / 100.0);
        let u = width / 100.0;
        let x0 = content.x0 - left * u;
        Self::new(Rect::new(
            x0,
            content.y0 - top * u,
            x0 + width,
            content.y1 + below * u,
        ))
    }

    pub(crate) fn new(view: Rect) -> Self {
        let u = view.width() / 100.0;
        Self {
            view,
            u,
            items: Vec::new(),
            placer: Placer::new(view),
            notes: Vec::new(),
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

    /// A straight arrow that ends at `to`.
    pub(crate) fn arrow(&mut self, now: bool, from: Point, to: Point) {
        let mut path = Line::new(from, to).to_path(0.1);
        path.extend(self.head(to, to - from));
        self.draw(LineRole::Arrow, now, &path);
    }

    /// An arrow bowed to the left of its way by `bow` of its length.
    pub(crate) fn bowed_arrow(&mut self, now: bool, from: Point, to: Point, bow: f64) {
        let way = to - from;
        let middle = from.midpoint(to) + Vec2::new(way.y, -way.x) * bow;
        let mut path = BezPath::new();
        path.move_to(from);
        path.quad_to(middle, to);
        path.extend(self.head(to, to - middle));
        self.draw(LineRole::Arrow, now, &path);
    }

    /// A quarter turn counter-clockwise about `centre`, as an arc with a head.
    pub(crate) fn quarter_turn(&mut self, now: bool, centre: Point, radius: f64) {
        let arc = Arc::new(
            centre,
            (radius, radius),
            0.35,
            -std::f64::consts::FRAC_PI_2 - 0.35,
            0.0,
        );
        let end = std::f64::consts::FRAC_PI_2 + 0.0;
        let tip = centre + Vec2::from_angle(-end) * radius;
        let mut path = arc.to_path(self.u / 50.0);
        path.extend(self.head(tip, Vec2::new(-1.0, 0.12)));
        self.draw(LineRole::Arrow, now, &path);
    }

    fn head(&self, tip: Point, way: Vec2) -> BezPath {
        let length = way.hypot();
        let mut path = BezPath::new();
        if length > 0.0 {
            let back = way / length * (-2.4 * self.u);
            let side = Vec2::new(-back.y, back.x) * 0.55;
            path.move_to(tip + back + side);
            path.line_to(tip);
            path.line_to(tip + back - side);
        }
        path
    }

    /// A measure between two points, moved `away` u to the left of the way from `a` to `b`
    /// (above a line that runs right), with its text on the line or beside it.
    pub(crate) fn dimension(
        &mut self,
        a: Point,
        b: Point,
        away: f64,
        text: &str,
        style: LabelStyle,
    ) {
        let way = b - a;
        if way.hypot() < 1e-6 {
            return;
        }
        let out = Vec2::new(way.y, -way.x) / way.hypot() * self.u;
        let (from, to) = (a + out * away, b + out * away);
        let mut path = BezPath::new();
        let sign = away.signum();
        for (paper, line) in [(a, from), (b, to)] {
            path.move_to(paper + out * (0.6 * sign));
            path.line_to(line + out * (0.9 * sign));
        }
        path.move_to(from);
        path.line_to(to);
        for (end, other) in [(from, to), (to, from)] {
            let along = (other - end) / way.hypot() * (1.2 * self.u);
            path.move_to(end + along + out * 0.6);
            path.line_to(end);
            path.line_to(end + along - out * 0.6);
        }
        self.draw(LineRole::Dimension, style.now, &path);
        let places = self.beside(from, to, out * sign, text, style);
        self.label(text, style, &places, Some(from.midpoint(to)));
    }

    /// Places for the text of a measure: outside its line, then inside, then past either end.
    fn beside(&self, a: Point, b: Point, out: Vec2, text: &str, style: LabelStyle) -> Vec<Place> {
        let middle = a.midpoint(b);
        let size = self.text(text, style).bounds(self.u);
        let flat = out.y.abs() > out.x.abs();
        let mut places = Vec::new();
        for gap in [0.5, 1.5, 3.0] {
            for side in [1.0, -1.0] {
                let off = out / self.u * side;
                if flat {
                    let at = middle + off * (size.height() / 2.0 + gap * self.u);
                    for shift in [0.0, 0.25, -0.25, 0.5, -0.5] {
                        let slide = (b - a) * shift;
                        places.push((at + slide, Anchor::Middle));
                    }
                } else {
                    let anchor = if off.x > 0.0 {
                        Anchor::Start
                    } else {
                        Anchor::End
                    };
                    places.push((middle + off * ((gap + 0.5) * self.u), anchor));
                }
            }
        }
        for (end, other) in [(b, a), (a, b)] {
            let along = (end - other) / (end - other).hypot();
            let anchor = if along.x > 0.3 {
                Anchor::Start
            } else if along.x < -0.3 {
                Anchor::End
            } else {
                Anchor::Middle
            };
            let reach = if anchor == Anchor::Middle {
                size.height()
            } else {
                1.5 * self.u
            };
            places.push((end + along * reach, anchor));
        }
        places
    }

    /// A label at the best of its places, or in a row below the picture with a pointer to
    /// `belongs_to`.
    pub(crate) fn label(
        &mut self,
        text: &str,
        style: LabelStyle,
        places: &[Place],
        belongs_to: Option<Point>,
    ) {
        let label = self.text(text, style);
        match self.placer.place(&label, places) {
            Some(placed) => self.items.push(SceneItem::Text(placed)),
            None => self.notes.push((label, belongs_to)),
        }
    }

    /// Names a thing: inside it where its name fits, else on free ground near by with a pointer.
    /// `paper` is what else lies there: a name on another panel would name that one.
    pub(crate) fn name(
        &mut self,
        text: &str,
        style: LabelStyle,
        thing: &impl Shape,
        middle: Point,
        paper: &impl Shape,
    ) {
        let label = self.text(text, style);
        let inside = self.around(middle);
        if let Some(placed) = self
            .placer
            .place_inside(&label, &inside, thing.bounding_box())
        {
            self.items.push(SceneItem::Text(placed));
            return;
        }
        let places = self.grid_from(middle);
        let places: Vec<Place> = places.into_iter().map(|at| (at, Anchor::Middle)).collect();
        let is_off = |bounds: Rect| paper.winding(bounds.center()) == 0;
        match self.placer.place_clear(&label, &places, self.view, is_off) {
            Some(placed) => {
                let bounds = placed.bounds(self.u);
                self.items.push(SceneItem::Text(placed));
                self.pointer(bounds, middle);
            }
            None => self.notes.push((label, Some(middle))),
        }
    }

    /// Points all over the view, the nearest first.
    fn grid_from(&self, middle: Point) -> Vec<Point> {
        let rows = (self.view.height() / (4.0 * self.u)).clamp(1.0, 60.0) as i32;
        let cells = (0..rows).flat_map(|row| (1..25).map(move |column| (row, column)));
        let mut points: Vec<Point> = cells
            .map(|(row, column)| {
                let (x, y) = (4.0 * f64::from(column), 2.5 + 4.0 * f64::from(row));
                self.view.origin() + Vec2::new(x, y) * self.u
            })
            .collect();
        points.sort_by(|a, b| {
            a.distance_squared(middle)
                .total_cmp(&b.distance_squared(middle))
        });
        points
    }

    /// A thin line from the edge of a text to the thing it names, ending in a dot.
    fn pointer(&mut self, text: Rect, to: Point) {
        let from = Point::new(to.x.clamp(text.x0, text.x1), to.y.clamp(text.y0, text.y1));
        self.draw(LineRole::Dimension, false, &Line::new(from, to));
        self.area(LineRole::Dot, false, &Circle::new(to, 0.8 * self.u));
    }

    /// As [`Canvas::label`], left out where there is no room: for numbers that repeat.
    pub(crate) fn label_if_room(&mut self, text: &str, style: LabelStyle, places: &[Place]) {
        let label = self.text(text, style);
        if let Some(placed) = self.placer.place(&label, places) {
            self.items.push(SceneItem::Text(placed));
        }
    }

    /// As [`Canvas::label_if_room`], and only where it lies in `room` and crosses no line.
    pub(crate) fn label_if_inside(
        &mut self,
        text: &str,
        style: LabelStyle,
        places: &[Place],
        room: Rect,
    ) {
        let label = self.text(text, style);
        if let Some(placed) = self.placer.place_inside(&label, places, room) {
            self.items.push(SceneItem::Text(placed));
        }
    }

    /// Places round a point, on it first, then in rings.
    pub(crate) fn around(&self, at: Point) -> Vec<Place> {
        let mut places = vec![(at, Anchor::Middle)];
        for ring in [2.5, 5.0, 8.0, 12.0] {
            let r = ring * self.u;
            for (dx, dy, anchor) in [
                (0.0, -r, Anchor::Middle),
                (0.0, r, Anchor::Middle),
                (r, 0.0, Anchor::Start),
                (-r, 0.0, Anchor::End),
                (0.7 * r, -0.7 * r, Anchor::Start),
                (-0.7 * r, -0.7 * r, Anchor::End),
                (0.7 * r, 0.7 * r, Anchor::Start),
                (-0.7 * r, 0.7 * r, Anchor::End),
            ] {
                places.push((at + Vec2::new(dx, dy), anchor));
            }
        }
        places
    }

    fn text(&self, text: &str, style: LabelStyle) -> SceneText {
        let bold = style.now || style.size == TextSize::Large;
        SceneText {
            at: Point::ORIGIN,
            anchor: Anchor::Middle,
            size: style.size,
            now: style.now,
            text: shorten(text, bold, 96.0 / style.size.in_u()),
        }
    }

    /// The finished picture; labels without a place get rows below it.
    pub(crate) fn finish(mut self, title: String, description: String) -> Scene {
        let mut view = self.view;
        for (mut text, belongs_to) in std::mem::take(&mut self.notes) {
            let height = 1.15 * text.size.in_u() * self.u;
            text.at = Point::new(view.x0 + 2.0 * self.u, view.y1 + height / 2.0);
            text.anchor = Anchor::Start;
            let row = text.bounds(self.u);
            if let Some(point) = belongs_to {
                let from = Point::new(point.x.clamp(row.x0, row.x1), row.y0);
                let d = Line::new(from, point).to_path(0.1);
                let path = ScenePath {
                    role: LineRole::Dimension,
                    now: false,
                    d,
                };
                self.items.push(SceneItem::Path(path));
            }
            self.items.push(SceneItem::Text(text));
            view.y1 += height + 0.6 * self.u;
        }
        Scene {
            view,
            title,
            description,
            items: self.items,
        }
    }
}

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

/// Several segments as one path.
pub(crate) fn segments(lines: impl IntoIterator<Item = (Point, Point)>) -> BezPath {
    let mut path = BezPath::new();
    for (a, b) in lines {
        path.move_to(a);
        path.line_to(b);
    }
    path
}
