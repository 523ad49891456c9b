//! Bands lose no paper and close.

use proptest::prelude::*;

use kurbo::Point;

use super::Band;
use super::tests::{metre, requests, seed_tin_request};
use crate::{Check, ContentsBox, Face, FingerNotch, PanelId, Solid, fold_check};

fn area(outline: &[Point]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    let twice: f64 = outline
        .iter()
        .zip(next)
        .map(|(a, b)| a.to_vec2().cross(b.to_vec2()))
        .sum();
    twice / 2.0
}

fn notched(mut band: crate::BandRequest) -> crate::BandRequest {
    band.notch = FingerNotch::half_of(crate::Length::from_mm(8)).ok();
    band
}

#[test]
fn a_finger_notch_opens_the_front_at_the_middle_of_the_top_edge() {
    let request = notched(seed_tin_request());
    let pattern = Band::round(&request, &metre(), &metre()).unwrap().pattern();
    let waste = &pattern.waste[0].outline;
    // 90 mm strip: the edge is at y = 45, the notch 4 mm deep.
    let lowest = waste.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    assert!((lowest - 41.0).abs() < 1e-9, "{lowest}");
    let sum: f64 = waste.iter().map(|p| p.x).sum();
    assert!(sum.abs() < 1e-9, "{sum}");
    assert!(
        (area(waste) - std::f64::consts::PI * 8.0).abs() < 0.1,
        "{}",
        area(waste)
    );
}

fn failed(checks: &[Check]) -> Vec<String> {
    let failed = checks.iter().filter(|check| !check.holds);
    failed
        .map(|check| format!("{}: {}", check.name, check.says))
        .collect()
}

#[test]
fn a_crease_off_its_place_does_not_pass() {
    let mut pattern = Band::round(&seed_tin_request(), &metre(), &metre())
        .unwrap()
        .pattern();
    for panel in &mut pattern.panels {
        for corner in &mut panel.outline {
            if (corner.x - pattern.creases[3].a.x).abs() < 1e-9 {
                corner.x += 1.0;
            }
        }
    }
    pattern.creases[3].a.x += 1.0;
    pattern.creases[3].b.x += 1.0;
    insta::assert_snapshot!(failed(&fold_check(&pattern, None)).join("; "), @"closed: The right end does not lie in the back.; glue: Glue, overlap at the back: it does not reach the left end.");
}

#[test]
fn a_notch_opens_its_share_of_the_front_and_no_more() {
    let request = notched(seed_tin_request());
    let mut pattern = Band::round(&request, &metre(), &metre()).unwrap().pattern();
    if let Solid::Box { open, .. } = &mut pattern.solid {
        open.retain(|&face| face != Face::Front);
    }
    // By hand: a half circle of radius 4 mm in 60.25 × 90 mm is 0.4635 %; chords take a little less.
    let failed = failed(&fold_check(&pattern, None)).join("; ");
    insta::assert_snapshot!(failed, @"closed: 0.457 % of the front is open.");
}

proptest! {
    #[test]
    fn a_band_passes_the_fold_check_with_its_box_in_it(request in requests()) {
        for request in [request, notched(request)] {
            let band = Band::round(&request, &metre(), &metre()).unwrap();
            let contents = ContentsBox {
                x: request.around.width_mm,
                y: band.strip_width().mm(),
                z: request.around.depth_mm,
            };
            let checks = fold_check(&band.pattern(), Some(&contents));
            prop_assert!(failed(&checks).is_empty(), "{:?}", failed(&checks));
            prop_assert_eq!(checks.len(), 6);
        }
    }

    #[test]
    fn panels_and_notch_are_the_strip(request in requests()) {
        for request in [request, notched(request)] {
            let pattern = Band::round(&request, &metre(), &metre()).unwrap().pattern();
            let parts = pattern.panels.iter().map(|panel| &panel.outline)
                .chain(pattern.waste.iter().map(|waste| &waste.outline));
            let mut sum = 0.0;
            for part in parts {
                prop_assert!(area(part) > 0.0, "counter-clockwise");
                sum += area(part);
            }
            prop_assert!((sum - area(&pattern.blank)).abs() < 1e-6);
        }
    }

    /// A walk along the strip from its left tip, a left turn at every crease: after the fourth
    /// the right tip has gone past the left tip by the overlap, on the same line.
    #[test]
    fn four_right_angles_bring_the_ends_over_each_other(request in requests()) {
        let band = Band::round(&request, &metre(), &metre()).unwrap();
        let pattern = band.pattern();
        let mut stops: Vec<f64> = pattern.creases.iter().map(|crease| crease.a.x).collect();
        let tip = pattern.blank.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
        stops.push(tip);
        stops.sort_by(f64::total_cmp);
        let (mut at, mut heading, mut x) = (kurbo::Vec2::ZERO, kurbo::Vec2::new(1.0, 0.0), -tip);
        for stop in stops {
            at += heading * (stop - x);
            x = stop;
            heading = kurbo::Vec2::new(-heading.y, heading.x);
        }
        prop_assert!((at.x - band.overlap_mm()).abs() < 1e-9 && at.y.abs() < 1e-9, "{at:?}");
    }

    #[test]
    fn every_crease_has_its_parent_on_the_left(request in requests()) {
        let pattern = Band::round(&request, &metre(), &metre()).unwrap().pattern();
        for crease in &pattern.creases {
            let along = crease.b - crease.a;
            let side = |id: PanelId| -> f64 {
                pattern.panels[id.0].outline.iter().map(|&p| along.cross(p - crease.a)).sum()
            };
            prop_assert!(side(crease.parent) > 0.0 && side(crease.child) < 0.0, "{}", crease.name);
        }
    }
}
