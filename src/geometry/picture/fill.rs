//! The contents go into the open piece.

use kurbo::{BezPath, Ellipse, Point, Rect, Shape};

use super::canvas::{Canvas, LabelStyle, drawable};
use super::scene::{LineRole, Scene, TextSize};

/// What the contents look like from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ContentsShape {
    /// A block or a stack.
    Block,
    /// A cylinder that stands on its end.
    Standing,
    /// A cylinder that lies on its side, its axis across.
    Lying,
    /// A cylinder that faces you, its axis from front to back.
    Facing,
}

/// The facts of a filling picture.
#[derive(Clone, Copy, Debug)]
pub struct FillPicture<'a> {
    /// What the piece is called.
    pub piece: &'a str,
    /// Its width and length as it stands, mm.
    pub piece_mm: (f64, f64),
    /// What the contents are called.
    pub contents: &'a str,
    /// Their width and height as they go in, mm.
    pub contents_mm: (f64, f64),
    /// How they look.
    pub shape: ContentsShape,
}

/// Draws the contents above the open piece.
#[must_use]
pub fn fill_picture(facts: FillPicture<'_>) -> Scene {
    let width = drawable(facts.piece_mm.0);
    let height = drawable(facts.piece_mm.1).clamp(0.4 * width, 2.0 * width);
    // Seen from the front what goes in is never larger than what it goes into.
    let wide = drawable(facts.contents_mm.0).clamp(0.05 * width, 0.98 * width);
    let tall = drawable(facts.contents_mm.1).clamp(0.05 * height, 0.98 * height);
    let piece = Rect::new(-width / 2.0, 0.0, width / 2.0, height);
    let gap = 0.18 * height;
    let inside = Rect::new(-wide / 2.0, -gap - tall, wide / 2.0, -gap);
    let all = piece.union(inside);
    let spare = ((all.height() / 0.95).max(1.5 * all.width()) - all.width()) / 2.0;
    let mut canvas = Canvas::round(all.inflate(spare, 0.0), [4.0, 5.0, 4.0, 5.0]);
    draw_contents(&mut canvas, inside, facts.shape);
    draw_open(&mut canvas, piece);
    let u = canvas.u();
    let (from, to) = (inside.y1 - 0.5 * tall, piece.y0 + 0.3 * height);
    canvas.arrow(
        true,
        Point::new(0.0, from),
        Point::new(0.0, to.max(from + 6.0 * u)),
    );
    let paper: BezPath = [piece, inside]
        .iter()
        .flat_map(|r| r.to_path(0.1))
        .collect();
    let now = LabelStyle {
        size: TextSize::Small,
        now: true,
    };
    let side = Point::new(inside.x1 - 0.15 * wide, inside.center().y);
    canvas.name(facts.contents, now, &inside, side, &paper);
    let low = Point::new(0.0, piece.y0 + 0.75 * height);
    canvas.name(facts.piece, LabelStyle::SMALL, &piece, low, &paper);
    let description = format!("Into the open {}: {}.", facts.piece, facts.contents);
    canvas.finish("Put the contents in".to_owned(), description)
}

/// The piece from the front, its open edge drawn as the far rim of the opening.
fn draw_open(canvas: &mut Canvas, piece: Rect) {
    let rim = 2.5 * canvas.u();
    let mut mouth = BezPath::new();
    mouth.move_to((piece.x0, piece.y0));
    mouth.line_to((piece.x0 + rim, piece.y0 - rim));
    mouth.line_to((piece.x1 - rim, piece.y0 - rim));
    mouth.line_to((piece.x1, piece.y0));
    mouth.close_path();
    canvas.area(LineRole::Back, false, &mouth);
    canvas.draw(LineRole::Outline, false, &mouth);
    canvas.area(LineRole::Front, false, &piece);
    canvas.draw(LineRole::Outline, false, &piece);
}

fn draw_contents(canvas: &mut Canvas, at: Rect, shape: ContentsShape) {
    let flat = 0.12;
    match shape {
        ContentsShape::Block => canvas.draw(LineRole::Contents, false, &at),
        ContentsShape::Standing => {
            let half = flat * at.width().min(at.height());
            let body = Rect::new(at.x0, at.y0 + half, at.x1, at.y1 - half);
            let ring = |y: f64| Ellipse::new((at.center().x, y), (at.width() / 2.0, half), 0.0);
            canvas.draw(LineRole::Contents, false, &ring(body.y1));
            canvas.draw(LineRole::Contents, false, &body);
            canvas.draw(LineRole::Contents, false, &ring(body.y0));
        }
        ContentsShape::Facing => {
            let radii = (at.width() / 2.0, at.height() / 2.0);
            canvas.draw(
                LineRole::Contents,
                false,
                &Ellipse::new(at.center(), radii, 0.0),
            );
        }
        ContentsShape::Lying => {
            let half = flat * at.width().min(at.height());
            let body = Rect::new(at.x0 + half, at.y0, at.x1 - half, at.y1);
            let ring = |x: f64| Ellipse::new((x, at.center().y), (half, at.height() / 2.0), 0.0);
            canvas.draw(LineRole::Contents, false, &ring(body.x0));
            canvas.draw(LineRole::Contents, false, &body);
            canvas.draw(LineRole::Contents, false, &ring(body.x1));
        }
    }
}
