//! A pattern as a plane graph: corners that coincide are one vertex, and an edge ends wherever a
//! corner of another panel lies on it.

use std::collections::BTreeMap;

use kurbo::Point;

use crate::polygon::{distance_to_segment, edges};
use crate::{Pattern, signed_area};

/// Corners this near are one, mm.
const SAME_MM: f64 = 1e-6;

/// What an edge is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum EdgeKind {
    /// Paper on one side only.
    Border,
    /// Paper on both sides, parted.
    Cut,
    /// Folds to this many degrees.
    Crease(f64),
}

/// An edge between two vertices, and the faces on its left and on its right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct GraphEdge {
    pub(super) ends: [usize; 2],
    pub(super) faces: [Option<usize>; 2],
    pub(super) kind: EdgeKind,
}

/// The graph; face i is panel i of the pattern, counter-clockwise.
#[derive(Debug, PartialEq)]
pub(super) struct Graph {
    pub(super) vertices: Vec<Point>,
    pub(super) edges: Vec<GraphEdge>,
    pub(super) faces: Vec<Vec<usize>>,
}

pub(super) fn graph(pattern: &Pattern) -> Graph {
    let mut vertices: Vec<Point> = Vec::new();
    let corners = pattern
        .panels
        .iter()
        .flat_map(|panel| panel.outline.iter().copied());
    let ends = pattern
        .creases
        .iter()
        .flat_map(|crease| [crease.a, crease.b]);
    for p in corners.chain(ends) {
        vertex(&mut vertices, p);
    }
    let faces: Vec<Vec<usize>> = pattern
        .panels
        .iter()
        .map(|panel| ring(&mut vertices, &panel.outline))
        .collect();
    // Sorted by vertex, so that the same pattern gives the same file on every machine.
    let mut sides: BTreeMap<[usize; 2], [Option<usize>; 2]> = BTreeMap::new();
    for (face, ring) in faces.iter().enumerate() {
        for (&from, &to) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let slots = sides.entry([from.min(to), from.max(to)]).or_default();
            slots[usize::from(from > to)] = Some(face);
        }
    }
    let edge = |(ends, faces): ([usize; 2], [Option<usize>; 2])| {
        let kind = kind(
            pattern,
            ends.map(|v| vertices.get(v).copied().unwrap_or_default()),
            faces,
        );
        GraphEdge { ends, faces, kind }
    };
    let edges = sides.into_iter().map(edge).collect();
    Graph {
        vertices,
        edges,
        faces,
    }
}

fn vertex(vertices: &mut Vec<Point>, p: Point) -> usize {
    let known = vertices.iter().position(|q| (*q - p).hypot() < SAME_MM);
    known.unwrap_or_else(|| {
        vertices.push(p);
        vertices.len() - 1
    })
}

/// The vertices round a panel, with those that lie inside one of its edges.
fn ring(vertices: &mut Vec<Point>, outline: &[Point]) -> Vec<usize> {
    let mut outline = outline.to_vec();
    if signed_area(&outline) < 0.0 {
        outline.reverse();
    }
    let mut ring = Vec::new();
    for (a, b) in edges(&outline) {
        let start = vertex(vertices, a);
        let end = vertex(vertices, b);
        if start == end {
            continue;
        }
        let mut between: Vec<(f64, usize)> = vertices
            .iter()
            .enumerate()
            .filter(|&(v, &p)| v != start && v != end && distance_to_segment(p, a, b) < SAME_MM)
            .map(|(v, &p)| ((p - a).dot(b - a), v))
            .collect();
        between.sort_by(|one, other| one.0.total_cmp(&other.0));
        ring.push(start);
        ring.extend(between.into_iter().map(|(_, v)| v));
    }
    ring
}

fn kind(pattern: &Pattern, [p, q]: [Point; 2], faces: [Option<usize>; 2]) -> EdgeKind {
    let [Some(left), Some(right)] = faces else {
        return EdgeKind::Border;
    };
    let along = |a: Point, b: Point| {
        distance_to_segment(p, a, b) < SAME_MM && distance_to_segment(q, a, b) < SAME_MM
    };
    let crease = pattern.creases.iter().find(|crease| {
        let joins = [crease.parent.0, crease.child.0];
        joins.contains(&left) && joins.contains(&right) && along(crease.a, crease.b)
    });
    crease.map_or(EdgeKind::Cut, |crease| EdgeKind::Crease(crease.angle_deg))
}
