//! The flat pattern for cutting machines, as SVG in millimetres: plain paths in the groups
//! `engrave`, `score` and `cut`, in that order, for paper that is cut loose moves.
//!
//! The page is as large as the pattern, without a margin. No path is dashed: a machine would cut
//! each dash. Names are single strokes on glue flaps, which end up inside: a pen or a blunt tool
//! writes them.

use super::engraved::engraved;
use super::lines::pattern_lines;
use super::svg_page::{SvgPage, group};
use crate::Pattern;

/// The pattern as an SVG document for a machine that scores and cuts, and may write.
#[must_use]
pub fn cutter_svg(pattern: &Pattern) -> String {
    let lines = pattern_lines(pattern);
    let page = SvgPage::round(&lines, 0.0);
    let mut svg = page.head(pattern.name);
    let names = engraved(pattern);
    let names: Vec<String> = names.iter().map(|run| page.open(run)).collect();
    // Three strokes, because many machines take their tools apart by stroke.
    for (id, stroke, paths) in [
        ("engrave", "#070", names),
        ("score", "#00f", page.scores(&lines)),
        ("cut", "#000", page.cuts(&lines)),
    ] {
        let look = format!("stroke=\"{stroke}\" stroke-width=\"0.1\"");
        group(&mut svg, id, &look, &paths);
    }
    svg.push_str("</svg>\n");
    svg
}
