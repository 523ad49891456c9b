//! How long pictures and the choice between structures take: `cargo bench --bench pictures`.
//! The first lines say how large the pictures of all structures are.

#![expect(clippy::print_stdout, reason = "a bench reports on the terminal")]
#![expect(clippy::unwrap_used, reason = "what cannot be set up is not measured")]

#[path = "../pages/builders.rs"]
mod builders;
#[path = "../pages/visitor.rs"]
#[expect(dead_code, reason = "a bench opens a page, and tests do more")]
mod visitor;

use divan::{Bencher, black_box};
use tablefold::demo;
use tablefold::recipe::{MadePiece, ProjectFacts, Recipe, compare, draw};
use tablefold_geometry::{
    Contents, FoldPicture, GluePicture, Length, PictureSize, Pose, PunchBoard, Ruler, SpaceView,
    StructureKind, Svg, Trimmer, fold_picture, folded_portrait, glue_picture,
};

fn main() {
    sizes();
    divan::main();
}

/// The largest and the slowest picture of each structure, and how many there are: where it may be
/// as large as it likes, and in the place of a phone, where words that have no room are moved.
fn sizes() {
    let on_phone = PictureSize::new(360.0, 214.0, 12.0);
    for (place, size) in [("free", PictureSize::FREE), ("on a phone", on_phone)] {
        for kind in StructureKind::all() {
            let project = made_as(*kind);
            let recipe = Recipe::build(&project).expect("checked");
            let pictures = recipe.steps.iter().map(|step| {
                let svg = || {
                    let operation = &step.operation;
                    let scene = draw(&project, &recipe.pieces, operation, false, size);
                    Svg::write(&scene.expect("each step has a picture"), "p")
                };
                let runs = (0..9).map(|_| {
                    let begin = std::time::Instant::now();
                    black_box(svg());
                    begin.elapsed()
                });
                let key = step.operation.key.as_str();
                (svg().as_str().len(), runs.min().unwrap_or_default(), key)
            });
            let pictures: Vec<_> = pictures.collect();
            let largest = pictures.iter().max().expect("steps");
            let slowest = pictures.iter().max_by_key(|it| it.1).expect("steps");
            println!(
                "{place}, {}: {} pictures, the largest {} bytes ({}), the slowest {:?} ({})",
                kind.name(),
                pictures.len(),
                largest.0,
                largest.2,
                slowest.1,
                slowest.2,
            );
        }
    }
}

/// A project of one piece made that way, for contents that it can hold.
fn made_as(kind: StructureKind) -> ProjectFacts {
    let block = |width, depth, height| Contents::Block {
        width: Length::from_mm(width),
        depth: Length::from_mm(depth),
        height: Length::from_mm(height),
    };
    let tries = [block(60, 45, 80), block(100, 70, 1), block(50, 10, 60)];
    let of = |contents| {
        let mut project = demo::project();
        project.pieces.truncate(1);
        let spec = &mut project.pieces[0].spec;
        (spec.contents, spec.structure) = (contents, kind);
        (spec.band, spec.tag, spec.ribbon) = (None, None, None);
        project
    };
    let mut made = tries.into_iter().map(of);
    made.find(|project| Recipe::build(project).is_ok())
        .expect("it holds one of them")
}

/// The page of a project with its tolerance: facts from the database, recipe, a picture for each
/// step, HTML bytes, through all layers but the socket. The gable-top carton has 22 pictures.
#[divan::bench(args = ["gable-top", "hexagon", "pouch"])]
fn project_page(bencher: Bencher<'_, '_>, slug: &str) {
    let least_pictures = 14;
    page(bencher, slug, ("/projects/1", least_pictures));
}

/// The page of a piece: also the clearance and the play that would do for 95 of 100 beginners.
#[divan::bench(args = ["tray", "hexagon", "drawer", "card", "gable-top"])]
fn piece_page(bencher: Bencher<'_, '_>, slug: &str) {
    page(bencher, slug, ("/projects/1/pieces/1", 1));
}

/// The page where a structure is chosen, as a whole: portraits and tolerance of each.
#[divan::bench]
fn choice_page(bencher: Bencher<'_, '_>) {
    page(bencher, "tray", ("/projects/1/pieces/1/structures", 8));
}

/// A page of a project of one piece made that way, for a class of 40.
fn page(bencher: Bencher<'_, '_>, slug: &str, (path, least_pictures): (&str, usize)) {
    let kind = StructureKind::find(slug).expect("registered");
    let pieces = made_as(kind).pieces;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(1)
        .enable_all()
        .build()
        .unwrap();
    let server = runtime.block_on(async {
        let server = visitor::Server::empty().await.with_instructor().await;
        let change = |class: &mut tablefold::workshop::ClassFacts| {
            (class.project.pieces, class.project.makes) = (pieces, 40);
        };
        server.with_class(1, change).await;
        server
    });
    let mut visitor = runtime.block_on(server.signed_in());
    let answer = runtime.block_on(visitor.get(path)).expect(200);
    let pictures = answer.text.matches("class=\"pic\"").count();
    assert!(pictures >= least_pictures, "{pictures} pictures");
    bencher.bench_local(|| runtime.block_on(visitor.get(path)).text.len());
}

/// The page where a structure is chosen, without its HTML: all that work, in every way that
/// contents can lie, each with its recipe, ranked for a class of 40; on a ruler in 1/16 in, and in
/// mm with a score board in half mm.
#[divan::bench(args = ["1/16 in", "1 mm", "1/2 mm"])]
fn choice_for_a_class_of_40(bencher: Bencher<'_, '_>, marks: &str) {
    let mut project = made_as(StructureKind::find("tray").expect("registered"));
    project.makes = 40;
    let half = || {
        let half = Length::from_nm(500_000);
        Ruler::new(
            tablefold_geometry::Unit::Millimetre,
            half,
            Length::ZERO,
            Length::from_mm(300),
        )
    };
    let ruler = match marks {
        "1/16 in" => Ruler::inch(16),
        "1 mm" => Ruler::millimetre(),
        _ => half().unwrap(),
    };
    if marks != "1/16 in" {
        project.board = PunchBoard::default_metric();
    }
    (project.trimmer, project.score_ruler) = (Trimmer::new(ruler), ruler);
    bencher.bench_local(|| compare(black_box(&project), &project.pieces[0]).expect("sizes"));
}

fn seed_box() -> MadePiece {
    let mut recipe = Recipe::build(&demo::project()).expect("the demo can be made");
    recipe.pieces.swap_remove(0)
}

/// One fold of the box part-way, with the choice of the view, as a scene.
#[divan::bench(args = [0, 2, 5, 8])]
fn fold_scene(bencher: Bencher<'_, '_>, step: usize) {
    let made = seed_box();
    bencher.bench_local(|| fold_picture(fold_of(black_box(&made), step), PictureSize::FREE));
}

/// The same as SVG text.
#[divan::bench(args = [0, 2, 5, 8])]
fn fold_svg(bencher: Bencher<'_, '_>, step: usize) {
    let made = seed_box();
    bencher.bench_local(|| {
        Svg::write(
            &fold_picture(fold_of(black_box(&made), step), PictureSize::FREE),
            "p",
        )
    });
}

/// Glue on both tabs before the end wall comes up.
#[divan::bench]
fn glue_svg(bencher: Bencher<'_, '_>) {
    let made = seed_box();
    let fold = made.pattern.glue.iter().map(|zone| zone.with_fold).max();
    let fold = fold.expect("the box is glued");
    bencher.bench_local(|| {
        let pattern = &black_box(&made).pattern;
        let glue = glue_picture(
            GluePicture {
                pattern,
                view: SpaceView::of(pattern),
                fold,
                mirrored: false,
            },
            PictureSize::FREE,
        );
        Svg::write(&glue.expect("the glue is seen"), "p")
    });
}

/// The choice of the view alone.
#[divan::bench]
fn view(bencher: Bencher<'_, '_>) {
    let made = seed_box();
    bencher.bench_local(|| SpaceView::of(&black_box(&made).pattern));
}

/// The finished piece for a list.
#[divan::bench]
fn portrait_svg(bencher: Bencher<'_, '_>) {
    let made = seed_box();
    bencher.bench_local(|| {
        let pattern = &black_box(&made).pattern;
        let view = SpaceView::of(pattern).turned_over();
        Svg::write(&folded_portrait("box", &[(pattern, Pose::FLAT)], view), "p")
    });
}

fn fold_of(made: &MadePiece, step: usize) -> FoldPicture<'_> {
    FoldPicture {
        pattern: &made.pattern,
        view: SpaceView::of(&made.pattern),
        from: step,
        to: step,
        mirrored: false,
    }
}
