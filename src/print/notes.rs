//! The words and bars of a page that is as large as the sheet: they stand where the template
//! leaves room, beside it if they can, else inside a panel.

use tablefold_geometry::Point;

use super::area::Area;
use super::font::Weight;
use super::frame::{Words, draw_bars, draw_legend};
use super::pen::{Anchor, Pen};
use super::quad::{Quad, Segment, inside};

/// Width and height of the block, mm.
pub(super) const BLOCK_MM: (f64, f64) = (122.0, 37.0);

/// Between places tried, mm.
const STEP_MM: f64 = 4.0;

/// Kept clear round the block, mm.
const ROOM_MM: f64 = 2.0;

/// Where the block stands: its middle and its turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    pub(super) middle: Point,
    pub(super) angle_deg: f64,
}

impl Spot {
    /// What the block takes up there.
    pub(super) fn takes(&self) -> Quad {
        Quad::round(self.middle, BLOCK_MM, self.angle_deg)
    }
}

/// A place clear of all lines; on waste if there is one, else in a panel. The middle of the page
/// if there is none at all.
pub(super) fn find(page: (f64, f64), lines: &[Segment], panels: &[Vec<Point>]) -> Spot {
    let mut in_a_panel = None;
    for angle_deg in [0.0, 90.0] {
        let (width, height) = match angle_deg {
            0.0 => BLOCK_MM,
            _ => (BLOCK_MM.1, BLOCK_MM.0),
        };
        let room = Area::new(0.0, 0.0, page.0, page.1).inset(5.0);
        let steps = |length: f64, takes: f64| ((length - takes) / STEP_MM).floor().max(-1.0) as i64;
        for down in 0..=steps(room.height(), height) {
            for over in 0..=steps(room.width(), width) {
                let middle = Point::new(
                    room.left + width / 2.0 + STEP_MM * over as f64,
                    room.top + height / 2.0 + STEP_MM * down as f64,
                );
                let spot = Spot { middle, angle_deg };
                let round = (BLOCK_MM.0 + 2.0 * ROOM_MM, BLOCK_MM.1 + 2.0 * ROOM_MM);
                let takes = Quad::round(middle, round, angle_deg);
                if lines.iter().any(|&line| takes.meets(line)) {
                    continue;
                }
                if !panels.iter().any(|panel| inside(middle, panel)) {
                    return spot;
                }
                in_a_panel.get_or_insert(spot);
            }
        }
    }
    in_a_panel.unwrap_or(Spot {
        middle: Point::new(page.0 / 2.0, page.1 / 2.0),
        angle_deg: 0.0,
    })
}

/// Draws the block.
pub(super) fn draw(pen: &mut Pen<'_, '_>, spot: Spot, words: &Words<'_>) {
    let (left, top) = (-BLOCK_MM.0 / 2.0, -BLOCK_MM.1 / 2.0);
    pen.within(spot.middle, spot.angle_deg, |pen| {
        let number = format!("page {} of {}", words.page.0, words.page.1);
        let lines = [
            (&*words.title, (Weight::Bold, 11.0), 96.0),
            (words.notes, (Weight::Regular, 8.0), BLOCK_MM.0),
            (
                "Print at 100 %. Measure a bar before you cut.",
                (Weight::Regular, 8.0),
                BLOCK_MM.0,
            ),
        ];
        for (n, (text, style, room)) in lines.into_iter().enumerate() {
            let at = Point::new(left, top + 4.0 + 4.4 * n as f64);
            let text = style.0.fitted(text, style.1, room);
            pen.text(at, style, Anchor::Left, &text);
        }
        let at = Point::new(left + BLOCK_MM.0, top + 4.0);
        pen.text(at, (Weight::Regular, 8.0), Anchor::Right, &number);
        draw_bars(pen, Point::new(left, top + 16.0));
        draw_legend(pen, Point::new(left, top + 27.0), 3, &words.legend);
    });
}
