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

/// Lays a template on pages of that paper, in the turn that takes the fewest.
pub(super) fn lay(template: &Template, paper: PrintPaper) -> Result<Laid<'_>, PrintError> {
    let page = match paper {
        PrintPaper::A4 => A4_MM,
        PrintPaper::Letter => LETTER_MM,
        PrintPaper::Sheet => return on_sheet(template),
    };
    let window = frame::window(page);
    let turned = template.turns().iter().map(|&angle| {
        let drawing = template.drawing.turned(angle);
        let tiling = Tiling::new(drawing.size(), (window.width(), window.height()));
        (drawing, tiling)
    });
    let turned: Vec<(Drawing, Tiling)> = turned.collect();
    let least = turned.iter().map(|(_, it)| it.columns * it.rows).min();
    if let Some(pages) = least.filter(|&pages| pages > 10 * MOST_PAGES) {
        return Err(PrintError::TooManyPages { pages, paper });
    }
    let laid = turned.into_iter().map(|(drawing, tiling)| Laid {
        template,
        page,
        window,
        is_sheet: false,
        tiles: tiling.tiles(&drawing),
        drawing,
        tiling,
    });
    // The first of those with the fewest tiles: upright if that does as well.
    let best = laid.min_by_key(|laid| laid.tiles.len());
    best.ok_or_else(|| PrintError::Writing("no way to lay it".to_owned()))
}

/// On one page as large as the sheet; one that holds the template and its words if the sheet is
/// not known, or smaller.
fn on_sheet(template: &Template) -> Result<Laid<'_>, PrintError> {
    let sheet = template.sheet_mm;
    let fits = |drawing: &Drawing| {
        let (width, height) = drawing.size();
        sheet.is_some_and(|it| width <= it.0 + 1e-6 && height <= it.1 + 1e-6)
    };
    let mut turned = template
        .turns()
        .iter()
        .map(|&angle| template.drawing.turned(angle));
    let (drawing, page) = match turned.find(fits).zip(sheet) {
        Some(found) => found,
        None => {
            let drawing = template.drawing.clone();
            let (width, height) = drawing.size();
            let wide = width.max(BLOCK_MM.0) + 20.0;
            (drawing, (wide, height + 2.0 * (BLOCK_MM.1 + 10.0)))
        }
    };
    if page.0.max(page.1) > MOST_SIDE_MM {
        return Err(PrintError::TooLarge {
            title: template.title.clone(),
            width_mm: page.0,
            height_mm: page.1,
        });
    }
    let window = Area::new(0.0, 0.0, page.0, page.1);
    Ok(Laid {
        template,
        tiling: Tiling::new(drawing.size(), page),
        drawing,
        page,
        window,
        is_sheet: true,
        tiles: vec![(0, 0)],
    })
}

impl Laid<'_> {
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
        let shown = self.tiling.shows((0, 0));
        let on_page = |p: &Point| Point::new(p.x - shown.left, p.y - shown.top);
        let glue = self.drawing.glue.iter();
        let glue = glue.flat_map(|area| sides(&area.outline));
        let lines = self.drawing.lines().into_iter().chain(glue);
        let lines: Vec<Segment> = lines.map(|[a, b]| [on_page(&a), on_page(&b)]).collect();
        let panels = self.drawing.panels.iter();
        let panels: Vec<Vec<Point>> = panels
            .map(|(_, outline)| outline.iter().map(on_page).collect())
            .collect();
        let sheet = Sheet {
            page: self.page,
            lines: &lines,
            panels: &panels,
        };
        sheet.place(entries)
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
