//! The legend of a picture: only the kinds of line that the picture holds.

use kurbo::{BezPath, Point, Rect, Shape};

use super::scene::{LineRole, Scene, SceneItem, ScenePath};
use super::svg::Svg;

/// One row of a legend: a sample of the line and what it means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LegendEntry {
    /// The sample, 40 by 16 px, hidden from screen readers.
    pub svg: Svg,
    /// What such a line means.
    pub words: &'static str,
}

/// The roles a legend explains, in the order it lists them; the rest explain themselves.
const EXPLAINED: [(LineRole, &str); 10] = [
    (LineRole::Cut, "cut"),
    (LineRole::Crease, "score or crease"),
    (LineRole::Glue, "glue"),
    (LineRole::GlueBehind, "glue on the other side"),
    (LineRole::Waste, "comes off"),
    (LineRole::Guide, "guide line"),
    (LineRole::Moving, "this part moves"),
    (LineRole::MovingFront, "this part moves"),
    (LineRole::Inside, "inside of the paper"),
    (LineRole::Outside, "outside of the paper"),
];

impl Scene {
    /// What the lines of this picture mean: "now" first, then each role that is in it.
    #[must_use]
    pub fn legend(&self) -> Vec<LegendEntry> {
        let paths = || {
            self.items.iter().filter_map(|item| match item {
                SceneItem::Path(path) => Some(path),
                SceneItem::Text(_) => None,
            })
        };
        let mut entries = Vec::new();
        if paths().any(|path| path.now) {
            entries.push(entry(LineRole::Outline, true, "do this now"));
        }
        for (role, words) in EXPLAINED {
            let is_told = entries
                .iter()
                .any(|entry: &LegendEntry| entry.words == words);
            if !is_told && paths().any(|path| path.role == role) {
                entries.push(entry(role, false, words));
            }
        }
        entries
    }
}

fn entry(role: LineRole, now: bool, words: &'static str) -> LegendEntry {
    let view = Rect::new(0.0, 0.0, 40.0, 16.0);
    let shape = |role, d| ScenePath { role, now, d };
    let paths = match role {
        LineRole::Glue => vec![
            shape(LineRole::Label, slanted(false)),
            shape(LineRole::Outline, view.inset(-1.0).to_path(0.1)),
        ],
        LineRole::GlueBehind => vec![
            shape(LineRole::Label, slanted(false)),
            shape(LineRole::GlueBehind, view.inset(-1.0).to_path(0.1)),
        ],
        LineRole::Waste => vec![
            shape(LineRole::Ruler, slanted(false)),
            shape(LineRole::Ruler, slanted(true)),
        ],
        LineRole::Inside | LineRole::Outside => vec![
            shape(role, view.inset(-1.0).to_path(0.1)),
            shape(LineRole::Ruler, view.inset(-1.0).to_path(0.1)),
        ],
        LineRole::Moving | LineRole::MovingFront => {
            vec![shape(role, view.inset(-1.0).to_path(0.1))]
        }
        _ => vec![shape(role, line((1.0, 8.0), (39.0, 8.0)))],
    };
    LegendEntry {
        svg: Svg::sample(view, &paths, 3.4),
        words,
    }
}

/// Hatch lines drawn out, so that a sample needs no ids.
fn slanted(other_way: bool) -> BezPath {
    let mut path = BezPath::new();
    for step in 0..5 {
        let x = 1.0 + 6.0 * f64::from(step);
        let (top, foot) = if other_way {
            (x + 14.0, x)
        } else {
            (x, x + 14.0)
        };
        path.move_to(Point::new(top, 1.0));
        path.line_to(Point::new(foot, 15.0));
    }
    path
}

fn line(from: (f64, f64), to: (f64, f64)) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    path
}
