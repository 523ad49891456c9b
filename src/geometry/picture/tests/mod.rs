//! What holds for every picture, whatever is drawn.

mod sound;
mod words;
mod wrong;

use kurbo::{Affine, Rect, Shape};
use proptest::prelude::*;

use super::*;
use crate::*;

/// Every check that a picture has to pass, with what is wrong with it.
fn faults(scene: &Scene) -> Vec<String> {
    let mut faults = scene.illegible();
    let svg = Svg::write(scene, "p1").to_string();
    if svg.len() >= 12_000 {
        faults.push(format!("{} bytes", svg.len()));
    }
    faults.extend(badly_formed(&svg));
    if scene.title.is_empty() || scene.description.is_empty() {
        faults.push("no words".to_owned());
    }
    faults
}

/// Places of every kind: the page, half a page, a quarter, a phone, a small one.
fn size() -> impl Strategy<Value = PictureSize> {
    let points = |width, height| PictureSize::new(width, height, 12.0);
    prop_oneof![
        Just(PictureSize::FREE),
        Just(points(318.0, 278.0)),
        Just(points(261.0, 130.0).or(points(176.0, 156.0))),
        Just(points(270.0, 162.0)),
        Just(points(176.0, 176.0)),
    ]
}

/// A small check of XML: tags balance, attributes are quoted and differ, entities are known,
/// ids differ and what is referred to exists.
fn badly_formed(svg: &str) -> Option<String> {
    let mut open: Vec<&str> = Vec::new();
    let mut ids: Vec<&str> = Vec::new();
    for piece in svg.split('<').skip(1) {
        let Some((tag, text)) = piece.split_once('>') else {
            return Some(format!("a tag without end: {piece}"));
        };
        if let Some(name) = tag.strip_prefix('/') {
            if open.pop() != Some(name) {
                return Some(format!("</{name}> closes nothing"));
            }
        } else {
            let (name, attributes) = tag.split_once(' ').unwrap_or((tag, ""));
            if !has_good_attributes(attributes.trim_end_matches('/')) {
                return Some(format!("attributes of <{tag}>"));
            }
            ids.extend(
                tag.split(" id=\"")
                    .skip(1)
                    .filter_map(|rest| rest.split('"').next()),
            );
            if !tag.ends_with('/') {
                open.push(name.trim_end_matches('/'));
            }
        }
        let known = ["amp;", "lt;", "gt;", "quot;", "#39;"];
        let mut entities = text.split('&').skip(1);
        if entities.any(|rest| !known.iter().any(|entity| rest.starts_with(entity))) {
            return Some(format!("a bare & in {text}"));
        }
    }
    let twice = (1..ids.len()).find(|index| ids[..*index].contains(&ids[*index]));
    let mut uses = svg
        .split("url(#")
        .skip(1)
        .filter_map(|rest| rest.split(')').next());
    match (open.last(), twice, uses.find(|id| !ids.contains(id))) {
        (Some(tag), ..) => Some(format!("<{tag}> stays open")),
        (_, Some(index), _) => Some(format!("the id {} comes twice", ids[index])),
        (.., Some(id)) => Some(format!("nothing has the id {id}")),
        _ => None,
    }
}

/// Whether all attributes are quoted and none comes twice.
fn has_good_attributes(attributes: &str) -> bool {
    let mut unquoted: Vec<&str> = attributes.split('"').step_by(2).collect();
    let last = unquoted.pop().unwrap_or_default();
    let names: Option<Vec<&str>> = unquoted
        .iter()
        .map(|before| before.trim().strip_suffix('='))
        .collect();
    let differ = |names: &[&str]| (1..names.len()).all(|n| !names[..n].contains(&names[n]));
    last.trim().is_empty() && names.is_some_and(|names| differ(&names))
}

fn sound(scene: &Scene, size: PictureSize) -> Result<(), TestCaseError> {
    let has_words = scene.text_boxes().count() > 0;
    prop_assert!(
        size.holds(scene) || !has_words,
        "{}: {:?} at {} is too large for {size:?}",
        scene.title,
        scene.view,
        scene.u
    );
    let (faults, mirrored) = (faults(scene), faults(&scene.clone().mirrored()));
    prop_assert!(faults.is_empty(), "{}: {faults:?}", scene.title);
    prop_assert!(
        mirrored.is_empty(),
        "{} mirrored: {mirrored:?}",
        scene.title
    );
    Ok(())
}

fn ruler() -> impl Strategy<Value = Ruler> {
    prop_oneof![
        Just(Ruler::inch(8)),
        Just(Ruler::inch(16)),
        Just(Ruler::inch(32)),
        Just(Ruler::millimetre())
    ]
}

fn length(mm: std::ops::Range<f64>) -> impl Strategy<Value = Length> {
    mm.prop_map(|mm| Length::from_nm((mm * 1e6) as i64))
}

/// The pattern of settings that can be made; most random ones can.
fn pattern(kind: StructureKind, sheet: f64, first: f64, second: f64) -> Option<Pattern> {
    let ruler = Ruler::new(
        Unit::Millimetre,
        Length::from_nm(500_000),
        Length::from_mm(7),
        Length::from_mm(1000),
    );
    let board = PunchBoard::new(Length::from_mm(6), ruler.ok()?).ok()?;
    let mark = |mm: f64| Length::from_nm(((mm * 2.0).round() * 5e5) as i64);
    let lengths = [sheet, sheet * first, sheet * (first + second)].map(mark);
    let settings = Settings::new(kind, lengths.get(..kind.fields().len())?)?;
    let tools = Tools {
        punch_board: Some(board),
        score: None,
        trimmer: Ruler::millimetre(),
    };
    let structure = Structure::new(settings, &tools, Length::from_nm(300_000)).ok()?;
    Some(structure.pattern().clone())
}

/// A tray with a low lid, one with tabs that are cut, and a pouch.
fn scored() -> Vec<Pattern> {
    let fine = Ruler::new(
        Unit::Millimetre,
        Length::from_nm(100_000),
        Length::ZERO,
        Length::MAX,
    );
    let fine = fine.expect("tenths of a millimetre");
    let tools = Tools {
        punch_board: None,
        score: Some(fine),
        trimmer: fine,
    };
    let made = |kind, tenths: &[i64]| {
        let lengths: Vec<Length> = tenths
            .iter()
            .map(|n| Length::from_nm(n * 100_000))
            .collect();
        let settings = Settings::new(kind, &lengths).expect("as many as there are");
        let made = Structure::new(settings, &tools, Length::from_nm(300_000)).expect("made");
        made.bodies()
            .map(|body| body.pattern.clone())
            .collect::<Vec<_>>()
    };
    [
        made(Tray::KIND, &[1107, 907, 252, 914, 720, 150]),
        made(Tray::KIND, &[1603, 1403, 600, 814, 620, 200]),
        made(Pouch::KIND, &[1424, 1240, 662, 120]),
    ]
    .concat()
}

fn every_flat_picture(
    pattern: &Pattern,
    ruler: &Ruler,
    mirrored: bool,
    size: PictureSize,
) -> Vec<Scene> {
    use FlatNow::{Burnish, Cuts, Fold, Folds, Glue, GlueBefore, TakeOff, Template, TurnOver};
    use WasteReason::{Notch, Rounded, Shape, Trim};
    let mut nows = vec![Template, Cuts, Burnish, TurnOver];
    nows.extend([Notch, Trim, Rounded, Shape].map(TakeOff));
    nows.extend((0..=pattern.folds.len()).flat_map(|n| [Fold(n), GlueBefore(n), Folds(n, n + 1)]));
    nows.extend((0..=pattern.glue.len()).map(Glue));
    let draw = |now| {
        let is_cut = now != Template;
        flat_picture(
            FlatPicture {
                pattern,
                ruler,
                now,
                along: &[],
                is_cut,
                mirrored,
            },
            size,
        )
    };
    nows.into_iter().map(draw).collect()
}

fn every_picture_in_space(
    pattern: &Pattern,
    name: &str,
    mirrored: bool,
    size: PictureSize,
) -> Vec<Scene> {
    let view = SpaceView::of(pattern);
    let folds = |from, to| {
        fold_picture(
            FoldPicture {
                pattern,
                view,
                from,
                to,
                mirrored,
            },
            size,
        )
    };
    let glue = |fold| {
        glue_picture(
            GluePicture {
                pattern,
                view,
                fold,
                mirrored,
            },
            size,
        )
    };
    let steps = || 0..pattern.folds.len();
    let mut scenes: Vec<Scene> = steps().map(|step| folds(step, step)).collect();
    scenes.extend(steps().map(|step| folds(0, step)));
    scenes.extend(steps().filter_map(glue));
    for shape in [
        SpaceShape::Block,
        SpaceShape::Cylinder(SpaceAxis::Y),
        SpaceShape::Ball,
        SpaceShape::Stack(SpaceAxis::Z, 9),
    ] {
        scenes.push(filling_picture(
            FillingPicture {
                pattern,
                view,
                contents: SpaceContents {
                    shape,
                    size: Vec3::new(20.0, 30.0, 5.0),
                    middle: Vec3::new(0.0, 0.0, 2.6),
                },
                name,
                mirrored,
            },
            size,
        ));
    }
    scenes.push(folded_portrait(
        "piece",
        &[(pattern, Pose::FLAT)],
        view.turned_over(),
    ));
    scenes
}

#[test]
fn markup_that_is_badly_formed_is_found() {
    for wrong in [
        "<a><b></a></b>",
        "<a x=1/>",
        "<a x=\"1\" x=\"2\"/>",
        "<a>&nbsp;</a>",
        "<a>",
        "<p fill=\"url(#x)\"/>",
    ] {
        assert!(badly_formed(wrong).is_some(), "{wrong}");
    }
    assert_eq!(
        badly_formed("<a id=\"x\">&amp;<b fill=\"url(#x)\"/></a>"),
        None
    );
}
