//! What becomes of a sheet when it is cut as a list says. The blade takes nothing away.
//!
//! ```text
//!   piece 0 is the sheet     cut 0: setting s along the width, off piece 0
//!   +---------+------+       the part next to the fence comes off as piece 1,
//!   |    1    |  0   |       what remains is still piece 0
//!   +---------+------+
//!        s
//! ```

use super::order::{CutDirection, FenceCut};
use super::placed::Placed;
use crate::Length;

/// A rectangle of paper and where it was in the sheet; x right, y down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CutPiece {
    /// Left edge.
    pub x: Length,
    /// Top edge.
    pub y: Length,
    /// Along the sheet's width.
    pub width: Length,
    /// Along the sheet's height.
    pub height: Length,
}

impl CutPiece {
    /// A whole sheet.
    #[must_use]
    pub fn sheet(width: Length, height: Length) -> Self {
        Self {
            x: Length::ZERO,
            y: Length::ZERO,
            width,
            height,
        }
    }

    /// Cuts at a setting: what remains, and what comes off.
    #[must_use]
    pub fn cut(self, direction: CutDirection, setting: Length) -> (Self, Self) {
        let (mut rest, mut off) = (self, self);
        match direction {
            CutDirection::Width => {
                off.width = setting;
                rest.x += setting;
                rest.width -= setting;
            }
            CutDirection::Height => {
                off.height = setting;
                rest.y += setting;
                rest.height -= setting;
            }
        }
        (rest, off)
    }

    /// Whether a part lies exactly here.
    #[must_use]
    pub fn is(&self, placed: &Placed) -> bool {
        (self.x, self.y, self.width, self.height)
            == (placed.x, placed.y, placed.width, placed.height)
    }
}

/// Every piece of a sheet after all cuts, by number. A cut of a piece that is not there yet is
/// left out, as [`verify`](super::verify()) would refuse it.
#[must_use]
pub fn cut_pieces(width: Length, height: Length, cuts: &[FenceCut]) -> Vec<CutPiece> {
    let mut pieces = vec![CutPiece::sheet(width, height)];
    for cut in cuts {
        let Some(&piece) = pieces.get(cut.piece) else {
            continue;
        };
        let (rest, off) = piece.cut(cut.direction, cut.setting);
        pieces[cut.piece] = rest;
        pieces.push(off);
    }
    pieces
}

/// The pieces that are no part: what is left over of a sheet, the largest first.
#[must_use]
pub fn off_cuts(pieces: &[CutPiece], placed: &[Placed]) -> Vec<CutPiece> {
    let area = |piece: &CutPiece| piece.width.mm() * piece.height.mm();
    let mut left: Vec<CutPiece> = pieces
        .iter()
        .filter(|piece| piece.width > Length::ZERO && piece.height > Length::ZERO)
        .filter(|piece| !placed.iter().any(|placed| piece.is(placed)))
        .copied()
        .collect();
    left.sort_by(|a, b| {
        area(b)
            .total_cmp(&area(a))
            .then((a.y, a.x).cmp(&(b.y, b.x)))
    });
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{CutJob, CutPart, CutStock, Effort, plan_cuts};
    use proptest::prelude::*;
    use std::ops::ControlFlow;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        #[test]
        fn parts_and_off_cuts_are_the_whole_sheet(
            sizes in prop::collection::vec((20i64..120, 20i64..120, 1u32..9), 1..5),
        ) {
            let parts = sizes.iter().enumerate().map(|(index, &(width, height, quantity))| CutPart {
                name: index.to_string(),
                width: Length::from_mm(width),
                height: Length::from_mm(height),
                quantity,
                turnable: index % 2 == 0,
            });
            let (width, height) = (Length::from_mm(150), Length::from_mm(130));
            let sheet = CutStock { name: "sheet".to_owned(), width, height, cost: 1, available: None };
            let job = CutJob::new(vec![sheet], parts.collect(), Length::ZERO, Some(3));
            let job = job.expect("every part fits");
            let effort = Effort { steps: 4_000_000 };
            let plans = plan_cuts(&job, &effort, &mut |_| ControlFlow::Continue(()));
            for sheets in plans.expect("as many sheets as wanted").least_paper.sheets {
                let pieces = cut_pieces(width, height, &sheets.cuts);
                let left = off_cuts(&pieces, &sheets.placed);
                let area = |w: Length, h: Length| w.nm() as i128 * h.nm() as i128;
                let used: i128 = sheets.placed.iter().map(|p| area(p.width, p.height)).sum();
                let rest: i128 = left.iter().map(|p| area(p.width, p.height)).sum();
                prop_assert_eq!(used + rest, area(width, height));
            }
        }
    }

    #[test]
    fn what_comes_off_lies_next_to_the_fence() {
        let sheet = CutPiece::sheet(Length::from_mm(300), Length::from_mm(200));
        let (rest, off) = sheet.cut(CutDirection::Width, Length::from_mm(120));
        assert_eq!((off.x, off.width), (Length::ZERO, Length::from_mm(120)));
        assert_eq!(
            (rest.x, rest.width),
            (Length::from_mm(120), Length::from_mm(180))
        );
        let (rest, off) = rest.cut(CutDirection::Height, Length::from_mm(50));
        assert_eq!((off.y, off.height), (Length::ZERO, Length::from_mm(50)));
        assert_eq!(
            (rest.y, rest.height),
            (Length::from_mm(50), Length::from_mm(150))
        );
    }
}
