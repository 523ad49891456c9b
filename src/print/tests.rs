//! Every structure on every paper.

use std::collections::BTreeSet;

use proptest::prelude::*;
use tablefold_geometry::{
    Contents, Length, Point, PunchBoard, Ruler, SizingRequest, Stock, Structure, StructureKind,
    Tools, Trimmer, signed_area, size,
};

use super::area::Area;
use super::document::templates_pdf;
use super::labels::{Label, labels};
use super::laid::{Laid, lay};
use super::paper::{PrintLines, PrintOptions, PrintPaper};
use super::project::piece_templates;
use super::template::{Shape, Template};
use super::tiles::OVERLAP_MM;
use crate::recipe::{MatsSpec, Recipe};

fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

/// The best of each structure for the first of some contents, mm, that it can be made for.
fn made(kind: StructureKind) -> Structure {
    let things = [(60, 40, 70), (90, 3, 60), (60, 24, 60), (20, 20, 20)];
    let mut made = things
        .into_iter()
        .filter_map(|things| made_for(kind, things));
    made.next().unwrap()
}

fn made_for(kind: StructureKind, (width, depth, height): (i64, i64, i64)) -> Option<Structure> {
    let request = SizingRequest {
        contents: Contents::Block {
            width: mm(width),
            depth: mm(depth),
            height: mm(height),
        },
        structure: Some(kind),
        clearance: mm(3),
        caliper: Length::from_nm(250_000),
        tools: Tools::new(
            PunchBoard::default_inch(),
            Ruler::inch(16),
            &Trimmer::default_inch(),
        ),
        sheets: vec![Stock {
            name: "large".into(),
            width: mm(500),
            height: mm(700),
            price: None,
            turnable: true,
        }],
        makes: 1,
        fit: Default::default(),
    };
    let answers = size(&request).unwrap().answers;
    answers.into_iter().next().map(|answer| answer.structure)
}

fn templates() -> Vec<Template> {
    let kinds = StructureKind::all().iter();
    let bodies = kinds.flat_map(|&kind| {
        let structure = made(kind);
        let bodies = structure.bodies().map(|body| {
            let title = format!("{}: {}", kind.name(), body.name);
            Template::of_pattern(&title, "", &body.pattern, Some((mm(500), mm(700))))
        });
        bodies.collect::<Vec<_>>()
    });
    bodies.collect()
}

/// A template that is laid in one piece.
fn only(template: &Template, paper: PrintPaper) -> Laid<'_> {
    let mut laid = lay(template, paper).unwrap();
    assert_eq!(laid.len(), 1, "{}", template.title);
    laid.remove(0)
}

/// Labels of each tile, with what the tile shows.
fn labelled(template: &Template, paper: PrintPaper) -> Vec<(Area, Vec<Label>)> {
    let laid = only(template, paper);
    let tiles = laid.tiles.iter();
    tiles
        .map(|&tile| {
            let own = laid.own(tile);
            (own, labels(&laid.drawing, &own, Vec::new()))
        })
        .collect()
}

#[test]
fn every_panel_of_every_structure_is_named_on_every_paper() {
    for template in templates() {
        // A punched hole has no room for words.
        let panels = template.parts[0].panels.iter();
        let panels = panels.filter(|(name, _)| name != "cut out");
        let panels: BTreeSet<String> = panels.map(|(name, _)| name.clone()).collect();
        for paper in PrintPaper::ALL {
            let tiles = labelled(&template, paper);
            let labels = tiles.iter().flat_map(|(_, labels)| labels);
            let named: BTreeSet<String> = labels.map(|label| label.lines.join(" ")).collect();
            assert_eq!(named, panels, "{} on {paper}", template.title);
        }
    }
}

#[test]
fn no_name_runs_over_another_or_out_of_its_tile() {
    for template in templates() {
        for paper in PrintPaper::ALL {
            for (shown, labels) in labelled(&template, paper) {
                for (n, label) in labels.iter().enumerate() {
                    let at = format!("{} of {} on {paper}", label.lines[0], template.title);
                    let out = |p: &Point| {
                        p.x < shown.left
                            || p.x > shown.right
                            || p.y < shown.top
                            || p.y > shown.bottom
                    };
                    assert!(!label.takes.0.iter().any(out), "{at}");
                    let others = labels.iter().skip(n + 1);
                    let over = others.filter(|other| other.takes.overlaps(&label.takes));
                    assert_eq!(over.count(), 0, "{at}");
                }
            }
        }
    }
}

#[test]
fn no_line_runs_through_a_name() {
    for template in templates() {
        for paper in PrintPaper::ALL {
            let laid = only(&template, paper);
            let lines = laid.drawing.lines();
            for &tile in &laid.tiles {
                for label in labels(&laid.drawing, &laid.own(tile), Vec::new()) {
                    let through = lines.iter().filter(|&&line| label.takes.meets(line));
                    let at = format!("{:?} of {} on {paper}", label.lines, template.title);
                    assert_eq!(through.count(), 0, "{at}");
                }
            }
        }
    }
}

#[test]
fn every_trimming_of_the_invented_class_has_its_template() {
    let mut project = crate::demo::project();
    project.pieces.extend(crate::demo::second_project().pieces);
    project.pieces[2].spec.mats = Some(MatsSpec {
        reveal: mm(3),
        roles: vec!["accent".to_owned(), "label".to_owned()],
    });
    let recipe = Recipe::build(&project).unwrap();
    let pieces = project.pieces.iter().zip(&recipe.pieces);
    let mut titles = Vec::new();
    for (piece, made) in pieces {
        for template in piece_templates(&project, piece, made) {
            titles.push(template.title);
        }
    }
    insta::assert_debug_snapshot!(titles, @r#"
    [
        "Seed box: punch-board box",
        "Seed box: band",
        "Seed box: tag and its mat",
        "Seed envelope: punch-board envelope",
        "Gift card: card",
        "Gift card: envelope",
        "Gift card: mats on the front",
    ]
    "#);
    let (card, made) = (&project.pieces[2], &recipe.pieces[2]);
    let mats = piece_templates(&project, card, made).pop().unwrap();
    assert_eq!(mats.parts.len(), 2);
    let want: f64 = made.mats.iter().map(|mat| mat.shape.area_mm2()).sum();
    let shapes = mats.parts.iter().flat_map(|part| &part.panels);
    let drawn: f64 = shapes.map(|it| signed_area(&it.1).abs()).sum();
    assert!((drawn - want).abs() < 1e-6, "{drawn} {want}");
}

#[test]
fn a_piece_whose_name_the_font_lacks_is_headed_by_its_structure() {
    let mut project = crate::demo::project();
    project.title = "種".to_owned();
    for piece in &mut project.pieces {
        piece.name = "箱".to_owned();
    }
    let recipe = Recipe::build(&project).unwrap();
    let (piece, made) = (&project.pieces[0], &recipe.pieces[0]);
    let templates = piece_templates(&project, piece, made);
    let titles: Vec<&str> = templates.iter().map(|it| it.title.as_str()).collect();
    assert_eq!(titles[..2], ["punch-board box", "punch-board box: band"]);
    for template in &templates {
        assert!(!template.notes.contains('種'), "{}", template.notes);
    }
}

#[test]
fn a_carton_that_fits_when_it_is_turned_is_turned() {
    let long = [("strip", Shape::Rectangle(mm(230), mm(60)))];
    let template = Template::of_shapes("long", "", &long, (mm(210), mm(297)));
    let laid = only(&template, PrintPaper::A4);
    assert_eq!((laid.tiles.len(), laid.drawing.angle_deg), (1, 90.0));
    let square = [("square", Shape::Rectangle(mm(150), mm(150)))];
    let template = Template::of_shapes("square", "", &square, (mm(210), mm(297)));
    let laid = only(&template, PrintPaper::A4);
    assert_eq!((laid.tiles.len(), laid.drawing.angle_deg), (1, 0.0));
}

#[test]
fn too_many_pages_and_pages_too_large_are_refused_with_what_would_do() {
    let side = mm(9000);
    let huge = [("huge", Shape::Rectangle(side, side))];
    let template = [Template::of_shapes("Hall banner", "", &huge, (side, side))];
    let say = |paper| {
        let options = PrintOptions {
            paper,
            lines: PrintLines::Together,
        };
        templates_pdf("Banner", &template, options).unwrap_err()
    };
    insta::assert_snapshot!(say(PrintPaper::A4), @"The templates take 1862 pages of A4, and 400 are the most. Choose the sheet's own size, or print fewer pieces at a time.");
    insta::assert_snapshot!(say(PrintPaper::Sheet), @"Hall banner takes a page of 9000 by 9000 mm, and no page is larger than 5080 mm. Choose A4 or Letter.");
}

#[test]
fn a_template_larger_than_its_sheet_gets_a_page_that_holds_it() {
    let wide = [("wide", Shape::Rectangle(mm(400), mm(50)))];
    let template = Template::of_shapes("wide", "", &wide, (mm(210), mm(297)));
    let laid = only(&template, PrintPaper::Sheet);
    assert!(laid.page.0 > 400.0 && laid.page.1 > 50.0, "{:?}", laid.page);
}

#[test]
fn a_sheet_without_room_for_a_block_still_has_its_bars_clear_of_all_words() {
    for kind in StructureKind::all() {
        let structure = made(*kind);
        for body in structure.bodies() {
            // Just as large as the template, so that nothing is left beside it.
            let tight = Template::of_pattern("tight", "", &body.pattern, None);
            let turn = tight.turns().last().copied().unwrap();
            let size = tight.parts[0].turned(turn).size();
            let tight = Template {
                sheet_mm: Some(size),
                ..tight
            };
            assert_words_are_clear(&only(&tight, PrintPaper::Sheet), &format!("{kind:?}"));
        }
    }
}

/// Bars and words are there, and nothing crosses them.
fn assert_words_are_clear(laid: &Laid<'_>, at: &str) {
    let blocks = laid.notes(4);
    let quads: Vec<_> = blocks.iter().map(super::notes::Block::takes).collect();
    assert!(blocks.iter().any(super::notes::Block::has_bars), "{at}");
    let to_page = laid.to_page();
    for (n, quad) in quads.iter().enumerate() {
        let mut others = quads.iter().skip(n + 1);
        assert!(!others.any(|other| other.overlaps(quad)), "{at}");
        let lines = laid.drawing.lines().into_iter();
        let mut lines = lines.map(|line| line.map(|p| to_page(&p)));
        assert!(
            !lines.any(|line| quad.meets(line)),
            "{at}: a line runs through words"
        );
        let (width, height) = laid.page;
        let is_on = |p: &Point| (0.0..=width).contains(&p.x) && (0.0..=height).contains(&p.y);
        assert!(quad.0.iter().all(is_on), "{at}");
    }
}

#[test]
fn a_small_sheet_has_shorter_bars_or_a_larger_page() {
    for side in [60, 90, 105, 112, 150] {
        for kind in StructureKind::all() {
            let Some(made) = made_for(*kind, (20, 20, 10)) else {
                continue;
            };
            for body in made.bodies() {
                let sheet = Some((mm(side), mm(side)));
                let template = Template::of_pattern("small", "", &body.pattern, sheet);
                let at = format!("{kind:?} on {side} mm");
                assert_words_are_clear(&only(&template, PrintPaper::Sheet), &at);
            }
        }
    }
}

fn shapes<'n>(sizes: &[(&'n str, i64, i64)]) -> Vec<(&'n str, Shape)> {
    let sizes = sizes.iter();
    sizes
        .map(|&(name, x, y)| (name, Shape::Rectangle(mm(x), mm(y))))
        .collect()
}

#[test]
fn shapes_share_a_page_that_holds_them_and_are_never_joined() {
    let pages = |sizes: &[(&str, i64, i64)]| -> Vec<(usize, usize)> {
        let template = Template::of_shapes("shapes", "", &shapes(sizes), (mm(210), mm(297)));
        let laid = lay(&template, PrintPaper::A4).unwrap();
        laid.iter()
            .map(|it| (it.drawing.panels.len(), it.tiles.len()))
            .collect()
    };
    // The window on A4 is 194 by 247 mm. One above the other these two are 258 mm high, side by
    // side they are 138 wide.
    assert_eq!(pages(&[("tag", 60, 120), ("tag mat", 66, 126)]), [(2, 1)]);
    assert_eq!(
        pages(&[("mat", 180, 200), ("inner mat", 170, 190)]),
        [(1, 1), (1, 1)]
    );
    assert_eq!(
        pages(&[("mat", 360, 200), ("inner mat", 170, 190)]),
        [(1, 2), (1, 1)]
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever the size, every corner and every point along the edges is on some tile's page,
    /// and no tile is without paper.
    #[test]
    fn tiles_show_all_of_a_rectangle(width in 20..900i64, height in 20..900i64) {
        let shape = [("piece", Shape::Rectangle(mm(width), mm(height)))];
        let template = Template::of_shapes("piece", "", &shape, (mm(100), mm(100)));
        for paper in [PrintPaper::A4, PrintPaper::Letter] {
            let laid = only(&template, paper);
            let (wide, high) = laid.drawing.size();
            for n in 0..=40 {
                let part = f64::from(n) / 40.0;
                let points = [
                    (wide * part, 0.0), (wide * part, high), (0.0, high * part),
                    (wide, high * part), (wide * part, high * part),
                ];
                for (x, y) in points {
                    let shown = laid.tiles.iter().any(|&tile| {
                        let area = laid.tiling.shows(tile);
                        (area.left - 1e-6..=area.right + 1e-6).contains(&x)
                            && (area.top - 1e-6..=area.bottom + 1e-6).contains(&y)
                    });
                    prop_assert!(shown, "{x} {y} of {wide} by {high} on {paper}");
                }
            }
            prop_assert_eq!(laid.tiles.len(), laid.tiling.columns * laid.tiling.rows);
            for &tile in &laid.tiles {
                prop_assert!(laid.own(tile).width() >= laid.window.width() - OVERLAP_MM - 1e-9);
            }
        }
    }
}
