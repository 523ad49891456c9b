//! `tablefold pattern --format cutter`, read by a library that draws SVG.

use serde_json::{Value, json};
use usvg::{Group, Node, Options, Tree};

use crate::pattern::faces_area;
use crate::runs::{answer, asked, every_body};

fn svg(structure: &str) -> String {
    answer(&["pattern", "--format", "cutter"], &asked(structure))
}

fn group<'t>(group: &'t Group, id: &str) -> Option<&'t Group> {
    group.children().iter().find_map(|node| match node {
        Node::Group(inner) if inner.id() == id => Some(&**inner),
        Node::Group(inner) => self::group(inner, id),
        _ => None,
    })
}

/// The paths of a group as points in mm.
fn paths(svg: &str, id: &str) -> Vec<String> {
    let start = svg.find(&format!("<g id=\"{id}\"")).unwrap();
    let group = svg[start..].split("</g>").next().unwrap();
    let paths = group.split("<path d=\"").skip(1);
    paths
        .map(|path| path.split('"').next().unwrap().to_owned())
        .collect()
}

#[test]
fn the_outline_measures_what_the_blank_does() {
    let tree = Tree::from_str(&svg("tray"), &Options::default()).unwrap();
    let sized: Value = serde_json::from_str(&answer(&["size"], &asked("tray"))).unwrap();
    let blank = |side: &str| sized["answers"][0]["blank"][side]["mm"].as_f64().unwrap();
    // CSS: 1 in is 96 px and 25.4 mm.
    let mm = |px: f32| f64::from(px) * 25.4 / 96.0;
    let cut = group(tree.root(), "cut").unwrap().abs_bounding_box();
    assert!((mm(cut.width()) - blank("width")).abs() < 0.001);
    assert!((mm(cut.height()) - blank("height")).abs() < 0.001);
    assert!((mm(tree.size().width()) - blank("width")).abs() < 0.001);
    assert!((mm(tree.size().height()) - blank("height")).abs() < 0.001);
}

/// What a path encloses that comes back to its start, mm²; nothing where it is a slit.
fn enclosed(path: &str) -> Option<f64> {
    let corners = path.strip_prefix('M')?.strip_suffix(" Z")?.split(" L");
    let corner = |text: &str| {
        let (x, y) = text.split_once(' ').unwrap();
        (x.parse::<f64>().unwrap(), y.parse::<f64>().unwrap())
    };
    let corners: Vec<_> = corners.map(corner).collect();
    let next = corners.iter().cycle().skip(1);
    let cross = corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1);
    Some(cross.sum::<f64>().abs() / 2.0)
}

#[test]
fn every_body_is_plain_paths_in_a_group_for_each_tool_as_large_as_its_panels() {
    for (request, _) in every_body() {
        let name = format!("{} {}", request["structure"], request["body"]);
        let svg = answer(&["pattern", "--format", "cutter"], &request);
        let tree = Tree::from_str(&svg, &Options::default()).unwrap();
        for id in ["score", "cut"] {
            let group = group(tree.root(), id);
            assert!(group.is_some_and(Group::has_children), "{name} {id}");
        }
        // A card has no glue, its envelope has.
        if request["body"] != "card" {
            let names = group(tree.root(), "engrave");
            let names = names
                .unwrap_or_else(|| panic!("{name}: no names"))
                .abs_bounding_box();
            let cut = group(tree.root(), "cut").unwrap().abs_bounding_box();
            let [left, top] = [names.left() > cut.left(), names.top() > cut.top()];
            let [right, bottom] = [names.right() < cut.right(), names.bottom() < cut.bottom()];
            assert!(left && top && right && bottom, "{name}: names on the paper");
            let (first, last) = (svg.find("\"engrave\""), svg.find("\"score\""));
            assert!(first < last, "{name}: names before the paper is cut loose");
        }
        for word in ["dash", "style", "<text", "class", "transform"] {
            assert!(!svg.contains(word), "{name}: {word}");
        }
        // The outline less the holes in it, which are cut before.
        let cuts = paths(&svg, "cut");
        let mut areas: Vec<f64> = cuts.iter().filter_map(|path| enclosed(path)).collect();
        let outline = areas.pop().unwrap();
        let paper = outline - areas.iter().sum::<f64>();
        let file: Value = serde_json::from_str(&answer(&["pattern"], &request)).unwrap();
        let panels = faces_area(&file);
        // Panels have chords where a blade follows a curve.
        let is_straight = cuts.iter().all(|path| path.matches('L').count() < 30);
        let most = if is_straight { 1e-5 } else { 2e-3 };
        assert!(
            (paper / panels - 1.0).abs() < most,
            "{name}: {paper} {panels}"
        );
    }
}

/// A bent panel is not scored where its strips meet, whichever file is asked for.
#[test]
fn both_files_of_every_body_score_and_cut_the_same_lines() {
    for (request, _) in every_body() {
        let files = ["svg", "cutter"].map(|it| answer(&["pattern", "--format", it], &request));
        for id in ["score", "cut"] {
            let [svg, cutter] = files.each_ref().map(|file| paths(file, id).len());
            assert_eq!(svg, cutter, "{} {id}", request["structure"]);
        }
    }
}

#[test]
fn what_lies_inside_is_cut_before_the_outline_round_it() {
    let mut request = asked("gable-top");
    request["contents"] = json!({"shape": "block", "width": 60, "depth": 40, "height": 70});
    let svg = answer(&["pattern", "--format", "cutter"], &request);
    let cuts = paths(&svg, "cut");
    let closed = |path: &&String| path.ends_with('Z');
    let wide = |path: &String| {
        let corners = path
            .trim_start_matches('M')
            .trim_end_matches(" Z")
            .split(" L");
        let x = |corner: &str| corner.split(' ').next().unwrap().parse::<f64>().unwrap();
        let all: Vec<f64> = corners.map(x).collect();
        all.iter().copied().fold(f64::MIN, f64::max) - all.iter().copied().fold(f64::MAX, f64::min)
    };
    let widths: Vec<f64> = cuts.iter().filter(closed).map(wide).collect();
    let largest = widths.iter().copied().fold(0.0, f64::max);
    assert_eq!(widths.last(), Some(&largest), "{widths:?}");
    assert!(widths.len() > 1, "the carton has holes for its handle");
}

#[test]
fn a_curved_crease_is_one_path() {
    let mut request = asked("pouch");
    request["contents"] = json!({"shape": "block", "width": 60, "depth": 10, "height": 90});
    let svg = answer(&["pattern", "--format", "cutter"], &request);
    // Two arcs at each end, and the straight creases of the sides.
    let scores = paths(&svg, "score");
    let curved = scores.iter().filter(|path| path.matches('L').count() > 4);
    assert_eq!(curved.count(), 4, "{scores:#?}");
}
