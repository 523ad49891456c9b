//! The ruler round the mark to set, magnified, with a pointer to the mark itself and the measure
//! beside it; where a picture is too small for that, the measure over the mark.

use kurbo::{Line, Point, Rect};

use super::canvas::{Canvas, LabelStyle};
use super::ruler_marks::RulerStrip;
use super::scene::{Anchor, LineRole};
use super::size::PictureSize;
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

/// Where the lens lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum LensAt {
    /// Over the tool.
    Above,
    /// On the right of the tool, level with its ruler.
    Beside,
    /// There is none: what is round the mark would get too small.
    Nowhere,
}

/// A magnified stretch of ruler.
pub(crate) struct Lens<'a> {
    pub(crate) ruler: &'a Ruler,
    pub(crate) set: Length,
    /// The mark on the ruler itself.
    pub(crate) mark: Point,
    /// How far the band with the ruler stands over the mark, `u`.
    pub(crate) band: f64,
    pub(crate) grows_left: bool,
    pub(crate) shows: AtTheMark,
    pub(crate) at: LensAt,
}

/// How far apart the magnified marks are, `u`.
const APART: f64 = 2.2;
/// Width and height of the lens, `u`.
const SIZE: (f64, f64) = (40.0, 17.5);
/// From the lens to the band with the ruler below it, `u`.
const GAP: f64 = 3.0;
/// A row of measures over the band, and over that ground, `u`.
const ROW: f64 = 7.5;
/// What the lens, and ground round it, takes from the width of a picture, `u`.
const COLUMN: f64 = SIZE.0 + 4.0;
/// A lens and a long measure beside it are so wide, `u`.
const WITH_MEASURE: f64 = 90.0;
/// So wide or high, `u`, what lies on the tool is to be at least beside a lens.
const LEAST_DRAWN: f64 = 32.0;

impl LensAt {
    /// Where the lens leaves the most for what lies on the tool, with the margins that it needs.
    /// `margins` are those without a lens, up to the band with the ruler.
    pub(crate) fn choose(
        size: PictureSize,
        content: Rect,
        [left, top, right, below]: [f64; 4],
    ) -> (Self, [f64; 4]) {
        let mut above = [left, top + SIZE.1 + GAP + 2.0, right, below];
        // What the width of the place leaves is ground for the measure beside the lens.
        above[2] += size.spare_width(content, above, WITH_MEASURE);
        let beside = [left, top + ROW, right + COLUMN, below];
        let nowhere = [left, top + ROW, right, below];
        let longest = content.width().max(content.height());
        // A lens beside a low strip would hang over its foot.
        let is_high = |(view, u): (Rect, f64)| view.height() >= (SIZE.1 + 12.0) * u;
        [(Self::Above, above), (Self::Beside, beside)]
            .into_iter()
            .map(|(at, margins)| (at, margins, size.view(content, margins)))
            .filter(|(at, _, view)| *at == Self::Above || is_high(*view))
            .filter(|(.., (view, u))| longest >= LEAST_DRAWN * u && size.admits(*view, *u))
            .min_by(|a, b| a.2.1.total_cmp(&b.2.1))
            .map_or((Self::Nowhere, nowhere), |(at, margins, _)| (at, margins))
    }

    /// Where the tool ends on the right.
    pub(crate) fn tool_end(self, view: Rect, u: f64) -> f64 {
        view.x1
            - u * if self == Self::Beside {
                COLUMN + 1.0
            } else {
                1.0
            }
    }
}

impl Lens<'_> {
    /// Draws lens, pointer and measure, in the margins that [`LensAt::choose`] left for them.
    pub(crate) fn draw(&self, canvas: &mut Canvas) {
        let (u, view) = (canvas.u(), canvas.view());
        let over_band = self.mark.y - (self.band + GAP) * u;
        let size = (SIZE.0 * u, SIZE.1 * u);
        match self.at {
            LensAt::Nowhere => {
                self.draw_arrow(canvas, self.mark.y - (self.band + 1.0) * u);
                self.write_over_mark(canvas);
            }
            LensAt::Above => {
                let corner = (self.left_above(canvas), over_band - size.1);
                let lens = Rect::from_origin_size(corner, size);
                self.draw_lens(canvas, lens, self.mark.x);
                self.draw_arrow(canvas, over_band);
                self.write_beside(canvas, lens);
            }
            LensAt::Beside => {
                let corner = (view.x1 - size.0 - u, view.y0 + u);
                let lens = Rect::from_origin_size(corner, size);
                let share = if self.grows_left { 8.0 } else { SIZE.0 - 8.0 };
                self.draw_lens(canvas, lens, lens.x0 + share * u);
                let lead = Line::new((lens.x0, over_band), (self.mark.x, over_band));
                canvas.draw(LineRole::Arrow, true, &lead);
                self.draw_arrow(canvas, over_band);
                self.write_below(canvas, lens);
            }
        }
    }

    /// Down to the mark.
    fn draw_arrow(&self, canvas: &mut Canvas, from: f64) {
        let u = canvas.u();
        let (x, y) = (self.mark.x, self.mark.y);
        canvas.keep_clear(Rect::new(x - 0.8 * u, from, x + 0.8 * u, y));
        canvas.arrow(true, Point::new(x, from), Point::new(x, y - 0.4 * u));
    }

    /// 8 u of the larger measures, the rest of the smaller ones, so that they hold a whole number;
    /// less where the measure then gets no room on either side.
    fn left_above(&self, canvas: &Canvas) -> f64 {
        let (u, view, x) = (canvas.u(), canvas.view(), self.mark.x);
        let words = LabelStyle::LARGE_NOW.width_of(&self.ruler.text(self.set)) * u + 3.5 * u;
        let share = if self.grows_left { 8.0 } else { SIZE.0 - 8.0 };
        let held = |left: f64| {
            let left = left.clamp(x - (SIZE.0 - 3.0) * u, x - 3.0 * u);
            left.clamp(view.x0 + u, (view.x1 - (SIZE.0 + 1.0) * u).max(view.x0 + u))
        };
        let usual = held(x - share * u);
        let tries = [
            usual,
            held(view.x0 + words),
            held(view.x1 - words - SIZE.0 * u),
        ];
        let has_room =
            |left: &&f64| (**left - view.x0).max(view.x1 - **left - SIZE.0 * u) >= words - 1e-9;
        tries.iter().find(has_room).copied().unwrap_or(usual)
    }

    /// The lens, the mark in it at `x`.
    fn draw_lens(&self, canvas: &mut Canvas, lens: Rect, x: f64) {
        let u = canvas.u();
        let base = lens.y1 - 6.0 * u;
        self.draw_paper(canvas, lens, Point::new(x, base));
        canvas.draw(LineRole::Dimension, false, &lens.to_rounded_rect(u));
        canvas.keep_clear(Rect::new(x - 0.8 * u, lens.y0, x + 0.8 * u, lens.y1));
        canvas.line(
            LineRole::Dimension,
            true,
            Point::new(x, lens.y0),
            Point::new(x, base),
        );
        self.draw_marks(canvas, lens, Point::new(x, base));
        canvas.keep_clear(lens);
    }

    fn draw_paper(&self, canvas: &mut Canvas, lens: Rect, mark: Point) {
        let u = canvas.u();
        canvas.area(LineRole::Tool, false, &lens.to_rounded_rect(u));
        let left = if self.shows == AtTheMark::LeftCorner {
            mark.x
        } else {
            lens.x0
        };
        let paper = Rect::new(left, mark.y, lens.x1, lens.y1);
        canvas.area(LineRole::Back, false, &paper);
        let (from, foot) = (Point::new(left, mark.y), Point::new(left, lens.y1));
        canvas.line(LineRole::Outline, false, from, Point::new(lens.x1, mark.y));
        let under = Point::new(mark.x, lens.y1);
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

    /// The measure in large figures beside the lens.
    fn write_beside(&self, canvas: &mut Canvas, lens: Rect) {
        let (u, view, y) = (canvas.u(), canvas.view(), lens.center().y);
        let places = [
            (lens.x1 + 2.0 * u, Anchor::Start),
            (view.x1 - 1.5 * u, Anchor::End),
            (lens.x0 - 2.0 * u, Anchor::End),
            (view.x0 + 1.5 * u, Anchor::Start),
        ];
        self.write(canvas, LabelStyle::LARGE_NOW, &places, y);
    }

    fn write_below(&self, canvas: &mut Canvas, lens: Rect) {
        let y = lens.y1 + 5.5 * canvas.u();
        let places = [(lens.center().x, Anchor::Middle), (lens.x1, Anchor::End)];
        self.write(canvas, LabelStyle::LARGE_NOW, &places, y);
    }

    fn write_over_mark(&self, canvas: &mut Canvas) {
        let (u, view, x) = (canvas.u(), canvas.view(), self.mark.x);
        let places = [
            (x, Anchor::Middle),
            (x - 3.0 * u, Anchor::Start),
            (x + 3.0 * u, Anchor::End),
            (view.x0 + u, Anchor::Start),
            (view.x1 - u, Anchor::End),
        ];
        let y = self.mark.y - (self.band + 4.2) * u;
        self.write(canvas, LabelStyle::NOW, &places, y);
    }

    fn write(&self, canvas: &mut Canvas, style: LabelStyle, places: &[(f64, Anchor)], y: f64) {
        let places = places
            .iter()
            .map(|(x, anchor)| (Point::new(*x, y), *anchor));
        let places: Vec<_> = places.collect();
        canvas.label(&self.ruler.text(self.set), style, &places, Some(self.mark));
    }
}
