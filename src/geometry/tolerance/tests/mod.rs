//! Whole pieces against closed forms, against makers drawn by lot, and through sizing.

mod asked;
mod drawn;
mod loosened;

use super::measures::{Reading, read};
use super::varied::{Source, sources, varied};
use super::*;
use crate::{
    ContentsBox, FitLimits, Length, Pouch, PunchBoard, PunchBox, PunchBoxSettings, Ruler, Settings,
    Structure, StructureKind, Tools, Tray, Trimmer, Unit,
};

fn inch(text: &str) -> Length {
    Length::read(text, Unit::Inch).unwrap_or_else(|error| panic!("{error}"))
}

fn tools() -> Tools {
    Tools::new(
        PunchBoard::default_inch(),
        Ruler::inch(32),
        &Trimmer::new(Ruler::inch(32)),
    )
}

fn micrometres(n: i64) -> Length {
    Length::from_nm(n * 1000)
}

/// Hands that are off by another amount in each operation, so that none hides another.
fn odd_hands() -> Hands {
    let deviations = [310, 230, 410, 150, 270, 110];
    let each = Operation::ALL.into_iter().zip(deviations);
    each.fold(Hands::beginner(), |hands, (operation, deviation)| {
        hands.with(operation, micrometres(deviation)).unwrap()
    })
}

/// A box for a seed tin.
fn punch_box() -> Structure {
    let at = PunchBoxSettings {
        sheet: inch("8"),
        punch_1: inch("2 1/4"),
        punch_2: inch("4"),
    };
    Structure::new(at.into(), &tools(), Length::from_nm(300_000)).unwrap()
}

/// A tray for seed envelopes; its lid has 2 to 3 mm of play.
fn tray() -> Structure {
    let at = ["6", "7", "1 1/4", "4 3/4", "5 25/32", "9/16"].map(inch);
    let settings = Settings::new(Tray::KIND, &at).unwrap();
    Structure::new(settings, &tools(), Length::from_nm(300_000)).unwrap()
}

/// Contents that leave so much room in each axis.
fn contents(structure: &Structure, room: [f64; 3]) -> ContentsBox {
    let inside = structure.inside();
    ContentsBox {
        x: inside.width - room[0],
        y: inside.length - room[1],
        z: inside.depth - room[2],
    }
}

fn find(found: &Tolerance, is: impl Fn(&MeasureKind) -> bool) -> &Measure {
    let measure = found.measures.iter().find(|it| is(&it.kind));
    measure.unwrap_or_else(|| panic!("{found:?}"))
}

fn inside(found: &Tolerance, along: Along) -> &Measure {
    find(found, |kind| *kind == MeasureKind::Inside(along))
}

fn play(found: &Tolerance, wanted: Along) -> &Measure {
    find(
        found,
        |kind| matches!(kind, MeasureKind::Play { along, .. } if *along == Some(wanted)),
    )
}

fn near(have: f64, want: f64, what: &str) {
    assert!((have - want).abs() < 1e-6, "{what}: {have} is not {want}");
}

/// By hand from W = √2 (p1 - e), L = √2 (S - p2 - e), d = (p2 - p1) / √2: a setting off by s is
/// off by √2 s in W and L and by s / √2 in d. With folds out of the way sigma of W is
/// √2 √(σp² + σe²).
#[test]
fn the_punch_box_varies_as_its_formulas_say() {
    let hands = odd_hands();
    let made = punch_box();
    let contents = contents(&made, [1.0, 1.5, 2.0]);
    let (cut, punch, e, fold): (f64, f64, f64, f64) = (0.31, 0.41, 0.15, 0.11);
    let flat = hands.with(Operation::Fold, Length::ZERO).unwrap();
    for (hands, fold) in [(hands, fold), (flat, 0.0)] {
        let found = tolerance(&made, &contents, &hands);
        let folds = 2.0 * fold * fold;
        let rows = [
            (Along::Width, 1.0, 2.0 * (punch * punch + e * e), punch + e),
            (
                Along::Length,
                1.5,
                2.0 * (cut * cut + punch * punch + e * e),
                cut + punch + e,
            ),
            (Along::Depth, 2.0, punch * punch, punch),
        ];
        for (along, room, variance, sum) in rows {
            let measure = inside(&found, along);
            near(measure.room_mm, room, along.name());
            near(measure.sigma_mm, (variance + folds).sqrt(), along.name());
            near(measure.likely_mm, 2.0 * measure.sigma_mm, along.name());
            let worst = 2.0 * (2_f64.sqrt() * sum + 2.0 * fold);
            near(measure.worst_mm, worst, along.name());
            near(
                measure.share,
                normal_cdf(room / measure.sigma_mm),
                along.name(),
            );
            assert_eq!(measure.bend_mm, 0.0, "{along:?}");
        }
    }
    let found = tolerance(&made, &contents, &flat);
    let width = inside(&found, Along::Width).sigma_mm;
    near(width, 2_f64.sqrt() * punch.hypot(e), "closed form");
}

/// By hand: base inside = sheet - 2 scores; depth = score; play = lid sheet - 2 lid scores - base
/// sheet + 2 base scores. Two folds across the base, one below its depth, four between the walls
/// of the base and the lid.
#[test]
fn the_tray_varies_by_two_scores_for_each_sheet() {
    let hands = odd_hands();
    let made = tray();
    let found = tolerance(&made, &contents(&made, [1.0, 1.0, 1.0]), &hands);
    let (cut, score, fold): (f64, f64, f64) = (0.31, 0.23, 0.11);
    let across = (cut * cut + 4.0 * score * score + 2.0 * fold * fold).sqrt();
    near(inside(&found, Along::Width).sigma_mm, across, "width");
    near(inside(&found, Along::Length).sigma_mm, across, "length");
    near(
        inside(&found, Along::Depth).sigma_mm,
        score.hypot(fold),
        "depth",
    );
    let both = (2.0 * cut * cut + 8.0 * score * score + 4.0 * fold * fold).sqrt();
    let worst = 2.0 * (2.0 * cut + 4.0 * score + 4.0 * fold);
    let settings: Vec<Length> = made.settings().each().map(|(_, at)| at).collect();
    let t = made.caliper().mm();
    for (along, at, tabs) in [(Along::Width, 0, 0.0), (Along::Length, 1, 2.0 * t)] {
        let measure = play(&found, along);
        let between = |sheet: usize, score: usize| (settings[sheet] - settings[score] * 2).mm();
        // Lid inside, clear of its tabs, less base outside.
        let room = between(3 + at, 5) - t - tabs - (between(at, 2) + t);
        near(measure.room_mm, room, "play");
        near(measure.sigma_mm, both, "play");
        near(measure.worst_mm, worst, "play");
        near(measure.share, normal_cdf(room / both), "play");
    }
}

/// The depth is one score from its own edge: off by that score however deep the tray is, where a
/// chain would grow. The room across hangs on the sheet and two scores, whatever the sheet.
#[test]
fn what_is_scored_from_its_own_edge_is_as_far_off_in_any_size() {
    let hands = odd_hands();
    let trays = [
        ["6", "7", "1 1/4", "4 3/4", "5 25/32", "9/16"],
        ["8", "9", "2 1/4", "4 3/4", "5 25/32", "9/16"],
        ["11", "10", "3", "6 1/4", "5 9/32", "9/16"],
    ];
    for at in trays {
        let settings = Settings::new(Tray::KIND, &at.map(inch)).unwrap();
        let made = Structure::new(settings, &tools(), Length::from_nm(300_000)).unwrap();
        let found = tolerance(&made, &contents(&made, [1.0; 3]), &hands);
        near(
            inside(&found, Along::Depth).worst_mm,
            2.0 * (0.23 + 0.11),
            at[2],
        );
        let across = 2.0 * (0.31 + 2.0 * 0.23 + 2.0 * 0.11);
        near(inside(&found, Along::Width).worst_mm, across, at[0]);
    }
}

/// A tab is as high as the score is far from the edge, and needs 3 mm.
#[test]
fn glue_varies_with_what_makes_its_zone() {
    let made = tray();
    let found = tolerance(&made, &contents(&made, [1.0; 3]), &odd_hands());
    let lid = find(&found, |kind| {
        matches!(kind, MeasureKind::Glue { body: "lid", .. })
    });
    near(lid.room_mm, inch("9/16").mm() - 3.0, "room");
    near(lid.sigma_mm, 0.23, "sigma");
    assert_eq!(lid.parts.len(), 1, "{:?}", lid.parts);
    assert_eq!(found.left_out, Vec::<String>::new());
}

#[test]
fn hands_that_are_never_off_make_the_design() {
    let sure = Operation::ALL
        .into_iter()
        .fold(Hands::beginner(), |hands, operation| {
            hands.with(operation, Length::ZERO).unwrap()
        });
    for made in [punch_box(), tray()] {
        let fits = tolerance(&made, &contents(&made, [0.0; 3]), &sure);
        assert_eq!(fits.together.share, 1.0, "{fits:?}");
        let tight = tolerance(&made, &contents(&made, [0.0, -0.01, 0.0]), &sure);
        assert_eq!(tight.together.share, 0.0, "{tight:?}");
    }
}

/// The least room for a share, by the linear formula, gives just that share.
#[test]
fn room_for_a_share_gives_that_share() {
    let made = punch_box();
    let hands = Hands::beginner();
    let found = tolerance(&made, &contents(&made, [1.0; 3]), &hands);
    let rooms = [Along::Width, Along::Length, Along::Depth];
    let rooms = rooms.map(|along| inside(&found, along).room_for_mm(0.95));
    let found = tolerance(&made, &contents(&made, rooms), &hands);
    for along in [Along::Width, Along::Length, Along::Depth] {
        let share = inside(&found, along).share;
        assert!((share - 0.95).abs() < 1e-9, "{along:?} {share}");
    }
    assert!(found.together.share < 0.95, "{:?}", found.together);
}

/// Making a structure again on rulers without marks changes nothing.
#[test]
fn a_structure_made_again_is_the_same() {
    for made in [punch_box(), tray()] {
        for source in sources(&made) {
            let again = varied(&made, &[(source, Length::ZERO)]).unwrap();
            assert_eq!(again.inside(), made.inside(), "{source:?}");
            assert_eq!(again.pattern(), made.pattern(), "{source:?}");
        }
    }
}

/// At the very limit of what can be made, a hair more on one side is refused: the other tells.
#[test]
fn a_lid_at_its_least_play_varies_as_any_other() {
    let tenth = Length::from_nm(100_000);
    let fine = Ruler::new(Unit::Millimetre, tenth, Length::ZERO, Length::from_mm(300)).unwrap();
    let tools = Tools::new(PunchBoard::default_inch(), fine, &Trimmer::new(fine));
    let at = [1107, 907, 252, 914, 720, 150].map(|tenths| tenth * tenths);
    let settings = Settings::new(Tray::KIND, &at).unwrap();
    let tight = Structure::new(settings, &tools, tenth * 3).unwrap();
    let less = sources(&tight)
        .into_iter()
        .find(|it| it.name == "lid width");
    assert_eq!(varied(&tight, &[(less.unwrap(), micrometres(-10))]), None);

    let room = contents(&tight, [1.0; 3]);
    let found = tolerance(&tight, &room, &odd_hands());
    let usual = tray();
    let usual = tolerance(&usual, &contents(&usual, [1.0; 3]), &odd_hands());
    for along in [Along::Width, Along::Length] {
        near(play(&found, along).room_mm, 0.5, "play");
        near(
            play(&found, along).sigma_mm,
            play(&usual, along).sigma_mm,
            "sigma",
        );
    }
    // Wild hands still have shares: the lid goes on about as often as not.
    let wild = Operation::ALL
        .into_iter()
        .fold(Hands::beginner(), |hands, operation| {
            hands.with(operation, Length::from_mm(10)).unwrap()
        });
    let found = tolerance(&tight, &room, &wild);
    let share = play(&found, Along::Width).share;
    assert!((0.5..0.52).contains(&share), "{share}");
    assert!(
        (0.0..0.3).contains(&found.together.share),
        "{:?}",
        found.together
    );
}
