//! How long pictures in space take: `cargo bench --bench pictures`.

use divan::{Bencher, black_box};
use tablefold::demo;
use tablefold::recipe::{MadePiece, Recipe};
use tablefold_geometry::{
    FoldPicture, GluePicture, Pose, SpaceView, Svg, fold_picture, folded_portrait, glue_picture,
};

fn main() {
    divan::main();
}

fn seed_box() -> MadePiece {
    let mut recipe = Recipe::build(&demo::project()).expect("the demo can be made");
    recipe.pieces.swap_remove(0)
}

/// One fold of the box part-way, with the choice of the view, as a scene.
#[divan::bench(args = [0, 2, 5, 8])]
fn fold_scene(bencher: Bencher<'_, '_>, step: usize) {
    let made = seed_box();
    bencher.bench_local(|| fold_picture(fold_of(black_box(&made), step)));
}

/// The same as SVG text.
#[divan::bench(args = [0, 2, 5, 8])]
fn fold_svg(bencher: Bencher<'_, '_>, step: usize) {
    let made = seed_box();
    bencher.bench_local(|| Svg::write(&fold_picture(fold_of(black_box(&made), step)), "p"));
}

/// Glue on both tabs before the end wall comes up.
#[divan::bench]
fn glue_svg(bencher: Bencher<'_, '_>) {
    let made = seed_box();
    let fold = made.pattern.glue.iter().map(|zone| zone.with_fold).max();
    let fold = fold.expect("the box is glued");
    bencher.bench_local(|| {
        let pattern = &black_box(&made).pattern;
        let glue = glue_picture(GluePicture {
            pattern,
            view: SpaceView::of(pattern),
            fold,
            mirrored: false,
        });
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
