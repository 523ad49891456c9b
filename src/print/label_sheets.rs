//! Labels on their sheets, as PDF: each lies where the sheet's measures say, to the nanometre of
//! what a PDF can tell.

use tablefold_geometry::Point;

use super::area::Area;
use super::document::write_pdf;
use super::error::{MOST_PAGES, PrintError};
use super::label_layout::{Label, PlacedCode, weight};
use super::pen::{Anchor, Line, Pen};
use super::qr::QUIET_ZONE;
use crate::workshop::LabelSheet;

/// How labels are put on sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LabelOptions {
    /// The sheet.
    pub sheet: LabelSheet,
    /// Labels already gone from the first sheet.
    pub used: usize,
    /// Whether a thin line goes round each label.
    pub outline: bool,
}

impl LabelOptions {
    /// How many sheets so many labels take.
    #[must_use]
    pub fn sheets(&self, labels: usize) -> usize {
        match labels {
            0 => 0,
            some => (self.used + some).div_ceil(self.sheet.count()),
        }
    }

    /// How many sheets so many labels take.
    ///
    /// # Errors
    /// More than 400 sheets.
    pub fn refuse_too_many(&self, labels: usize) -> Result<usize, PrintError> {
        match self.sheets(labels) {
            sheets if sheets > MOST_PAGES => Err(PrintError::TooManySheets { sheets }),
            sheets => Ok(sheets),
        }
    }

    /// Sheet and place on it of a label, all from 0.
    #[must_use]
    pub fn place(&self, index: usize) -> (usize, usize) {
        let at = self.used + index;
        (at / self.sheet.count(), at % self.sheet.count())
    }

    /// Width and height of a label, mm.
    #[must_use]
    pub fn label_mm(&self) -> (f64, f64) {
        let measures = self.sheet.measures();
        (measures.width.mm(), measures.height.mm())
    }
}

/// The labels as a PDF at true size.
///
/// # Errors
/// More than 400 sheets.
pub fn label_sheets_pdf(
    title: &str,
    labels: &[Label],
    options: &LabelOptions,
) -> Result<Vec<u8>, PrintError> {
    let sheets = options.refuse_too_many(labels.len())?;
    let (width, height) = options.sheet.measures().paper;
    let pages = (0..sheets).map(|sheet| {
        let draw = move |pen: &mut Pen<'_, '_>| draw_sheet(pen, sheet, labels, options);
        ((width.mm(), height.mm()), draw)
    });
    write_pdf(title, pages)
}

fn draw_sheet(pen: &mut Pen<'_, '_>, sheet: usize, labels: &[Label], options: &LabelOptions) {
    let (width, height) = options.label_mm();
    for (n, label) in labels.iter().enumerate() {
        let (on, at) = options.place(n);
        if on != sheet {
            continue;
        }
        let (left, top) = options.sheet.corner(at);
        let corner = Point::new(left.mm(), top.mm());
        if options.outline {
            let area = Area::new(corner.x, corner.y, width, height);
            pen.line(&area.corners(), true, Line::Edge);
        }
        pen.within(corner, 0.0, |pen| draw_label(pen, label, (width, height)));
    }
}

fn draw_label(pen: &mut Pen<'_, '_>, label: &Label, size: (f64, f64)) {
    let placed = label.place(size);
    for line in &placed.lines {
        let at = Point::new(line.left_mm, line.baseline_mm);
        let look = (weight(line.bold), line.size_pt);
        pen.text(at, look, Anchor::Left, &line.text);
    }
    if let Some(code) = &placed.code {
        draw_code(pen, code);
    }
}

fn draw_code(pen: &mut Pen<'_, '_>, placed: &PlacedCode) {
    let module = placed.module_mm;
    let quiet = QUIET_ZONE as f64 * module;
    let runs = placed.code.runs().map(|run| {
        let left = placed.left_mm + quiet + run.x as f64 * module;
        let top = placed.top_mm + quiet + run.y as f64 * module;
        Area::new(left, top, run.count as f64 * module, module).corners()
    });
    pen.fill_all(runs, 0);
}
