//! A pattern in open formats, in millimetres: FOLD 1.2 (JSON) and SVG.

mod cutter_svg;
mod engraved;
mod fold_file;
mod graph;
mod lines;
mod svg;
mod svg_page;

pub use cutter_svg::cutter_svg;
pub use fold_file::{fold_file, fold_value};
pub use lines::{CreaseLine, Fold, PatternLines, pattern_lines};
pub use svg::pattern_svg;
