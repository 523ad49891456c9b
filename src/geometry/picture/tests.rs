//! What holds for every picture, whatever is drawn.

use kurbo::{Affine, Rect, Shape};
use proptest::prelude::*;

use super::placer::overlaps;
use super::*;
use crate::*;

/// Every check that a picture has to pass, with what is wrong with it.
fn faults(scene: &Scene) -> Vec<String> {
    let mut faults = Vec::new();
    let boxes: Vec<(String, Rect)> = scene
        .text_boxes()
        .map(|(text, bounds)| (text.text.clone(), bounds))
        .collect();
    let slack = scene.u() * 1e-6;
    for (index, (text, bounds)) in boxes.iter().enumerate() {
        if scene.view.inflate(slack, slack).union(*bounds) != scene.view.inflate(slack, slack) {
            faults.push(format!("{text:?} leaves the view"));
        }
        for (other, taken) in &boxes[index + 1..] {
            if overlaps(*bounds, *taken) {
                faults.push(format!("{text:?} lies over {other:?}"));
            }
        }
        if bounds.height() < 1.15 * scene.view.width() / 28.0 {
            faults.push(format!("{text:?} is too small to read"));
        }
    }
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

fn sound(scene: &Scene) -> Result<(), TestCaseError> {
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

fn every_flat_picture(pattern: &Pattern, ruler: &Ruler, mirrored: bool) -> Vec<Scene> {
    use FlatNow::{Burnish, Cuts, Fold, Folds, Glue, GlueBefore, TakeOff, Template, TurnOver};
    use WasteReason::{Notch, Rounded, Shape, Trim};
    let mut nows = vec![Template, Cuts, Burnish, TurnOver];
    nows.extend([Notch, Trim, Rounded, Shape].map(TakeOff));
    nows.extend((0..=pattern.folds.len()).flat_map(|n| [Fold(n), GlueBefore(n), Folds(n, n + 1)]));
    nows.extend((0..=pattern.glue.len()).map(Glue));
    let draw = |now| {
        let is_cut = now != Template;
        flat_picture(FlatPicture {
            pattern,
            ruler,
            now,
            along: &[],
            is_cut,
            mirrored,
        })
    };
    nows.into_iter().map(draw).collect()
}

fn every_picture_in_space(pattern: &Pattern, name: &str, mirrored: bool) -> Vec<Scene> {
    let view = SpaceView::of(pattern);
    let folds = |from, to| {
        fold_picture(FoldPicture {
            pattern,
            view,
            from,
            to,
            mirrored,
        })
    };
    let glue = |fold| {
        glue_picture(GluePicture {
            pattern,
            view,
            fold,
            mirrored,
        })
    };
    let steps = || 0..pattern.folds.len();
    let mut scenes: Vec<Scene> = steps().map(|step| folds(step, step)).collect();
    scenes.extend(steps().map(|step| folds(0, step)));
    scenes.extend(steps().filter_map(glue));
    for shape in [
        SpaceShape::Block,
        SpaceShape::Cylinder(SpaceAxis::Y),
        SpaceShape::Stack(SpaceAxis::Z, 9),
    ] {
        scenes.push(filling_picture(FillingPicture {
            pattern,
            view,
            contents: SpaceContents {
                shape,
                size: Vec3::new(20.0, 30.0, 5.0),
                middle: Vec3::new(0.0, 0.0, 2.6),
            },
            name,
            mirrored,
        }));
    }
    scenes.push(folded_portrait(
        "piece",
        &[(pattern, Pose::FLAT)],
        view.turned_over(),
    ));
    scenes
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn punch_pictures_are_sound(
        ruler in ruler(), sheet in length(40.0..320.0), first in 0.1..0.5_f64,
        second in 0.1..0.4_f64, side in 0..6_u8, now in 0..4_usize,
    ) {
        let (shortest, longest) = (Length::from_mm(10), Length::from_mm(3000));
        let ruler = Ruler::new(ruler.unit(), ruler.step(), shortest, longest);
        let board = ruler.map(|ruler| PunchBoard::new(Length::from_mm(6), ruler));
        let Ok(Ok(board)) = board else {
            return Err(TestCaseError::fail("no board"));
        };
        let at = |share: f64| Length::from_nm((sheet.nm() as f64 * share) as i64);
        let punches = [at(first), at(first + second)];
        let now = [PunchNow::Turn, PunchNow::Punch(0), PunchNow::Punch(1), PunchNow::AlongGuide][now];
        sound(&punch_picture(PunchPicture { board: &board, sheet, punches: &punches, side, now }))?;
    }

    #[test]
    fn cut_pictures_are_sound(
        ruler in ruler(), across in length(20.0..900.0), along in length(5.0..900.0),
        share in 0.01..1.2_f64, strips in 0..40_u32,
    ) {
        let setting = Length::from_nm((across.nm() as f64 * share) as i64);
        let sheet = (across, along);
        sound(&cut_picture(CutPicture { ruler: &ruler, sheet, setting, strips }))?;
    }

    #[test]
    fn score_pictures_are_sound(
        ruler in ruler(), along in length(20.0..600.0), across in length(5.0..300.0),
        shares in prop::collection::vec(0.0..1.0_f64, 0..6), turned: bool,
    ) {
        let marks: Vec<Length> =
            shares.iter().map(|share| Length::from_nm((along.nm() as f64 * share) as i64)).collect();
        let (strip, x) = ((along, across), along.mm() / 3.0);
        let done = [Line::new((x, 0.0), (x, across.mm()))];
        let facts =
            ScorePicture { ruler: &ruler, part: "band", strip, marks: &marks, lines: &[], done: &done, turned };
        sound(&score_picture(facts))?;
    }

    #[test]
    fn flat_pictures_are_sound(
        ruler in ruler(), sheet in 60.0..300.0_f64, first in 0.15..0.5_f64, second in 0.1..0.35_f64,
        mirrored: bool,
    ) {
        let made = [PunchEnvelope::KIND, PunchBox::KIND];
        let patterns: Vec<Pattern> =
            made.into_iter().filter_map(|kind| pattern(kind, sheet, first, second)).collect();
        prop_assume!(!patterns.is_empty());
        for pattern in patterns {
            for scene in every_flat_picture(&pattern, &ruler, mirrored) {
                sound(&scene)?;
            }
        }
    }

    #[test]
    fn pictures_in_space_are_sound(
        sheet in 60.0..300.0_f64, first in 0.15..0.5_f64, second in 0.1..0.35_f64, mirrored: bool,
        name in "\\PC{0,60}",
    ) {
        let made = StructureKind::all().iter();
        let patterns: Vec<Pattern> =
            made.filter_map(|kind| pattern(*kind, sheet, first, second)).collect();
        prop_assume!(!patterns.is_empty());
        for pattern in patterns {
            for scene in every_picture_in_space(&pattern, &name, mirrored) {
                sound(&scene)?;
            }
        }
    }

    #[test]
    fn flat_pictures_of_what_is_scored_are_sound(ruler in ruler(), mirrored: bool, which in 0..5_usize) {
        for scene in every_flat_picture(&scored()[which], &ruler, mirrored) {
            sound(&scene)?;
        }
    }

    #[test]
    fn pictures_of_trimmings_are_sound(
        ruler in ruler(), w in 3.0..400.0_f64, h in 3.0..400.0_f64, share in 0.01..1.5_f64,
        name in "\\PC{0,60}", now: bool,
    ) {
        let wrap = WrapPicture {
            ruler: &ruler, part: &name, around_mm: (w, h), overlap_mm: w * share, glued: now,
        };
        sound(&wrap_picture(wrap))?;
        let shape = Rect::new(-w / 2.0, -h / 2.0, w / 2.0, h / 2.0).to_path(0.1);
        let small = Affine::scale(share.min(0.98)) * shape.clone();
        let layer = |outline: &kurbo::BezPath| PictureLayer { name: &name, outline: outline.clone() };
        let layers = [layer(&shape), layer(&small)];
        sound(&layers_picture(LayersPicture { ruler: &ruler, layers: &layers }))?;
        let blank = [w + 10.0, h + 10.0].map(|mm| Length::from_nm((mm * 1e6) as i64));
        let punched = ShapePicture { ruler: &ruler, name: &name, outline: small, blank: blank.into() };
        sound(&shape_picture(&punched))?;
        let notch =
            NotchPicture { ruler: &ruler, part: &name, edge_mm: w, depth_mm: h, radius_mm: w * share };
        sound(&notch_picture(notch))?;
        let finished = FinishedPicture {
            ruler: &ruler, name: &name, front_mm: (w, h), band_mm: Some(h * share),
            on_front: &layers, attach_now: now,
        };
        sound(&finished_picture(finished))?;
        for shape in [ContentsShape::Block, ContentsShape::Standing, ContentsShape::Lying] {
            sound(&fill_picture(FillPicture {
                piece: "box", piece_mm: (w, h), contents: &name, contents_mm: (w * share, h * share), shape,
            }))?;
        }
        use RibbonPictureKind::{Bow, Cross, Round};
        for kind in [Round, Cross, Bow] {
            let (bow, front_mm, length) = (now, (w, h), blank[0]);
            sound(&ribbon_picture(RibbonPicture {
                ruler: &ruler, kind, bow, front_mm, band_mm: None, on_front: &[], length,
            }))?;
        }
        sound(&length_picture(&name, blank[0], &ruler))?;
    }
}

#[test]
fn a_pattern_of_nothing_is_drawn_without_fault() {
    let pattern = Pattern {
        name: "nothing",
        blank: Vec::new(),
        panels: Vec::new(),
        creases: Vec::new(),
        cuts: Vec::new(),
        waste: Vec::new(),
        glue: Vec::new(),
        folds: Vec::new(),
        folds_before_filling: 0,
        solid: Solid::Flat {
            x: 0.0,
            y: 0.0,
            open: Vec::new(),
        },
        caliper_mm: 0.3,
        root: PanelId(7),
    };
    for scene in every_flat_picture(&pattern, &Ruler::millimetre(), false) {
        assert_eq!(faults(&scene), Vec::<String>::new(), "{}", scene.title);
    }
}

#[test]
fn the_checks_find_what_they_look_for() {
    let text = |x: f64| {
        SceneItem::Text(SceneText {
            at: kurbo::Point::new(x, 10.0),
            anchor: Anchor::Middle,
            size: TextSize::Small,
            now: false,
            text: "label".to_owned(),
        })
    };
    let scene = Scene {
        view: Rect::new(0.0, 0.0, 100.0, 20.0),
        title: "t".to_owned(),
        description: "d".to_owned(),
        items: vec![text(50.0), text(52.0), text(99.0)],
    };
    let found = faults(&scene);
    let expected = ["lies over", "leaves the view"];
    assert!(
        expected
            .iter()
            .all(|fault| found.iter().any(|f| f.contains(fault))),
        "{found:?}"
    );
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

#[test]
fn a_legend_explains_only_what_is_drawn() {
    let pattern = pattern(PunchBox::KIND, 133.0, 0.3, 0.25).expect("a box");
    let ruler = Ruler::millimetre();
    let words = |now| -> Vec<&str> {
        let facts = FlatPicture {
            pattern: &pattern,
            ruler: &ruler,
            now,
            along: &[],
            is_cut: true,
            mirrored: false,
        };
        flat_picture(facts)
            .legend()
            .iter()
            .map(|entry| entry.words)
            .collect()
    };
    assert_eq!(
        words(FlatNow::Fold(0)),
        ["do this now", "cut", "score or crease", "this part moves"]
    );
    assert_eq!(
        words(FlatNow::Glue(0)),
        ["do this now", "cut", "score or crease", "glue"]
    );
}

#[test]
fn a_mirrored_step_says_left_where_the_picture_shows_left() {
    let pattern = pattern(PunchBox::KIND, 133.0, 0.3, 0.25).expect("a box");
    let ruler = Ruler::millimetre();
    let draw = |mirrored| {
        let now = FlatNow::Fold(0);
        flat_picture(FlatPicture {
            pattern: &pattern,
            ruler: &ruler,
            now,
            along: &[],
            is_cut: true,
            mirrored,
        })
    };
    for scene in [draw(false), draw(true)] {
        let middle = scene.view.center().x;
        for (text, bounds) in scene.text_boxes().filter(|(text, _)| text.now) {
            let is_left = bounds.center().x < middle;
            assert_eq!(is_left, text.text.starts_with("left"), "{}", text.text);
        }
        assert_eq!(scene.text_boxes().filter(|(text, _)| text.now).count(), 2);
    }
}

#[test]
fn sizes_that_are_no_sizes_are_drawn_without_a_crash() {
    let ruler = &Ruler::inch(16);
    let wrong = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -5.0, 0.0, 1e300];
    for (w, h) in wrong.iter().flat_map(|w| wrong.iter().map(|h| (*w, *h))) {
        let (front_mm, part) = ((w, h), "band");
        let length = Length::MAX;
        let scenes = [
            wrap_picture(WrapPicture {
                ruler,
                part,
                around_mm: (w, h),
                overlap_mm: h,
                glued: true,
            }),
            notch_picture(NotchPicture {
                ruler,
                part,
                edge_mm: w,
                depth_mm: h,
                radius_mm: h,
            }),
            fill_picture(FillPicture {
                piece: "box",
                piece_mm: (w, h),
                contents: "tin",
                contents_mm: (h, w),
                shape: ContentsShape::Standing,
            }),
            ribbon_picture(RibbonPicture {
                ruler,
                kind: RibbonPictureKind::Cross,
                bow: true,
                front_mm,
                band_mm: Some(20.0),
                on_front: &[],
                length,
            }),
            finished_picture(FinishedPicture {
                ruler,
                name: "box",
                front_mm,
                band_mm: Some(h),
                on_front: &[],
                attach_now: true,
            }),
        ];
        for scene in scenes {
            let svg = Svg::write(&scene, "p");
            assert_eq!(badly_formed(svg.as_str()), None, "{} {w} {h}", scene.title);
        }
    }
}

#[test]
fn lengths_that_no_tool_has_are_drawn_without_a_crash() {
    let board = PunchBoard::default_inch();
    let draws = |scene: Scene| assert_eq!(badly_formed(Svg::write(&scene, "p").as_str()), None);
    for length in [Length::ZERO, -Length::MAX, Length::MAX, Length::from_nm(1)] {
        let punches = [length, Length::MAX];
        for (side, index) in [(0, 0), (1, 1), (1, usize::MAX), (4, 0), (255, usize::MAX)] {
            let now = PunchNow::Punch(index);
            let sheet = length;
            draws(punch_picture(PunchPicture {
                board: &board,
                sheet,
                punches: &punches,
                side,
                now,
            }));
        }
        let (ruler, sheet) = (board.ruler(), (length, Length::MAX));
        for setting in [Length::ZERO, length, Length::MAX] {
            draws(cut_picture(CutPicture {
                ruler,
                sheet,
                setting,
                strips: u32::MAX,
            }));
            let (part, strip, marks) = ("band", sheet, &[setting][..]);
            let done = [Line::new((f64::NAN, 0.0), (1.0, f64::INFINITY))];
            draws(score_picture(ScorePicture {
                ruler,
                part,
                strip,
                marks,
                lines: &[done[0], done[0]],
                done: &done,
                turned: true,
            }));
        }
    }
}
