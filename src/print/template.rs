//! A template: what is cut and scored from one sheet, with its words.

use tablefold_geometry::{Length, Pattern, Point, straight_pieces};

use super::drawing::Drawing;

/// A shape that is cut out whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    Circle(Length),
    Rectangle(Length, Length),
}

/// A template at true size.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// Largest in the header: the piece and the body.
    pub(super) title: String,
    /// Below it: the project, the side that is printed, the paper.
    pub(super) notes: String,
    /// What is cut apart from each other: a shape each, or the one pattern.
    pub(super) parts: Vec<Drawing>,
    /// Width and height of the sheet that it is cut from, mm, if that is known.
    pub(super) sheet_mm: Option<(f64, f64)>,
    /// Whether its blank stands on a corner in the pattern, so that turning it by 45° makes it
    /// smaller.
    pub(super) stands_on_corner: bool,
}

impl Template {
    /// The template of a pattern; `sheet` is what it is cut from, if that is known.
    #[must_use]
    pub fn of_pattern(
        title: &str,
        notes: &str,
        pattern: &Pattern,
        sheet: Option<(Length, Length)>,
    ) -> Self {
        let side = "You print on the side that ends up inside.";
        Self {
            title: title.to_owned(),
            notes: joined(&[side, notes]),
            parts: vec![Drawing::of_pattern(pattern)],
            sheet_mm: sheet.map(|(width, height)| (width.mm(), height.mm())),
            stands_on_corner: stands_on_corner(&pattern.blank),
        }
    }

    /// Flat shapes that are only cut out: tags, mats. They share a page
    /// that holds them all.
    pub(super) fn of_shapes(
        title: &str,
        notes: &str,
        shapes: &[(&str, Shape)],
        sheet: (Length, Length),
    ) -> Self {
        let side = "You print on the back.";
        let drawn = shapes
            .iter()
            .map(|(name, shape)| Drawing::of_shape(name, shape.outline()));
        Self {
            title: title.to_owned(),
            notes: joined(&[side, notes]),
            parts: drawn.collect(),
            sheet_mm: Some((sheet.0.mm(), sheet.1.mm())),
            stands_on_corner: false,
        }
    }

    /// The turns to try, the one to prefer first.
    pub(super) fn turns(&self) -> &'static [f64] {
        if self.stands_on_corner {
            &[0.0, 45.0]
        } else {
            &[0.0, 90.0]
        }
    }
}

impl Shape {
    fn outline(self) -> Vec<Point> {
        match self {
            Self::Circle(diameter) => {
                let radius = diameter.mm() / 2.0;
                let turn = std::f64::consts::TAU;
                let pieces = straight_pieces(turn * radius, radius);
                let corner = |n: usize| {
                    let angle = turn * n as f64 / pieces as f64;
                    Point::new(radius * angle.cos(), radius * angle.sin())
                };
                (0..pieces).map(corner).collect()
            }
            Self::Rectangle(width, height) => {
                let (x, y) = (width.mm(), height.mm());
                let corners = [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)];
                corners.map(|(x, y)| Point::new(x, y)).to_vec()
            }
        }
    }
}

/// Whether every side of a blank runs at 45°.
fn stands_on_corner(blank: &[Point]) -> bool {
    let next = blank.iter().cycle().skip(1);
    let mut sides = blank.iter().zip(next).map(|(a, b)| *b - *a);
    sides.all(|side| (side.x.abs() - side.y.abs()).abs() < 1e-6)
}

fn joined(sentences: &[&str]) -> String {
    let said = sentences.iter().filter(|it| !it.is_empty());
    said.copied().collect::<Vec<_>>().join(" ")
}
