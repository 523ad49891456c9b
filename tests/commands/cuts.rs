//! `tablefold cuts`: its answers are cut again here, piece by piece, by a reader that shares no
//! code with the planner.

use std::collections::HashMap;
use std::time::{Duration, Instant};

use insta::assert_snapshot;
use serde_json::{Value, json};

use crate::runs::{answer, complaint, run, with};

const QUICK: [&str; 3] = ["cuts", "--effort", "quick"];

/// An instance; its sources are named in tests/cutplan/README.md.
fn instance(name: &str) -> Value {
    let text = std::fs::read_to_string(format!("tests/cutplan/{name}.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// Tags and cards from one kind of sheet.
fn cards() -> Value {
    json!({
        "name": "cards",
        "unit": "mm",
        "stock": [{"name": "12 x 12 in", "width": "12 in", "height": 304.8, "cost": 60, "available": null}],
        "parts": [
            {"name": "card", "width": "5 1/2 in", "height": "4 1/4 in", "quantity": 14, "turnable": true},
            {"name": "tag", "width": 50.8, "height": "2 in", "quantity": 28, "turnable": false},
        ],
        "kerf": 0,
        "max_stages": 3,
    })
}

/// Micrometres: every length of the instances is a whole number of them.
fn um(value: &Value) -> i64 {
    let mm = match value {
        Value::String(text) => {
            let (whole, rest) = text
                .trim_end_matches(" in")
                .split_once(' ')
                .unwrap_or(("0", text));
            let rest = rest.trim_end_matches(" in");
            let (top, bottom) = rest.split_once('/').unwrap_or((rest, "1"));
            let part = |text: &str| text.parse::<f64>().unwrap();
            25.4 * (part(whole) + part(top) / part(bottom))
        }
        number => number.as_f64().unwrap_or_else(|| panic!("{number}")),
    };
    let um = mm * 1000.0;
    assert!((um - um.round()).abs() < 1e-6, "{value}");
    um.round() as i64
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("{value}"))
}

fn named<'v>(list_of: &'v Value, name: &Value) -> &'v Value {
    let found = list(list_of).iter().find(|thing| thing["name"] == *name);
    found.unwrap_or_else(|| panic!("{name} is not asked for"))
}

/// A piece on the table: place and size, how many phases it has been through, the last one.
#[derive(Clone)]
struct Piece {
    place: [i64; 2],
    size: [i64; 2],
    phases: u64,
    last: Option<usize>,
}

/// Cuts one sheet as the list says and gives all pieces, with the most phases.
fn cut(sheet: [i64; 2], kerf: i64, cuts: &Value) -> (Vec<Piece>, u64) {
    let mut table = vec![Piece {
        place: [0, 0],
        size: sheet,
        phases: 0,
        last: None,
    }];
    for cut in list(cuts) {
        let axis = match cut["direction"].as_str() {
            Some("width") => 0,
            Some("height") => 1,
            _ => panic!("{cut}"),
        };
        let at = cut["piece"].as_u64().unwrap() as usize;
        assert_eq!(cut["off"].as_u64().unwrap() as usize, table.len(), "{cut}");
        let piece = &mut table[at];
        let setting = um(&cut["setting"]);
        assert!(setting > 0 && setting < piece.size[axis], "{cut}");
        if piece.last != Some(axis) {
            piece.last = Some(axis);
            piece.phases += 1;
        }
        let mut off = piece.clone();
        off.size[axis] = setting;
        let gone = (setting + kerf).min(piece.size[axis]);
        piece.place[axis] += gone;
        piece.size[axis] -= gone;
        table.push(off);
    }
    let phases = table.iter().map(|piece| piece.phases).max().unwrap();
    (table, phases)
}

/// Cuts every sheet of an answer and checks all that it promises.
fn check(request: &Value, found: &Value) {
    let kerf = um(&request["kerf"]);
    let (mut made, mut used, mut cost) = (HashMap::new(), HashMap::new(), 0);
    for sheets in list(&found["sheets"]) {
        let stock = named(&request["stock"], &sheets["stock"]);
        let count = sheets["count"].as_u64().unwrap();
        assert!(count > 0);
        cost += count * stock["cost"].as_u64().unwrap();
        *used.entry(stock["name"].to_string()).or_insert(0) += count;
        let size = [um(&stock["width"]), um(&stock["height"])];
        let (mut table, phases) = cut(size, kerf, &sheets["cuts"]);
        if let Some(most) = request["max_stages"].as_u64() {
            assert!(phases <= most, "{phases} phases of {most}");
        }
        for placed in list(&sheets["placed"]) {
            let part = named(&request["parts"], &placed["part"]);
            let size = [um(&placed["width"]), um(&placed["height"])];
            let mut asked = [um(&part["width"]), um(&part["height"])];
            if placed["turned"] == true {
                assert_eq!(part["turnable"], true, "{placed}");
                asked.reverse();
            }
            assert_eq!(size, asked, "{placed}");
            let place = [um(&placed["x"]), um(&placed["y"])];
            // Each piece can be taken once: so no two parts are one, and none overlap.
            let at = table
                .iter()
                .position(|p| p.place == place && p.size == size);
            table.remove(at.unwrap_or_else(|| panic!("{placed} is not cut free")));
            *made.entry(part["name"].to_string()).or_insert(0) += count;
        }
    }
    for part in list(&request["parts"]) {
        let made = made.get(&part["name"].to_string()).copied().unwrap_or(0);
        assert!(
            made >= part["quantity"].as_u64().unwrap(),
            "{made} of {part}"
        );
    }
    for stock in list(&request["stock"]) {
        let used = used.get(&stock["name"].to_string()).copied().unwrap_or(0);
        assert!(stock["available"].as_u64().is_none_or(|most| used <= most));
    }
    assert_eq!(found["cost"].as_u64(), Some(cost));
    assert!(found["bound"].as_u64().unwrap() <= cost);
    assert_eq!(found["proven"], found["bound"] == found["cost"]);
}

fn cuts(arguments: &[&str], request: &Value) -> Value {
    let found = serde_json::from_str(&answer(arguments, request)).unwrap();
    check(request, &found);
    found
}

fn refused(request: &Value) -> String {
    complaint(&QUICK, request.to_string())
}

#[test]
fn every_sheet_of_an_answer_can_be_cut_as_it_says() {
    // Best values: class-best.csv and best-known.csv. A plan may not cost less than their bound.
    for (name, bound, good) in [
        ("class-09-small-class-8", 785, 785),
        ("class-02-patterned-mats-36", 1710, 1710),
        ("class-08-fair-cards-50", 4910, 4960),
        ("class-11-tags-40", 1685, 1760),
    ] {
        let found = cuts(&QUICK, &instance(name));
        let cost = found["cost"].as_u64().unwrap();
        assert!((bound..=good).contains(&cost), "{name}: {cost}");
    }
}

#[test]
fn published_orders_get_plans_that_can_be_cut() {
    for name in ["ind-A8", "atp36", "vs-gcut1d-turn", "g1-gcut1d"] {
        cuts(&QUICK, &instance(name));
    }
}

#[test]
fn the_plan_of_least_fiddling_has_no_more_patterns() {
    let request = instance("class-04-gift-boxes-a4-30");
    let least = cuts(&QUICK, &request);
    let few = ["cuts", "--effort", "quick", "--plan", "least-fiddling"];
    let few = cuts(&few, &request);
    let patterns = |found: &Value| list(&found["sheets"]).len();
    assert!(patterns(&few) <= patterns(&least));
    assert!(few["settings"].as_u64() <= least["settings"].as_u64());
    let (few, least) = (few["cost"].as_u64(), least["cost"].as_u64());
    // At most 1 % or one cheapest sheet (38) more.
    assert!(few >= least && few <= least.map(|cost| cost + 38));
}

#[test]
fn inches_and_numbers_are_the_same_length() {
    let found = cuts(&QUICK, &cards());
    // By hand: 4 x 2 cards on a sheet leave a strip that holds no tag, and 36 tags fill one;
    // their area together is 439 of 144 square inches a sheet: at least 4 sheets.
    assert_eq!(
        (&found["bound"], &found["cost"]),
        (&json!(240), &json!(240))
    );
}

#[test]
fn the_same_request_gets_the_same_answer() {
    let request = instance("class-11-tags-40").to_string();
    let once = run(&QUICK, request.as_bytes());
    let again = run(&QUICK, request.as_bytes());
    assert_eq!((once.code, once.out == again.out), (Some(0), true));
}

#[test]
fn a_wide_blade_takes_its_width_at_every_cut() {
    let mut request = with(cards(), "/kerf", json!(3));
    request["stock"][0]["available"] = json!(9);
    cuts(&QUICK, &request);
}

#[test]
fn nothing_but_the_answer_is_written_where_nobody_looks() {
    let run = run(&["cuts"], cards().to_string().as_bytes());
    assert_eq!((run.code, run.err.as_str()), (Some(0), ""));
}

#[test]
fn a_wrong_field_is_named_and_quoted() {
    let wrong = |pointer: &str, value: Value| refused(&with(cards(), pointer, value));
    assert_snapshot!(wrong("/unit", json!("in")), @r#"unit: "in" is no unit here. Give "mm"; inches go into the lengths, such as "5 1/4 in"."#);
    assert_snapshot!(wrong("/stock", json!([])), @"stock: there is no sheet to cut from. Add at least one sheet size with its price.");
    assert_snapshot!(wrong("/parts", json!([])), @"parts: there is no part to cut. Add at least one part with a quantity above 0.");
    assert_snapshot!(wrong("/parts", json!("tag")), @r#"parts: "tag" is no list. Give one, such as [..]."#);
    assert_snapshot!(wrong("/parts/0/name", json!("tag")), @r#"parts[1].name: "tag" names two parts. Give each its own name."#);
    assert_snapshot!(wrong("/parts/0/width", json!("wide")), @r#"parts[0].width: "wide" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm."#);
    assert_snapshot!(wrong("/parts/0/width", json!(0)), @"parts[0].width: part card: the width 0 mm is not a size. Give a length above 0 and at most 10000 mm.");
    assert_snapshot!(wrong("/parts/0/width", json!(-3)), @r#"parts[0].width: "-3" is below zero. Type a length of 0 or more."#);
    assert_snapshot!(wrong("/parts/0/width", json!(400)), @"parts[0]: part card is 400 mm x 107.95 mm and fits no sheet either way round. Add a larger sheet, or make the part smaller.");
    assert_snapshot!(wrong("/parts/1/width", json!(0.001)), @"parts[1]: part tag is 0.001 mm x 50.8 mm, so small that a sheet 12 x 12 in holds more than 20000. Give a smaller sheet, or a larger part.");
    assert_snapshot!(wrong("/parts/1/quantity", json!(-1)), @r#"parts[1].quantity: "-1" is no whole number from 0 to 4294967295. Give one such as 14."#);
    assert_snapshot!(wrong("/parts/1/quantity", json!(1_000_001)), @"parts: 1000015 pieces are more than a plan takes. Ask for at most 1000000 in one job.");
    assert_snapshot!(wrong("/parts/1/turnable", json!("yes")), @r#"parts[1].turnable: "yes" is no answer. Give true, or false where print or grain forbids it."#);
    assert_snapshot!(wrong("/parts/1/turnable", Value::Null), @"parts[1].turnable: nothing is given. Give true, or false where print or grain forbids it.");
    assert_snapshot!(wrong("/stock/0/cost", json!(0)), @"stock[0].cost: sheet 12 x 12 in: the price 0 can't be used. Give a whole number from 1 to 1000000000, in the smallest coin.");
    assert_snapshot!(wrong("/stock/0/cost", json!(-4)), @r#"stock[0].cost: "-4" is no price. Give a whole number of the smallest coin, such as 45, or 1 to count sheets."#);
    assert_snapshot!(wrong("/stock/0/cost", Value::Null), @"stock[0].cost: nothing is given. Give a whole number of the smallest coin, such as 45, or 1 to count sheets.");
    assert_snapshot!(wrong("/stock/0/available", json!(0)), @"stock: there are too few sheets for part card: 14 of 14 can't be made. Make more sheets available.");
    assert_snapshot!(wrong("/stock/0/available", json!(1)), @"stock: there are too few sheets for part card: 13 of 14 can't be made. Make more sheets available.");
    assert_snapshot!(wrong("/stock/0/available", json!("few")), @r#"stock[0].available: "few" is no whole number from 0 to 4294967295. Give one such as 14."#);
    assert_snapshot!(wrong("/kerf", json!("200 mm")), @"kerf: the kerf 200 mm can't be used. Give 0 for a blade that takes nothing away, or at most 100 mm.");
    assert_snapshot!(wrong("/max_stages", json!(9)), @"max_stages: 9 phases of cuts are not offered. Give 1, 2 or 3, or leave it empty for any number.");
    assert_snapshot!(wrong("/max_stages", json!(1)), @"max_stages: part card can't be cut in 1 phase: it needs a trim. Allow one phase more.");
    assert_snapshot!(wrong("/max_stages", json!("many")), @r#"max_stages: "many" is no number of phases. Give 1, 2 or 3, or null for any number."#);
    let mut request = cards();
    request["parts"][0]["color"] = json!("moss");
    assert_snapshot!(refused(&request), @r#"parts[0]: "color" is no field here. The fields are name, width, height, quantity, turnable."#);
    request = cards();
    request["colour"] = json!("moss");
    assert_snapshot!(refused(&request), @r#"standard input: "colour" is no field here. The fields are name, unit, stock, parts, kerf, max_stages."#);
}

/// The limits: 1 000 sizes, 1 000 000 pieces, 50 sheet sizes; one more is refused.
#[test]
fn huge_jobs_are_answered_or_refused_within_seconds() {
    let part = |index: i64, quantity: u32| {
        json!({
            "name": format!("p{index}"), "width": 20.0 + index as f64 / 1000.0,
            "height": 31.0 + (index % 7) as f64, "quantity": quantity, "turnable": index % 2 == 0,
        })
    };
    let many = |sizes: i64, quantity: u32| {
        let parts: Vec<Value> = (0..sizes).map(|index| part(index, quantity)).collect();
        with(cards(), "/parts", Value::Array(parts))
    };
    let start = Instant::now();
    cuts(&QUICK, &with(cards(), "/parts/1/quantity", json!(999_900)));
    // Sizes that differ by a micrometre.
    cuts(&QUICK, &many(40, 5));
    cuts(&QUICK, &many(1_000, 1));
    assert_snapshot!(refused(&many(1_001, 1)), @"parts: 1001 part sizes are more than a plan takes. Give at most 1000, or plan them in several jobs.");
    assert_snapshot!(refused(&many(1_000, 1_001)), @"parts: 1001000 pieces are more than a plan takes. Ask for at most 1000000 in one job.");
    assert!(
        start.elapsed() < Duration::from_secs(60),
        "{:?}",
        start.elapsed()
    );
}
