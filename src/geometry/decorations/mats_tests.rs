//! Mats against sizes worked by hand, and random ones.

use kurbo::Shape as _;
use proptest::prelude::*;

use super::*;
use crate::{Length, Ruler};

fn eighths(n: i64) -> Length {
    Length::from_nm(n * 3_175_000)
}

fn circle(eighth_inches: i64) -> MatShape {
    MatShape::Circle {
        diameter: eighths(eighth_inches),
    }
}

#[test]
fn a_1_in_circle_on_one_of_1_1_4_in_leaves_an_eighth() {
    // Common practice, no source.
    assert_eq!(reveal_round_mm(circle(10), circle(8)), (3.175, 3.175));
    let mats = Mats::layers(circle(10), eighths(1), 2).unwrap();
    assert_eq!(mats.shapes(), [circle(10), circle(8)]);
}

#[test]
fn a_mat_on_a_card_is_smaller_by_twice_the_reveal_each_way() {
    let card = MatShape::Rectangle {
        width: Length::from_mm(100),
        height: Length::from_mm(140),
    };
    let mats = Mats::layers(card, Length::from_mm(4), 3).unwrap();
    let sizes: Vec<_> = mats
        .shapes()
        .iter()
        .map(|mat| (mat.size().0.mm(), mat.size().1.mm()))
        .collect();
    assert_eq!(sizes, [(100.0, 140.0), (92.0, 132.0), (84.0, 124.0)]);
}

#[test]
fn what_cannot_be_layered_is_refused_with_what_would_do() {
    let say = |shape, reveal, layers| Mats::layers(shape, reveal, layers).unwrap_err();
    insta::assert_snapshot!(say(circle(10), eighths(1), 0), @"0 layers are no stack of mats. Give 1 to 20.");
    insta::assert_snapshot!(say(circle(10), eighths(1), 10_000), @"10000 layers are no stack of mats. Give 1 to 20.");
    insta::assert_snapshot!(say(circle(0), eighths(1), 2), @"A mat with a side of 0 mm cannot be cut. Give more than 0 and at most 10 m.");
    insta::assert_snapshot!(say(circle(10), Length::ZERO, 2), @"A reveal of 0 mm does not show. Give more than 0.");
    insta::assert_snapshot!(say(circle(8), eighths(2), 3), @"3 layers with a reveal of 6.35 mm leave nothing of a side of 25.4 mm. Make at most 2, or use a reveal under 6.35 mm.");
    insta::assert_snapshot!(say(circle(8), Length::from_nm(i64::MAX), 2), @"2 layers with a reveal of 9223372036854.775807 mm leave nothing of a side of 25.4 mm. Make at most 1, or use a reveal under 12.7 mm.");
}

/// By hand: of 105.5 x 148 mm a reveal of 4 mm leaves 97.5, which is cut at 97, and 140 mm;
/// of those 89 and 132.
#[test]
fn mats_are_cut_at_marks_of_the_trimmer_and_show_no_less_than_the_reveal() {
    let base = MatShape::Rectangle {
        width: Length::from_nm(105_500_000),
        height: Length::from_mm(148),
    };
    let trimmer = Ruler::millimetre();
    let mats = Mats::on(base, Length::from_mm(4), 2, &trimmer).unwrap();
    let sizes: Vec<_> = mats.shapes().iter().map(|mat| mat.size()).collect();
    let mm = Length::from_mm;
    assert_eq!(sizes, [(mm(97), mm(140)), (mm(89), mm(132))]);
    assert_eq!(reveal_round_mm(base, mats.shapes()[0]), (4.25, 4.0));
    let say = |reveal, layers| Mats::on(base, reveal, layers, &trimmer).unwrap_err();
    insta::assert_snapshot!(say(mm(60), 1), @"A reveal of 60 mm leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 47 mm or less.");
    insta::assert_snapshot!(say(mm(24), 2), @"A reveal of 24 mm round each of 2 mats leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 23 mm or less.");
    insta::assert_snapshot!(say(Length::ZERO, 1), @"A reveal of 0 mm does not show. Give more than 0.");
    insta::assert_snapshot!(say(mm(1), 0), @"0 layers are no stack of mats. Give 1 to 20.");
    insta::assert_snapshot!(say(Length::from_nm(i64::MAX), 1), @"A reveal of 9223372036854.775807 mm leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 47 mm or less.");
    insta::assert_snapshot!(say(mm(3), 20), @"A reveal of 3 mm round each of 20 mats leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 1 mm or less.");
    let coarse = Ruler::new(crate::Unit::Millimetre, mm(100), Length::ZERO, mm(300)).unwrap();
    insta::assert_snapshot!(Mats::on(base, mm(1), 2, &coarse).unwrap_err(), @"A reveal of 1 mm round each of 2 mats leaves less than 100 mm of 105.5 mm for the last mat. Use fewer mats, or none.");
}

#[test]
fn a_single_mat_takes_any_reveal() {
    let huge = Length::from_nm(i64::MAX);
    assert_eq!(
        Mats::layers(circle(8), huge, 1).unwrap().shapes(),
        [circle(8)]
    );
}

proptest! {
    #[test]
    fn rims_add_up_to_what_the_uppermost_lost(
        width in 1..2000i64, height in 1..2000i64, reveal in 1..60i64, layers in 1..=20usize,
    ) {
        let outer = MatShape::Rectangle {
            width: Length::from_mm(width),
            height: Length::from_mm(height),
        };
        let reveal = Length::from_mm(reveal);
        match Mats::layers(outer, reveal, layers) {
            Ok(mats) => {
                let last = *mats.shapes().last().unwrap();
                let rims = reveal.mm() * (layers - 1) as f64;
                prop_assert_eq!(reveal_round_mm(outer, last), (rims, rims));
                for pair in mats.shapes().windows(2) {
                    prop_assert!(pair[1].area_mm2() < pair[0].area_mm2());
                }
                prop_assert!(last.size().0 > Length::ZERO && last.size().1 > Length::ZERO);
            }
            Err(MatsError::NothingLeft { most, reveal_under, .. }) => {
                prop_assert!(most < layers);
                prop_assert!(Mats::layers(outer, reveal, most).is_ok());
                prop_assert!(Mats::layers(outer, reveal, most + 1).is_err());
                let less = reveal_under - Length::from_nm(1);
                prop_assert!(Mats::layers(outer, less, layers).is_ok());
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
    }

    #[test]
    fn a_mat_is_one_mark_from_showing_less_than_the_reveal(
        width in 30..400i64, height in 30..400i64, reveal in 1..200i64, layers in 1..=3usize,
        sixteenths: bool,
    ) {
        let trimmer = if sixteenths { Ruler::inch(16) } else { Ruler::millimetre() };
        let tenth = |n: i64| Length::from_nm(n * 100_000);
        let base = MatShape::Rectangle { width: tenth(10 * width), height: tenth(7 * height) };
        let reveal = tenth(reveal);
        match Mats::on(base, reveal, layers, &trimmer) {
            Ok(mats) => {
                let all: Vec<_> = std::iter::once(&base).chain(mats.shapes()).collect();
                for pair in all.windows(2) {
                    let (sides, ends) = reveal_round_mm(*pair[0], *pair[1]);
                    for rim in [sides, ends] {
                        prop_assert!(rim >= reveal.mm() - 1e-6, "{rim}");
                        let looser = rim - trimmer.step().mm() / 2.0;
                        let past_the_ruler = *pair[0] == base && width.max(height) > 290;
                        prop_assert!(looser < reveal.mm() || past_the_ruler, "{rim}");
                    }
                    let (w, h) = pair[1].size();
                    prop_assert!(trimmer.has(w) && trimmer.has(h));
                }
            }
            Err(MatsError::TooSmall { most, .. }) => {
                let does = |reveal| Mats::on(base, reveal, layers, &trimmer).is_ok();
                prop_assert!(most.is_none_or(|most| most < reveal && does(most)));
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
    }

    #[test]
    fn outlines_have_the_area_they_claim(width in 1..500i64, height in 1..500i64) {
        let (width, height) = (Length::from_mm(width), Length::from_mm(height));
        for shape in [MatShape::Rectangle { width, height }, MatShape::Circle { diameter: width }] {
            let drawn = shape.outline().area().abs();
            prop_assert!((drawn - shape.area_mm2()).abs() <= 1e-5 * drawn, "{drawn}");
        }
    }
}
