//! Layers stuck on each other, centred: mats, tags, punched shapes.

use kurbo::{Affine, BezPath, Point, Rect, Shape};

use super::canvas::{Canvas, LabelStyle};
use super::scene::{LineRole, Scene, TextSize};
use crate::Ruler;

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
}

/// Draws layers on each other with the rim that stays visible.
#[must_use]
pub fn layers_picture(facts: LayersPicture<'_>) -> Scene {
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
    let mut canvas = Canvas::round(wide_enough(all), [8.0, 12.0, 8.0, 12.0]);
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
    name_layers(&mut canvas, facts.layers, &outlines);
    let name = facts.layers.last().map_or("layer", |layer| layer.name);
    canvas.finish(
        format!("Stick the {name} on, centred"),
        description(&facts, &outlines),
    )
}

fn measure_rim(canvas: &mut Canvas, ruler: &Ruler, outlines: &[BezPath]) {
    if let (Some(rim), Some(top)) = (rim_mm(outlines), outlines.last()) {
        let bounds = top.bounding_box();
        let right = Point::new(bounds.x1, bounds.center().y);
        let text = format!("rim {}", ruler.text_mm(rim));
        let style = LabelStyle {
            size: TextSize::Normal,
            now: true,
        };
        canvas.dimension(right, Point::new(right.x + rim, right.y), 0.0, &text, style);
    }
}

fn name_layers(canvas: &mut Canvas, layers: &[PictureLayer<'_>], outlines: &[BezPath]) {
    let u = canvas.u();
    let paper: BezPath = outlines.iter().flat_map(|outline| outline.iter()).collect();
    for (index, (layer, outline)) in layers.iter().zip(outlines).enumerate().rev() {
        let now = index > 0 && index + 1 == outlines.len();
        let bounds = outline.bounding_box();
        // A lower layer is pointed at where it shows: on its rim.
        let at = match now || outlines.len() == 1 {
            true => bounds.center(),
            false => Point::new(
                bounds.center().x - 0.2 * bounds.width(),
                bounds.y1 - 0.8 * u,
            ),
        };
        let style = LabelStyle {
            size: TextSize::Small,
            now,
        };
        canvas.name(layer.name, style, outline, at, &paper);
    }
}

/// A tall shape would leave no width for words.
fn wide_enough(bounds: Rect) -> Rect {
    let least = (bounds.height() / 0.9).max(bounds.width() * 1.15);
    bounds.inflate((least - bounds.width()).max(0.0) / 2.0, 0.0)
}

/// How much of the layer below shows beside the uppermost.
fn rim_mm(outlines: &[BezPath]) -> Option<f64> {
    let [.., below, top] = outlines else {
        return None;
    };
    let rim = below.bounding_box().x1 - top.bounding_box().x1;
    (rim > 1e-6).then_some(rim)
}

fn description(facts: &LayersPicture<'_>, outlines: &[BezPath]) -> String {
    let names: Vec<&str> = facts.layers.iter().map(|layer| layer.name).collect();
    let rim = match rim_mm(outlines) {
        Some(rim) => format!(" A rim of {} shows on each side.", facts.ruler.text_mm(rim)),
        None => String::new(),
    };
    format!(
        "From the lowest to the uppermost: {}. All are centred.{rim}",
        names.join(", ")
    )
}
