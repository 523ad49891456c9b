//! The words and bars of a page that is as large as the sheet: they stand where the template
//! leaves room, beside it if they can, else inside a panel. Where one block is too large for
//! that, words, bars and legend each find a place.

use tablefold_geometry::Point;

use super::area::Area;
use super::font::Weight;
use super::frame::{LONG_BARS, SHORT_BARS, Words, draw_bars, draw_legend, legend_mm};
use super::pen::{Anchor, Pen};
use super::quad::{Quad, Segment, inside};

/// The words that ask for true size.
const TRUE_SIZE: &str = "Print at 100 %. Measure a bar before you cut.";

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

/// A block without a place: what it holds, how large it is, mm, and its letters, points.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Kind {
    holds: Holds,
    size: (f64, f64),
    pt: f64,
}

impl Kind {
    const fn new(holds: Holds, size: (f64, f64), pt: f64) -> Self {
        Self { holds, size, pt }
    }
}

/// Clear print is 12 points (RNIB); smaller letters only where those find no room.
const EVERYTHING: [Kind; 2] = [
    Kind::new(Holds::Everything, (126.0, 54.0), 12.0),
    Kind::new(Holds::Everything, (122.0, 38.5), 8.0),
];
const WORDS: [Kind; 2] = [
    Kind::new(Holds::Words, (112.0, 23.0), 12.0),
    Kind::new(Holds::Words, (66.0, 18.6), 8.0),
];
/// Long ones, and those for small sheets.
const BARS: [Kind; 2] = [
    Kind::new(Holds::Bars, (102.0, 14.0), 12.0),
    Kind::new(Holds::Bars, (51.2, 14.0), 12.0),
];

/// Width and height of everything in one block, mm.
pub(super) const BLOCK_MM: (f64, f64) = EVERYTHING[0].size;

/// A block with its place on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Block {
    kind: Kind,
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
    /// Places the blocks of a page with so many entries in the legend, clear of all lines; none
    /// where there is no room for bars and words.
    pub(super) fn place(&self, entries: usize) -> Vec<Block> {
        if let Some(block) = self.first(&EVERYTHING, &[]) {
            return vec![block];
        }
        let mut blocks: Vec<Block> = Vec::new();
        for kinds in [BARS, WORDS] {
            let Some(block) = self.first(&kinds, &blocks) else {
                return Vec::new();
            };
            blocks.push(block);
        }
        // A legend can be done without.
        let legend = [12.0, 8.5].map(|pt| Kind::new(Holds::Legend, legend_mm(entries, pt), pt));
        blocks.extend(self.first(&legend, &blocks));
        blocks
    }

    /// The first kind that has a place, in its place.
    fn first(&self, kinds: &[Kind], taken: &[Block]) -> Option<Block> {
        kinds.iter().find_map(|&kind| self.find(kind, taken))
    }

    /// A place clear of all lines: on waste before in a panel.
    fn find(&self, kind: Kind, taken: &[Block]) -> Option<Block> {
        let mut on_paper = None;
        for angle_deg in [0.0, 90.0] {
            for middle in self.places(kind.size, angle_deg) {
                let block = Block {
                    kind,
                    middle,
                    angle_deg,
                };
                let wide = block.with_room();
                let is_clear = !taken.iter().any(|other| other.takes().overlaps(&wide))
                    && !self.lines.iter().any(|&line| wide.meets(line));
                if !is_clear {
                    continue;
                }
                if !self.panels.iter().any(|panel| inside(middle, panel)) {
                    return Some(block);
                }
                on_paper = on_paper.or(Some(block));
            }
        }
        on_paper
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
        Quad::round(self.middle, self.kind.size, self.angle_deg)
    }

    /// Whether the bars are in it.
    #[cfg(test)]
    pub(super) fn has_bars(&self) -> bool {
        matches!(self.kind.holds, Holds::Everything | Holds::Bars)
    }

    fn with_room(&self) -> Quad {
        let (width, height) = self.kind.size;
        let size = (width + 2.0 * ROOM_MM, height + 2.0 * ROOM_MM);
        Quad::round(self.middle, size, self.angle_deg)
    }

    pub(super) fn draw(&self, pen: &mut Pen<'_, '_>, words: &Words<'_>) {
        let Kind { holds, size, pt } = self.kind;
        let (left, top) = (-size.0 / 2.0, -size.1 / 2.0);
        let at = |down: f64| Point::new(left, top + down);
        let bars = if size.0 > 100.0 {
            LONG_BARS
        } else {
            SHORT_BARS
        };
        pen.within(self.middle, self.angle_deg, |pen| match holds {
            Holds::Everything => {
                let columns = if pt < 12.0 { 3 } else { 2 };
                let below = if pt < 12.0 { 17.0 } else { 23.0 };
                draw_words(pen, at(0.0), self.kind, words);
                draw_bars(pen, at(below), bars);
                draw_legend(pen, at(below + 11.8), (columns, pt), &words.legend);
            }
            Holds::Words => draw_words(pen, at(0.0), self.kind, words),
            Holds::Bars => draw_bars(pen, at(3.0), bars),
            Holds::Legend => draw_legend(pen, at(0.0), (1, pt), &words.legend),
        });
    }
}

/// The title with the number of the page, the notes on as many lines as there are, and how to
/// print.
fn draw_words(pen: &mut Pen<'_, '_>, at: Point, kind: Kind, words: &Words<'_>) {
    let (width, small) = (kind.size.0, (Weight::Regular, kind.pt));
    let large = (Weight::Bold, kind.pt.max(11.0));
    let number = format!("page {} of {}", words.page.0, words.page.1);
    let step = if kind.pt < 12.0 { 4.4 } else { 5.6 };
    let room = width - small.0.width_mm(&number, small.1) - 3.0;
    let title = large.0.fitted(&words.title, large.1, room);
    let most = if kind == EVERYTHING[1] { 1 } else { 2 };
    let mut lines = small.0.wrapped(words.notes, small.1, width, most);
    lines.push(small.0.fitted(TRUE_SIZE, small.1, width));
    let first = Point::new(at.x, at.y + step - 0.4);
    pen.text(first, large, Anchor::Left, &title);
    let right = Point::new(at.x + width, first.y);
    pen.text(right, small, Anchor::Right, &number);
    for (n, line) in lines.iter().enumerate() {
        let at = Point::new(at.x, first.y + step * (n + 1) as f64);
        pen.text(at, small, Anchor::Left, line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_to_print_is_said_whole_in_every_block() {
        for kind in EVERYTHING.iter().chain(&WORDS) {
            let wide = Weight::Regular.width_mm(TRUE_SIZE, kind.pt);
            assert!(wide <= kind.size.0, "{wide} of {kind:?}");
        }
    }
}
