//! The four-faced pouch against closed forms, its own checks, and settings that make none.

use proptest::prelude::*;

use super::four_faced::volume;
use super::test_support::*;
use super::*;
use crate::{Length, Ruler, Vec3, enclosed_volume, fold_closed};

/// Settings for a tube `a` wide and `h` long, strips and flap 8 mm, all in tenths of mm.
fn tube(a: i64, h: i64) -> [i64; 4] {
    [2 * a + 80, h + 160, 80, a / 2]
}

fn settings(tenths_mm: [i64; 4]) -> Settings {
    Settings::of(FourFaced::KIND, &tenths_mm.map(tenths))
}

fn pouch(tenths_mm: [i64; 4]) -> FourFaced {
    FourFaced::new(settings(tenths_mm), &tools(), tenths(3)).unwrap()
}

/// Volume of a disphenoid with edges l, m, n, each twice: √((l²+m²−n²)(l²−m²+n²)(−l²+m²+n²) / 72)
/// ("Disphenoid", encyclopedia article).
fn disphenoid(l: f64, m: f64, n: f64) -> f64 {
    let (l, m, n) = (l * l, m * m, n * n);
    ((l + m - n) * (l - m + n) * (m + n - l) / 72.0).sqrt()
}

/// V = a² √(h² − a²/4) / 6, worked out apart and computed: a 60, h 80 → 44 497.19; a = h = 100 →
/// 144 337.57; h = a √3/2 is the regular tetrahedron, a³ √2/12 = 0.117 851 1 a³.
#[test]
fn a_pouch_holds_what_the_closed_form_says() {
    for (a, h, want) in [(60.0, 80.0, 44_497.19), (100.0, 100.0, 144_337.57)] {
        let have = volume(a, h).unwrap();
        assert!((have - want).abs() < 0.006, "{have} {want}");
        let slant = f64::hypot(h, a / 2.0);
        let second = disphenoid(a, slant, slant);
        assert!((have / second - 1.0).abs() < 1e-12, "{have} {second}");
        let tenth = |mm: f64| (mm * 10.0).round() as i64;
        let made = made(settings(tube(tenth(a), tenth(h))));
        let folded = fold_closed(made.pattern()).volume_of_solid(made.pattern());
        assert!((folded - want).abs() < 0.006, "{folded} {want}");
        assert!((made.volume_mm3() - want).abs() < 0.006);
    }
    let regular = volume(1.0, 3.0_f64.sqrt() / 2.0).unwrap();
    assert!((regular - 0.117_851_1).abs() < 1e-7, "{regular}");
    assert_eq!(volume(60.0, 30.0), None);
    assert_eq!(volume(60.0, 29.9), None);
}

/// By hand, a 60, h 80, t 0.3: H = √(6400 − 900) = 74.162; r = 60 · 74.162 / 320 = 13.9054, the
/// ball 27.51 across; k = 1 − 0.3 / 27.8107 = 0.989 213, so that 43 072.3 mm³ pour in; a block
/// 10 deep is 30 (0.989 213 − 10 / 74.162) = 25.631 wide and long.
#[test]
fn the_worked_pouch_is_as_roomy_as_by_hand() {
    let made = pouch(tube(600, 800));
    assert_eq!(made.tube_mm(), (60.0, 80.0));
    assert!(
        (made.ball_mm() - 27.5107).abs() < 1e-3,
        "{}",
        made.ball_mm()
    );
    assert!(
        (made.holds_mm3() - 43_072.3).abs() < 0.5,
        "{}",
        made.holds_mm3()
    );
    let inside = made.inside_for(10.0);
    assert!((inside.width - 25.631).abs() < 1e-3, "{inside:?}");
    assert_eq!((inside.width, inside.depth), (inside.length, 10.0));
}

/// The ball touches all four faces: seen from the middle of the corners, each crease plane is
/// half its diameter and half a caliper away.
#[test]
fn the_ball_touches_every_face() {
    let made = pouch(tube(600, 500));
    let corners = made.corners();
    let middle = corners.iter().fold(Vec3::default(), |sum, &p| sum + p) * 0.25;
    for left_out in 0..4 {
        let face: Vec<Vec3> = (0..4)
            .filter(|i| *i != left_out)
            .map(|i| corners[i])
            .collect();
        let normal = (face[1] - face[0]).cross(face[2] - face[0]).unit();
        let away = normal.dot(middle - face[0]).abs();
        assert!((away - (made.ball_mm() + 0.3) / 2.0).abs() < 1e-9, "{away}");
    }
}

#[test]
fn a_pouch_folds_closes_and_holds_what_it_says() {
    let made = made(settings(tube(600, 800)));
    let contents = filled(made.inside_for(10.0));
    insta::assert_snapshot!(verdicts(&made, &contents), @"
    flat true 0.00: 7 panels lie flat side by side; panels and waste make up the sheet of 12288.0 mm².
    hinges true 0.00: 6 creases hold their panels together at 31 moments.
    closed true 0.10: Every face that should be closed is covered to 100.000 %.
    clear true 0.00: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 5.00: 4 glue zones are wide enough by 5.0 mm or more and in reach.
    flat vertices true 0.00: No vertex inside the paper has to fold flat.
    ");
    insta::assert_snapshot!(told(made.bodies(), &Ruler::millimetre()), @"
    Score 8 mm from the top edge and the bottom edge.
    Score the four slants between the two scores along the template.
    Cut away the paper beside both strips and below the side flap.
    Fold each score and press it sharp, then open it.
    Fold: the left and the right face.
    Glue: bottom strip on right face.
    Fold: the bottom strip over the right face.
    Fold: the top strip back, out of the way.
    Put the contents in.
    Fold: the half with the side flap.
    Glue: side flap on other half face.
    Fold: the other half, onto the side flap.
    Glue: top strip on other half face.
    Glue: top strip on half face with flap.
    Fold: the top strip over both halves.
    ");
}

#[test]
fn what_cannot_be_a_four_faced_pouch_says_what_would_do() {
    let wrong = |at: [i64; 4]| {
        let error = Structure::new(settings(at), &tools(), tenths(3)).unwrap_err();
        refusal(&error)
    };
    insta::assert_snapshot!(wrong([1280, 0, 80, 300]), @"sheet_length: Sheet length of 0 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(wrong([1280, 960, 80, 110]), @"mark: Mark of 11 mm is too little: so small a face is not folded by hand. Set 12 mm or more.");
    insta::assert_snapshot!(wrong([1280, 960, 50, 300]), @"strip_score: Strip score at 5 mm is too little: the end strips have no room for glue. Set 6 mm or more.");
    insta::assert_snapshot!(wrong([1280, 960, 210, 300]), @"strip_score: Strip score at 21 mm is too much: the end strips are wider than a third of the face. Set 20 mm or less.");
    insta::assert_snapshot!(wrong([1250, 960, 80, 300]), @"sheet_width: Sheet width of 125 mm is too little: the four faces leave no side flap to glue. Set 126 mm or more.");
    insta::assert_snapshot!(wrong([1420, 960, 80, 300]), @"sheet_width: Sheet width of 142 mm is too much: the side flap is wider than a third of the face. Set 140 mm or less.");
    // h = a / 2 closes to nothing.
    insta::assert_snapshot!(wrong([1280, 460, 80, 300]), @"sheet_length: Sheet length of 46 mm is too little: a tube that is not much longer than half its width does not close. Set 52 mm or more.");
    let thick = FourFaced::new(settings([560, 310, 60, 120]), &tools(), Length::from_mm(12));
    insta::assert_snapshot!(thick.unwrap_err(), @"Paper 12 mm thick leaves no room in a depth of ≈ 9.3 mm. Use thinner paper or larger settings.");
}

/// Every pouch with the usual strip and flap on a coarse bench: none that takes the contents has
/// a sheet that is smaller both ways than one found, and each found is among them.
fn brute(coarse: &Tools, takes: impl Fn(&FourFaced) -> bool) -> Vec<(Length, Length)> {
    let mm = |n: i64| Length::from_mm(n);
    let mut all = Vec::new();
    for mark in 12..=60 {
        for long in 20..=200 {
            let at = [mm(4 * mark + 8), mm(long), mm(8), mm(mark)];
            let made = FourFaced::new(Settings::of(FourFaced::KIND, &at), coarse, tenths(3));
            if let Some(made) = made.ok().filter(&takes) {
                all.push(made.blank());
            }
        }
    }
    let beats =
        |one: &(Length, Length), it: &(Length, Length)| one != it && one.0 <= it.0 && one.1 <= it.1;
    let best = all
        .iter()
        .filter(|it| !all.iter().any(|one| beats(one, it)));
    best.copied().collect()
}

fn coarse() -> Tools {
    let each = |longest_mm| millimetres(Length::from_mm(1), longest_mm);
    Tools {
        trimmer: each(248),
        ..on_one_ruler(each(200))
    }
}

/// A ball asks for the pouch in which it just fits, far smaller than that of the block round it;
/// by hand a pouch of 60 x 80 from paper of 0.3 takes one of 27.51 mm (see above).
#[test]
fn a_ball_is_sized_by_the_sphere_that_a_pouch_holds() {
    let tools = tools();
    let sized = |contents| {
        let request = crate::SizingRequest {
            contents,
            structure: Some(FourFaced::KIND),
            clearance: Length::ZERO,
            fit: crate::Fit::default(),
            caliper: tenths(3),
            tools,
            sheets: vec![crate::Stock {
                name: "large".into(),
                width: Length::from_mm(700),
                height: Length::from_mm(700),
                price: None,
                turnable: true,
            }],
            makes: 1,
        };
        crate::size(&request).unwrap().answers.remove(0)
    };
    let across = tenths(275);
    let ball = sized(crate::Contents::Ball { diameter: across });
    let block = sized(crate::Contents::Block {
        width: across,
        depth: across,
        height: across,
    });
    let area = |answer: &crate::Answer| answer.blank().0.mm() * answer.blank().1.mm();
    assert!(
        area(&ball) < 0.6 * area(&block),
        "{} {}",
        area(&ball),
        area(&block)
    );
    let made = FourFaced::of(&ball.structure).unwrap();
    assert!((27.5..28.5).contains(&made.ball_mm()), "{}", made.ball_mm());
    let inside = ball.structure.inside_for(0.0);
    assert!((inside.width - made.ball_mm()).abs() < 1e-9);
    // The smallest sheet of all pouches that take it.
    let loose = LooseContents::Ball { diameter_mm: 27.5 };
    let all = FourFaced::for_loose(loose, &tools, tenths(3));
    let least = all.iter().map(|it| it.blank().0.mm() * it.blank().1.mm());
    assert!(area(&ball) <= least.fold(f64::MAX, f64::min) + 1e-6);
    // Hands that are off lose room for it as the largest ball shrinks, once for all axes.
    let contents = ball
        .contents_box(&crate::Contents::Ball { diameter: across })
        .unwrap();
    let found = crate::tolerance(&ball.structure, &contents, &crate::Hands::beginner());
    let rooms = found
        .measures
        .iter()
        .filter(|it| it.kind.name().ends_with("inside"));
    // By the formula of the ball: how much it grows with the mark, of which a is twice.
    let across = |a: f64, h: f64| a * (h * h - a * a / 4.0).sqrt() / (2.0 * h);
    let (a, h) = made.tube_mm();
    let slope = (across(a + 2e-3, h) - across(a - 2e-3, h)) / 2e-3;
    let parts = found.measures.iter().flat_map(|it| &it.parts);
    let mark = parts
        .filter(|part| part.name == "mark")
        .map(|part| part.slope)
        .next();
    assert!((mark.unwrap() - slope).abs() < 1e-4, "{mark:?} {slope}");
    let rooms: Vec<f64> = rooms.map(|it| it.room_mm).collect();
    assert!(
        !rooms.is_empty()
            && rooms
                .iter()
                .all(|it| (it - made.ball_mm() + 27.5).abs() < 1e-9)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn the_pouches_for_loose_things_are_the_best_on_the_grid(size in 5.0..40.0_f64, ball: bool) {
        let loose = if ball {
            LooseContents::Ball { diameter_mm: size }
        } else {
            LooseContents::Poured { mm3: size.powi(3) }
        };
        let found = FourFaced::for_loose(loose, &coarse(), tenths(3));
        let found: Vec<_> = found.iter().map(FourFaced::blank).collect();
        // A trimmer of 248 mm cuts no longer sheet than brute force looks at, or the halving
        // would find more.
        let within: Vec<_> = found.iter().copied().filter(|it| it.1 <= Length::from_mm(200)).collect();
        prop_assert_eq!(within, brute(&coarse(), |made| made.takes(loose)));
    }

    #[test]
    fn the_pouches_offered_for_a_block_are_the_best_on_the_grid(
        a in 4.0..35.0_f64, b in 4.0..35.0_f64, c in 2.0..25.0_f64,
    ) {
        let tools = coarse();
        let wanted = crate::sizing::Wanted { block_mm: [a, b, c], caliper: tenths(3), tools: &tools, round: false, ball: false, fit: crate::Fit::default() };
        let offered = FourFaced::KIND.family().offers(&wanted).found;
        let found: Vec<_> = offered.iter().map(|offer| offer.blanks[0]).collect();
        let within: Vec<_> = found.iter().copied().filter(|it| it.1 <= Length::from_mm(200)).collect();
        let takes = |made: &FourFaced| {
            let inside = made.inside_for(c);
            inside.width >= a.max(b) && inside.depth >= c
        };
        prop_assert_eq!(within, brute(&tools, takes));
    }

    #[test]
    fn any_four_faced_pouch_folds_closes_and_takes_what_it_says(
        mark in 120_i64..900, strip in 0.0..1.0_f64, flap in 0.0..1.0_f64, more in 60_i64..2500,
        caliper in 1_i64..6, thick in 0.05..0.9_f64,
    ) {
        let widest = 2 * mark / 3 - 60;
        let of = |share: f64| 60 + (widest as f64 * share) as i64;
        let at = [4 * mark + of(flap), 2 * of(strip) + mark + more, of(strip), mark];
        let made = Structure::new(settings(at), &tools(), tenths(caliper)).unwrap();
        let deepest = made.inside_for(f64::INFINITY).depth;
        assert_just_fit(&made, filled(made.inside_for(thick * deepest)), [0.01, 0.01, 0.05]);
        assert_folds_round_its_volume(&made);
        // The four triangles alone, by the divergence theorem and wherever they are.
        let [a, b, c, d] = FourFaced::of(&made).unwrap().corners().map(|p| p + Vec3::new(1000.0, -500.0, 333.0));
        let apart = enclosed_volume(&[[b, c, d], [a, c, b], [a, b, d], [a, d, c]]);
        prop_assert!((apart / made.volume_mm3() - 1.0).abs() < 1e-6, "{apart}");
    }

    /// The block that stands for a ball in the fold check fits just when the ball does.
    #[test]
    fn the_block_that_stands_for_a_ball_fits_when_the_ball_does(
        mark in 120_i64..900, more in 60_i64..2500, caliper in 1_i64..6, share in 0.3..1.7_f64,
    ) {
        let at = [4 * mark + 80, 160 + mark + more, 80, mark];
        let made = Structure::new(settings(at), &tools(), tenths(caliper));
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        let pouch = FourFaced::of(&made).unwrap();
        let across = share * pouch.ball_mm();
        prop_assume!((share - 1.0).abs() > 1e-6);
        let around = crate::ContentsBox { x: across, y: across, z: across };
        let block = FourFaced::KIND.family().block_for_ball(&made, around);
        let clear = made.checks(Some(&block)).into_iter().find(|it| it.name == "clear").unwrap();
        prop_assert_eq!(clear.holds, share < 1.0, "{} {}", share, clear.says);
    }

    #[test]
    fn any_settings_at_all_make_a_four_faced_pouch_or_a_refusal(at in prop::array::uniform4(-5_i64..2500), caliper in -1_i64..30) {
        assert_sound_or_refused(FourFaced::KIND, Structure::new(settings(at), &tools(), tenths(caliper)));
    }
}
