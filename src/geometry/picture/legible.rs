//! Whether a picture can be read: an independent check of where its words stand.
//!
//! It shares nothing with the placer: lines are looked at point by point.

use kurbo::{Line, ParamCurve, PathEl, Point, Rect};

use super::scene::{LineRole, Scene, SceneItem, SceneText};

/// Lines that no word may lie on: edges of paper and holes, cuts, creases, arrows, measures.
const STRIKES: [LineRole; 5] = [
    LineRole::Outline,
    LineRole::Cut,
    LineRole::Crease,
    LineRole::Arrow,
    LineRole::Dimension,
];
/// What measures stand beside.
const MEASURES: [LineRole; 2] = [LineRole::Dimension, LineRole::Arrow];
/// A measure is no farther from its line, `u`: less than two lines of text.
const NEAR: f64 = 7.0;
/// The box of a text is an upper estimate: a line along its edge strikes nothing out, `u`.
const RIM: f64 = 0.2;
/// A line is looked at in so many places.
const LOOKS: u32 = 64;

impl Scene {
    /// What is wrong with the words of a picture: those that leave the view, lie over each other or
    /// on a line, and measures that stand by themselves. Nothing, in a picture that can be read.
    #[must_use]
    pub fn illegible(&self) -> Vec<String> {
        let boxes: Vec<(&SceneText, Rect)> = self.text_boxes().collect();
        let slack = self.u * 1e-6;
        let view = self.view.inflate(slack, slack);
        let strikes = lines(self, &STRIKES);
        let measures = lines(self, &MEASURES);
        let mut faults = Vec::new();
        for (index, (text, bounds)) in boxes.iter().enumerate() {
            let mut say = |fault: String| faults.push(format!("{:?} {fault}", text.text));
            if view.union(*bounds) != view {
                say("leaves the view".to_owned());
            }
            let others = boxes.iter().skip(index + 1);
            for (other, _) in others.filter(|(_, other)| overlap(*bounds, *other)) {
                say(format!("lies over {:?}", other.text));
            }
            let core = bounds.inset(-RIM * self.u);
            if let Some((role, _)) = strikes.iter().find(|(_, line)| meets(*line, core)) {
                say(format!("is struck out by a line: {role:?}"));
            }
            let near = bounds.inflate(NEAR * self.u, NEAR * self.u);
            if is_measure(&text.text) && !measures.iter().any(|(_, line)| meets(*line, near)) {
                say("is far from what it measures".to_owned());
            }
        }
        faults
    }
}

/// A number and a unit, nothing else.
fn is_measure(text: &str) -> bool {
    let bare = text.trim_start_matches("≈ ");
    let has_unit = [" in", " mm", " cm"]
        .iter()
        .any(|unit| bare.ends_with(unit));
    has_unit && bare.starts_with(|c: char| c.is_ascii_digit())
}

fn lines(scene: &Scene, roles: &[LineRole]) -> Vec<(LineRole, Line)> {
    let paths = scene.items.iter().filter_map(|item| match item {
        SceneItem::Path(path) if roles.contains(&path.role) => Some(path),
        _ => None,
    });
    let mut lines = Vec::new();
    for path in paths {
        let (mut at, mut start) = (Point::ORIGIN, Point::ORIGIN);
        kurbo::flatten(&path.d, scene.u / 20.0, |element| match element {
            PathEl::MoveTo(p) => (at, start) = (p, p),
            PathEl::LineTo(p) => {
                lines.push((path.role, Line::new(at, p)));
                at = p;
            }
            _ => {
                lines.push((path.role, Line::new(at, start)));
                at = start;
            }
        });
    }
    lines
}

fn meets(line: Line, area: Rect) -> bool {
    overlap(
        Rect::from_points(line.p0, line.p1).inflate(1e-9, 1e-9),
        area,
    ) && (0..=LOOKS).any(|n| area.contains(line.eval(f64::from(n) / f64::from(LOOKS))))
}

fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

#[cfg(test)]
mod tests {
    use super::super::scene::{Anchor, ScenePath, TextSize};
    use super::*;

    #[test]
    fn words_in_the_wrong_place_are_found() {
        let text = |x: f64, y: f64, text: &str| {
            SceneItem::Text(SceneText {
                at: Point::new(x, y),
                anchor: Anchor::Middle,
                size: TextSize::Small,
                now: false,
                text: text.to_owned(),
            })
        };
        let line = |role, y: f64| {
            let mut d = kurbo::BezPath::new();
            d.move_to((0.0, y));
            d.line_to((100.0, y));
            SceneItem::Path(ScenePath {
                role,
                now: false,
                d,
            })
        };
        let scene = Scene {
            view: Rect::new(0.0, 0.0, 100.0, 60.0),
            u: 1.0,
            title: "t".to_owned(),
            description: "d".to_owned(),
            items: vec![
                line(LineRole::Crease, 30.0),
                line(LineRole::Dimension, 55.0),
                text(50.0, 10.0, "tab"),
                text(52.0, 10.0, "lid"),
                text(99.0, 20.0, "base"),
                text(50.0, 31.0, "≈ 3 1/8 in"),
                text(50.0, 52.0, "5 mm"),
            ],
        };
        insta::assert_snapshot!(scene.illegible().join("\n"), @r#"
        "tab" lies over "lid"
        "base" leaves the view
        "≈ 3 1/8 in" is struck out by a line: Crease
        "≈ 3 1/8 in" is far from what it measures
        "#);
    }
}
