//! `tablefold pattern`.

use insta::assert_snapshot;
use serde_json::{Value, json};

use crate::runs::{answer, complaint, every_body, run, tin, with};

fn boxed() -> Value {
    with(tin(), "/structure", json!("box"))
}

fn settings(request: Value, settings: Value) -> Value {
    let mut request = request;
    request["settings"] = settings;
    request
}

fn refused(request: &Value) -> String {
    complaint(&["pattern"], request.to_string())
}

/// Area of a FOLD file's faces by the shoelace formula, mm².
pub(crate) fn faces_area(file: &Value) -> f64 {
    let corner = |index: &Value| {
        let point = &file["vertices_coords"][index.as_u64().unwrap() as usize];
        (point[0].as_f64().unwrap(), point[1].as_f64().unwrap())
    };
    let faces = file["faces_vertices"].as_array().unwrap();
    let area = |face: &Value| {
        let corners: Vec<_> = face.as_array().unwrap().iter().map(corner).collect();
        let next = corners.iter().cycle().skip(1);
        let cross = corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1);
        cross.sum::<f64>().abs() / 2.0
    };
    faces.iter().map(area).sum()
}

#[test]
fn the_fold_file_of_a_tin_box_is_less_than_its_blank() {
    let file: Value = serde_json::from_str(&answer(&["pattern"], &boxed())).unwrap();
    assert_eq!(file["frame_unit"], "mm");
    let found: Value = serde_json::from_str(&answer(&["size"], &boxed())).unwrap();
    let side = found["answers"][0]["blank"]["width"]["mm"]
        .as_f64()
        .unwrap();
    let area = faces_area(&file);
    // Eight notches of e² = 1/16 in² are gone (each is a right-angled V, e deep and 2 e wide);
    // trims and rounded tips take a little more.
    let most = side * side - 8.0 * 6.35 * 6.35;
    assert!(area <= most + 1e-6 && area > 0.95 * most, "{area} {most}");
}

/// Paper is cut away, and never more than two thirds of the sheet; folds and cuts of the FOLD
/// file are groups of the SVG, as large as the sheet.
#[test]
fn every_body_has_a_fold_file_and_an_svg_as_large_as_its_blank() {
    for (request, blank) in every_body() {
        let name = format!("{} {}", request["structure"], request["body"]);
        let side = |side: &str| blank[side]["mm"].as_f64().unwrap();
        let (width, height) = (side("width"), side("height"));
        let file: Value = serde_json::from_str(&answer(&["pattern"], &request)).unwrap();
        assert_eq!(file["frame_unit"], "mm", "{name}");
        let area = faces_area(&file);
        let share = area / (width * height);
        assert!((0.33..1.0 + 1e-9).contains(&share), "{name}: {share}");
        let folds = file["edges_foldAngle"].as_array().unwrap();
        assert!(folds.iter().any(|angle| angle != 0.0), "{name}");

        let svg = answer(&["pattern", "--format", "svg"], &request);
        let tree = usvg::Tree::from_str(&svg, &usvg::Options::default()).unwrap();
        for id in ["cut", "score"] {
            assert!(svg.contains(&format!("id=\"{id}\"")), "{name} {id}");
        }
        // CSS: 1 in is 96 px and 25.4 mm. A punched square stands on its corner.
        let mm = |px: f32| f64::from(px) * 25.4 / 96.0;
        let punched = ["box", "envelope"]
            .iter()
            .any(|it| request["structure"] == *it);
        let (wide, high) = if punched {
            (width * 2.0_f64.sqrt(), height * 2.0_f64.sqrt())
        } else {
            (width, height)
        };
        let drawn = tree.root().abs_bounding_box();
        assert!(
            mm(drawn.width()) <= wide + 0.01 && mm(drawn.width()) > 0.8 * wide,
            "{name}"
        );
        assert!(
            mm(drawn.height()) <= high + 0.01 && mm(drawn.height()) > 0.8 * high,
            "{name}"
        );
    }
}

#[test]
fn the_settings_that_size_writes_make_the_same_pattern() {
    for format in ["fold", "svg"] {
        let arguments = ["pattern", "--format", format];
        let found: Value = serde_json::from_str(&answer(&["size"], &boxed())).unwrap();
        let again = settings(boxed(), found["answers"][0]["settings"].clone());
        assert_eq!(
            answer(&arguments, &again),
            answer(&arguments, &boxed()),
            "{format}"
        );
    }
}

#[test]
fn settings_need_neither_contents_nor_sheets() {
    let request = json!({
        "structure": "envelope",
        "caliper": "0.3 mm",
        "board": tin()["board"],
        "settings": [{"name": "sheet", "at": "6 in"}, {"name": "punch", "at": "2 1/2 in"}],
    });
    let svg = answer(&["pattern", "--format", "svg"], &request);
    assert!(svg.starts_with("<svg"), "{svg}");
    for group in ["id=\"cut\"", "id=\"score\""] {
        assert_eq!(svg.matches(group).count(), 1, "{group}");
    }
}

#[test]
fn settings_that_cannot_be_made_are_named() {
    let at = |sheet: &str, punch_1: &str, punch_2: &str| {
        json!([
            {"name": "sheet", "at": sheet},
            {"name": "punch_1", "at": punch_1},
            {"name": "punch 2", "at": punch_2},
        ])
    };
    let wrong = |given: Value| refused(&settings(boxed(), given));
    assert_snapshot!(wrong(at("5 1/4 in", "1 1/2 in", "2 29/32 in")), @"settings.punch_2: Punch 2 at 2 29/32 in is not on the board's ruler, which has a mark each 1/16 in from 1/2 in to 8 in.");
    assert_snapshot!(wrong(at("5 1/4 in", "1 1/2 in", "1 3/4 in")), @"settings.punch_2: Punches at 1 1/2 in and 1 3/4 in run into each other. Set punch 2 at 2 in or more.");
    assert_snapshot!(wrong(at("2 in", "1 1/2 in", "2 7/8 in")), @"settings.sheet: A sheet of 2 in is too small for this punch. Use more than 3 1/8 in.");
    assert_snapshot!(wrong(at("5 1/4 in", "a bit", "2 7/8 in")), @r##"settings[1].at: "a bit" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(wrong(json!([{"name": "sheet", "at": 100}])), @"settings: the punch 1 is missing. Give sheet, punch 1, punch 2.");
    assert_snapshot!(wrong(json!([{"name": "fold", "at": 100}])), @r##"settings[0].name: "fold" is no setting of the punch-board box. Its settings are sheet, punch 1, punch 2."##);
    assert_snapshot!(wrong(json!([{"name": "sheet", "at": 100}, {"name": "sheet", "at": 1}])), @r##"settings[1].name: "sheet" is given twice. Give it once."##);
    assert_snapshot!(wrong(json!([{"name": "sheet", "at": {"text": "5 in"}}])), @r##"settings[0].at.mm: nothing is given. Give a length, such as "5 1/4 in" or 133."##);
    assert_snapshot!(wrong(json!([{"name": "sheet"}])), @r##"settings[0].at: nothing is given. Give a length, such as "5 1/4 in" or 133."##);
}

#[test]
fn a_pattern_is_of_one_structure() {
    let given_none = refused(&tin());
    assert!(
        given_none.starts_with("structure: nothing is given. Give envelope, box"),
        "{given_none}"
    );
    assert_snapshot!(refused(&with(tin(), "/structure", json!("envelope"))), @"contents: The punch-board envelope takes contents up to 1/4 in thick; these are 1 3/4 in. Choose the punch-board box.");
}

#[test]
fn only_the_formats_that_there_are_can_be_asked_for() {
    assert_snapshot!(complaint(&["pattern", "--format", "text"], ""), @"error: invalid value 'text' for '--format <FORMAT>'. [possible values: fold, svg, cutter, pdf] See: tablefold --help");
    let help = run(&["pattern", "--help"], b"");
    for format in ["fold:", "svg:", "cutter:", "pdf:", "letter", "apart"] {
        assert!(help.out.contains(format), "{format} in {}", help.out);
    }
}

#[test]
fn each_body_of_a_tray_has_a_pattern_of_its_own() {
    let trayed = with(tin(), "/structure", json!("tray"));
    let found: Value = serde_json::from_str(&answer(&["size"], &trayed)).unwrap();
    let blanks = found["answers"][0]["blanks"].as_array().unwrap();
    assert_eq!(blanks.len(), 2);
    for blank in blanks {
        let mut request = trayed.clone();
        request["body"] = blank["body"].clone();
        let file: Value = serde_json::from_str(&answer(&["pattern"], &request)).unwrap();
        let side = |name: &str| blank[name]["mm"].as_f64().unwrap();
        // Slits take no paper; of the base, tabs are cut that would meet.
        let (area, sheet) = (faces_area(&file), side("width") * side("height"));
        assert!(area <= sheet + 1e-6 && area > 0.8 * sheet, "{area} {sheet}");
        // The settings that size writes make the same.
        request["settings"] = found["answers"][0]["settings"].clone();
        let again: Value = serde_json::from_str(&answer(&["pattern"], &request)).unwrap();
        assert_eq!(again["faces_vertices"], file["faces_vertices"]);
    }
    let mut request = trayed;
    request["body"] = json!("drawer");
    assert_snapshot!(refused(&request), @r##"body: "drawer" is no body of the tray with lid. Give base or lid."##);
}

#[test]
fn a_tray_needs_no_punch_board() {
    let at = |name: &str, mm: f64| json!({"name": name, "at": mm});
    let mut request = json!({
        "structure": "tray", "caliper": "0.3 mm",
        "settings": [at("base width", 110.7), at("base length", 90.7), at("base score", 25.2),
            at("lid width", 91.4), at("lid length", 72.0), at("lid score", 15.0)],
    });
    assert!(answer(&["pattern", "--format", "svg"], &request).contains("id=\"score\""));
    request["settings"][2]["at"] = json!(25.25);
    assert_snapshot!(refused(&request), @"settings.base_score: Base score at 25.25 mm is not on the score board's ruler, which has a mark each 0.1 mm from 0 mm to 10000 mm.");
    request["structure"] = json!("box");
    request["settings"] = json!([at("sheet", 100.0), at("punch 1", 30.0), at("punch 2", 50.0)]);
    assert_snapshot!(refused(&request), @"board: The punch-board box needs a punch board, and the bench has none. Add one, or choose another structure.");
}
