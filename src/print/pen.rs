//! Draws on a page in mm. Lines differ by dash, not by colour, so that any printer will do.

use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point as PdfPoint, Transform};
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::TextDirection;
use tablefold_geometry::{Fold, Point};

use super::area::Area;
use super::font::{CAPITALS, LINE, MM_PER_POINT, Weight};

/// A kind of line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Line {
    Cut,
    Fold(Fold),
    /// Where tiles meet, and the frames of maps.
    Guide,
    /// The edge of the paper where it is not cut.
    Edge,
    /// A register mark.
    Cross,
    /// A bar that is measured.
    Bar,
    /// Glue on the printed side.
    Hatch,
    /// Glue on the other side.
    HatchBehind,
}

impl Line {
    /// Width and dashes, mm, and how light: 0 is black.
    fn style(self) -> (f64, &'static [f64], u8) {
        match self {
            Self::Cut => (0.35, &[], 0),
            Self::Fold(Fold::Valley) => (0.3, &[4.0, 2.0], 0),
            Self::Fold(Fold::Mountain) => (0.3, &[5.0, 1.5, 0.6, 1.5], 0),
            Self::Guide | Self::Edge => (0.15, &[], 90),
            Self::Cross => (0.25, &[], 0),
            Self::Bar => (0.5, &[], 0),
            Self::Hatch => (0.15, &[], 110),
            Self::HatchBehind => (0.15, &[1.0, 1.0], 110),
        }
    }
}

/// Where words are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Left,
    Middle,
    Right,
}

/// A pen on one page.
pub(super) struct Pen<'p, 's> {
    surface: &'p mut Surface<'s>,
}

impl<'p, 's> Pen<'p, 's> {
    pub(super) fn new(surface: &'p mut Surface<'s>) -> Self {
        Self { surface }
    }

    /// Draws in a frame of its own: moved to `at`, then turned clockwise.
    pub(super) fn within(&mut self, at: Point, angle_deg: f64, draw: impl FnOnce(&mut Self)) {
        let (sine, cosine) = match angle_deg {
            0.0 => (0.0, 1.0),
            90.0 => (1.0, 0.0),
            _ => angle_deg.to_radians().sin_cos(),
        };
        let to = Transform::from_row(
            cosine as f32,
            sine as f32,
            -sine as f32,
            cosine as f32,
            points(at.x),
            points(at.y),
        );
        self.surface.push_transform(&to);
        draw(self);
        self.surface.pop();
    }

    /// Draws only inside an area.
    pub(super) fn clipped(&mut self, area: &[Point], draw: impl FnOnce(&mut Self)) {
        let Some(path) = path(area, true) else { return };
        self.surface.push_clip_path(&path, &FillRule::NonZero);
        draw(self);
        self.surface.pop();
    }

    pub(super) fn line(&mut self, through: &[Point], closed: bool, line: Line) {
        let Some(path) = path(through, closed) else {
            return;
        };
        let (width, dash, light) = line.style();
        self.surface.set_fill(None);
        self.surface.set_stroke(Some(Stroke {
            paint: luma::Color::new(light).into(),
            width: points(width),
            dash: (!dash.is_empty()).then(|| StrokeDash {
                array: dash.iter().map(|&mm| points(mm)).collect(),
                offset: 0.0,
            }),
            ..Stroke::default()
        }));
        self.surface.draw_path(&path);
    }

    /// Fills with a grey: 255 is white.
    pub(super) fn fill(&mut self, outline: &[Point], light: u8) {
        self.fill_all([outline], light);
    }

    /// Fills several outlines in one stroke, so that no hair of paper shows where they touch.
    pub(super) fn fill_all<A: AsRef<[Point]>>(
        &mut self,
        outlines: impl IntoIterator<Item = A>,
        light: u8,
    ) {
        let mut builder = PathBuilder::new();
        for outline in outlines {
            trace(&mut builder, outline.as_ref(), true);
        }
        let Some(path) = builder.finish() else { return };
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(Fill {
            paint: luma::Color::new(light).into(),
            ..Fill::default()
        }));
        self.surface.draw_path(&path);
    }

    /// Slanted lines over an area.
    pub(super) fn hatch(&mut self, outline: &[Point], line: Line) {
        const APART_MM: f64 = 2.0;
        let area = Area::round(outline);
        let (width, height) = (area.width(), area.height());
        let count = ((width + height) / APART_MM).ceil().min(5000.0) as usize;
        self.clipped(outline, |pen| {
            for n in 1..count {
                let along = n as f64 * APART_MM;
                // From the left or bottom edge up to the top or right edge, at 45°.
                let down = along.min(height);
                let over = along.min(width);
                let from = Point::new(area.left + along - down, area.top + down);
                let to = Point::new(area.left + over, area.top + along - over);
                pen.line(&[from, to], false, line);
            }
        });
    }

    /// Words whose baseline starts, is centred or ends at a point.
    pub(super) fn text(
        &mut self,
        at: Point,
        (weight, size): (Weight, f64),
        anchor: Anchor,
        text: &str,
    ) {
        let Some(font) = weight.font() else { return };
        let width = weight.width_mm(text, size);
        let left = match anchor {
            Anchor::Left => at.x,
            Anchor::Middle => at.x - width / 2.0,
            Anchor::Right => at.x - width,
        };
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(Fill::default()));
        let start = PdfPoint::from_xy(points(left), points(at.y));
        self.surface
            .draw_text(start, font, size as f32, text, false, TextDirection::Auto);
    }

    /// Lines of words centred on a point.
    pub(super) fn words(&mut self, middle: Point, size: f64, lines: &[String]) {
        let step = size * LINE * MM_PER_POINT;
        let rise = size * CAPITALS * MM_PER_POINT / 2.0;
        let first = middle.y + rise - step * (lines.len().saturating_sub(1)) as f64 / 2.0;
        for (n, line) in lines.iter().enumerate() {
            let at = Point::new(middle.x, first + step * n as f64);
            self.text(at, (Weight::Regular, size), Anchor::Middle, line);
        }
    }
}

/// To the units of a PDF: ISO 32000-2, 8.3.2.3, 1/72 in.
pub(super) fn points(mm: f64) -> f32 {
    (mm * 72.0 / 25.4) as f32
}

fn path(through: &[Point], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    trace(&mut builder, through, closed);
    builder.finish()
}

fn trace(builder: &mut PathBuilder, through: &[Point], closed: bool) {
    let Some((first, rest)) = through.split_first() else {
        return;
    };
    builder.move_to(points(first.x), points(first.y));
    for p in rest {
        builder.line_to(points(p.x), points(p.y));
    }
    if closed {
        builder.close();
    }
}
