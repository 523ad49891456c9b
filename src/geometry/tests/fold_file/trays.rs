//! Trays, and the sleeve round one.

use tablefold_geometry::{Drawer, Hexagon, Settings, Tray, fold_file};

use super::measures::*;
use super::reader::*;
use super::*;

const WALLS: [&str; 4] = ["left wall", "right wall", "bottom end wall", "top end wall"];

/// Closed but for the top, and as large as its scores say, crease to crease. Seen from the rim,
/// the missing top has no volume: what floor and walls enclose.
fn open_tray(made: &Structure, body: &str, floor: &str, [w, l, d]: [f64; 3]) -> f64 {
    let file = read(&fold_file(&made.body(body).unwrap().pattern));
    let faces = file.fold();
    let (low, high) = bounds(&faces);
    let size = sub(high, low);
    for (got, want) in size.iter().zip([w, l, d]) {
        assert!((got - want).abs() < 1e-6, "{body} {size:?}");
    }
    let names = [WALLS.as_slice(), &[floor]].concat();
    let (volume, open) = enclosed(&file, &faces, &names, high);
    assert!(
        (open[2] + w * l).abs() < 1e-6 && open[0].hypot(open[1]) < 1e-6,
        "{body} {open:?}"
    );
    volume
}

/// 60.3 x 40.3 x 25.2 and 61.4 x 42 x 15, crease to crease, open on top; the drawer's body as the
/// tray's.
#[test]
fn the_exported_trays_are_closed_but_for_the_top() {
    let tray = tenths([1107, 907, 252, 914, 720, 150]);
    let tray = made(Settings::new(Tray::KIND, &tray));
    let drawer = tenths([1107, 907, 252, 1858, 406, 619, 889, 190]);
    let drawer = made(Settings::new(Drawer::KIND, &drawer));
    for (structure, body, floor, [w, l, d]) in [
        (&tray, "base", "bottom", [60.3, 40.3, 25.2]),
        (&tray, "lid", "top", [61.4, 42.0, 15.0]),
        (&drawer, "drawer", "floor", [60.3, 40.3, 25.2]),
    ] {
        let volume = open_tray(structure, body, floor, [w, l, d]);
        assert!((volume / (w * l * d) - 1.0).abs() < 1e-6, "{body} {volume}");
    }
}

/// The same lid with a window 20 mm wide: seen from the rim, a cone over the window is missing too.
/// The window's area by 36 triangles from its middle.
#[test]
fn the_exported_lid_is_open_at_its_window_and_nowhere_else() {
    let at = tenths([1107, 907, 252, 914, 720, 150, 200]);
    let tray = made(Settings::new(Tray::KIND, &at));
    let file = read(&fold_file(&tray.body("lid").unwrap().pattern));
    let faces = file.fold();
    let (_, high) = bounds(&faces);
    let (w, l, d) = (61.4, 42.0, 15.0);
    let window = 18.0 * 100.0 * 10.0_f64.to_radians().sin();
    let names = [
        "top",
        "left wall",
        "right wall",
        "bottom end wall",
        "top end wall",
    ];
    let (volume, open) = enclosed(&file, &faces, &names, [0.0, 0.0, high[2]]);
    let want = (w * l - window / 3.0) * d;
    assert!((volume / want - 1.0).abs() < 1e-6, "{volume} {want}");
    assert!((open[2] + w * l - window).abs() < 1e-6, "{open:?}");
    assert!(open[0].hypot(open[1]) < 1e-6, "{open:?}");
    // Where the two halves of the top meet, the paper goes on.
    let seam = file.assignment.iter().filter(|it| *it == "F").count();
    assert_eq!(seam, 2);
}

/// Published in calculus texts: a sheet of 12 x 12 in with corners of x = 2 in folds into an open
/// tray of 128 in³, the most there is.
#[test]
fn the_exported_tray_of_12_inches_holds_128_cubic_inches_and_no_other_score_more() {
    let holds = |score: i64| {
        let crease = 3048 - 2 * score;
        let lid = [crease + 11 + 600, crease + 17 + 600, 300];
        let at = tenths([3048, 3048, score, lid[0], lid[1], lid[2]]);
        let tray = made(Settings::new(Tray::KIND, &at));
        let [side, depth] = [crease, score].map(|tenths| tenths as f64 / 10.0);
        open_tray(&tray, "base", "bottom", [side, side, depth]) / 25.4_f64.powi(3)
    };
    assert!((holds(508) - 128.0).abs() < 1e-6, "{}", holds(508));
    assert!(holds(500) < 128.0 && holds(516) < 128.0);
}

/// The sleeve of a drawer, 61.9 x 27 x 40.6 crease to crease: seen from the middle of its top the
/// open ends hide a third of its volume, and only half a circle of 19 mm is out of the top.
#[test]
fn the_exported_sleeve_is_a_tube() {
    let at = tenths([1107, 907, 252, 1858, 406, 619, 889, 190]);
    let drawer = made(Settings::new(Drawer::KIND, &at));
    let (w, d, l) = (61.9, 27.0, 40.6);
    let file = read(&fold_file(&drawer.body("sleeve").unwrap().pattern));
    let faces = file.fold();
    let (low, high) = bounds(&faces);
    for (got, want) in sub(high, low).iter().zip([w, l, d]) {
        assert!((got - want).abs() < 1e-6, "{low:?} {high:?}");
    }
    let names = ["top", "left side", "right side", "bottom"];
    let (volume, open) = enclosed(&file, &faces, &names, [0.0; 3]);
    assert!(
        (volume / (w * d * l * 2.0 / 3.0) - 1.0).abs() < 1e-6,
        "{volume}"
    );
    let half_circle = std::f64::consts::PI * 9.5 * 9.5 / 2.0;
    assert!(open[0].hypot(open[1]) < 1e-6, "{open:?}");
    assert!(open[2] > 0.998 * half_circle && open[2] < half_circle);
    // The flap lies on the bottom, within it.
    let flap = file.names.iter().position(|name| name == "glue flap");
    let inside = |p: &V| (p[2] - d).abs() < 1e-6 && p[0].abs() < w / 2.0 + 1e-6;
    assert!(faces[flap.unwrap()].iter().all(inside));
}

/// Base and lid of a six-sided box, 70 and 71.7 across flats: (√3/2) f² d each, open on top.
#[test]
fn the_exported_six_sided_trays_are_closed_but_for_the_top() {
    let at = tenths([1328, 1300, 300, 1088, 1017, 150]);
    let hexagon = made(Settings::new(Hexagon::KIND, &at));
    for (body, floor, flats, depth) in [("base", "bottom", 70.0, 30.0), ("lid", "top", 71.7, 15.0)]
    {
        let file = read(&fold_file(&hexagon.body(body).unwrap().pattern));
        let faces = file.fold();
        let (_, high) = bounds(&faces);
        let names: Vec<&str> = file.names.iter().map(String::as_str).collect();
        let walls = names
            .into_iter()
            .filter(|name| *name == floor || name.ends_with(" wall"))
            .filter(|name| !name.contains("tab"));
        let walls: Vec<&str> = walls.collect();
        assert_eq!(walls.len(), 7);
        let area = 3.0_f64.sqrt() / 2.0 * flats * flats;
        let (volume, open) = enclosed(&file, &faces, &walls, [0.0, 0.0, high[2]]);
        assert!(
            (volume / (area * depth) - 1.0).abs() < 1e-6,
            "{body} {volume}"
        );
        assert!((open[2] + area).abs() < 1e-6 && open[0].hypot(open[1]) < 1e-6);
        // Each tab lies against a wall: as far from the middle as that.
        for (name, face) in file.names.iter().zip(&faces) {
            if !name.contains("tab") {
                continue;
            }
            let lies = (0..6).any(|k| {
                let angle = f64::from(60 * k + 30).to_radians();
                face.iter()
                    .all(|p| (p[0] * angle.cos() + p[1] * angle.sin() - flats / 2.0).abs() < 1e-6)
            });
            assert!(lies, "{name} {face:?}");
        }
    }
}
