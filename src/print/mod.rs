//! What goes on paper at true size: templates and sheets of labels as PDF, QR codes as modules.
//!
//! A [`Template`] is what is cut and scored from one sheet, in mm. [`templates_pdf`] puts each on
//! a page, or on as many tiles as it takes, never scaled, with bars to measure after printing.
//! The same templates give the same bytes: no clock, no random names.
//!
//! ```text
//! Pattern -> Drawing (y down, turned to save tiles) -> Tiling -> pages: window, frame, labels
//! ```

mod area;
mod document;
mod drawing;
mod error;
mod font;
mod frame;
mod join;
mod label_layout;
mod label_sheets;
mod labels;
mod laid;
mod notes;
mod page;
mod paper;
mod pen;
mod project;
mod qr;
mod quad;
mod template;
mod tiles;

pub use document::templates_pdf;
pub use error::PrintError;
pub use font::{can_write, missing};
pub use label_layout::{Label, LabelLine, PlacedCode, PlacedLabel, PlacedLine};
pub use label_sheets::{LabelOptions, label_sheets_pdf};
pub use paper::{PrintLines, PrintOptions, PrintPaper};
pub use project::piece_templates;
pub use qr::{QUIET_ZONE, QrCode, TooLong};
pub use template::Template;

#[cfg(test)]
mod tests;
