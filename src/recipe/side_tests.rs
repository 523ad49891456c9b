//! Sides and edges in words and pictures: for either hand, and told from the edge before.

use tablefold_geometry::{Edge, Length, PictureSize, Point, Scene, SceneItem, StructureKind};

use super::left_hand::for_left_hand;
use super::structure_tests::made_as;
use super::work_words::turn;
use super::*;

/// Each step of a structure: its key, its picture, and its picture for the other hand.
fn pictures(slug: &str) -> Vec<(String, Scene, Scene)> {
    let project = made_as(StructureKind::find(slug).expect("registered"));
    let recipe = Recipe::build(&project).expect("checked");
    let steps = recipe.steps.iter().map(|step| &step.operation);
    steps
        .map(|step| {
            let of = |mirrored| {
                draw(&project, &recipe.pieces, step, mirrored, PictureSize::FREE).expect("drawn")
            };
            (step.key.clone(), of(false), of(true))
        })
        .collect()
}

fn texts(scene: &Scene) -> Vec<String> {
    let texts = scene.items.iter().filter_map(|item| match item {
        SceneItem::Text(text) => Some(text.text.clone()),
        SceneItem::Path(_) => None,
    });
    let mut texts: Vec<String> = texts.collect();
    texts.sort_unstable();
    texts
}

/// A template is printed one way: what was cut along it can't be the mirror image in a picture.
#[test]
fn what_is_made_along_a_template_looks_the_same_for_either_hand() {
    for slug in [
        "hexagon",
        "pouch",
        "four-faced",
        "straight-tuck",
        "gable-top",
    ] {
        for (key, right, left) in pictures(slug) {
            assert_eq!(right, left, "{slug}, {key}");
        }
    }
    for slug in ["box", "envelope", "tray", "drawer", "card"] {
        let differ = pictures(slug).iter().filter(|(_, a, b)| a != b).count();
        assert!(differ > 2, "{slug}: {differ}");
    }
}

#[test]
fn names_in_a_mirrored_picture_change_sides() {
    let mut changed = 0;
    for slug in ["box", "envelope", "tray", "drawer", "card"] {
        for (key, right, left) in pictures(slug) {
            let mut expected: Vec<String> = texts(&right);
            if right != left {
                expected = expected.iter().map(|text| for_left_hand(text)).collect();
                expected.sort_unstable();
            }
            changed += usize::from(texts(&left) != texts(&right));
            assert_eq!(texts(&left), expected, "{slug}, {key}");
        }
    }
    assert!(changed > 0);
}

#[test]
fn the_left_wall_is_on_the_left_for_either_hand() {
    let pictures = pictures("tray");
    let (_, right, left) = pictures
        .iter()
        .find(|it| it.0 == "p1.base-fold-1")
        .expect("folded");
    for scene in [right, left] {
        let at = |name: &str| {
            let mut boxes = scene.text_boxes();
            let found = boxes.find(|(text, _)| text.text == name);
            found
                .unwrap_or_else(|| panic!("{name}: {:?}", texts(scene)))
                .1
                .center()
                .x
        };
        assert!(at("left wall") < at("right wall"));
    }
}

/// A quarter to the left takes (x, y) of a sheet w wide, y down, to (y, w - x).
#[test]
fn a_sheet_is_turned_as_the_next_edge_comes_to_the_fence() {
    let sheet = (Length::from_mm(90), Length::from_mm(50));
    let point = Point::new(20.0, 7.0);
    for from in Edge::ALL {
        let (w, h) = match from {
            Edge::Left | Edge::Right => (90.0, 50.0),
            Edge::Top | Edge::Bottom => (50.0, 90.0),
        };
        let lies = from.at_the_fence(sheet, point);
        for to in Edge::ALL.into_iter().filter(|to| *to != from) {
            let turned = match turn(from, to) {
                "a quarter to the left" => Point::new(lies.y, w - lies.x),
                "a quarter to the right" => Point::new(h - lies.y, lies.x),
                _ => Point::new(w - lies.x, h - lies.y),
            };
            assert_eq!(turned, to.at_the_fence(sheet, point), "{from:?} to {to:?}");
        }
    }
}

#[test]
fn the_first_score_says_which_side_is_up_and_later_ones_which_edge_comes_next() {
    let told = |slug: &str| {
        let project = made_as(StructureKind::find(slug).expect("registered"));
        let recipe = Recipe::build(&project).expect("checked");
        let scores = recipe.steps.iter().map(|step| &step.operation);
        let scores =
            scores.filter(|step| step.key.contains("score-") && step.text.contains("{at}"));
        scores
            .map(|step| step.text.clone())
            .collect::<Vec<_>>()
            .join("\n")
    };
    insta::assert_snapshot!(told("gable-top"), @"
    Lay the carton sheet front down as in the picture, an edge against the fence at 0, and score at {at}.
    Keep the same edge against the fence and score at {at}.
    Keep the same edge against the fence and score at {at}.
    Keep the same edge against the fence and score at {at}.
    Turn the sheet a quarter to the right and score at {at}.
    Turn the sheet half round and score at {at}.
    Keep the same edge against the fence and score at {at}.
    ");
    insta::assert_snapshot!(told("straight-tuck"), @"
    Lay the carton sheet front down, a short edge against the fence at 0, and score at {at}.
    Keep the same edge against the fence and score at {at}.
    Keep the same edge against the fence and score at {at}.
    Keep the same edge against the fence and score at {at}.
    Turn the sheet a quarter to the right and score at {at}. Turn it half round and score again.
    Turn the sheet half round and score at {at}. Turn it half round and score again.
    ");
    insta::assert_snapshot!(told("hexagon"), @"
    Lay the base sheet front down as in the picture, an edge against the fence at 0, and score at {at}. Turn it half round and score again. Score only from one slanting score to the other.
    Lay the lid sheet front down as in the picture, an edge against the fence at 0, and score at {at}. Turn it half round and score again. Score only from one slanting score to the other.
    ");
    insta::assert_snapshot!(told("tray"), @"
    Lay the base sheet front down, a short edge against the fence at 0, and score at {at}. Turn it a quarter to the left and score again, until all 4 edges are done.
    Lay the lid sheet front down, a short edge against the fence at 0, and score at {at}. Turn it a quarter to the left and score again, until all 4 edges are done.
    ");
    insta::assert_snapshot!(told("card"), @"
    Lay the card sheet front down, a short edge against the fence at 0, and score at {at}.
    Lay the envelope sheet front down, a long edge against the fence at 0, and score at {at}. Turn it half round and score again.
    Turn the sheet a quarter to the left and score at {at}.
    Turn the sheet half round and score at {at}.
    ");
}
