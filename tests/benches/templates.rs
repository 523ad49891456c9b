//! How long templates at true size take: `cargo bench --bench templates`.

use divan::{Bencher, black_box};
use tablefold::demo;
use tablefold::print::{PrintOptions, Template, piece_templates, templates_pdf};
use tablefold::recipe::Recipe;

fn main() {
    divan::main();
}

/// The templates of the invented class, again and again until they fill 12 pages of A4.
fn twelve_pages() -> Vec<Template> {
    let project = demo::project();
    let recipe = Recipe::build(&project).expect("the demo can be made");
    let pieces = project.pieces.iter().zip(&recipe.pieces);
    let all: Vec<Template> = pieces
        .flat_map(|(piece, made)| piece_templates(&project, piece, made))
        .collect();
    let mut set = Vec::new();
    for template in all.iter().cycle() {
        set.push(template.clone());
        match pages(&set) {
            0..12 => {}
            12 => return set,
            _ => drop(set.pop()),
        }
    }
    set
}

fn pages(templates: &[Template]) -> usize {
    let pdf = templates_pdf("set", templates, PrintOptions::default()).expect("it is printed");
    let document = lopdf::Document::load_mem(&pdf).expect("it is a PDF");
    document.get_pages().len()
}

/// Twelve pages, from templates to bytes.
#[divan::bench]
fn pdf_of_12_pages(bencher: Bencher<'_, '_>) {
    let set = twelve_pages();
    bencher.bench_local(|| templates_pdf("set", black_box(&set), PrintOptions::default()));
}
