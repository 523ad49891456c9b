//! The lines of a pattern as a blade and a scoring tool follow them: whole runs, not the edges
//! between corners, so that a dashed line keeps its dashes and a machine lifts its tool seldom.

use kurbo::Point;

use super::graph::{EdgeKind, graph};
use crate::curve::along_curves;
use crate::polygon::depth_inside;
use crate::region::Region;
use crate::{CreaseId, PanelId, Pattern, signed_area};

/// Ends this near meet, mm.
const SAME_MM: f64 = 1e-6;

/// Runs go on where they turn by less than this: the cosine of 30°.
const GOES_ON: f64 = 0.866;

/// Which way a crease folds, seen from the inside of the paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fold {
    /// Towards you.
    Valley,
    /// Away from you.
    Mountain,
}

/// A crease from end to end; a curved one has many points.
#[derive(Clone, Debug, PartialEq)]
pub struct CreaseLine {
    /// At least two, mm.
    pub points: Vec<Point>,
    /// Which way it folds.
    pub fold: Fold,
}

/// What is cut and what is scored, in the coordinates of the pattern, mm; curves as they are, and
/// not as the chords that panels have.
#[derive(Clone, Debug, PartialEq)]
pub struct PatternLines {
    /// Slits, which lie inside the paper and are cut first.
    pub slits: Vec<Vec<Point>>,
    /// Closed outlines, without their first point again: windows before what lies round them.
    pub outlines: Vec<Vec<Point>>,
    /// Creases that someone folds; where a panel only bends there are none.
    pub creases: Vec<CreaseLine>,
    /// Panels by name; a bent one is whole. Windows in them come first.
    pub panels: Vec<(&'static str, Vec<Point>)>,
}

/// The lines of a pattern.
#[must_use]
pub fn pattern_lines(pattern: &Pattern) -> PatternLines {
    let folded = |fold| {
        let creases = pattern.creases.iter().enumerate();
        let creases = creases.filter(|(_, crease)| !crease.smooth);
        let segments = creases
            .filter(|&(at, _)| fold_of(pattern, CreaseId(at)) == fold)
            .map(|(_, crease)| [crease.a, crease.b]);
        runs(segments.collect())
            .into_iter()
            .map(move |points| CreaseLine {
                points: along_curves(points, false, &pattern.curves),
                fold,
            })
    };
    PatternLines {
        slits: runs(slits(pattern)),
        outlines: inside_first(outlines(pattern)),
        creases: [Fold::Valley, Fold::Mountain]
            .into_iter()
            .flat_map(folded)
            .collect(),
        panels: panels(pattern),
    }
}

fn panels(pattern: &Pattern) -> Vec<(&'static str, Vec<Point>)> {
    let ids = (0..pattern.panels.len()).map(PanelId);
    let whole = |id: PanelId| {
        let strips = pattern.bent_panel(id);
        if strips.first() != Some(&id) {
            return None;
        }
        let panel = pattern.panel(id)?;
        if strips.len() == 1 {
            return Some((panel.name, panel.outline.clone()));
        }
        let outlines: Vec<&[Point]> = strips
            .iter()
            .filter_map(|&strip| Some(pattern.panel(strip)?.outline.as_slice()))
            .collect();
        let rings = Region::union(&outlines).rings();
        let area = |ring: &Vec<Point>| signed_area(ring).abs();
        let largest = rings
            .into_iter()
            .max_by(|one, other| area(one).total_cmp(&area(other)));
        Some((panel.name, largest?))
    };
    let windows = pattern
        .windows()
        .map(|(it, _)| ("cut out", it.outline.clone()));
    windows.chain(ids.filter_map(whole)).collect()
}

/// The paper's edges: outlines round it and round its windows.
fn outlines(pattern: &Pattern) -> Vec<Vec<Point>> {
    let panels: Vec<&[Point]> = pattern
        .panels
        .iter()
        .map(|panel| panel.outline.as_slice())
        .collect();
    let rings = Region::union(&panels).rings().into_iter();
    rings
        .map(|ring| along_curves(ring, true, &pattern.curves))
        .collect()
}

fn slits(pattern: &Pattern) -> Vec<[Point; 2]> {
    let graph = graph(pattern);
    let cuts = graph.edges.iter().filter(|edge| edge.kind == EdgeKind::Cut);
    cuts.filter_map(|edge| {
        let [a, b] = edge.ends;
        Some([*graph.vertices.get(a)?, *graph.vertices.get(b)?])
    })
    .collect()
}

/// A crease that ends flat is named after the way it went first.
fn fold_of(pattern: &Pattern, id: CreaseId) -> Fold {
    let at_last = pattern
        .creases
        .get(id.0)
        .map_or(0.0, |crease| crease.angle_deg);
    let on_the_way = pattern
        .folds
        .iter()
        .flat_map(|step| &step.creases)
        .filter(|(crease, _)| *crease == id)
        .map(|(_, angle)| *angle);
    let first = std::iter::once(at_last).chain(on_the_way);
    match first.into_iter().find(|angle| *angle != 0.0) {
        Some(angle) if angle < 0.0 => Fold::Mountain,
        _ => Fold::Valley,
    }
}

/// Rings with the most other rings round them first.
fn inside_first(mut rings: Vec<Vec<Point>>) -> Vec<Vec<Point>> {
    let depth = |ring: &Vec<Point>| {
        let at = ring.first().copied().unwrap_or_default();
        let round = rings
            .iter()
            .filter(|other| *other != ring && depth_inside(at, other) > 0.0);
        round.count()
    };
    let depths: Vec<usize> = rings.iter().map(depth).collect();
    let mut order: Vec<usize> = (0..rings.len()).collect();
    order.sort_by_key(|&at| std::cmp::Reverse(depths.get(at).copied()));
    order
        .into_iter()
        .map(|at| rings.get_mut(at).map(std::mem::take).unwrap_or_default())
        .collect()
}

/// Segments joined end to end where one goes on as the other.
fn runs(mut segments: Vec<[Point; 2]>) -> Vec<Vec<Point>> {
    segments.reverse();
    let mut runs = Vec::new();
    while let Some([a, b]) = segments.pop() {
        let mut run = vec![a, b];
        extend(&mut run, &mut segments);
        run.reverse();
        extend(&mut run, &mut segments);
        run.reverse();
        runs.push(straightened(run));
    }
    runs
}

/// Adds, at the end of the run, the segments that carry it on.
fn extend(run: &mut Vec<Point>, segments: &mut Vec<[Point; 2]>) {
    while let [.., before, end] = run[..] {
        let way = (end - before).normalize();
        let onward = |segment: &[Point; 2]| {
            let [a, b] = *segment;
            let next = match ((a - end).hypot() < SAME_MM, (b - end).hypot() < SAME_MM) {
                (true, false) => b,
                (false, true) => a,
                _ => return None,
            };
            Some((way.dot((next - end).normalize()), next))
        };
        let found = segments.iter().enumerate();
        let found = found.filter_map(|(at, segment)| Some((at, onward(segment)?)));
        let best = found.max_by(|(_, one), (_, other)| one.0.total_cmp(&other.0));
        match best {
            Some((at, (cosine, next))) if cosine > GOES_ON => {
                segments.remove(at);
                run.push(next);
            }
            _ => return,
        }
    }
}

/// Without the points in the middle of a straight stretch.
fn straightened(run: Vec<Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for p in run {
        if let [.., a, b] = kept[..]
            && (b - a).normalize().cross((p - a).normalize()).abs() * (p - a).hypot() < SAME_MM
        {
            kept.pop();
        }
        kept.push(p);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    fn square(low: f64, high: f64) -> Vec<Point> {
        vec![p(low, low), p(high, low), p(high, high), p(low, high)]
    }

    #[test]
    fn a_line_in_three_pieces_is_one_run_whichever_way_they_go() {
        let pieces = vec![
            [p(10.0, 0.0), p(20.0, 0.0)],
            [p(10.0, 0.0), p(0.0, 0.0)],
            [p(20.0, 0.0), p(35.0, 0.0)],
        ];
        assert_eq!(runs(pieces), [[p(0.0, 0.0), p(35.0, 0.0)]]);
    }

    #[test]
    fn a_corner_ends_a_run_and_a_gentle_bend_does_not() {
        let corner = vec![[p(0.0, 0.0), p(10.0, 0.0)], [p(10.0, 0.0), p(10.0, 10.0)]];
        assert_eq!(runs(corner).len(), 2);
        let bend = vec![[p(0.0, 0.0), p(10.0, 0.0)], [p(10.0, 0.0), p(20.0, 3.0)]];
        assert_eq!(runs(bend), [[p(0.0, 0.0), p(10.0, 0.0), p(20.0, 3.0)]]);
    }

    #[test]
    fn a_window_comes_before_the_outline_round_it() {
        let (window, outer, apart) = (square(2.0, 4.0), square(0.0, 10.0), square(20.0, 30.0));
        let order = inside_first(vec![outer.clone(), apart.clone(), window.clone()]);
        assert_eq!(order, [window, outer, apart]);
    }
}
