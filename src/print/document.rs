//! Templates become pages.

use krilla::Document;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use tablefold_geometry::{Fold, Point};
use thiserror::Error;

use super::area::Area;
use super::drawing::Drawing;
use super::frame::{self, Entry, Words};
use super::labels::labels;
use super::notes::{self, BLOCK_MM};
use super::paper::{A4_MM, LETTER_MM, PrintLines, PrintOptions, PrintPaper};
use super::pen::{Line, Pen, points};
use super::quad::{Quad, Segment, sides};
use super::template::Template;
use super::tiles::{OVERLAP_MM, Place, Tiling, name};

/// More pages than anyone tapes together.
const MOST_PAGES: usize = 400;

/// The largest side of a page that every reader shows: 14 400 units (ISO 32000-1, Annex C), mm.
const MOST_SIDE_MM: f64 = 5080.0;

/// Why templates cannot be printed so.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PrintError {
    /// Too many pages.
    #[error(
        "The templates take {pages} pages of {paper}, and {MOST_PAGES} are the most. Choose the \
         sheet's own size, or print fewer pieces at a time."
    )]
    TooManyPages {
        /// Pages needed.
        pages: usize,
        /// What of.
        paper: PrintPaper,
    },
    /// A page of the sheet's size would be too large.
    #[error(
        "{title} takes a page of {width_mm:.0} by {height_mm:.0} mm, and no page is larger than \
         5080 mm. Choose A4 or Letter."
    )]
    TooLarge {
        /// Which template.
        title: String,
        /// Width of the page.
        width_mm: f64,
        /// Height of the page.
        height_mm: f64,
    },
    /// The file could not be written.
    #[error("The PDF could not be written: {0}. Choose another paper.")]
    Writing(String),
}

/// Which lines a page has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shows {
    All,
    Cuts,
    Scores,
}

impl Shows {
    fn cuts(self) -> bool {
        self != Self::Scores
    }

    fn scores(self) -> bool {
        self != Self::Cuts
    }
}

/// A template as it lies on its pages.
struct Laid<'t> {
    template: &'t Template,
    drawing: Drawing,
    page: (f64, f64),
    /// The part of the page where the drawing is.
    window: Area,
    tiling: Tiling,
    tiles: Vec<Place>,
}

/// The templates as a PDF at true size.
///
/// # Errors
/// Too many pages, or a page too large to be one.
pub fn templates_pdf(
    title: &str,
    templates: &[Template],
    options: PrintOptions,
) -> Result<Vec<u8>, PrintError> {
    let laid: Vec<Laid<'_>> = templates
        .iter()
        .map(|template| lay(template, options.paper))
        .collect::<Result<_, _>>()?;
    let jobs: Vec<(&Laid<'_>, Place, Shows)> = laid
        .iter()
        .flat_map(|laid| laid.tiles.iter().map(move |&tile| (laid, tile)))
        .flat_map(|(laid, tile)| {
            let shows = shows(&laid.drawing, options.lines).iter();
            shows.map(move |&shows| (laid, tile, shows))
        })
        .collect();
    if jobs.len() > MOST_PAGES {
        return Err(PrintError::TooManyPages {
            pages: jobs.len(),
            paper: options.paper,
        });
    }
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .language("en".to_owned())
            .creator("Tablefold".to_owned()),
    );
    for (n, &(laid, tile, shows)) in jobs.iter().enumerate() {
        let (width, height) = laid.page;
        let settings = PageSettings::from_wh(points(width), points(height));
        let settings = settings.ok_or_else(|| PrintError::Writing("no page size".to_owned()))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        let number = (n + 1, jobs.len());
        laid.draw(&mut Pen::new(&mut surface), tile, shows, number);
        surface.finish();
        page.finish();
    }
    let written = document.finish();
    written.map_err(|error| PrintError::Writing(format!("{error:?}")))
}

/// The pages that each tile takes.
fn shows(drawing: &Drawing, lines: PrintLines) -> &'static [Shows] {
    match lines {
        PrintLines::Apart if !drawing.creases.is_empty() => &[Shows::Cuts, Shows::Scores],
        _ => &[Shows::All],
    }
}

fn lay(template: &Template, paper: PrintPaper) -> Result<Laid<'_>, PrintError> {
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
        tiles: tiling.tiles(&drawing),
        drawing,
        tiling,
    });
    // The first of those with the fewest tiles: upright if that does as well.
    let best = laid.min_by_key(|laid| laid.tiles.len());
    best.ok_or_else(|| PrintError::Writing("no way to lay it".to_owned()))
}

/// On one page as large as the sheet; larger only if the template is larger than its sheet.
fn on_sheet(template: &Template) -> Result<Laid<'_>, PrintError> {
    let sheet = template.sheet_mm;
    let fits = |drawing: &Drawing| {
        let (width, height) = drawing.size();
        width <= sheet.0 + 1e-6 && height <= sheet.1 + 1e-6
    };
    let mut turned = template
        .turns()
        .iter()
        .map(|&angle| template.drawing.turned(angle));
    let (drawing, page) = match turned.find(fits) {
        Some(drawing) => (drawing, sheet),
        None => {
            let (width, height) = template.drawing.size();
            let wide = width.max(BLOCK_MM.0) + 20.0;
            let page = (wide, height + BLOCK_MM.1 + 30.0);
            (template.drawing.turned(0.0), page)
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
        tiles: vec![(0, 0)],
    })
}

impl Laid<'_> {
    fn draw(&self, pen: &mut Pen<'_, '_>, tile: Place, shows: Shows, page: (usize, usize)) {
        let shown = self.tiling.shows(tile);
        let to_page = Point::new(self.window.left - shown.left, self.window.top - shown.top);
        let words = self.words(tile, shows, page);
        let mut taken = Vec::new();
        if self.window.left == 0.0 {
            let spot = self.spot(&shown);
            taken.push(spot.takes());
            let at = Point::new(spot.middle.x + to_page.x, spot.middle.y + to_page.y);
            notes::draw(pen, notes::Spot { middle: at, ..spot }, &words);
        } else {
            frame::draw(pen, self.page, &words);
        }
        let joins = self.joins(tile);
        taken.extend(joins.iter().map(|join| join.takes()));
        pen.within(to_page, 0.0, |pen| {
            pen.clipped(&shown.corners(), |pen| {
                joins.iter().for_each(|join| join.draw(pen));
                self.draw_lines(pen, shows);
                for label in labels(&self.drawing, &self.own(tile), taken) {
                    pen.fill(&label.takes.0, 255);
                    pen.within(label.middle, label.angle_deg, |pen| {
                        pen.words(Point::new(0.0, 0.0), label.size, &label.lines);
                    });
                }
            });
        });
    }

    fn draw_lines(&self, pen: &mut Pen<'_, '_>, shows: Shows) {
        let drawing = &self.drawing;
        if shows.scores() {
            for glue in &drawing.glue {
                let line = match glue.behind {
                    true => Line::HatchBehind,
                    false => Line::Hatch,
                };
                pen.hatch(&glue.outline, line);
            }
            for crease in &drawing.creases {
                pen.line(&crease.points, false, Line::Fold(crease.fold));
            }
        }
        // Scores alone would not say where the paper lies.
        let edge = if shows.cuts() { Line::Cut } else { Line::Edge };
        for cut in &drawing.cuts {
            pen.line(&cut.points, cut.closed, edge);
        }
    }

    /// What a tile shows without what it shares: names there would be cut off.
    fn own(&self, tile: Place) -> Area {
        let shown = self.tiling.shows(tile);
        let mut own = shown;
        for join in self.joins(tile) {
            match (join.upright, join.at < join.middle()) {
                (true, true) => own.left = shown.left + OVERLAP_MM,
                (true, false) => own.right = shown.right - OVERLAP_MM,
                (false, true) => own.top = shown.top + OVERLAP_MM,
                (false, false) => own.bottom = shown.bottom - OVERLAP_MM,
            }
        }
        own
    }

    /// Where the words of a page of the sheet's size stand, on the drawing.
    fn spot(&self, shown: &Area) -> notes::Spot {
        let on_page = |p: &Point| Point::new(p.x - shown.left, p.y - shown.top);
        let glue = self.drawing.glue.iter();
        let glue = glue.flat_map(|area| sides(&area.outline));
        let lines = self.drawing.lines().into_iter().chain(glue);
        let lines: Vec<Segment> = lines.map(|[a, b]| [on_page(&a), on_page(&b)]).collect();
        let panels = self.drawing.panels.iter();
        let panels: Vec<Vec<Point>> = panels
            .map(|(_, outline)| outline.iter().map(on_page).collect())
            .collect();
        let spot = notes::find(self.page, &lines, &panels);
        notes::Spot {
            middle: Point::new(spot.middle.x + shown.left, spot.middle.y + shown.top),
            ..spot
        }
    }

    fn words(&self, tile: Place, shows: Shows, page: (usize, usize)) -> Words<'_> {
        let lines = match shows {
            Shows::All => "",
            Shows::Cuts => " (cuts only)",
            Shows::Scores => " (scores only)",
        };
        Words {
            title: format!("{}{lines}", self.template.title),
            notes: &self.template.notes,
            page,
            legend: self.legend(shows),
            tile: (self.tiles.len() > 1).then_some((&self.tiling, &self.tiles, tile)),
        }
    }

    fn legend(&self, shows: Shows) -> Vec<Entry> {
        let Drawing { creases, glue, .. } = &self.drawing;
        let folds = |fold| shows.scores() && creases.iter().any(|crease| crease.fold == fold);
        let glued = |behind| shows.scores() && glue.iter().any(|area| area.behind == behind);
        let entries = [
            (shows.cuts(), Entry::CUT),
            (!shows.cuts(), Entry::EDGE),
            (self.tiles.len() > 1, Entry::JOIN),
            (folds(Fold::Valley), Entry::VALLEY),
            (folds(Fold::Mountain), Entry::MOUNTAIN),
            (glued(false), Entry::GLUE),
            (glued(true), Entry::GLUE_BEHIND),
        ];
        let shown = entries.into_iter().filter(|(shown, _)| *shown);
        shown.map(|(_, entry)| entry).collect()
    }

    /// The lines along which a tile meets its neighbours.
    fn joins(&self, tile: Place) -> Vec<Join> {
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

/// A line that two tiles share, with two crosses on it.
struct Join {
    /// Its place across.
    at: f64,
    upright: bool,
    /// What the tile shows.
    shown: Area,
    /// The tile on the other side.
    name: String,
    /// How far along its name stands.
    words_at: f64,
}

impl Join {
    fn along(&self, part: f64) -> Point {
        let Area { left, top, .. } = self.shown;
        match self.upright {
            true => Point::new(self.at, top + self.shown.height() * part),
            false => Point::new(left + self.shown.width() * part, self.at),
        }
    }

    /// The middle of the tile, across the line.
    fn middle(&self) -> f64 {
        let middle = self.shown.middle();
        if self.upright { middle.x } else { middle.y }
    }

    /// Moves its name to where no line of the template runs through it, if it can.
    fn keep_clear(&mut self, lines: &[Segment]) {
        let mut places = [0.5, 0.4, 0.6, 0.3, 0.7, 0.1, 0.9].into_iter();
        let clear = |join: &Self| !lines.iter().any(|&line| join.takes().meets(line));
        while !clear(self) {
            let Some(place) = places.next() else {
                self.words_at = 0.5;
                return;
            };
            self.words_at = place;
        }
    }

    /// What its name takes up, on the line.
    fn takes(&self) -> Quad {
        let size = (20.0, 4.4);
        let angle = if self.upright { 90.0 } else { 0.0 };
        Quad::round(self.along(self.words_at), size, angle)
    }

    fn draw(&self, pen: &mut Pen<'_, '_>) {
        pen.line(&[self.along(0.0), self.along(1.0)], false, Line::Guide);
        for part in [0.2, 0.8] {
            frame::draw_cross(pen, self.along(part), 3.0);
        }
        pen.fill(&self.takes().0, 255);
        let angle = if self.upright { 90.0 } else { 0.0 };
        pen.within(self.along(self.words_at), angle, |pen| {
            pen.words(Point::new(0.0, 0.0), 8.0, &[format!("joins {}", self.name)]);
        });
    }
}
