//! Templates become pages, and pages a file.

use krilla::Document;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;

use super::drawing::Drawing;
use super::error::{MOST_PAGES, PrintError};
use super::laid::{Laid, lay};
use super::page::Shows;
use super::paper::{PrintLines, PrintOptions};
use super::pen::{Pen, points};
use super::template::Template;
use super::tiles::Place;

/// The templates as a PDF at true size.
///
/// # Errors
/// Too many pages, or a page too large to be one.
pub fn templates_pdf(
    title: &str,
    templates: &[Template],
    options: PrintOptions,
) -> Result<Vec<u8>, PrintError> {
    let laid: Vec<Vec<Laid<'_>>> = templates
        .iter()
        .map(|template| lay(template, options.paper))
        .collect::<Result<_, _>>()?;
    let jobs: Vec<(&Laid<'_>, Place, Shows)> = laid
        .iter()
        .flatten()
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
    let count = jobs.len();
    let pages = jobs.iter().enumerate().map(|(n, &(laid, tile, shows))| {
        let draw = move |pen: &mut Pen<'_, '_>| laid.draw(pen, tile, shows, (n + 1, count));
        (laid.page, draw)
    });
    write_pdf(title, pages)
}

/// A file of pages, each with its width and height, mm, and what draws it.
pub(super) fn write_pdf(
    title: &str,
    pages: impl Iterator<Item = ((f64, f64), impl FnOnce(&mut Pen<'_, '_>))>,
) -> Result<Vec<u8>, PrintError> {
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .language("en".to_owned())
            .creator("Tablefold".to_owned()),
    );
    for ((width, height), draw) in pages {
        let settings = PageSettings::from_wh(points(width), points(height));
        let settings = settings.ok_or_else(|| PrintError::Writing("no page size".to_owned()))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        draw(&mut Pen::new(&mut surface));
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
