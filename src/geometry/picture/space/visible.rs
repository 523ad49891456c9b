//! What of the painted parts is to be seen: areas and lines cut by everything in front of them.

use kurbo::{Point, Rect};

use super::SpaceView;
use super::bsp::{Part, back_to_front};
use super::hidden::is_hidden;
use super::stage::{Edge, Shown, Skin, Stage};
use crate::Vec3;
use crate::polygon::{bounds, edges, left_of, signed_area};
use crate::region::Region;

/// A line this near to the edge of what lies in front of it runs along it, mm.
const ALONG_MM: f64 = 1e-4;
/// Shorter bits of a line, mm, and smaller bits of an area, mm², are rounding.
const LEAST_MM: f64 = 0.05;
const LEAST_MM2: f64 = 0.01;
/// Seen from its edge: less than this of a sheet looks at the eye.
const EDGE_ON: f64 = 1e-9;

/// A part as it is painted, counter-clockwise as kurbo counts (y down, so clockwise to the eye).
pub(super) struct Painted {
    pub(super) sheet: usize,
    /// Whether the side with the sheet's normal looks at the eye.
    pub(super) inside_up: bool,
    pub(super) outline: Vec<Point>,
    around: Rect,
    area: f64,
}

/// What is to be seen.
pub(super) struct Seen {
    /// All that is painted, the furthest first.
    pub(super) painted: Vec<Painted>,
    /// What is left of each painted part once those after it lie over it.
    pub(super) visible: Vec<Vec<Vec<Point>>>,
    /// Visible bits of lines: which edge, from where to where.
    pub(super) lines: Vec<(usize, Point, Point)>,
}

/// Works out what is to be seen of a stage.
pub(super) fn look(stage: &mut Stage, view: &SpaceView) -> Seen {
    let parts = back_to_front(std::mem::take(&mut stage.parts), &stage.planes, view.eye());
    let painted: Vec<Painted> = parts.iter().map(|part| paint(part, stage, view)).collect();
    let visible = (0..painted.len())
        .map(|at| uncovered(&painted, at))
        .collect();
    let lines = lines(stage, &parts, &painted, view);
    Seen {
        painted,
        visible,
        lines,
    }
}

/// A part in the picture; what does not look at the eye has no area.
pub(super) fn paint(part: &Part, stage: &Stage, view: &SpaceView) -> Painted {
    let facing = stage.planes.get(part.sheet);
    let facing = facing.map_or(0.0, |plane| plane.normal.dot(view.eye()));
    let is_back = stage.skins.get(part.sheet) == Some(&Skin::Contents) && facing < 0.0;
    let mut outline: Vec<Point> = part.corners.iter().map(|&p| view.seen(p)).collect();
    let area = signed_area(&outline);
    if area < 0.0 {
        outline.reverse();
    }
    let hidden = is_back || facing.abs() < EDGE_ON;
    Painted {
        sheet: part.sheet,
        inside_up: facing > 0.0,
        around: bounds(&outline).unwrap_or(Rect::ZERO),
        area: if hidden { 0.0 } else { area.abs() },
        outline,
    }
}

impl Seen {
    /// How wide everything is in the picture, mm.
    pub(super) fn width(&self) -> f64 {
        let around = self
            .painted
            .iter()
            .filter(|part| part.has_area())
            .map(|part| part.around);
        let all = around.reduce(|all, one| all.union(one));
        all.map_or(0.0, |all| all.width())
    }

    /// How much of a sheet, from 0 to 1, nothing hides.
    pub(super) fn share_of(&self, sheet: usize) -> f64 {
        let (mut whole, mut shown) = (0.0, 0.0);
        for (part, rings) in self.painted.iter().zip(&self.visible) {
            if part.sheet == sheet {
                whole += part.area;
                // A hole runs the other way round than what it is in.
                shown += rings
                    .iter()
                    .map(|ring| signed_area(ring))
                    .sum::<f64>()
                    .abs();
            }
        }
        if whole > 0.0 { shown / whole } else { 0.0 }
    }
}

impl Painted {
    /// Whether it hides anything.
    pub(super) fn has_area(&self) -> bool {
        self.area > 1e-9
    }

    fn is_near(&self, around: Rect) -> bool {
        self.has_area()
            && self.around.x0 <= around.x1
            && around.x0 <= self.around.x1
            && self.around.y0 <= around.y1
            && around.y0 <= self.around.y1
    }
}

/// The part with this place less all that is painted after it.
fn uncovered(painted: &[Painted], at: usize) -> Vec<Vec<Point>> {
    let Some(part) = painted.get(at).filter(|part| part.has_area()) else {
        return Vec::new();
    };
    let over = painted
        .iter()
        .skip(at + 1)
        .filter(|over| over.is_near(part.around));
    let over: Vec<&[Point]> = over
        .map(|over| over.outline.as_slice())
        .filter(|over| !apart(&part.outline, over) && !apart(over, &part.outline))
        .collect();
    if over.is_empty() {
        return vec![part.outline.clone()];
    }
    // Most of what lies deep in a piece is hidden whole, which is found out without the engine.
    if is_hidden(&part.outline, &over, LEAST_MM2) {
        return Vec::new();
    }
    let left = Region::difference(&[&part.outline], &over);
    let mut rings = left.rings();
    rings.retain(|ring| signed_area(ring).abs() > LEAST_MM2);
    rings
}

/// Whether a side of the first convex outline has all of the second beyond it.
fn apart(one: &[Point], other: &[Point]) -> bool {
    edges(one).any(|(a, b)| {
        let inward = left_of(b - a);
        other.iter().all(|p| inward.dot(*p - a) <= ALONG_MM)
    })
}

/// Visible bits of all edges: along the sides of the parts, less what is painted after them.
fn lines(
    stage: &Stage,
    parts: &[Part],
    painted: &[Painted],
    view: &SpaceView,
) -> Vec<(usize, Point, Point)> {
    let mut bits: Vec<Vec<(f64, f64)>> = vec![Vec::new(); stage.edges.len()];
    for (at, part) in parts.iter().enumerate() {
        let is_solid = stage.skins.get(part.sheet) == Some(&Skin::Contents);
        if is_solid && !painted.get(at).is_some_and(Painted::has_area) {
            continue;
        }
        let over = painted.get(at + 1..).unwrap_or(&[]);
        let ends = part.corners.iter().zip(part.corners.iter().cycle().skip(1));
        for ((&p, &q), edge) in ends.zip(&part.edges) {
            let edge = edge.and_then(|at| Some((stage.edges.get(at)?, bits.get_mut(at)?)));
            if let Some((edge, bits)) = edge.filter(|(edge, _)| is_shown(stage, edge, view)) {
                let (from, to) = (share(edge, p), share(edge, q));
                let along = |t: f64| from + (to - from) * t;
                let seen = free((view.seen(p), view.seen(q)), edge, over).into_iter();
                bits.extend(seen.map(|(s, t)| (along(s).min(along(t)), along(s).max(along(t)))));
            }
        }
    }
    let placed = bits.into_iter().zip(&stage.edges).enumerate();
    placed
        .flat_map(|(index, (bits, edge))| {
            let [a, b] = edge.ends.map(|end| view.seen(end));
            let ends = joined(bits, LEAST_MM / (b - a).hypot().max(LEAST_MM));
            ends.into_iter()
                .map(move |(s, t)| (index, a.lerp(b, s), a.lerp(b, t)))
        })
        .filter(|(_, a, b)| a.distance(*b) > LEAST_MM)
        .collect()
}

fn is_shown(stage: &Stage, edge: &Edge, view: &SpaceView) -> bool {
    let looks = |sheet: &usize| {
        let plane = stage.planes.get(*sheet);
        plane.is_some_and(|plane| plane.normal.dot(view.eye()) > 0.0)
    };
    match (edge.shown, &edge.sheets[..]) {
        (Shown::AsSilhouette, [one, other]) => looks(one) != looks(other),
        _ => true,
    }
}

/// How far along an edge a point is: 0 at its start, 1 at its end.
fn share(edge: &Edge, p: Vec3) -> f64 {
    let [a, b] = edge.ends;
    let way = b - a;
    (p - a).dot(way) / way.dot(way).max(f64::MIN_POSITIVE)
}

/// The stretches of a line, from 0 to 1, that nothing in front covers.
///
/// A line along the rim of a sheet that it does not belong to is covered too: the rim is drawn
/// with that sheet.
fn free((a, b): (Point, Point), edge: &Edge, over: &[Painted]) -> Vec<(f64, f64)> {
    let around = Rect::from_points(a, b).inflate(ALONG_MM, ALONG_MM);
    let mut hidden: Vec<(f64, f64)> = over
        .iter()
        .filter(|over| over.is_near(around))
        .filter_map(|over| {
            let is_own = edge.sheets.contains(&over.sheet);
            inside(
                a,
                b,
                &over.outline,
                if is_own { ALONG_MM } else { -ALONG_MM },
            )
        })
        .collect();
    if hidden.is_empty() {
        return vec![(0.0, 1.0)];
    }
    hidden.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut left = Vec::new();
    let mut from = 0.0_f64;
    for (start, end) in hidden.into_iter().chain([(1.0, 1.0)]) {
        if start > from {
            left.push((from, start));
        }
        from = from.max(end);
    }
    let least = LEAST_MM / (b - a).hypot().max(LEAST_MM);
    left.retain(|(from, to)| to - from > least.min(0.5));
    left
}

/// The stretch of a line further inside a convex outline than `depth`, mm.
fn inside(a: Point, b: Point, outline: &[Point], depth: f64) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in edges(outline) {
        let inward = left_of(q - p);
        let (at_a, at_b) = (inward.dot(a - p) - depth, inward.dot(b - p) - depth);
        if inward.hypot2() == 0.0 {
            continue;
        }
        if at_a <= 0.0 && at_b <= 0.0 {
            return None;
        }
        if at_a < 0.0 {
            from = from.max(at_a / (at_a - at_b));
        }
        if at_b < 0.0 {
            to = to.min(at_a / (at_a - at_b));
        }
    }
    (from < to).then_some((from, to))
}

/// Stretches put together where they meet.
fn joined(mut bits: Vec<(f64, f64)>, gap: f64) -> Vec<(f64, f64)> {
    bits.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut whole: Vec<(f64, f64)> = Vec::new();
    for (from, to) in bits {
        match whole.last_mut() {
            Some(last) if from <= last.1 + gap => last.1 = last.1.max(to),
            _ => whole.push((from, to)),
        }
    }
    whole
}
