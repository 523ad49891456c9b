//! The flat pattern as SVG at true size: what is cut in the group `cut`, what is creased in the
//! group `score`. Millimetres; a picture's y runs down.

use std::fmt::Write;

use kurbo::{Point, Rect};

use super::graph::{EdgeKind, graph};
use crate::Pattern;
use crate::picture::{escape, rounded};
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

/// A tenth of a micrometre: exact enough for any cutter.
fn number(mm: f64) -> String {
    rounded(mm, 4)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Length, PunchBoard, PunchEnvelope, PunchEnvelopeSettings};

    #[test]
    fn an_envelope_is_drawn_at_true_size() {
        let settings = PunchEnvelopeSettings {
            sheet: Length::inches(8),
            punch: Length::from_nm(88_900_000),
        };
        let card = Length::from_nm(200_000);
        let made = PunchEnvelope::new(settings, &PunchBoard::default_inch(), card).unwrap();
        // As wide as the sheet on its corner, 203.2 · √2 = 287.3682, and the margin.
        insta::assert_snapshot!(pattern_svg(&made.pattern()), @r##"
        <svg xmlns="http://www.w3.org/2000/svg" width="291.3682mm" height="291.3682mm" viewBox="0 0 291.3682 291.3682">
        <title>punch-board envelope</title>
        <g id="cut" fill="none" stroke="#000" stroke-width="0.2">
        <path d="M78.3322 69.3519 L2 145.6841 L78.3322 222.0163 L87.3124 222.0163 L87.3124 230.9965 L145.6841 289.3682 L204.0558 230.9965 L204.0558 222.0163 L213.036 222.0163 L289.3682 145.6841 L213.036 69.3519 L204.0558 69.3519 L204.0558 60.3717 L145.6841 2 L87.3124 60.3717 L87.3124 69.3519 Z"/>
        </g>
        <g id="score" fill="none" stroke="#000" stroke-width="0.2" stroke-dasharray="2 1">
        <path d="M87.3124 69.3519 L87.3124 222.0163"/>
        <path d="M204.0558 222.0163 L204.0558 69.3519"/>
        <path d="M87.3124 222.0163 L204.0558 222.0163"/>
        <path d="M204.0558 69.3519 L87.3124 69.3519"/>
        </g>
        </svg>
        "##);
    }

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        assert_eq!(number(-0.00001), "0");
        assert_eq!(number(12.5), "12.5");
        assert_eq!(number(100.0), "100");
        assert_eq!(number(-7.12345), "-7.1235");
    }
}
