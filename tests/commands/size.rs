//! `tablefold size`.

use std::f64::consts::SQRT_2;

use insta::assert_snapshot;
use serde_json::{Value, json};

use crate::runs::{answer, complaint, tin, with};

fn size(request: &Value) -> Value {
    serde_json::from_str(&answer(&["size"], request)).unwrap()
}

fn refused(request: &Value) -> String {
    complaint(&["size"], request.to_string())
}

fn boxed() -> Value {
    with(tin(), "/structure", json!("box"))
}

fn mm(value: &Value) -> f64 {
    value["mm"].as_f64().unwrap_or_else(|| panic!("{value}"))
}

#[test]
fn a_tin_gets_a_box_that_takes_it() {
    let found = size(&boxed());
    let best = &found["answers"][0];
    assert_eq!(best["structure"], "box");
    assert_eq!(best["axes"]["depth"], "height");
    let at: Vec<f64> = (0..3).map(|n| mm(&best["settings"][n]["at"])).collect();
    let [sheet, punch_1, punch_2] = at[..] else {
        panic!("{best}")
    };
    // Crease to crease by the formulas of the punch board, less the paper: width t, length 5 t
    // (the tabs of an end overlap), depth 2 t.
    let (e, t) = (6.35, 0.3);
    let expected = [
        ("width", SQRT_2 * (punch_1 - e) - t, 63.5),
        ("height", SQRT_2 * (sheet - punch_2 - e) - 5.0 * t, 63.5),
        ("depth", (punch_2 - punch_1) / SQRT_2 - 2.0 * t, 44.45),
    ];
    for (axis, room, contents) in expected {
        let inside = mm(&best["inside"][axis]);
        assert!((inside - room).abs() < 1e-5, "{axis} {inside} {room}");
        assert!(inside >= contents + 1.5875, "{axis} {inside}");
    }
    assert!(
        best["checks"]
            .as_array()
            .unwrap()
            .iter()
            .all(|check| check["holds"] == true)
    );
    assert_eq!(best["checks"].as_array().unwrap().len(), 6);
    let blanks = (304.8 / sheet).floor() * (304.8 / sheet).floor();
    assert_eq!(best["per_sheet"]["12 x 12 in"].as_f64(), Some(blanks));
    let sheets = (14.0 / blanks).ceil();
    assert_eq!(best["sheets_for_all"].as_f64(), Some(sheets));
    assert!((best["cost"].as_f64().unwrap() - 0.45 * sheets).abs() < 1e-9);
}

/// A four-faced pouch holds the sphere that touches its faces, less the paper: r = 3 V / S, where
/// V = a² √(h² − a² / 4) / 6 and S = 2 a h (the disphenoid; solid geometry).
#[test]
fn a_ball_gets_the_four_faced_pouch_whose_inscribed_sphere_takes_it() {
    let request = with(boxed(), "/structure", json!("four-faced"));
    let ball = json!({"shape": "ball", "diameter": "25 mm"});
    let found = size(&with(request, "/contents", ball));
    let best = &found["answers"][0];
    let at: Vec<f64> = (0..4).map(|n| mm(&best["settings"][n]["at"])).collect();
    let [_, length, strip, mark] = at[..] else {
        panic!("{best}")
    };
    let (a, h) = (2.0 * mark, length - 2.0 * strip);
    let volume = a * a * (h * h - a * a / 4.0).sqrt() / 6.0;
    let across = 2.0 * 3.0 * volume / (2.0 * a * h) - 0.3;
    for axis in ["width", "height", "depth"] {
        let inside = mm(&best["inside"][axis]);
        assert!((inside - across).abs() < 1e-5, "{inside} {across}");
    }
    assert!(across >= 25.0 + 1.5875, "{across}");
    assert_eq!(best["axes"]["depth"], "diameter");
    let missing = json!({"shape": "ball", "height": "25 mm"});
    let wrong = refused(&with(boxed(), "/contents", missing));
    assert!(wrong.contains("\"height\" is no field here"), "{wrong}");
}

#[test]
fn every_length_is_text_on_its_ruler_and_millimetres() {
    let found = size(&boxed());
    let best = &found["answers"][0];
    assert_snapshot!(best["settings"], @r##"[{"name":"sheet","at":{"text":"6 7/8 in","mm":174.625}},{"name":"punch 1","at":{"text":"2 1/8 in","mm":53.975}},{"name":"punch 2","at":{"text":"4 3/4 in","mm":120.65}}]"##);
    assert_snapshot!(best["blank"], @r##"{"width":{"text":"6 7/8 in","mm":174.625},"height":{"text":"6 7/8 in","mm":174.625}}"##);
    let mut metric = with(boxed(), "/board/step", json!(1));
    metric = with(metric, "/board/shortest", json!("10 mm"));
    metric = with(metric, "/board/longest", json!(200));
    metric = with(metric, "/trimmer/step", json!("1 mm"));
    let found = size(&metric);
    assert_snapshot!(found["answers"][0]["settings"], @r##"[{"name":"sheet","at":{"text":"173 mm","mm":173.0}},{"name":"punch 1","at":{"text":"53 mm","mm":53.0}},{"name":"punch 2","at":{"text":"119 mm","mm":119.0}}]"##);
}

#[test]
fn what_is_refused_says_why_beside_the_answers() {
    let found = size(&tin());
    let list = |name: &str| found[name].as_array().unwrap().clone();
    let answered = |slug: &str| list("answers").iter().any(|it| it["structure"] == slug);
    assert!(answered("box") && answered("tray") && !answered("envelope"));
    assert_eq!(found["refused"][0]["structure"], "envelope");
    assert_snapshot!(found["refused"][0]["reason"], @r##""The punch-board envelope takes contents up to 1/4 in thick; these are 1 3/4 in. Choose the punch-board box.""##);
}

#[test]
fn a_break_point_says_what_a_sixteenth_costs() {
    let block =
        json!({"shape": "block", "width": "2 in", "depth": "1 1/8 in", "height": "3 1/4 in"});
    let mut request = with(tin(), "/contents", block);
    request["sheets"].as_array_mut().unwrap().truncate(1);
    request["structure"] = json!("box");
    let found = size(&request);
    let point = &found["break_points"][0];
    assert_snapshot!(point["text"], @r##""1/16 in less clearance gives 4 blanks from a sheet of 12 x 12 in instead of 1: 4 sheets for all 14, not 14.""##);
    let there = size(&with(
        request,
        "/clearance",
        point["clearance"]["mm"].clone(),
    ));
    assert_eq!(
        there["answers"][0]["per_sheet"]["12 x 12 in"],
        point["per_sheet"]
    );
}

#[test]
fn a_wrong_field_is_named_and_quoted() {
    let wrong = |pointer: &str, value: Value| refused(&with(tin(), pointer, value));
    assert_snapshot!(wrong("/contents/diameter", json!("wide")), @r##"contents.diameter: "wide" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(wrong("/contents/diameter", json!(-3)), @r##"contents.diameter: "-3" is below zero. Type a length of 0 or more."##);
    assert_snapshot!(wrong("/contents/diameter", json!(0)), @"contents.diameter: 0 mm is no size. Type a length above 0, such as 60 mm.");
    assert_snapshot!(wrong("/contents/diameter", json!(1e300)), @r##"contents.diameter: "100000000000000000000000000000000000000000000000000000000000…" is too long for a length. Type one such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(wrong("/contents/diameter", json!([1])), @r##"contents.diameter: "[1]" is no length. Give a number of millimetres or a text such as "5 1/4 in"."##);
    assert_snapshot!(wrong("/contents/diameter", Value::Null), @r##"contents.diameter: nothing is given. Give a length, such as "5 1/4 in" or 133."##);
    assert_snapshot!(wrong("/contents/shape", json!("cone")), @r##"contents.shape: "cone" is no shape. Give "block", "cylinder", "ball" or "stack"."##);
    assert_snapshot!(wrong("/contents/shape", json!("block")), @r##"contents: "diameter" is no field here. The fields are shape, width, depth, height."##);
    assert_snapshot!(wrong("/contents", json!("tin")), @r##"contents: "tin" is no object. Give one with shape, width, depth, height, diameter, each_thickness, count."##);
    let hat = wrong("/structure", json!("hat\nbox \u{1f4e6}"));
    let (known, rest) = hat.split_at(hat.find("envelope").unwrap());
    assert_snapshot!(known, @r##"structure: "hat box 📦" is no structure. Give "##);
    assert!(rest.ends_with(", or null for all."), "{hat}");
    assert_snapshot!(wrong("/caliper", json!("2 in")), @"caliper: 50.8 mm is no thickness of paper. Type one above 0 and up to 3 mm, such as 0.3 mm.");
    assert_snapshot!(wrong("/makes", json!(0)), @"makes: 0 is no number of pieces to make. Type one from 1 to 1000000.");
    assert_snapshot!(wrong("/makes", json!(2.5)), @r##"makes: "2.5" is no whole number from 0 to 4294967295. Give one such as 14."##);
    assert_snapshot!(wrong("/makes", json!(10_000_000_000_i64)), @r##"makes: "10000000000" is no whole number from 0 to 4294967295. Give one such as 14."##);
    assert_snapshot!(wrong("/sheets", json!([])), @"sheets: There is no sheet to cut from. Add at least one, such as 12 x 12 in.");
    assert_snapshot!(wrong("/sheets", json!({})), @r##"sheets: "{}" is no list. Give one, such as [..]."##);
    assert_snapshot!(wrong("/sheets/1/price", json!("cheap")), @r##"sheets[1].price: "cheap" is no price. Give a number of 0 or more with up to 4 decimals, such as 0.45, or null."##);
    assert_snapshot!(wrong("/sheets/1/price", json!(-1)), @r##"sheets[1].price: "-1" is no price. Give a number of 0 or more with up to 4 decimals, such as 0.45, or null."##);
    assert_snapshot!(wrong("/sheets/1/name", json!("12 x 12 in")), @r##"sheets[1].name: "12 x 12 in" names two sheets. Give each its own name."##);
    assert_snapshot!(wrong("/sheets/1", json!({"name": "A4", "width": 210})), @r##"sheets[1].height: nothing is given. Give a length, such as "5 1/4 in" or 133."##);
}

#[test]
fn a_tool_that_cannot_be_is_named() {
    let wrong = |pointer: &str, value: Value| refused(&with(tin(), pointer, value));
    assert_snapshot!(wrong("/board/notch_depth", json!("3/4 in")), @"board.notch_depth: A notch depth of 19.05 mm is more than a punch makes. Type a depth up to 1/2 in (12.7 mm).");
    assert_snapshot!(wrong("/board/notch_depth", json!(0)), @"board.notch_depth: A notch depth of 0 mm makes no notch. Type a depth above 0, usually 1/4 in.");
    assert_snapshot!(wrong("/board/shortest", json!(0)), @"board.shortest: At the shortest measure, 0 in, a notch 6.35 mm deep would take the corner of the paper off. Type a shortest measure of 5/16 in or more.");
    assert_snapshot!(wrong("/board/step", json!(0)), @"board.step: A step of 0 mm is too fine to set. Type 0.1 mm or more.");
    assert_snapshot!(wrong("/board/longest", json!("1/4 in")), @"board.longest: There is no mark from 12.7 mm to 6.35 mm at steps of 1.5875 mm. Type a longest measure of 12.7 mm or more.");
    assert_snapshot!(wrong("/trimmer/step", json!("0.01 mm")), @"trimmer.step: A step of 0.01 mm is too fine to set. Type 0.1 mm or more.");
}

#[test]
fn an_unknown_field_is_refused_with_the_known_ones() {
    let mut request = tin();
    request["clearence"] = json!(1);
    assert_snapshot!(refused(&request), @r#"standard input: "clearence" is no field here. The fields are contents, structure, clearance, play, lid, window, slot, caliper, board, score, trimmer, sheets, makes."#);
    let mut request = tin();
    request["sheets"][0]["colour"] = json!("green");
    assert_snapshot!(refused(&request), @r##"sheets[0]: "colour" is no field here. The fields are name, width, height, price."##);
}

#[test]
fn contents_that_do_not_fit_say_what_would_do() {
    let larger = with(boxed(), "/contents/diameter", json!("4 in"));
    let larger = with(larger, "/contents/height", json!("6 in"));
    assert_snapshot!(refused(&larger), @"board.longest: The punch-board box needs a punch at 9 in; the board reaches from 1/2 in to 8 in. It needs a sheet of 13 5/8 in too; the largest is 12 x 12 in, 12 in on its shorter side. Use a longer board and a larger sheet, or take smaller contents.");
    let longer = with(larger, "/board/longest", json!("12 in"));
    assert_snapshot!(refused(&longer), @"sheets: The punch-board box needs a sheet of 13 5/8 in; the largest is 12 x 12 in, 12 in on its shorter side. Add a larger sheet or take smaller contents.");
}

#[test]
fn what_is_no_request_is_refused() {
    assert_snapshot!(complaint(&["size"], ""), @r##"standard input is no JSON: EOF while parsing a value at line 1 column 0. Give one object, such as {"contents": ..}."##);
    assert_snapshot!(complaint(&["size"], "{\"contents\":"), @r##"standard input is no JSON: EOF while parsing a value at line 1 column 12. Give one object, such as {"contents": ..}."##);
    assert_snapshot!(complaint(&["size"], "[]"), @r#"standard input: "[]" is no object. Give one with contents, structure, clearance, play, lid, window, slot, caliper, board, score, trimmer, sheets, makes."#);
    assert_snapshot!(complaint(&["size"], b"\xff\xfe"), @"standard input cannot be read (stream did not contain valid UTF-8). Give JSON in UTF-8.");
    assert_snapshot!(complaint(&["size"], vec![b'9'; 2 << 20]), @"standard input is over 1 MB. Give one request.");
    assert_snapshot!(complaint(&["size"], "[".repeat(100_000)), @r##"standard input is no JSON: recursion limit exceeded at line 1 column 128. Give one object, such as {"contents": ..}."##);
    let wordy = with(tin(), "/contents/diameter", json!("9".repeat(900_000)));
    assert_snapshot!(refused(&wordy), @r##"contents.diameter: "999999999999999999999999999999999999999999999999999999999999…" is too long for a length. Type one such as 5 1/4 in or 133 mm."##);
}

fn tray() -> Value {
    let mut request = boxed();
    request["structure"] = "tray".into();
    request
}

/// The lid's walls stand one play further apart than the base is wide, so its sheet grows by as
/// much; a lid as deep as its base is scored as deep.
#[test]
fn play_and_the_depth_of_a_lid_are_what_is_asked_for() {
    let setting = |answers: &Value, name: &str| {
        let settings = answers["answers"][0]["settings"]
            .as_array()
            .expect("settings");
        let found = settings.iter().find(|setting| setting["name"] == name);
        mm(&found.unwrap_or_else(|| panic!("{name} in {settings:?}"))["at"])
    };
    let least = size(&tray());
    let mut request = tray();
    request["play"] = "1/8 in".into();
    request["lid"] = "full".into();
    let asked = size(&request);
    let between = |answers: &Value| {
        let side = setting(answers, "lid width") - 2.0 * setting(answers, "lid score");
        side - setting(answers, "base width") + 2.0 * setting(answers, "base score")
    };
    // Beside its play the lid goes round two walls of 0.3 mm or so, and each side is a mark of 1/16 in.
    assert!(between(&asked) >= 3.175, "{asked}");
    assert!(between(&least) < 3.175, "{least}");
    assert_eq!(setting(&asked, "lid score"), setting(&asked, "base score"));
    assert!(setting(&least, "lid score") < setting(&least, "base score"));
    request["lid"] = Value::Null;
    request["play"] = Value::Null;
    assert_eq!(size(&request), least);
}

#[test]
fn a_window_is_a_setting_of_those_that_have_a_lid() {
    let mut request = tray();
    request["window"] = "1 in".into();
    let found = size(&request);
    let settings = found["answers"][0]["settings"]
        .as_array()
        .expect("settings");
    let window = settings.last().expect("the last one");
    assert_eq!(window["name"], "window");
    assert!((mm(&window["at"]) - 25.4).abs() < 1e-9, "{window}");
    request["window"] = Value::Null;
    assert_eq!(size(&request), size(&tray()));
    let mut all = tray();
    all["structure"] = Value::Null;
    all["window"] = 20.into();
    let answers = size(&all);
    let kinds = answers["answers"].as_array().expect("answers").iter();
    let mut kinds: Vec<&str> = kinds.filter_map(|it| it["structure"].as_str()).collect();
    kinds.sort_unstable();
    assert_eq!(kinds, ["hexagon", "tray"]);
}

#[test]
fn an_opening_that_cannot_be_is_refused() {
    let asking = |mut request: Value, name: &str, value: Value| {
        request[name] = value;
        refused(&request)
    };
    assert_snapshot!(asking(tray(), "window", 0.into()), @r#"window: "0" is no window. Give a length above 0, or null for none."#);
    assert_snapshot!(asking(tray(), "window", "wide".into()), @r#"window: "wide" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."#);
    assert_snapshot!(asking(tray(), "window", "1 m".into()), @r#"window: "1 m" has "m", which is no unit, at character 3. Type in, ft, mm or cm after the number."#);
    assert_snapshot!(asking(tray(), "slot", 60.into()), @"slot: the tray with lid has no slot. Leave it out.");
    assert_snapshot!(asking(boxed(), "window", 20.into()), @"window: the punch-board box has no window. Leave it out.");
}

#[test]
fn play_and_a_lid_that_cannot_be_are_refused() {
    let asking = |mut request: Value, name: &str, value: Value| {
        request[name] = value;
        refused(&request)
    };
    assert_snapshot!(asking(tray(), "play", "1 in".into()), @r##"play: "1 in" is no play that works. Give 0.5 mm to 6.35 mm, or null for the least."##);
    assert_snapshot!(asking(tray(), "play", "wide".into()), @r##"play: "wide" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."##);
    assert_snapshot!(asking(boxed(), "play", 1.into()), @r##"play: "1" is play, and the punch-board box is one body. Leave it out."##);
    assert_snapshot!(asking(tray(), "lid", "deep".into()), @r##"lid: "deep" is no depth of a lid. Give shallow, half or full."##);
    assert_snapshot!(asking(boxed(), "lid", "half".into()), @"lid: the punch-board box has no lid. Leave it out.");
    let mut all = boxed();
    all["structure"] = Value::Null;
    assert_snapshot!(asking(all, "play", 60.into()), @r##"play: "60" is no play that works. Give 0.5 mm to 6.35 mm, or null for the least."##);
}
