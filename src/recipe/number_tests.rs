//! Numbers of a recipe against sums done by hand.

use tablefold_geometry::{Length, PunchBox, PunchEnvelope, Ribbon, Stock};

use super::*;
use crate::demo::project;

fn recipe(project: &ProjectFacts) -> Recipe {
    Recipe::build(project).expect("the fixture can be made")
}

fn eighths(n: i64) -> Length {
    Length::from_nm(n * 3_175_000)
}

/// The settings of a step, and THE measure of its card.
fn set(recipe: &Recipe, key: &str) -> (Vec<Length>, Option<String>) {
    let step = recipe.step(key).expect("there");
    let measure = step.measure(recipe.ruler_of(step.operation.tool));
    (step.operation.settings.clone(), measure.map(|both| both.0))
}

#[test]
fn each_punch_is_set_where_the_settings_say() {
    let recipe = recipe(&project());
    let Some(made) = PunchBox::of(&recipe.pieces[0].structure) else {
        panic!("the first piece is a box")
    };
    let at = made.settings();
    let shown = |at: Length| Some(recipe.ruler.text(at));
    assert_eq!(set(&recipe, "p1.cut"), (vec![at.sheet], shown(at.sheet)));
    assert_eq!(
        set(&recipe, "p1.punch-1"),
        (vec![at.punch_1], shown(at.punch_1))
    );
    assert_eq!(
        set(&recipe, "p1.punch-2"),
        (vec![at.punch_2], shown(at.punch_2))
    );
    for side in 2..=4 {
        let (settings, measure) = set(&recipe, &format!("p1.side-{side}"));
        assert_eq!((settings, measure), (vec![at.punch_1, at.punch_2], None));
    }
    let Some(made) = PunchEnvelope::of(&recipe.pieces[1].structure) else {
        panic!("the second piece is an envelope")
    };
    let at = made.settings();
    assert_eq!(
        set(&recipe, "p2.punch-1"),
        (vec![at.punch], shown(at.punch))
    );
}

/// A 1 in circle on a 1 1/4 in one leaves 1/8 in (common practice, no source).
#[test]
fn a_mat_shows_its_reveal_on_every_side() {
    let recipe = recipe(&project());
    assert_eq!(set(&recipe, "p1.tag-stamp").0, [eighths(8)]);
    assert_eq!(set(&recipe, "p1.mat-stamp").0, [eighths(10)]);
    assert_eq!(set(&recipe, "p1.tag-cut").0, [eighths(10), eighths(10)]);
    assert_eq!(set(&recipe, "p1.mat-cut").0, [eighths(12), eighths(12)]);
}

#[test]
fn what_goes_round_a_piece_waits_until_it_is_closed() {
    let recipe = recipe(&project());
    let waits = |key: &str, other: &str| {
        let step = recipe.step(key).expect("there");
        step.operation.after.iter().any(|after| after == other)
    };
    for key in ["p1.band-wrap", "p1.tag-attach", "p1.tie"] {
        assert!(waits(key, "p1.close"), "{key}");
    }
    for key in ["p1.tag-attach", "p1.tie"] {
        assert!(waits(key, "p1.band-wrap"), "{key}");
    }
    assert!(waits("p1.band-wrap", "p1.band-notch"));
    assert!(waits("p1.tag-layer", "p1.mat-stamp") && waits("p1.tag-layer", "p1.tag-stamp"));
}

/// Half a sheet at the front, half at the back, and both end flaps outside the back.
#[test]
fn a_box_is_three_sheets_deeper_than_its_creases() {
    let recipe = recipe(&project());
    let made = &recipe.pieces[0];
    let Some(structure) = PunchBox::of(&made.structure) else {
        panic!("the first piece is a box")
    };
    let t = 0.25;
    let outside = made.outside;
    assert!((outside.depth_mm - structure.depth_mm() - 3.0 * t).abs() < 1e-9);
    assert!((outside.width_mm - structure.width_mm() - t).abs() < 1e-9);
    assert!((outside.length_mm - structure.length_mm() - t).abs() < 1e-9);
}

/// Round: 2 W + 2 D. Crossed: 2 L + 2 W + 4 D (plain geometry). Each side goes up to a mark of
/// the ruler, 1/16 in, and the whole up to a quarter inch.
#[test]
fn ribbons_are_as_long_as_the_way_they_go() {
    let length = |style| {
        let mut project = project();
        if let Some(ribbon) = &mut project.pieces[0].spec.ribbon {
            ribbon.style = style;
        }
        let recipe = recipe(&project);
        let around = recipe.pieces[0].outside;
        let cut = set(&recipe, "p1.ribbon-cut").0[0].mm();
        (
            cut - Ribbon::SMALL_BOW.mm(),
            around.width_mm,
            around.depth_mm,
            around.length_mm,
        )
    };
    let (bow, ..) = length(RibbonStyle::Bow);
    assert!(bow.abs() < 1e-9);
    let most = 8.0 * 25.4 / 16.0 + 25.4 / 4.0;
    let (round, w, d, _) = length(RibbonStyle::Wrap);
    let more = round - 2.0 * (w + d);
    assert!((0.0..most).contains(&more), "{more}");
    let (cross, w, d, l) = length(RibbonStyle::Cross);
    let more = cross - (2.0 * l + 2.0 * w + 4.0 * d);
    assert!((0.0..most).contains(&more), "{more}");
}

#[test]
fn a_kit_has_as_many_extras_as_asked() {
    let mut project = project();
    project.pieces[1].spec.extras[0].count = 3;
    let recipe = recipe(&project);
    let extra = recipe.parts.iter().find(|part| part.key == "p2.extra-1");
    assert_eq!(extra.map(|part| part.per_kit), Some(3));
}

/// The settings that the search finds, typed by hand.
fn by_hand() -> ProjectFacts {
    let mut project = project();
    let found = recipe(&project).pieces[0].structure.settings();
    project.pieces[0].spec.by_hand = Some(found);
    project
}

#[test]
fn settings_by_hand_are_checked_with_the_clearance() {
    let mut project = by_hand();
    assert!(Recipe::build(&project).is_ok());
    project.pieces[0].spec.clearance = eighths(3);
    let problems = Recipe::build(&project).expect_err("1/4 in more is not there");
    assert_eq!(problems[0].field, "settings");
}

#[test]
fn settings_by_hand_name_the_sheet_that_takes_fewest() {
    let mut project = by_hand();
    let small = project.pieces[0].sheets[0].clone();
    let inches = Length::inches(24);
    let large = Stock {
        name: "Large moss".to_owned(),
        width: inches,
        height: inches,
        ..small.clone()
    };
    for sheets in [vec![small.clone(), large.clone()], vec![large, small]] {
        project.pieces[0].sheets = sheets;
        let best = recipe(&project).pieces[0].best_sheet.clone();
        // 5 13/16 in squares: 16 from 24 x 24 in, 4 from 12 x 12 in; 14 are made.
        assert_eq!(best, Some(("Large moss".to_owned(), 1)));
    }
}

#[test]
fn the_gravest_hazard_stands_on_the_card_and_all_on_the_list() {
    let mut project = project();
    project.pieces[0].spec.hazards = vec![Hazard::SmallParts, Hazard::Food, Hazard::Flame];
    let recipe = recipe(&project);
    let card = recipe
        .step("p1.put-in")
        .and_then(|step| step.operation.caution);
    assert_eq!(card, Some(Caution::Flame));
    for caution in [
        Caution::Flame,
        Caution::Food,
        Caution::SmallParts,
        Caution::Cord,
    ] {
        assert!(recipe.pieces[0].cautions.contains(&caution), "{caution:?}");
    }
}
