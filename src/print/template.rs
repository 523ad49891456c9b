//! A template: what is cut and scored from one sheet, with its words.

use tablefold_geometry::{Length, Pattern, Point};

use super::drawing::Drawing;

/// Between shapes on one page, mm.
const APART_MM: f64 = 12.0;

/// Chords of a circle: within 0.01 mm of the round up to 130 mm across.
const CIRCLE_SIDES: u32 = 256;

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
    pub(super) drawing: Drawing,
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
            drawing: Drawing::of_pattern(pattern),
            sheet_mm: sheet.map(|(width, height)| (width.mm(), height.mm())),
            stands_on_corner: stands_on_corner(&pattern.blank),
        }
    }

    /// Flat shapes that are only cut out: tags, mats. They share a page.
    pub(super) fn of_shapes(
        title: &str,
        notes: &str,
        shapes: &[(&str, Shape)],
        sheet: (Length, Length),
    ) -> Self {
        let side = "You print on the back.";
        let drawn = shapes
            .iter()
            .map(|(name, shape)| ((*name).to_owned(), shape.outline()));
        Self {
            title: title.to_owned(),
            notes: joined(&[side, notes]),
            drawing: Drawing::of_shapes(drawn.collect(), APART_MM),
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
                let corner = |n: u32| {
                    let angle = f64::from(n) * std::f64::consts::TAU / f64::from(CIRCLE_SIDES);
                    let radius = diameter.mm() / 2.0;
                    Point::new(radius * angle.cos(), radius * angle.sin())
                };
                (0..CIRCLE_SIDES).map(corner).collect()
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
