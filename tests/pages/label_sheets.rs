//! Sheets of labels, measured in the file and on the raster that a printer would make of it.

use proptest::prelude::*;
use tablefold::print::{Label, LabelLine, LabelOptions, PrintError, label_sheets_pdf};
use tablefold::workshop::{LabelMeasures, LabelSheet};
use tablefold_geometry::Length;

use crate::drawn::pages;
use crate::pdf::{Raster, codes, fonts_are_embedded, raster, text};

const LINK: &str = "http://192.168.1.20:8080/a/abcdefghijklmnopqrstuvwxyz234567";

/// A tenth of the least division of a millimetre rule.
const WITHIN_MM: f64 = 0.01;

fn mm(tenths: i64) -> Length {
    Length::from_nm(tenths * 100_000)
}

fn label(number: usize) -> Label {
    let line = |text: String, most_pt| LabelLine::new(&text, false, most_pt);
    Label {
        lines: vec![
            line(format!("Pack {number}"), 12.0),
            line(format!("Seat {number}"), 20.0),
        ],
        address: Some(LINK.to_owned()),
    }
}

fn labels(count: usize) -> Vec<Label> {
    (1..=count).map(label).collect()
}

fn options(measures: LabelMeasures, used: usize) -> LabelOptions {
    LabelOptions {
        sheet: LabelSheet::new(measures).unwrap(),
        used,
        outline: true,
    }
}

fn a4() -> LabelMeasures {
    LabelMeasures {
        paper: (mm(2100), mm(2970)),
        columns: 3,
        rows: 8,
        left: mm(50),
        top: mm(90),
        width: mm(650),
        height: mm(340),
        across: mm(20),
        down: mm(5),
    }
}

/// Any sheet on which all labels fit, in tenths of a millimetre.
fn sheets() -> impl Strategy<Value = LabelMeasures> {
    let counts = (1..6u32, 1..9u32);
    let measures = (0..400i64, 0..400i64, 150..900i64, 80..700i64);
    let gaps = (0..150i64, 0..150i64, 0..300i64, 0..300i64);
    (counts, measures, gaps).prop_map(|((columns, rows), (l, t, w, h), (a, d, right, foot))| {
        let across = l + i64::from(columns) * (w + a) + right;
        let down = t + i64::from(rows) * (h + d) + foot;
        LabelMeasures {
            paper: (mm(across.max(300)), mm(down.max(300))),
            columns,
            rows,
            left: mm(l),
            top: mm(t),
            width: mm(w),
            height: mm(h),
            across: mm(a),
            down: mm(d),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// ISO 32000-2, 8.3.2.3: a unit is 1/72 in. Where each label lies is reckoned here anew.
    #[test]
    fn every_outline_lies_where_the_sheet_says(
        measures in sheets(), count in 1..60usize, used in 0..50usize,
    ) {
        let each = (measures.columns * measures.rows) as usize;
        let used = used % each;
        let pdf = label_sheets_pdf("Labels", &labels(count), &options(measures, used)).unwrap();
        let pages = pages(&pdf);
        prop_assert_eq!(pages.len(), (used + count).div_ceil(each));
        let mut at = used;
        for page in &pages {
            let wide = f64::from(page.page[2]) * 25.4 / 72.0;
            let high = f64::from(page.page[3]) * 25.4 / 72.0;
            prop_assert!((wide - measures.paper.0.mm()).abs() < WITHIN_MM, "{}", wide);
            prop_assert!((high - measures.paper.1.mm()).abs() < WITHIN_MM, "{}", high);
            for path in &page.paths {
                let (column, row) = (at % each % measures.columns as usize, at % each / measures.columns as usize);
                let left = measures.left.mm() + column as f64 * (measures.width.mm() + measures.across.mm());
                let top = measures.top.mm() + row as f64 * (measures.height.mm() + measures.down.mm());
                let (right, foot) = (left + measures.width.mm(), top + measures.height.mm());
                let corners = [(left, top), (right, top), (right, foot), (left, foot)];
                prop_assert_eq!(path.corners.len(), 4);
                for (found, meant) in path.corners.iter().zip(corners) {
                    let off = (found.0 - meant.0).abs().max((found.1 - meant.1).abs());
                    prop_assert!(off < WITHIN_MM, "label {}: {:?} for {:?}", at, found, meant);
                }
                at += 1;
            }
        }
        prop_assert_eq!(at, used + count, "one outline a label");
    }
}

/// Left and right end of the dark pixels in a window of the page, mm.
fn dark_span(raster: &Raster, window: (f64, f64, f64, f64)) -> (f64, f64) {
    let seen = raster.window(window);
    let dark = seen.pixels.iter().enumerate();
    let dark = dark.filter(|(_, pixel)| **pixel < 128);
    let columns = dark.map(|(at, _)| at % seen.width);
    let (first, last) = columns.fold((usize::MAX, 0), |(a, b), x| (a.min(x), b.max(x)));
    let mm = |dot: usize| window.0 + dot as f64 / 300.0 * 25.4;
    (mm(first), mm(last + 1))
}

#[test]
fn the_code_of_every_label_is_read_at_300_dpi() {
    for (rows, height) in [(8, 340), (12, 225)] {
        let measures = LabelMeasures {
            rows,
            height: mm(height),
            ..a4()
        };
        let sheet = LabelSheet::new(measures).unwrap();
        let pdf = label_sheets_pdf("Labels", &labels(sheet.count()), &options(measures, 0));
        let raster = raster(&pdf.unwrap(), 1);
        for at in 0..sheet.count() {
            let (column, row) = ((at % 3) as f64, (at / 3) as f64);
            let left = 5.0 + column * 67.0;
            let tall = measures.height.mm();
            let top = 9.0 + row * (tall + 0.5);
            let seen = raster.window((left, top, left + 65.0, top + tall));
            assert_eq!(codes(&seen), [LINK], "label {at}, {tall} mm high");
        }
    }
}

/// GS1 General Specifications 5.12.3.1: a module of 0.396 to 0.990 mm. ISO/IEC 18004: four light
/// modules all round; this link takes version 4, 33 modules a side.
#[test]
fn a_printed_module_and_its_quiet_zone_are_as_large_as_scanners_need() {
    // Words that go as far right as any.
    let mut long = labels(1);
    long[0].lines[1].text = "Seat by the window ".repeat(9);
    let pdf = label_sheets_pdf("Labels", &long, &options(a4(), 0)).unwrap();
    let raster = raster(&pdf, 1);
    // Right part of the first label, from the quiet zone to the outline.
    let label = (5.0, 9.0, 70.0, 43.0);
    let window = (label.0 + 44.0, label.1 + 0.5, label.2 - 0.5, label.3 - 0.5);
    let (left, right) = dark_span(&raster, window);
    let module = (right - left) / 33.0;
    assert!((0.396..=0.990).contains(&module), "{module}");
    assert!(label.2 - right >= 4.0 * module, "{right}");
    let (_, words) = dark_span(&raster, (label.0 + 0.5, window.1, left - 0.1, window.3));
    assert!(
        left - words >= 4.0 * module,
        "words end at {words}, code starts at {left}"
    );
}

#[test]
fn words_are_embedded_and_the_same_labels_give_the_same_bytes() {
    let make = || label_sheets_pdf("Labels", &labels(30), &options(a4(), 2)).unwrap();
    let pdf = make();
    assert_eq!(pdf, make());
    assert!(fonts_are_embedded(&pdf));
    let words = text(&pdf);
    assert_eq!(words.matches('\u{c}').count(), 2, "30 + 2 of 24 a sheet");
    for n in 1..=30 {
        assert!(words.contains(&format!("Seat {n}")), "{n} in {words}");
    }
}

#[test]
fn more_sheets_than_anyone_prints_are_refused() {
    let one = LabelMeasures {
        columns: 1,
        rows: 1,
        ..a4()
    };
    let refused = label_sheets_pdf("Labels", &labels(401), &options(one, 0)).unwrap_err();
    assert_eq!(refused, PrintError::TooManySheets { sheets: 401 });
    insta::assert_snapshot!(refused, @"The labels take 401 sheets, and 400 are the most. Print packs, tables and tools one kind at a time, or put more labels on a sheet.");
}
