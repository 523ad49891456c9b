//! Reads PDFs as a printer and a phone would: poppler-utils for words and pixels, and a decoder of
//! codes that shares no code with the writer.

use std::process::Command;

/// A program of poppler-utils on a file that is gone afterwards.
fn poppler(program: &str, arguments: &[&str], pdf: &[u8]) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("labels.pdf");
    std::fs::write(&path, pdf).unwrap();
    let output = Command::new(program)
        .args(arguments)
        .arg(&path)
        .args((program == "pdftotext").then_some("-"))
        .output()
        .unwrap_or_else(|error| panic!("{program} of poppler-utils is needed: {error}"));
    assert!(output.status.success(), "{output:?}");
    output.stdout
}

/// All words; a form feed ends each page.
pub(crate) fn text(pdf: &[u8]) -> String {
    String::from_utf8(poppler("pdftotext", &["-layout"], pdf)).unwrap()
}

/// Whether every font is in the file.
pub(crate) fn fonts_are_embedded(pdf: &[u8]) -> bool {
    let list = String::from_utf8(poppler("pdffonts", &[], pdf)).unwrap();
    // Two lines of head; "emb sub uni" stand before the object's number.
    let fonts: Vec<&str> = list.lines().skip(2).collect();
    let embedded = |line: &&str| line.split_whitespace().rev().nth(4) == Some("yes");
    !fonts.is_empty() && fonts.iter().all(embedded)
}

/// Grey pixels at 300 dpi.
pub(crate) struct Raster {
    pub(crate) width: usize,
    pub(crate) pixels: Vec<u8>,
}

/// One page, from 1.
pub(crate) fn raster(pdf: &[u8], page: usize) -> Raster {
    let page = page.to_string();
    let arguments = ["-r", "300", "-gray", "-f", &page, "-l", &page];
    let image = poppler("pdftoppm", &arguments, pdf);
    // "P5 width height 255" and a byte for each pixel.
    let mut at = 0;
    let mut header = Vec::new();
    while header.len() < 4 {
        let rest = &image[at..];
        let end = at + rest.iter().position(u8::is_ascii_whitespace).unwrap();
        header.push(String::from_utf8(image[at..end].to_vec()).unwrap());
        at = end + 1;
    }
    Raster {
        width: header[1].parse().unwrap(),
        pixels: image[at..].to_vec(),
    }
}

impl Raster {
    /// What a phone held over a window sees: left, top, right, bottom, mm.
    pub(crate) fn window(&self, (left, top, right, bottom): (f64, f64, f64, f64)) -> Self {
        let dots = |mm: f64| (mm / 25.4 * 300.0).round() as usize;
        let columns = dots(left)..dots(right).min(self.width);
        let rows = self.pixels.chunks(self.width);
        let rows = rows.take(dots(bottom)).skip(dots(top));
        Self {
            width: columns.len(),
            pixels: rows.flat_map(|row| row[columns.clone()].to_vec()).collect(),
        }
    }
}

/// What each code says, as far as it can be read.
pub(crate) fn codes(raster: &Raster) -> Vec<String> {
    let height = raster.pixels.len() / raster.width;
    let grey = |x: usize, y: usize| raster.pixels[y * raster.width + x];
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(raster.width, height, grey);
    let grids = image.detect_grids();
    // Corner squares of neighbours may look like a code that there is not.
    let read = grids.iter().filter_map(|grid| grid.decode().ok());
    read.map(|(_, text)| text).collect()
}
