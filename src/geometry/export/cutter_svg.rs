//! The flat pattern for cutting machines, as SVG in millimetres: plain paths in the groups
//! `engrave`, `score` and `cut`, in that order, for paper that is cut loose moves.
//!
//! The page is as large as the pattern, without a margin. No path is dashed: a machine would cut
//! each dash. Names are single strokes on glue flaps, which end up inside: a pen or a blunt tool
//! writes them.

use std::fmt::Write;

use kurbo::{Point, Rect};

use super::engraved::engraved;
use super::lines::{PatternLines, pattern_lines};
use crate::Pattern;
use crate::picture::{escape, rounded};
use crate::polygon::bounds;

/// The pattern as an SVG document for a machine that scores and cuts, and may write.
#[must_use]
pub fn cutter_svg(pattern: &Pattern) -> String {
    let lines = pattern_lines(pattern);
    let frame = bounds(&lines.outlines.concat()).unwrap_or(Rect::ZERO);
    let at = |p: &Point| format!("{} {}", number(p.x - frame.x0), number(frame.y1 - p.y));
    let open = |points: &[Point]| {
        let points: Vec<String> = points.iter().map(at).collect();
        format!("M{}", points.join(" L"))
    };
    let PatternLines {
        slits,
        outlines,
        creases,
        ..
    } = &lines;
    let score = creases.iter().map(|crease| open(&crease.points));
    let slits = slits.iter().map(|slit| open(slit));
    let closed = outlines.iter().map(|ring| format!("{} Z", open(ring)));

    let (width, height) = (number(frame.width()), number(frame.height()));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\">\n<title>{}</title>\n",
        escape(pattern.name),
    );
    let names = engraved(pattern);
    // Three strokes, because many machines take their tools apart by stroke.
    group(
        &mut svg,
        ("engrave", "#070"),
        names.iter().map(|run| open(run)),
    );
    group(&mut svg, ("score", "#00f"), score);
    group(&mut svg, ("cut", "#000"), slits.chain(closed));
    svg.push_str("</svg>\n");
    svg
}

fn group(svg: &mut String, (id, stroke): (&str, &str), paths: impl Iterator<Item = String>) {
    let paths: Vec<String> = paths.collect();
    if paths.is_empty() {
        return;
    }
    // Writing to a String cannot fail.
    let _ = writeln!(
        svg,
        "<g id=\"{id}\" fill=\"none\" stroke=\"{stroke}\" stroke-width=\"0.1\">"
    );
    for path in paths {
        let _ = writeln!(svg, "<path d=\"{path}\"/>");
    }
    svg.push_str("</g>\n");
}

/// A tenth of a micrometre: exact enough for any cutter.
fn number(mm: f64) -> String {
    rounded(mm, 4)
}
