//! Every kind of picture on one page, to be looked at after a change:
//! `cargo run -p tablefold-geometry --example pictures > pictures.html`.

#![expect(clippy::print_stdout, reason = "the page is the output")]

use tablefold_geometry::*;

fn main() {
    println!(
        "<!doctype html><meta charset=utf-8><style>\
         body{{font:16px system-ui,sans-serif;margin:8px}}\
         section{{display:inline-block;vertical-align:top;margin:4px;width:340px;border:1px solid #ccc}}\
         .pic{{display:block;width:340px}} p{{margin:4px;font-size:12px}} .pic-sample{{vertical-align:middle;width:40px;height:16px}}\
         </style>"
    );
    for (index, scene) in scenes().iter().enumerate() {
        let svg = Svg::write(scene, &format!("p{index}"));
        println!(
            "<section>{svg}<p><b>{}</b> ({} bytes) {}</p><p>",
            scene.title,
            svg.as_str().len(),
            scene.description
        );
        for entry in scene.legend() {
            println!("{} {} &nbsp; ", entry.svg, entry.words);
        }
        println!("</p></section>");
    }
}

fn scenes() -> Vec<Scene> {
    let boxed = Settings::from(PunchBoxSettings {
        sheet: sixteenths(84),
        punch_1: sixteenths(24),
        punch_2: sixteenths(46),
    });
    let envelope = Settings::from(PunchEnvelopeSettings {
        sheet: sixteenths(96),
        punch: sixteenths(40),
    });
    let mut scenes = Vec::new();
    scenes.extend(in_space(boxed));
    scenes.extend(in_space(envelope));
    if std::env::args().any(|word| word == "space") {
        return scenes;
    }
    scenes.extend(trimmings());
    scenes.extend(frames());
    scenes.extend(cuts());
    scenes.extend(scores());
    scenes.extend(flat(boxed));
    scenes.extend(flat(envelope));
    scenes.extend(named(
        Tray::KIND,
        &[
            sixteenths(96),
            sixteenths(80),
            sixteenths(20),
            sixteenths(79),
            sixteenths(64),
            sixteenths(11),
        ],
    ));
    scenes.extend(named(
        Drawer::KIND,
        &[55, 74, 14, 96, 47, 29, 45, 12].map(sixteenths),
    ));
    scenes.extend(named(
        Hexagon::KIND,
        &[104, 106, 33, 70, 66, 12].map(sixteenths),
    ));
    scenes.extend(named(
        Pouch::KIND,
        &[
            sixteenths(92),
            sixteenths(90),
            sixteenths(42),
            sixteenths(8),
        ],
    ));
    scenes.extend(named(FourFaced::KIND, &[72, 60, 6, 16].map(sixteenths)));
    scenes.extend(named(
        FoldedCard::KIND,
        &[136, 88, 68, 112, 156, 9, 42, 40].map(sixteenths),
    ));
    for kind in [TuckCarton::STRAIGHT, TuckCarton::REVERSE] {
        scenes.extend(named(kind, &[118, 104, 17, 55, 8].map(sixteenths)));
    }
    scenes.extend(named(
        GableCarton::KIND,
        &[160, 128, 32, 74, 20, 10, 34].map(sixteenths),
    ));
    scenes.extend(board());
    scenes
}

fn named(kind: StructureKind, lengths: &[Length]) -> Vec<Scene> {
    Settings::new(kind, lengths).map(flat).unwrap_or_default()
}

fn tools() -> Tools {
    Tools::new(
        PunchBoard::default_inch(),
        Ruler::inch(16),
        &Trimmer::default_inch(),
    )
}

fn sixteenths(n: i64) -> Length {
    Length::inch_fraction(n, 16).unwrap_or_default()
}

fn frames() -> Vec<Scene> {
    let fine = Ruler::inch(32);
    let play = Length::from_nm(793_750);
    let frame = |width: i64, height: i64, round: bool| {
        let blank = (sixteenths(width), sixteenths(height));
        let border = sixteenths(16);
        let opening = (blank.0 + play, blank.1 + play);
        frame_picture(
            FramePicture {
                ruler: &fine,
                outside: (opening.0 + border, opening.1 + border),
                opening,
                blank,
                round,
                mark: Some(sixteenths(16)),
            },
            PictureSize::FREE,
        )
    };
    vec![
        frame(20, 20, false),
        frame(24, 24, true),
        frame(96, 40, false),
    ]
}

fn board() -> Vec<Scene> {
    let inch = PunchBoard::default_inch();
    let metric = PunchBoard::default_metric();
    let sheet = sixteenths(84);
    let punches = [sixteenths(24), sixteenths(47)];
    let mut scenes = Vec::new();
    for (side, now) in [
        (1, PunchNow::Punch(0)),
        (1, PunchNow::Punch(1)),
        (2, PunchNow::Turn),
        (2, PunchNow::Punch(0)),
        (2, PunchNow::Punch(1)),
        (3, PunchNow::AlongGuide),
        (4, PunchNow::Punch(0)),
        (4, PunchNow::AlongGuide),
    ] {
        scenes.push(punch_picture(
            PunchPicture {
                board: &inch,
                sheet,
                punches: &punches,
                side,
                now,
            },
            PictureSize::FREE,
        ));
    }
    let large = [sixteenths(187)];
    let long = PunchBoard::new(sixteenths(4), Ruler::inch(16)).unwrap_or(inch);
    scenes.push(punch_picture(
        PunchPicture {
            board: &long,
            sheet: Length::inches(12),
            punches: &large,
            side: 1,
            now: PunchNow::Punch(0),
        },
        PictureSize::FREE,
    ));
    let mm = [Length::from_mm(76), Length::from_mm(98)];
    for side in [1, 2] {
        scenes.push(punch_picture(
            PunchPicture {
                board: &metric,
                sheet: Length::from_mm(210),
                punches: &mm,
                side,
                now: PunchNow::Punch(1),
            },
            PictureSize::FREE,
        ));
    }
    scenes
}

fn cuts() -> Vec<Scene> {
    let ruler = Ruler::inch(16);
    let cut = |sheet, setting, strips| {
        cut_picture(
            CutPicture {
                ruler: &ruler,
                sheet,
                setting,
                strips,
            },
            PictureSize::FREE,
        )
    };
    let inch = Length::inches;
    vec![
        cut((inch(12), inch(12)), sixteenths(84), 2),
        cut((sixteenths(136), inch(11)), sixteenths(44), 3),
        cut((inch(6), sixteenths(44)), inch(2), 3),
        cut((inch(12), inch(12)), sixteenths(11), 16),
    ]
}

/// Every fold, every glueing, the filling and the portrait of a piece. With the word `space`
/// after the command nothing else is drawn.
fn in_space(settings: Settings) -> Vec<Scene> {
    let caliper = Length::from_nm(300_000);
    let made = Structure::new(settings, &tools(), caliper);
    let Ok(structure) = made.inspect_err(|error| eprintln!("{error}")) else {
        return Vec::new();
    };
    let pattern = structure.pattern();
    let (view, mirrored) = (SpaceView::of(pattern), false);
    let folds = |from, to| {
        fold_picture(
            FoldPicture {
                pattern,
                view,
                from,
                to,
                mirrored,
            },
            PictureSize::FREE,
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
            PictureSize::FREE,
        )
    };
    let filling = |name, shape, size: Vec3| {
        let middle = Vec3::new(0.0, 0.0, size.z / 2.0);
        filling_picture(
            FillingPicture {
                pattern,
                view,
                contents: SpaceContents {
                    shape,
                    size,
                    middle,
                },
                name,
                mirrored,
            },
            PictureSize::FREE,
        )
    };
    let inside = structure.inside();
    let size = Vec3::new(
        inside.width - 1.0,
        inside.length - 1.0,
        inside.depth.max(1.0) - 1.0,
    );
    let thin = Vec3::new(0.6 * size.x, size.y, 0.9 * size.z);
    let mut scenes: Vec<Scene> = (0..pattern.folds.len()).map(|at| folds(at, at)).collect();
    scenes.extend((0..pattern.folds.len()).filter_map(glue));
    let last = pattern.folds.len().saturating_sub(1);
    scenes.push(folds(pattern.folds_before_filling.min(last), last));
    scenes.push(folds(1, 2));
    scenes.push(filling(
        "seed tin",
        SpaceShape::Cylinder(SpaceAxis::Y),
        size,
    ));
    scenes.push(filling(
        "seed packets",
        SpaceShape::Stack(SpaceAxis::Z, 5),
        thin,
    ));
    let bodies = [(pattern, Pose::FLAT)];
    scenes.push(folded_portrait(pattern.name, &bodies, view.turned_over()));
    scenes.push(folded_portrait(pattern.name, &bodies, view));
    scenes
}

fn flat(settings: Settings) -> Vec<Scene> {
    let caliper = Length::from_nm(300_000);
    match Structure::new(settings, &tools(), caliper) {
        Ok(structure) => structure
            .bodies()
            .flat_map(|body| flat_body(&body.pattern))
            .collect(),
        Err(error) => {
            eprintln!("{error}");
            Vec::new()
        }
    }
}

fn flat_body(pattern: &Pattern) -> Vec<Scene> {
    let ruler = Ruler::inch(16);
    let picture = |now, mirrored| {
        let facts = FlatPicture {
            pattern,
            ruler: &ruler,
            now,
            along: &[],
            is_cut: true,
            mirrored,
        };
        flat_picture(
            FlatPicture {
                is_cut: !matches!(now, FlatNow::Template),
                ..facts
            },
            PictureSize::FREE,
        )
    };
    let mut scenes = vec![
        picture(FlatNow::Template, false),
        picture(FlatNow::Cuts, false),
        picture(FlatNow::TakeOff(WasteReason::Trim), false),
        picture(FlatNow::TakeOff(WasteReason::Rounded), false),
        picture(FlatNow::TakeOff(WasteReason::Shape), false),
        picture(FlatNow::Burnish, false),
        picture(FlatNow::TurnOver, false),
    ];
    scenes.extend((0..pattern.folds.len()).map(|index| picture(FlatNow::Fold(index), false)));
    scenes.extend((0..pattern.glue.len()).map(|index| picture(FlatNow::Glue(index), false)));
    scenes.extend((0..pattern.folds.len()).map(|index| picture(FlatNow::GlueBefore(index), false)));
    scenes.retain(|scene| scene.title != "Glue ");
    scenes.push(picture(FlatNow::Folds(3, 4), false));
    scenes.push(picture(FlatNow::Fold(1), true));
    scenes.push(picture(FlatNow::Folds(3, 4), true));
    scenes
}

fn scores() -> Vec<Scene> {
    let ruler = Ruler::inch(16);
    let score = |marks: &[Length], done_mm: &[f64], turned| {
        let down = |x: &f64| Line::new((*x, 0.0), (*x, sixteenths(44).mm()));
        let done: Vec<Line> = done_mm.iter().map(down).collect();
        let strip = (Length::inches(6), sixteenths(44));
        score_picture(
            ScorePicture {
                ruler: &ruler,
                part: "band",
                strip,
                marks,
                lines: &[],
                done: &done,
                windows: &[],
                turned,
            },
            PictureSize::FREE,
        )
    };
    vec![
        score(
            &[
                sixteenths(11),
                sixteenths(27),
                sixteenths(55),
                sixteenths(71),
            ],
            &[],
            false,
        ),
        score(
            &[sixteenths(10), sixteenths(11), sixteenths(12)],
            &[],
            false,
        ),
        score(&[sixteenths(27)], &[17.46], true),
    ]
}

fn trimmings() -> Vec<Scene> {
    let ruler = &Ruler::inch(16);
    let circle = |n: i64| -> Result<PunchedShape, PunchError> {
        PunchedShape::new(Punch::Circle {
            diameter: sixteenths(n),
        })
    };
    let tag = PunchedShape::new(Punch::Tag {
        length: sixteenths(40),
        width: sixteenths(20),
        corner: sixteenths(5),
        hole: Some(TagHole {
            diameter: sixteenths(3),
            from_end: sixteenths(6),
        }),
    });
    let (Ok(small), Ok(large), Ok(tag)) = (circle(16), circle(20), tag) else {
        return Vec::new();
    };
    let layer = |name, shape: &PunchedShape| PictureLayer {
        name,
        outline: shape.outline(),
    };
    let layers = [layer("back circle", &large), layer("front circle", &small)];
    let shape = |name, shape: &PunchedShape, blank| {
        shape_picture(
            &ShapePicture {
                ruler,
                name,
                outline: shape.outline(),
                blank,
            },
            PictureSize::FREE,
        )
    };
    let ribbon = |kind, bow| {
        let length = sixteenths(8 * 16);
        ribbon_picture(
            RibbonPicture {
                ruler,
                kind,
                bow,
                front_mm: (44.9, 76.3),
                band_mm: None,
                on_front: &[],
                length,
            },
            PictureSize::FREE,
        )
    };
    let wrap = |around_mm, glued| {
        wrap_picture(
            WrapPicture {
                ruler,
                part: "band",
                around_mm,
                overlap_mm: 12.7,
                glued,
            },
            PictureSize::FREE,
        )
    };
    let finished = |attach_now| {
        let (name, front_mm, on_front) = ("box", (44.9, 76.3), &layers[..]);
        let band_mm = Some(69.85);
        finished_picture(
            FinishedPicture {
                ruler,
                name,
                front_mm,
                band_mm,
                on_front,
                attach_now,
            },
            PictureSize::FREE,
        )
    };
    vec![
        finished(true),
        finished(false),
        length_picture("ribbon", sixteenths(128), ruler, PictureSize::FREE),
        wrap((44.9, 24.7), false),
        wrap((44.9, 24.7), true),
        wrap((100.0, 4.0), true),
        layers_picture(
            LayersPicture {
                ruler,
                layers: &layers,
                has_fold: false,
            },
            PictureSize::FREE,
        ),
        shape("circle", &small, (sixteenths(24), sixteenths(24))),
        shape("tag", &tag, (sixteenths(48), sixteenths(28))),
        notch_picture(
            NotchPicture {
                ruler,
                part: "band",
                edge_mm: 44.9,
                depth_mm: 69.85,
                radius_mm: 6.35,
            },
            PictureSize::FREE,
        ),
        ribbon(RibbonPictureKind::Round, true),
        ribbon(RibbonPictureKind::Cross, false),
        ribbon(RibbonPictureKind::Bow, true),
    ]
}
