//! `tablefold pattern --format pdf`: measured in the file, and on the raster that a printer would
//! make of it.

use std::process::Command;

use insta::assert_snapshot;
use serde_json::{Value, json};

use crate::drawn::{Drawn, Path, pages};
use crate::runs::{asked, complaint, file};

fn pdf(structure: &str, more: &[&str]) -> Vec<u8> {
    let arguments = [&["pattern", "--format", "pdf"], more].concat();
    file(&arguments, &asked(structure))
}

/// A carton that is larger than a page.
fn tiled(paper: &str) -> Vec<u8> {
    let mut request = asked("straight-tuck");
    request["contents"] = json!({"shape": "block", "width": 70, "depth": 50, "height": 110});
    file(&["pattern", "--format", "pdf", "--paper", paper], &request)
}

/// Whether the page has a straight line along x of that length, mm.
fn has_bar(page: &Drawn, length: f64) -> bool {
    let mut bars = page.paths.iter().filter(|path| path.corners.len() == 2);
    bars.any(|bar| {
        let (wide, high) = bar.extent();
        (wide - length).abs() < 0.005 && high < 1e-6 && bar.width > 0.4
    })
}

/// The largest solid outline that is cut.
fn outline(page: &Drawn) -> &Path {
    let cuts = page.paths.iter();
    let cuts = cuts.filter(|path| !path.dashed && (path.width - 0.35).abs() < 0.01);
    let area = |path: &&Path| path.extent().0 * path.extent().1;
    cuts.max_by(|one, other| area(one).total_cmp(&area(other)))
        .unwrap()
}

/// Runs a program of poppler-utils on a file that is gone afterwards.
fn poppler(program: &str, arguments: &[&str], pdf: &[u8]) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("templates.pdf");
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

/// All words of a PDF with one space between them: words that stand upright come one a line.
fn text(pdf: &[u8]) -> String {
    let text = String::from_utf8(poppler("pdftotext", &["-raw"], pdf)).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn pages_are_a4_or_letter_to_a_hundredth_of_a_millimetre() {
    // ISO 32000-2, 8.3.2.3: 1/72 in. A4 is 210 by 297 mm, Letter 8 1/2 by 11 in; the sheet here
    // is 12 by 12 in.
    for (paper, width, height) in [
        ("a4", 595.2756, 841.8898),
        ("letter", 612.0, 792.0),
        ("sheet", 864.0, 864.0),
    ] {
        for page in pages(&pdf("box", &["--paper", paper])) {
            let [left, bottom, right, top] = page.page;
            assert_eq!((left, bottom), (0.0, 0.0));
            let within = 0.01 * 72.0 / 25.4;
            assert!((right - width).abs() < within, "{paper}: {right}");
            assert!((top - height).abs() < within, "{paper}: {top}");
        }
    }
}

#[test]
fn every_page_has_a_bar_of_100_mm_and_one_of_4_in() {
    for paper in ["a4", "letter", "sheet"] {
        for lines in ["together", "apart"] {
            let pdf = pdf("gable-top", &["--paper", paper, "--lines", lines]);
            for page in pages(&pdf) {
                assert!(has_bar(&page, 100.0), "{paper} {lines}");
                assert!(has_bar(&page, 101.6), "{paper} {lines}");
            }
        }
    }
}

/// The longest dark run of each row in the lowest 30 mm of a page, in pixels at 300 dpi.
fn runs_at_the_foot(pdf: &[u8], page: usize) -> Vec<usize> {
    let page = page.to_string();
    let arguments = ["-r", "300", "-gray", "-singlefile", "-f", &page];
    let image = poppler("pdftoppm", &arguments, pdf);
    // "P5 width height 255" and a byte for each pixel.
    let mut at = 0;
    let mut header = Vec::new();
    while header.len() < 4 {
        let end = at
            + image[at..]
                .iter()
                .position(u8::is_ascii_whitespace)
                .unwrap();
        header.push(String::from_utf8(image[at..end].to_vec()).unwrap());
        at = end + 1;
    }
    let width: usize = header[1].parse().unwrap();
    let rows: Vec<&[u8]> = image[at..].chunks(width).collect();
    let longest = |row: &&[u8]| {
        let runs = row.split(|&pixel| pixel > 127);
        runs.map(<[u8]>::len).max().unwrap_or(0)
    };
    let foot = rows.len() - (30.0 / 25.4 * 300.0) as usize;
    rows[foot..].iter().map(longest).collect()
}

#[test]
fn printed_at_300_dpi_the_bars_measure_what_they_say() {
    for paper in ["a4", "letter"] {
        let pdf = tiled(paper);
        let last = pages(&pdf).len();
        assert!(last > 1, "{paper}");
        for page in [1, last] {
            let runs = runs_at_the_foot(&pdf, page);
            for mm in [100.0, 101.6] {
                let pixels = mm / 25.4 * 300.0;
                // 0.1 mm are 1.18 pixels.
                let close = runs.iter().any(|&run| (run as f64 - pixels).abs() <= 1.18);
                let most = runs.iter().max();
                assert!(
                    close,
                    "{paper} {page}: {mm} mm is {pixels} pixels; runs {most:?}"
                );
            }
        }
    }
}

/// pdffonts: two lines of head, then a font a line; "emb sub uni" stand before the number of its
/// object.
#[test]
fn every_font_of_a_template_is_in_the_file() {
    for paper in ["a4", "letter", "sheet"] {
        let pdf = pdf("straight-tuck", &["--paper", paper]);
        let list = String::from_utf8(poppler("pdffonts", &[], &pdf)).unwrap();
        let fonts: Vec<&str> = list.lines().skip(2).collect();
        let embedded = |line: &&str| line.split_whitespace().rev().nth(4) == Some("yes");
        assert!(!fonts.is_empty() && fonts.iter().all(embedded), "{list}");
    }
}

#[test]
fn the_outline_of_a_tray_is_as_large_as_its_blank() {
    let request = asked("tray").to_string();
    let sized = crate::runs::run(&["size"], request.as_bytes()).out;
    let sized: Value = serde_json::from_str(&sized).unwrap();
    let side = |name: &str| sized["answers"][0]["blank"][name]["mm"].as_f64().unwrap();
    for paper in ["a4", "letter", "sheet"] {
        let pages = pages(&pdf("tray", &["--paper", paper]));
        let (wide, high) = outline(&pages[0]).extent();
        // A quarter turn may lay it the other way.
        let off = |x: f64, y: f64| (wide - x).abs().max((high - y).abs());
        let least = off(side("width"), side("height")).min(off(side("height"), side("width")));
        assert!(least < 0.01, "{paper}: {wide} by {high}");
    }
}

#[test]
fn what_is_larger_than_the_page_comes_in_tiles_that_share_a_strip() {
    let pdf = pdf("straight-tuck", &["--paper", "letter"]);
    let pages = pages(&pdf);
    assert!(pages.len() > 1);
    let text = text(&pdf);
    for words in [
        "A1",
        "B1",
        "joins B1",
        "joins A1",
        "join: cross on cross",
        "page 1 of 2",
    ] {
        assert!(text.contains(words), "{words} in {text}");
    }
    // Both show the same outline: of the second tile, moved left by the window less 10 mm.
    let left = |page: &Drawn| {
        let corners = &outline(page).corners;
        corners.iter().map(|p| p.0).fold(f64::MAX, f64::min)
    };
    let window = 215.9 - 2.0 * 8.0;
    let moved = left(&pages[0]) - left(&pages[1]);
    assert!((moved - (window - 10.0)).abs() < 0.01, "{moved}");
}

/// Middles of the crosses by which tiles are joined: two lines of 6 mm across each other.
fn crosses(page: &Drawn) -> Vec<(f64, f64)> {
    let is = |path: &&Path, (wide, high): (f64, f64)| {
        let extent = path.extent();
        path.corners.len() == 2 && (extent.0 - wide).abs() < 0.01 && (extent.1 - high).abs() < 0.01
    };
    let middle = |path: &Path| {
        let [a, b] = [path.corners[0], path.corners[1]];
        ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0)
    };
    let lines = |extent| {
        page.paths
            .iter()
            .filter(move |path| is(path, extent))
            .map(middle)
    };
    let upright: Vec<(f64, f64)> = lines((0.0, 6.0)).collect();
    lines((6.0, 0.0))
        .filter(|at| upright.iter().any(|other| near(*at, *other)))
        .collect()
}

/// To a hundredth of a millimetre.
fn near(one: (f64, f64), other: (f64, f64)) -> bool {
    (one.0 - other.0).abs() < 0.01 && (one.1 - other.1).abs() < 0.01
}

#[test]
fn crosses_of_neighbouring_tiles_lie_on_each_other() {
    for paper in ["a4", "letter"] {
        let pages = pages(&tiled(paper));
        let least = |page: &Drawn| {
            let corners = &outline(page).corners;
            let x = corners.iter().map(|p| p.0).fold(f64::MAX, f64::min);
            (x, corners.iter().map(|p| p.1).fold(f64::MAX, f64::min))
        };
        // The outline is the same on all: laid on each other by it, so are the crosses.
        let laid = |page: &Drawn| -> Vec<(f64, f64)> {
            let (left, top) = least(page);
            let crosses = crosses(page).into_iter();
            crosses.map(|(x, y)| (x - left, y - top)).collect()
        };
        let laid: Vec<Vec<(f64, f64)>> = pages.iter().map(laid).collect();
        for (number, crosses) in laid.iter().enumerate() {
            assert!(crosses.len() >= 2, "{paper}, page {number}");
            for at in crosses {
                let mut others = (0..laid.len()).filter(|other| *other != number);
                let meets = others.any(|other| laid[other].iter().any(|it| near(*it, *at)));
                assert!(meets, "{paper}, page {number}: {at:?} {laid:?}");
            }
        }
    }
}

#[test]
fn scores_are_dashed_and_cuts_are_not_and_they_part_when_asked() {
    let apart = pages(&pdf("tray", &["--lines", "apart"]));
    assert_eq!(apart.len(), 2);
    // Samples of the legend are 9.6 mm long, and hatching is thinner than a crease.
    let dashed = |page: &Drawn| {
        let long = |path: &Path| path.extent().0.max(path.extent().1) > 12.0;
        let creases = page.paths.iter().filter(|path| path.dashed);
        creases
            .filter(|path| long(path) && path.width > 0.25)
            .count()
    };
    let cut = |page: &Drawn| {
        let cuts = page.paths.iter();
        cuts.filter(|path| (path.width - 0.35).abs() < 0.01).count()
    };
    assert_eq!((dashed(&apart[0]), cut(&apart[1])), (0, 0));
    // A tray folds along 4 creases.
    assert_eq!(dashed(&apart[1]), 4);
    assert!(cut(&apart[0]) > 0);
}

#[test]
fn the_same_request_gives_the_same_bytes() {
    assert_eq!(pdf("hexagon", &[]), pdf("hexagon", &[]));
}

#[test]
fn words_can_be_searched_and_read_aloud() {
    let text = text(&pdf("tray", &["--paper", "letter"]));
    for words in [
        "tray with lid: base",
        "page 1 of 1",
        "Print at 100 %",
        "You print on the side that ends up inside.",
        "100 mm",
        "4 in",
        "fold towards you",
        "glue, other side",
        "top end wall",
    ] {
        assert!(text.contains(words), "{words} in {text}");
    }
}

#[test]
fn a_paper_that_is_none_is_refused_with_those_that_are() {
    let arguments = ["pattern", "--format", "pdf", "--paper", "a5"];
    assert_snapshot!(complaint(&arguments, asked("box").to_string()), @"error: invalid value 'a5' for '--paper <PAPER>'. [possible values: a4, letter, sheet] See: tablefold --help");
}
