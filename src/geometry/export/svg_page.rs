//! What the SVG files of a pattern share: the page in millimetres, paths on it, a picture's y
//! down, and groups of paths.

use std::fmt::Write;

use kurbo::{Point, Rect};

use super::lines::PatternLines;
use crate::picture::{escape, rounded};
use crate::polygon::bounds;

/// The page of a pattern.
pub(super) struct SvgPage {
    frame: Rect,
}

impl SvgPage {
    /// As large as the pattern, with a margin all round, mm.
    pub(super) fn round(lines: &PatternLines, margin_mm: f64) -> Self {
        let frame = bounds(&lines.outlines.concat()).unwrap_or(Rect::ZERO);
        Self {
            frame: frame.inset(margin_mm),
        }
    }

    /// The document up to its first group, with the side that is seen: a machine cuts a pattern
    /// that lies the other way up into its mirror image, and creases lie on the wrong side.
    pub(super) fn head(&self, name: &str) -> String {
        let (width, height) = (number(self.frame.width()), number(self.frame.height()));
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\">\n<title>{}, inside up</title>\n\
             <desc>You see the side of the paper that ends up inside.</desc>\n",
            escape(name),
        )
    }

    /// A line from end to end.
    pub(super) fn open(&self, points: &[Point]) -> String {
        let at = |p: &Point| {
            let (x, y) = (p.x - self.frame.x0, self.frame.y1 - p.y);
            format!("{} {}", number(x), number(y))
        };
        let points: Vec<String> = points.iter().map(at).collect();
        format!("M{}", points.join(" L"))
    }

    /// What is cut: slits, then outlines, which come last because they cut the paper loose.
    pub(super) fn cuts(&self, lines: &PatternLines) -> Vec<String> {
        let slits = lines.slits.iter().map(|slit| self.open(slit));
        let outlines = lines.outlines.iter();
        let outlines = outlines.map(|ring| format!("{} Z", self.open(ring)));
        slits.chain(outlines).collect()
    }

    /// What is scored.
    pub(super) fn scores(&self, lines: &PatternLines) -> Vec<String> {
        let creases = lines.creases.iter();
        creases.map(|crease| self.open(&crease.points)).collect()
    }
}

/// A group of lines with a look; nothing where there are none.
pub(super) fn group(svg: &mut String, id: &str, look: &str, paths: &[String]) {
    if paths.is_empty() {
        return;
    }
    // Writing to a String cannot fail.
    let _ = writeln!(svg, "<g id=\"{id}\" fill=\"none\" {look}>");
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

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        assert_eq!(number(-0.00001), "0");
        assert_eq!(number(12.5), "12.5");
        assert_eq!(number(100.0), "100");
        assert_eq!(number(-7.12345), "-7.1235");
    }
}
