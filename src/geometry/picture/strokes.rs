//! How each role is drawn: class, colours, width and dashes.
//!
//! Classes let the page restyle a picture (dark scheme, print); the attributes are what a file
//! on its own looks like. Widths and dashes are in `u`, 1/100 of the width of the view.

use super::scene::LineRole;

pub(crate) const INK: &str = "#1f2a2e";
pub(crate) const NOW: &str = "#a8320f";
pub(crate) const PAPER: &str = "#fffdf7";
pub(crate) const QUIET: &str = "#57656a";

/// How an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fill {
    None,
    Flat(&'static str),
    Hatch,
    Cross,
}

/// Everything the writer needs to draw a path.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Style {
    pub(crate) class: &'static str,
    pub(crate) fill: Fill,
    pub(crate) stroke: Option<&'static str>,
    pub(crate) width: f64,
    pub(crate) dash: Option<(f64, f64)>,
    pub(crate) round: bool,
}

const fn area(class: &'static str, fill: Fill) -> Style {
    Style {
        class,
        fill,
        stroke: None,
        width: 0.0,
        dash: None,
        round: false,
    }
}

const fn line(class: &'static str, stroke: &'static str, width: f64) -> Style {
    Style {
        class,
        fill: Fill::None,
        stroke: Some(stroke),
        width,
        dash: None,
        round: false,
    }
}

/// The style of a role; "now" is the accent and at least twice as thick.
pub(crate) const fn style(role: LineRole, now: bool) -> Style {
    let plain = match role {
        LineRole::Front => area("pic-front", Fill::Flat("#ecd9b0")),
        LineRole::Back => area("pic-back", Fill::Flat("#f9f2e2")),
        LineRole::Outside => area("pic-front", Fill::Flat("#ecd9b0")),
        LineRole::OutsideInShade => area("pic-front-shade", Fill::Flat("#dbc492")),
        LineRole::Inside => area("pic-back", Fill::Flat("#f9f2e2")),
        LineRole::InsideInShade => area("pic-back-shade", Fill::Flat("#ece2cb")),
        LineRole::Moving => area("pic-moving", Fill::Flat("#efc9b4")),
        LineRole::MovingFront => area("pic-moving-front", Fill::Flat("#e0a488")),
        LineRole::Tool => area("pic-tool", Fill::Flat("#dde3e1")),
        LineRole::Outline => line("pic-outline", INK, 0.35),
        LineRole::Cut => line("pic-cut", INK, 0.55),
        LineRole::Crease => Style {
            dash: Some((1.8, 1.2)),
            ..line("pic-crease", INK, 0.45)
        },
        LineRole::Glue => Style {
            fill: Fill::Hatch,
            ..line("pic-glue", INK, 0.25)
        },
        LineRole::GlueBehind => Style {
            fill: Fill::Hatch,
            dash: Some((0.9, 0.7)),
            ..line("pic-glue", INK, 0.25)
        },
        LineRole::Waste => Style {
            fill: Fill::Cross,
            ..line("pic-waste", QUIET, 0.25)
        },
        LineRole::Guide => Style {
            dash: Some((0.01, 1.3)),
            round: true,
            ..line("pic-guide", INK, 0.65)
        },
        LineRole::Ruler => line("pic-ruler", QUIET, 0.25),
        LineRole::Dimension => line("pic-dimension", QUIET, 0.25),
        LineRole::Dot => area("pic-dot", Fill::Flat(QUIET)),
        LineRole::Arrow => Style {
            round: true,
            ..line("pic-arrow", INK, 0.5)
        },
        LineRole::Ribbon => Style {
            fill: Fill::Flat("#b9c7c2"),
            ..line("pic-ribbon", INK, 0.3)
        },
        LineRole::ContentsInShade => area("pic-contents-shade", Fill::Flat("#bcc6bd")),
        LineRole::Contents => Style {
            fill: Fill::Flat("#d3dad3"),
            ..line("pic-contents", INK, 0.35)
        },
        LineRole::Label => line("pic-label", INK, 0.2),
    };
    if now { emphasised(plain, role) } else { plain }
}

const fn emphasised(plain: Style, role: LineRole) -> Style {
    let class = match role {
        LineRole::Glue | LineRole::GlueBehind => "pic-glue pic-now",
        LineRole::Waste => "pic-waste pic-now",
        LineRole::Ribbon => "pic-ribbon pic-now",
        LineRole::Front
        | LineRole::Back
        | LineRole::Outside
        | LineRole::OutsideInShade
        | LineRole::Inside
        | LineRole::InsideInShade
        | LineRole::Tool
        | LineRole::Contents
        | LineRole::ContentsInShade
        | LineRole::Dot => return plain,
        _ => "pic-now",
    };
    let dash = match plain.dash {
        Some((on, off)) if !plain.round => Some((on * 1.6, off * 1.5)),
        other => other,
    };
    let width = match role {
        LineRole::Dimension | LineRole::Ruler => 0.6,
        LineRole::Glue | LineRole::GlueBehind | LineRole::Waste | LineRole::Ribbon => 0.7,
        _ => 1.1,
    };
    Style {
        class,
        stroke: Some(NOW),
        width,
        dash,
        ..plain
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance as WCAG 2.2 defines it.
    fn luminance(colour: &str) -> f64 {
        let channel = |at: usize| {
            let value = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                ((value + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    }

    fn contrast(one: &str, other: &str) -> f64 {
        let (one, other) = (luminance(one), luminance(other));
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }

    /// WCAG 2.2, 1.4.11: 3 : 1 for graphics that have to be understood; on white 949494 has 3.03
    /// and 959595 2.995.
    #[test]
    fn every_line_stands_out_from_the_paper_it_is_drawn_on() {
        assert!((contrast("#ffffff", "#949494") - 3.03).abs() < 0.005);
        assert!((contrast("#ffffff", "#959595") - 2.995).abs() < 0.0005);
        let tint = |role| match style(role, false).fill {
            Fill::Flat(colour) => colour,
            other => panic!("{role:?} {other:?}"),
        };
        let folded = [
            LineRole::Outside,
            LineRole::OutsideInShade,
            LineRole::Inside,
            LineRole::InsideInShade,
            LineRole::Moving,
            LineRole::MovingFront,
            LineRole::Contents,
            LineRole::ContentsInShade,
        ];
        let flat = [LineRole::Front, LineRole::Back, LineRole::Tool];
        let grounds = folded.map(|role| (role, [INK, NOW].as_slice()));
        let grounds = grounds
            .into_iter()
            .chain(flat.map(|role| (role, [INK, NOW, QUIET].as_slice())));
        for (role, lines) in grounds {
            for line in lines {
                let is = contrast(line, tint(role));
                assert!(is >= 3.0, "{line} on {role:?}: {is:.2}");
            }
        }
        for line in [INK, NOW, QUIET] {
            assert!(contrast(line, PAPER) >= 4.5, "{line}: words stand in it");
        }
    }
}
