//! What is left over of the sheets, and what it is good for.

use tablefold_geometry::{CutPart, Length, PatternUse, Ruler, cut_pieces, off_cuts};

use super::pull::PaperPull;
use super::sizes::SheetPull;

/// Equal left-over pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOver {
    /// Along the sheet's width.
    pub width: Length,
    /// Along the sheet's height.
    pub height: Length,
    /// How many.
    pub count: u32,
}

/// What is left of one sheet of a pattern, the largest first.
#[must_use]
pub fn left_of_sheet(paper: &PaperPull, sheets: &PatternUse) -> Vec<LeftOver> {
    let sheet = &paper.size_of(sheets).paper;
    let pieces = cut_pieces(sheet.width, sheet.height, &sheets.cuts);
    let mut left: Vec<LeftOver> = Vec::new();
    for piece in off_cuts(&pieces, &sheets.placed) {
        add(&mut left, (piece.width, piece.height), 1);
    }
    left
}

/// What is left of all sheets of one size of a paper, as the trimmer's ruler can tell it: rounded
/// down to its marks, at least `least` wide and high. Turned, if the paper may be turned.
#[must_use]
pub fn left_overs(
    (paper, size): (&PaperPull, &SheetPull),
    ruler: &Ruler,
    least: (Length, Length),
) -> Vec<LeftOver> {
    let mut left = Vec::new();
    let mark = |side: Length| ruler.down(side.mm()).unwrap_or(Length::ZERO);
    let of_size = |sheets: &&PatternUse| paper.size_of(sheets).id == size.id;
    for sheets in paper.plan().sheets.iter().filter(of_size) {
        for piece in left_of_sheet(paper, sheets) {
            let (width, height) = (mark(piece.width), mark(piece.height));
            let fits = width >= least.0 && height >= least.1;
            let turned = size.paper.turnable() && height >= least.0 && width >= least.1;
            let is_paper = width > Length::ZERO && height > Length::ZERO;
            if is_paper && (fits || turned) {
                let count = piece.count.saturating_mul(sheets.count);
                add(&mut left, (width, height), count);
            }
        }
    }
    left
}

fn add(left: &mut Vec<LeftOver>, (width, height): (Length, Length), count: u32) {
    let same = left
        .iter_mut()
        .find(|other| (other.width, other.height) == (width, height));
    match same {
        Some(other) => other.count = other.count.saturating_add(count),
        None => left.push(LeftOver {
            width,
            height,
            count,
        }),
    }
}

/// The largest of the parts that a piece can still give, and how many of it side by side.
#[must_use]
pub fn good_for<'p>(
    piece: &LeftOver,
    parts: impl Iterator<Item = &'p CutPart>,
) -> Option<(&'p CutPart, u64)> {
    let fits = |part: &CutPart| {
        let grid = |w: Length, h: Length| {
            let along = |whole: Length, one: Length| (whole.nm() / one.nm().max(1)).max(0) as u64;
            along(piece.width, w) * along(piece.height, h)
        };
        let turned = if part.turnable {
            grid(part.height, part.width)
        } else {
            0
        };
        grid(part.width, part.height).max(turned)
    };
    let area = |part: &CutPart| part.width.mm() * part.height.mm();
    parts
        .map(|part| (part, fits(part)))
        .filter(|&(_, count)| count > 0)
        .max_by(|a, b| area(a.0).total_cmp(&area(b.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_left_over_is_good_for_the_largest_part_that_fits_in_it() {
        let part = |name: &str, width, height, turnable| CutPart {
            name: name.to_owned(),
            width: Length::from_mm(width),
            height: Length::from_mm(height),
            quantity: 1,
            turnable,
        };
        let parts = [
            part("box", 150, 150, true),
            part("band", 30, 90, true),
            part("tag", 40, 40, false),
        ];
        let piece = |width, height| LeftOver {
            width: Length::from_mm(width),
            height: Length::from_mm(height),
            count: 1,
        };
        let told = |piece: LeftOver| {
            let found = good_for(&piece, parts.iter());
            found.map(|(part, count)| (part.name.clone(), count))
        };
        assert_eq!(told(piece(100, 100)), Some(("band".to_owned(), 3)));
        assert_eq!(told(piece(300, 40)), Some(("band".to_owned(), 3)));
        assert_eq!(told(piece(85, 45)), Some(("tag".to_owned(), 2)));
        assert_eq!(told(piece(300, 20)), None);
    }
}
