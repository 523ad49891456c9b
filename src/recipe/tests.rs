//! A whole recipe: order, wording, edits, pictures.

use tablefold_geometry::{Contents, Length, PictureSize, PunchBoxSettings, Settings, Unit};

use super::*;
use crate::demo::project;

fn recipe(project: &ProjectFacts) -> Recipe {
    Recipe::build(project).expect("the fixture can be made")
}

fn edit(key: &str) -> StepEdit {
    StepEdit {
        key: key.to_owned(),
        ..StepEdit::default()
    }
}

fn titles(recipe: &Recipe) -> Vec<String> {
    recipe
        .steps
        .iter()
        .map(|step| step.operation.title.clone())
        .collect()
}

#[test]
fn every_step_comes_after_what_it_needs() {
    let recipe = recipe(&project());
    for (at, step) in recipe.steps.iter().enumerate() {
        for key in &step.operation.after {
            let needs = recipe
                .steps
                .iter()
                .position(|other| other.operation.key == *key);
            assert!(
                needs.is_some_and(|needs| needs < at),
                "{} before {key}",
                step.operation.key
            );
        }
    }
}

#[test]
fn the_default_order_can_be_taught() {
    let titles = titles(&recipe(&project()));
    insta::assert_snapshot!(titles.join("\n"), @"
    Cut the square
    Punch and score side 1
    Punch side 1 again
    Turn, punch side 2
    Turn, punch side 3
    Turn, punch side 4
    Cut 4 times, free the tabs
    Round the 2 end tips
    Fold and press all scores
    Stand both sides up
    Tape the back
    Close the bottom end
    Tape the bottom flap
    Put in the round seed tin
    Close the top
    Cut the band
    Score the band 4 times
    Punch a finger notch
    Put the band round
    Cut the tag
    Punch the tag
    Cut the tag mat
    Punch the tag mat
    Glue the tag on its mat
    Stick the tag on
    Cut the ribbon
    Tie the bow
    Cut the square
    Punch and score side 1
    Turn, punch side 2
    Turn, punch side 3
    Turn, punch side 4
    Fold and press all scores
    Fold the 2 side flaps in
    Glue the bottom flap
    Put in the seed packet
    Close the top flap
    ");
}

#[test]
fn default_texts_have_no_open_measure() {
    let recipe = recipe(&project());
    for step in &recipe.steps {
        let operation = &step.operation;
        for text in [&operation.text, &operation.tip] {
            assert_eq!(
                check_wording(text, &operation.measures),
                Ok(()),
                "{}",
                operation.key
            );
        }
        assert!(
            operation.title.split(' ').count() <= 6,
            "{} is long",
            operation.title
        );
    }
}

#[test]
fn a_measure_stays_live_in_reworded_text() {
    let mut project = project();
    let words = StepEdit {
        text: Some("Corner at {first}, then press.".into()),
        ..edit("p1.punch-1")
    };
    project.edits = vec![words];
    let text = |project: &ProjectFacts| {
        let recipe = recipe(project);
        recipe
            .step("p1.punch-1")
            .expect("there")
            .text(&recipe.ruler)
    };
    let before = text(&project);
    project.pieces[0].spec.clearance = Length::inches(1);
    let after = text(&project);
    assert!(
        before.starts_with("Corner at ") && !before.contains('{'),
        "{before}"
    );
    assert_ne!(before, after, "a larger box is punched further in");
}

#[test]
fn a_moved_step_never_passes_what_it_needs() {
    let mut project = project();
    project.edits = vec![StepEdit {
        position: Some(-5.0),
        ..edit("p1.close")
    }];
    let titles = titles(&recipe(&project));
    let at = |title: &str| {
        titles
            .iter()
            .position(|other| other == title)
            .expect("there")
    };
    assert!(at("Put in the round seed tin") < at("Close the top"));
}

#[test]
fn moves_are_refused_with_the_step_that_must_come_first() {
    let recipe = recipe(&project());
    let operations: Vec<Operation> = recipe
        .steps
        .iter()
        .map(|step| step.operation.clone())
        .collect();
    let refused = moved(&operations, "p1.punch-2", true).expect_err("needs the first punch");
    insta::assert_snapshot!(refused, @r#""Punch side 1 again" can't come before "Punch and score side 1": "Punch and score side 1" must be done first."#);
    let refused = switched(&operations, "p1.punch-2", Phase::Prep).expect_err("first is in class");
    insta::assert_snapshot!(refused, @r#""Punch side 1 again" can't be in prep: "Punch and score side 1" comes before it and is in class. Move that one first."#);
    let refused = switched(&operations, "p1.ribbon-cut", Phase::Class);
    assert_eq!(refused, Ok(()));
    let mut tied = operations.clone();
    if let Some(tie) = tied.iter_mut().find(|step| step.key == "p1.tie") {
        tie.phase = Phase::Prep;
    }
    let refused = switched(&tied, "p1.ribbon-cut", Phase::Class).expect_err("the bow is in prep");
    insta::assert_snapshot!(refused, @r#""Cut the ribbon" can't be in class: "Tie the bow" comes after it and is in prep. Move that one first."#);
    let refused = switched(&operations, "p1.cut", Phase::Class).expect_err("sheets are in prep");
    insta::assert_snapshot!(refused, @r#""Cut the square" stays in prep: the parts of all kits are cut together, from as few sheets as the plan needs."#);
}

#[test]
fn own_and_hidden_steps_are_kept() {
    let mut project = project();
    let own = StepEdit {
        title: Some("Write the seed's name".into()),
        text: Some("Use a pencil.".into()),
        position: Some(2.5),
        seconds: Some(90),
        ..edit("own-1")
    };
    project.edits = vec![
        own,
        StepEdit {
            hidden: true,
            ..edit("p1.round")
        },
    ];
    let recipe = recipe(&project);
    let own = recipe.step("own-1").expect("there");
    assert!(own.is_class() && own.operation.seconds == 90);
    assert!(
        recipe
            .step("p1.round")
            .is_some_and(|step| step.hidden && !step.is_class())
    );
}

#[test]
fn a_kit_holds_every_part_once() {
    let recipe = recipe(&project());
    let names: Vec<String> = recipe
        .parts
        .iter()
        .map(|part| format!("{} x {}", part.per_kit, part.name))
        .collect();
    insta::assert_snapshot!(names.join("\n"), @"
    1 x Seed box: round seed tin
    1 x Seed box: box sheet
    1 x Seed box: band
    1 x Seed box: tag
    1 x Seed box: tag mat
    1 x Seed box: ribbon
    1 x Seed envelope: seed packet
    1 x Seed envelope: Leaf sticker
    1 x Seed envelope: envelope sheet
    ");
    assert_eq!(recipe.roles(), ["main", "accent", "label"]);
}

#[test]
fn a_tin_larger_than_any_sheet_is_refused_with_the_sheet() {
    let mut project = project();
    project.pieces[0].spec.contents = Contents::Cylinder {
        diameter: Length::from_mm(400),
        height: Length::from_mm(100),
    };
    let problems = Recipe::build(&project).expect_err("no sheet is that large");
    assert_eq!(
        (problems[0].field, problems[0].piece.as_str()),
        ("contents", "Seed box")
    );
    insta::assert_snapshot!(problems[0].message, @"The punch-board box needs a punch at 17 5/16 in; the board reaches from 1/2 in to 8 in. It needs a sheet of 28 13/16 in too; the largest is Moss card, 12 in on its shorter side. Use a longer board and a larger sheet, or take smaller contents.");
}

#[test]
fn settings_by_hand_must_be_marks_and_leave_room() {
    let message = |settings: Settings| {
        let mut piece = project().pieces.remove(0);
        piece.spec.by_hand = Some(settings);
        make(&project(), &piece).expect_err("refused").message
    };
    let by_hand = |sheet: &str, punch_1: &str, punch_2: &str| {
        let read = |text| {
            let unit = Unit::Inch;
            Length::read(text, unit).expect("a length")
        };
        Settings::from(PunchBoxSettings {
            sheet: read(sheet),
            punch_1: read(punch_1),
            punch_2: read(punch_2),
        })
    };
    insta::assert_snapshot!(message(by_hand("5 1/4", "1 1/2", "2 7/8")), @"With these settings the contents lack ≈ 13/16 in of room. Choose larger settings, or less clearance.");
    insta::assert_snapshot!(message(by_hand("8", "2.03", "3 1/2")), @"Punch 1 at 2.03 in is not on the board's ruler, which has a mark each 1/16 in from 1/2 in to 8 in.");
    insta::assert_snapshot!(message(by_hand("7 31/32", "2 1/2", "4")), @"A sheet of 7 31/32 in is not on the trimmer's ruler. The nearest marks are 7 15/16 in and 8 in.");
}

#[test]
fn each_step_that_has_a_picture_says_it_in_words() {
    let project = project();
    let recipe = recipe(&project);
    for step in recipe
        .steps
        .iter()
        .filter(|step| step.operation.picture != StepPicture::None)
    {
        for mirrored in [false, true] {
            let scene = draw(
                &project,
                &recipe.pieces,
                &step.operation,
                mirrored,
                PictureSize::FREE,
            );
            let scene = scene.unwrap_or_else(|| panic!("{} has no picture", step.operation.key));
            assert!(scene.description.len() > 20, "{}", step.operation.key);
        }
    }
}
