//! The ruler round the mark to set, magnified, with a pointer down to the mark itself and the
//! measure in large figures beside it.

use kurbo::{Point, Rect};

use super::canvas::{Canvas, LabelStyle};
use super::ruler_marks::RulerStrip;
use super::scene::{Anchor, LineRole};
use crate::{Length, Ruler};

/// What the lens shows under the ruler.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum AtTheMark {
    /// The left corner of the sheet: paper lies to the right.
    LeftCorner,
    /// The blade: paper lies on both sides.
    Blade,
    /// A score: paper lies on both sides.
    Score,
}

/// A magnified stretch of ruler.
pub(crate) struct Lens<'a> {
    pub(crate) ruler: &'a Ruler,
    pub(crate) set: Length,
    /// The mark on the ruler itself.
    pub(crate) mark: Point,
    /// Lower edge of the lens above the mark, `u`.
    pub(crate) above: f64,
    pub(crate) grows_left: bool,
    pub(crate) shows: AtTheMark,
}

/// How far apart the magnified marks are, `u`.
const APART: f64 = 2.2;
/// Width and height of the lens, `u`.
const SIZE: (f64, f64) = (40.0, 17.5);

impl Lens<'_> {
    /// Height of the lens, `u`.
    pub(crate) const HEIGHT: f64 = SIZE.1;

    /// Draws lens, pointer and measure; `view` has to reach [`Lens::HEIGHT`] above it.
    pub(crate) fn draw(&self, canvas: &mut Canvas) {
        let (u, view) = (canvas.u(), canvas.view());
        let x = self.mark.x;
        let low = self.mark.y - self.above * u;
        // 8 u of the larger measures, the rest of the smaller ones: they hold a whole number.
        let left = if self.grows_left {
            x - 8.0 * u
        } else {
            x - (SIZE.0 - 8.0) * u
        };
        let left = left.clamp(view.x0 + u, (x - 3.0 * u).max(view.x0 + u));
        let lens = Rect::new(left, low - SIZE.1 * u, left + SIZE.0 * u, low);
        let base = lens.y1 - 6.0 * u;
        self.draw_paper(canvas, lens, base);
        canvas.draw(LineRole::Dimension, false, &lens.to_rounded_rect(u));
        canvas.keep_clear(Rect::new(x - 0.8 * u, lens.y0, x + 0.8 * u, self.mark.y));
        canvas.line(
            LineRole::Dimension,
            true,
            Point::new(x, lens.y0),
            Point::new(x, base),
        );
        canvas.arrow(
            true,
            Point::new(x, lens.y1),
            Point::new(x, self.mark.y - 0.4 * u),
        );
        self.draw_marks(canvas, lens, Point::new(x, base));
        canvas.keep_clear(lens);
        self.write_measure(canvas, lens);
    }

    fn draw_paper(&self, canvas: &mut Canvas, lens: Rect, base: f64) {
        let u = canvas.u();
        let x = self.mark.x;
        canvas.area(LineRole::Tool, false, &lens.to_rounded_rect(u));
        let left = if self.shows == AtTheMark::LeftCorner {
            x
        } else {
            lens.x0
        };
        canvas.area(
            LineRole::Back,
            false,
            &Rect::new(left, base, lens.x1, lens.y1),
        );
        let (from, foot) = (Point::new(left, base), Point::new(left, lens.y1));
        canvas.line(LineRole::Outline, false, from, Point::new(lens.x1, base));
        let (mark, under) = (Point::new(x, base), Point::new(x, lens.y1));
        match self.shows {
            AtTheMark::LeftCorner => canvas.line(LineRole::Outline, false, from, foot),
            AtTheMark::Blade => canvas.line(LineRole::Cut, true, mark, under),
            AtTheMark::Score => canvas.line(LineRole::Crease, true, mark, under),
        }
    }

    fn draw_marks(&self, canvas: &mut Canvas, lens: Rect, mark: Point) {
        let u = canvas.u();
        let step = self.ruler.step();
        let scale = APART * u / step.mm();
        let sign = if self.grows_left { -1.0 } else { 1.0 };
        let steps = |width: f64| step * ((width / (APART * u) - 0.4).max(0.0).floor() as i64);
        let (left, right) = (steps(mark.x - lens.x0), steps(lens.x1 - mark.x));
        let (lower, upper) = if self.grows_left {
            (right, left)
        } else {
            (left, right)
        };
        RulerStrip {
            ruler: self.ruler,
            shown: (self.set - lower, self.set + upper),
            zero: Point::new(mark.x - sign * self.set.mm() * scale, mark.y),
            scale: sign * scale,
            closest: 0.0,
            numbers_within: Some(lens),
        }
        .draw(canvas);
    }

    fn write_measure(&self, canvas: &mut Canvas, lens: Rect) {
        let (u, view, y) = (canvas.u(), canvas.view(), lens.center().y);
        let right = [
            (Point::new(lens.x1 + 2.0 * u, y), Anchor::Start),
            (Point::new(view.x1 - 1.5 * u, y), Anchor::End),
        ];
        let left = [
            (Point::new(lens.x0 - 2.0 * u, y), Anchor::End),
            (Point::new(view.x0 + 1.5 * u, y), Anchor::Start),
        ];
        let text = self.ruler.text(self.set);
        canvas.label(&text, LabelStyle::LARGE_NOW, &[right, left].concat(), None);
    }
}
