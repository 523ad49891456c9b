//! Pouches, cartons and cards.

use tablefold_geometry::{
    FoldedCard, FourFaced, GableCarton, Pouch, Settings, TuckCarton, fold_file,
};

use super::measures::*;
use super::reader::*;
use super::*;

/// Chord 60, height 12, flat panel 66.208 (66.2 here): the closed form for 100 from tip to tip is
/// 79 751.93 mm³ (2 L A − (2/3) c³ + 8 k A, equal to a numeric integration). Eleven strips a panel
/// lie inside the bend.
#[test]
fn the_exported_pouch_closes_and_holds_what_the_closed_form_says() {
    let pouch = made(Settings::new(Pouch::KIND, &tenths([1424, 1240, 662, 120])));
    let file = read(&fold_file(pouch.pattern()));
    let faces = file.fold();
    for ends in [
        ["bottom flap of the front", "top flap of the back"],
        ["bottom flap of the back", "top flap of the front"],
    ] {
        let names = ["front", "back", ends[0], ends[1]];
        let (volume, open) = enclosed(&file, &faces, &names, [1000.0, -500.0, 333.0]);
        assert!(open.iter().all(|part| part.abs() < 1e-6), "{open:?}");
        let off = volume / 79_751.93 - 1.0;
        assert!(off < 0.0 && off > -1.5 / 121.0, "{volume}");
    }
}

/// Flat tube 60 wide and 80 long: a² √(h² − a²/4) / 6 = 44 497.19 mm³, equal to the disphenoid
/// formula. The closing face is two halves, of which one carries the side flap: the other three
/// faces alone, seen from a corner of the fourth, enclose the same.
#[test]
fn the_exported_four_faced_pouch_closes_and_holds_what_the_closed_form_says() {
    let pouch = made(Settings::new(
        FourFaced::KIND,
        &tenths([1280, 960, 80, 300]),
    ));
    let file = read(&fold_file(pouch.pattern()));
    let faces = file.fold();
    let face = |name: &str| {
        let index = file.names.iter().position(|it| it == name).unwrap();
        &faces[index]
    };
    let half = face("other half face");
    let three = ["base", "left face", "right face"];
    let (volume, open) = enclosed(&file, &faces, &three, half[0]);
    assert!((volume - 44_497.19).abs() < 0.006, "{volume}");
    // What is missing is one face of 60 x 80 / 2, and both halves and the top strip lie in it.
    assert!((dot(open, open).sqrt() - 2400.0).abs() < 1e-6, "{open:?}");
    let normal = open.map(|c| c / 2400.0);
    for name in ["other half face", "half face with flap", "top strip"] {
        for &p in face(name) {
            let off = dot(sub(p, half[0]), normal);
            assert!(off.abs() < 1e-6, "{name} {off}");
        }
    }
    // The two glued edges are 60 long, across each other, and √(6400 − 900) apart.
    let (low, high) = (face("bottom strip"), face("top strip"));
    let edge = |ring: &[V]| {
        let sides = (0..ring.len()).map(|i| (ring[i], ring[(i + 1) % ring.len()]));
        sides.max_by(|p, q| {
            let length = |it: &(V, V)| dot(sub(it.0, it.1), sub(it.0, it.1));
            length(p).total_cmp(&length(q))
        })
    };
    let ((a, b), (c, d)) = (edge(low).unwrap(), edge(high).unwrap());
    assert!(dot(sub(b, a), sub(d, c)).abs() < 1e-6);
    let between = sub(add(a, b, 1.0), add(c, d, 1.0)).map(|part| part / 2.0);
    assert!((dot(between, between) - 5500.0).abs() < 1e-6, "{between:?}");
}

/// A card 105 x 148 on its front, and an envelope 156 x 112.
#[test]
fn the_exported_card_and_its_envelope_fold_flat_on_their_fronts() {
    let at = tenths([2100, 1480, 1050, 1840, 2360, 140, 640, 600]);
    let card = made(Settings::new(FoldedCard::KIND, &at));
    for (body, [w, h]) in [("card", [52.5, 74.0]), ("envelope", [78.0, 56.0])] {
        let file = read(&fold_file(&card.body(body).unwrap().pattern));
        let faces = file.fold();
        let (low, high) = bounds(&faces);
        for (got, want) in low.iter().chain(&high).zip([-w, -h, 0.0, w, h, 0.0]) {
            assert!((got - want).abs() < 1e-6, "{body} {low:?} {high:?}");
        }
        covers_its_flat_face(&faces, 4.0 * w * h);
        let paper: f64 = (0..file.faces.len()).map(|face| file.area(face)).sum();
        // The envelope loses four corners, each 14 wide, slanting 7 into both flaps.
        let corner = |reach: f64| 14.0 * reach + 7.0 * 14.0 / 2.0 + 7.0 * reach / 2.0;
        let want = if body == "card" {
            210.0 * 148.0
        } else {
            184.0 * 236.0 - 2.0 * (corner(64.0) + corner(60.0))
        };
        assert!((paper - want).abs() < 1e-6, "{body} {paper} {want}");
    }
}

/// 60 x 25 x 40 crease to crease: each side of that block is covered, what lies double once. The
/// tuck flaps cover the thumb notches from inside.
#[test]
fn the_exported_cartons_reach_as_far_as_their_scores_say() {
    for kind in [TuckCarton::STRAIGHT, TuckCarton::REVERSE] {
        let carton = made(Settings::new(kind, &tenths([1800, 1100, 250, 850, 100])));
        let file = read(&fold_file(carton.pattern()));
        let faces = file.fold();
        let (low, high) = bounds(&faces);
        for (got, want) in low
            .iter()
            .chain(&high)
            .zip([-30.0, -20.0, 0.0, 30.0, 20.0, 25.0])
        {
            assert!((got - want).abs() < 1e-6, "{low:?} {high:?}");
        }
        let mut volume = 0.0;
        for axis in 0..3 {
            for (plane, sign) in [(low[axis], -1.0), (high[axis], 1.0)] {
                let lies = |face: &&Vec<V>| face.iter().all(|p| (p[axis] - plane).abs() < 1e-6);
                let lying: Vec<&Vec<V>> = faces.iter().filter(lies).collect();
                volume += sign * plane * covered(&lying, axis) / 3.0;
            }
        }
        assert!((volume / 60_000.0 - 1.0).abs() < 1e-6, "{volume}");
    }
}

/// 80 x 60 x 100 under a roof of 50, which rises by 40: 480 000 and 96 000, less two tetrahedra of
/// 12 000 where the sides fold in. Walls and roof, the sides folded in, and the flanks
/// under the roof, which take back what the roof covers beyond them.
#[test]
fn the_exported_gable_closes_and_holds_what_was_worked_by_hand() {
    let at = tenths([2900, 2000, 600, 1400, 350, 150, 650]);
    let gable = made(Settings::new(GableCarton::KIND, &at));
    let file = read(&fold_file(gable.pattern()));
    let faces = file.fold();
    let (low, high) = bounds(&faces);
    let reach = [-40.0, -50.0 - 40.0 - 15.0, 0.0, 40.0, 50.0, 60.0];
    for (got, want) in low.iter().chain(&high).zip(reach) {
        assert!((got - want).abs() < 1e-6, "{low:?} {high:?}");
    }
    let names = [
        "front",
        "back",
        "left side",
        "right side",
        "front half of the roof",
        "back half of the roof",
        "left side, folded in",
        "right side, folded in",
        "left flank at the front",
        "left flank at the back",
        "right flank at the front",
        "right flank at the back",
    ];
    // The base's two flaps overlap; seen from the base it has no volume, and its area is all
    // that is open.
    let (volume, open) = enclosed(&file, &faces, &names, [1000.0, 50.0, 333.0]);
    assert!((volume / 552_000.0 - 1.0).abs() < 1e-6, "{volume}");
    assert!(
        (open[1].abs() - 80.0 * 60.0).abs() < 1e-6 && open[0].hypot(open[2]) < 1e-6,
        "{open:?}"
    );
}
