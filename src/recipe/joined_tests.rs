//! Several projects as one: what is made, in which order, and which can't be joined.

use proptest::prelude::*;
use tablefold_geometry::{FoldedCard, Length, PunchBoard, Ruler, Trimmer};

use super::*;
use crate::demo::{project, second_project};

/// The row of the second project.
const ROW: i64 = 7;

fn joined(first: &ProjectFacts, other: &ProjectFacts) -> ProjectFacts {
    let joined = first.clone().joined(vec![(ROW, other.clone())]);
    joined.expect("made on the same tools")
}

fn build(project: &ProjectFacts) -> Recipe {
    Recipe::build(project).expect("the fixture can be made")
}

/// What an attendee reads of each step, in order.
fn read(recipe: &Recipe) -> Vec<(String, String, Phase, bool)> {
    let steps = recipe.steps.iter();
    steps
        .map(|step| {
            let ruler = recipe.ruler_of(step.operation.tool);
            let title = step.operation.title.clone();
            (title, step.text(ruler), step.operation.phase, step.hidden)
        })
        .collect()
}

fn own_step(number: u32, title: &str, position: Option<f64>) -> StepEdit {
    StepEdit {
        key: format!("own-{number}"),
        title: Some(title.to_owned()),
        text: Some("Write a name on it.".to_owned()),
        position,
        ..StepEdit::default()
    }
}

fn assert_concatenated(first: &ProjectFacts, other: &ProjectFacts) {
    let (a, b, both) = (build(first), build(other), build(&joined(first, other)));
    let after = [read(&a), read(&b)].concat();
    assert_eq!(read(&both), after);
    let projects: Vec<usize> = both.steps.iter().map(|step| step.project).collect();
    let own = [vec![0; a.steps.len()], vec![1; b.steps.len()]].concat();
    assert_eq!(projects, own);
    let names = |recipe: &Recipe| -> Vec<(String, u32)> {
        let parts = recipe.parts.iter();
        parts.map(|p| (p.name.clone(), p.per_kit)).collect()
    };
    assert_eq!(names(&both), [names(&a), names(&b)].concat());
    for step in &both.steps {
        let piece = step.operation.piece;
        let of = piece.map(|at| joined(first, other).project_of(at));
        assert!(
            of.is_none_or(|of| of == step.project),
            "{}",
            step.operation.key
        );
    }
}

#[test]
fn a_joined_recipe_is_one_project_after_the_other() {
    assert_concatenated(&project(), &second_project());
    let both = joined(&project(), &second_project());
    assert_eq!(both.title, "Seed-swap gifts and Seed-swap cards");
    assert_eq!(both.titles(), ["Seed-swap gifts", "Seed-swap cards"]);
    assert_eq!(both.clone().joined(Vec::new()), Ok(both));
}

#[test]
fn own_steps_stay_with_their_project_and_keep_their_place() {
    let (mut first, mut second) = (project(), second_project());
    first.edits = vec![own_step(1, "Write on the box", Some(3.5))];
    second.edits = vec![
        own_step(1, "Write in the card", None),
        own_step(2, "Write first", Some(-1.0)),
    ];
    assert_concatenated(&first, &second);
    let both = build(&joined(&first, &second));
    let at = |key: &str| both.steps.iter().position(|step| step.operation.key == key);
    let first_of_second = build(&first).steps.len();
    assert_eq!(at("own-1"), Some(4));
    assert_eq!(at("own-7-2"), Some(first_of_second));
    assert_eq!(at("own-7-1"), Some(both.steps.len() - 1));
    assert!(both.step("own-7-1").is_some_and(|step| step.edited));
}

#[test]
fn moved_reworded_and_hidden_steps_stay_so() {
    let (mut first, mut second) = (project(), second_project());
    for facts in [&mut first, &mut second] {
        let steps = build(facts).steps;
        let operations: Vec<Operation> = steps.into_iter().map(|step| step.operation).collect();
        let up = operations.iter().rev();
        let moved = up.filter_map(|it| moved(&operations, &it.key, true).ok());
        let order = moved.into_iter().next().expect("a step can move");
        let edit = |(place, key): (usize, String)| StepEdit {
            key,
            position: Some(place as f64),
            ..StepEdit::default()
        };
        facts.edits = order.into_iter().enumerate().map(edit).collect();
        let last = facts.edits.last_mut().expect("has steps");
        (last.hidden, last.tip) = (true, Some("Or leave it.".to_owned()));
    }
    assert_ne!(read(&build(&second)), read(&build(&second_project())));
    assert_concatenated(&first, &second);
    let both = build(&joined(&first, &second));
    assert_eq!(both.hidden_notes(), build(&first).hidden_notes());
    assert_eq!(both.hidden_notes_of(1), build(&second).hidden_notes());
}

#[test]
fn three_projects_are_named_and_a_name_that_two_pieces_have_says_which() {
    let mut third = second_project();
    third.title = "Table cards".to_owned();
    third.pieces[0].id = 9;
    let all = project().joined(vec![(ROW, second_project()), (8, third)]);
    let all = all.expect("made on the same tools");
    assert_eq!(
        all.title,
        "Seed-swap gifts, Seed-swap cards and Table cards"
    );
    let names: Vec<&str> = all.pieces.iter().map(|piece| piece.name.as_str()).collect();
    assert_eq!(
        names,
        [
            "Seed box",
            "Seed envelope",
            "Gift card",
            "Gift card (Table cards)"
        ]
    );
    let of: Vec<usize> = (0..4).map(|piece| all.project_of(piece)).collect();
    assert_eq!(of, [0, 0, 1, 2]);
    assert_eq!(build(&all).pieces.len(), 4);
}

#[test]
fn projects_on_different_tools_are_named_with_what_differs() {
    let said = |change: &dyn Fn(&mut ProjectFacts)| {
        let mut other = second_project();
        change(&mut other);
        let problem = project().joined(vec![(ROW, other)]).expect_err("differs");
        problem.to_string()
    };
    insta::assert_snapshot!(said(&|it| it.board = PunchBoard::default_metric()), @r#""Seed-swap cards" can't share a class with "Seed-swap gifts": their punch boards differ. In one class all projects share their tools. Choose the same ones in both projects, or plan two classes."#);
    insta::assert_snapshot!(said(&|it| it.trimmer = Trimmer::new(Ruler::millimetre())), @r#""Seed-swap cards" can't share a class with "Seed-swap gifts": their trimmers differ. In one class all projects share their tools. Choose the same ones in both projects, or plan two classes."#);
    insta::assert_snapshot!(said(&|it| it.score_ruler = Ruler::millimetre()), @r#""Seed-swap cards" can't share a class with "Seed-swap gifts": their score boards differ. In one class all projects share their tools. Choose the same ones in both projects, or plan two classes."#);
}

#[test]
fn a_project_without_a_punch_board_goes_with_any_and_two_others_must_agree() {
    let mut cards = second_project();
    (cards.has_punch_board, cards.board) = (false, PunchBoard::default_metric());
    for both in [joined(&project(), &cards), joined(&cards, &project())] {
        assert!(both.has_punch_board);
        assert_eq!(both.board, project().board);
        let made = build(&both);
        assert_eq!(made.pieces.len(), 3);
        assert!(
            made.pieces
                .iter()
                .any(|it| it.structure.kind() == FoldedCard::KIND)
        );
    }
    let mut metric = project();
    metric.title = "Other gifts".to_owned();
    metric.board = PunchBoard::default_metric();
    let problem = cards.joined(vec![(1, project()), (2, metric)]).unwrap_err();
    let named = (problem.first.as_str(), problem.other.as_str());
    assert_eq!(named, ("Seed-swap gifts", "Other gifts"));
    assert_eq!(problem.differs, Differs::PunchBoard);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever the counts of shares say, no piece and no edit is lost or twice.
    #[test]
    fn every_piece_and_edit_belongs_to_one_project(
        counts in prop::collection::vec((0_usize..5, 0_usize..5), 0..4),
        edits in 0_u32..6,
    ) {
        let mut facts = project();
        facts.edits = (0..edits).map(|n| own_step(n, "Look", None)).collect();
        facts.joined = counts
            .into_iter()
            .map(|(pieces, edits)| Share {
                title: "Cards".to_owned(),
                makes: 14,
                board: facts.board,
                has_punch_board: true,
                pieces,
                edits,
            })
            .collect();
        let own = facts.own();
        let pieces: Vec<&PieceFacts> = own.iter().flat_map(|own| own.pieces).collect();
        prop_assert_eq!(pieces, facts.pieces.iter().collect::<Vec<_>>());
        let kept: Vec<&StepEdit> = own.iter().flat_map(|own| own.edits).collect();
        prop_assert_eq!(kept, facts.edits.iter().collect::<Vec<_>>());
    }

    /// Whatever is made how often and how loosely, order and words stay those of each alone.
    #[test]
    fn any_two_projects_follow_each_other(
        eighths in 1_i64..4, makes in 1_u32..40, first_last in any::<bool>(), place in 0_u32..30,
    ) {
        let (mut a, mut b) = (project(), second_project());
        for piece in &mut a.pieces {
            piece.spec.clearance = Length::from_nm(eighths * 3_175_000);
        }
        a.edits = vec![own_step(3, "Look", Some(f64::from(place) + 0.5))];
        b.edits = vec![own_step(3, "Look again", Some(f64::from(place) - 0.5))];
        b.makes = makes;
        if first_last {
            std::mem::swap(&mut a, &mut b);
        }
        assert_concatenated(&a, &b);
    }
}
