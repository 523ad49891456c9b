//! Odd pieces and old edits: a maker can still follow every step.

use tablefold_geometry::{Contents, Length, PictureSize, PunchBoard, Ruler, Trimmer, Unit};

use super::*;
use crate::demo::project;

fn with_contents(width: i64, depth: i64, height: i64) -> ProjectFacts {
    let mut project = project();
    project.pieces.truncate(1);
    project.pieces[0].spec.contents = Contents::Block {
        width: Length::from_mm(width),
        depth: Length::from_mm(depth),
        height: Length::from_mm(height),
    };
    project
}

fn recipe(project: &ProjectFacts) -> Recipe {
    Recipe::build(project).expect("the fixture can be made")
}

fn text(recipe: &Recipe, key: &str) -> String {
    let step = recipe.step(key).expect("there");
    step.text(recipe.ruler_of(step.operation.tool))
}

#[test]
fn a_step_in_prep_goes_back_to_class_when_a_class_step_now_comes_before_it() {
    let mut project = project();
    let prep = |key: &str| StepEdit {
        key: key.to_owned(),
        phase: Some(Phase::Prep),
        ..StepEdit::default()
    };
    let all = ["punch-1", "punch-2", "side-2", "side-3", "side-4", "round"];
    project.edits = all.map(|name| prep(&format!("p1.{name}"))).to_vec();
    let phase = |project: &ProjectFacts, key| recipe(project).step(key).map(|s| s.operation.phase);
    assert_eq!(phase(&project, "p1.side-4"), Some(Phase::Prep));
    assert_eq!(
        phase(&project, "p1.round"),
        Some(Phase::Class),
        "the tabs are cut in class"
    );
    project.edits.push(prep("p1.tabs"));
    assert_eq!(phase(&project, "p1.round"), Some(Phase::Prep));
}

#[test]
fn sheets_are_cut_in_prep_whatever_an_edit_says() {
    let mut project = project();
    project.edits = vec![StepEdit {
        key: "p1.cut".to_owned(),
        phase: Some(Phase::Class),
        ..StepEdit::default()
    }];
    assert!(recipe(&project).step("p1.cut").is_some_and(Step::is_prep));
}

/// Each zone of each piece has one picture, in a step that says how much sticks it.
fn check_glue(project: &ProjectFacts) {
    let recipe = recipe(project);
    for (index, made) in recipe.pieces.iter().enumerate() {
        let steps = recipe.steps.iter().map(|step| &step.operation);
        let folds: Vec<&str> = steps
            .filter(|operation| operation.piece == Some(index) && operation.adhesive_mm > 0.0)
            .filter_map(|operation| match operation.picture {
                StepPicture::Glue { fold } => Some(fold),
                _ => None,
            })
            .collect();
        for zone in &made.pattern.glue {
            let fold = made.pattern.folds[zone.with_fold].name;
            let steps = folds.iter().filter(|name| **name == fold).count();
            assert_eq!(steps, 1, "{} of {}", zone.name, made.name);
        }
    }
}

#[test]
fn every_glue_zone_is_in_one_step_that_says_how_much_sticks_it() {
    check_glue(&project());
    for (width, depth, height) in [(62, 62, 24), (40, 80, 30), (30, 30, 80), (40, 40, 40)] {
        check_glue(&with_contents(width, depth, height));
    }
}

#[test]
fn tabs_that_overlap_are_folded_left_one_first() {
    let recipe = recipe(&with_contents(30, 30, 80));
    insta::assert_snapshot!(text(&recipe, "p1.bottom-tabs"), @"Fold the left bottom tab in and put tape on it where it is hatched. Fold the right one over it and press.");
    insta::assert_snapshot!(text(&recipe, "p1.bottom"), @"Put tape where it is hatched, fold the bottom end wall up and press it on.");
    insta::assert_snapshot!(text(&recipe, "p1.close"), @"Fold the 2 top tabs in, the left one first. Fold the top end wall over them, and its flap down over the back. The band will hold it.");
}

#[test]
fn tabs_that_meet_nowhere_are_folded_at_once() {
    let recipe = recipe(&project());
    assert!(recipe.step("p1.bottom-tabs").is_none());
    insta::assert_snapshot!(text(&recipe, "p1.bottom"), @"Fold the 2 bottom tabs in. Put tape where it is hatched, fold the bottom end wall up and press it on.");
}

#[test]
fn closing_the_top_shows_every_fold_that_is_left() {
    let project = project();
    let recipe = recipe(&project);
    let close = &recipe.step("p1.close").expect("there").operation;
    let scene = draw(&project, &recipe.pieces, close, false, PictureSize::FREE).expect("drawn");
    let pattern = &recipe.pieces[0].pattern;
    for fold in &pattern.folds[pattern.folds_before_filling..] {
        assert!(
            scene.title.contains(fold.name),
            "{} in {}",
            fold.name,
            scene.title
        );
    }
}

/// A board in inches beside a trimmer and a score board in mm.
fn mixed_bench() -> ProjectFacts {
    let mut project = project();
    project.trimmer = Trimmer::new(Ruler::millimetre());
    project.score_ruler = Ruler::millimetre();
    project
}

#[test]
fn each_tool_is_set_on_its_own_ruler() {
    for project in [project(), mixed_bench()] {
        let recipe = recipe(&project);
        for step in recipe
            .steps
            .iter()
            .filter(|step| !step.operation.settings.is_empty())
        {
            let ruler = recipe.ruler_of(step.operation.tool);
            for &setting in &step.operation.settings {
                assert!(
                    ruler.has(setting),
                    "{}: {}",
                    step.operation.key,
                    ruler.text(setting)
                );
            }
            let text = step.text(ruler);
            assert!(!text.contains('≈'), "{text}");
        }
    }
}

#[test]
fn a_metric_bench_has_no_setting_in_inches() {
    let mut project = mixed_bench();
    project.board = PunchBoard::default_metric();
    for piece in &mut project.pieces {
        if let Some(tag) = &mut piece.spec.tag {
            tag.shape = TagShape::Circle {
                diameter: Length::from_mm(25),
            };
            tag.mat
                .iter_mut()
                .for_each(|mat| mat.reveal = Length::from_mm(3));
        }
        if let Some(band) = &mut piece.spec.band {
            band.notch = Some(Length::from_mm(12));
        }
    }
    let recipe = recipe(&project);
    for step in &recipe.steps {
        let operation = &step.operation;
        let ruler = recipe.ruler_of(operation.tool);
        assert_ne!(ruler.unit(), Unit::Inch);
        for &setting in &operation.settings {
            let text = ruler.text(setting);
            assert!(!text.contains('≈'), "{}: {text}", operation.key);
        }
    }
    insta::assert_snapshot!(text(&recipe, "p1.tag-cut"), @"Cut a piece 32 mm wide and 32 mm high.");
}

#[test]
fn a_tag_without_a_size_is_refused() {
    let mut project = project();
    if let Some(tag) = &mut project.pieces[0].spec.tag {
        tag.shape = TagShape::Rectangle {
            width: Length::ZERO,
            height: Length::from_mm(20),
        };
    }
    let problems = Recipe::build(&project).expect_err("no size");
    assert_eq!(problems[0].field, "tag");
    insta::assert_snapshot!(problems[0].message, @"The side is 0 mm. Give more than 0 and at most 10 m.");
}

#[test]
fn the_sheet_lies_so_that_the_tabs_are_at_top_and_bottom() {
    let mut project = with_contents(62, 62, 24);
    let settings = |punch_1: i64, punch_2: i64, sheet: i64| {
        let sixteenths = |n: i64| Length::from_nm(n * 1_587_500);
        tablefold_geometry::Settings::from(tablefold_geometry::PunchBoxSettings {
            sheet: sixteenths(sheet),
            punch_1: sixteenths(punch_1),
            punch_2: sixteenths(punch_2),
        })
    };
    project.pieces[0].spec.contents = Contents::Block {
        width: Length::from_mm(50),
        depth: Length::from_mm(50),
        height: Length::from_mm(15),
    };
    let mut said = |at| {
        project.pieces[0].spec.by_hand = Some(at);
        text(&recipe(&project), "p1.tabs")
    };
    // W − L = √2 (p1 + p2 − S): longer, square, wider.
    assert!(said(settings(40, 60, 104)).contains("standing tall"));
    assert!(said(settings(40, 60, 100)).starts_with("Lay the sheet with a corner up. At the top"));
    assert!(said(settings(40, 60, 97)).contains("lying wide"));
}

#[test]
fn a_tiny_envelope_trims_all_that_sticks_out() {
    let mut project = project();
    project.pieces.remove(0);
    project.pieces[0].spec.contents = Contents::Block {
        width: Length::from_mm(4),
        depth: Length::from_mm(5),
        height: Length::from_mm(1),
    };
    let recipe = recipe(&project);
    insta::assert_snapshot!(text(&recipe, "p2.trim"), @"Cut off the tips of both side flaps square, ≈ 3/8 in from the score. Cut off the tips of the bottom and top flaps square, ≈ 7/16 in from the score.");
}

#[test]
fn a_short_box_trims_its_end_flaps_and_rounds_nothing() {
    let mut project = with_contents(10, 10, 5);
    let sixteenths = |n: i64| Length::from_nm(n * 1_587_500);
    let settings = tablefold_geometry::PunchBoxSettings {
        sheet: sixteenths(38),
        punch_1: sixteenths(15),
        punch_2: sixteenths(25),
    };
    let spec = &mut project.pieces[0].spec;
    spec.by_hand = Some(tablefold_geometry::Settings::from(settings));
    // Next to nothing of so small a box is left for these.
    (spec.band, spec.tag) = (None, None);
    let recipe = recipe(&project);
    insta::assert_snapshot!(text(&recipe, "p1.trim"), @"Cut off the tips of both end flaps square, ≈ 13/16 in from the score.");
    assert!(recipe.step("p1.round").is_none());
}
