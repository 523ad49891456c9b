//! A template as it lies on its pages: which turn, which tiles.

use tablefold_geometry::Point;

use super::area::Area;
use super::drawing::Drawing;
use super::error::{MOST_PAGES, MOST_SIDE_MM, PrintError};
use super::frame;
use super::join::Join;
use super::notes::{BLOCK_MM, Block, Sheet};
use super::paper::{A4_MM, LETTER_MM, PrintPaper};
use super::quad::{Segment, sides};
use super::template::Template;
use super::tiles::{OVERLAP_MM, Place, Tiling, name};

/// A template as it lies on its pages.
pub(super) struct Laid<'t> {
    pub(super) template: &'t Template,
    pub(super) drawing: Drawing,
    pub(super) page: (f64, f64),
    /// The part of the page where the drawing is: all of it where the page is a sheet.
    pub(super) window: Area,
    /// Whether the page is as large as the sheet, and has no frame.
    pub(super) is_sheet: bool,
    pub(super) tiling: Tiling,
    pub(super) tiles: Vec<Place>,
}

/// Between shapes on one page, mm.
const APART_MM: f64 = 12.0;

/// Lays a template on pages of that paper: its parts beside each other where one page holds them,
/// else each on pages of its own, for nothing joins one to another.
pub(super) fn lay(template: &Template, paper: PrintPaper) -> Result<Vec<Laid<'_>>, PrintError> {
    if template.parts.len() > 1 {
        for in_a_row in [false, true] {
            let together = Drawing::together(&template.parts, APART_MM, in_a_row);
            if let Ok(laid) = lay_part(template, &together, paper)
                && laid.is_on_one_page()
            {
                return Ok(vec![laid]);
            }
        }
    }
    let parts = template.parts.iter();
    parts.map(|part| lay_part(template, part, paper)).collect()
}

/// One drawing, in the turn that takes the fewest pages.
fn lay_part<'t>(
    template: &'t Template,
    drawing: &Drawing,
    paper: PrintPaper,
) -> Result<Laid<'t>, PrintError> {
    let page = match paper {
        PrintPaper::A4 => A4_MM,
        PrintPaper::Letter => LETTER_MM,
        PrintPaper::Sheet => return on_sheet(template, drawing),
    };
    let window = frame::window(page);
    let turned = template.turns().iter().map(|&angle| drawing.turned(angle));
    let turned: Vec<Drawing> = turned.collect();
    let shows = (window.width(), window.height());
    let whole = turned
        .iter()
        .map(|it| Tiling::new(it.size(), shows).count());
    if let Some(pages) = whole.min().filter(|&pages| pages > 10 * MOST_PAGES) {
        return Err(PrintError::TooManyPages { pages, paper });
    }
    let laid = turned.into_iter().map(|drawing| {
        let (tiling, tiles) = Tiling::best(&drawing, shows);
        Laid {
            template,
            page,
            window,
            is_sheet: false,
            tiles,
            drawing,
            tiling,
        }
    });
    // The first of those with the fewest tiles: upright if that does as well.
    let best = laid.min_by_key(|laid| laid.tiles.len());
    best.ok_or_else(|| PrintError::Writing("no way to lay it".to_owned()))
}

/// On one page as large as the sheet; one that holds the drawing and its words if the sheet is
/// not known, or smaller, or so full that bars and words have no place.
fn on_sheet<'t>(template: &'t Template, drawing: &Drawing) -> Result<Laid<'t>, PrintError> {
    let on = |drawing: Drawing, page: (f64, f64)| Laid {
        template,
        tiling: Tiling::new(drawing.size(), page),
        drawing,
        page,
        window: Area::new(0.0, 0.0, page.0, page.1),
        is_sheet: true,
        tiles: vec![(0, 0)],
    };
    let sheet = template.sheet_mm.map(|(width, height)| {
        let turned = template.turns().iter().map(|&angle| drawing.turned(angle));
        let fits = |it: &Drawing| {
            let size = it.size();
            size.0 <= width + 1e-6 && size.1 <= height + 1e-6
        };
        turned
            .filter(fits)
            .map(|it| on(it, (width, height)))
            .find(Laid::has_bars)
    });
    let laid = sheet.flatten().unwrap_or_else(|| {
        let (width, height) = drawing.size();
        let wide = width.max(BLOCK_MM.0) + 20.0;
        on(drawing.clone(), (wide, height + 2.0 * (BLOCK_MM.1 + 10.0)))
    });
    let page = laid.page;
    if page.0.max(page.1) > MOST_SIDE_MM {
        return Err(PrintError::TooLarge {
            title: template.title.clone(),
            width_mm: page.0,
            height_mm: page.1,
        });
    }
    Ok(laid)
}

impl Laid<'_> {
    /// Whether it is one page: of the sheet's size, one that was there before.
    fn is_on_one_page(&self) -> bool {
        let on_known = self
            .template
            .sheet_mm
            .is_none_or(|sheet| sheet == self.page);
        self.tiles.len() == 1 && (!self.is_sheet || on_known)
    }

    /// Whether a page of the sheet's size has room for bars and words.
    fn has_bars(&self) -> bool {
        !self.notes(0).is_empty()
    }

    /// What a tile shows up to its joins: names stand on one side of them.
    pub(super) fn own(&self, tile: Place) -> Area {
        let shown = self.tiling.shows(tile);
        let mut own = shown;
        for join in self.joins(tile) {
            match (join.upright, join.at < join.middle()) {
                (true, true) => own.left = join.at,
                (true, false) => own.right = join.at,
                (false, true) => own.top = join.at,
                (false, false) => own.bottom = join.at,
            }
        }
        own
    }

    /// Words, bars and legend of a page of the sheet's size, `entries` in the legend.
    pub(super) fn notes(&self, entries: usize) -> Vec<Block> {
        let on_page = self.to_page();
        let glue = self.drawing.glue.iter();
        let glue = glue.flat_map(|area| sides(&area.outline));
        let lines = self.drawing.lines().into_iter().chain(glue);
        let lines: Vec<Segment> = lines.map(|[a, b]| [on_page(&a), on_page(&b)]).collect();
        let panels = self.drawing.panels.iter();
        let panels: Vec<Vec<Point>> = panels
            .map(|(_, outline)| outline.iter().map(&on_page).collect())
            .collect();
        let sheet = Sheet {
            page: self.page,
            lines: &lines,
            panels: &panels,
        };
        sheet.place(entries)
    }

    /// From the drawing to a page of the sheet's size.
    pub(super) fn to_page(&self) -> impl Fn(&Point) -> Point {
        let shown = self.tiling.shows((0, 0));
        move |p| Point::new(p.x - shown.left, p.y - shown.top)
    }

    /// The lines along which a tile meets its neighbours.
    pub(super) fn joins(&self, tile: Place) -> Vec<Join> {
        let (column, row) = tile;
        let shown = self.tiling.shows(tile);
        let half = OVERLAP_MM / 2.0;
        let neighbours = [
            (column.checked_sub(1), Some(row), shown.left + half, true),
            (column.checked_add(1), Some(row), shown.right - half, true),
            (Some(column), row.checked_sub(1), shown.top + half, false),
            (Some(column), row.checked_add(1), shown.bottom - half, false),
        ];
        let mut joins = Vec::new();
        for (column, row, at, upright) in neighbours {
            let Some(to) = column.zip(row).filter(|place| self.tiles.contains(place)) else {
                continue;
            };
            joins.push(Join {
                at,
                upright,
                shown,
                name: name(to),
                words_at: 0.5,
            });
        }
        let lines = self.drawing.lines();
        joins.iter_mut().for_each(|join| join.keep_clear(&lines));
        joins
    }
}
