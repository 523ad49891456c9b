//! What stands round a template on every page: its name, the bars to measure, what the lines
//! mean, and where a tile belongs.

use tablefold_geometry::{Fold, Point};

use super::area::Area;
use super::font::{CAPITALS, LINE, MM_PER_POINT, Weight};
use super::pen::{Anchor, Line, Pen};
use super::tiles::{Place, Tiling, name};

/// Left clear at the edges for printers that cannot reach them, mm (common practice, no source).
const MARGIN_MM: f64 = 8.0;

/// Height of the words on top and of bars and legend below, mm.
const HEAD_MM: f64 = 17.0;
const FOOT_MM: f64 = 17.0;

/// The words that ask for true size.
const TRUE_SIZE: &str = "Print at 100 %, never \"fit to page\". Measure a bar before you cut.";

const TITLE: (Weight, f64) = (Weight::Bold, 12.0);

/// Sizes of words, points: clear print is 12 (RNIB), and less only where that finds no room.
const SIZES: [f64; 5] = [12.0, 11.0, 10.0, 9.0, 8.5];

/// A sample in the legend with the gap to its words, mm.
const SAMPLE_MM: f64 = 11.0;

/// Two bars with their lengths, mm.
pub(super) type Bars = [(f64, &'static str); 2];

pub(super) const LONG_BARS: Bars = [(100.0, "100 mm"), (101.6, "4 in")];

/// For small sheets.
pub(super) const SHORT_BARS: Bars = [(50.0, "50 mm"), (50.8, "2 in")];

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

    const ALL: [Self; 7] = [
        Self::CUT,
        Self::EDGE,
        Self::VALLEY,
        Self::MOUNTAIN,
        Self::GLUE,
        Self::GLUE_BEHIND,
        Self::JOIN,
    ];

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
    let small = |size| (Weight::Regular, size);
    let map_left = words.tile.map_or(right, |(tiling, all, at)| {
        let map = Area::new(right - 22.0, top + 4.5, 22.0, HEAD_MM - 6.0);
        draw_map(pen, map, (tiling, all, at)).min(right - 12.0)
    });
    let number = format!("page {} of {}", words.page.0, words.page.1);
    pen.text(
        Point::new(right, top + 3.6),
        small(12.0),
        Anchor::Right,
        &number,
    );
    let room = right - left - 34.0;
    let title = TITLE.0.fitted(&words.title, TITLE.1, room);
    pen.text(Point::new(left, top + 3.6), TITLE, Anchor::Left, &title);
    let room = map_left - left - 4.0;
    for (n, text) in [words.notes, TRUE_SIZE].into_iter().enumerate() {
        let at = Point::new(left, top + 9.0 + 5.4 * n as f64);
        let fits = |size: &f64| Weight::Regular.width_mm(text, *size) <= room;
        let size = SIZES.into_iter().find(fits).unwrap_or(SIZES[4]);
        let text = Weight::Regular.fitted(text, size, room);
        pen.text(at, small(size), Anchor::Left, &text);
    }
    let foot = page.1 - MARGIN_MM - FOOT_MM + 4.0;
    draw_bars(pen, Point::new(left, foot), LONG_BARS);
    let beside = Point::new(left + 107.0, foot);
    let look = legend_look(&words.legend, right - beside.x);
    draw_legend(pen, beside, look, &words.legend);
}

/// The largest letters with which a legend stands in the foot, so wide, and its columns.
fn legend_look(legend: &[Entry], room: f64) -> (usize, f64) {
    let looks = [1, 2].map(|columns| SIZES.map(|pt| (columns, pt)));
    let mut looks: Vec<(usize, f64)> = looks.concat();
    looks.sort_by(|one, other| other.1.total_cmp(&one.1));
    let fits = |&(columns, pt): &(usize, f64)| {
        let rows = legend.len().div_ceil(columns) as f64;
        entry_mm(legend, pt) * columns as f64 <= room && rows * row_mm(pt) <= FOOT_MM
    };
    looks.into_iter().find(fits).unwrap_or((2, SIZES[4]))
}

/// Two bars, as wide as the longer one, 9 mm high.
pub(super) fn draw_bars(pen: &mut Pen<'_, '_>, at: Point, bars: Bars) {
    const TICK_MM: f64 = 1.8;
    for (n, (length, words)) in bars.into_iter().enumerate() {
        let y = at.y + 2.0 + 7.0 * n as f64;
        let ends = [Point::new(at.x, y), Point::new(at.x + length, y)];
        pen.line(&ends, false, Line::Bar);
        for x in [at.x + 0.25, at.x + length - 0.25] {
            let tick = [Point::new(x, y - TICK_MM), Point::new(x, y + TICK_MM)];
            pen.line(&tick, false, Line::Bar);
        }
        let beside = Point::new(at.x + length / 2.0, y - 0.9);
        pen.text(beside, (Weight::Regular, 12.0), Anchor::Middle, words);
    }
}

/// Width and height of a legend with so many entries in one column, mm.
pub(super) fn legend_mm(entries: usize, pt: f64) -> (f64, f64) {
    (entry_mm(&Entry::ALL, pt), 2.0 + row_mm(pt) * entries as f64)
}

/// From one entry to the one beside it: the widest of some, and a gap.
fn entry_mm(legend: &[Entry], pt: f64) -> f64 {
    let words = legend
        .iter()
        .map(|it| Weight::Regular.width_mm(it.words, pt));
    SAMPLE_MM + words.fold(0.0, f64::max) + 1.5
}

/// From one entry to the one below it.
fn row_mm(pt: f64) -> f64 {
    (pt * LINE * MM_PER_POINT).max(4.6)
}

/// What the lines mean, in so many columns, with letters of so many points.
pub(super) fn draw_legend(
    pen: &mut Pen<'_, '_>,
    at: Point,
    (columns, pt): (usize, f64),
    legend: &[Entry],
) {
    let wide = entry_mm(legend, pt);
    for (n, entry) in legend.iter().enumerate() {
        let left = at.x + wide * (n % columns) as f64;
        let y = at.y + 2.0 + row_mm(pt) * (n / columns) as f64;
        draw_sample(pen, Area::new(left, y - 1.5, 9.6, 3.0), entry.line);
        let low = y + pt * CAPITALS * MM_PER_POINT / 2.0;
        let words = Point::new(left + SAMPLE_MM, low);
        pen.text(words, (Weight::Regular, pt), Anchor::Left, entry.words);
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
