//! Pictures in templates: the one value that is not escaped.

use std::fmt;

use askama::filters::HtmlSafe;
use tablefold_geometry::{LegendEntry, Scene, Svg};

/// A picture that the SVG writer made, which escapes what it is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture(Svg);

impl HtmlSafe for Picture {}

impl fmt::Display for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A page needs no namespace, and a phone page holds many pictures.
        let text = self.0.to_string();
        f.write_str(&text.replacen(" xmlns=\"http://www.w3.org/2000/svg\"", "", 1))
    }
}

impl Picture {
    /// Draws a scene; `prefix` is its own for each picture of a page.
    #[must_use]
    pub fn of(scene: &Scene, prefix: &str) -> Self {
        Self(Svg::write(scene, prefix))
    }
}

/// A line of a legend.
#[derive(Clone, Debug)]
pub struct LegendLine {
    /// A sample of the line.
    pub sample: Picture,
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
            sample: Picture(entry.svg),
            words: entry.words,
        }
    }
}
