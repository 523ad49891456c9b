//! What came out of the printer: a PDF, read with poppler's tools.

use std::path::PathBuf;
use std::process::{Command, Output};

/// Width and height in inches: ISO 216.
pub(crate) const A4: (f64, f64) = (210.0 / 25.4, 297.0 / 25.4);
/// Width and height in inches: ANSI/ASME Y14.1, size A.
pub(crate) const LETTER: (f64, f64) = (8.5, 11.0);

/// A printed page set.
pub(crate) struct Printed {
    folder: tempfile::TempDir,
}

impl Printed {
    pub(crate) fn new(pdf: &[u8]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let printed = Self { folder };
        std::fs::write(printed.file(), pdf).unwrap();
        printed
    }

    pub(crate) fn file(&self) -> PathBuf {
        self.folder.path().join("printed.pdf")
    }

    /// All text as it lies on the pages; a form feed ends each page.
    pub(crate) fn text(&self) -> String {
        let read = poppler("pdftotext", &["-layout"], &[self.file(), "-".into()]);
        String::from_utf8(read.stdout).unwrap()
    }

    /// The text of each page in the order of reading, without any white space.
    pub(crate) fn pages(&self) -> Vec<String> {
        let read = poppler("pdftotext", &[], &[self.file(), "-".into()]);
        let text = String::from_utf8(read.stdout).unwrap();
        let mut pages: Vec<String> = text.split('\u{c}').map(squeezed).collect();
        pages.pop();
        pages
    }

    /// Every word with the height of its line in points, which grows with its type size.
    pub(crate) fn words(&self) -> Vec<(String, f64)> {
        let read = poppler("pdftotext", &["-bbox"], &[self.file(), "-".into()]);
        let text = String::from_utf8(read.stdout).unwrap();
        let number = |line: &str, name: &str| {
            let rest = line.split_once(name)?.1.strip_prefix("=\"")?;
            rest.split_once('"')?.0.parse::<f64>().ok()
        };
        let word = |line: &str| {
            let high = number(line, "yMax")? - number(line, "yMin")?;
            let word = line.split_once("\">")?.1.split_once("</word>")?.0;
            Some((word.to_owned(), high))
        };
        text.lines().filter_map(word).collect()
    }

    /// Width and height of the pages in points (1/72 in), which are all of one size.
    pub(crate) fn size(&self) -> (f64, f64) {
        let read = poppler("pdfinfo", &["-f", "1", "-l", "9999"], &[self.file()]);
        let text = String::from_utf8(read.stdout).unwrap();
        let sizes = text
            .lines()
            .filter(|line| line.starts_with("Page ") && line.contains("size:"));
        let mut sizes: Vec<(f64, f64)> = sizes
            .map(|line| {
                let mut numbers = line.split_whitespace().filter_map(|word| word.parse().ok());
                if !line.starts_with("Page size") {
                    numbers.next();
                }
                (numbers.next().unwrap(), numbers.next().unwrap())
            })
            .collect();
        sizes.dedup();
        assert_eq!(sizes.len(), 1, "{text}");
        sizes[0]
    }

    /// Every page is of this size in inches. ISO 32000-2, 8.3.2.3: a point is 1/72 in.
    pub(crate) fn assert_size(&self, (across, down): (f64, f64)) {
        let (width, height) = self.size();
        let off = f64::max((width - across * 72.0).abs(), (height - down * 72.0).abs());
        assert!(off < 1.0, "{width} x {height} pt");
    }

    /// A page as grey values at `dpi`: width and rows.
    pub(crate) fn raster(&self, page: usize, dpi: u32) -> (usize, Vec<u8>) {
        let (page, dpi) = (page.to_string(), dpi.to_string());
        let options = ["-gray", "-r", &dpi, "-f", &page, "-l", &page];
        let read = poppler("pdftoppm", &options, &[self.file()]);
        // PGM: "P5 width height 255" and the values (netpbm, pgm(5)).
        let mut fields = read.stdout.splitn(4, |byte| byte.is_ascii_whitespace());
        assert_eq!(fields.next().unwrap(), b"P5");
        let number = |field: &[u8]| {
            std::str::from_utf8(field)
                .unwrap()
                .parse::<usize>()
                .unwrap()
        };
        let width = number(fields.next().unwrap());
        let height = number(fields.next().unwrap());
        let rest = fields.next().unwrap();
        let grey = rest[rest.len() - width * height..].to_vec();
        (width, grey)
    }
}

/// A text without white space: PDF readers break lines where they like.
pub(crate) fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

fn poppler(tool: &str, options: &[&str], files: &[PathBuf]) -> Output {
    let read = Command::new(tool).args(options).args(files).output();
    let read = read.unwrap_or_else(|error| panic!("no {tool}: {error}. Install poppler-utils."));
    assert!(
        read.status.success(),
        "{}",
        String::from_utf8_lossy(&read.stderr)
    );
    read
}
