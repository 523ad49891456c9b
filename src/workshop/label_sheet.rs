//! A sheet of labels as a person measures it with a ruler: how large it is, where the first label
//! lies, how far the next one is.
//!
//! Origin: left top corner of the sheet, x right, y down. Label 1 is at the left top, label 2
//! right of it, row by row.
//!
//! ```text
//! left  width across width
//! |----|=====|------|=====|
//! ```

use tablefold_geometry::Length;

/// The largest side of a sheet: a page of a PDF is not larger (14 400 units, ISO 32000-1, Annex C).
const LARGEST_LABEL_SHEET: Length = Length::from_mm(5080);

/// The smallest side of a sheet, so that a printer may hold it (common practice, no source).
const SMALLEST_LABEL_SHEET: Length = Length::from_mm(30);

/// Narrower labels have no room for a word of 8 pt.
const NARROWEST_LABEL: Length = Length::from_mm(15);

/// Lower labels have no room for a line of 8 pt.
const LOWEST_LABEL: Length = Length::from_mm(8);

/// Columns, and rows, at most.
pub const MOST_LABELS_ALONG: u32 = 60;

/// The measures of a sheet of labels, as they are typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LabelMeasures {
    /// Width and height of the sheet.
    pub paper: (Length, Length),
    /// Labels side by side.
    pub columns: u32,
    /// Labels one below the other.
    pub rows: u32,
    /// From the left edge of the sheet to the first label.
    pub left: Length,
    /// From the top edge of the sheet to the first label.
    pub top: Length,
    /// Width of a label.
    pub width: Length,
    /// Height of a label.
    pub height: Length,
    /// Between two labels side by side.
    pub across: Length,
    /// Between two labels one below the other.
    pub down: Length,
}

/// A measure of the sheet, to say which one is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LabelMeasure {
    /// Width of the sheet.
    PaperWidth,
    /// Height of the sheet.
    PaperHeight,
    /// Labels side by side.
    Columns,
    /// Labels one below the other.
    Rows,
    /// Margin at the left.
    Left,
    /// Margin at the top.
    Top,
    /// Width of a label.
    Width,
    /// Height of a label.
    Height,
    /// Gap between two side by side.
    Across,
    /// Gap between two one below the other.
    Down,
}

/// Why a sheet cannot be so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LabelSheetProblem {
    /// A measure is below what it can be.
    TooSmall(LabelMeasure, Length),
    /// A measure is above what it can be.
    TooLarge(LabelMeasure, Length),
    /// No labels along this side, or more than [`MOST_LABELS_ALONG`].
    Count(LabelMeasure),
    /// The labels reach past the edge of the sheet.
    PastTheEdge {
        /// Width or height of a label.
        measure: LabelMeasure,
        /// How far the last label reaches.
        reach: Length,
        /// The most that a label can have with these margins, gaps and numbers; `None` where no
        /// label is small enough.
        most: Option<Length>,
    },
}

/// A sheet on which all labels lie side by side within its edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LabelSheet(LabelMeasures);

/// One side of the sheet.
struct Side {
    paper: (LabelMeasure, Length),
    count: (LabelMeasure, u32),
    margin: (LabelMeasure, Length),
    label: (LabelMeasure, Length),
    gap: (LabelMeasure, Length),
    least: Length,
}

impl LabelSheet {
    /// Checks the measures.
    ///
    /// # Errors
    /// A sheet of less than 30 mm or more than 5080 mm, no label or more than 60 along a side, a
    /// label below 15 by 8 mm, a measure below 0, labels past the edge.
    pub fn new(measures: LabelMeasures) -> Result<Self, Vec<LabelSheetProblem>> {
        let problems: Vec<_> = measures.sides().iter().flat_map(Side::problems).collect();
        if problems.is_empty() {
            Ok(Self(measures))
        } else {
            Err(problems)
        }
    }

    /// The measures.
    #[must_use]
    pub const fn measures(&self) -> &LabelMeasures {
        &self.0
    }

    /// How many labels are on a sheet.
    #[must_use]
    pub fn count(&self) -> usize {
        (self.0.columns * self.0.rows) as usize
    }

    /// The left top corner of a label, from 0; those past the last lie below the sheet.
    #[must_use]
    pub fn corner(&self, index: usize) -> (Length, Length) {
        let columns = self.0.columns as usize;
        let (column, row) = ((index % columns) as i64, (index / columns) as i64);
        (
            self.0.left + (self.0.width + self.0.across) * column,
            self.0.top + (self.0.height + self.0.down) * row,
        )
    }
}

impl LabelMeasures {
    fn sides(&self) -> [Side; 2] {
        use LabelMeasure as M;
        [
            Side {
                paper: (M::PaperWidth, self.paper.0),
                count: (M::Columns, self.columns),
                margin: (M::Left, self.left),
                label: (M::Width, self.width),
                gap: (M::Across, self.across),
                least: NARROWEST_LABEL,
            },
            Side {
                paper: (M::PaperHeight, self.paper.1),
                count: (M::Rows, self.rows),
                margin: (M::Top, self.top),
                label: (M::Height, self.height),
                gap: (M::Down, self.down),
                least: LOWEST_LABEL,
            },
        ]
    }
}

impl Side {
    fn problems(&self) -> Vec<LabelSheetProblem> {
        let bounds = [
            (self.paper, SMALLEST_LABEL_SHEET),
            (self.margin, Length::ZERO),
            (self.label, self.least),
            (self.gap, Length::ZERO),
        ];
        let mut problems = Vec::new();
        for ((measure, length), least) in bounds {
            if length < least {
                problems.push(LabelSheetProblem::TooSmall(measure, least));
            } else if length > LARGEST_LABEL_SHEET {
                problems.push(LabelSheetProblem::TooLarge(measure, LARGEST_LABEL_SHEET));
            }
        }
        if !(1..=MOST_LABELS_ALONG).contains(&self.count.1) {
            problems.push(LabelSheetProblem::Count(self.count.0));
        }
        // What is wrong by itself would say a second time that it does not fit.
        if problems.is_empty() {
            problems.extend(self.past_the_edge());
        }
        problems
    }

    fn past_the_edge(&self) -> Option<LabelSheetProblem> {
        let count = i64::from(self.count.1);
        let besides = self.margin.1 + self.gap.1 * (count - 1);
        let reach = besides + self.label.1 * count;
        let most = (self.paper.1 - besides) / count;
        (reach > self.paper.1).then_some(LabelSheetProblem::PastTheEdge {
            measure: self.label.0,
            reach,
            most: (most >= self.least).then_some(most),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(mm: i64) -> Length {
        Length::from_mm(mm)
    }

    fn measures() -> LabelMeasures {
        LabelMeasures {
            paper: (mm(210), mm(297)),
            columns: 2,
            rows: 6,
            left: mm(10),
            top: mm(12),
            width: mm(92),
            height: mm(44),
            across: mm(5),
            down: mm(1),
        }
    }

    #[test]
    fn labels_are_counted_row_by_row() {
        let sheet = LabelSheet::new(measures()).unwrap();
        assert_eq!(sheet.count(), 12);
        // By hand: 10 + 92 + 5, and 12 + 2 x (44 + 1).
        let corners = [0, 1, 2, 5].map(|n| sheet.corner(n));
        let by_hand = [(10, 12), (107, 12), (10, 57), (107, 102)];
        assert_eq!(corners, by_hand.map(|(x, y)| (mm(x), mm(y))));
    }

    #[test]
    fn a_row_that_just_fits_fits_and_a_nanometre_more_does_not() {
        // 10 + 2 x 97.5 + 5 = 210 mm.
        let width = Length::from_nm(97_500_000);
        let fits = LabelMeasures {
            width,
            ..measures()
        };
        assert!(LabelSheet::new(fits).is_ok());
        let over = LabelMeasures {
            width: width + Length::from_nm(1),
            ..fits
        };
        let refused = LabelSheetProblem::PastTheEdge {
            measure: LabelMeasure::Width,
            reach: mm(210) + Length::from_nm(2),
            most: Some(width),
        };
        assert_eq!(LabelSheet::new(over), Err(vec![refused]));
    }

    #[test]
    fn margins_that_leave_no_room_are_not_answered_with_a_tiny_label() {
        let narrow = LabelMeasures {
            left: mm(190),
            ..measures()
        };
        let problems = LabelSheet::new(narrow).unwrap_err();
        assert!(
            matches!(
                problems[..],
                [LabelSheetProblem::PastTheEdge { most: None, .. }]
            ),
            "{problems:?}"
        );
    }

    #[test]
    fn each_measure_has_its_bounds() {
        use LabelMeasure as M;
        use LabelSheetProblem as P;
        let wrong = LabelMeasures {
            paper: (mm(20), mm(6000)),
            columns: 0,
            rows: 61,
            left: mm(-1),
            top: mm(0),
            width: mm(14),
            height: mm(7),
            across: mm(-2),
            down: mm(0),
        };
        let said = LabelSheet::new(wrong).unwrap_err();
        let expected = [
            P::TooSmall(M::PaperWidth, SMALLEST_LABEL_SHEET),
            P::TooSmall(M::Left, Length::ZERO),
            P::TooSmall(M::Width, NARROWEST_LABEL),
            P::TooSmall(M::Across, Length::ZERO),
            P::Count(M::Columns),
            P::TooLarge(M::PaperHeight, LARGEST_LABEL_SHEET),
            P::TooSmall(M::Height, LOWEST_LABEL),
            P::Count(M::Rows),
        ];
        assert_eq!(said, expected);
    }
}
