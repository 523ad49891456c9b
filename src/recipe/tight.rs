//! Sheets are never quite as large as they say.

use tablefold_geometry::{Length, Ruler, trim_tolerance};

use super::facts::PieceFacts;
use super::made::MadePiece;

/// A warning where the blanks of a piece fill their sheet so well that a sheet at the small end
/// of what ISO 216 allows for trimming would give fewer.
#[must_use]
pub fn tight_sheet(made: &MadePiece, facts: &PieceFacts, ruler: &Ruler) -> Option<String> {
    // Sheets of several sizes share a sheet in more ways than sides can tell.
    let (side, other) = made.structure.blank();
    if side != other || made.structure.bodies().count() > 1 {
        return None;
    }
    let (name, _) = made.best_sheet.as_ref()?;
    let sheet = facts.sheets.iter().find(|sheet| sheet.name == *name)?;
    let spare = |length: Length| {
        let count = length.nm() / side.nm().max(1);
        (length - side * count, trim_tolerance(length))
    };
    let sides = [spare(sheet.width), spare(sheet.height)];
    let (spare, tolerance) = sides.into_iter().min_by_key(|(spare, _)| *spare)?;
    (spare < tolerance).then(|| {
        format!(
            "The squares leave {} of {name}, and sheets may be {} mm smaller than they say. Measure a sheet before you cut.",
            if spare == Length::ZERO { "nothing".to_owned() } else { ruler.text_mm(spare.mm()) },
            tolerance.mm()
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::project;
    use crate::recipe::make;

    /// ISO 216: a side over 150 and up to 600 mm may be off by 2 mm.
    #[test]
    fn a_sheet_that_may_come_too_small_is_told() {
        let mut project = project();
        let ruler = *project.board.ruler();
        let made = make(&project, &project.pieces[0]).expect("can be made");
        let side = made.structure.blank().0;
        let mut warned = |spare_nm: i64| {
            for sheet in &mut project.pieces[0].sheets {
                (sheet.width, sheet.height) =
                    (Length::inches(12), side * 2 + Length::from_nm(spare_nm));
            }
            tight_sheet(&made, &project.pieces[0], &ruler)
        };
        assert_eq!(warned(2_000_000), None);
        insta::assert_snapshot!(warned(1_999_999).expect("too tight"), @"The squares leave ≈ 1/16 in of Moss card, and sheets may be 2 mm smaller than they say. Measure a sheet before you cut.");
        insta::assert_snapshot!(warned(0).expect("too tight"), @"The squares leave nothing of Moss card, and sheets may be 2 mm smaller than they say. Measure a sheet before you cut.");
    }
}
