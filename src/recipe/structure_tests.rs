//! Recipes of every structure in the registry.

use tablefold_geometry::{
    Contents, Length, LineRole, PictureSize, Scene, SceneItem, StructureKind, Svg, Work,
};

use super::*;
use crate::demo::project;

/// A project of one piece made that way, for contents that it can hold; none where the registry
/// has a structure that serves neither.
pub(super) fn made_as(kind: StructureKind) -> ProjectFacts {
    let mm = Length::from_mm;
    let tries = [
        Contents::Block {
            width: mm(40),
            depth: mm(30),
            height: mm(60),
        },
        Contents::Block {
            width: mm(100),
            depth: mm(1),
            height: mm(70),
        },
        Contents::Block {
            width: mm(50),
            depth: mm(10),
            height: mm(60),
        },
    ];
    let of = |contents| {
        let mut project = project();
        project.pieces.truncate(1);
        let spec = &mut project.pieces[0].spec;
        (spec.contents, spec.structure) = (contents, kind);
        (spec.band, spec.tag, spec.ribbon) = (None, None, None);
        project
    };
    let made = tries.into_iter().map(of);
    let mut works = made.filter(|project| Recipe::build(project).is_ok());
    works
        .next()
        .unwrap_or_else(|| panic!("{} holds none of the contents", kind.name()))
}

/// The same with a window or a hand slot, where there can be one.
fn with_opening(kind: StructureKind) -> Option<ProjectFacts> {
    let mm = match kind.opening()?.field.key {
        "slot" => 60,
        _ => 12,
    };
    let mut project = made_as(kind);
    let spec = &mut project.pieces[0].spec;
    spec.fit = spec.fit.with_opening(kind, Some(Length::from_mm(mm)));
    Some(project)
}

/// Every structure made, with an opening as well where it can have one.
pub(crate) fn every() -> Vec<(StructureKind, ProjectFacts, Recipe)> {
    let kinds = StructureKind::all().iter();
    kinds
        .flat_map(|kind| {
            let made = [Some(made_as(*kind)), with_opening(*kind)].into_iter();
            made.flatten().map(|project| (*kind, project))
        })
        .map(|(kind, project)| {
            let recipe = Recipe::build(&project).expect("checked");
            (kind, project, recipe)
        })
        .collect()
}

#[test]
fn every_structure_makes_a_recipe_that_closes() {
    for (kind, _, recipe) in every() {
        let last = recipe.steps.last().expect("steps");
        assert_eq!(last.operation.key, "p1.close", "{}", kind.name());
        let filled = recipe.step("p1.put-in").expect("the contents go in");
        assert!(filled.is_class(), "{}", kind.name());
    }
}

#[test]
fn every_body_is_cut_once_from_a_part_of_its_own() {
    for (kind, _, recipe) in every() {
        let cuts = recipe.steps.iter();
        let is_film = |key: &str| key.contains("film");
        let cuts = cuts.filter(|step| step.operation.verb == Verb::CutToSize);
        let cuts = cuts.filter(|step| !is_film(&step.operation.key));
        let bodies = recipe.pieces[0].structure.bodies();
        let parts = recipe.parts.iter().filter(|part| part.role().is_some());
        let parts = parts.filter(|part| !is_film(&part.key));
        let sizes: Vec<(Length, Length)> = parts
            .filter_map(|part| match part.kind {
                PartKind::Cut { width, height, .. } => Some((width, height)),
                _ => None,
            })
            .collect();
        let blanks: Vec<_> = bodies.map(|body| body.blank).collect();
        assert_eq!(sizes, blanks, "{}", kind.name());
        assert_eq!(cuts.count(), blanks.len(), "{}", kind.name());
    }
}

/// What the hands do, as the structures say it, is told by one step each, in that order.
#[test]
fn every_fold_glue_and_cut_is_told_once() {
    for (kind, _, recipe) in every() {
        for (at, body) in recipe.pieces[0].structure.bodies().enumerate() {
            let steps = recipe.steps.iter().map(|step| &step.operation);
            let of_body = steps.filter_map(|operation| match &operation.picture {
                StepPicture::Body { body, now } if *body == at => Some(now),
                _ => None,
            });
            let mut folds = Vec::new();
            let mut glued = 0;
            let mut flat = 0;
            for now in of_body {
                match now {
                    BodyNow::Fold(fold) => folds.push(*fold),
                    BodyNow::Glue { fold, .. } => {
                        folds.extend(fold);
                        glued += 1;
                    }
                    BodyNow::Together => {}
                    _ => flat += 1,
                }
            }
            let wanted = |want: fn(&Work) -> bool| body.work.iter().filter(|w| want(w)).count();
            let in_order = body.work.iter().filter_map(|work| match work {
                Work::Fold(fold) => Some(*fold),
                _ => None,
            });
            let name = format!("{}, {}", kind.name(), body.name);
            assert_eq!(folds, in_order.collect::<Vec<_>>(), "{name}");
            let on_sheet = |work: &Work| {
                !matches!(
                    work,
                    Work::Fold(_)
                        | Work::Glue(_)
                        | Work::Fill
                        | Work::Tie { .. }
                        | Work::PutTogether { .. }
                )
            };
            assert_eq!(flat, wanted(on_sheet), "{name}");
            let runs = body
                .work
                .chunk_by(|a, b| matches!(a, Work::Glue(_)) == matches!(b, Work::Glue(_)));
            let runs = runs.filter(|run| matches!(run.first(), Some(Work::Glue(_))));
            assert_eq!(glued, runs.count(), "{name}");
        }
    }
}

#[test]
fn steps_of_every_structure_come_in_an_order_that_can_be_taught() {
    for (kind, _, recipe) in every() {
        let keys: Vec<&String> = recipe.steps.iter().map(|it| &it.operation.key).collect();
        for (at, step) in recipe.steps.iter().enumerate() {
            let operation = &step.operation;
            for needed in &operation.after {
                let place = keys.iter().position(|key| *key == needed);
                assert!(
                    place.is_some_and(|place| place < at),
                    "{}: {} before {needed}",
                    kind.name(),
                    operation.key
                );
            }
            assert!(
                operation.verb == Verb::CutToSize || !operation.after.is_empty(),
                "{}: {} waits for nothing",
                kind.name(),
                operation.key
            );
            for text in [&operation.text, &operation.tip] {
                let checked = check_wording(text, &operation.measures);
                assert_eq!(checked, Ok(()), "{}", operation.key);
            }
            let words = step.typed_title.split(' ').count();
            assert!(
                words <= 7,
                "{}: \"{}\" is long",
                kind.name(),
                step.typed_title
            );
        }
        let mut unique = keys.clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), keys.len(), "{}", kind.name());
    }
}

#[test]
fn every_step_of_every_structure_has_a_picture_and_its_words() {
    for (kind, project, recipe) in every() {
        for step in &recipe.steps {
            for mirrored in [false, true] {
                let scene = draw(
                    &project,
                    &recipe.pieces,
                    &step.operation,
                    mirrored,
                    PictureSize::FREE,
                );
                let scene = scene.unwrap_or_else(|| {
                    panic!("{}: {} has no picture", kind.name(), step.operation.key)
                });
                assert!(scene.description.len() > 20, "{}", step.operation.key);
            }
        }
        assert!(!finished(&recipe.pieces[0]).items.is_empty());
    }
}

fn has_area(scene: &Scene, roles: [LineRole; 2]) -> bool {
    scene.items.iter().any(|item| match item {
        SceneItem::Path(path) => roles.contains(&path.role) && !path.d.elements().is_empty(),
        SceneItem::Text(_) => false,
    })
}

/// Work on a body that is folded already is shown in space: what moves is to be seen, and where
/// glue goes.
#[test]
fn folds_show_what_moves_and_glue_where_it_goes() {
    for (kind, project, recipe) in every() {
        for step in &recipe.steps {
            let operation = &step.operation;
            let scene = draw(
                &project,
                &recipe.pieces,
                operation,
                false,
                PictureSize::FREE,
            )
            .expect("has one");
            let name = format!("{}, {}", kind.name(), operation.key);
            let moves = has_area(&scene, [LineRole::Moving, LineRole::MovingFront]);
            let glue = has_area(&scene, [LineRole::Glue, LineRole::GlueBehind]);
            let space = scene.description.contains("seen from above");
            match &operation.picture {
                StepPicture::Body {
                    now: BodyNow::Fold(_),
                    ..
                }
                | StepPicture::Folds { .. }
                | StepPicture::Close => assert!(space && moves, "{name}"),
                StepPicture::Body {
                    now: BodyNow::Glue { fold, .. },
                    ..
                } => {
                    assert!(glue, "{name}");
                    assert_eq!(space && moves, *fold != Some(0) && fold.is_some(), "{name}");
                }
                StepPicture::Glue { .. } => assert!(space && moves && glue, "{name}"),
                StepPicture::PutIn => assert!(space, "{name}"),
                StepPicture::Body {
                    now: BodyNow::Together,
                    ..
                } => assert!(space, "{name}"),
                _ => assert!(!space && !moves, "{name}"),
            }
        }
    }
}

#[test]
fn titles_say_what_is_done_not_a_number() {
    for (kind, _, recipe) in every() {
        let folds = recipe.steps.iter().map(|step| &step.operation);
        for fold in folds.filter(|it| matches!(it.verb, Verb::Fold | Verb::Glue)) {
            let counts = fold.title.contains(|c: char| c.is_ascii_digit());
            let is_count = fold.title.contains(" tabs") || fold.title.contains(" flaps");
            assert!(!counts || is_count, "{}: {}", kind.name(), fold.title);
        }
    }
}

/// The other end of a carton is shut where it can be seen, and the carton is turned back for what
/// goes in: each turn is told once.
#[test]
fn a_piece_is_turned_where_the_hands_go_to_its_other_end() {
    let turned = every().into_iter().filter_map(|(kind, project, recipe)| {
        let mut said = Vec::new();
        for step in &recipe.steps {
            let operation = &step.operation;
            let scene = draw(
                &project,
                &recipe.pieces,
                operation,
                false,
                PictureSize::FREE,
            )?;
            if operation.text.contains("end for end") {
                let shown = scene.description.contains("turned end for end");
                let key = operation.key.replacen("p1.", "", 1);
                said.push(format!("{key} {}", if shown { "turned" } else { "back" }));
            }
        }
        (!said.is_empty()).then(|| format!("{}: {}", kind.slug(), said.join(", ")))
    });
    insta::assert_snapshot!(turned.collect::<Vec<_>>().join("\n"), @"
    pouch: put-in turned
    four-faced: fold-3 turned
    straight-tuck: fold-4 turned, put-in back
    reverse-tuck: fold-4 turned, put-in back
    gable-top: fold-4 turned, put-in back
    gable-top: fold-4 turned, put-in back
    ");
}

#[test]
fn lines_of_one_setting_are_numbered_in_their_order() {
    let shown = |slug: &str, key: &str| {
        let project = made_as(StructureKind::find(slug).expect("registered"));
        let recipe = Recipe::build(&project).expect("checked");
        let step = recipe.step(key).expect("scored");
        let scene = draw(
            &project,
            &recipe.pieces,
            &step.operation,
            false,
            PictureSize::FREE,
        )
        .expect("drawn");
        let texts = scene.items.iter().filter_map(|item| match item {
            SceneItem::Text(text) if text.now => Some(text.text.clone()),
            _ => None,
        });
        texts.collect::<Vec<_>>().join(", ")
    };
    insta::assert_snapshot!(shown("tray", "p1.base-score-1"), @"turn a quarter, 1, 2, 3, 4, 1 5/16 in");
    insta::assert_snapshot!(shown("hexagon", "p1.base-score-2"), @"turn half round, 1, 2, 1 3/8 in");
    insta::assert_snapshot!(shown("pouch", "p1.score-1"), @"4 3/16 in");
}

#[test]
fn no_picture_of_any_structure_is_larger_than_12_kb() {
    for (kind, project, recipe) in every() {
        for step in &recipe.steps {
            let scene = draw(
                &project,
                &recipe.pieces,
                &step.operation,
                false,
                PictureSize::FREE,
            )
            .expect("has one");
            let bytes = Svg::write(&scene, "step10").as_str().len();
            assert!(
                bytes < 12_000,
                "{}, {}: {bytes}",
                kind.name(),
                step.operation.key
            );
        }
    }
}

#[test]
fn a_lid_may_have_another_paper() {
    let several = every()
        .into_iter()
        .find(|(.., recipe)| recipe.pieces[0].structure.bodies().count() > 1);
    let (_, mut project, recipe) = several.expect("the registry has one of two bodies");
    assert_eq!(recipe.roles(), ["main"]);
    project.pieces[0].spec.second_role = Some("accent".into());
    let recipe = Recipe::build(&project).expect("a role changes no size");
    assert_eq!(recipe.roles(), ["main", "accent"]);
}

#[test]
fn without_a_score_board_what_is_scored_is_refused_by_name() {
    let mut project = made_as(StructureKind::find("tray").expect("registered"));
    project.has_score_board = false;
    let problems = Recipe::build(&project).expect_err("nothing to score with");
    insta::assert_snapshot!(problems[0].message, @"The tray with lid needs a score board, and the bench has none.");
}

#[test]
fn a_band_is_refused_where_there_is_no_block_to_go_round() {
    let mut project = made_as(StructureKind::find("pouch").expect("registered"));
    project.pieces[0].spec.band = crate::demo::project().pieces[0].spec.band.clone();
    let problems = Recipe::build(&project).expect_err("it is round");
    assert_eq!(problems[0].field, "band");
    insta::assert_snapshot!(problems[0].message, @"A band goes round a block, and the pillow pouch is none. Leave the band out, or choose another structure.");
}

#[test]
fn structures_are_compared_by_what_the_class_costs() {
    let project = made_as(StructureKind::find("box").expect("registered"));
    let found = compare(&project, &project.pieces[0]).expect("the contents are sizes");
    let all = found.choices.len() + found.refused.len();
    assert_eq!(all, StructureKind::all().len(), "each is told, once");
    let sheets: Vec<u32> = found.choices.iter().map(|it| it.sheets.1).collect();
    assert!(sheets.is_sorted(), "{sheets:?}");
    let flat = found.refused.iter().find(|it| it.kind.slug() == "envelope");
    insta::assert_snapshot!(flat.expect("too thick").why, @"The punch-board envelope takes contents up to 1/4 in thick; these are 30 mm. Choose the punch-board box.");
}

#[test]
fn packets_of_every_structure_balance() {
    for (kind, project, _) in every() {
        let mut class = crate::demo::class(5);
        class.project.pieces = project.pieces;
        for colourway in &mut class.colourways {
            let film = colourway.papers["label"].clone();
            colourway.papers.insert("window film".to_owned(), film);
        }
        let packet = crate::workshop::packet(&class, &crate::workshop::plan_now);
        assert!(packet.is_ok(), "{}: {:?}", kind.name(), packet.err());
    }
}

#[test]
fn a_price_that_is_not_known_wins_no_tie() {
    let project = made_as(StructureKind::all()[1]);
    let found = compare(&project, &project.pieces[0]).expect("the contents are sizes");
    let at = |price_minor| Choice {
        price_minor,
        ..found.choices[0].clone()
    };
    let ranks = [at(Some(0)), at(Some(900)), at(None)].map(|choice| choice.rank());
    assert!(ranks.is_sorted() && ranks[1] < ranks[2], "{ranks:?}");
}
