//! Templates in kits: what is worked along one in class comes with one.

use tablefold_geometry::{Length, StructureKind};

use super::*;
use crate::demo::class;
use crate::recipe::{Phase, Recipe, StepEdit, structure_tests::every};

/// The demo's class of 5 and 3 spares with one straight tuck-end carton, or a tray with a window.
fn class_of(slug: &str) -> ClassFacts {
    let mut class = class(5);
    class.project.pieces.truncate(1);
    let spec = &mut class.project.pieces[0].spec;
    spec.structure = StructureKind::find(slug).expect("registered");
    (spec.band, spec.tag, spec.ribbon) = (None, None, None);
    if slug == "tray" {
        spec.fit.window = Some(Length::from_mm(30));
        for colourway in &mut class.colourways {
            let film = colourway.papers["label"].clone();
            colourway.papers.insert("window film".to_owned(), film);
        }
    }
    class
}

fn made(class: &ClassFacts) -> Packet {
    packet(class, &plan_now).unwrap_or_else(|error| panic!("{error:?}"))
}

/// The carton with an edit of the step that is done along its template, and of all before it.
fn edited(edit: impl Fn(&mut StepEdit)) -> Packet {
    let mut class = class_of("straight-tuck");
    let recipe = Recipe::build(&class.project).expect("can be made");
    let steps = recipe.steps.iter().map(|it| &it.operation);
    let last = steps.clone().position(|it| it.along_template);
    for step in steps.take(last.expect("cut to shape") + 1) {
        let mut own = StepEdit {
            key: step.key.clone(),
            ..StepEdit::default()
        };
        edit(&mut own);
        class.project.edits.push(own);
    }
    made(&class)
}

/// Name, copies in kits, copies for the prep.
fn templates(packet: &Packet) -> Vec<(&str, u32, u32)> {
    let templates = packet.pull.templates.iter();
    templates
        .map(|it| {
            let in_kits = it.in_kits.map_or(0, |(_, count)| count);
            (it.name.as_str(), in_kits, it.for_prep)
        })
        .collect()
}

fn packed(packet: &Packet) -> usize {
    let items = packet.packs.iter().flat_map(|pack| &pack.items);
    items.filter(|item| item.name.ends_with("template")).count()
}

#[test]
fn each_pack_has_the_template_that_its_steps_ask_for() {
    let made = made(&class_of("straight-tuck"));
    assert_eq!(templates(&made), [("Seed box: carton template", 8, 0)]);
    assert_eq!(packed(&made), 8);
    let line = made.balance.iter().find(|it| it.what.contains("template"));
    let line = line.expect("counted");
    insta::assert_snapshot!(line.what, @"Seed box: carton template (printed)");
    assert_eq!((line.packs, line.spares, line.yields), (5, 3, 8));
}

#[test]
fn what_is_prepared_along_a_template_takes_one_for_all() {
    let made = edited(|edit| edit.phase = Some(Phase::Prep));
    assert_eq!(templates(&made), [("Seed box: carton template", 0, 1)]);
    assert_eq!(packed(&made), 0);
    let window = self::made(&class_of("tray"));
    assert_eq!(templates(&window), [("Seed box: lid template", 0, 1)]);
}

#[test]
fn a_hidden_step_needs_no_template() {
    let made = edited(|edit| edit.hidden = true);
    assert_eq!((templates(&made), packed(&made)), (Vec::new(), 0));
}

#[test]
fn a_template_too_few_does_not_balance() {
    let class = class_of("straight-tuck");
    let Packet {
        recipe,
        packs,
        mut pull,
        ..
    } = made(&class);
    let off = |pull: &Pull| balance::off(&balance::balance(&recipe, &packs, pull)).len();
    assert_eq!(off(&pull), 0);
    let (part, count) = pull.templates[0].in_kits.expect("in kits");
    pull.templates[0].in_kits = Some((part, count - 1));
    assert_eq!(off(&pull), 1);
}

/// Words and kits agree: a step speaks of a template where one is packed, and nowhere else.
#[test]
fn steps_of_every_structure_speak_of_a_template_where_there_is_one() {
    let mut along = 0;
    for (kind, _, recipe) in every() {
        let Recipe { steps, ruler, .. } = &recipe;
        for step in steps {
            let speaks = step.text(ruler).contains("template");
            let key = &step.operation.key;
            assert_eq!(
                step.operation.along_template,
                speaks,
                "{}: {key}",
                kind.name()
            );
            along += usize::from(speaks);
        }
    }
    assert!(along > 8, "{along}");
}
