//! How long the main computations take: `cargo bench --bench plan`.

use divan::{Bencher, black_box};
use tablefold::demo;
use tablefold::recipe::{ProjectFacts, Recipe, StepPicture, draw};
use tablefold::workshop::{draft, packet, plan_now};
use tablefold_geometry::{
    Contents, CutError, CutJob, Length, PictureSize, PunchBoard, Ruler, SizingRequest, Stock, Svg,
    Tools, Trimmer, size,
};

fn main() {
    divan::main();
}

/// Size, pattern, fold check, and every flat picture of one box as SVG text.
#[divan::bench]
fn one_box_with_every_picture(bencher: Bencher<'_, '_>) {
    let mut project = demo::project();
    project.pieces.truncate(1);
    let spec = &mut project.pieces[0].spec;
    (spec.band, spec.tag, spec.ribbon) = (None, None, None);
    bencher.bench_local(|| with_pictures(black_box(&project)));
}

/// The same with a band, a tag on a mat and a bow.
#[divan::bench]
fn one_box_with_band_tag_and_bow(bencher: Bencher<'_, '_>) {
    let mut project = demo::project();
    project.pieces.truncate(1);
    bencher.bench_local(|| with_pictures(black_box(&project)));
}

/// Bytes of SVG text.
fn with_pictures(project: &ProjectFacts) -> usize {
    let recipe = Recipe::build(project).expect("the box can be made");
    let mut bytes = 0;
    for (n, step) in recipe.steps.iter().enumerate() {
        if step.operation.picture == StepPicture::None {
            continue;
        }
        let scene = draw(
            project,
            &recipe.pieces,
            &step.operation,
            false,
            PictureSize::FREE,
        );
        let scene = scene.expect("each such step has a picture");
        bytes += Svg::write(&scene, &format!("s{n}")).as_str().len();
    }
    bytes
}

/// Size, pattern and fold check of one box, without pictures.
#[divan::bench]
fn one_box(bencher: Bencher<'_, '_>) {
    let mut project = demo::project();
    project.pieces.truncate(1);
    bencher.bench_local(|| Recipe::build(black_box(&project)).expect("the box can be made"));
}

/// Every structure, every way to lay the contents, ranked by what a class of 40 costs.
#[divan::bench]
fn every_structure_for_a_class_of_40(bencher: Bencher<'_, '_>) {
    let mm = Length::from_mm;
    let sheet = |name: &str, width, height| Stock {
        name: name.to_owned(),
        width,
        height,
        price: None,
        turnable: true,
    };
    let request = SizingRequest {
        contents: Contents::Block {
            width: mm(90),
            depth: mm(55),
            height: mm(12),
        },
        structure: None,
        clearance: mm(2),
        fit: tablefold_geometry::Fit::default(),
        caliper: Length::from_nm(300_000),
        tools: Tools::new(
            PunchBoard::default_inch(),
            Ruler::inch(16),
            &Trimmer::default_inch(),
        ),
        sheets: vec![
            sheet("12 x 12 in", Length::inches(12), Length::inches(12)),
            sheet("A4", mm(210), mm(297)),
        ],
        makes: 40,
    };
    bencher.bench_local(|| size(black_box(&request)).expect("a question that makes sense"));
}

/// Packs, pull list, cut plans thought out anew, prep and reconciliation.
#[divan::bench(args = [14, 40, 200, 397], sample_count = 5, sample_size = 1)]
fn packet_of_a_class(bencher: Bencher<'_, '_>, attendees: usize) {
    let class = demo::class(attendees);
    bencher.bench_local(|| packet(black_box(&class), &plan_now).expect("the packet balances"));
}

/// The same where the plans are known, as on every page after the first.
#[divan::bench(args = [14, 40, 200, 397])]
fn packet_with_known_plans(bencher: Bencher<'_, '_>, attendees: usize) {
    let class = demo::class(attendees);
    let jobs = draft(&class).expect("nothing is missing").jobs();
    let known: Vec<_> = jobs.into_iter().map(|job| (plan_now(&job), job)).collect();
    let planner = |asked: &CutJob| {
        let found = known.iter().find(|(_, job)| job == asked);
        found.map_or(Err(CutError::Stopped), |(plans, _)| plans.clone())
    };
    bencher.bench_local(|| packet(black_box(&class), &planner).expect("the packet balances"));
}
