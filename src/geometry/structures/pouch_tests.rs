//! The pillow pouch against closed forms, its own checks, and settings that make none.

use proptest::prelude::*;

use super::pouch_bend::STRIPS;
use super::segment::Segment;
use super::test_support::*;
use super::*;
use crate::{Ruler, fold, fold_closed, pattern_lines};

fn settings(tenths_mm: [i64; 4]) -> Settings {
    Settings::of(Pouch::KIND, &tenths_mm.map(tenths))
}

/// 2 L A − (2/3) c³ + 8 k A, worked out apart and equal to a numeric integration to 1e-10; the
/// last row is its limit at half a circle: a cylinder less the solid that two crossing cylinders
/// share, 16 r³ / 3 (Steinmetz).
#[test]
fn a_pouch_holds_what_the_closed_form_says() {
    for (chord, height, length, want) in [
        (21.0, 6.0, 60.0, 8954.578),
        (60.0, 12.0, 100.0, 79_751.93),
        (20.0, 10.0, 50.0, 10_374.63),
    ] {
        let segment = Segment::of_chord(chord, height).unwrap();
        let volume = pouch::volume(&segment, length);
        assert!((volume / want - 1.0).abs() < 1e-6, "{volume} {want}");
        // The same integral by Simpson's rule.
        let z = |x: f64| (segment.radius.powi(2) - x * x).sqrt() - segment.below();
        let f = |x: f64| 2.0 * z(x) * (length - 2.0 * z(x));
        let n = 20_000;
        let step = chord / f64::from(n);
        let sum: f64 = (0..=n)
            .map(|i| {
                let weight = if i == 0 || i == n {
                    1.0
                } else {
                    2.0 + 2.0 * f64::from(i % 2)
                };
                weight * f((f64::from(i) * step - chord / 2.0).clamp(-chord / 2.0, chord / 2.0))
            })
            .sum();
        assert!((volume / (sum * step / 3.0) - 1.0).abs() < 1e-5, "{volume}");
    }
    // Flat panel of the second row: 66.208 wide.
    let wide = Segment::of_chord(60.0, 12.0).unwrap();
    assert!((wide.arc() - 66.208).abs() < 1e-3);
}

#[test]
fn a_pouch_folds_closes_and_holds_what_it_says() {
    let made = made(settings([1424, 1240, 662, 120]));
    let inside = made.inside_for(15.0);
    let contents = filled(inside);
    let checks = made.checks(Some(&contents));
    let says: Vec<String> = checks
        .iter()
        .map(|it| {
            format!(
                "{} {} {:.4} {}: {}",
                it.name, it.holds, it.margin, it.unit, it.says
            )
        })
        .collect();
    insta::assert_snapshot!(says.join("\n"), @"
    flat true 0.0000 mm²: 68 panels lie flat side by side; panels and waste make up the sheet of 17657.6 mm².
    hinges true 0.0000 mm: 107 creases hold their panels together at 36 moments.
    closed true 0.1000 %: Every face that should be closed is covered to 100.000 %.
    clear true 0.0000 mm: The contents have 0.00 mm to spare, and no panel is in the way.
    glue true 2.7873 mm: 2 glue zones are wide enough by 2.8 mm or more and in reach.
    flat vertices true 0.0000 °: No vertex inside the paper has to fold flat.
    ");
    let pattern = made.pattern();
    let volume = fold_closed(pattern).volume_of_solid(pattern);
    // Strips lie inside the bend: the mesh errs by about 1 / n².
    let off = volume / made.volume_mm3() - 1.0;
    assert!(off < 0.0 && off > -2.0 / (STRIPS * STRIPS) as f64, "{off}");
}

/// The arches of this pouch, from chord and height by hand: the crease lies on
/// R cos(s/R) − k, and so does the middle of each straight piece but for 0.02 mm.
#[test]
fn the_arched_creases_are_scored_as_cosines() {
    let made = made(settings([1424, 1240, 662, 120]));
    let lines = pattern_lines(made.pattern());
    let segment = Segment::of_arc(66.2, 12.0).unwrap();
    let arched = lines.creases.iter().filter(|it| it.points.len() > 2);
    let mut found = 0;
    for crease in arched {
        found += 1;
        let at = if crease.points[1].x > 33.1 { 66.2 } else { 0.0 };
        for pair in crease.points.windows(2) {
            let middle = pair[0].midpoint(pair[1]);
            let want = |x: f64| 50.0 - segment.arch(x - at);
            assert!((pair[0].y.abs() - want(pair[0].x)).abs() < 1e-6);
            let off = (middle.y.abs() - want(middle.x)).abs();
            assert!(off < 0.02, "{off} at {middle:?}");
        }
    }
    assert_eq!(found, 4);
    // The rim: front, back and side flap in pieces of at most √(8 · 0.02 · R).
    let rim = lines.outlines.last().unwrap();
    let pieces = rim.windows(2).map(|pair| pair[1] - pair[0]);
    let slanted = pieces.filter(|piece| piece.x.abs() > 1e-6 && piece.y.abs() > 1e-6);
    let longest = slanted.map(|piece| piece.x.abs()).fold(0.0, f64::max);
    let most = (8.0 * 0.02 * segment.radius).sqrt();
    assert!(longest <= most + 1e-9, "{longest} {most}");
}

/// The greatest gap, mm, between two strips of one bent panel half-way from rest to rest: it is
/// seen in pictures. The flap is 66 mm wide.
#[test]
fn strips_stay_together_while_a_flap_snaps() {
    let made = made(settings([1424, 1240, 662, 120]));
    let pattern = made.pattern();
    let mut widest = 0.0_f64;
    for step in 0..pattern.folds.len() {
        let folded = fold(pattern, &pattern.angles_during(step, 0.5));
        for crease in &pattern.creases {
            let [parent, child] = [crease.parent, crease.child].map(|id| folded.pose(id).unwrap());
            for p in [crease.a, crease.b] {
                widest = widest.max((parent.place(p) - child.place(p)).length());
            }
        }
    }
    insta::assert_snapshot!(format!("{widest:.3}"), @"1.364");
}

#[test]
fn what_cannot_be_a_pouch_says_what_would_do() {
    let wrong = |at: [i64; 4]| {
        let error = Structure::new(settings(at), &tools(), tenths(3)).unwrap_err();
        refusal(&error)
    };
    insta::assert_snapshot!(wrong([1424, 0, 662, 120]), @"sheet_length: Sheet length of 0 mm is no length that can be used. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(wrong([1400, 1240, 662, 120]), @"sheet_width: Sheet width of 140 mm is too little: front and back leave no side flap to glue. Set 140.4 mm or more.");
    insta::assert_snapshot!(wrong([1800, 1240, 662, 120]), @"sheet_width: Sheet width of 180 mm is too much: the side flap is wider than half the front. Set 165.5 mm or less.");
    insta::assert_snapshot!(wrong([1424, 1240, 662, 60]), @"arch: Arch of 6 mm is too little: so flat an end springs open. Set 6.7 mm or more.");
    insta::assert_snapshot!(wrong([1424, 1240, 662, 190]), @"arch: Arch of 19 mm is too much: a panel does not bend beyond half a circle. Set 18.5 mm or less.");
    insta::assert_snapshot!(wrong([490, 1240, 190, 30]), @"score: Score at 19 mm is too little: so narrow a panel does not bend by hand. Set 20 mm or more.");
    insta::assert_snapshot!(wrong([1424, 470, 662, 120]), @"caliper: Paper 0.3 mm thick leaves no room in a length of -1 mm. Use thinner paper or larger settings.");
    let short = Tools {
        score: Some(Ruler::millimetre()),
        ..tools()
    };
    let error = Pouch::new(settings([3400, 4000, 1600, 250]), &short, tenths(3)).unwrap_err();
    insta::assert_snapshot!(error, @"Score at 160 mm is too much: the second score, twice as far from the edge, is out of the board's reach. Set 150 mm or less.");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn any_pouch_folds_closes_and_takes_what_it_says(
        panel in 200_i64..1200, flap in 80_i64..200, share in 0.1..0.28_f64, more in 30_i64..1500,
        caliper in 1_i64..6, thick in 0.05..0.6_f64,
    ) {
        let flap = flap.min(panel / 2);
        let arch = (panel as f64 * share).ceil() as i64;
        let at = [2 * panel + flap, 4 * arch + more, panel, arch];
        let made = Structure::new(settings(at), &tools(), tenths(caliper));
        prop_assume!(made.is_ok());
        let made = made.unwrap();
        let deepest = made.inside_for(f64::INFINITY).depth;
        let inside = made.inside_for(thick * deepest);
        prop_assume!(inside.width > 1.0);
        let pattern = made.pattern();
        let off = fold_closed(pattern).volume_of_solid(pattern) / made.volume_mm3() - 1.0;
        prop_assert!(off.abs() < 3.0 / (STRIPS * STRIPS) as f64, "{off} {at:?}");
        // Much wider does not fit. (The room keeps clear of the side flap on both sides, and the
        // flap is on one.)
        assert_just_fit(&made, filled(inside), [4.0, 0.0, 0.0]);
    }

    #[test]
    fn any_settings_at_all_make_a_pouch_or_a_refusal(at in prop::array::uniform4(-5_i64..2500), caliper in -1_i64..30) {
        assert_sound_or_refused(Pouch::KIND, Structure::new(settings(at), &tools(), tenths(caliper)));
    }
}
