//! A sheet on the trimmer: its left edge at the fence, the blade where the ruler says.
//!
//! ```text
//!   fence  ruler grows to the right
//!     |----|----|----|----|
//!     |  1      |  2      | rest     every strip is cut at the same setting: after a cut the
//!     |         | blade   |          rest moves up to the fence
//! ```
//!
//! A trimmer is the same tool for either hand, so this picture is never mirrored.

use kurbo::{BezPath, Point, Rect, Shape};

use super::canvas::{Canvas, LabelStyle, drawable};
use super::lens::{AtTheMark, Lens, LensAt};
use super::ruler_marks::RulerStrip;
use super::scene::{Anchor, LineRole, Scene, TextSize};
use super::size::PictureSize;
use crate::{Length, Ruler};

/// The facts of a cut.
#[derive(Clone, Copy, Debug)]
pub struct CutPicture<'a> {
    /// The trimmer's ruler.
    pub ruler: &'a Ruler,
    /// The sheet as it lies: across, from the fence, and along the blade.
    pub sheet: (Length, Length),
    /// From the fence to the blade.
    pub setting: Length,
    /// How many strips are cut at this setting.
    pub strips: u32,
}

/// Draws a sheet on the trimmer with the strips that come off.
#[must_use]
pub fn cut_picture(facts: CutPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: CutPicture<'_>, size: PictureSize) -> Scene {
    let cut = OnTrimmer::new(facts);
    let (mut canvas, lens) = cut.canvas(size);
    cut.draw_tool_and_sheet(&mut canvas, lens);
    cut.draw_cuts(&mut canvas);
    cut.write_widths(&mut canvas, size.is_small());
    Lens {
        ruler: facts.ruler,
        set: facts.setting,
        mark: Point::new(cut.set, 0.0),
        band: BAND,
        grows_left: false,
        shows: AtTheMark::Blade,
        at: lens,
    }
    .draw(&mut canvas);
    cut.draw_ruler(&mut canvas);
    cut.number_strips(&mut canvas);
    canvas.finish(
        format!("Cut at {}", facts.ruler.text(facts.setting)),
        cut.description(),
    )
}

/// Height of the band with the ruler above the sheet, `u`.
const BAND: f64 = 10.0;

struct OnTrimmer<'a> {
    facts: CutPicture<'a>,
    across: f64,
    /// Along the blade, as far as it is drawn.
    along: f64,
    is_torn: bool,
    set: f64,
    pieces: u32,
    cuts: Vec<f64>,
}

impl<'a> OnTrimmer<'a> {
    fn new(facts: CutPicture<'a>) -> Self {
        let across = drawable(facts.sheet.0.mm());
        let whole = drawable(facts.sheet.1.mm());
        // A long sheet is drawn torn off: its far end says nothing.
        let along = whole.min(0.9 * across).max(whole.min(0.12 * across));
        let set = facts.setting.mm().clamp(0.0, across);
        let most = if set > 0.0 {
            ((across + 1e-6) / set).floor().min(200.0) as u32
        } else {
            0
        };
        let pieces = facts.strips.max(1).min(most.max(1));
        let cuts = (1..=pieces).map(|n| f64::from(n) * set);
        Self {
            facts,
            across,
            along,
            is_torn: along < whole,
            set,
            pieces,
            cuts: cuts.filter(|at| *at < across - 1e-6).collect(),
        }
    }

    fn canvas(&self, size: PictureSize) -> (Canvas, LensAt) {
        let sheet = Rect::new(0.0, 0.0, self.across, self.along);
        // The width of the sheet is told beside a small picture.
        let below = match (self.rest(), size.is_small()) {
            (Some(_), false) => 16.0,
            (None, true) => 4.0,
            _ => 10.0,
        };
        let (lens, margins) = LensAt::choose(size, sheet, [7.0, BAND, 7.0, below]);
        (Canvas::round(size, sheet, margins), lens)
    }

    fn draw_tool_and_sheet(&self, canvas: &mut Canvas, lens: LensAt) {
        let (u, view) = (canvas.u(), canvas.view());
        let end = lens.tool_end(view, u);
        let body = Rect::new(view.x0 + u, -BAND * u, end, self.along + 2.0 * u);
        canvas.area(LineRole::Tool, false, &body.to_rounded_rect(2.0 * u));
        let fence = Rect::new(-1.6 * u, -2.0 * u, 0.0, self.along + u);
        canvas.draw(LineRole::Outline, false, &fence);
        let sheet = self.sheet(u);
        canvas.area(LineRole::Back, false, &sheet);
        canvas.draw(LineRole::Outline, false, &sheet);
    }

    fn sheet(&self, u: f64) -> BezPath {
        if !self.is_torn {
            return Rect::new(0.0, 0.0, self.across, self.along).to_path(0.1);
        }
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.line_to((self.across, 0.0));
        path.line_to((self.across, self.along));
        let teeth = 16;
        for tooth in 1..teeth {
            let x = self.across * (1.0 - f64::from(tooth) / f64::from(teeth));
            let depth = if tooth % 2 == 0 { 0.0 } else { -1.6 * u };
            path.line_to((x, self.along + depth));
        }
        path.line_to((0.0, self.along));
        path.close_path();
        path
    }

    fn draw_cuts(&self, canvas: &mut Canvas) {
        let u = canvas.u();
        let foot = self.along - if self.is_torn { 1.6 * u } else { 0.0 };
        for (index, at) in self.cuts.iter().enumerate() {
            let (top, foot) = (Point::new(*at, 0.0), Point::new(*at, foot));
            canvas.line(LineRole::Cut, index == 0, top, foot);
        }
    }

    fn draw_ruler(&self, canvas: &mut Canvas) {
        RulerStrip {
            ruler: self.facts.ruler,
            shown: (Length::from_nm(1), self.facts.sheet.0),
            zero: Point::ORIGIN,
            scale: 1.0,
            closest: 1.0,
            numbers_within: None,
        }
        .draw(canvas);
    }

    fn number_strips(&self, canvas: &mut Canvas) {
        let size = LabelStyle {
            size: TextSize::Normal,
            now: false,
        };
        for piece in 0..self.pieces {
            let (left, right) = (f64::from(piece) * self.set, f64::from(piece + 1) * self.set);
            let middle = Point::new((left + right) / 2.0, self.along / 2.0);
            let strip = Rect::new(left, 0.0, right, self.along);
            let number = (piece + 1).to_string();
            canvas.label_if_inside(&number, size, &[(middle, Anchor::Middle)], strip);
        }
    }

    /// What is left over, and below it the whole sheet.
    fn write_widths(&self, canvas: &mut Canvas, is_small: bool) {
        let (u, ruler) = (canvas.u(), self.facts.ruler);
        let foot = |x: f64| Point::new(x, self.along + 2.0 * u);
        let rest = self.rest();
        if let Some(rest) = &rest {
            let left = foot(f64::from(self.pieces) * self.set);
            let text = format!("rest {rest}");
            canvas.dimension(left, foot(self.across), -2.0, &text, LabelStyle::SMALL);
        }
        if !is_small {
            let across = ruler.text(self.facts.sheet.0);
            let away = if rest.is_some() { -8.0 } else { -2.0 };
            let ends = (foot(0.0), foot(self.across));
            canvas.dimension(ends.0, ends.1, away, &across, LabelStyle::SMALL);
        }
    }

    fn rest(&self) -> Option<String> {
        let rest = self.facts.sheet.0 - self.facts.setting * i64::from(self.pieces);
        (rest > Length::ZERO).then(|| self.facts.ruler.text(rest))
    }

    fn description(&self) -> String {
        let text = |length| self.facts.ruler.text(length);
        let (across, along) = (text(self.facts.sheet.0), text(self.facts.sheet.1));
        let set = text(self.facts.setting);
        let mut words =
            format!("A sheet {across} across and {along} along the blade, its edge at the fence. ");
        let pieces = match self.pieces {
            1 => "1 piece".to_owned(),
            n => format!("{n} pieces"),
        };
        words += &match self.cuts.len() {
            0 | 1 => format!("Cut at {set}: {pieces} {set} by {along}"),
            n => format!(
                "Cut at {set}, move the rest up to the fence and cut again, {n} cuts in all: \
                 {pieces} {set} by {along}"
            ),
        };
        match self.rest() {
            Some(rest) => words + &format!(", rest {rest} by {along}."),
            None => words + ", nothing left over.",
        }
    }
}
