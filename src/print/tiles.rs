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
//!
//! What n windows show beyond the drawing is slack: it lies at both ends, or more at one, as
//! leaves the fewest tiles, and then the fewest creases where tiles meet.

use tablefold_geometry::Point;

use super::area::Area;
use super::drawing::Drawing;

/// What neighbours share, mm.
pub(super) const OVERLAP_MM: f64 = 10.0;

/// A width that is this little too large still fits, mm.
const SLACK_MM: f64 = 1e-6;

/// A crease this near to a seam all along it is hard to tape and to fold, mm.
const NEAR_SEAM_MM: f64 = 5.0;

/// Shares of the slack by which a tiling is moved from the middle, which comes first.
const SHARES: [f64; 5] = [0.0, 0.25, -0.25, 0.5, -0.5];

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

    /// How many tiles there are with those that show no paper.
    pub(super) fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// The tiling with the fewest tiles, then the fewest creases along a seam; in the middle if
    /// that does as well.
    pub(super) fn best(drawing: &Drawing, window: (f64, f64)) -> (Self, Vec<Place>) {
        let middle = Self::new(drawing.size(), window);
        let (width, height) = drawing.size();
        let at = |share: (f64, f64)| Self {
            start: Point::new(
                middle.start.x + slack(width, middle.columns, window.0) * share.0,
                middle.start.y + slack(height, middle.rows, window.1) * share.1,
            ),
            ..middle.clone()
        };
        let shares = SHARES.iter().flat_map(|&x| SHARES.map(|y| (x, y)));
        // Large drawings have so many tiles that a few fewer are not worth the while.
        let tried = if middle.count() > 64 {
            1
        } else {
            SHARES.len() * SHARES.len()
        };
        let tilings = shares.take(tried).map(|share| {
            let tiling = at(share);
            let tiles = tiling.tiles(drawing);
            let cost = (tiles.len(), tiling.creases_on_seams(drawing));
            (cost, tiling, tiles)
        });
        let best = tilings.min_by_key(|(cost, ..)| *cost);
        best.map_or_else(
            || (middle.clone(), Vec::new()),
            |(_, tiling, tiles)| (tiling, tiles),
        )
    }

    /// Creases that run along a seam, or nearly under it: they are hard to join and to fold.
    fn creases_on_seams(&self, drawing: &Drawing) -> usize {
        let half = OVERLAP_MM / 2.0;
        let upright = (1..self.columns).map(|n| self.shows((n, 0)).left + half);
        let level = (1..self.rows).map(|n| self.shows((0, n)).top + half);
        let [upright, level]: [Vec<f64>; 2] = [upright.collect(), level.collect()];
        let near = |points: &[Point], seams: &[f64], across: fn(&Point) -> f64| {
            let along = |seam: &&f64| {
                points
                    .iter()
                    .all(|p| (across(p) - **seam).abs() < NEAR_SEAM_MM)
            };
            seams.iter().filter(along).count()
        };
        let creases = drawing.creases.iter();
        creases
            .map(|it| near(&it.points, &upright, |p| p.x) + near(&it.points, &level, |p| p.y))
            .sum()
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
        let mut tiles: Vec<Place> = rows
            .filter(|&place| drawing.reaches(&self.shows(place)))
            .collect();
        // One by one, for two neighbours may each show all that the other does.
        for place in tiles.clone() {
            if tiles.len() > 1 && !drawing.reaches(&self.alone(place, &tiles)) {
                tiles.retain(|it| *it != place);
            }
        }
        tiles
    }

    /// What a tile shows and none beside, above or below it does.
    fn alone(&self, place: Place, tiles: &[Place]) -> Area {
        let (column, row) = place;
        let mut area = self.shows(place);
        let is_tile = |column: Option<usize>, row: Option<usize>| {
            column.zip(row).is_some_and(|it| tiles.contains(&it))
        };
        if is_tile(column.checked_sub(1), Some(row)) {
            area.left += OVERLAP_MM;
        }
        if is_tile(column.checked_add(1), Some(row)) {
            area.right -= OVERLAP_MM;
        }
        if is_tile(Some(column), row.checked_sub(1)) {
            area.top += OVERLAP_MM;
        }
        if is_tile(Some(column), row.checked_add(1)) {
            area.bottom -= OVERLAP_MM;
        }
        area
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

/// What so many windows show beyond a length, less what keeps lines at both ends whole; none where
/// one is enough, so that it stays in the middle.
fn slack(length: f64, count: usize, window: f64) -> f64 {
    if count < 2 {
        return 0.0;
    }
    const LINE_MM: f64 = 1.0;
    let shown = count as f64 * (window - OVERLAP_MM) + OVERLAP_MM;
    (shown - length - 2.0 * LINE_MM).max(0.0)
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
    use tablefold_geometry::{CreaseLine, Fold};

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

    /// A card 300 mm wide with a fold in its middle, as wide as one and a half windows.
    #[test]
    fn a_fold_in_the_middle_does_not_come_to_lie_under_a_join() {
        let corners = Area::new(0.0, 0.0, 300.0, 200.0).corners().to_vec();
        let mut card = Drawing::of_shape("card", corners);
        card.creases.push(CreaseLine {
            points: vec![Point::new(150.0, 0.0), Point::new(150.0, 200.0)],
            fold: Fold::Valley,
        });
        let (tiling, tiles) = Tiling::best(&card, (190.0, 240.0));
        assert_eq!(tiles, [(0, 0), (1, 0)]);
        let seam = (tiling.shows((0, 0)).right + tiling.shows((1, 0)).left) / 2.0;
        assert!((seam - 150.0).abs() >= 5.0, "{seam}");
        assert!(tiling.shows((0, 0)).left <= -1.0 && tiling.shows((1, 0)).right >= 301.0);
    }

    /// A strip with a tab that reaches 4 mm into the next row: 6 mm less than rows share.
    #[test]
    fn paper_that_a_neighbour_shows_makes_no_tile_of_its_own() {
        let outline = [
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 330.0),
            (60.0, 330.0),
            (60.0, 96.0),
            (0.0, 96.0),
        ];
        let outline: Vec<Point> = outline.iter().map(|&(x, y)| Point::new(x, y)).collect();
        let drawing = Drawing::of_shape("flap", outline);
        let tiling = Tiling {
            columns: 2,
            rows: 4,
            window: (70.0, 100.0),
            start: Point::new(-15.0, -1.0),
        };
        // A2 begins at 89 and shows 7 mm of the wide part, all of it on A1.
        assert!(drawing.reaches(&tiling.shows((0, 1))));
        assert_eq!(
            tiling.tiles(&drawing),
            [(0, 0), (1, 0), (1, 1), (1, 2), (1, 3)]
        );
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
