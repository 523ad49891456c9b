//! What templates are printed on, and which lines go on one page.

use std::fmt;

use serde::Deserialize;

/// Edge to edge, mm.
pub(super) const A4_MM: (f64, f64) = (210.0, 297.0);

/// 8 1/2 by 11 in.
pub(super) const LETTER_MM: (f64, f64) = (215.9, 279.4);

/// The pages of a document.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "lowercase")]
pub enum PrintPaper {
    /// 210 by 297 mm
    #[default]
    A4,
    /// 8 1/2 by 11 in
    Letter,
    /// One page as large as the sheet the piece is cut from, for print shops
    Sheet,
}

impl PrintPaper {
    /// All of them, in the order of the form.
    pub const ALL: [Self; 3] = [Self::A4, Self::Letter, Self::Sheet];

    /// The word in addresses and file names.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
            Self::Sheet => "sheet",
        }
    }

    /// The words in a list.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
            Self::Sheet => "The sheet's own size, for print shops",
        }
    }
}

impl fmt::Display for PrintPaper {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
            Self::Sheet => "the sheet's own size",
        })
    }
}

/// Whether cuts and scores share a page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "lowercase")]
pub enum PrintLines {
    /// All lines on one page
    #[default]
    Together,
    /// First a page with the cuts, then one with the scores
    Apart,
}

impl PrintLines {
    /// Both, in the order of the form.
    pub const ALL: [Self; 2] = [Self::Together, Self::Apart];

    /// The word in addresses.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::Together => "together",
            Self::Apart => "apart",
        }
    }

    /// The words in a list.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Together => "Cuts and scores on one page",
            Self::Apart => "Cuts and scores on pages of their own",
        }
    }
}

/// How templates are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PrintOptions {
    /// The pages.
    pub paper: PrintPaper,
    /// Which lines share a page.
    pub lines: PrintLines,
}
