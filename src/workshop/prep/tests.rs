//! Prep of whole classes.

use std::collections::HashSet;

use proptest::prelude::*;
use tablefold_geometry::{Length, Placed};

use super::*;
use crate::demo;
use crate::recipe::{Phase, StepEdit, ToolKind};
use crate::workshop::{packet, plan_now};

/// The steps of the seed box and the envelope up to a closed tag, all done beforehand.
fn all_in_prep(class: &mut ClassFacts) {
    let recipe = crate::recipe::Recipe::build(&class.project).expect("can be made");
    let edit = |step: &Step| StepEdit {
        key: step.operation.key.clone(),
        phase: Some(Phase::Prep),
        ..StepEdit::default()
    };
    class.project.edits = recipe.steps.iter().map(edit).collect();
}

fn prep_of(class: &ClassFacts) -> (Prep, Vec<Step>) {
    let packet = packet(class, &plan_now).expect("balances");
    (packet.prep, packet.recipe.steps)
}

/// Keys in the order of the batches.
fn keys<'a>(prep: &Prep, steps: &'a [Step]) -> Vec<&'a str> {
    let rows = prep.batches.iter().flat_map(|batch| &batch.rows);
    rows.map(|row| steps[row.step].operation.key.as_str())
        .collect()
}

#[test]
fn every_prep_step_is_in_one_batch_after_what_it_needs() {
    let mut class = demo::class(14);
    all_in_prep(&mut class);
    let (prep, steps) = prep_of(&class);
    let keys = keys(&prep, &steps);
    let cut = |step: &&Step| step.operation.verb == crate::recipe::Verb::CutToSize;
    assert_eq!(keys.len() + steps.iter().filter(cut).count(), steps.len());
    let mut done: HashSet<&str> = HashSet::new();
    done.extend(
        steps
            .iter()
            .filter(cut)
            .map(|step| step.operation.key.as_str()),
    );
    for key in keys {
        let step = steps
            .iter()
            .find(|step| step.operation.key == key)
            .expect("there");
        for before in &step.operation.after {
            assert!(done.contains(before.as_str()), "{key} before {before}");
        }
        assert!(done.insert(key), "{key} twice");
    }
    assert!(prep.set_ups.is_least(), "{:?}", prep.set_ups);
}

#[test]
fn two_pieces_with_the_same_settings_share_their_set_ups() {
    let mut class = demo::class(14);
    all_in_prep(&mut class);
    let (one, _) = prep_of(&class);
    let mut twin = class.project.pieces[0].clone();
    twin.id = 9;
    twin.name = "Second box".to_owned();
    class.project.pieces.push(twin);
    all_in_prep(&mut class);
    let (two, _) = prep_of(&class);
    assert_eq!(two.set_ups, one.set_ups);
    let rows = |prep: &Prep| {
        prep.batches
            .iter()
            .map(|batch| batch.rows.len())
            .sum::<usize>()
    };
    assert!(rows(&two) > rows(&one));
}

/// Strokes of the blade, 10 s each; sheets that are cut alike go under it together.
fn cut_strokes(prep: &Prep) -> u32 {
    let rows = prep.cuts.iter().flat_map(|cut| &cut.rows);
    rows.map(|row| row.strokes).sum()
}

#[test]
fn minutes_with_and_without_batches_are_as_added_up_by_hand() {
    let (prep, steps) = prep_of(&demo::class(14));
    // Punch 1 in 30 s, punch 1 1/4 in 30 s, scissors 15 s: once, or for each of 17 kits.
    assert_eq!((prep.set_ups.count, prep.set_ups.seconds), (3, 75));
    assert!(prep.set_ups.is_least());
    // Two squares, a band's length and width, tag and mat: 6 sizes, 60 s for each fence.
    assert_eq!(cuts::one_kit_set_up_seconds(&steps), 360);
    let cut_work: u32 = (40 + 40 + 30 + 25 + 25) * 17;
    let other_work: u32 = (15 + 15 + 15) * 17;
    let kit_by_kit = (75 + 360) * 17 + cut_work + other_work;
    assert_eq!(prep.kit_by_kit_minutes, kit_by_kit.div_ceil(60));
    assert_eq!(prep.cut_set_ups.seconds, prep.cut_set_ups.count * 60);
    assert_eq!(
        prep.cut_minutes,
        (cut_strokes(&prep) * 10 + prep.cut_set_ups.seconds).div_ceil(60)
    );
    let saved = prep.kit_by_kit_minutes - prep.minutes();
    assert_eq!(prep.saved_minutes(), saved);
    assert!(saved > 60, "{saved}");
}

#[test]
fn one_kit_alone_saves_nothing() {
    let mut class = demo::class(1);
    for colourway in &mut class.colourways {
        colourway.spare_kits = 0;
    }
    let (prep, _) = prep_of(&class);
    assert_eq!(prep.saved_minutes(), 0);
}

#[test]
fn counts_name_each_paper_with_its_colourways() {
    let (prep, _) = prep_of(&demo::class(14));
    let tag = prep.batches.iter().flat_map(|batch| &batch.rows);
    let tag = tag
        .clone()
        .find(|row| row.title == "Punch the tag")
        .expect("there");
    // All three colourways label with cream card: 6, 4 and 4 seats, a spare each.
    let own = |name: &str, n| (name.to_owned(), n);
    let colourways = vec![own("Meadow", 7), own("Clay pot", 5), own("Plum", 5)];
    let cream = BatchCount {
        from: "Cream card".to_owned(),
        count: 17,
        colourways,
    };
    assert_eq!((tag.count, tag.counts.as_slice()), (17, [cream].as_slice()));
}

#[test]
fn a_hidden_step_still_holds_apart_what_is_before_and_after_it() {
    let mut class = demo::class(4);
    all_in_prep(&mut class);
    for key in ["p1.punch-2", "p1.side-2", "p1.side-3"] {
        let edit = class.project.edits.iter_mut().find(|edit| edit.key == key);
        edit.expect("there").hidden = true;
    }
    let (prep, steps) = prep_of(&class);
    let keys = keys(&prep, &steps);
    let place = |key: &str| keys.iter().position(|other| *other == key);
    assert_eq!(place("p1.side-3"), None);
    assert!(place("p1.punch-1") < place("p1.side-4"));
    assert!(place("p1.side-4") < place("p1.tabs"));
}

#[test]
fn a_step_of_ones_own_keeps_its_place() {
    let mut class = demo::class(4);
    let own = StepEdit {
        key: "own-1".to_owned(),
        title: Some("Let the tags lie flat".to_owned()),
        text: Some("Lay a book on them.".to_owned()),
        phase: Some(Phase::Prep),
        ..StepEdit::default()
    };
    class.project.edits.push(own.clone());
    let (prep, steps) = prep_of(&class);
    assert_eq!(keys(&prep, &steps).last(), Some(&"own-1"));
    let place = steps
        .iter()
        .position(|s| s.operation.key == "p1.mat-stamp")
        .expect("there");
    class.project.edits[0].position = Some(place as f64 - 0.5);
    let (prep, steps) = prep_of(&class);
    let keys = keys(&prep, &steps);
    let at = |key: &str| keys.iter().position(|other| *other == key).expect("there");
    assert!(
        at("own-1") > at("p1.tag-stamp") && at("own-1") < at("p1.mat-stamp"),
        "{keys:?}"
    );
}

#[test]
fn batches_follow_the_facts_and_not_an_earlier_plan() {
    let mut class = demo::class(14);
    let before = prep_of(&class);
    class.project.edits.push(StepEdit {
        key: "p1.ribbon-cut".to_owned(),
        phase: Some(Phase::Class),
        ..StepEdit::default()
    });
    let (without, _) = prep_of(&class);
    assert_eq!(without.set_ups.count + 1, before.0.set_ups.count);
    class.project.edits.clear();
    assert_eq!(prep_of(&class).0, before.0);
}

#[test]
fn a_frame_is_the_blank_and_its_play_in_a_left_over() {
    let (prep, _) = prep_of(&demo::class(14));
    let rows = || prep.batches.iter().flat_map(|batch| &batch.rows);
    let frame = |title: &str| rows().find(|row| row.title == title)?.frame.clone();
    let frame_of_tag = frame("Punch the tag").expect("17 equal blanks");
    let inch_32 = |n| Length::inch_fraction(n, 32).expect("a length");
    // 1 in circle and 1/8 in all round; 1/32 in of play; 1/2 in of paper round the opening.
    assert_eq!(frame_of_tag.blank, (inch_32(40), inch_32(40)));
    assert_eq!(frame_of_tag.opening, (inch_32(41), inch_32(41)));
    assert_eq!(frame_of_tag.outside, (inch_32(73), inch_32(73)));
    assert_eq!(frame_of_tag.mark, Some(Length::inches(1)));
    assert_eq!(frame("Cut the ribbon"), None);
}

#[test]
fn boards_have_a_fence_and_need_no_frame() {
    let mut class = demo::class(14);
    all_in_prep(&mut class);
    let (prep, _) = prep_of(&class);
    let on_board = |batch: &&Batch| {
        matches!(
            batch.tool,
            Some(ToolKind::PunchBoard | ToolKind::ScoreBoard)
        )
    };
    let rows = prep.batches.iter().filter(on_board).flat_map(|b| &b.rows);
    assert!(rows.clone().count() > 8);
    assert!(rows.clone().all(|row| row.frame.is_none()));
}

#[test]
fn three_blanks_are_too_few_for_a_frame() {
    let mut class = demo::class(3);
    for colourway in &mut class.colourways {
        colourway.spare_kits = 0;
    }
    let (prep, _) = prep_of(&class);
    let rows = prep.batches.iter().flat_map(|batch| &batch.rows);
    assert!(rows.clone().count() > 0);
    assert!(rows.clone().all(|row| row.frame.is_none()));
}

#[test]
fn a_sheet_without_room_gives_no_frame() {
    let mut class = demo::class(14);
    // Sheets just large enough for the largest square leave strips alone.
    for colourway in &mut class.colourways {
        for stock in colourway.papers.values_mut() {
            (stock.paper.width, stock.paper.height) = (Length::inches(2), Length::inches(11));
        }
    }
    for piece in &mut class.project.pieces {
        piece.spec.band = None;
    }
    // The squares need their own large paper: only the tag's papers are narrow.
    let large = demo::class(1).colourways[0].papers["main"].clone();
    for colourway in &mut class.colourways {
        let mut main = large.clone();
        (main.paper.width, main.paper.height) = (Length::inches(6), Length::inches(6));
        colourway.papers.insert("main".to_owned(), main);
    }
    let (prep, _) = prep_of(&class);
    let rows = prep.batches.iter().flat_map(|batch| &batch.rows);
    assert!(rows.clone().all(|row| row.frame.is_none()));
}

#[test]
fn a_punched_blank_lies_in_the_waste_it_came_out_of() {
    let class = demo::class(14);
    let packet = packet(&class, &plan_now).expect("balances");
    let mut steps = packet.recipe.steps.clone();
    // A second mark on the punched tag: a hole for the ribbon.
    let stamp = steps
        .iter()
        .find(|step| step.operation.key == "p1.tag-stamp");
    let mut hole = stamp.expect("there").clone();
    hole.operation.key = "p1.tag-hole".to_owned();
    hole.operation.title = "Punch a hole in the tag".to_owned();
    hole.operation.tool = Some(ToolKind::HolePunch);
    hole.operation.settings = vec![Length::from_mm(3)];
    hole.operation.after = vec!["p1.tag-stamp".to_owned()];
    steps.push(hole);
    let prep = prep(&class, &packet.recipe.parts, &steps, &packet.pull);
    let mut rows = prep.batches.iter().flat_map(|batch| &batch.rows);
    let row = rows
        .find(|row| row.title == "Punch a hole in the tag")
        .expect("there");
    let frame = row.frame.as_ref().expect("a frame");
    let inch = Length::inches(1);
    assert_eq!((frame.blank, frame.opening), ((inch, inch), (inch, inch)));
    let part = "Seed box: tag".to_owned();
    assert_eq!(frame.from, FrameFrom::Punched { part });
}

#[test]
fn helpers_keys_are_named_apart() {
    let (prep, _) = prep_of(&demo::class(14));
    let keys: Vec<String> = prep.cuts.iter().map(CutBatch::key).collect();
    let once: HashSet<&String> = keys.iter().collect();
    assert_eq!(once.len(), keys.len());
    let nm = prep.cuts[0].setting.nm();
    assert_eq!(keys[0], format!("cut-{nm}"));
}

proptest! {
    /// Against a look at every whole millimetre of a small sheet.
    #[test]
    fn a_left_over_is_found_where_one_is(
        parts in prop::collection::vec((0i64..18, 0i64..14, 1i64..9, 1i64..9), 0..6),
        width in 1i64..12,
        height in 1i64..12,
    ) {
        let mm = Length::from_mm;
        let placed: Vec<Placed> = parts.iter().map(|&(x, y, w, h)| Placed {
            demand: 0,
            x: mm(x),
            y: mm(y),
            width: mm(w.min(20 - x)),
            height: mm(h.min(16 - y)),
            turned: false,
        }).collect();
        let is_free = |x: i64, y: i64| (x..x + width).all(|cx| (y..y + height).all(|cy| {
            parts.iter().all(|&(px, py, w, h)| {
                cx < px || cx >= px + w || cy < py || cy >= py + h
            })
        }));
        let there = (0..=20 - width).any(|x| (0..=16 - height).any(|y| is_free(x, y)));
        let found = frame::has_left((mm(20), mm(16)), &placed, (mm(width), mm(height)));
        prop_assert_eq!(found, there);
    }
}
