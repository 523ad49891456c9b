//! What is to be cut, from what: checked once, so that the planner meets no surprise.

use serde::{Deserialize, Serialize};

use super::error::CutError;
use crate::Length;

/// The most sheet sizes in a job.
pub(super) const MAX_STOCKS: usize = 50;
/// The most part sizes in a job.
pub(super) const MAX_PARTS: usize = 1_000;
/// The most pieces in a job.
pub(super) const MAX_PIECES: u64 = 1_000_000;
/// The most pieces of one part that a sheet may hold.
pub(super) const MAX_ON_SHEET: u64 = 20_000;
/// The highest price of a sheet, in the smallest coin.
pub(super) const MAX_COST: u64 = 1_000_000_000;
/// The widest kerf.
pub(super) const MAX_KERF: Length = Length::from_mm(100);

/// A sheet size that can be taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CutStock {
    /// What it is called.
    pub name: String,
    /// Across; a sheet keeps its orientation.
    pub width: Length,
    /// Down.
    pub height: Length,
    /// Price of one sheet in whole units, such as cents; above 0.
    pub cost: u64,
    /// How many there are; `None` for as many as wanted.
    pub available: Option<u32>,
}

/// Equal parts that are wanted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CutPart {
    /// What it is called.
    pub name: String,
    /// Along the sheet's width.
    pub width: Length,
    /// Along the sheet's height.
    pub height: Length,
    /// How many, at least.
    pub quantity: u32,
    /// May it be turned a quarter?
    pub turnable: bool,
}

/// A checked job: every part fits some sheet, every number is within its limits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutJob {
    stock: Vec<CutStock>,
    parts: Vec<CutPart>,
    kerf: Length,
    max_stages: Option<u8>,
}

impl CutJob {
    /// A job of cutting `parts` from `stock` with a blade that takes `kerf` away.
    ///
    /// `max_stages` counts phases: all cuts of one direction made on what the phase before left,
    /// trims included, the first phase in either direction. `None` is any number.
    ///
    /// # Errors
    /// [`CutError`] names the sheet or part at fault: no sheet or more than 50; no part or more
    /// than 1 000; more than 1 000 000 pieces; a size not above 0 or above 10 m; a price not in
    /// 1..=1 000 000 000; a kerf not in 0..=100 mm; phases other than 1, 2, 3; a part that fits
    /// no sheet, or of which a sheet holds more than 20 000.
    pub fn new(
        stock: Vec<CutStock>,
        parts: Vec<CutPart>,
        kerf: Length,
        max_stages: Option<u8>,
    ) -> Result<Self, CutError> {
        check_counts(&stock, &parts)?;
        if kerf < Length::ZERO || kerf > MAX_KERF {
            return Err(CutError::Kerf {
                value: kerf,
                most: MAX_KERF,
            });
        }
        if let Some(value) = max_stages.filter(|stages| !(1..=3).contains(stages)) {
            return Err(CutError::Stages { value });
        }
        for sheet in &stock {
            check_stock(sheet)?;
        }
        for part in &parts {
            check_part(part, &stock, max_stages)?;
        }
        Ok(Self {
            stock,
            parts,
            kerf,
            max_stages,
        })
    }

    /// The sheet sizes.
    #[must_use]
    pub fn stock(&self) -> &[CutStock] {
        &self.stock
    }

    /// The parts.
    #[must_use]
    pub fn parts(&self) -> &[CutPart] {
        &self.parts
    }

    /// What the blade takes away at each cut.
    #[must_use]
    pub fn kerf(&self) -> Length {
        self.kerf
    }

    /// The most phases, trims counted; `None` for any number.
    #[must_use]
    pub fn max_stages(&self) -> Option<u8> {
        self.max_stages
    }
}

fn check_counts(stock: &[CutStock], parts: &[CutPart]) -> Result<(), CutError> {
    if stock.is_empty() {
        return Err(CutError::NoStock);
    }
    if stock.len() > MAX_STOCKS {
        return Err(CutError::TooManyStocks {
            count: stock.len(),
            most: MAX_STOCKS,
        });
    }
    if parts.len() > MAX_PARTS {
        return Err(CutError::TooManyParts {
            count: parts.len(),
            most: MAX_PARTS,
        });
    }
    let pieces: u64 = parts.iter().map(|part| u64::from(part.quantity)).sum();
    if pieces == 0 {
        return Err(CutError::NoParts);
    }
    if pieces > MAX_PIECES {
        return Err(CutError::TooManyPieces {
            count: pieces,
            most: MAX_PIECES,
        });
    }
    Ok(())
}

fn check_sides(what: &str, width: Length, height: Length) -> Result<(), CutError> {
    for (side, value) in [("width", width), ("height", height)] {
        if value <= Length::ZERO || value > Length::MAX {
            return Err(CutError::Size {
                what: what.to_owned(),
                side,
                value,
            });
        }
    }
    Ok(())
}

fn check_stock(sheet: &CutStock) -> Result<(), CutError> {
    check_sides(&format!("sheet {}", sheet.name), sheet.width, sheet.height)?;
    if sheet.cost == 0 || sheet.cost > MAX_COST {
        return Err(CutError::Cost {
            stock: sheet.name.clone(),
            cost: sheet.cost,
            most: MAX_COST,
        });
    }
    Ok(())
}

/// The ways a part may lie: as given, and turned where that is allowed and differs.
pub(super) fn ways(part: &CutPart) -> impl Iterator<Item = (Length, Length, bool)> {
    let turned = part.turnable && part.width != part.height;
    std::iter::once((part.width, part.height, false)).chain(turned.then_some((
        part.height,
        part.width,
        true,
    )))
}

fn check_part(part: &CutPart, stock: &[CutStock], stages: Option<u8>) -> Result<(), CutError> {
    check_sides(&format!("part {}", part.name), part.width, part.height)?;
    if part.quantity == 0 {
        return Ok(());
    }
    let fits = |sheet: &CutStock| ways(part).any(|(w, h, _)| w <= sheet.width && h <= sheet.height);
    if !stock.iter().any(fits) {
        return Err(CutError::TooLarge {
            part: part.name.clone(),
            width: part.width,
            height: part.height,
            turnable: part.turnable,
        });
    }
    for sheet in stock.iter().filter(|sheet| fits(sheet)) {
        let on_sheet = (sheet.width.nm() as u64 / part.width.nm() as u64)
            .saturating_mul(sheet.height.nm() as u64 / part.height.nm() as u64);
        if on_sheet > MAX_ON_SHEET {
            return Err(CutError::TooSmall {
                part: part.name.clone(),
                width: part.width,
                height: part.height,
                stock: sheet.name.clone(),
                most: MAX_ON_SHEET,
            });
        }
    }
    // One phase makes full strips alone; two make any rectangle, as strip and piece.
    let full = |sheet: &CutStock| {
        ways(part).any(|(w, h, _)| {
            (w == sheet.width && h <= sheet.height) || (h == sheet.height && w <= sheet.width)
        })
    };
    if stages == Some(1) && !stock.iter().any(full) {
        return Err(CutError::NeedsMorePhases {
            part: part.name.clone(),
            phases: "1 phase".to_owned(),
        });
    }
    Ok(())
}
