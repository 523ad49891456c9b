//! The flat pattern as SVG at true size: what is cut in the group `cut`, what is creased in the
//! group `score`. Millimetres; a picture's y runs down.

use std::fmt::Write;

use kurbo::{Point, Rect};

use super::graph::{EdgeKind, graph};
use crate::Pattern;
use crate::polygon::bounds;
use crate::region::Region;

/// Room round the pattern, so that lines at its edge are drawn whole, mm.
const MARGIN_MM: f64 = 2.0;

/// The pattern as an SVG document whose width and height are in mm.
#[must_use]
pub fn pattern_svg(pattern: &Pattern) -> String {
    let outlines: Vec<&[Point]> = pattern
        .panels
        .iter()
        .map(|p| p.outline.as_slice())
        .collect();
    let frame = bounds(&outlines.concat())
        .unwrap_or(Rect::ZERO)
        .inset(MARGIN_MM);
    let at = |p: Point| format!("{} {}", number(p.x - frame.x0), number(frame.y1 - p.y));
    let line = |a: Point, b: Point| format!("M{} L{}", at(a), at(b));

    let mut cut: Vec<String> = Region::union(&outlines)
        .rings()
        .iter()
        .map(|ring| {
            let corners: Vec<String> = ring.iter().map(|&p| at(p)).collect();
            format!("M{} Z", corners.join(" L"))
        })
        .collect();
    let graph = graph(pattern);
    let slits = graph.edges.iter().filter(|edge| edge.kind == EdgeKind::Cut);
    cut.extend(slits.filter_map(|edge| {
        let [a, b] = edge.ends;
        Some(line(*graph.vertices.get(a)?, *graph.vertices.get(b)?))
    }));
    let score: Vec<String> = pattern
        .creases
        .iter()
        .map(|crease| line(crease.a, crease.b))
        .collect();

    let (width, height) = (number(frame.width()), number(frame.height()));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\">\n<title>{}</title>\n",
        escape(pattern.name),
    );
    group(
        &mut svg,
        "cut",
        "stroke=\"#000\" stroke-width=\"0.2\"",
        &cut,
    );
    let dashes = "stroke=\"#000\" stroke-width=\"0.2\" stroke-dasharray=\"2 1\"";
    group(&mut svg, "score", dashes, &score);
    svg.push_str("</svg>\n");
    svg
}

fn group(svg: &mut String, id: &str, stroke: &str, paths: &[String]) {
    // Writing to a String cannot fail.
    let _ = writeln!(svg, "<g id=\"{id}\" fill=\"none\" {stroke}>");
    for path in paths {
        let _ = writeln!(svg, "<path d=\"{path}\"/>");
    }
    svg.push_str("</g>\n");
}

/// A tenth of a micrometre is more than any cutter; never "-0".
fn number(mm: f64) -> String {
    let text = format!("{:.4}", mm);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".into()
    } else {
        text.into()
    }
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}
