//! What the punch board makes.

use tablefold_geometry::{
    Length, PunchBoard, PunchBox, PunchBoxSettings, PunchEnvelope, PunchEnvelopeSettings, fold_file,
};

use super::measures::*;
use super::reader::*;

fn sixteenths(n: i64) -> Length {
    Length::from_nm(1_587_500 * n)
}

fn seed_tin_box() -> PunchBox {
    let settings = PunchBoxSettings {
        sheet: sixteenths(84),
        punch_1: sixteenths(24),
        punch_2: sixteenths(46),
    };
    PunchBox::new(
        settings,
        &PunchBoard::default_inch(),
        Length::from_nm(300_000),
    )
    .unwrap()
}

#[test]
fn the_exported_box_folds_into_the_box_by_a_second_way_of_folding() {
    let made = seed_tin_box();
    let (w, l, d) = (made.width_mm(), made.length_mm(), made.depth_mm());
    let file = read(&fold_file(&made.pattern()));
    let faces = file.fold();
    let (low, high) = bounds(&faces);
    for (got, want) in low
        .iter()
        .chain(&high)
        .zip([-w / 2., -l / 2., 0., w / 2., l / 2., d])
    {
        assert!(
            (got - want).abs() < 1e-6,
            "{low:?} {high:?}, box {w} {l} {d}"
        );
    }
    // Every face lies in one of the six planes, with its inside looking into the box.
    for (index, face) in faces.iter().enumerate() {
        let normal = cross(sub(face[1], face[0]), sub(face[2], face[1]));
        let towards = sub([0.0, 0.0, d / 2.0], face[0]);
        assert!(dot(normal, towards) > 0.0, "face {index} looks out");
        let planes = [-w / 2., w / 2., -l / 2., l / 2., 0., d];
        let lies = (0..6).any(|i| face.iter().all(|p| (p[i / 2] - planes[i]).abs() < 1e-6));
        assert!(lies, "face {index} lies in no side: {face:?}");
    }
}

/// The divergence theorem over the file's own faces: six of them make the closed box, and their
/// signed volumes are W L D exactly when each covers its side. The walls do so alone; the back is
/// the smallest rectangle of what lies at z = d.
#[test]
fn the_exported_box_holds_width_times_length_times_depth() {
    let made = seed_tin_box();
    let faces = read(&fold_file(&made.pattern())).fold();
    let (low, high) = bounds(&faces);
    let mut volume = 0.0;
    for axis in 0..3 {
        for (plane, sign) in [(low[axis], -1.0), (high[axis], 1.0)] {
            let lying: Vec<&Vec<V>> = faces
                .iter()
                .filter(|face| face.iter().all(|p| (p[axis] - plane).abs() < 1e-6))
                .collect();
            assert!(!lying.is_empty());
            volume += sign * plane * covered(&lying, axis) / 3.0;
        }
    }
    let want = made.width_mm() * made.length_mm() * made.depth_mm();
    assert!(
        (volume / want - 1.0).abs() < 1e-6,
        "{volume} against {want}"
    );
}

#[test]
fn the_exported_envelope_folds_flat_on_its_front() {
    let settings = PunchEnvelopeSettings {
        sheet: sixteenths(128),
        punch: sixteenths(56),
    };
    let made = PunchEnvelope::new(
        settings,
        &PunchBoard::default_inch(),
        Length::from_nm(200_000),
    )
    .unwrap();
    let faces = read(&fold_file(&made.pattern())).fold();
    let (low, high) = bounds(&faces);
    let (w, h) = (made.width_mm() / 2.0, made.height_mm() / 2.0);
    for (got, want) in low.iter().chain(&high).zip([-w, -h, 0.0, w, h, 0.0]) {
        assert!(
            (got - want).abs() < 1e-6,
            "{low:?} {high:?}, envelope {w} {h}"
        );
    }
    covers_its_flat_face(&faces, 4.0 * w * h);
}

proptest::proptest! {
    /// Any box: its own corners, folded the second way, reach exactly as far as the box is large.
    #[test]
    fn every_exported_box_folds_to_its_own_size(
        punch_1 in 9_i64..60, more in 9_i64..50, rest in 9_i64..100,
    ) {
        let settings = PunchBoxSettings {
            sheet: sixteenths(punch_1 + more + rest),
            punch_1: sixteenths(punch_1),
            punch_2: sixteenths(punch_1 + more),
        };
        let made = PunchBox::new(settings, &PunchBoard::default_inch(), Length::from_nm(300_000));
        proptest::prop_assume!(made.is_ok());
        let Ok(made) = made else { return Ok(()) };
        let (low, high) = bounds(&read(&fold_file(&made.pattern())).fold());
        let (w, l, d) = (made.width_mm() / 2.0, made.length_mm() / 2.0, made.depth_mm());
        for (got, want) in low.iter().chain(&high).zip([-w, -l, 0.0, w, l, d]) {
            proptest::prop_assert!((got - want).abs() < 1e-6, "{:?} {:?} {:?}", low, high, made);
        }
    }
}

#[test]
fn the_graph_is_plane_each_edge_borders_what_it_says() {
    let file = read(&fold_file(&seed_tin_box().pattern()));
    for edge in 0..file.edges.len() {
        let (left, right) = file.faces_of(edge);
        let sides = usize::from(left.is_some()) + usize::from(right.is_some());
        let want = if file.assignment[edge] == "B" { 1 } else { 2 };
        assert_eq!(
            sides, want,
            "edge {:?} is {}",
            file.edges[edge], file.assignment[edge]
        );
        assert_eq!(file.angle[edge] > 0.0, file.assignment[edge] == "V");
    }
    // Euler: the paper is one piece without holes, and the four cuts open it only at one end.
    let euler = file.coords.len() as i64 - file.edges.len() as i64 + file.faces.len() as i64;
    assert_eq!(euler, 1);
    let cuts = file.assignment.iter().filter(|a| *a == "C").count();
    assert_eq!(cuts, 4);
    // Paper: the square less eight notches, two trims, two tips.
    let areas: f64 = (0..file.faces.len()).map(|face| file.area(face)).sum();
    let made = seed_tin_box();
    let (e, t) = (6.35, made.trim_mm());
    // The rounded tip: r² less the eight chords' share of the quarter circle.
    let r = made.tip_radius_mm();
    let sector = 8.0 * 0.5 * r * r * (std::f64::consts::FRAC_PI_2 / 8.0).sin();
    let want = 133.35_f64.powi(2) - 8.0 * e * e - 2.0 * t * t - 2.0 * (r * r - sector);
    assert!((areas - want).abs() < 1e-6, "{areas} against {want}");
}
