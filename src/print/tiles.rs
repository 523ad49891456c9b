//! How a drawing lies on pages that are smaller than it: columns A, B … from the left, rows 1,
//! 2 … from the top. Neighbours show the same strip, so that they are laid on each other.
//!
//! ```text
//! +--------+            n windows of width w that share o: n w - (n - 1) o >= width
//! |   A1 +-|------+     so n = ceil((width - o) / (w - o)), and the drawing is in the middle
//! |      | |  B1  |
//! +------|-+      |
//!        +--------+
//! ```

use tablefold_geometry::Point;

use super::area::Area;
use super::drawing::Drawing;

/// What neighbours share, mm.
pub(super) const OVERLAP_MM: f64 = 10.0;

/// A width that is this little too large still fits, mm.
const SLACK_MM: f64 = 1e-6;

/// Columns and rows of windows over a drawing.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tiling {
    pub(super) columns: usize,
    pub(super) rows: usize,
    window: (f64, f64),
    /// Left top corner of A1 on the drawing.
    start: Point,
}

/// A place in the tiling: column and row, from 0.
pub(super) type Place = (usize, usize);

impl Tiling {
    pub(super) fn new(size: (f64, f64), window: (f64, f64)) -> Self {
        let (columns, left) = along(size.0, window.0);
        let (rows, top) = along(size.1, window.1);
        Self {
            columns,
            rows,
            window,
            start: Point::new(left, top),
        }
    }

    /// What a tile shows, on the drawing.
    pub(super) fn shows(&self, (column, row): Place) -> Area {
        let (width, height) = self.window;
        Area::new(
            self.start.x + column as f64 * (width - OVERLAP_MM),
            self.start.y + row as f64 * (height - OVERLAP_MM),
            width,
            height,
        )
    }

    /// The tiles that show some of the paper, row by row.
    pub(super) fn tiles(&self, drawing: &Drawing) -> Vec<Place> {
        let rows = (0..self.rows).flat_map(|row| (0..self.columns).map(move |it| (it, row)));
        rows.filter(|&place| drawing.reaches(&self.shows(place)))
            .collect()
    }
}

/// How many windows it takes along one side, and where the first starts.
fn along(size: f64, window: f64) -> (usize, f64) {
    if size <= window + SLACK_MM {
        return (1, (size - window) / 2.0);
    }
    let step = (window - OVERLAP_MM).max(1.0);
    let count = ((size - OVERLAP_MM - SLACK_MM) / step).ceil().max(1.0);
    let shown = count * step + OVERLAP_MM;
    // A drawing is at most some metres wide, so the count is small.
    (count as usize, (size - shown) / 2.0)
}

/// The name of a tile: "B3"; columns after Z are AA, AB …
pub(super) fn name((column, row): Place) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        letters.push(char::from(b'A' + ((rest - 1) % 26) as u8));
        rest = (rest - 1) / 26;
    }
    let letters: String = letters.iter().rev().collect();
    format!("{letters}{}", row + 1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn columns_are_letters_and_rows_are_numbers() {
        let names = [(0, 0), (1, 2), (25, 0), (26, 9), (52, 0)].map(name);
        assert_eq!(names, ["A1", "B3", "Z1", "AA10", "BA1"]);
    }

    #[test]
    fn what_fits_is_one_tile_in_the_middle() {
        let tiling = Tiling::new((100.0, 240.0), (190.0, 240.0));
        assert_eq!((tiling.columns, tiling.rows), (1, 1));
        assert_eq!(tiling.shows((0, 0)), Area::new(-45.0, 0.0, 190.0, 240.0));
    }

    proptest! {
        /// By hand: all windows together reach from one end to the other, each step leaves just
        /// the overlap, and one window fewer would not do.
        #[test]
        fn tiles_cover_the_drawing_share_the_overlap_and_are_as_few_as_can_be(
            width in 1.0..3000.0f64, height in 1.0..3000.0f64,
            across in 150.0..400.0f64, down in 150.0..400.0f64,
        ) {
            let tiling = Tiling::new((width, height), (across, down));
            let last = (tiling.columns - 1, tiling.rows - 1);
            let (first, end) = (tiling.shows((0, 0)), tiling.shows(last));
            prop_assert!(first.left <= 1e-6 && first.top <= 1e-6);
            prop_assert!(end.right >= width - 1e-5 && end.bottom >= height - 1e-5);
            for column in 1..tiling.columns {
                let (one, next) = (tiling.shows((column - 1, 0)), tiling.shows((column, 0)));
                prop_assert!((one.right - next.left - OVERLAP_MM).abs() < 1e-9);
            }
            if tiling.columns > 1 {
                let fewer = (tiling.columns - 1) as f64 * (across - OVERLAP_MM) + OVERLAP_MM;
                prop_assert!(fewer < width + 1e-5);
            }
            prop_assert!((first.left + end.right - width).abs() < 1e-6, "in the middle");
        }
    }
}
