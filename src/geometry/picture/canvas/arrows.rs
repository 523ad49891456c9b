//! Arrows: where the hands move something.

use kurbo::{Arc, BezPath, Line, ParamCurve, Point, Shape, Vec2};

use super::Canvas;
use crate::picture::scene::LineRole;

impl Canvas {
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

    /// Half a turn counter-clockwise about `centre`.
    pub(crate) fn half_turn(&mut self, now: bool, centre: Point, radius: f64) {
        let radii = (radius, radius);
        let arc = Arc::new(centre, radii, 0.35, -std::f64::consts::PI - 0.35, 0.0);
        let mut path = arc.to_path(self.u / 50.0);
        let tip = centre - Vec2::new(radius, 0.0);
        path.extend(self.head(tip, Vec2::new(0.12, 1.0)));
        self.draw(LineRole::Arrow, now, &path);
    }

    /// A path that ends in a head.
    pub(crate) fn path_arrow(&mut self, now: bool, way: &BezPath) {
        let mut path = way.clone();
        let Some(last) = way.segments().last() else {
            return;
        };
        let tip = last.end();
        let before = last.eval(0.9);
        path.extend(self.head(tip, tip - before));
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
}
