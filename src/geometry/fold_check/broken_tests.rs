//! Each point of the check, broken once on purpose: it has to say no.

use kurbo::{Point, Vec2};

use super::tests::{holds, seed_envelope, seed_tin_box};
use super::*;
use crate::{
    Crease, CreaseId, Face, FoldStep, Panel, PanelId, PanelRole, Pattern, Solid, Waste, WasteReason,
};

fn id(pattern: &Pattern, name: &str) -> PanelId {
    pattern.panel_named(name).expect(name).0
}

fn panel<'a>(pattern: &'a mut Pattern, name: &str) -> &'a mut Panel {
    let id = id(pattern, name);
    &mut pattern.panels[id.0]
}

fn says(pattern: &Pattern, name: &str) -> String {
    let checks = fold_check(pattern, None);
    let check = checks.iter().find(|check| check.name == name).unwrap();
    assert!(!check.holds, "{} holds: {}", check.name, check.says);
    assert!(
        check.margin < 0.0,
        "{} fails with {} to spare",
        check.name,
        check.margin
    );
    check.says.clone()
}

fn boxed() -> Pattern {
    seed_tin_box().pattern()
}

#[test]
fn flat_fails_when_a_corner_is_moved() {
    let mut pattern = boxed();
    panel(&mut pattern, "left side wall").outline[0] += Vec2::new(-0.5, 0.0);
    insta::assert_snapshot!(says(&pattern, "flat"), @"19.083044 mm² of the sheet are neither panel nor waste.");
}

#[test]
fn flat_fails_when_paper_is_lost() {
    let mut pattern = boxed();
    pattern.waste.pop();
    insta::assert_snapshot!(says(&pattern, "flat"), @"40.322500 mm² of the sheet are neither panel nor waste.");
}

#[test]
fn flat_fails_when_a_panel_crosses_itself() {
    let mut pattern = boxed();
    panel(&mut pattern, "front").outline.swap(0, 1);
    insta::assert_snapshot!(says(&pattern, "flat"), @"The outline of the front crosses itself near (0.00, 0.00).");
}

#[test]
fn flat_fails_when_the_sheet_is_smaller() {
    let mut pattern = boxed();
    for corner in &mut pattern.blank {
        *corner = (corner.to_vec2() * 0.999).to_point();
    }
    insta::assert_snapshot!(says(&pattern, "flat"), @"35.546663 mm² of the pattern lie outside the sheet.");
}

#[test]
fn a_list_that_names_what_is_not_there_is_no_pattern() {
    let mut pattern = boxed();
    pattern.creases[3].child = PanelId(99);
    insta::assert_snapshot!(says(&pattern, "closed"), @"This is no pattern: the crease outer side flap joins no two panels.");
    let mut pattern = boxed();
    pattern.panels[2].outline[1].x = f64::NAN;
    insta::assert_snapshot!(says(&pattern, "flat"), @"This is no pattern: the right side wall has no outline.");
    let mut pattern = boxed();
    pattern.glue[0].with_fold = 40;
    insta::assert_snapshot!(says(&pattern, "glue"), @"This is no pattern: the glue of outer side flap on inner side flap joins no two panels at any fold.");
}

#[test]
fn hinges_fail_when_a_crease_is_off_its_edge() {
    let mut pattern = boxed();
    pattern.creases[0].a += Vec2::new(0.01, 0.0);
    insta::assert_snapshot!(says(&pattern, "hinges"), @"The front and the right side wall are one paper along 76.33 mm: crease it or cut it.");
}

#[test]
fn hinges_fail_when_a_cut_is_forgotten() {
    let mut pattern = boxed();
    pattern.cuts.pop();
    insta::assert_snapshot!(says(&pattern, "hinges"), @"The top end wall and the top right tab are one paper along 24.70 mm: crease it or cut it.");
}

#[test]
fn hinges_fail_when_a_crease_runs_backwards() {
    let mut pattern = boxed();
    let crease = &mut pattern.creases[1];
    std::mem::swap(&mut crease.a, &mut crease.b);
    insta::assert_snapshot!(says(&pattern, "hinges"), @"The front lies on the wrong side of the crease left side.");
}

#[test]
fn hinges_fail_when_a_fold_is_forgotten() {
    let mut pattern = boxed();
    pattern.folds.pop();
    insta::assert_snapshot!(says(&pattern, "hinges"), @"The folds leave the crease top end flap at 0° and it should end at 90°.");
}

#[test]
fn hinges_fail_when_a_crease_is_missing() {
    let mut pattern = boxed();
    pattern.creases.pop();
    for fold in &mut pattern.folds {
        let known = pattern.creases.len();
        fold.creases.retain(|(crease, _)| crease.0 < known);
    }
    insta::assert_snapshot!(says(&pattern, "hinges"), @"The right side wall and the top right tab are one paper along 24.70 mm: crease it or cut it.");
}

#[test]
fn closed_fails_at_a_wrong_angle() {
    let mut pattern = boxed();
    let crease = pattern
        .creases
        .iter()
        .position(|crease| crease.name == "top end wall")
        .unwrap();
    pattern.creases[crease].angle_deg = 89.0;
    insta::assert_snapshot!(says(&pattern, "closed"), @"The top end flap does not lie in the back.");
}

#[test]
fn closed_fails_without_an_end_flap() {
    let mut pattern = boxed();
    // The flap is cut down to a strip of 2 mm: the gap between the side flaps shows.
    let flap = panel(&mut pattern, "top end flap");
    let whole = flap.outline.clone();
    let hinge = whole.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let line = (Point::new(1.0, hinge + 2.0), Point::new(0.0, hinge + 2.0));
    flap.outline = crate::polygon::keep_left(&whole, line.0, line.1);
    let off = crate::polygon::keep_left(&whole, line.1, line.0);
    pattern.waste.push(Waste {
        outline: off,
        why: WasteReason::Trim,
    });
    assert!(holds(&pattern, "flat"));
    insta::assert_snapshot!(says(&pattern, "closed"), @"3.839 % of the back is open.");
}

/// The outer side flap as it comes off the board, before its point is trimmed.
fn untrimmed() -> Pattern {
    let mut pattern = boxed();
    let trim = pattern.waste.iter().position(|waste| {
        waste.why == WasteReason::Trim && waste.outline.iter().all(|p| p.x > 0.0)
    });
    let trim = pattern.waste.remove(trim.unwrap());
    let tip = trim
        .outline
        .iter()
        .copied()
        .max_by(|p, q| p.x.total_cmp(&q.x))
        .unwrap();
    let flap = panel(&mut pattern, "outer side flap");
    let far = flap
        .outline
        .iter()
        .map(|p| p.x)
        .fold(f64::NEG_INFINITY, f64::max);
    let at = flap.outline.iter().rposition(|p| p.x > far - 1e-9).unwrap();
    flap.outline.insert(at, tip);
    pattern
}

#[test]
fn closed_fails_when_a_point_is_not_trimmed() {
    let pattern = untrimmed();
    assert!(holds(&pattern, "flat"));
    insta::assert_snapshot!(says(&pattern, "closed"), @"The outer side flap sticks out past the back by 2.245 mm.");
}

#[test]
fn clear_fails_when_the_contents_are_a_tenth_too_deep() {
    let made = seed_tin_box();
    let inside = made.inside();
    let contents = ContentsBox {
        x: inside.width,
        y: inside.length,
        z: inside.depth + 0.1,
    };
    let checks = fold_check(&made.pattern(), Some(&contents));
    let clear = checks.iter().find(|check| check.name == "clear").unwrap();
    assert!(
        !clear.holds && (clear.margin + 0.1).abs() < 1e-9,
        "{clear:?}"
    );
    insta::assert_snapshot!(clear.says, @"The contents need 24.20 mm in the depth; there are 24.10 mm.");
}

#[test]
fn clear_fails_when_a_panel_stands_in_the_way() {
    let mut pattern = boxed();
    let crease = pattern
        .creases
        .iter()
        .position(|crease| crease.name == "top end flap")
        .unwrap();
    pattern.creases[crease].angle_deg = 120.0;
    panel(&mut pattern, "top end flap").plane = None;
    let contents = ContentsBox {
        x: 40.0,
        y: 70.0,
        z: 20.0,
    };
    let checks = fold_check(&pattern, Some(&contents));
    let clear = checks.iter().find(|check| check.name == "clear").unwrap();
    assert!(!clear.holds, "{clear:?}");
}

#[test]
fn clear_fails_when_a_wall_is_folded_through_another() {
    let mut pattern = boxed();
    // The right wall leans in: the inner side flap, on its way down, goes through it.
    let crease = pattern
        .creases
        .iter()
        .position(|crease| crease.name == "right side")
        .unwrap();
    pattern.creases[crease].angle_deg = 120.0;
    pattern.folds[0].creases[1].1 = 120.0;
    insta::assert_snapshot!(says(&pattern, "clear"), @"The inner side flap goes 16.83 mm through the outer side flap at 50 % of the fold inner side flap.");
}

#[test]
fn clear_fails_when_two_sheets_have_one_place() {
    let mut pattern = boxed();
    panel(&mut pattern, "inner side flap").layer = 0;
    insta::assert_snapshot!(says(&pattern, "clear"), @"The inner side flap and the outer side flap have the same place in the stack.");
}

#[test]
fn clear_fails_when_the_outer_flap_is_folded_first() {
    let mut pattern = boxed();
    pattern.folds.swap(1, 2);
    insta::assert_snapshot!(says(&pattern, "clear"), @"The outer side flap arrives on the wrong side of the inner side flap: its place in the stack is outside it.");
}

#[test]
fn glue_fails_on_a_sliver() {
    let mut pattern = boxed();
    let zone = &mut pattern.glue[1];
    zone.area = vec![
        zone.area[0],
        zone.area[1],
        zone.area[0].lerp(zone.area[2], 0.02),
    ];
    insta::assert_snapshot!(says(&pattern, "glue"), @"Glue, right tab on end wall: the zone has 1 mm² and 30 mm² are needed.");
}

#[test]
fn glue_fails_off_its_panel() {
    let mut pattern = boxed();
    for corner in &mut pattern.glue[0].area {
        corner.y += 2.0;
    }
    insta::assert_snapshot!(says(&pattern, "glue"), @"Glue, outer side flap on inner side flap: 45.9 mm² of it are not on the outer side flap.");
}

#[test]
fn glue_fails_on_the_wrong_side() {
    let mut pattern = boxed();
    pattern.glue[0].on_side = crate::Side::Outside;
    insta::assert_snapshot!(says(&pattern, "glue"), @"Glue, outer side flap on inner side flap: the inner side flap lies on the other side.");
}

#[test]
fn glue_fails_where_another_panel_already_lies() {
    let mut pattern = boxed();
    // The bottom is closed before the back is glued: its flap covers the inner side flap.
    let outer = pattern.folds.remove(2);
    pattern.folds.insert(6, outer);
    let back = pattern
        .glue
        .iter()
        .filter(|zone| zone.name.starts_with("outer"));
    pattern.glue = back.cloned().collect();
    pattern.glue[0].with_fold = 6;
    insta::assert_snapshot!(says(&pattern, "glue"), @"Glue, outer side flap on inner side flap: the bottom end flap already covers the inner side flap there.");
}

#[test]
fn glue_fails_where_another_panel_lies_between() {
    let mut pattern = boxed();
    let (outer, inner) = (
        id(&pattern, "outer side flap"),
        id(&pattern, "inner side flap"),
    );
    // Glue for the bottom end flap, said to hold the inner flap where the outer one lies on it.
    let hinge = -(seed_tin_box().length_mm() / 2.0 + seed_tin_box().depth_mm());
    let zone = pattern
        .glue
        .iter_mut()
        .find(|zone| zone.to == outer)
        .unwrap();
    zone.to = inner;
    zone.area = [(-3.0, -23.0), (3.0, -23.0), (3.0, -17.0), (-3.0, -17.0)]
        .map(|(x, y)| Point::new(x, hinge + y))
        .into();
    let keep = pattern
        .glue
        .iter()
        .filter(|zone| zone.to == inner && zone.on != outer);
    pattern.glue = keep.take(1).cloned().collect();
    insta::assert_snapshot!(says(&pattern, "glue"), @"Glue, bottom end flap on outer side flap: the outer side flap lies between.");
}

#[test]
fn glue_fails_with_a_fold_that_moves_neither() {
    let mut pattern = boxed();
    pattern.glue[0].with_fold = pattern.folds.len() - 1;
    insta::assert_snapshot!(says(&pattern, "glue"), @"Glue, outer side flap on inner side flap: its fold does not bring the two together.");
}

fn square(x: f64, y: f64) -> Vec<Point> {
    vec![
        Point::new(x - 5.0, y - 5.0),
        Point::new(x + 5.0, y - 5.0),
        Point::new(x + 5.0, y + 5.0),
        Point::new(x - 5.0, y + 5.0),
    ]
}

/// A sheet folded in half twice: the vertex in its middle has three valleys and a mountain.
fn folded_twice() -> Pattern {
    let quarter = |name, x, y, face, layer| Panel {
        name,
        outline: square(x, y),
        plane: Some(face),
        layer,
        role: PanelRole::Wall,
    };
    let crease = |name, (a, b): ((f64, f64), (f64, f64)), parent, child, angle_deg| Crease {
        name,
        a: a.into(),
        b: b.into(),
        parent: PanelId(parent),
        child: PanelId(child),
        angle_deg,
        smooth: false,
    };
    let (below, above) = (((5.0, -5.0), (5.0, 5.0)), ((5.0, 5.0), (5.0, 15.0)));
    let (left, right) = (((5.0, 5.0), (-5.0, 5.0)), ((15.0, 5.0), (5.0, 5.0)));
    let first = vec![(CreaseId(0), 180.0), (CreaseId(1), 180.0)];
    let second = vec![(CreaseId(2), 180.0), (CreaseId(3), -180.0)];
    Pattern {
        name: "sheet folded twice",
        blank: vec![
            Point::new(-5.0, -5.0),
            Point::new(15.0, -5.0),
            Point::new(15.0, 15.0),
            Point::new(-5.0, 15.0),
        ],
        panels: vec![
            quarter("first quarter", 0.0, 0.0, Face::Front, 0),
            quarter("second quarter", 10.0, 0.0, Face::Back, 0),
            quarter("third quarter", 10.0, 10.0, Face::Back, 1),
            quarter("last quarter", 0.0, 10.0, Face::Back, 2),
        ],
        creases: vec![
            crease("first half", below, 0, 1, 180.0),
            crease("other half", above, 3, 2, 180.0),
            crease("inner", left, 0, 3, 180.0),
            crease("outer", right, 1, 2, -180.0),
        ],
        cuts: Vec::new(),
        waste: Vec::new(),
        curves: Vec::new(),
        glue: Vec::new(),
        folds: vec![
            FoldStep {
                name: "in half",
                creases: first,
                way: Vec::new(),
                is_far: false,
            },
            FoldStep {
                name: "in half again",
                creases: second,
                way: Vec::new(),
                is_far: false,
            },
        ],
        folds_before_filling: 2,
        solid: Solid::Flat {
            x: 10.0,
            y: 10.0,
            open: Vec::new(),
        },
        caliper_mm: 0.1,
        root: PanelId(0),
    }
}

#[test]
fn a_sheet_folded_in_half_twice_holds_in_every_point() {
    let checks = fold_check(&folded_twice(), None);
    let vertices = checks
        .iter()
        .find(|check| check.name == "flat vertices")
        .unwrap();
    assert!(checks.iter().all(|check| check.holds), "{checks:#?}");
    insta::assert_snapshot!(vertices.says, @"The vertex that folds flat obeys Kawasaki and Maekawa.");
}

#[test]
fn flat_vertices_fail_with_four_valleys() {
    let mut pattern = folded_twice();
    pattern.creases[3].angle_deg = 180.0;
    pattern.folds[1].creases[1].1 = 180.0;
    insta::assert_snapshot!(says(&pattern, "flat vertices"), @"0 mountains and 4 valleys meet at (5.00, 5.00) mm; folded flat they have to differ by 2.");
    insta::assert_snapshot!(says(&pattern, "hinges"), @"The crease other half comes apart by 20.000000 mm at 50 % of the fold in half again.");
}

#[test]
fn flat_vertices_fail_at_a_slanted_crease() {
    let mut pattern = folded_twice();
    pattern.panels[1].outline[2].y += 1.0;
    pattern.panels[2].outline[1].y += 1.0;
    pattern.creases[3].a.y += 1.0;
    insta::assert_snapshot!(says(&pattern, "flat vertices"), @"The creases that meet at (5.00, 5.00) mm cannot fold flat: Kawasaki's sum.");
}

#[test]
fn a_face_that_is_meant_to_be_open_may_be_open() {
    let mut pattern = seed_envelope(128, 56).pattern();
    let top = id(&pattern, "top flap");
    let crease = pattern
        .creases
        .iter()
        .position(|crease| crease.child == top)
        .unwrap();
    pattern.creases[crease].angle_deg = 0.0;
    pattern.folds[3].creases[0].1 = 0.0;
    pattern.panels[top.0].plane = None;
    insta::assert_snapshot!(says(&pattern, "closed"), @"13.688 % of the back is open.");
    pattern.solid = match pattern.solid {
        Solid::Flat { x, y, .. } => Solid::Flat {
            x,
            y,
            open: vec![Face::Back],
        },
        other => other,
    };
    assert!(holds(&pattern, "closed"));
}
