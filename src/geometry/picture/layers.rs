//! Layers stuck on each other, centred: mats, tags, punched shapes.

use kurbo::{Affine, BezPath, Point, Rect, Shape};

use super::canvas::{Canvas, LabelStyle};
use super::scene::{LineRole, Scene, TextSize};
use super::size::PictureSize;
use crate::Ruler;

/// Rims that differ by less look the same, mm.
const HAIR_MM: f64 = 1e-6;

/// One layer.
#[derive(Clone, Debug)]
pub struct PictureLayer<'a> {
    /// What it is called.
    pub name: &'a str,
    /// Its outline, mm, centred on the origin, y up.
    pub outline: BezPath,
}

/// The facts of a stack of layers.
#[derive(Clone, Copy, Debug)]
pub struct LayersPicture<'a> {
    /// How measures read.
    pub ruler: &'a Ruler,
    /// From the lowest to the uppermost; the uppermost is the one put on now.
    pub layers: &'a [PictureLayer<'a>],
    /// Whether the lowest is folded, its fold on the left.
    pub has_fold: bool,
}

/// Draws layers on each other with the rim that stays visible.
#[must_use]
pub fn layers_picture(facts: LayersPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: LayersPicture<'_>, size: PictureSize) -> Scene {
    let outlines: Vec<BezPath> = facts
        .layers
        .iter()
        .map(|layer| Affine::FLIP_Y * layer.outline.clone())
        .collect();
    let all = outlines
        .iter()
        .map(Shape::bounding_box)
        .reduce(|all, one| all.union(one));
    let all = all
        .filter(|bounds| bounds.area() > 0.0)
        .unwrap_or(Rect::new(0.0, 0.0, 1.0, 1.0));
    let mut canvas = Canvas::round(size, wide_enough(all), [8.0, 12.0, 8.0, 12.0]);
    for (index, outline) in outlines.iter().enumerate() {
        let role = if index % 2 == 0 {
            LineRole::Back
        } else {
            LineRole::Front
        };
        let now = index > 0 && index + 1 == outlines.len();
        canvas.area(role, false, outline);
        canvas.draw(LineRole::Outline, now, outline);
    }
    measure_rim(&mut canvas, facts.ruler, &outlines);
    name_layers(&mut canvas, &facts, &outlines);
    let name = facts.layers.last().map_or("layer", |layer| layer.name);
    canvas.finish(
        format!("Stick the {name} on, centred"),
        description(&facts, &outlines),
    )
}

fn measure_rim(canvas: &mut Canvas, ruler: &Ruler, outlines: &[BezPath]) {
    let (Some((side, end)), Some(top)) = (rims_mm(outlines), outlines.last()) else {
        return;
    };
    let bounds = top.bounding_box();
    let style = LabelStyle {
        size: TextSize::Normal,
        now: true,
    };
    let mut measure = |from: Point, to: Point, rim: f64| {
        let text = format!("rim {}", ruler.text_mm(rim));
        canvas.dimension(from, to, 0.0, &text, style);
    };
    let right = Point::new(bounds.x1, bounds.center().y);
    measure(right, Point::new(right.x + side, right.y), side);
    if !same(side, end) && end > HAIR_MM {
        let upper = Point::new(bounds.center().x, bounds.y0);
        measure(upper, Point::new(upper.x, upper.y - end), end);
    }
}

fn name_layers(canvas: &mut Canvas, facts: &LayersPicture<'_>, outlines: &[BezPath]) {
    let paper: BezPath = outlines.iter().flat_map(|outline| outline.iter()).collect();
    for (index, (layer, outline)) in facts.layers.iter().zip(outlines).enumerate().rev() {
        let bounds = outline.bounding_box();
        let style = LabelStyle {
            size: TextSize::Small,
            now: index > 0 && index + 1 == outlines.len(),
        };
        let Some(above) = outlines.get(index + 1) else {
            canvas.name(layer.name, style, outline, bounds.center(), &paper);
            continue;
        };
        // A lower layer is named on its rim, or pointed at there; each at a place of its own.
        let rim = Rect::new(bounds.x0, above.bounding_box().y1, bounds.x1, bounds.y1);
        let shift = if index % 2 == 0 { -0.25 } else { 0.2 };
        let at = rim.center() + (shift * bounds.width(), 0.0);
        canvas.name(layer.name, style, &rim, at, &paper);
    }
    if let (true, Some(lowest)) = (facts.has_fold, outlines.first()) {
        let bounds = lowest.bounding_box();
        let edge = Rect::new(bounds.x0, bounds.y0, bounds.x0, bounds.y1);
        let at = Point::new(bounds.x0, bounds.y0 + 0.35 * bounds.height());
        canvas.name("fold", LabelStyle::SMALL, &edge, at, &paper);
    }
}

/// A tall shape would leave no width for words.
fn wide_enough(bounds: Rect) -> Rect {
    let least = (bounds.height() / 0.9).max(bounds.width() * 1.15);
    bounds.inflate((least - bounds.width()).max(0.0) / 2.0, 0.0)
}

/// How much of the layer below shows beside the uppermost, and above and below it.
fn rims_mm(outlines: &[BezPath]) -> Option<(f64, f64)> {
    let [.., below, top] = outlines else {
        return None;
    };
    let (below, top) = (below.bounding_box(), top.bounding_box());
    let (side, end) = (below.x1 - top.x1, below.y1 - top.y1);
    (side > HAIR_MM).then_some((side, end))
}

fn same(one: f64, other: f64) -> bool {
    (one - other).abs() < HAIR_MM
}

fn description(facts: &LayersPicture<'_>, outlines: &[BezPath]) -> String {
    let names: Vec<&str> = facts.layers.iter().map(|layer| layer.name).collect();
    let text = |mm: f64| facts.ruler.text_mm(mm);
    let rim = match rims_mm(outlines) {
        Some((side, end)) if same(side, end) => {
            format!(" A rim of {} shows on each side.", text(side))
        }
        Some((side, end)) => format!(
            " A rim of {} shows left and right, {} above and below.",
            text(side),
            text(end)
        ),
        None => String::new(),
    };
    let fold = match facts.has_fold {
        true => " The fold is on the left.",
        false => "",
    };
    format!(
        "From the lowest to the uppermost: {}. All are centred.{rim}{fold}",
        names.join(", ")
    )
}
