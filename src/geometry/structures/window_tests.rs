//! Windows in lids: what is cut, what stays, what is refused.

use std::f64::consts::PI;

use proptest::prelude::*;

use super::test_support::*;
use super::*;
use crate::{
    Face, Length, Pattern, SizingRequest, WasteReason, fold_check, pattern_lines, signed_area, size,
};

/// The tray of `tray_tests.rs`: its lid is 61.4 x 42 mm from crease to crease.
const TRAY: [i64; 6] = [1107, 907, 252, 914, 720, 150];
/// The box of `hexagon_tests.rs`: its lid is 71.7 mm across flats.
const HEXAGON: [i64; 6] = [1328, 1300, 300, 1088, 1017, 150];

fn with_window(
    kind: StructureKind,
    at: [i64; 6],
    window: i64,
    caliper: i64,
) -> Result<Structure, StructureError> {
    let settings = Settings::of(kind, &at.map(tenths)).with_opening(Some(tenths(window)));
    Structure::new(settings, &tools(), tenths(caliper))
}

fn lid(made: &Structure) -> &Body {
    made.body("lid").unwrap()
}

/// The outline of the only window.
fn window(pattern: &Pattern) -> &[crate::Point] {
    let windows: Vec<_> = pattern.windows().collect();
    assert_eq!(windows.len(), 1);
    &windows[0].0.outline
}

#[test]
fn a_lid_with_a_window_folds_and_is_shut_but_for_it() {
    let made = with_window(Tray::KIND, TRAY, 200, 3).unwrap();
    insta::assert_snapshot!(verdicts(&made, &filled(made.inside())), @"
    flat true 0.00: 9 panels lie flat side by side; panels and waste make up the sheet of 10040.5 mm².
    hinges true 0.00: 8 creases hold their panels together at 16 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 12.00: 4 glue zones are wide enough by 12.0 mm or more and in reach.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    nests true 0.00: What goes into each other has 0.00 mm to spare beyond its play.
    ");
    insta::assert_snapshot!(told([lid(&made)], &tools().trimmer), @"
    Cut out the window in the lid, 20 mm wide, along the template.
    Score 15 mm from each of the four edges.
    Cut the slits at the four corners, from the edge to the first score.
    Fold each score and press it sharp, then open it.
    Glue a square of clear film of 36 mm over the window.
    Fold: both side walls up.
    Fold: all four tabs in.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Glue: tab on end wall.
    Fold: both end walls up.
    Put the lid over the base.
    ");
    let plain = super::test_support::made(Settings::of(Tray::KIND, &TRAY.map(tenths)));
    assert_eq!(plain.main(), made.main(), "the base has none");
}

/// π d² / 4, by a polygon of 36 corners on the round: sin 10° · 18 / π of it (worked from 36
/// triangles of r² sin 10° / 2), that is 0.51 % less.
#[test]
fn a_window_is_as_large_as_a_polygon_of_36_corners_in_its_round() {
    for (kind, at) in [(Tray::KIND, TRAY), (Hexagon::KIND, HEXAGON)] {
        let made = with_window(kind, at, 200, 3).unwrap();
        let outline = window(&lid(&made).pattern);
        assert_eq!(outline.len(), 36);
        let area = signed_area(outline);
        let round = PI * 20.0 * 20.0 / 4.0;
        assert!((area / round - 0.994_931).abs() < 1e-6, "{area} {round}");
        for p in outline {
            assert!((p.to_vec2().hypot() - 10.0).abs() < 1e-9, "{p:?}");
        }
    }
}

/// A blade follows the round. Sagitta of a chord c in a circle of radius r: r − √(r² − c²/4).
#[test]
fn a_window_is_cut_round_to_a_fiftieth_of_a_millimetre() {
    let tray = [1107 + 400, 907 + 400, 252, 914 + 400, 720 + 400, 150];
    for across in [200, 500] {
        let made = with_window(Tray::KIND, tray, across, 3).unwrap();
        let lines = pattern_lines(&lid(&made).pattern);
        let (round, radius) = (&lines.outlines[0], across as f64 / 20.0);
        let next = round.iter().cycle().skip(1);
        for (a, b) in round.iter().zip(next) {
            assert!((a.to_vec2().hypot() - radius).abs() < 1e-6, "{a:?}");
            let half = (*b - *a).hypot() / 2.0;
            let sag = radius - (radius * radius - half * half).sqrt();
            assert!(sag < 0.02 + 1e-9, "{across}: {sag}");
        }
        assert!((signed_area(round).abs() / (PI * radius * radius) - 1.0).abs() < 0.003);
    }
}

/// What is cut out is paper that the lid without a window has.
#[test]
fn a_window_takes_its_area_from_the_panels_and_nothing_else() {
    let paper = |pattern: &Pattern| -> f64 {
        let panels = pattern.panels.iter();
        panels.map(|panel| signed_area(&panel.outline)).sum()
    };
    for (kind, at) in [(Tray::KIND, TRAY), (Hexagon::KIND, HEXAGON)] {
        let made = with_window(kind, at, 200, 3).unwrap();
        let plain = super::test_support::made(Settings::of(kind, &at.map(tenths)));
        let [with, without] = [&made, &plain].map(|it| paper(&lid(it).pattern));
        let cut = signed_area(window(&lid(&made).pattern));
        assert!(
            (without - with - cut).abs() < 1e-9,
            "{without} {with} {cut}"
        );
    }
}

#[test]
fn a_hole_that_is_no_window_leaves_the_lid_open() {
    let made = with_window(Tray::KIND, TRAY, 200, 3).unwrap();
    let mut holed = lid(&made).pattern.clone();
    for waste in &mut holed.waste {
        waste.why = WasteReason::Shape;
    }
    insta::assert_snapshot!(faults(&fold_check(&holed, None)).join("\n"), @"closed: 12.121 % of the front is open.");
}

#[test]
fn a_window_that_something_shuts_is_no_window() {
    let made = with_window(Tray::KIND, TRAY, 200, 3).unwrap();
    let mut shut = lid(&made).pattern.clone();
    let tab = shut.panels.iter().position(|it| it.name == "top left tab");
    shut.panels[tab.unwrap()].plane = Some(Face::Front);
    let says = faults(&fold_check(&shut, None)).join("\n");
    assert!(
        says.contains("top left tab does not lie in the front"),
        "{says}"
    );
    let mut waste = lid(&made).pattern.clone();
    let window = waste.waste.iter_mut();
    for window in window.filter(|it| it.why == WasteReason::Window) {
        // One corner stays where the panel beside it is; the others lie over paper.
        for p in window.outline.iter_mut().skip(1) {
            p.y *= 1.2;
        }
    }
    insta::assert_snapshot!(faults(&fold_check(&waste, None)).join("\n"), @"
    flat: Bits of waste lie over each other on the flat sheet by 62.408621 mm².
    closed: 62.409 mm² of the window in the front are shut.
    ");
}

#[test]
fn what_cannot_be_a_window_says_what_would_do() {
    let wrong = |kind, at, window| refusal(&with_window(kind, at, window, 3).unwrap_err());
    insta::assert_snapshot!(wrong(Tray::KIND, TRAY, 99), @"window: Window of 9.9 mm is too little: so small a window shows nothing. Set 10 mm or more.");
    insta::assert_snapshot!(wrong(Tray::KIND, TRAY, 221), @"window: Window of 22.1 mm is too much: 10 mm of paper has to stay all round it. Set 22 mm or less.");
    insta::assert_snapshot!(wrong(Tray::KIND, TRAY, -5), @"window: Window of -0.5 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(wrong(Hexagon::KIND, HEXAGON, 359), @"window: Window of 35.9 mm is too much: the film behind it, 8 mm wider all round, does not lie between the walls. Set 35.8 mm or less.");
    for (kind, at, most) in [(Tray::KIND, TRAY, 220), (Hexagon::KIND, HEXAGON, 358)] {
        let made = with_window(kind, at, most, 3).unwrap();
        assert_eq!(faults(&made.checks(None)), [""; 0]);
        assert!(with_window(kind, at, most + 1, 3).is_err());
    }
}

#[test]
fn settings_without_a_window_are_written_as_they_were() {
    let plain = Settings::of(Tray::KIND, &TRAY.map(tenths));
    let text = serde_json::to_string(&plain).unwrap();
    assert!(!text.contains("window"), "{text}");
    let with = plain.with_opening(Some(tenths(200)));
    for settings in [plain, with] {
        let text = serde_json::to_string(&settings).unwrap();
        assert_eq!(serde_json::from_str::<Settings>(&text).unwrap(), settings);
        let lengths: Vec<Length> = settings.each().map(|(_, at)| at).collect();
        assert_eq!(Settings::new(Tray::KIND, &lengths), Some(settings));
    }
    assert_eq!(with.list().last(), Some(&("window", tenths(200))));
    assert_eq!(with.with_opening(None), plain);
    let drawer = Settings::of(Drawer::KIND, &[tenths(500); 8]);
    assert_eq!(drawer.with_opening(Some(tenths(200))), drawer);
}

/// Hands that are off fit a lid as well with a window as without, even the largest one there can
/// be.
#[test]
fn a_window_changes_nothing_in_how_a_lid_fits() {
    for (kind, at, most) in [(Tray::KIND, TRAY, 220), (Hexagon::KIND, HEXAGON, 358)] {
        let settings = Settings::of(kind, &at.map(tenths)).with_opening(Some(tenths(most)));
        let off = |settings| Structure::off(settings, &tools(), tenths(3)).unwrap();
        assert_eq!(off(settings), off(settings.with_opening(None)));
    }
}

fn asked(structure: Option<StructureKind>, window: i64) -> SizingRequest {
    let sides = [600, 400, 250].map(tenths);
    let mut request = in_eighths(Tray::KIND, sides, 160, 4);
    request.structure = structure;
    request.fit.window = Some(tenths(window));
    request
}

#[test]
fn of_all_structures_those_with_a_window_answer_and_the_others_say_that_they_have_none() {
    let found = size(&asked(None, 200)).unwrap();
    let mut kinds: Vec<&str> = found.answers.iter().map(|it| it.kind().slug()).collect();
    kinds.sort_unstable();
    assert_eq!(kinds, ["hexagon", "tray"]);
    for answer in &found.answers {
        assert_eq!(answer.settings.opening(), Some(tenths(200)));
        assert!(
            answer
                .structure
                .body("lid")
                .unwrap()
                .pattern
                .windows()
                .count()
                == 1
        );
    }
    let told = found
        .refused
        .iter()
        .find(|it| it.structure.slug() == "pouch");
    insta::assert_snapshot!(told.unwrap(), @"The pillow pouch has no window. Leave the window out.");
    let refused = found.refused.iter().map(|it| it.structure);
    assert_eq!(refused.count(), StructureKind::all().len() - 2);
}

#[test]
fn a_window_too_large_for_the_contents_says_how_large_it_can_be() {
    let found = size(&asked(Some(Tray::KIND), 900)).unwrap();
    assert!(found.answers.is_empty());
    insta::assert_snapshot!(found.refused[0], @"The tray with lid cannot be made for these contents. Window of 90 mm is too much: 10 mm of paper has to stay all round it. Set 1 in or less.");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn any_lid_with_a_window_folds_is_shut_but_for_it_and_keeps_its_paper(
        floor in (320_i64..1500, 320_i64..1500), score in 56_i64..500, part in 0.0..1.0_f64,
        caliper in 1_i64..8, is_hexagon: bool,
    ) {
        let (kind, at, top) = if is_hexagon {
            let wide = |flats: i64| flats * 12 / 10 + 2 * score + 100;
            let (score, flats) = (score.max(85), floor.0);
            let over = flats + 4 * caliper + 10;
            let at = [wide(flats), flats + 2 * score, score, wide(over), over + 2 * score, score];
            (Hexagon::KIND, at, over * 7 / 10)
        } else {
            let over = (floor.0 + 2 * caliper + 10, floor.1 + 4 * caliper + 10);
            let base = (floor.0 + 2 * score, floor.1 + 2 * score);
            let at = [base.0, base.1, score, over.0 + 2 * score, over.1 + 2 * score, score];
            (Tray::KIND, at, over.0.min(over.1))
        };
        let window = 100 + (part * (top - 300 - 4 * caliper).max(0) as f64) as i64;
        let made = with_window(kind, at, window, caliper);
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        prop_assert_eq!(faults(&made.checks(Some(&filled(made.inside())))), Vec::<String>::new());
        assert_folds_round_its_volume(&made);
        let pattern = &lid(&made).pattern;
        let paper = pattern.panels.iter().map(|it| &it.outline);
        let all = paper.chain(pattern.waste.iter().map(|it| &it.outline));
        let sum: f64 = all.map(|it| signed_area(it)).sum();
        prop_assert!((sum - signed_area(&pattern.blank)).abs() < 1e-6);
    }

    #[test]
    fn any_window_at_all_is_made_or_refused(window in -50_i64..3000, caliper in 1_i64..8) {
        for (kind, at) in [(Tray::KIND, TRAY), (Hexagon::KIND, HEXAGON)] {
            match with_window(kind, at, window, caliper) {
                Ok(made) => prop_assert_eq!(faults(&made.checks(None)), Vec::<String>::new()),
                Err(error) => prop_assert!(error.to_string().ends_with('.')),
            }
        }
    }
}
