//! A ruler in a picture: ticks whose height tells halves from quarters, and numbers that fit.

use kurbo::{BezPath, Point, Rect};

use super::canvas::{Canvas, LabelStyle};
use super::scene::{Anchor, LineRole, TextSize, width_in_em};
use crate::{Length, Ruler, Unit};

/// A stretch of ruler along a level line, marks standing up from it.
pub(crate) struct RulerStrip<'a> {
    pub(crate) ruler: &'a Ruler,
    /// Shortest and longest measure shown.
    pub(crate) shown: (Length, Length),
    /// Where the ruler's zero would be, mm in the picture.
    pub(crate) zero: Point,
    /// How far a millimetre of ruler goes in the picture, negative where it grows to the left.
    pub(crate) scale: f64,
    /// Closest ticks, `u`.
    pub(crate) closest: f64,
    /// Where halves and quarters get numbers too, as far as there is room.
    pub(crate) numbers_within: Option<Rect>,
}

impl RulerStrip<'_> {
    /// Where a measure lies.
    pub(crate) fn at(&self, length: Length) -> Point {
        Point::new(self.zero.x + length.mm() * self.scale, self.zero.y)
    }

    /// Draws ticks and numbers; numbers keep off what is drawn already.
    pub(crate) fn draw(&self, canvas: &mut Canvas) {
        let u = canvas.u();
        let marks = self.marks(u);
        let mut ticks = BezPath::new();
        for &mark in &marks {
            let foot = self.at(mark);
            ticks.move_to(foot);
            ticks.line_to(Point::new(
                foot.x,
                foot.y - tick_height(self.level(mark)) * u,
            ));
        }
        canvas.area(LineRole::Ruler, false, &ticks);
        let most = if self.numbers_within.is_some() { 3 } else { 0 };
        for level in 0..=most {
            for &mark in marks.iter().filter(|mark| self.level(**mark) == level) {
                if self.is_numbered(mark, level, u) {
                    let at = self.at(mark);
                    let place = (Point::new(at.x, at.y - 7.6 * u), Anchor::Middle);
                    let number = self.number(mark);
                    match self.numbers_within {
                        Some(room) => {
                            canvas.label_if_inside(&number, LabelStyle::SMALL, &[place], room);
                        }
                        None => canvas.label_if_room(&number, LabelStyle::SMALL, &[place]),
                    }
                }
            }
        }
    }

    /// The marks to draw: every one, or every second, fourth … where they would run together.
    fn marks(&self, u: f64) -> Vec<Length> {
        let step = self.ruler.step();
        let strides: &[i64] = match self.ruler.unit() {
            Unit::Inch | Unit::Foot => &[1, 2, 4, 8, 16, 32, 64],
            Unit::Millimetre | Unit::Centimetre => &[1, 5, 10, 50, 100],
        };
        let apart = |stride: i64| step.mm() * stride as f64 * self.scale.abs();
        let stride = strides
            .iter()
            .find(|s| apart(**s) >= self.closest * u)
            .unwrap_or(&128);
        let (lo, hi) = self.shown;
        // Bounded by the reach of the ruler over ticks that can still be told apart.
        self.ruler
            .marks_between(lo, hi)
            .filter(|mark| mark.nm() % (step.nm() * stride) == 0)
            .take(600)
            .collect()
    }

    /// Whole units are numbered at an even interval wide enough for the longest number.
    fn is_numbered(&self, mark: Length, level: u32, u: f64) -> bool {
        if level > 0 {
            return true;
        }
        let unit = self.whole();
        let widest = width_in_em(&self.number(self.shown.1), false) * TextSize::Small.in_u() + 1.0;
        let apart = unit.mm() * self.scale.abs() / u;
        let every = [1, 2, 5, 10]
            .into_iter()
            .find(|n| apart * *n as f64 >= widest)
            .unwrap_or(20);
        mark.nm() % (unit.nm() * every) == 0
    }

    /// What counts as a whole: an inch or a centimetre.
    fn whole(&self) -> Length {
        match self.ruler.unit() {
            Unit::Inch | Unit::Foot => Length::inches(1),
            Unit::Millimetre | Unit::Centimetre => Length::from_mm(10),
        }
    }

    /// 0 for wholes, 1 for halves, and so on down.
    fn level(&self, mark: Length) -> u32 {
        let parts: &[i64] = match self.ruler.unit() {
            Unit::Inch | Unit::Foot => &[1, 2, 4, 8, 16, 32],
            Unit::Millimetre | Unit::Centimetre => &[1, 2, 10, 20],
        };
        let whole = self.whole().nm();
        let level = parts.iter().position(|n| mark.nm() % (whole / n) == 0);
        level.unwrap_or(parts.len()) as u32
    }

    fn number(&self, mark: Length) -> String {
        let text = self.ruler.text(mark);
        text.rsplit_once(' ')
            .map_or(text.clone(), |(number, _)| number.to_owned())
    }
}

fn tick_height(level: u32) -> f64 {
    match level {
        0 => 5.0,
        1 => 3.9,
        2 => 3.0,
        3 => 2.2,
        _ => 1.5,
    }
}
