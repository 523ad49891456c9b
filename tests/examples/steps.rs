//! Every step of every structure on one page, as a maker sees it:
//! `cargo run --example steps > steps.html`. Words after `--` pick structures by their slug; `1`,
//! `2`, `4` and `phone` draw the pictures as they are on so many cards to a page, or on phones.

#![expect(clippy::print_stdout, reason = "the page is the output")]

use tablefold::demo;
use tablefold::pages::picture_sizes::{on_card, on_phone};
use tablefold::recipe::{ProjectFacts, Recipe, draw};
use tablefold_geometry::{Contents, Length, PictureSize, StructureKind, Svg};

fn main() {
    println!(
        "<!doctype html><meta charset=utf-8><style>\
         body{{font:15px system-ui,sans-serif;margin:8px}}\
         section{{display:inline-block;vertical-align:top;margin:3px;padding:4px;width:340px;border:1px solid #ccc}}\
         .pic{{display:block}} p{{margin:3px}} small{{color:#555}}\
         .pic-sample{{vertical-align:middle;width:40px;height:16px}}</style>"
    );
    let (wanted, size) = asked();
    for kind in StructureKind::all() {
        if !wanted.is_empty() && !wanted.iter().any(|slug| slug == kind.slug()) {
            continue;
        }
        println!("<h1>{}</h1>", kind.name());
        match made_as(*kind) {
            Some((project, recipe)) => show((kind.slug(), size), &project, &recipe),
            None => println!("<p>It holds none of the contents tried.</p>"),
        }
    }
}

fn asked() -> (Vec<String>, PictureSize) {
    let mut wanted: Vec<String> = std::env::args().skip(1).collect();
    let mut size = PictureSize::FREE;
    wanted.retain(|word| {
        size = match word.as_str() {
            "1" => on_card(1, false),
            "2" => on_card(2, false),
            "4" => on_card(4, false),
            "phone" => on_phone(false),
            _ => return true,
        };
        false
    });
    (wanted, size)
}

fn show((slug, size): (&str, PictureSize), project: &ProjectFacts, recipe: &Recipe) {
    for (index, step) in recipe.steps.iter().enumerate() {
        let operation = &step.operation;
        let ruler = recipe.ruler_of(operation.tool);
        let (measure, _) = step.measure(ruler).unwrap_or_default();
        println!(
            "<section><p><b>{}. {}</b> <big>{measure}</big></p>",
            index + 1,
            operation.title
        );
        if let Some(scene) = draw(project, &recipe.pieces, operation, false, size) {
            let svg = Svg::write(&scene, &format!("{slug}{index}"));
            // As wide as makes its least letters 12 px high.
            let wide = scene.view.width() / scene.u * 12.0 / 3.6;
            println!(
                "<div style='width:{wide:.0}px'>{svg}</div><p>{}",
                step.text(ruler)
            );
            for entry in scene.legend() {
                println!(" <small>{} {}</small>", entry.svg, entry.words);
            }
            println!(
                "</p><small>{} [{} bytes] {}</small>",
                scene.title,
                svg.as_str().len(),
                scene.description
            );
        }
        println!("</section>");
    }
}

/// A project of one piece made that way, for the first contents that it holds.
fn made_as(kind: StructureKind) -> Option<(ProjectFacts, Recipe)> {
    let block = |width, depth, height| Contents::Block {
        width: Length::from_mm(width),
        depth: Length::from_mm(depth),
        height: Length::from_mm(height),
    };
    let tries = [block(60, 45, 80), block(100, 70, 1), block(50, 10, 60)];
    tries.into_iter().find_map(|contents| {
        let mut project = demo::project();
        project.pieces.truncate(1);
        let spec = &mut project.pieces.first_mut()?.spec;
        (spec.contents, spec.structure) = (contents, kind);
        (spec.band, spec.tag, spec.ribbon) = (None, None, None);
        let recipe = Recipe::build(&project).ok()?;
        Some((project, recipe))
    })
}
