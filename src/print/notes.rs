//! The words and bars of a page that is as large as the sheet: they stand where the template
//! leaves room, beside it if they can, else inside a panel. Where one block is too large for
//! that, words, bars and legend each find a place.

use tablefold_geometry::Point;

use super::area::Area;
use super::font::Weight;
use super::frame::{Words, draw_bars, draw_legend};
use super::pen::{Anchor, Pen};
use super::quad::{Quad, Segment, inside};

/// Width and height of everything in one block, mm.
pub(super) const BLOCK_MM: (f64, f64) = (122.0, 38.5);

/// Of its parts.
const WORDS_MM: (f64, f64) = (64.0, 18.0);
const BARS_MM: (f64, f64) = (102.0, 14.0);

/// Between places tried, mm.
const STEP_MM: f64 = 4.0;

/// Kept clear round a block, mm.
const ROOM_MM: f64 = 2.0;

/// What a block holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Holds {
    Everything,
    Words,
    Bars,
    Legend,
}

/// A block with its place on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Block {
    holds: Holds,
    size: (f64, f64),
    middle: Point,
    angle_deg: f64,
}

/// What there is on a page.
pub(super) struct Sheet<'a> {
    pub(super) page: (f64, f64),
    pub(super) lines: &'a [Segment],
    pub(super) panels: &'a [Vec<Point>],
}

impl Sheet<'_> {
    /// Places the blocks of a page with so many entries in the legend.
    pub(super) fn place(&self, entries: usize) -> Vec<Block> {
        let all = self.find(Holds::Everything, BLOCK_MM, &[]);
        if let Some((block, 0)) = all {
            return vec![block];
        }
        let legend = (41.0, 2.0 + 4.6 * entries as f64);
        let parts = [
            (Holds::Bars, BARS_MM),
            (Holds::Words, WORDS_MM),
            (Holds::Legend, legend),
        ];
        let mut blocks: Vec<Block> = Vec::new();
        for (holds, size) in parts {
            match self.find(holds, size, &blocks) {
                // A page without a bar says nothing of its size, a legend can be done without.
                Some((_, crossed)) if crossed > 0 && holds == Holds::Legend => {}
                Some((block, _)) => blocks.push(block),
                None => {}
            }
        }
        blocks
    }

    /// The place where a block crosses the fewest lines, and how many; on waste before in a panel.
    fn find(&self, holds: Holds, size: (f64, f64), taken: &[Block]) -> Option<(Block, usize)> {
        let mut best: Option<(Block, (usize, bool))> = None;
        for angle_deg in [0.0, 90.0] {
            for middle in self.places(size, angle_deg) {
                let block = Block {
                    holds,
                    size,
                    middle,
                    angle_deg,
                };
                let wide = block.with_room();
                if taken.iter().any(|other| other.takes().overlaps(&wide)) {
                    continue;
                }
                let crossed = self.lines.iter().filter(|&&line| wide.meets(line)).count();
                let on_paper = self.panels.iter().any(|panel| inside(middle, panel));
                if best.is_none_or(|(_, cost)| (crossed, on_paper) < cost) {
                    best = Some((block, (crossed, on_paper)));
                }
                if (crossed, on_paper) == (0, false) {
                    return Some((block, 0));
                }
            }
        }
        best.map(|(block, (crossed, _))| (block, crossed))
    }

    /// Middles to try, row by row.
    fn places(&self, size: (f64, f64), angle_deg: f64) -> impl Iterator<Item = Point> {
        let (width, height) = match angle_deg {
            0.0 => size,
            _ => (size.1, size.0),
        };
        let room = Area::new(0.0, 0.0, self.page.0, self.page.1).inset(ROOM_MM + 1.0);
        // At most as many as a page of 5 m has: a block that does not fit has none.
        let steps = |length: f64, takes: f64| ((length - takes) / STEP_MM).floor() as i64;
        let (across, down) = (steps(room.width(), width), steps(room.height(), height));
        (0..=down).flat_map(move |row| {
            (0..=across).map(move |column| {
                Point::new(
                    room.left + width / 2.0 + STEP_MM * column as f64,
                    room.top + height / 2.0 + STEP_MM * row as f64,
                )
            })
        })
    }
}

impl Block {
    /// What it takes up on the page.
    pub(super) fn takes(&self) -> Quad {
        Quad::round(self.middle, self.size, self.angle_deg)
    }

    /// Whether the bars are in it.
    #[cfg(test)]
    pub(super) fn has_bars(&self) -> bool {
        matches!(self.holds, Holds::Everything | Holds::Bars)
    }

    fn with_room(&self) -> Quad {
        let (width, height) = self.size;
        let size = (width + 2.0 * ROOM_MM, height + 2.0 * ROOM_MM);
        Quad::round(self.middle, size, self.angle_deg)
    }

    pub(super) fn draw(&self, pen: &mut Pen<'_, '_>, words: &Words<'_>) {
        let (left, top) = (-self.size.0 / 2.0, -self.size.1 / 2.0);
        let at = |down: f64| Point::new(left, top + down);
        pen.within(self.middle, self.angle_deg, |pen| match self.holds {
            Holds::Everything => {
                draw_words(pen, at(0.0), self.size.0, words);
                draw_bars(pen, at(17.0));
                draw_legend(pen, at(28.8), 3, &words.legend);
            }
            Holds::Words => draw_words(pen, at(0.0), self.size.0, words),
            Holds::Bars => draw_bars(pen, at(3.0)),
            Holds::Legend => draw_legend(pen, at(0.0), 1, &words.legend),
        });
    }
}

fn draw_words(pen: &mut Pen<'_, '_>, at: Point, width: f64, words: &Words<'_>) {
    const SMALL: (Weight, f64) = (Weight::Regular, 8.0);
    let number = format!("page {} of {}", words.page.0, words.page.1);
    let true_size = "Print at 100 %. Measure a bar before you cut.";
    let lines = [
        (&*words.title, (Weight::Bold, 11.0)),
        (words.notes, SMALL),
        (true_size, SMALL),
    ];
    for (n, (text, (weight, size))) in lines.into_iter().enumerate() {
        let right = if n == 0 {
            SMALL.0.width_mm(&number, SMALL.1) + 3.0
        } else {
            0.0
        };
        let text = weight.fitted(text, size, width - right);
        let at = Point::new(at.x, at.y + 4.0 + 4.4 * n as f64);
        pen.text(at, (weight, size), Anchor::Left, &text);
    }
    let right = Point::new(at.x + width, at.y + 4.0);
    pen.text(right, SMALL, Anchor::Right, &number);
}
