//! What stands round a template on every page: its name, the bars to measure, what the lines
//! mean, and where a tile belongs.

use tablefold_geometry::{Fold, Point};

use super::area::Area;
use super::font::Weight;
use super::pen::{Anchor, Line, Pen};
use super::tiles::{Place, Tiling, name};

/// Left clear at the edges for printers that cannot reach them, mm (common practice, no source).
const MARGIN_MM: f64 = 8.0;

/// Height of the words on top and of bars and legend below, mm.
const HEAD_MM: f64 = 17.0;
const FOOT_MM: f64 = 17.0;

/// Width of one entry of the legend, mm.
const ENTRY_MM: f64 = 40.0;

/// The words that ask for true size.
const TRUE_SIZE: &str = "Print at 100 %, never \"fit to page\". Measure a bar before you cut.";

const TITLE: (Weight, f64) = (Weight::Bold, 12.0);
const SMALL: (Weight, f64) = (Weight::Regular, 8.5);

/// An entry of the legend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Entry {
    pub(super) line: Line,
    pub(super) words: &'static str,
}

impl Entry {
    pub(super) const CUT: Self = Self::new(Line::Cut, "cut");
    pub(super) const EDGE: Self = Self::new(Line::Edge, "edge of the paper");
    pub(super) const VALLEY: Self = Self::new(Line::Fold(Fold::Valley), "fold towards you");
    pub(super) const MOUNTAIN: Self = Self::new(Line::Fold(Fold::Mountain), "fold away from you");
    pub(super) const GLUE: Self = Self::new(Line::Hatch, "glue, this side");
    pub(super) const GLUE_BEHIND: Self = Self::new(Line::HatchBehind, "glue, other side");
    pub(super) const JOIN: Self = Self::new(Line::Guide, "join: cross on cross");

    const fn new(line: Line, words: &'static str) -> Self {
        Self { line, words }
    }
}

/// The words of one page.
pub(super) struct Words<'a> {
    pub(super) title: String,
    pub(super) notes: &'a str,
    /// This page and how many there are.
    pub(super) page: (usize, usize),
    pub(super) legend: Vec<Entry>,
    /// All tiles, and which this is; none where the template is on one page.
    pub(super) tile: Option<(&'a Tiling, &'a [Place], Place)>,
}

/// What is left of a page for the template.
pub(super) fn window(page: (f64, f64)) -> Area {
    Area {
        left: MARGIN_MM,
        top: MARGIN_MM + HEAD_MM,
        right: page.0 - MARGIN_MM,
        bottom: page.1 - MARGIN_MM - FOOT_MM,
    }
}

/// Draws everything round the window.
pub(super) fn draw(pen: &mut Pen<'_, '_>, page: (f64, f64), words: &Words<'_>) {
    let (left, right) = (MARGIN_MM, page.0 - MARGIN_MM);
    let top = MARGIN_MM;
    let map_left = words.tile.map_or(right, |(tiling, all, at)| {
        let map = Area::new(right - 22.0, top + 4.5, 22.0, HEAD_MM - 6.0);
        draw_map(pen, map, (tiling, all, at)).min(right - 12.0)
    });
    let number = format!("page {} of {}", words.page.0, words.page.1);
    pen.text(Point::new(right, top + 3.2), SMALL, Anchor::Right, &number);
    let room = right - left - 30.0;
    let title = TITLE.0.fitted(&words.title, TITLE.1, room);
    pen.text(Point::new(left, top + 3.6), TITLE, Anchor::Left, &title);
    let room = map_left - left - 4.0;
    for (n, text) in [words.notes, TRUE_SIZE].into_iter().enumerate() {
        let at = Point::new(left, top + 8.6 + 4.4 * n as f64);
        let text = SMALL.0.fitted(text, SMALL.1, room);
        pen.text(at, SMALL, Anchor::Left, &text);
    }
    let foot = page.1 - MARGIN_MM - FOOT_MM + 4.0;
    draw_bars(pen, Point::new(left, foot));
    draw_legend(pen, Point::new(left + 116.0, foot), 2, &words.legend);
}

/// Two bars, 101.6 mm wide with their words to the right, 9 mm high.
pub(super) fn draw_bars(pen: &mut Pen<'_, '_>, at: Point) {
    const TICK_MM: f64 = 1.8;
    for (n, (length, words)) in [(100.0, "100 mm"), (101.6, "4 in")].into_iter().enumerate() {
        let y = at.y + 2.0 + 7.0 * n as f64;
        let ends = [Point::new(at.x, y), Point::new(at.x + length, y)];
        pen.line(&ends, false, Line::Bar);
        for x in [at.x + 0.25, at.x + length - 0.25] {
            let tick = [Point::new(x, y - TICK_MM), Point::new(x, y + TICK_MM)];
            pen.line(&tick, false, Line::Bar);
        }
        let beside = Point::new(at.x + length / 2.0, y - 0.9);
        pen.text(beside, SMALL, Anchor::Middle, words);
    }
}

/// What the lines mean, in so many columns.
pub(super) fn draw_legend(pen: &mut Pen<'_, '_>, at: Point, columns: usize, legend: &[Entry]) {
    for (n, entry) in legend.iter().enumerate() {
        let left = at.x + ENTRY_MM * (n % columns) as f64;
        let y = at.y + 2.0 + 4.6 * (n / columns) as f64;
        draw_sample(pen, Area::new(left, y - 1.5, 9.6, 3.0), entry.line);
        let words = Point::new(left + 11.0, y + 1.0);
        pen.text(words, SMALL, Anchor::Left, entry.words);
    }
}

fn draw_sample(pen: &mut Pen<'_, '_>, area: Area, line: Line) {
    let middle = area.middle();
    match line {
        Line::Hatch | Line::HatchBehind => {
            pen.hatch(&area.corners(), line);
            pen.line(&area.corners(), true, Line::Guide);
        }
        _ => {
            let ends = [
                Point::new(area.left, middle.y),
                Point::new(area.right, middle.y),
            ];
            pen.line(&ends, false, line);
        }
    }
    if line == Line::Guide {
        draw_cross(pen, middle, 1.4);
    }
}

/// A register mark: the same on both sheets that share it.
pub(super) fn draw_cross(pen: &mut Pen<'_, '_>, at: Point, arm: f64) {
    let across = [Point::new(at.x - arm, at.y), Point::new(at.x + arm, at.y)];
    let down = [Point::new(at.x, at.y - arm), Point::new(at.x, at.y + arm)];
    pen.line(&across, false, Line::Cross);
    pen.line(&down, false, Line::Cross);
}

/// All tiles, this one dark, its name beside them; gives the left edge of it all.
fn draw_map(
    pen: &mut Pen<'_, '_>,
    area: Area,
    (tiling, all, at): (&Tiling, &[Place], Place),
) -> f64 {
    let columns = tiling.columns as f64;
    let rows = tiling.rows as f64;
    let shape = tiling.shows((0, 0));
    let height =
        (area.height() / rows).min(area.width() / columns * shape.height() / shape.width());
    let width = height * shape.width() / shape.height();
    let left = area.right - width * columns;
    for &(column, row) in all {
        let cell = Area::new(
            left + width * column as f64,
            area.top + height * row as f64,
            width,
            height,
        );
        if (column, row) == at {
            pen.fill(&cell.corners(), 60);
        }
        pen.line(&cell.corners(), true, Line::Guide);
    }
    let title = name(at);
    let beside = Point::new(left - 2.0, area.top + 7.0);
    pen.text(beside, (Weight::Bold, 16.0), Anchor::Right, &title);
    left - 4.0 - Weight::Bold.width_mm(&title, 16.0)
}
