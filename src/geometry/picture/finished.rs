//! The finished piece from the front, with what goes on it; and ribbon before it does.

use kurbo::{Affine, Point, Rect, Shape};

use super::canvas::{Canvas, LabelStyle, drawable};
use super::layers::PictureLayer;
use super::scene::{LineRole, Scene, TextSize};
use super::size::PictureSize;
use crate::{Length, Ruler};

/// The facts of a finished piece.
#[derive(Clone, Copy, Debug)]
pub struct FinishedPicture<'a> {
    /// How measures read.
    pub ruler: &'a Ruler,
    /// What the piece is called.
    pub name: &'a str,
    /// Width and length of its front, mm.
    pub front_mm: (f64, f64),
    /// How wide a band lies round it, mm, if there is one.
    pub band_mm: Option<f64>,
    /// What is stuck on the front, from the lowest layer up.
    pub on_front: &'a [PictureLayer<'a>],
    /// Whether what is on the front goes there now.
    pub attach_now: bool,
}

/// Draws a finished piece from the front.
#[must_use]
pub fn finished_picture(facts: FinishedPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: FinishedPicture<'_>, size: PictureSize) -> Scene {
    let (w, h) = (drawable(facts.front_mm.0), drawable(facts.front_mm.1));
    let front = Rect::new(-w / 2.0, -h / 2.0, w / 2.0, h / 2.0);
    let spare = (h.max(w) - w) / 2.0;
    // How large the piece is tells nothing of this step: left out where room is scarce.
    let margins = match size.is_small() {
        true => [6.0, 6.0, 6.0, 6.0],
        false => [10.0, 12.0, 32.0, 6.0],
    };
    let mut canvas = Canvas::round(size, front.inflate(spare, 0.0), margins);
    canvas.area(LineRole::Front, false, &front);
    canvas.draw(LineRole::Outline, false, &front);
    draw_on_front(
        &mut canvas,
        front,
        facts.band_mm,
        (facts.on_front, facts.attach_now),
    );
    let text = |mm: f64| facts.ruler.text_mm(mm);
    let [a, b, c] = [
        (front.x0, front.y0),
        (front.x1, front.y0),
        (front.x1, front.y1),
    ]
    .map(Point::from);
    if !size.is_small() {
        canvas.dimension(a, b, 4.0, &text(w), LabelStyle::SMALL);
        canvas.dimension(b, c, 4.0, &text(h), LabelStyle::SMALL);
    }
    if let (Some(layer), true) = (facts.on_front.last(), facts.attach_now) {
        let style = LabelStyle {
            size: TextSize::Small,
            now: true,
        };
        let outline = Affine::FLIP_Y * layer.outline.clone();
        let at = outline.bounding_box().center();
        canvas.name(layer.name, style, &outline, at, &front);
    }
    canvas.finish(title(&facts), description(&facts))
}

/// The band and what is stuck on the front; the layers `now` or already.
pub(super) fn draw_on_front(
    canvas: &mut Canvas,
    front: Rect,
    band_mm: Option<f64>,
    (layers, now): (&[PictureLayer<'_>], bool),
) {
    let middle = front.center();
    if let Some(band) = band_mm {
        let half = drawable(band).clamp(0.0, front.height()) / 2.0;
        let band = Rect::new(front.x0, middle.y - half, front.x1, middle.y + half);
        canvas.area(LineRole::Ribbon, false, &band);
        canvas.draw(LineRole::Outline, false, &band);
    }
    for (index, layer) in layers.iter().enumerate() {
        let outline = Affine::translate(middle.to_vec2()) * Affine::FLIP_Y * layer.outline.clone();
        let role = if index % 2 == 0 {
            LineRole::Back
        } else {
            LineRole::Front
        };
        canvas.area(role, false, &outline);
        canvas.draw(LineRole::Outline, now, &outline);
    }
}

fn title(facts: &FinishedPicture<'_>) -> String {
    match facts.on_front.last() {
        Some(layer) if facts.attach_now => format!("Stick the {} on the front", layer.name),
        _ => format!("The finished {}", facts.name),
    }
}

fn description(facts: &FinishedPicture<'_>) -> String {
    let text = |mm: f64| facts.ruler.text_mm(mm);
    let (w, h) = facts.front_mm;
    let mut words = format!(
        "The {} from the front, {} by {}.",
        facts.name,
        text(w),
        text(h)
    );
    if let Some(band) = facts.band_mm {
        words += &format!(" A band {} wide lies round it.", text(band));
    }
    if let Some(layer) = facts.on_front.last() {
        words += &format!(" The {} is in the middle of the front.", layer.name);
    }
    words
}

/// Draws ribbon, or another strip on a roll, that is cut to length.
#[must_use]
pub fn length_picture(name: &str, length: Length, ruler: &Ruler, size: PictureSize) -> Scene {
    let strip = Rect::new(0.0, 0.0, 100.0, 5.0);
    let mut canvas = Canvas::round(size, strip, [6.0, 16.0, 14.0, 10.0]);
    let u = canvas.u();
    let roll = Rect::new(strip.x1, strip.y0, canvas.view().x1, strip.y1);
    canvas.draw(LineRole::Ribbon, false, &roll);
    canvas.draw(LineRole::Ribbon, false, &strip);
    let (top, foot) = (
        Point::new(strip.x1, -3.0 * u),
        Point::new(strip.x1, strip.y1 + 3.0 * u),
    );
    canvas.line(LineRole::Cut, true, top, foot);
    let text = ruler.text(length);
    let (a, b) = (Point::ORIGIN, Point::new(strip.x1, 0.0));
    canvas.dimension(a, b, 5.0, &text, LabelStyle::LARGE_NOW);
    canvas.finish(
        format!("Cut {text} of {name}"),
        format!("The {name} is measured from its end and cut at {text}. Not drawn to scale."),
    )
}
