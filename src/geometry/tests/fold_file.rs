//! The exported FOLD file, read back and folded by a reader that shares no code with the crate:
//! its own walk over `edges_vertices`, its own rotation about an edge in space (Rodrigues).

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use std::collections::VecDeque;

use serde_json::Value;
use tablefold_geometry::{
    FoldedCard, FourFaced, GableCarton, Length, Pouch, PunchBoard, PunchBox, PunchBoxSettings,
    PunchEnvelope, PunchEnvelopeSettings, Ruler, Settings, Structure, Tools, Tray, Trimmer,
    TuckCarton, Unit, fold_file,
};

type V = [f64; 3];

struct Read {
    coords: Vec<V>,
    edges: Vec<[usize; 2]>,
    assignment: Vec<String>,
    angle: Vec<f64>,
    faces: Vec<Vec<usize>>,
    names: Vec<String>,
}

fn read(text: &str) -> Read {
    let json: Value = serde_json::from_str(text).unwrap();
    assert_eq!(json["file_spec"], 1.2);
    assert_eq!(json["frame_unit"], "mm");
    let list = |key: &str| json[key].as_array().unwrap().clone();
    let index = |v: &Value| v.as_u64().unwrap() as usize;
    let coord = |v: &Value| [v[0].as_f64().unwrap(), v[1].as_f64().unwrap(), 0.0];
    let face = |v: &Value| v.as_array().unwrap().iter().map(index).collect();
    Read {
        coords: list("vertices_coords").iter().map(coord).collect(),
        edges: list("edges_vertices")
            .iter()
            .map(|e| [index(&e[0]), index(&e[1])])
            .collect(),
        assignment: list("edges_assignment")
            .iter()
            .map(|a| a.as_str().unwrap().to_owned())
            .collect(),
        angle: list("edges_foldAngle")
            .iter()
            .map(|a| a.as_f64().unwrap())
            .collect(),
        faces: list("faces_vertices").iter().map(face).collect(),
        names: list("faces_tablefold:name")
            .iter()
            .map(|name| name.as_str().unwrap().to_owned())
            .collect(),
    }
}

fn sub(a: V, b: V) -> V {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn add(a: V, b: V, times: f64) -> V {
    [
        a[0] + b[0] * times,
        a[1] + b[1] * times,
        a[2] + b[2] * times,
    ]
}

fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: V, b: V) -> V {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// Rodrigues: p turned by `degrees` about the line through `at` along `axis`.
fn rotate(p: V, at: V, axis: V, degrees: f64) -> V {
    let length = dot(axis, axis).sqrt();
    let k = axis.map(|c| c / length);
    let (sin, cos) = degrees.to_radians().sin_cos();
    let r = sub(p, at);
    let turned = add(
        add(r.map(|c| c * cos), cross(k, r), sin),
        k,
        dot(k, r) * (1.0 - cos),
    );
    add(at, turned, 1.0)
}

impl Read {
    /// The two faces of each edge, the one that runs along it (on its left) first.
    fn faces_of(&self, edge: usize) -> (Option<usize>, Option<usize>) {
        let [u, v] = self.edges[edge];
        let runs = |from, to| {
            self.faces.iter().position(|face| {
                (0..face.len()).any(|i| face[i] == from && face[(i + 1) % face.len()] == to)
            })
        };
        (runs(u, v), runs(v, u))
    }

    /// Folds from face 0: the corners of every face in space. Each face keeps a map as the list
    /// of turns about edges *in space* that led to it.
    fn fold(&self) -> Vec<Vec<V>> {
        let flat =
            |face: usize| -> Vec<V> { self.faces[face].iter().map(|&v| self.coords[v]).collect() };
        let mut turns: Vec<Option<Vec<(V, V, f64)>>> = vec![None; self.faces.len()];
        turns[0] = Some(Vec::new());
        let mut queue = VecDeque::from([0]);
        while let Some(face) = queue.pop_front() {
            let so_far = turns[face].clone().unwrap();
            let place = |p: V| {
                so_far
                    .iter()
                    .fold(p, |p, &(at, axis, deg)| rotate(p, at, axis, deg))
            };
            for edge in 0..self.edges.len() {
                if !["M", "V", "F"].contains(&self.assignment[edge].as_str()) {
                    continue;
                }
                let (left, right) = self.faces_of(edge);
                let (left, right) = (left.unwrap(), right.unwrap());
                let [u, v] = self.edges[edge].map(|i| place(self.coords[i]));
                // Looking along the edge, a valley lifts the face on the right by turning it
                // against the right-hand rule, and the face on the left with it.
                let (next, degrees) = if face == left {
                    (right, -self.angle[edge])
                } else if face == right {
                    (left, self.angle[edge])
                } else {
                    continue;
                };
                if turns[next].is_none() {
                    let mut path = so_far.clone();
                    path.push((u, sub(v, u), degrees));
                    turns[next] = Some(path);
                    queue.push_back(next);
                }
            }
        }
        (0..self.faces.len())
            .map(|face| {
                let path = turns[face].clone().expect("every face hangs on a crease");
                let place = |p: V| {
                    path.iter()
                        .fold(p, |p, &(at, axis, deg)| rotate(p, at, axis, deg))
                };
                flat(face).into_iter().map(place).collect()
            })
            .collect()
    }

    fn area(&self, face: usize) -> f64 {
        let ring = &self.faces[face];
        (0..ring.len())
            .map(|i| {
                let (p, q) = (
                    self.coords[ring[i]],
                    self.coords[ring[(i + 1) % ring.len()]],
                );
                (p[0] * q[1] - p[1] * q[0]) / 2.0
            })
            .sum()
    }
}

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

fn bounds(faces: &[Vec<V>]) -> (V, V) {
    let all = || faces.iter().flatten();
    let low = [0, 1, 2].map(|i| all().map(|p| p[i]).fold(f64::INFINITY, f64::min));
    let high = [0, 1, 2].map(|i| all().map(|p| p[i]).fold(f64::NEG_INFINITY, f64::max));
    (low, high)
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

/// Area that at least one face covers, by slicing into fine strips along one axis: exact
/// for straight edges but for the strips in which edges cross.
fn covered(lying: &[&Vec<V>], axis: usize) -> f64 {
    let (i, j) = ((axis + 1) % 3, (axis + 2) % 3);
    let low = lying
        .iter()
        .flat_map(|f| f.iter())
        .map(|p| p[i])
        .fold(f64::INFINITY, f64::min);
    let high = lying
        .iter()
        .flat_map(|f| f.iter())
        .map(|p| p[i])
        .fold(f64::NEG_INFINITY, f64::max);
    let strips = 4000;
    let step = (high - low) / f64::from(strips);
    (0..strips)
        .map(|strip| {
            let x = low + (f64::from(strip) + 0.5) * step;
            let mut spans: Vec<(f64, f64)> =
                lying.iter().flat_map(|face| spans(face, i, j, x)).collect();
            spans.sort_by(|a, b| a.0.total_cmp(&b.0));
            let (mut sum, mut reached) = (0.0, f64::NEG_INFINITY);
            for (from, to) in spans {
                sum += (to - from.max(reached)).max(0.0);
                reached = reached.max(to);
            }
            sum * step
        })
        .sum()
}

/// Where a face is met by the line at x: in pairs, each from its outline to its outline.
fn spans(face: &[V], i: usize, j: usize, x: f64) -> Vec<(f64, f64)> {
    let mut hits = Vec::new();
    for k in 0..face.len() {
        let (p, q) = (face[k], face[(k + 1) % face.len()]);
        if (p[i] > x) != (q[i] > x) {
            hits.push(p[j] + (q[j] - p[j]) * (x - p[i]) / (q[i] - p[i]));
        }
    }
    hits.sort_by(f64::total_cmp);
    hits.chunks_exact(2)
        .map(|pair| (pair[0], pair[1]))
        .collect()
}

/// What the faces of these names enclose, seen from a point: a third of the sum over their
/// triangles of p · (q × r) / 2 (divergence theorem); and their areas as one vector, which is zero
/// exactly when they leave no hole.
fn enclosed(file: &Read, faces: &[Vec<V>], names: &[&str], from: V) -> (f64, V) {
    let (mut volume, mut open) = (0.0, [0.0; 3]);
    for (face, name) in faces.iter().zip(&file.names) {
        if !names.contains(&name.as_str()) {
            continue;
        }
        for i in 1..face.len() - 1 {
            // Faces run counter-clockwise seen from inside.
            let [p, q, r] = [face[0], face[i + 1], face[i]].map(|p| sub(p, from));
            volume += dot(p, cross(q, r)) / 6.0;
            open = add(open, cross(sub(q, p), sub(r, p)), 0.5);
        }
    }
    (volume, open)
}

fn tools() -> Tools {
    let tenth = Length::from_nm(100_000);
    let fine = Ruler::new(Unit::Millimetre, tenth, Length::ZERO, Length::from_mm(2000)).unwrap();
    Tools::new(PunchBoard::default_inch(), fine, &Trimmer::new(fine))
}

fn made(settings: Option<Settings>) -> Structure {
    Structure::new(settings.unwrap(), &tools(), Length::from_nm(300_000)).unwrap()
}

fn tenths<const N: usize>(mm: [i64; N]) -> [Length; N] {
    mm.map(|n| Length::from_nm(n * 100_000))
}

/// 60.3 x 40.3 x 25.2 and 61.4 x 42 x 15, crease to crease, open on top.
#[test]
fn the_exported_trays_are_closed_but_for_the_top() {
    let tray = made(Settings::new(
        Tray::KIND,
        &tenths([1107, 907, 252, 914, 720, 150]),
    ));
    let walls = ["left wall", "right wall", "bottom end wall", "top end wall"];
    for (body, floor, [w, l, d]) in [
        ("base", "bottom", [60.3, 40.3, 25.2]),
        ("lid", "top", [61.4, 42.0, 15.0]),
    ] {
        let file = read(&fold_file(&tray.body(body).unwrap().pattern));
        let faces = file.fold();
        let (low, high) = bounds(&faces);
        let size = sub(high, low);
        for (got, want) in size.iter().zip([w, l, d]) {
            assert!((got - want).abs() < 1e-6, "{body} {size:?}");
        }
        // Seen from the rim, the missing top has no volume.
        let names = [walls.as_slice(), &[floor]].concat();
        let (volume, open) = enclosed(&file, &faces, &names, high);
        assert!((volume / (w * l * d) - 1.0).abs() < 1e-6, "{body} {volume}");
        assert!(
            (open[2] + w * l).abs() < 1e-6 && open[0].hypot(open[1]) < 1e-6,
            "{open:?}"
        );
    }
}

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
        let (low, high) = bounds(&file.fold());
        for (got, want) in low.iter().chain(&high).zip([-w, -h, 0.0, w, h, 0.0]) {
            assert!((got - want).abs() < 1e-6, "{body} {low:?} {high:?}");
        }
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
