//! A class of several projects: each pack holds what it would hold of each alone.

use std::collections::BTreeMap;

use proptest::prelude::*;
use tablefold_geometry::Length;

use super::*;
use crate::demo;
use crate::recipe::{CannotJoin, Differs, ProjectFacts};

/// Name, paper and source of what is packed, and how many of it.
type Counts = BTreeMap<(String, Option<i64>, String), u32>;

fn counts(packs: &[&Pack]) -> Counts {
    let mut counts = Counts::new();
    for item in packs.iter().flat_map(|pack| &pack.items) {
        let what = (item.name.clone(), item.paper, item.from.clone());
        *counts.entry(what).or_default() += item.count;
    }
    counts
}

fn class_of(project: ProjectFacts, attendees: usize) -> ClassFacts {
    ClassFacts {
        project,
        ..demo::class(attendees)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn packs_of_joined_projects_are_the_packs_of_each_together(
        attendees in 1_usize..9, eighths in 1_i64..4, stickers in 1_u32..4, makes in 1_u32..40,
        without_box in any::<bool>(), cards_first in any::<bool>(),
    ) {
        let (mut first, mut second) = (demo::project(), demo::second_project());
        if without_box {
            first.pieces.remove(0);
        }
        for piece in &mut first.pieces {
            piece.spec.clearance = Length::from_nm(eighths * 3_175_000);
        }
        second.pieces[0].spec.extras[0].count = stickers;
        second.makes = makes;
        if cards_first {
            std::mem::swap(&mut first, &mut second);
        }
        let both = first.clone().joined(vec![(7, second.clone())]);
        let all = [first, second, both.expect("the same tools")];
        let made = all.map(|project| {
            packet(&class_of(project, attendees), &plan_now).expect("balances")
        });
        let [one, other, both] = made;
        prop_assert_eq!(both.packs.len(), attendees + 3);
        for (at, pack) in both.packs.iter().enumerate() {
            let alone = [&one.packs[at], &other.packs[at]];
            prop_assert_eq!(&pack.label, &alone[0].label);
            prop_assert_eq!(counts(&[pack]), counts(&alone));
        }
        prop_assert_eq!(both.class_minutes.abs_diff(one.class_minutes + other.class_minutes) <= 1, true);
    }
}

#[test]
fn projects_that_cannot_be_joined_have_no_packet() {
    let mut class = demo::class(3);
    class.apart = Some(CannotJoin {
        first: "Seed-swap gifts".to_owned(),
        other: "Seed-swap cards".to_owned(),
        differs: Differs::PunchBoard,
    });
    let problems = packet(&class, &plan_now)
        .map(|_| ())
        .expect_err("is refused");
    insta::assert_snapshot!(problems[0], @r#""Seed-swap cards" can't share a class with "Seed-swap gifts": their punch boards differ. In one class all projects share their tools. Choose the same ones in both projects, or plan two classes."#);
}

#[test]
fn each_project_that_makes_nothing_is_named() {
    let mut second = demo::second_project();
    second.pieces.clear();
    let both = demo::project()
        .joined(vec![(7, second)])
        .expect("the same tools");
    let problems = packet(&class_of(both, 3), &plan_now)
        .map(|_| ())
        .expect_err("is refused");
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(said.join("\n"), @r#"The project "Seed-swap cards" has no piece. Add one to the project first."#);
}
