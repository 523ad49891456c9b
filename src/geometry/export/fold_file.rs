//! FOLD 1.2, the open format for crease patterns (its specification: doc/spec.md of the public
//! repository edemaine/fold, version 1.2): JSON with parallel arrays.
//!
//! Vertices in mm. `edges_assignment`: B border, C cut, V valley, M mountain, F flat crease.
//! `edges_foldAngle` in degrees, valley positive, 0 where nothing folds. Faces counter-clockwise,
//! seen from the inside of the paper.

use serde_json::{Value, json};

use super::graph::{EdgeKind, GraphEdge, graph};
use crate::{Pattern, signed_area};

/// The pattern as a FOLD 1.2 document.
#[must_use]
pub fn fold_value(pattern: &Pattern) -> Value {
    let graph = graph(pattern);
    let has_cuts = graph.edges.iter().any(|edge| edge.kind == EdgeKind::Cut);
    let attributes = [
        "2D",
        "manifold",
        "orientable",
        if has_cuts { "cuts" } else { "noCuts" },
        "noJoins",
        if all_convex(pattern) {
            "convexFaces"
        } else {
            "nonConvexFaces"
        },
    ];
    let coords: Vec<[f64; 2]> = graph
        .vertices
        .iter()
        .map(|p| [tidy(p.x), tidy(p.y)])
        .collect();
    let edges = &graph.edges;
    json!({
        "file_spec": 1.2,
        "file_creator": concat!("tablefold ", env!("CARGO_PKG_VERSION")),
        "file_classes": ["singleModel"],
        "frame_title": pattern.name,
        "frame_classes": ["creasePattern"],
        "frame_attributes": attributes,
        "frame_unit": "mm",
        "vertices_coords": coords,
        "edges_vertices": edges.iter().map(|edge| edge.ends).collect::<Vec<_>>(),
        "edges_faces": edges.iter().map(|edge| edge.faces).collect::<Vec<_>>(),
        "edges_assignment": edges.iter().map(assignment).collect::<Vec<_>>(),
        "edges_foldAngle": edges.iter().map(angle).collect::<Vec<_>>(),
        "faces_vertices": graph.faces,
        "faces_tablefold:name": pattern.panels.iter().map(|p| p.name).collect::<Vec<_>>(),
    })
}

/// The pattern as the text of a FOLD 1.2 file.
#[must_use]
pub fn fold_file(pattern: &Pattern) -> String {
    format!("{}\n", fold_value(pattern))
}

fn assignment(edge: &GraphEdge) -> &'static str {
    match edge.kind {
        EdgeKind::Border => "B",
        EdgeKind::Cut => "C",
        EdgeKind::Crease(angle) if angle > 0.0 => "V",
        EdgeKind::Crease(angle) if angle < 0.0 => "M",
        EdgeKind::Crease(_) => "F",
    }
}

fn angle(edge: &GraphEdge) -> f64 {
    match edge.kind {
        EdgeKind::Crease(angle) => tidy(angle),
        EdgeKind::Border | EdgeKind::Cut => 0.0,
    }
}

/// To 1e-9 mm: the last digits of a sine differ from machine to machine, and -0 is 0.
fn tidy(mm: f64) -> f64 {
    (mm * 1e9).round() / 1e9 + 0.0
}

fn all_convex(pattern: &Pattern) -> bool {
    let turns_left = |outline: &[kurbo::Point]| {
        let sense = signed_area(outline).signum();
        let next = |step: usize| outline.iter().cycle().skip(step);
        outline
            .iter()
            .zip(next(1))
            .zip(next(2))
            .all(|((a, b), c)| (*b - *a).cross(*c - *b) * sense >= -1e-9)
    };
    pattern
        .panels
        .iter()
        .all(|panel| turns_left(&panel.outline))
}
