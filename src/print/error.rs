//! Why templates cannot be printed, and what would do.

use thiserror::Error;

use super::paper::PrintPaper;

/// More pages than anyone tapes together.
pub(super) const MOST_PAGES: usize = 400;

/// The largest side of a page that every reader shows: 14 400 units (ISO 32000-1, Annex C), mm.
pub(super) const MOST_SIDE_MM: f64 = 5080.0;

/// Why templates cannot be printed so.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PrintError {
    /// Too many pages.
    #[error(
        "The templates take {pages} pages of {paper}, and {MOST_PAGES} are the most. Choose the \
         sheet's own size, or print fewer pieces at a time."
    )]
    TooManyPages {
        /// Pages needed.
        pages: usize,
        /// What of.
        paper: PrintPaper,
    },
    /// More sheets of labels than anyone prints.
    #[error(
        "The labels take {sheets} sheets, and {MOST_PAGES} are the most. Print packs, tables and \
         tools one kind at a time, or put more labels on a sheet."
    )]
    TooManySheets {
        /// Sheets needed.
        sheets: usize,
    },
    /// A page of the sheet's size would be too large.
    #[error(
        "{title} takes a page of {width_mm:.0} by {height_mm:.0} mm, and no page is larger than \
         5080 mm. Choose A4 or Letter."
    )]
    TooLarge {
        /// Which template.
        title: String,
        /// Width of the page.
        width_mm: f64,
        /// Height of the page.
        height_mm: f64,
    },
    /// The file could not be written.
    #[error("The PDF could not be written: {0}. Choose another paper.")]
    Writing(String),
}
