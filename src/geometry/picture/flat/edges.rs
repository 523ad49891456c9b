//! Which edges of a pattern are edges of the paper: those that no crease, slit or attached bit
//! of paper lies along.

use kurbo::Point;

use crate::{PanelId, Pattern, Waste};

type Segment = (Point, Point);

/// Nearer than this, in mm, is the same line: far below what a picture shows.
const SAME_MM: f64 = 1e-4;

/// Edges of panels and attached bits of paper that belong to one of them only. The panels in
/// `folded` lie elsewhere.
pub(super) fn of_paper<'a>(
    pattern: &Pattern,
    attached: impl Iterator<Item = &'a Waste>,
    folded: &[PanelId],
) -> Vec<Segment> {
    let panels = pattern.panels.iter().enumerate();
    let loops: Vec<&[Point]> = panels
        .filter(|(index, _)| !folded.contains(&PanelId(*index)))
        .map(|(_, panel)| &panel.outline[..])
        .chain(attached.map(|waste| &waste.outline[..]))
        .collect();
    let creases = pattern.creases.iter().map(|crease| (crease.a, crease.b));
    let inner: Vec<Segment> = creases
        .chain(pattern.cuts.iter().map(|cut| (cut.a, cut.b)))
        .collect();
    let mut paper = Vec::new();
    for (index, outline) in loops.iter().enumerate() {
        let others = loops
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index);
        let covers: Vec<Segment> = others
            .flat_map(|(_, other)| sides(other))
            .chain(inner.iter().copied())
            .collect();
        paper.extend(sides(outline).flat_map(|side| uncovered(side, &covers)));
    }
    paper
}

/// Where bits of paper come off: their edges that are not edges of the sheet.
pub(super) fn inner(pattern: &Pattern, off: &[&Waste]) -> Vec<Segment> {
    let blank: Vec<Segment> = sides(&pattern.blank).collect();
    off.iter()
        .flat_map(|waste| sides(&waste.outline))
        .flat_map(|side| uncovered(side, &blank))
        .collect()
}

fn sides(outline: &[Point]) -> impl Iterator<Item = Segment> {
    outline
        .iter()
        .copied()
        .zip(outline.iter().copied().cycle().skip(1))
}

/// What is left of a segment where none of the others lies along it.
fn uncovered(side: Segment, covers: &[Segment]) -> Vec<Segment> {
    let way = side.1 - side.0;
    let length = way.hypot();
    if length < SAME_MM {
        return Vec::new();
    }
    let along = way / length;
    let mut taken: Vec<(f64, f64)> = covers
        .iter()
        .filter(|(a, b)| {
            let is_on = |p: Point| along.cross(p - side.0).abs() < SAME_MM;
            is_on(*a) && is_on(*b)
        })
        .map(|(a, b)| ((*a - side.0).dot(along), (*b - side.0).dot(along)))
        .map(|(s, t)| (s.min(t), s.max(t)))
        .collect();
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = Vec::new();
    let mut from = 0.0;
    for (start, end) in taken.into_iter().chain([(length, length)]) {
        if start.min(length) - from > SAME_MM {
            left.push((side.0 + along * from, side.0 + along * start.min(length)));
        }
        from = from.max(end);
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_of_a_side_can_be_covered() {
        let side = (Point::new(0.0, 0.0), Point::new(10.0, 0.0));
        let cover = (Point::new(7.0, 0.0), Point::new(4.0, 0.0));
        let across = (Point::new(2.0, -1.0), Point::new(2.0, 1.0));
        let left = uncovered(side, &[cover, across]);
        let ends: Vec<(f64, f64)> = left.iter().map(|(a, b)| (a.x, b.x)).collect();
        assert_eq!(ends, [(0.0, 4.0), (7.0, 10.0)]);
    }

    #[test]
    fn a_cover_longer_than_the_side_leaves_nothing() {
        let side = (Point::new(0.0, 0.0), Point::new(3.0, 4.0));
        let cover = (Point::new(-3.0, -4.0), Point::new(6.0, 8.0));
        assert!(uncovered(side, &[cover]).is_empty());
    }
}
