//! Recipes of lids with a window.

use tablefold_geometry::{Length, StructureKind};

use super::*;
use crate::demo::class;
use crate::workshop::{ClassFacts, packet, plan_now};

/// The demo's class with one tray or six-sided box for its tin, in card for all three roles.
fn class_of(slug: &str, window: Option<i64>) -> ClassFacts {
    let mut class = class(5);
    class.project.pieces.truncate(1);
    let spec = &mut class.project.pieces[0].spec;
    spec.structure = StructureKind::find(slug).expect("registered");
    (spec.band, spec.tag, spec.ribbon) = (None, None, None);
    spec.fit.window = window.map(Length::from_mm);
    class
}

fn recipe_of(slug: &str, window: Option<i64>) -> Recipe {
    Recipe::build(&class_of(slug, window).project).expect("can be made")
}

fn keys(recipe: &Recipe) -> Vec<&str> {
    let steps = recipe.steps.iter();
    steps.map(|step| step.operation.key.as_str()).collect()
}

#[test]
fn a_window_is_cut_before_the_class_and_its_film_is_taped_before_the_walls_go_up() {
    for slug in ["tray", "hexagon"] {
        let recipe = recipe_of(slug, Some(30));
        let place = |key: &str| {
            let found = keys(&recipe).iter().position(|it| *it == key);
            found.unwrap_or_else(|| panic!("{slug}: {key} in {:?}", keys(&recipe)))
        };
        let window = &recipe.steps[place("p1.lid-cut-out")];
        assert!(window.is_prep(), "{slug}");
        assert_eq!(window.operation.tool, Some(ToolKind::CraftKnife));
        assert_eq!(window.operation.caution, Some(Caution::Blade));
        assert_eq!(window.operation.after, ["p1.lid-cut"]);
        let film = &recipe.steps[place("p1.lid-film")];
        assert!(film.is_class(), "{slug}");
        assert!(film.operation.after.contains(&"p1.lid-film-cut".to_owned()));
        assert!(place("p1.lid-film") < place("p1.lid-fold-1"), "{slug}");
    }
}

/// 30 mm and 8 mm beyond it on both sides, up to a sixteenth of an inch: 46.04 mm is 29 of them.
#[test]
fn film_is_a_part_of_the_kit_with_a_paper_of_its_own() {
    let recipe = recipe_of("tray", Some(30));
    assert_eq!(recipe.roles(), ["main", "window film"]);
    let film = recipe.parts.iter().find(|part| part.key == "p1.lid-film");
    let film = film.expect("a part");
    let side = Length::inch_fraction(29, 16).expect("a length");
    let role = "window film".to_owned();
    let (width, height) = (side, side);
    assert_eq!(
        film.kind,
        PartKind::Cut {
            role,
            width,
            height
        }
    );
    assert_eq!(film.per_kit, 1);
    insta::assert_snapshot!(film.name, @"Seed box: window film");
}

#[test]
fn a_packet_with_film_balances_once_each_colourway_names_its_paper() {
    let mut class = class_of("tray", Some(30));
    let missing = packet(&class, &plan_now).map(|_| ());
    let missing = missing.expect_err("no paper for the film");
    insta::assert_snapshot!(missing[0], @r#"Colourway "Meadow" has no paper for "window film". Choose one under Colourways."#);
    for colourway in &mut class.colourways {
        let film = colourway.papers["label"].clone();
        colourway.papers.insert("window film".to_owned(), film);
    }
    let made = packet(&class, &plan_now).unwrap_or_else(|error| panic!("{error:?}"));
    let film = made.balance.iter().find(|line| line.what.contains("film"));
    let film = film.expect("counted");
    // 5 attendees, and a spare kit of each of the 3 colourways.
    assert_eq!((film.packs, film.spares, film.yields), (5, 3, 8));
}

/// Steps that were reworded, hidden or moved are found by their keys.
#[test]
fn a_window_changes_no_key_of_another_step() {
    for slug in ["tray", "hexagon"] {
        let (with, without) = (recipe_of(slug, Some(30)), recipe_of(slug, None));
        let mut others = keys(&with);
        others.retain(|key| !key.contains("cut-out") && !key.contains("film"));
        assert_eq!(others, keys(&without), "{slug}");
    }
}

#[test]
fn a_window_that_cannot_be_is_told_at_its_own_field() {
    let problem = |mut class: ClassFacts, by_hand: bool| {
        if by_hand {
            let made = recipe_of("tray", None);
            let settings = made.pieces[0].structure.settings();
            class.project.pieces[0].spec.by_hand = Some(settings);
        }
        let problems = Recipe::build(&class.project).expect_err("too large");
        format!("{}: {}", problems[0].field, problems[0].message)
    };
    insta::assert_snapshot!(problem(class_of("tray", Some(200)), false), @"window: The tray with lid cannot be made for these contents. Window of 200 mm is too much: 10 mm of paper has to stay all round it. Set 1 7/8 in or less.");
    insta::assert_snapshot!(problem(class_of("tray", Some(200)), true), @"window: Window of 200 mm is too much: 10 mm of paper has to stay all round it. Set 1 7/8 in or less.");
    insta::assert_snapshot!(problem(class_of("drawer", Some(20)), false), @"window: The drawer with sleeve has no window. Leave the window out.");
}

#[test]
fn settings_by_hand_keep_the_window() {
    let mut class = class_of("tray", Some(30));
    let made = recipe_of("tray", None);
    class.project.pieces[0].spec.by_hand = Some(made.pieces[0].structure.settings());
    let recipe = Recipe::build(&class.project).expect("can be made");
    let opening = recipe.pieces[0].structure.settings().opening();
    assert_eq!(opening, Some(Length::from_mm(30)));
}

/// The demo's ribbon goes through the holes of a roof; without one in the kit, the step says so;
/// a roof with a slot has no hole to tie.
#[test]
fn a_ribbon_through_the_roof_is_the_one_in_the_kit_or_the_makers_own() {
    let tied = |with_ribbon: bool, slot: Option<i64>| {
        let mut class = class_of("gable-top", None);
        let spec = &mut class.project.pieces[0].spec;
        spec.fit.slot = slot.map(Length::from_mm);
        if with_ribbon {
            let pieces = crate::demo::project().pieces;
            let ribbon = pieces.into_iter().find_map(|piece| piece.spec.ribbon);
            let style = RibbonStyle::Bow;
            spec.ribbon = ribbon.map(|ribbon| RibbonSpec { style, ..ribbon });
        }
        let recipe = Recipe::build(&class.project).expect("can be made");
        let last = recipe.steps.last().expect("steps");
        format!("{}: {}", last.operation.key, last.operation.text)
    };
    insta::assert_snapshot!(tied(true, None), @"p1.tie: Lead the ribbon through both holes and tie a bow.");
    insta::assert_snapshot!(tied(false, None), @"p1.close: Lead a ribbon or a string of your own through both holes and tie it. None is in this kit.");
    insta::assert_snapshot!(tied(false, Some(60)), @"p1.close: Fold both roof halves together, until strip lies on strip.");
}

#[test]
fn a_slot_is_cut_with_a_knife_and_a_hole_is_punched() {
    let made = |slot: Option<i64>| {
        let mut class = class_of("gable-top", None);
        class.project.pieces[0].spec.fit.slot = slot.map(Length::from_mm);
        let recipe = Recipe::build(&class.project).expect("can be made");
        let step = recipe.step("p1.cut-out").expect("an opening").clone();
        assert!(step.is_prep());
        (step.operation.tool, step.operation.title)
    };
    let (knife, slot) = made(Some(60));
    let (punch, hole) = made(None);
    assert_eq!(
        (knife, punch),
        (Some(ToolKind::CraftKnife), Some(ToolKind::HolePunch))
    );
    insta::assert_snapshot!(slot, @"Cut the slot in each strip");
    insta::assert_snapshot!(hole, @"Punch the hole in each strip");
}

/// Tabs that would meet are cut off, and the card says where.
#[test]
fn trimmed_tabs_say_how_long_they_stay() {
    let mut class = class_of("tray", None);
    // Tabs as long as the tray is deep, 40 mm and more, would meet on walls 70 mm wide.
    class.project.pieces[0].spec.contents = tablefold_geometry::Contents::Cylinder {
        diameter: Length::from_mm(65),
        height: Length::from_mm(40),
    };
    let recipe = Recipe::build(&class.project).expect("can be made");
    let trim = recipe.step("p1.base-trim-3").expect("they are trimmed");
    let base = &recipe.pieces[0].structure.main().pattern;
    let tab = base.panel_named("top left tab").expect("a tab").1;
    let along = tab.outline.iter().map(|p| p.y);
    let long = along.clone().fold(f64::MIN, f64::max) - along.fold(f64::MAX, f64::min);
    let Some(MeasureValue::Derived(stays)) = trim.operation.measure("stays") else {
        panic!("{:?}", trim.operation.measures);
    };
    assert!((stays - long).abs() < 1e-9, "{stays} {long}");
    assert_eq!(trim.operation.headline, Some("stays"));
}

/// A piece that was stored before there were windows.
#[test]
fn a_fit_without_a_window_is_read_as_none() {
    let fit: tablefold_geometry::Fit =
        serde_json::from_str(r#"{"play":null,"lid":"half"}"#).expect("the old form");
    assert_eq!((fit.window, fit.slot), (None, None));
}
