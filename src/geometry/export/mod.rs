//! A pattern in open formats, in millimetres: FOLD 1.2 (JSON) and SVG.

mod fold_file;
mod graph;
mod svg;

pub use fold_file::{fold_file, fold_value};
pub use svg::pattern_svg;
