//! Where the scores of a body run, as its sheet lies in front of you: mm from the top left corner,
//! x right and y down.

use kurbo::{Line, Point};

use super::structure::Body;
use super::work::{Edge, Work};
use crate::{CreaseId, Length, Waste};

/// A crease this near to a line runs along it, mm.
const ALONG_MM: f64 = 0.01;

impl Edge {
    /// Where a point of a sheet of this size comes to lie when this edge is turned to the left,
    /// against the fence.
    #[must_use]
    pub fn at_the_fence(self, (width, height): (Length, Length), p: Point) -> Point {
        match self {
            Self::Left => p,
            Self::Top => Point::new(p.y, width.mm() - p.x),
            Self::Right => Point::new(width.mm() - p.x, height.mm() - p.y),
            Self::Bottom => Point::new(height.mm() - p.y, p.x),
        }
    }

    /// Whether the other edge lies across the sheet from this one.
    #[must_use]
    pub const fn is_opposite(self, other: Self) -> bool {
        matches!(
            (self, other),
            (Self::Left, Self::Right)
                | (Self::Right, Self::Left)
                | (Self::Top, Self::Bottom)
                | (Self::Bottom, Self::Top)
        )
    }

    /// The line across the whole sheet, this far from the edge.
    fn line_at(self, (width, height): (Length, Length), at: Length) -> Line {
        let (w, h, at) = (width.mm(), height.mm(), at.mm());
        let down = |x: f64| Line::new((x, 0.0), (x, h));
        let across = |y: f64| Line::new((0.0, y), (w, y));
        match self {
            Self::Left => down(at),
            Self::Right => down(w - at),
            Self::Top => across(at),
            Self::Bottom => across(h - at),
        }
    }
}

impl Body {
    /// The lines that one thing the hands do scores, in their order; none for other work.
    #[must_use]
    pub fn score_lines(&self, work: &Work) -> Vec<Line> {
        let (from, at, whole) = match work {
            Work::Score { from, at } => (from, *at, true),
            Work::ScorePart { from, at, .. } => (from, *at, false),
            Work::ByTemplate { cut: false, .. } => {
                let creases = self.template_creases();
                let creases = creases.iter().filter_map(|id| self.crease_line(*id));
                return creases.collect();
            }
            _ => return Vec::new(),
        };
        let lines = from.iter().map(|edge| edge.line_at(self.blank, at));
        if whole {
            return lines.collect();
        }
        lines.map(|line| self.creased_part(line)).collect()
    }

    /// The creases that no straight score makes: they are scored along a template.
    #[must_use]
    pub fn template_creases(&self) -> Vec<CreaseId> {
        let straight = |work: &&Work| matches!(work, Work::Score { .. } | Work::ScorePart { .. });
        let scores = self.work.iter().filter(straight);
        let scored: Vec<Line> = scores
            .flat_map(|work| match work {
                Work::Score { from, at } | Work::ScorePart { from, at, .. } => {
                    let lines = from.iter().map(|edge| edge.line_at(self.blank, *at));
                    lines.collect()
                }
                _ => Vec::new(),
            })
            .collect();
        let creases = self.pattern.creases.iter().enumerate();
        let bare = creases
            .filter(|(_, crease)| !crease.smooth)
            .map(|(at, _)| CreaseId(at));
        bare.filter(|id| {
            let crease = self.crease_line(*id);
            crease.is_some_and(|crease| !scored.iter().any(|score| runs_along(crease, *score)))
        })
        .collect()
    }

    /// The outlines of its windows.
    #[must_use]
    pub fn windows(&self) -> Vec<Vec<Point>> {
        let windows = self.pattern.windows();
        let on_sheet = |(window, _): (&Waste, _)| {
            let corners = window.outline.iter();
            corners.map(|p| self.on_sheet(*p)).collect()
        };
        windows.map(on_sheet).collect()
    }

    /// A crease on the sheet.
    fn crease_line(&self, id: CreaseId) -> Option<Line> {
        let crease = self.pattern.creases.get(id.0)?;
        Some(Line::new(self.on_sheet(crease.a), self.on_sheet(crease.b)))
    }

    fn on_sheet(&self, p: Point) -> Point {
        let blank = self.pattern.blank.iter();
        let left = blank.clone().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let top = blank.map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
        Point::new(p.x - left, top - p.y)
    }

    /// As much of a line as creases run along, from the first to the last.
    fn creased_part(&self, line: Line) -> Line {
        let creases = (0..self.pattern.creases.len()).map(CreaseId);
        let creases = creases.filter_map(|id| self.crease_line(id));
        let along = creases.filter(|crease| runs_along(*crease, line));
        let way = line.p1 - line.p0;
        let far = |p: &Point| (*p - line.p0).dot(way) / way.hypot2().max(f64::MIN_POSITIVE);
        let ends: Vec<f64> = along
            .flat_map(|crease| [far(&crease.p0), far(&crease.p1)])
            .collect();
        let (low, high) = (
            ends.iter().copied().fold(1.0, f64::min),
            ends.iter().copied().fold(0.0, f64::max),
        );
        if low < high {
            Line::new(line.p0 + way * low, line.p0 + way * high)
        } else {
            line
        }
    }
}

/// Whether a crease lies on a line that is level or upright.
fn runs_along(crease: Line, line: Line) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < ALONG_MM;
    let on = |p: Point| match near(line.p0.x, line.p1.x) {
        true => near(p.x, line.p0.x),
        false => near(p.y, line.p0.y),
    };
    on(crease.p0) && on(crease.p1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Settings, Structure, StructureKind, Tools};

    fn mm(width: i64, height: i64) -> (Length, Length) {
        (Length::from_mm(width), Length::from_mm(height))
    }

    /// A sheet turned a quarter counter-clockwise has its right edge at the top.
    #[test]
    fn an_edge_turned_to_the_fence_is_on_the_left() {
        let sheet = mm(100, 60);
        let right_edge = Point::new(100.0, 20.0);
        let at = |edge: Edge| edge.at_the_fence(sheet, right_edge);
        assert_eq!(at(Edge::Left), right_edge);
        assert_eq!(at(Edge::Top), Point::new(20.0, 0.0));
        assert_eq!(at(Edge::Right), Point::new(0.0, 40.0));
        assert_eq!(at(Edge::Bottom), Point::new(40.0, 100.0));
        for edge in Edge::ALL {
            let line = edge.line_at(sheet, Length::from_mm(10));
            let ends = [line.p0, line.p1].map(|p| edge.at_the_fence(sheet, p).x);
            assert_eq!(ends, [10.0, 10.0], "{}", edge.name());
        }
    }

    /// Of a six-sided box the board scores two sides of the floor, and the template the other
    /// four and the six tabs.
    #[test]
    fn what_the_board_does_not_score_is_scored_along_the_template() {
        let kind = StructureKind::find("hexagon").expect("registered");
        let marks = [104, 106, 33, 70, 66, 12].map(|n| Length::from_nm(n * 1_587_500));
        let settings = Settings::new(kind, &marks).expect("six of them");
        let tools = Tools::new(
            crate::PunchBoard::default_inch(),
            crate::Ruler::inch(16),
            &crate::Trimmer::default_inch(),
        );
        let made = Structure::new(settings, &tools, Length::from_nm(300_000)).expect("it closes");
        let base = made.main();
        assert_eq!(base.template_creases().len(), 10);
        let part = base
            .work
            .iter()
            .find(|work| matches!(work, Work::ScorePart { .. }));
        let lines = base.score_lines(part.expect("scored"));
        let [first, second] = lines.as_slice() else {
            panic!("two sides: {lines:?}");
        };
        // From one slanting side to the other: a side of the floor, not the width of the sheet.
        let side = first.p0.distance(first.p1);
        assert!((second.p0.distance(second.p1) - side).abs() < 1e-9);
        assert!(side < base.blank.0.mm() / 2.0, "{side}");
        assert!((first.p0.y - 33.0 * 1.5875).abs() < 1e-9, "{first:?}");
    }
}
