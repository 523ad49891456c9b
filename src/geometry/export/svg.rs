//! The flat pattern as SVG at true size: what is cut in the group `cut`, what is creased in the
//! group `score`. Millimetres; a picture's y runs down.

use super::lines::pattern_lines;
use super::svg_page::{SvgPage, group};
use crate::Pattern;

/// Room round the pattern, so that lines at its edge are drawn whole, mm.
const MARGIN_MM: f64 = 2.0;

/// The pattern as an SVG document whose width and height are in mm.
#[must_use]
pub fn pattern_svg(pattern: &Pattern) -> String {
    let lines = pattern_lines(pattern);
    let page = SvgPage::round(&lines, MARGIN_MM);
    let mut svg = page.head(pattern.name);
    let cut = "stroke=\"#000\" stroke-width=\"0.2\"";
    group(&mut svg, "cut", cut, &page.cuts(&lines));
    let dashes = format!("{cut} stroke-dasharray=\"2 1\"");
    group(&mut svg, "score", &dashes, &page.scores(&lines));
    svg.push_str("</svg>\n");
    svg
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
        <title>punch-board envelope, inside up</title>
        <desc>You see the side of the paper that ends up inside.</desc>
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
}
