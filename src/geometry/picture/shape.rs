//! A shape that is punched or cut out of a piece of paper, and a finger notch in an edge.

use kurbo::{Affine, Arc, BezPath, Point, Rect, Shape, Vec2};

use super::canvas::{Canvas, LabelStyle, drawable, polygon};
use super::scene::{LineRole, Scene, TextSize};
use super::size::PictureSize;
use crate::{Length, Ruler};

/// The facts of a shape that is punched or cut out.
#[derive(Clone, Debug)]
pub struct ShapePicture<'a> {
    /// How measures read.
    pub ruler: &'a Ruler,
    /// What the shape is called.
    pub name: &'a str,
    /// Its outline, mm, centred on the origin, y up.
    pub outline: BezPath,
    /// Width and height of the paper it comes out of.
    pub blank: (Length, Length),
}

/// Draws a shape on the paper that it comes out of.
#[must_use]
pub fn shape_picture(facts: &ShapePicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw_shape(facts, size))
}

fn draw_shape(facts: &ShapePicture<'_>, size: PictureSize) -> Scene {
    let (w, h) = (drawable(facts.blank.0.mm()), drawable(facts.blank.1.mm()));
    let blank = Rect::new(-w / 2.0, -h / 2.0, w / 2.0, h / 2.0);
    let shape = Affine::FLIP_Y * facts.outline.clone();
    let spare = ((h / 0.9).max(w) - w) / 2.0;
    let bounds = shape.bounding_box();
    let text = |mm: f64| facts.ruler.text_mm(mm);
    let style = LabelStyle {
        size: TextSize::Normal,
        now: true,
    };
    // One measure tells a shape that is as high as it is wide.
    let is_even = (bounds.width() - bounds.height()).abs() < 1e-6;
    let right = match is_even {
        true => 6.0,
        false => 7.0 + style.width_of(&text(bounds.height())),
    };
    let mut canvas = Canvas::round(size, blank.inflate(spare, 0.0), [6.0, 13.0, right, 6.0]);
    canvas.area(LineRole::Back, false, &blank);
    canvas.draw(LineRole::Outline, false, &blank);
    canvas.area(LineRole::Moving, false, &shape);
    canvas.draw(LineRole::Cut, true, &shape);
    let u = canvas.u();
    let over = (bounds.y0 - blank.y0) / u + 4.0;
    let corners = [
        (bounds.x0, bounds.y0),
        (bounds.x1, bounds.y0),
        (bounds.x1, bounds.y1),
    ];
    let [left, upper, low] = corners.map(Point::from);
    canvas.dimension(left, upper, over, &text(bounds.width()), style);
    if !is_even {
        let beside = (blank.x1 - bounds.x1) / u + 4.0;
        canvas.dimension(upper, low, beside, &text(bounds.height()), style);
    }
    canvas.label_if_inside(
        facts.name,
        LabelStyle::SMALL,
        &canvas.around(bounds.center()),
        bounds,
    );
    let description = format!(
        "The {}, {} by {}, comes out of a piece {} by {}.",
        facts.name,
        text(bounds.width()),
        text(bounds.height()),
        facts.ruler.text(facts.blank.0),
        facts.ruler.text(facts.blank.1),
    );
    canvas.finish(format!("Punch out the {}", facts.name), description)
}

/// The facts of a finger notch: half a circle in the middle of an edge.
#[derive(Clone, Copy, Debug)]
pub struct NotchPicture<'a> {
    /// How measures read.
    pub ruler: &'a Ruler,
    /// What the notch goes into: "band".
    pub part: &'a str,
    /// Length of the edge, mm.
    pub edge_mm: f64,
    /// How deep the paper is behind the edge, mm.
    pub depth_mm: f64,
    /// Radius of the half circle, mm.
    pub radius_mm: f64,
}

/// Draws a finger notch in the edge that lies away from you.
#[must_use]
pub fn notch_picture(facts: NotchPicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw_notch(facts, size))
}

fn draw_notch(facts: NotchPicture<'_>, size: PictureSize) -> Scene {
    let edge = drawable(facts.edge_mm);
    let depth = drawable(facts.depth_mm).clamp(0.2 * edge, 0.8 * edge);
    let radius = drawable(facts.radius_mm).clamp(0.0, (edge / 2.0).min(depth));
    let paper = Rect::new(0.0, 0.0, edge, depth);
    let mut canvas = Canvas::round(size, paper, [8.0, 13.0, 8.0, 6.0]);
    canvas.area(LineRole::Back, false, &paper);
    canvas.draw(LineRole::Outline, false, &paper);
    let middle = Point::new(edge / 2.0, 0.0);
    let half = half_circle(middle, radius);
    canvas.area(LineRole::Waste, false, &half);
    canvas.draw(LineRole::Cut, true, &half);
    let text = |mm: f64| facts.ruler.text_mm(mm);
    let across = Vec2::new(radius, 0.0);
    let wide = LabelStyle {
        size: TextSize::Normal,
        now: true,
    };
    canvas.dimension(
        middle - across,
        middle + across,
        4.0,
        &text(2.0 * radius),
        wide,
    );
    let under = -(radius / canvas.u() + 3.0);
    canvas.dimension(
        Point::ORIGIN,
        middle,
        under,
        &text(edge / 2.0),
        LabelStyle::SMALL,
    );
    let at = Point::new(edge / 2.0, 0.85 * depth);
    canvas.label_if_inside(facts.part, LabelStyle::SMALL, &canvas.around(at), paper);
    canvas.finish(
        format!("Cut a finger notch into the {}", facts.part),
        notch_in_words(&facts, radius),
    )
}

fn notch_in_words(facts: &NotchPicture<'_>, radius: f64) -> String {
    let text = |mm: f64| facts.ruler.text_mm(mm);
    format!(
        "Half a circle {} across is cut into the middle of the edge of the {}, {} from the corner.",
        text(2.0 * radius),
        facts.part,
        text(facts.edge_mm / 2.0),
    )
}

/// The half circle under a point of the edge; nothing where it has no radius.
fn half_circle(middle: Point, radius: f64) -> BezPath {
    if radius <= 0.0 {
        return polygon(&[]);
    }
    let arc = Arc::new(middle, (radius, radius), 0.0, std::f64::consts::PI, 0.0);
    let mut path = arc.to_path(radius / 500.0);
    path.close_path();
    path
}
