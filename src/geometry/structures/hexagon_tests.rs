//! The six-sided box against figures by hand, its own checks, and settings that make none.

use proptest::prelude::*;

use super::hexagon_pattern::HexTray;
use super::test_support::*;
use super::*;
use crate::sizing::Wanted;
use crate::{
    ContentsBox, Folded, Length, PunchBoard, Ruler, Trimmer, Vec3, enclosed_volume, fold_closed,
};

fn settings(tenths_mm: [i64; 6]) -> Settings {
    Settings::of(Hexagon::KIND, &tenths_mm.map(tenths))
}

fn hexagon(tenths_mm: [i64; 6]) -> Result<Hexagon, StructureError> {
    Hexagon::new(settings(tenths_mm), &tools(), tenths(3))
}

/// 70 across flats and 30 deep; the lid 71.7 across flats and 15 deep.
const BY_HAND: [i64; 6] = [1328, 1300, 300, 1088, 1017, 150];

fn near(have: f64, want: f64) {
    assert!((have - want).abs() < 1e-6, "{have} {want}");
}

/// By hand from f = √3 a: across flats 70, a side is 70/√3 = 40.414 519, the floor
/// (√3/2) f² = 4243.524 478 mm² and the volume 30 times that. The sheet is 2 a + √3 d =
/// 132.790 562 wide. Lid across flats, clear: base outside 70.3 + play; its creases stand 3 t
/// wider: 70.3 + 0.5 + 0.9 = 71.7.
#[test]
fn lid_is_wider_across_flats_than_base_by_the_card_and_its_play() {
    let made = hexagon(BY_HAND).unwrap();
    near(made.side_mm(), 40.414_518_843);
    near(made.volume_mm3(), 30.0 * 4_243.524_478_540);
    near(made.across_flats_mm(), 69.1);
    near(made.play_mm(), 0.5);
    let base = HexTray::of((tenths(1328), tenths(1300)), tenths(300), tenths(3));
    near(base.least_width(), 132.790_561_913);
    // Between bare walls the lid is wider than the base by 2 t, 2 t for its tabs, and its play.
    near(71.7 - 70.0, 4.0 * 0.3 + made.play_mm());
}

/// A hexagon is six triangles of (√3/4) a². By hand: 70 across flats and 30 deep hold
/// 127 305.734 mm³; a side of 100 and 10 deep hold (3 √3/2) 100² 10 = 259 807.621 mm³ (the
/// nearest setting is 173.2 across flats, not 173.205 081). Once more from walls and floor
/// alone, as triangles seen from a point of the rim plane.
#[test]
fn the_base_holds_three_root_three_halves_of_its_side_squared_times_its_depth() {
    let hundred = [2200, 1932, 100, 2300, 1942, 100];
    for (at, want) in [
        (BY_HAND, 127_305.734_356),
        (hundred, 259_807.621 * (173.2 / 173.205_081_f64).powi(2)),
    ] {
        let caliper = if at == BY_HAND { 3 } else { 1 };
        let structure = Structure::new(settings(at), &tools(), tenths(caliper));
        let structure = structure.unwrap_or_else(|error| panic!("{error}"));
        let pattern = structure.pattern();
        let folded = fold_closed(pattern);
        let volumes = [
            structure.volume_mm3(),
            folded.volume_of_solid(pattern),
            walls_and_floor(pattern, &folded),
        ];
        for volume in volumes {
            assert!((volume / want - 1.0).abs() < 1e-7, "{volume} {want}");
        }
    }
}

fn walls_and_floor(pattern: &crate::Pattern, folded: &Folded) -> f64 {
    let rim = folded
        .panels()
        .iter()
        .flatten()
        .map(|p| p.z)
        .fold(0.0, f64::max);
    let from = Vec3::new(0.0, 0.0, rim);
    let walls = pattern.panels.iter().zip(folded.panels());
    let walls = walls.filter(|(panel, _)| panel.role == crate::PanelRole::Wall);
    let triangles: Vec<[Vec3; 3]> = walls
        .flat_map(|(_, corners)| {
            let at = |i: usize| corners[i] - from;
            // Counter-clockwise seen from inside.
            (1..corners.len() - 1)
                .map(|i| [at(0), at(i + 1), at(i)])
                .collect::<Vec<_>>()
        })
        .collect();
    enclosed_volume(&triangles)
}

#[test]
fn a_six_sided_box_folds_and_its_lid_goes_over() {
    let made = made(settings(BY_HAND));
    insta::assert_snapshot!(verdicts(&made, &filled(made.inside())), @"
    flat true 0.00: 13 panels lie flat side by side; panels and waste make up the sheet of 17264.0 mm².
    hinges true 0.00: 12 creases hold their panels together at 16 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 5.66: 6 glue zones are wide enough by 5.7 mm or more and in reach.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    nests true 0.00: What goes into each other has 0.00 mm to spare beyond its play.
    ");
    insta::assert_snapshot!(told([made.main()], &tools().trimmer), @"
    Score the four slanting sides of the floor and the six tabs along the template.
    Score 30 mm from the top edge and the bottom edge, only from one slanting score to the other.
    Cut the outline of walls and tabs along the template.
    Cut the six slits between tab and wall, up to the corner of the floor.
    Fold each score and press it sharp, then open it.
    Fold: the walls with tabs up.
    Fold: all six tabs in.
    Glue: tab behind the next wall.
    Glue: tab behind the next wall.
    Glue: tab behind the next wall.
    Glue: tab behind the next wall.
    Glue: tab behind the next wall.
    Glue: tab behind the next wall.
    Fold: the other three walls up.
    Put the contents in.
    ");
}

/// Walls 29.85 high inside a floor of 69.1 across flats. A tube through every wall's plane, less
/// its paper and a tab inside it, is what a cylinder and a block have to stay in: worked out here
/// by the six distances alone.
#[test]
fn a_cylinder_fits_across_flats_and_a_block_by_its_corners() {
    let made = hexagon(BY_HAND).unwrap();
    let round = made.room_for_round();
    near(round.width, 2.0 * (35.0 - 0.45));
    for (width, length) in [(50.0, 50.0), (10.0, 60.0), (70.0, 5.0), (40.0, 90.0)] {
        let room = made.room_for(width, length);
        near(room.width - width, room.length - length);
        near(reach(room.width / 2.0, room.length / 2.0), 34.55);
    }
    near(made.inside().width, made.inside().length);
    near(
        reach(made.inside().width / 2.0, made.inside().length / 2.0),
        34.55,
    );
}

#[test]
fn what_cannot_be_a_six_sided_box_says_what_would_do() {
    let wrong = |change: usize, to: i64| {
        let mut at = BY_HAND;
        at[change] = to;
        let error = hexagon(at).unwrap_err();
        refusal(&error)
    };
    insta::assert_snapshot!(wrong(0, 1327), @"base_width: Base width of 132.7 mm is too little: the six-sided tray is wider from corner to corner. Set 132.8 mm or more.");
    insta::assert_snapshot!(wrong(1, 800), @"base_length: Base length of 80 mm is too little: the sides are so short that their tabs have no room for glue. Set 88.8 mm or more.");
    insta::assert_snapshot!(wrong(1, 500), @"base_length: Base length of 50 mm is too little: the sides are so short that their tabs have no room for glue. Set 88.8 mm or more.");
    insta::assert_snapshot!(wrong(2, 84), @"base_score: Base score at 8.4 mm is too little: the tabs have no room for glue. Set 8.5 mm or more.");
    insta::assert_snapshot!(wrong(4, 1016), @"lid_length: Lid length of 101.6 mm is too little: the lid does not go over the base. Set 101.7 mm or more.");
    insta::assert_snapshot!(wrong(4, 0), @"lid_length: Lid length of 0 mm is no length that can be used. Give more than 0 and at most 10 m.");
    let loose = hexagon([1328, 1300, 300, 1300, 1100, 150]).unwrap_err();
    insta::assert_snapshot!(loose, @"Lid length of 110 mm is too much: the lid is loose on the base. Set 109.2 mm or less.");
    let deep = hexagon([1328, 1300, 300, 1400, 1357, 320]).unwrap_err();
    insta::assert_snapshot!(deep, @"Lid score at 32 mm is too much: a lid deeper than the base stands on the table before it is shut. Set 30 mm or less.");
    let flat = settings([4000, 3000, 90, 4200, 3500, 90]);
    let thick = Hexagon::new(flat, &tools(), tenths(90)).unwrap_err();
    insta::assert_snapshot!(format!("{}: {thick}", thick.field()), @"caliper: Paper 9 mm thick leaves no room in a depth of 9 mm. Use thinner paper or larger settings.");
}

/// Settings round about a box: the lid follows the base, with some play.
fn any_settings() -> impl Strategy<Value = ([i64; 6], i64)> {
    let parts = (
        290_i64..2000,
        85_i64..800,
        85_i64..800,
        1_i64..8,
        5_i64..60,
        0_i64..40,
    );
    parts.prop_map(|(flats, score, lid, caliper, play, wide)| {
        let width = |flats: i64, depth: i64| {
            let exact = 2.0 * flats as f64 / 3.0_f64.sqrt() + 3.0_f64.sqrt() * depth as f64;
            exact.ceil() as i64 + wide
        };
        let over = flats + 4 * caliper + play;
        let at = [
            width(flats, score),
            flats + 2 * score,
            score,
            width(over, lid),
            over + 2 * lid,
            lid,
        ];
        (at, caliper)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(20))]

    #[test]
    fn any_six_sided_box_folds_keeps_its_paper_and_takes_its_lid(
        (at, caliper) in any_settings(), tall in 0.05_f64..20.0,
    ) {
        let made = Structure::new(settings(at), &tools(), tenths(caliper));
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        let hexagon = Hexagon::of(&made).unwrap();
        // A block of any shape, as large as its room.
        let room = hexagon.room_for(10.0, 10.0 * tall);
        prop_assume!(room.width > 1.0 && room.length > 1.0);
        let contents = filled(room);
        assert_just_fit(&made, contents, [0.0, 0.0, 1e-3]);
        assert_folds_round_its_volume(&made);
        // More than the tabs' paper would leave does not fit.
        let more = f64::from(u16::try_from(caliper).unwrap()) / 10.0 * 3.0;
        let larger = ContentsBox { x: contents.x + more, y: contents.y + more, ..contents };
        prop_assert_eq!(faults(&made.checks(Some(&larger))).len(), 1);
    }

    #[test]
    fn any_settings_at_all_make_a_six_sided_box_or_a_refusal(
        at in prop::array::uniform6(-5_i64..3000), caliper in -1_i64..40,
    ) {
        assert_sound_or_refused(Hexagon::KIND, Structure::new(settings(at), &tools(), tenths(caliper)));
    }

    /// Near the edge of what can be made, where one setting is off.
    #[test]
    fn one_setting_off_is_refused_or_still_folds(which in 0_usize..6, off in -60_i64..60) {
        let mut at = BY_HAND;
        at[which] += off;
        assert_sound_or_mended(Structure::new(settings(at), &tools(), tenths(3)));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Every box on a grid round about the least, with the lid of usual depth: one that is offered
    /// has no larger sheet in any measure, and no more room left over. Whether contents go in is
    /// worked out apart: by the six walls.
    #[test]
    fn no_six_sided_box_on_the_grid_beats_what_is_offered(
        block in (20_i64..900, 20_i64..900, 20_i64..600), caliper in 1_i64..8, round: bool,
    ) {
        let (tools, t) = (coarse_tools(900), caliper as f64 / 10.0);
        let mut block_mm = [block.0, block.1, block.2].map(|side| side as f64 / 10.0);
        if round {
            block_mm[1] = block_mm[0];
        }
        let wanted = Wanted { block_mm, round, ball: false, fit: crate::Fit::default(), caliper: tenths(caliper), tools: &tools };
        let offers = Hexagon::KIND.family().offers(&wanted);
        prop_assert!(!offers.found.is_empty());
        let need = if round { block_mm[0] / 2.0 } else { reach(block_mm[0] / 2.0, block_mm[1] / 2.0) };
        let least = (2.0 * need).max(20.0);
        let score_ruler = tools.score.unwrap();
        let mut seen = 0;
        for score in marks_from(block_mm[2], 2, 9) {
            let lid = lid::score_for(crate::LidDepth::Shallow, Length::from_mm(score), &score_ruler).mm() as i64;
            for l in marks_from(least + 2.0 * score as f64, 3, 8) {
                for w in marks_from(1.15 * (l - 2 * score) as f64 + 1.7 * score as f64, 3, 6) {
                    for lid_l in marks_from((l - 2 * score + 2 * lid) as f64, 3, 5) {
                        for lid_w in marks_from(1.15 * (lid_l - 2 * lid) as f64 + 1.7 * lid as f64, 3, 6) {
                            let at = [w, l, score, lid_w, lid_l, lid];
                            let at = Settings::of(Hexagon::KIND, &at.map(Length::from_mm));
                            let Ok(made) = Hexagon::new(at, &tools, tenths(caliper)) else {
                                continue;
                            };
                            let clear = (l - 2 * score) as f64 / 2.0 - 1.5 * t;
                            let deep = score as f64 - t - block_mm[2];
                            if need > clear + 1e-9 || deep < -1e-9 {
                                continue;
                            }
                            seen += 1;
                            let across = if round { 2.0 * (clear - need) } else { grows(block_mm, clear) };
                            let loose = across.max(deep);
                            prop_assert!(
                                offers.found.iter().any(|it| is_no_worse(it, &made.blanks(), loose, block_mm)),
                                "{made:?}"
                            );
                        }
                    }
                }
            }
        }
        prop_assert!(seen > 0);
    }

    /// What is offered folds round the contents, with the cylinder as the block that stands for it.
    #[test]
    fn what_is_offered_holds_the_contents(
        block in (20_i64..900, 20_i64..900, 20_i64..600), round: bool,
    ) {
        let mut sides = [block.0, block.1, block.2].map(|side| side as f64 / 10.0);
        if round {
            sides[1] = sides[0];
        }
        let (tools, caliper) = (coarse_tools(900), tenths(3));
        let wanted = Wanted { block_mm: sides, round, ball: false, fit: crate::Fit::default(), caliper, tools: &tools };
        let family = Hexagon::KIND.family();
        let block = ContentsBox { x: sides[0], y: sides[1], z: sides[2] };
        for offer in family.offers(&wanted).found {
            let made = Structure::new(offer.settings, &tools, caliper).unwrap();
            let block = if round { family.block_for_round(&block) } else { block };
            prop_assert_eq!(faults(&made.checks(Some(&block))), Vec::<String>::new());
            let room = made.room_for(&block, round);
            prop_assert!(room.depth >= sides[2] - 1e-9 && room.width >= block.x - 1e-9);
        }
    }
}

/// How far a block's corner reaches towards the wall that it comes nearest to, from its middle.
fn reach(x: f64, y: f64) -> f64 {
    (0..6)
        .map(|k| f64::from(60 * k + 90).to_radians())
        .map(|at| x * at.cos() + y * at.sin())
        .fold(0.0, f64::max)
}

/// By how much width and length may grow together until a corner touches, by halving.
fn grows([x, y, _]: [f64; 3], clear: f64) -> f64 {
    let (mut low, mut high) = (0.0, 2.0 * clear);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if reach((x + middle) / 2.0, (y + middle) / 2.0) <= clear {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// A jar 60 mm across and 50 mm high with 1 mm of play, card of 0.3 mm, marks each 1 mm. By hand:
/// depth 51 + 0.3 up to 52; across flats 61 + 0.9 up to 62 (sheet 166 long); 2 · 62/√3 + √3 · 52 =
/// 161.66 up to 162 wide. Lid a third as deep, 18; across flats 62 + 1.2 + 0.5 up to 64 (sheet 100
/// long); 2 · 64/√3 + √3 · 18 = 105.08 up to 106 wide. A block of 60 x 60 would need
/// (√3 + 1) · 61 / 2 = 83.3 across flats.
#[test]
fn a_jar_that_stands_fits_across_flats() {
    let mm = Length::from_mm;
    let millimetres = Ruler::millimetre();
    let ask = |contents| crate::SizingRequest {
        contents,
        structure: Some(Hexagon::KIND),
        clearance: mm(1),
        fit: crate::Fit::default(),
        caliper: tenths(3),
        tools: Tools::new(
            PunchBoard::default_metric(),
            millimetres,
            &Trimmer::new(millimetres),
        ),
        sheets: vec![crate::Stock {
            name: "A4".to_owned(),
            width: mm(210),
            height: mm(297),
            price: None,
            turnable: true,
        }],
        makes: 1,
    };
    let (diameter, height) = (mm(60), mm(50));
    let jar = crate::size(&ask(crate::Contents::Cylinder { diameter, height })).unwrap();
    let answer = &jar.answers[0];
    let at = answer.settings.list().into_iter().map(|(_, at)| at.mm());
    assert_eq!(
        at.collect::<Vec<_>>(),
        [162.0, 166.0, 52.0, 106.0, 100.0, 18.0]
    );
    assert_eq!(answer.axes.depth, "height");
    let block = crate::Contents::Block {
        width: diameter,
        depth: diameter,
        height,
    };
    let block = crate::size(&ask(block)).unwrap();
    let flats = block.answers[0].structure.main().pattern.solid.bounds();
    assert!((flats.1 - flats.0).y > 70.0, "{flats:?}");
}
