//! Measures between two points.

use kurbo::{BezPath, Point, Vec2};

use super::{Canvas, LabelStyle};
use crate::picture::placer::Place;
use crate::picture::scene::{Anchor, LineRole};

impl Canvas {
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
        let label = self.text(text, style);
        self.measures.push((label, places, from.midpoint(to)));
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
}
