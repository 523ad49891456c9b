//! Which moments are shown, in what words, in how many bytes; curves, cards, wrong numbers.

use super::*;

#[test]
fn strips_of_a_curve_show_no_line_between_them() {
    let pattern = half_round(24, 25.0);
    let body = SpaceBody::at_rest(&pattern, pattern.final_angles());
    let trial = Trial {
        bodies: vec![body],
        contents: None,
        view: SpaceView::of(&pattern),
    };
    let mut stage = trial.stage();
    let seen = look(&mut stage, &trial.view);
    let bends = 0..pattern.creases.len();
    let lines: Vec<f64> = seen
        .lines
        .iter()
        .filter(|(edge, ..)| bends.contains(edge))
        .map(|(_, a, b)| a.distance(*b))
        .collect();
    // Half a cylinder turns away from the eye along one line.
    assert_eq!(lines.len(), 1, "{lines:?}");
    let trials = vec![trial];
    assert_agree(trials, &mut Seeded(3), 2000);
    let scene = fold_picture(fold_of(&pattern, 0), PictureSize::FREE);
    let is_arrow =
        |item: &&SceneItem| matches!(item, SceneItem::Path(path) if path.role == LineRole::Arrow);
    assert_eq!(
        scene.items.iter().filter(is_arrow).count(),
        1,
        "one for all strips"
    );
    let svg = Svg::write(&scene, "p");
    assert!(svg.as_str().len() < 12_000, "{}", svg.as_str().len());
}

fn fold_of(pattern: &Pattern, step: usize) -> FoldPicture<'_> {
    FoldPicture {
        pattern,
        view: SpaceView::of(pattern),
        from: step,
        to: step,
        mirrored: false,
    }
}

/// A card slides over the open flap and into the pocket: of an envelope seen from above, it hides
/// the middle of the top flap, and the side flaps hide its other end.
#[test]
fn a_card_goes_over_the_open_flap_and_under_the_others() {
    let pattern = seed_envelope();
    let view = SpaceView::of(&pattern);
    let mut stage = Stage::default();
    let angles = pattern.angles_after(pattern.folds_before_filling);
    stage.add_body(&SpaceBody::at_rest(&pattern, angles));
    let (_, top) = pattern.panel_named("top flap").expect("has one");
    let hinge = top
        .outline
        .iter()
        .map(|p| p.y)
        .fold(f64::INFINITY, f64::min);
    stage.add_contents(&SpaceContents {
        shape: SpaceShape::Block,
        size: Vec3::new(20.0, 80.0, 0.0),
        middle: Vec3::new(0.0, hinge, 0.0),
    });
    let seen = look(&mut stage, &view);
    let order: Vec<&Painted> = seen.painted.iter().collect();
    let at = |y: f64| shown(&order, &stage, view.seen(Vec3::new(0.0, hinge + y, 0.0)));
    assert_eq!(at(8.0), Hit::Contents, "over the open flap");
    assert!(
        matches!(
            at(-39.0),
            Hit::Paper {
                inside_up: false,
                ..
            }
        ),
        "{:?}",
        at(-39.0)
    );
}

#[test]
fn the_same_facts_give_the_same_bytes() {
    let pattern = seed_tin_box();
    let draw = || Svg::write(&fold_picture(fold_of(&pattern, 3), PictureSize::FREE), "p");
    assert_eq!(draw(), draw());
}

#[test]
fn numbers_that_are_none_are_drawn_without_a_crash() {
    let patterns = [seed_tin_box(), odd_shapes(), nothing()];
    for pattern in &patterns {
        for wrong in [f64::NAN, f64::INFINITY, -1e300, 1e18] {
            let mut body = SpaceBody::at_rest(pattern, vec![wrong; pattern.creases.len()]);
            body.moves = vec![(CreaseId(0), wrong), (CreaseId(99), 90.0)];
            body.glue = vec![0, 99];
            let contents = SpaceContents {
                shape: SpaceShape::Stack(SpaceAxis::X, u32::MAX),
                size: Vec3::new(wrong, 1.0, wrong),
                middle: Vec3::new(0.0, wrong, 0.0),
            };
            let scene = space_picture(
                &SpacePicture {
                    title: "wrong".to_owned(),
                    bodies: &[body],
                    view: SpaceView::of(pattern),
                    contents: Some((contents, "tin", Some(contents.size))),
                    plain: false,
                    mirrored: false,
                },
                PictureSize::FREE,
            );
            assert!(Svg::write(&scene, "p").as_str().ends_with("</svg>"));
        }
        let last = fold_picture(fold_of(pattern, usize::MAX), PictureSize::FREE);
        assert_eq!(last.title, "Fold ");
    }
}

#[test]
fn the_words_say_how_far_each_part_is_folded() {
    let pattern = seed_tin_box();
    let says = |step| fold_picture(fold_of(&pattern, step), PictureSize::FREE).description;
    insta::assert_snapshot!(says(0), @"The part-folded punch-board box, seen from above. The right side wall and the left side wall are half folded.");
    insta::assert_snapshot!(says(2), @"The part-folded punch-board box, seen from above. The right side wall and the left side wall stand up. The inner side flap lies folded over. The outer side flap is half folded.");
    let view = SpaceView::of(&pattern);
    let glue = |mirrored| {
        glue_picture(
            GluePicture {
                pattern: &pattern,
                view,
                fold: 2,
                mirrored,
            },
            PictureSize::FREE,
        )
    };
    let glued = glue(false).expect("the glue is seen");
    insta::assert_snapshot!(glued.title, @"Glue outer side flap on inner side flap");
    insta::assert_snapshot!(glued.description, @"The part-folded punch-board box, seen from above. The right side wall and the left side wall stand up. The inner side flap lies folded over. The outer side flap is folded next. Glue goes on the inside of the outer side flap, on the hatched area; it sticks to the inner side flap.");
    let other = glue(true).expect("for the other hand too").description;
    assert!(other.contains(". The left side wall and the right side wall stand up."));
}

/// The tabs at the near end of a tray show their outsides, those at the far end their insides:
/// glue goes on all four outsides.
#[test]
fn glue_on_the_side_that_looks_away_is_drawn_as_behind() {
    let marks = [96, 80, 20, 79, 64, 11].map(|n| Length::from_nm(n * 1_587_500));
    let settings = Settings::new(crate::Tray::KIND, &marks).expect("six of them");
    let ruler = Ruler::inch(16);
    let tools = Tools::new(PunchBoard::default_inch(), ruler, &Trimmer::new(ruler));
    let tray = Structure::new(settings, &tools, Length::from_nm(300_000)).expect("it closes");
    let areas = |pattern: &Pattern| {
        let view = SpaceView::of(pattern);
        let scene = glue_picture(
            GluePicture {
                pattern,
                view,
                fold: 2,
                mirrored: false,
            },
            PictureSize::FREE,
        );
        let items = scene.expect("glue goes there").items;
        [LineRole::Glue, LineRole::GlueBehind].map(|role| {
            let of_role = items.iter().filter_map(|item| match item {
                SceneItem::Path(path) if path.role == role => Some(path.d.bounding_box()),
                _ => None,
            });
            let highest = of_role.clone().map(|around| around.y0);
            (of_role.count(), highest.fold(f64::INFINITY, f64::min))
        })
    };
    let [seen, behind] = areas(tray.pattern());
    assert_eq!((seen.0, behind.0), (2, 2));
    assert!(
        behind.1 < seen.1,
        "those behind are farther up: {behind:?} {seen:?}"
    );
    let [seen, behind] = areas(&seed_tin_box());
    assert_eq!((seen.0, behind.0), (1, 0));
}

#[test]
fn contents_go_in_where_the_least_paper_is_in_the_way() {
    let way = |pattern: &Pattern, size: Vec3| {
        let contents = SpaceContents {
            shape: SpaceShape::Block,
            size,
            middle: Vec3::new(0.0, 0.0, size.z / 2.0 + 0.1),
        };
        let folded = fold_after(pattern, pattern.folds_before_filling);
        ways::way_in(pattern, &folded, &contents)
    };
    // The far end of the box and the far flap of the envelope are open; a tray is open above.
    let from_far = Vec3::new(0.0, -1.0, 0.0);
    assert_eq!(way(&seed_tin_box(), Vec3::new(30.0, 60.0, 15.0)), from_far);
    assert_eq!(way(&seed_envelope(), Vec3::new(60.0, 40.0, 0.0)), from_far);
    let mut tray = seed_tin_box();
    tray.folds_before_filling = 1;
    let from_above = Vec3::new(0.0, 0.0, -1.0);
    assert_eq!(way(&tray, Vec3::new(30.0, 60.0, 15.0)), from_above);
}
