//! The folded card and its envelope against published sizes, its own checks, and settings that
//! make none.

use proptest::prelude::*;

use super::test_support::*;
use super::*;
use crate::{Length, PunchBoard, Ruler, Trimmer, Unit, post_classes};

fn inch_tools() -> Tools {
    let long = Ruler::new(Unit::Inch, sixteenths(1), Length::ZERO, Length::inches(24)).unwrap();
    let trimmer = Trimmer::new(long);
    Tools::new(PunchBoard::default_inch(), Ruler::inch(16), &trimmer)
}

fn sixteenths(n: i64) -> Length {
    Length::from_nm(n * 1_587_500)
}

fn settings(tenths_mm: [i64; 8]) -> Settings {
    Settings::of(FoldedCard::KIND, &tenths_mm.map(tenths))
}

/// An A6 card, its front 105 x 148, in an envelope 156 x 112.
const A6: [i64; 8] = [2100, 1480, 1050, 1840, 2360, 140, 640, 600];

fn card(tenths_mm: [i64; 8]) -> FoldedCard {
    FoldedCard::new(settings(tenths_mm), &tools(), tenths(3)).unwrap()
}

/// A card of this front, in sixteenths of an inch, with whatever envelope is least.
fn inch_card(width: i64, length: i64) -> FoldedCard {
    let tools = inch_tools();
    let t = Length::from_nm(300_000);
    let block_mm = [width, length].map(|side| sixteenths(side).mm() - 0.3);
    let wanted = crate::sizing::Wanted {
        block_mm: [block_mm[0], block_mm[1], 0.0],
        fit: crate::Fit::default(),
        caliper: t,
        tools: &tools,
        round: false,
        ball: false,
    };
    let offers = FoldedCard::KIND.family().offers(&wanted);
    FoldedCard::new(offers.found[0].settings, &tools, t).unwrap()
}

fn plays(card: &FoldedCard) -> Vec<(&'static str, f64, f64)> {
    let fits = card.envelopes(0.0);
    fits.iter()
        .map(|fit| (fit.size.name, fit.play.0.mm(), fit.play.1.mm()))
        .collect()
}

/// ISO 269 with ISO 216: A6 in C6 has a play of 9 x 14, A5 in C5 of 14 x 19, A4 in three
/// (99 x 210) in DL of 11 x 10 mm. US announcement envelopes (trade, not a standard): 4 1/4 x
/// 5 1/2 in A2 has 1/8 and 1/4 in, 5 x 7 in A7 has 1/4 and 1/4 in.
#[test]
fn cards_of_named_sizes_fit_the_envelopes_of_their_names() {
    let has = |card: &FoldedCard, want: (&str, f64, f64)| {
        let found = plays(card);
        let near = |it: &(&str, f64, f64)| {
            it.0 == want.0 && (it.1 - want.1).abs() < 1e-9 && (it.2 - want.2).abs() < 1e-9
        };
        assert!(found.iter().any(near), "{want:?} {found:?}");
    };
    has(&card(A6), ("C6", 9.0, 14.0));
    let a5 = [2960, 2100, 1480, 2460, 3220, 140, 840, 840];
    has(&card(a5), ("C5", 14.0, 19.0));
    let third = [1980, 2100, 990, 2440, 2260, 140, 600, 600];
    has(&card(third), ("DL", 11.0, 10.0));
    has(&inch_card(68, 88), ("US A2", 3.175, 6.35));
    has(&inch_card(80, 112), ("US A7", 6.35, 6.35));
    // Turned a quarter it is the same card.
    has(&inch_card(112, 80), ("US A7", 6.35, 6.35));
    assert!(!inch_card(112, 80).folds_on_long_side());
    assert!(inch_card(80, 112).folds_on_long_side());
    // What leaves less than the card needs, or much more, is not listed.
    for (name, across, along) in plays(&card(A6)) {
        let snug = 2.6..=20.0;
        assert!(snug.contains(&across) && snug.contains(&along), "{name}");
    }
}

/// By hand, t 0.3: envelope 184 − 28 = 156 wide and 236 − 124 = 112 high; play 156 − 0.3 − 148 =
/// 7.7 and 112 − 0.3 − 105 = 6.7; flaps 124 − 112 = 12 over each other; in the card 104.7 x 147.7,
/// and 1 mm thick 103.7 x 146.7; closed 6 sheets = 1.8 mm thick.
#[test]
fn the_worked_card_is_as_roomy_as_by_hand() {
    let made = card(A6);
    let near = |have: (f64, f64), want: (f64, f64)| {
        let off = (have.0 - want.0).abs().max((have.1 - want.1).abs());
        assert!(off < 1e-9, "{have:?} {want:?}");
    };
    near(made.envelope_mm(), (156.0, 112.0));
    near(made.play_mm(), (7.7, 6.7));
    let inside = made.inside_for(1.0);
    near((inside.width, inside.length), (103.7, 146.7));
    let mail = made.mailpiece(0.0, Some(12.0), false);
    near((mail.thickness_mm, mail.length_mm), (1.8, 156.3));
    let classes: Vec<String> = post_classes(&mail)
        .iter()
        .map(|it| format!("{}: {}", it.post, it.class))
        .collect();
    insta::assert_snapshot!(classes.join("\n"), @"
    USPS: letter
    Royal Mail: letter
    Universal Postal Union: letter, not standardized
    Deutsche Post: Großbrief
    ");
}

#[test]
fn a_card_folds_and_goes_into_its_envelope() {
    let made = made(settings(A6));
    let contents = filled(made.inside_for(1.0));
    insta::assert_snapshot!(verdicts(&made, &contents), @"
    flat true 0.00: 2 panels lie flat side by side; panels and waste make up the sheet of 31080.0 mm².
    hinges true 0.00: The crease holds its panels together at 6 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 0.00: Nothing is glued.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    nests true 4.10: What goes into each other has 4.10 mm to spare beyond its play.
    ");
    insta::assert_snapshot!(told(made.bodies(), &Ruler::millimetre()), @"
    Score 105 mm from the left edge.
    Fold each score and press it sharp, then open it.
    Put the contents in.
    Fold: the back page over, onto the front.
    Score 14 mm from the left edge and the right edge.
    Score 64 mm from the bottom edge.
    Score 60 mm from the top edge.
    Cut away the four corners, slanting into the flaps.
    Fold each score and press it sharp, then open it.
    Fold: both side flaps.
    Glue: bottom flap on left flap.
    Glue: bottom flap on right flap.
    Fold: the bottom flap up.
    Put the card into the envelope.
    Fold: the top flap down.
    ");
}

/// The nest check sees a card that is too wide, apart from the constructor.
#[test]
fn a_card_that_does_not_go_in_is_seen() {
    let mut made = made(settings(A6));
    let wide = card([2240, 1480, 1120, 1840, 2560, 140, 680, 660]);
    let (main, _) = wide.bodies();
    made.main = main;
    assert_eq!(
        faults(&made.checks(None)).len(),
        1,
        "{:?}",
        made.checks(None)
    );
    insta::assert_snapshot!(faults(&made.checks(None)).join("\n"), @"nests: The card has -0.30 mm of play at the bottom end of the envelope and needs 2.60 mm.");
}

#[test]
fn mats_lie_on_the_front_with_the_same_rim_all_round() {
    let made = card(A6);
    let mats = |reveal, layers| made.mats(Length::from_mm(reveal), layers, &Ruler::millimetre());
    let sizes: Vec<_> = mats(5, 2)
        .unwrap()
        .shapes()
        .iter()
        .map(|mat| (mat.size().0.mm(), mat.size().1.mm()))
        .collect();
    assert_eq!(sizes, [(95.0, 138.0), (85.0, 128.0)]);
    insta::assert_snapshot!(mats(60, 1).unwrap_err(), @"A reveal of 60 mm leaves less than 10 mm of 105 mm for the last mat. Make the reveal 47 mm or less.");
    assert!(mats(5, 0).is_err());
    assert!(mats(1, usize::MAX).is_err());
}

/// By hand: the worked card has a play of 6.7 mm and needs 2 mm and its two sheets of 0.3; 4.1 mm
/// of mats are the most that still go in.
#[test]
fn what_is_stuck_on_the_card_takes_of_its_play() {
    let with = |tenths_mm| {
        made(settings(A6)).laden(Laden {
            stuck_on: tenths(tenths_mm),
            ball: false,
        })
    };
    let nests = |structure: &Structure| faults(&structure.checks(None)).join("");
    assert_eq!(nests(&with(41)), "");
    insta::assert_snapshot!(nests(&with(42)), @"nests: The card has 6.70 mm of play at the bottom end of the envelope and needs 6.80 mm.");
    let hands = crate::Hands::beginner();
    let contents = filled(with(0).inside_for(0.0));
    let play = |structure: &Structure| {
        let all = crate::tolerance(structure, &contents, &hands).measures;
        let of_card = |it: &&crate::Measure| it.kind.name().starts_with("play of the card in");
        all.iter()
            .filter(of_card)
            .map(|it| it.room_mm)
            .fold(f64::MAX, f64::min)
    };
    assert!((play(&with(0)) - play(&with(10)) - 1.0).abs() < 1e-9);
    // It takes room and changes nothing about how far off hands are.
    let sigmas = |structure: &Structure| {
        let all = crate::tolerance(structure, &contents, &hands).measures;
        all.iter().map(|it| it.sigma_mm).collect::<Vec<f64>>()
    };
    let pairs = sigmas(&with(0)).into_iter().zip(sigmas(&with(10)));
    for (bare, stuck_on) in pairs {
        assert!((bare - stuck_on).abs() < 1e-6, "{bare} {stuck_on}");
    }
    // Hands that are off lose it as well: all of them would fit otherwise.
    let share = |structure: &Structure| {
        let hands = crate::tolerance(structure, &contents, &hands);
        hands.together.share
    };
    assert!(share(&with(60)) < share(&with(0)));
}

/// The envelope is wider by what is stuck on the card, up to the next mark.
#[test]
fn the_envelope_offered_grows_with_what_is_stuck_on_the_card() {
    let tools = on_one_ruler(millimetres(Length::from_nm(100_000), 400));
    let envelope = |stuck_on| {
        let fit = crate::Fit {
            stuck_on,
            ..crate::Fit::default()
        };
        let wanted = crate::sizing::Wanted {
            block_mm: [104.7, 147.7, 0.0],
            caliper: tenths(3),
            tools: &tools,
            round: false,
            ball: false,
            fit,
        };
        let offered = FoldedCard::KIND.family().offers(&wanted).found[0].settings;
        FoldedCard::new(offered, &tools, tenths(3))
            .unwrap()
            .envelope_mm()
    };
    let (bare, with_mats) = (envelope(Length::ZERO), envelope(tenths(6)));
    assert!((with_mats.0 - bare.0 - 0.6).abs() < 1e-9);
    assert!(with_mats.1 - bare.1 >= 0.6 - 1e-9);
}

/// C6 leaves A6 a play of 9 x 14 mm: with 6.5 mm in the card 9 are too few.
#[test]
fn a_thick_card_fits_fewer_envelopes() {
    let has_c6 = |more_mm| {
        card(A6)
            .envelopes(more_mm)
            .iter()
            .any(|it| it.size.name == "C6")
    };
    assert!(has_c6(6.4) && !has_c6(6.5));
}

#[test]
fn what_cannot_be_a_card_says_what_would_do() {
    let wrong = |place: usize, tenths_mm: i64| {
        let mut at = A6;
        at[place] = tenths_mm;
        let error = Structure::new(settings(at), &tools(), tenths(3)).unwrap_err();
        refusal(&error)
    };
    let all = [
        wrong(0, 0),
        wrong(0, 2090),
        wrong(0, 2110),
        wrong(1, 290),
        wrong(1, 1550),
        wrong(2, 290),
        wrong(3, 1780),
        wrong(3, 2000),
        wrong(4, 1800),
        wrong(4, 2400),
        wrong(4, 2310),
        wrong(5, 90),
        wrong(5, 470),
        wrong(6, 150),
        wrong(7, 140),
    ];
    insta::assert_snapshot!(all.join("\n"), @"
    card_width: Card width of 0 mm is no length that can be used. Give more than 0 and at most 10 m.
    card_width: Card width of 209 mm is too little: the edges of front and back do not meet. Set 210 mm or more.
    card_width: Card width of 211 mm is too much: the edges of front and back do not meet. Set 210 mm or less.
    card_length: Card length of 29 mm is too little: so small a card is not folded by hand. Set 30 mm or more.
    envelope_width: Envelope width of 184 mm is too little: the card does not go in. Set 185.9 mm or more.
    card_score: Card score at 29 mm is too little: so small a card is not folded by hand. Set 30 mm or more.
    envelope_width: Envelope width of 178 mm is too little: the card does not go in. Set 178.9 mm or more.
    envelope_width: Envelope width of 200 mm is too much: the card is loose in it. Set 196.3 mm or less.
    envelope_length: Envelope length of 180 mm is too little: a flap is longer than the envelope. Set 188 mm or more.
    envelope_length: Envelope length of 240 mm is too much: bottom and top flap leave the back open. Set 236 mm or less.
    envelope_length: Envelope length of 231 mm is too little: the card does not go in. Set 231.9 mm or more.
    side_score: Side score at 9 mm is too little: the side flaps have no room for glue. Set 10 mm or more.
    side_score: Side score at 47 mm is too much: the side flaps meet. Set 46 mm or less.
    bottom_score: Bottom score at 15 mm is too little: the bottom flap has no room for glue. Set 16 mm or more.
    top_score: Top score at 14 mm is too little: so short a flap does not stay shut. Set 15 mm or more.
    ");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn the_card_offered_is_the_least_on_the_grid(
        w in 20.0..110.0_f64, l in 20.0..110.0_f64, thick in 0.0..4.0_f64,
    ) {
        // Marks of 5 mm, so that brute force is quick.
        let tools = on_one_ruler(millimetres(Length::from_mm(5), 400));
        let wanted = crate::sizing::Wanted { block_mm: [w, l, thick], caliper: tenths(3), tools: &tools, round: false, ball: false, fit: crate::Fit::default() };
        let offered = FoldedCard::KIND.family().offers(&wanted).found;
        let have: Vec<(i64, i64)> = offered[0].blanks.iter()
            .map(|it| (it.0.nm() / 5_000_000, it.1.nm() / 5_000_000)).collect();
        // The least of each measure, whatever the others: room for the block and its play, side
        // flaps of 15 mm, the first mark from the usual 14 mm.
        let mm = |n: i64| n as f64 * 5.0;
        let front = (6..80).find(|n| mm(*n) - 0.3 - thick >= w).unwrap();
        let long = (6..80).find(|n| mm(*n) - 0.3 - thick >= l).unwrap();
        prop_assert_eq!(have[0], (2 * front, long));
        let play = 2.0 + 0.6 + thick + 0.3;
        let (longer, shorter) = (front.max(long), front.min(long));
        let wide = (1..80).find(|n| mm(*n) - 30.0 >= (mm(longer) + play).max(30.0)).unwrap();
        let tall = (1..80).find(|e| (4..80).any(|b| (3..80).any(|c| {
            let h = e - b - c;
            mm(h) >= mm(shorter) + play && mm(b + c) >= mm(h) + 12.0 && b <= h && c <= h
        }))).unwrap();
        prop_assert_eq!(have[1], (wide, tall));
    }

    #[test]
    fn any_card_folds_and_goes_into_its_envelope(
        front in (300_i64..2000, 300_i64..2000), side in 100_i64..300, share in 0.35..0.65_f64,
        caliper in 1_i64..8, play in (0_i64..150, 0_i64..150), thick in 0.0..2.0_f64,
    ) {
        let (long, short) = (front.0.max(front.1), front.0.min(front.1));
        let (w, h) = (long + 3 * caliper + 20 + play.0, short + 3 * caliper + 20 + play.1);
        let both = h + 121;
        let bottom = (both as f64 * share) as i64;
        let at = [2 * front.0, front.1, front.0, w + 2 * side, h + both, side, bottom, both - bottom];
        let made = Structure::new(settings(at), &tools(), tenths(caliper));
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        assert_just_fit(&made, filled(made.inside_for(thick)), [0.0, 1e-3, 0.0]);
    }

    #[test]
    fn any_settings_at_all_make_a_card_or_a_refusal(
        at in prop::array::uniform8(-5_i64..3000), near in 0_usize..8, real: bool, caliper in -1_i64..40,
    ) {
        // Half of them are a real card with one setting changed.
        let at = if real { let mut it = A6; it[near] = at[near]; it } else { at };
        assert_sound_or_refused(FoldedCard::KIND, Structure::new(settings(at), &tools(), tenths(caliper)));
    }
}
