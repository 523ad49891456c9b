//! The drawer with sleeve against figures by hand, its own checks, and settings that make none.

use proptest::prelude::*;

use super::test_support::*;
use super::*;
use crate::sizing::Wanted;
use crate::{ContentsBox, Length, PunchBoard, Ruler, Trimmer, Unit, fold, fold_closed};

fn settings(tenths_mm: [i64; 8]) -> Settings {
    Settings::of(Drawer::KIND, &tenths_mm.map(tenths))
}

fn drawer(tenths_mm: [i64; 8]) -> Result<Drawer, StructureError> {
    Drawer::new(settings(tenths_mm), &tools(), tenths(3))
}

const BY_HAND: [i64; 8] = [1107, 907, 252, 1858, 406, 619, 889, 190];

/// Geometry: outside = inside + 2 t for each pair of walls. Drawer 60 x 40 between the walls, t
/// 0.3: outside 60.6 x 40.6; a floor of 0.3 under 25.2 from crease to rim: 25.35. The sleeve's
/// walls stand 61.9 apart, which leaves 61.6; its top and bottom 27, which with the flap leave
/// 26.4 (worked by hand).
#[test]
fn sleeve_is_larger_than_the_drawer_by_its_play() {
    let made = drawer(BY_HAND).unwrap();
    let near = |have: f64, want: f64| assert!((have - want).abs() < 1e-9, "{have} {want}");
    let (width, length, depth) = made.drawer_outside_mm();
    near(width, 60.6);
    near(length, 40.6);
    near(depth, 25.35);
    let (width, depth) = made.sleeve_inside_mm();
    near(width, 61.6);
    near(depth, 26.4);
    let (width, depth) = made.play_mm();
    near(width, 1.0);
    near(depth, 1.05);
    let inside = made.inside();
    near(inside.width, 60.0);
    near(inside.length, 39.4);
    near(inside.depth, 25.05);
}

#[test]
fn a_drawer_folds_and_slides_in_its_sleeve() {
    let made = made(settings(BY_HAND));
    insta::assert_snapshot!(verdicts(&made, &filled(made.inside())), @"
    flat true 0.00: 9 panels lie flat side by side; panels and waste make up the sheet of 10040.5 mm².
    hinges true 0.00: 4 creases hold their panels together at 16 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 5.00: 1 glue zones are wide enough by 5.0 mm or more and in reach.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    nests true 0.00: What goes into each other has 0.00 mm to spare beyond its play.
    ");
    insta::assert_snapshot!(told(made.body("sleeve"), &tools().trimmer), @"
    Score 61.9 mm from the right edge.
    Score 88.9 mm from the right edge.
    Score 150.8 mm from the right edge.
    Score 177.8 mm from the right edge.
    Cut away half of a circle for the thumb, at the bottom edge halfway between the second and the third score.
    Cut away a slanting sliver at both ends of the glue flap.
    Fold each score and press it sharp, then open it.
    Fold: the left side over, flat on the top.
    Glue: glue flap on the bottom.
    Fold: the bottom over, onto the glue flap.
    Fold: the tube open, until it stands square.
    Put the drawer into the sleeve.
    ");
}

/// The tube is a parallelogram at every moment while it opens: flap and bottom stay together.
#[test]
fn the_glued_seam_holds_while_the_tube_opens() {
    let made = made(settings(BY_HAND));
    let pattern = &made.body("sleeve").unwrap().pattern;
    let [flap, bottom] = ["glue flap", "bottom"].map(|name| pattern.panel_named(name).unwrap().0);
    let seam = |angles: &[f64]| {
        let folded = fold(pattern, angles);
        let corner = pattern.glue[0].area[0];
        let at = folded.pose(flap).unwrap().place(corner);
        folded.pose(bottom).unwrap().flat_of(at)
    };
    let (glued, height) = seam(&pattern.angles_after(2));
    assert!(height.abs() < 1e-9);
    for part in [0.1, 0.35, 0.5, 0.8, 1.0] {
        let (now, height) = seam(&pattern.angles_during(2, part));
        assert!(
            (now - glued).hypot() < 1e-9 && height.abs() < 1e-9,
            "{part}"
        );
    }
}

/// The tube holds width x depth x length by the divergence theorem, and the notch is half of a
/// circle of 19 mm to what its chords lose.
#[test]
fn the_sleeve_is_a_tube_with_half_a_circle_out_of_its_top() {
    let made = made(settings(BY_HAND));
    let pattern = &made.body("sleeve").unwrap().pattern;
    let volume = fold_closed(pattern).volume_of_solid(pattern);
    assert!(
        (volume / (61.9 * 27.0 * 40.6) - 1.0).abs() < 1e-9,
        "{volume}"
    );
    let (_, top) = pattern.panel_named("top").unwrap();
    let gone = 61.9 * 40.6 - crate::signed_area(&top.outline);
    let half_circle = std::f64::consts::PI * 9.5 * 9.5 / 2.0;
    assert!(gone < half_circle && gone > 0.998 * half_circle, "{gone}");
}

#[test]
fn what_cannot_be_a_drawer_says_what_would_do() {
    let wrong = |change: usize, to: i64| {
        let mut at = BY_HAND;
        at[change] = to;
        let error = drawer(at).unwrap_err();
        refusal(&error)
    };
    insta::assert_snapshot!(wrong(0, 0), @"drawer_width: Drawer width of 0 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(wrong(2, 40), @"drawer_score: Drawer score at 4 mm is too little: the corner tabs have no room for glue. Set 5.5 mm or more.");
    insta::assert_snapshot!(wrong(1, 600), @"drawer_length: Drawer length of 60 mm is too little: so short a drawer tips in its sleeve. Set 65.4 mm or more.");
    insta::assert_snapshot!(wrong(3, 1857), @"sleeve_width: Sleeve width of 185.7 mm is too little: the four panels leave no flap to glue. Set 185.8 mm or more.");
    insta::assert_snapshot!(wrong(3, 2500), @"sleeve_width: Sleeve width of 250 mm is too much: the glue flap is wider than the bottom. Set 239.7 mm or less.");
    insta::assert_snapshot!(wrong(4, 405), @"sleeve_length: Sleeve length of 40.5 mm is too little: the drawer sticks out of the sleeve. Set 40.6 mm or more.");
    insta::assert_snapshot!(wrong(4, 500), @"sleeve_length: Sleeve length of 50 mm is too much: the drawer is out of reach in the sleeve. Set 46.6 mm or less.");
    insta::assert_snapshot!(wrong(5, 618), @"sleeve_first_score: Sleeve first score at 61.8 mm is too little: the drawer does not go into the sleeve. Set 61.9 mm or more.");
    insta::assert_snapshot!(wrong(5, 700), @"sleeve_first_score: Sleeve first score at 70 mm is too much: the drawer is loose in the sleeve. Set 68.9 mm or less.");
    insta::assert_snapshot!(wrong(6, 888), @"sleeve_second_score: Sleeve second score at 88.8 mm is too little: the drawer does not go into the sleeve. Set 88.9 mm or more.");
    insta::assert_snapshot!(wrong(6, 1000), @"sleeve_second_score: Sleeve second score at 100 mm is too much: the drawer is loose in the sleeve. Set 95.8 mm or less.");
    insta::assert_snapshot!(wrong(7, 90), @"notch_circle: Notch circle of 9 mm is too little: no finger gets hold of the drawer. Set 10 mm or more.");
    insta::assert_snapshot!(wrong(7, 500), @"notch_circle: Notch circle of 50 mm is too much: the notch leaves too little of the top. Set 40.6 mm or less.");
    let score = Ruler::new(Unit::Millimetre, tenths(1), Length::ZERO, tenths(1700)).unwrap();
    let short = Tools {
        score: Some(score),
        ..tools()
    };
    let error = Drawer::new(settings(BY_HAND), &short, tenths(3)).unwrap_err();
    insta::assert_snapshot!(error, @"Sleeve second score at 88.9 mm is too much: the last score, twice as far from the edge, is out of the board's reach. Set 85 mm or less.");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn any_drawer_folds_keeps_its_paper_and_slides(
        floor in (120_i64..2000, 160_i64..2000), score in 56_i64..900, caliper in 1_i64..8,
        play in (10_i64..70, 16_i64..70), flap in 80_i64..120, over in 0_i64..50,
        notch in 100_i64..300,
    ) {
        let first = floor.0 + 2 * caliper + play.0;
        let second = first + score + 3 * caliper + play.1;
        let at = [
            floor.0 + 2 * score, floor.1 + 2 * score, score,
            2 * second + flap, floor.1 + caliper + over, first, second, notch,
        ];
        let made = Structure::new(settings(at), &tools(), tenths(caliper));
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        assert_just_fit(&made, filled(made.inside()), [0.0, 0.0, 1e-3]);
        assert_folds_round_its_volume(&made);
    }

    #[test]
    fn any_settings_at_all_make_a_drawer_or_a_refusal(
        at in prop::array::uniform8(-5_i64..3000), caliper in -1_i64..40,
    ) {
        assert_sound_or_refused(Drawer::KIND, Structure::new(settings(at), &tools(), tenths(caliper)));
    }

    /// Near the edge of what can be made, where one setting is off: what is made also folds, and
    /// what is refused names that setting or one that it is measured against.
    #[test]
    fn one_setting_off_is_refused_or_still_folds(which in 0_usize..8, off in -40_i64..40) {
        let mut at = BY_HAND;
        at[which] += off;
        assert_sound_or_mended(Structure::new(settings(at), &tools(), tenths(3)));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Every drawer on a grid round about the least: one that is offered has no larger sheet in any
    /// measure, and no more room left over.
    #[test]
    fn no_drawer_on_the_grid_beats_what_is_offered(
        block in (20_i64..900, 20_i64..900, 20_i64..600), caliper in 1_i64..8,
    ) {
        let (tools, t) = (coarse_tools(600), caliper as f64 / 10.0);
        let block_mm = [block.0, block.1, block.2].map(|side| side as f64 / 10.0);
        let wanted = Wanted { block_mm, round: false, ball: false, fit: crate::Fit::default(), caliper: tenths(caliper), tools: &tools };
        let offers = Drawer::KIND.family().offers(&wanted);
        prop_assert!(!offers.found.is_empty());
        for offer in &offers.found {
            let made = Structure::new(offer.settings, &tools, tenths(caliper)).unwrap();
            let [x, y, z] = block_mm;
            let checks = made.checks(Some(&ContentsBox { x, y, z }));
            prop_assert_eq!(faults(&checks), Vec::<String>::new(), "{:?}", offer.settings);
        }
        let mut seen = 0;
        for score in marks_from(block_mm[2], 2, 8) {
            for w in marks_from(block_mm[0].max(10.0) + 2.0 * score as f64, 3, 5) {
                for l in marks_from(block_mm[1].max(12.0) + 2.0 * score as f64, 3, 5) {
                    for first in marks_from((w - 2 * score) as f64, 2, 5) {
                        for second in marks_from((first + score) as f64, 2, 4) {
                            for sheet in marks_from((2 * second) as f64 + 6.0, 3, 3) {
                                let long = marks_from((l - 2 * score) as f64, 3, 2).nth(1).unwrap();
                                let at = [w, l, score, sheet, long, first, second, 10];
                                let at = Settings::of(Drawer::KIND, &at.map(Length::from_mm));
                                let Ok(made) = Drawer::new(at, &tools, tenths(caliper)) else {
                                    continue;
                                };
                                let room = [w - 2 * score, l - 2 * score, score].map(|n| n as f64);
                                let spare = [
                                    room[0] - t - block_mm[0],
                                    room[1] - 3.0 * t - block_mm[1],
                                    room[2] - t / 2.0 - block_mm[2],
                                ];
                                if spare.iter().any(|spare| *spare < -1e-9) {
                                    continue;
                                }
                                seen += 1;
                                let loose = spare.into_iter().fold(0.0, f64::max);
                                prop_assert!(
                                    offers.found.iter().any(|it| is_no_worse(it, &made.blanks(), loose, block_mm)),
                                    "{made:?}"
                                );
                            }
                        }
                    }
                }
            }
        }
        prop_assert!(seen > 0);
    }
}

/// A seed tin of 40 x 70 x 20 mm with 1 mm of play, card of 0.3 mm, marks each 1 mm. By hand:
/// depth 21 + 0.15 up to 22; floor 41 + 0.3 up to 42 (sheet 86) by 71 + 0.9 up to 72 (sheet 116);
/// over the walls 42.3 x 72.3 x 22.15; sleeve 42.3 + 0.3 + 1 up to 44, sides 22.15 + 0.6 + 1 up
/// to 24, so 2 (44 + 24) + 8 = 144 wide and 73 long. The other way round the same drawer slides
/// along its short side, and the sleeve is 2 (74 + 24) + 8 = 204 by 43: 8772 mm², not 10 512.
#[test]
fn a_seed_tin_gets_the_drawer_worked_by_hand() {
    let mm = Length::from_mm;
    let millimetres = Ruler::millimetre();
    let tools = Tools::new(
        PunchBoard::default_metric(),
        millimetres,
        &Trimmer::new(millimetres),
    );
    let lengthways = Wanted {
        block_mm: [41.0, 71.0, 21.0],
        round: false,
        ball: false,
        fit: crate::Fit::default(),
        caliper: tenths(3),
        tools: &tools,
    };
    let marks = |settings: &Settings| {
        let each = settings.list().into_iter().map(|(_, at)| at.mm());
        each.collect::<Vec<_>>()
    };
    let offered = Drawer::KIND.family().offers(&lengthways).found;
    let offered: Vec<_> = offered.iter().map(|it| marks(&it.settings)).collect();
    assert_eq!(
        offered,
        [[86.0, 116.0, 22.0, 144.0, 73.0, 44.0, 68.0, 20.0]]
    );
    let request = crate::SizingRequest {
        contents: crate::Contents::Block {
            width: mm(40),
            depth: mm(20),
            height: mm(70),
        },
        structure: Some(Drawer::KIND),
        clearance: mm(1),
        fit: crate::Fit::default(),
        caliper: tenths(3),
        tools,
        sheets: vec![crate::Stock {
            name: "A4".to_owned(),
            width: mm(210),
            height: mm(297),
            price: None,
            turnable: true,
        }],
        makes: 1,
    };
    let sizing = crate::size(&request).unwrap();
    assert_eq!(
        marks(&sizing.answers[0].settings),
        [116.0, 86.0, 22.0, 204.0, 43.0, 74.0, 98.0, 20.0]
    );
}
