//! Ribbon round a box, seen from the front or from above.

use kurbo::{BezPath, Circle, Point, Rect, Shape, Vec2};

use super::canvas::{Canvas, LabelStyle, drawable, polygon};
use super::finished::draw_on_front;
use super::layers::PictureLayer;
use super::scene::{Anchor, LineRole, Scene};
use super::size::PictureSize;
use crate::{Length, Ruler};

/// How the ribbon lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RibbonPictureKind {
    /// Once round.
    Round,
    /// Once round each way, crossing in the middle.
    Cross,
    /// Only a bow in the middle.
    Bow,
}

/// The facts of a ribbon picture.
#[derive(Clone, Copy, Debug)]
pub struct RibbonPicture<'a> {
    /// How measures read.
    pub ruler: &'a Ruler,
    /// How the ribbon lies.
    pub kind: RibbonPictureKind,
    /// Whether it ends in a bow.
    pub bow: bool,
    /// Width and height of the side that you see, mm.
    pub front_mm: (f64, f64),
    /// How wide a band lies round it already, mm, if there is one.
    pub band_mm: Option<f64>,
    /// What is stuck on the front already, from the lowest layer up.
    pub on_front: &'a [PictureLayer<'a>],
    /// How much ribbon is cut for it.
    pub length: Length,
}

/// Draws ribbon on a box.
#[must_use]
pub fn ribbon_picture(facts: RibbonPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: RibbonPicture<'_>, size: PictureSize) -> Scene {
    let width = drawable(facts.front_mm.0);
    let height = drawable(facts.front_mm.1).clamp(0.4 * width, 1.8 * width);
    let front = Rect::new(0.0, 0.0, width, height);
    let spare = ((height / 0.9).max(width) - width) / 2.0;
    let mut canvas = Canvas::round(size, front.inflate(spare, 0.0), [10.0, 12.0, 10.0, 12.0]);
    canvas.area(LineRole::Front, false, &front);
    canvas.draw(LineRole::Outline, false, &front);
    draw_on_front(&mut canvas, front, facts.band_mm, (facts.on_front, false));
    let half = 1.6 * canvas.u();
    let middle = front.center();
    if facts.kind != RibbonPictureKind::Bow {
        let across = Rect::new(front.x0, middle.y - half, front.x1, middle.y + half);
        canvas.draw(LineRole::Ribbon, true, &across);
    }
    if facts.kind == RibbonPictureKind::Cross {
        let down = Rect::new(middle.x - half, front.y0, middle.x + half, front.y1);
        canvas.draw(LineRole::Ribbon, true, &down);
    }
    if facts.bow || facts.kind == RibbonPictureKind::Bow {
        let reach = (0.42 * width).min(15.0 * canvas.u());
        let knot = bow_at(&facts, front, reach);
        draw_bow(&mut canvas, knot, reach);
    }
    let text = facts.ruler.text(facts.length);
    let u = canvas.u();
    let over = (Point::new(middle.x, front.y0 - 5.5 * u), Anchor::Middle);
    canvas.label(&format!("{text} of ribbon"), LabelStyle::NOW, &[over], None);
    canvas.finish(title(&facts), description(&facts))
}

/// Where the knot sits: in the middle, or just above what is stuck there.
fn bow_at(facts: &RibbonPicture<'_>, front: Rect, reach: f64) -> Point {
    let middle = front.center();
    if facts.kind != RibbonPictureKind::Bow {
        return middle;
    }
    let layers = facts
        .on_front
        .iter()
        .map(|layer| layer.outline.bounding_box().height());
    match layers.reduce(f64::max) {
        None => middle,
        Some(height) => {
            let above = middle.y - height / 2.0 - 0.3 * reach;
            Point::new(middle.x, above.max(front.y0 + 0.5 * reach))
        }
    }
}

/// Two loops, two ends and a knot, `reach` wide to each side.
fn draw_bow(canvas: &mut Canvas, middle: Point, reach: f64) {
    for side in [-1.0, 1.0] {
        let at = |x: f64, y: f64| middle + Vec2::new(side * x * reach, y * reach);
        let mut tail = vec![at(0.0, 0.0), at(0.62, 0.62), at(0.58, 0.8), at(0.42, 0.72)];
        tail.push(at(-0.04, 0.1));
        canvas.draw(LineRole::Ribbon, true, &polygon(&tail));
        let mut ring = BezPath::new();
        ring.move_to(middle);
        ring.curve_to(at(0.5, -0.75), at(1.05, -0.6), at(1.0, -0.1));
        ring.curve_to(at(0.95, 0.3), at(0.4, 0.3), middle);
        ring.close_path();
        canvas.draw(LineRole::Ribbon, true, &ring);
    }
    canvas.draw(LineRole::Ribbon, true, &Circle::new(middle, 0.14 * reach));
}

fn title(facts: &RibbonPicture<'_>) -> String {
    let words = match (facts.kind, facts.bow) {
        (RibbonPictureKind::Bow, _) => "Tie a bow and stick it on",
        (_, true) => "Tie the ribbon round, with a bow",
        (_, false) => "Wrap the ribbon round",
    };
    words.to_owned()
}

fn description(facts: &RibbonPicture<'_>) -> String {
    let length = facts.ruler.text(facts.length);
    let runs = match facts.kind {
        RibbonPictureKind::Round => "goes once round the middle of the box",
        RibbonPictureKind::Cross => "goes once round the box each way and crosses in the middle",
        RibbonPictureKind::Bow if facts.on_front.is_empty() => {
            "makes a bow in the middle of the front"
        }
        RibbonPictureKind::Bow => "makes a bow above what is stuck on the front",
    };
    let bow = match facts.bow && facts.kind != RibbonPictureKind::Bow {
        true => " and ends in a bow",
        false => "",
    };
    format!("{length} of ribbon {runs}{bow}.")
}
