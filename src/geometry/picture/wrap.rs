//! A band round a box, seen from the end of the box: where its ends overlap.
//!
//! ```text
//!        ==overlap==          the back lies up; the ends meet in its middle
//!      +-------------+
//!      |  end of box |
//!      +-------------+
//! ```

use kurbo::{BezPath, Point, Rect};

use super::canvas::{Canvas, LabelStyle, drawable};
use super::scene::{Anchor, LineRole, Scene, TextSize};
use super::size::PictureSize;
use crate::Ruler;

/// The facts of a wrap.
#[derive(Clone, Copy, Debug)]
pub struct WrapPicture<'a> {
    /// How measures read.
    pub ruler: &'a Ruler,
    /// What goes round: "band".
    pub part: &'a str,
    /// Width and depth of the box, mm, as seen from its end.
    pub around_mm: (f64, f64),
    /// How far the ends lie over each other, mm.
    pub overlap_mm: f64,
    /// Whether the ends are glued now.
    pub glued: bool,
}

/// Draws a band round a box.
#[must_use]
pub fn wrap_picture(facts: WrapPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: WrapPicture<'_>, size: PictureSize) -> Scene {
    let width = drawable(facts.around_mm.0);
    let depth = drawable(facts.around_mm.1).clamp(0.25 * width, 1.2 * width);
    let end = Rect::new(0.0, 0.0, width, depth);
    let mut canvas = Canvas::round(size, end, [14.0, 15.0, 14.0, 10.5]);
    let u = canvas.u();
    canvas.area(LineRole::Back, false, &end);
    canvas.draw(LineRole::Outline, false, &end);
    let half = drawable(facts.overlap_mm).clamp(0.0, width) / 2.0;
    draw_band(&mut canvas, end, half);
    let middle = end.center().x;
    let over = Rect::new(middle - half, -3.7 * u, middle + half, -2.0 * u);
    canvas.draw(LineRole::Glue, facts.glued, &over);
    let (a, b) = (Point::new(over.x0, over.y0), Point::new(over.x1, over.y0));
    let overlap = format!("overlap {}", facts.ruler.text_mm(facts.overlap_mm));
    let style = LabelStyle {
        size: TextSize::Normal,
        now: facts.glued,
    };
    canvas.dimension(a, b, 4.0, &overlap, style);
    let places = canvas.around(end.center());
    canvas.label_if_inside("end of the box", LabelStyle::SMALL, &places, end);
    let foot = (Point::new(middle, end.y1 + 7.0 * u), Anchor::Middle);
    canvas.label(facts.part, LabelStyle::NOW, &[foot], None);
    let title = match facts.glued {
        true => format!("Glue the ends of the {}", facts.part),
        false => format!("Wrap the {} round the box", facts.part),
    };
    canvas.finish(title, description(&facts))
}

/// The band a little off the box, its second end above the first.
fn draw_band(canvas: &mut Canvas, end: Rect, half: f64) {
    let u = canvas.u();
    let off = end.inflate(2.0 * u, 2.0 * u);
    let middle = end.center().x;
    let mut band = BezPath::new();
    band.move_to((middle + half, off.y0));
    band.line_to((off.x0, off.y0));
    band.line_to((off.x0, off.y1));
    band.line_to((off.x1, off.y1));
    band.line_to((off.x1, off.y0 - 1.7 * u));
    band.line_to((middle - half, off.y0 - 1.7 * u));
    canvas.draw(LineRole::Outline, true, &band);
    for (x, bow) in [(off.x0 - 4.0 * u, 0.2), (off.x1 + 4.0 * u, -0.2)] {
        let (from, to) = (Point::new(x, off.y1), Point::new(x, off.y0 + 1.0 * u));
        canvas.bowed_arrow(true, from, to, bow);
    }
}

fn description(facts: &WrapPicture<'_>) -> String {
    let text = |mm: f64| facts.ruler.text_mm(mm);
    let glue = if facts.glued {
        " Glue goes between the ends."
    } else {
        ""
    };
    format!(
        "The box seen from its end, {} wide and {} deep, its back up. The {} goes round it; its ends \
         overlap by {} in the middle of the back.{glue}",
        text(facts.around_mm.0),
        text(facts.around_mm.1),
        facts.part,
        text(facts.overlap_mm),
    )
}
