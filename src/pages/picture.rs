//! Pictures in templates: the one value that is not escaped.

use std::fmt;

use askama::filters::HtmlSafe;
use tablefold_geometry::{LegendEntry, Scene, Svg};

/// A picture is wide from this many times its height.
const WIDE: f64 = 1.3;

/// A picture that the SVG writer made, which escapes what it is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    svg: Svg,
    is_wide: bool,
}

impl HtmlSafe for Picture {}

impl fmt::Display for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_svg(f, &self.svg)
    }
}

impl Picture {
    /// Draws a scene; `prefix` is its own for each picture of a page.
    #[must_use]
    pub fn of(scene: &Scene, prefix: &str) -> Self {
        Self {
            svg: Svg::write(scene, prefix),
            is_wide: scene.view.width() > WIDE * scene.view.height(),
        }
    }

    /// Whether a legend has room below it rather than beside it.
    #[must_use]
    pub fn is_wide(&self) -> bool {
        self.is_wide
    }
}

/// A sample of a line.
#[derive(Clone, Debug)]
pub struct Sample(Svg);

impl HtmlSafe for Sample {}

impl fmt::Display for Sample {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_svg(f, &self.0)
    }
}

/// A page needs no namespace, and a phone page holds many pictures.
fn write_svg(f: &mut fmt::Formatter<'_>, svg: &Svg) -> fmt::Result {
    let text = svg.to_string();
    f.write_str(&text.replacen(" xmlns=\"http://www.w3.org/2000/svg\"", "", 1))
}

/// A line of a legend.
#[derive(Clone, Debug)]
pub struct LegendLine {
    /// A sample of the line.
    pub sample: Sample,
    /// What it means.
    pub words: &'static str,
}

impl LegendLine {
    /// The name of its sample on a page: the first letter of each word.
    #[must_use]
    pub fn id(&self) -> String {
        let firsts = self.words.split(' ').filter_map(|word| word.chars().next());
        firsts.collect()
    }
}

impl From<LegendEntry> for LegendLine {
    fn from(entry: LegendEntry) -> Self {
        Self {
            sample: Sample(entry.svg),
            words: entry.words,
        }
    }
}
