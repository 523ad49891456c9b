//! Hidden surfaces against a ray caster, layers in one plane, sizes, bytes and words.

mod rays;
mod scenes;

use kurbo::{Point, Rect, Shape};

use super::stage::{Skin, Stage};
use super::visible::{Painted, Seen, look};
use super::*;
use crate::picture::scene::{LineRole, SceneItem};
use crate::picture::svg::Svg;
use crate::*;
use rays::{Hit, Rays};
use scenes::*;

/// A scene to try: bodies, contents, and the eye.
struct Trial<'a> {
    bodies: Vec<SpaceBody<'a>>,
    contents: Option<SpaceContents>,
    view: SpaceView,
}

impl Trial<'_> {
    fn stage(&self) -> Stage {
        let mut stage = Stage::default();
        self.bodies.iter().for_each(|body| stage.add_body(body));
        self.contents
            .iter()
            .for_each(|contents| stage.add_contents(contents));
        stage
    }

    fn scene(&self) -> Scene {
        space_picture(&SpacePicture {
            title: "trial".to_owned(),
            bodies: &self.bodies,
            view: self.view,
            contents: self.contents.map(|contents| (contents, "tin", None)),
            plain: true,
            mirrored: false,
        })
    }
}

/// Random folds, most of them impossible: panels of two bodies and contents go through each other.
fn impossible<'a>(seed: &mut Seeded, patterns: &'a [Pattern], which: usize) -> Trial<'a> {
    let mut body = |pattern: &'a Pattern| {
        let angles = pattern.creases.iter().map(|_| seed.between(-180.0, 180.0));
        let angles = angles.collect();
        SpaceBody {
            place: seed.pose(),
            ..SpaceBody::at_rest(pattern, angles)
        }
    };
    let bodies = vec![
        body(&patterns[which % patterns.len()]),
        body(&patterns[(which + 1) % patterns.len()]),
    ];
    Trial {
        bodies,
        contents: (!which.is_multiple_of(3)).then(|| some_contents(seed, which)),
        view: SpaceView::of(&patterns[which % patterns.len()]),
    }
}

/// Every fold of a pattern part-way, as the hands make it, from both sides.
fn honest<'a>(seed: &mut Seeded, pattern: &'a Pattern) -> Vec<Trial<'a>> {
    let view = SpaceView::of(pattern);
    let mut trials = Vec::new();
    for step in 0..pattern.folds.len() {
        for (part, view) in [(seed.between(0.05, 0.95), view), (1.0, view.turned_over())] {
            trials.push(Trial {
                bodies: vec![SpaceBody::at_rest(
                    pattern,
                    pattern.angles_during(step, part),
                )],
                contents: None,
                view,
            });
        }
    }
    trials
}

/// What the painted parts show at a point: the last that covers it.
fn shown(painted: &[&Painted], stage: &Stage, at: Point) -> Hit {
    let covers = |part: &&&Painted| {
        let outline = &part.outline;
        part.has_area() && crate::polygon::depth_inside(at, outline) > 0.0
    };
    let top = painted.iter().rev().find(covers);
    top.map_or(Hit::Nothing, |part| told(stage, part.sheet, part.inside_up))
}

fn told(stage: &Stage, sheet: usize, inside_up: bool) -> Hit {
    if stage.skins.get(sheet) == Some(&Skin::Contents) {
        return Hit::Contents;
    }
    let (body, panel) = stage.panel_of(sheet).expect("a panel");
    Hit::Paper {
        body,
        panel,
        inside_up,
    }
}

/// The role of the topmost area of a scene at a point.
fn role_at(scene: &Scene, at: Point) -> Option<LineRole> {
    let areas = scene.items.iter().filter_map(|item| match item {
        SceneItem::Path(path) => Some(path),
        SceneItem::Text(_) => None,
    });
    let is_area = |role| !matches!(role, LineRole::Outline | LineRole::Crease);
    let mut found = areas.filter(|path| is_area(path.role) && path.d.winding(at) != 0);
    found.next_back().map(|path| path.role)
}

/// Points spread over everything that is painted.
fn samples(seed: &mut Seeded, seen: &Seen, count: usize) -> Vec<Point> {
    let boxes = seen.painted.iter().map(|part| part.outline.iter());
    let all = crate::polygon::bounds(&boxes.flatten().copied().collect::<Vec<_>>());
    let all = all.unwrap_or(Rect::ZERO);
    (0..count)
        .map(|_| Point::new(seed.between(all.x0, all.x1), seed.between(all.y0, all.y1)))
        .collect()
}

/// How many of the samples that meet anything agree, and of how many: in the painted order, and
/// in the scene itself.
fn agreement(seed: &mut Seeded, trial: &Trial<'_>, count: usize) -> (usize, usize, usize) {
    let mut stage = trial.stage();
    let seen = look(&mut stage, &trial.view);
    let scene = trial.scene();
    let rays = Rays::new(&trial.bodies, trial.contents, trial.view);
    let order: Vec<&Painted> = seen.painted.iter().collect();
    let (mut met, mut painted, mut drawn) = (0, 0, 0);
    for at in samples(seed, &seen, count) {
        let hit = rays.cast(at);
        let shown = shown(&order, &stage, at);
        if hit == Hit::Nothing && shown == Hit::Nothing {
            continue;
        }
        met += 1;
        painted += usize::from(hit == shown);
        let role = role_at(&scene, at);
        drawn += usize::from(match hit {
            Hit::Nothing => role.is_none(),
            Hit::Contents => {
                matches!(role, Some(LineRole::Contents | LineRole::ContentsInShade))
            }
            Hit::Paper {
                body,
                panel,
                inside_up,
            } => {
                let sheet = stage.sheet_of(body, PanelId(panel)).expect("drawn");
                role == Some(stage.role(sheet, inside_up, &trial.view))
            }
        });
    }
    (met, painted, drawn)
}

fn assert_agree(mut trials: Vec<Trial<'_>>, seed: &mut Seeded, count: usize) {
    let mut sum = (0, 0, 0);
    for (at, trial) in trials.iter_mut().enumerate() {
        let (met, painted, drawn) = agreement(seed, trial, count);
        assert!(
            met > count / 20,
            "scene {at}: only {met} rays meet anything"
        );
        let least = met - met / 100;
        assert!(
            painted >= least && drawn >= least,
            "scene {at}: {met} {painted} {drawn}"
        );
        sum = (sum.0 + met, sum.1 + painted, sum.2 + drawn);
    }
    let (met, painted, drawn) = sum;
    let least = met as f64 * 0.999;
    assert!(painted as f64 >= least, "{painted} of {met} painted right");
    assert!(drawn as f64 >= least, "{drawn} of {met} drawn right");
}

#[test]
fn impossible_folds_look_as_rays_see_them() {
    let patterns = [seed_tin_box(), odd_shapes(), seed_envelope()];
    let mut seed = Seeded(20);
    let trials = (0..24)
        .map(|at| impossible(&mut seed, &patterns, at))
        .collect();
    assert_agree(trials, &mut seed, 700);
}

#[test]
fn honest_folds_look_as_rays_see_them_from_both_sides() {
    let mut seed = Seeded(4);
    for pattern in [seed_tin_box(), seed_envelope()] {
        let trials = honest(&mut seed, &pattern);
        assert_agree(trials, &mut seed, 500);
    }
}

#[test]
fn flaps_in_one_plane_lie_on_their_own_side_from_both_sides() {
    let pattern = two_flaps();
    let view = SpaceView::of(&pattern);
    let trial = |view| Trial {
        bodies: vec![SpaceBody::at_rest(&pattern, pattern.final_angles())],
        contents: None,
        view,
    };
    let trials = vec![trial(view), trial(view.turned_over())];
    assert_agree(trials, &mut Seeded(7), 2000);
}

/// The referee can fail: the same scenes painted whole, in the order of their middles.
#[test]
fn sorting_by_depth_would_not_pass() {
    let patterns = [seed_tin_box(), odd_shapes(), seed_envelope()];
    let mut seed = Seeded(20);
    let (mut met, mut agree) = (0, 0);
    for at in 0..12 {
        let trial = impossible(&mut seed, &patterns, at);
        let mut stage = trial.stage();
        let mut parts = stage.parts.clone();
        let depth = |part: &bsp::Part| {
            let sum = part.corners.iter().fold(Vec3::default(), |sum, &p| sum + p);
            sum.dot(trial.view.eye()) / part.corners.len() as f64
        };
        parts.sort_by(|a, b| depth(a).total_cmp(&depth(b)));
        let sorted: Vec<Painted> = parts
            .iter()
            .map(|part| visible::paint(part, &stage, &trial.view))
            .collect();
        let order: Vec<&Painted> = sorted.iter().collect();
        let seen = look(&mut stage, &trial.view);
        let rays = Rays::new(&trial.bodies, trial.contents, trial.view);
        for at in samples(&mut seed, &seen, 300) {
            let hit = rays.cast(at);
            met += usize::from(hit != Hit::Nothing);
            let same = hit == shown(&order, &stage, at);
            agree += usize::from(hit != Hit::Nothing && same);
        }
    }
    assert!((agree as f64) < 0.98 * met as f64, "{agree} of {met}");
}

#[test]
fn strips_of_a_curve_show_no_line_between_them() {
    let pattern = half_round(24, 25.0);
    let body = SpaceBody::at_rest(&pattern, pattern.final_angles());
    let trial = Trial {
        bodies: vec![body],
        contents: None,
        view: SpaceView::of(&pattern),
    };
    let mut stage = trial.stage();
    let seen = look(&mut stage, &trial.view);
    let bends = 0..pattern.creases.len();
    let lines: Vec<f64> = seen
        .lines
        .iter()
        .filter(|(edge, ..)| bends.contains(edge))
        .map(|(_, a, b)| a.distance(*b))
        .collect();
    // Half a cylinder turns away from the eye along one line.
    assert_eq!(lines.len(), 1, "{lines:?}");
    let trials = vec![trial];
    assert_agree(trials, &mut Seeded(3), 2000);
    let svg = Svg::write(&fold_picture(fold_of(&pattern, 0)), "p");
    assert!(svg.as_str().len() < 12_000, "{}", svg.as_str().len());
    assert!(
        !svg.as_str().contains("pic-arrow"),
        "no arrow for each strip"
    );
}

fn fold_of(pattern: &Pattern, step: usize) -> FoldPicture<'_> {
    FoldPicture {
        pattern,
        view: SpaceView::of(pattern),
        from: step,
        to: step,
        mirrored: false,
    }
}

/// What is not seen is not in the picture either: every line is in front of all that is painted.
#[test]
fn no_line_is_drawn_where_something_hides_it() {
    let patterns = [seed_tin_box(), odd_shapes(), seed_envelope()];
    let mut seed = Seeded(8);
    let (mut lines, mut wrong) = (0, 0);
    for at in 0..9 {
        let trial = impossible(&mut seed, &patterns, at);
        let mut stage = trial.stage();
        let seen = look(&mut stage, &trial.view);
        let rays = Rays::new(&trial.bodies, None, trial.view);
        for &(edge, a, b) in &seen.lines {
            let edge = &stage.edges[edge];
            let middle = a.midpoint(b);
            let [from, to] = edge.ends.map(|end| trial.view.seen(end));
            let share = (middle - from).hypot() / (to - from).hypot().max(1e-9);
            let place = edge.ends[0] + (edge.ends[1] - edge.ends[0]) * share;
            let hidden = rays.depth(middle) > place.dot(trial.view.eye()) + 1e-3;
            lines += 1;
            wrong += usize::from(hidden);
        }
    }
    assert!(lines > 300 && wrong == 0, "{wrong} of {lines}");
}

/// And nothing that is seen is left out: of points on all edges, those that nothing hides have a
/// line.
#[test]
fn every_edge_in_sight_is_drawn() {
    let (boxed, odd, envelope) = (seed_tin_box(), odd_shapes(), seed_envelope());
    let mut seed = Seeded(5);
    let mut trials = honest(&mut seed, &boxed);
    trials.extend(honest(&mut seed, &envelope));
    let patterns = [boxed.clone(), odd];
    trials.extend((0..6).map(|at| impossible(&mut seed, &patterns, at)));
    let (mut seen_points, mut missing) = (0, 0);
    for trial in &trials {
        let mut stage = trial.stage();
        let seen = look(&mut stage, &trial.view);
        let rays = Rays::new(&trial.bodies, trial.contents, trial.view);
        for edge in stage
            .edges
            .iter()
            .filter(|edge| edge.shown == stage::Shown::Always)
        {
            for share in [0.17, 0.41, 0.73] {
                let place = edge.ends[0] + (edge.ends[1] - edge.ends[0]) * share;
                let at = trial.view.seen(place);
                // Nothing else in front of it or against it, nor just beside it.
                let near = [
                    (0.0, 0.0),
                    (0.02, 0.0),
                    (-0.02, 0.0),
                    (0.0, 0.02),
                    (0.0, -0.02),
                ];
                let depth = place.dot(trial.view.eye());
                let hides = |(x, y): &(f64, f64)| {
                    let at = at + kurbo::Vec2::new(*x, *y);
                    let is_own = match rays.cast(at) {
                        Hit::Paper { body, panel, .. } => stage
                            .sheet_of(body, PanelId(panel))
                            .is_some_and(|sheet| edge.sheets.contains(&sheet)),
                        Hit::Nothing => true,
                        Hit::Contents => false,
                    };
                    rays.depth(at) > depth + if is_own { 1.0 } else { -0.1 }
                };
                if edge.sheets.is_empty() || near.iter().any(hides) {
                    continue;
                }
                seen_points += 1;
                let mut lines = seen.lines.iter();
                let is_drawn =
                    lines.any(|(_, a, b)| crate::polygon::distance_to_segment(at, *a, *b) < 0.01);
                missing += usize::from(!is_drawn);
            }
        }
    }
    assert!(
        seen_points > 1000 && missing == 0,
        "{missing} of {seen_points}"
    );
}

#[test]
fn a_tray_and_its_lid_hide_each_other() {
    let pattern = seed_tin_box();
    let open = pattern.angles_after(1);
    let lid = SpaceBody {
        place: Pose::shift(Vec3::new(3.0, -4.0, 9.0)),
        ..SpaceBody::at_rest(&pattern, open.clone())
    };
    let bodies = vec![lid, SpaceBody::at_rest(&pattern, open)];
    let view = SpaceView::of(&pattern);
    let trials = vec![Trial {
        bodies,
        contents: None,
        view,
    }];
    assert_agree(trials, &mut Seeded(6), 3000);
}

/// A card slides over the open flap and into the pocket: of an envelope seen from above, it hides
/// the middle of the top flap, and the side flaps hide its other end.
#[test]
fn a_card_goes_over_the_open_flap_and_under_the_others() {
    let pattern = seed_envelope();
    let view = SpaceView::of(&pattern);
    let mut stage = Stage::default();
    let angles = pattern.angles_after(pattern.folds_before_filling);
    stage.add_body(&SpaceBody::at_rest(&pattern, angles));
    let (_, top) = pattern.panel_named("top flap").expect("has one");
    let hinge = top
        .outline
        .iter()
        .map(|p| p.y)
        .fold(f64::INFINITY, f64::min);
    stage.add_contents(&SpaceContents {
        shape: SpaceShape::Block,
        size: Vec3::new(20.0, 80.0, 0.0),
        middle: Vec3::new(0.0, hinge, 0.0),
    });
    let seen = look(&mut stage, &view);
    let order: Vec<&Painted> = seen.painted.iter().collect();
    let at = |y: f64| shown(&order, &stage, view.seen(Vec3::new(0.0, hinge + y, 0.0)));
    assert_eq!(at(8.0), Hit::Contents, "over the open flap");
    assert!(
        matches!(
            at(-39.0),
            Hit::Paper {
                inside_up: false,
                ..
            }
        ),
        "{:?}",
        at(-39.0)
    );
}

#[test]
fn the_same_facts_give_the_same_bytes() {
    let pattern = seed_tin_box();
    let draw = || Svg::write(&fold_picture(fold_of(&pattern, 3)), "p");
    assert_eq!(draw(), draw());
}

#[test]
fn numbers_that_are_none_are_drawn_without_a_crash() {
    let patterns = [seed_tin_box(), odd_shapes(), nothing()];
    for pattern in &patterns {
        for wrong in [f64::NAN, f64::INFINITY, -1e300, 1e18] {
            let mut body = SpaceBody::at_rest(pattern, vec![wrong; pattern.creases.len()]);
            body.moves = vec![(CreaseId(0), wrong), (CreaseId(99), 90.0)];
            body.glue = vec![0, 99];
            let contents = SpaceContents {
                shape: SpaceShape::Stack(SpaceAxis::X, u32::MAX),
                size: Vec3::new(wrong, 1.0, wrong),
                middle: Vec3::new(0.0, wrong, 0.0),
            };
            let scene = space_picture(&SpacePicture {
                title: "wrong".to_owned(),
                bodies: &[body],
                view: SpaceView::of(pattern),
                contents: Some((contents, "tin", Some(contents.size))),
                plain: false,
                mirrored: false,
            });
            assert!(Svg::write(&scene, "p").as_str().ends_with("</svg>"));
        }
        let last = fold_picture(fold_of(pattern, usize::MAX));
        assert_eq!(last.title, "Fold ");
    }
}

#[test]
fn the_words_say_how_far_each_part_is_folded() {
    let pattern = seed_tin_box();
    let says = |step| fold_picture(fold_of(&pattern, step)).description;
    insta::assert_snapshot!(says(0), @"The part-folded punch-board box, seen from above. The right side wall and the left side wall are half folded.");
    insta::assert_snapshot!(says(2), @"The part-folded punch-board box, seen from above. The right side wall and the left side wall stand up. The inner side flap lies folded over. The outer side flap is half folded.");
    let view = SpaceView::of(&pattern);
    let glue = |mirrored| {
        glue_picture(GluePicture {
            pattern: &pattern,
            view,
            fold: 2,
            mirrored,
        })
    };
    let glued = glue(false).expect("the glue is seen");
    insta::assert_snapshot!(glued.title, @"Glue outer side flap on inner side flap");
    insta::assert_snapshot!(glued.description, @"The part-folded punch-board box, seen from above. The right side wall and the left side wall stand up. The inner side flap lies folded over. The outer side flap is folded next. Glue goes on the inside of the outer side flap, on the hatched area; it sticks to the inner side flap.");
    let other = glue(true).expect("for the other hand too").description;
    assert!(other.contains(". The left side wall and the right side wall stand up."));
}

#[test]
fn contents_go_in_where_the_least_paper_is_in_the_way() {
    let way = |pattern: &Pattern, size: Vec3| {
        let contents = SpaceContents {
            shape: SpaceShape::Block,
            size,
            middle: Vec3::new(0.0, 0.0, size.z / 2.0 + 0.1),
        };
        let folded = fold_after(pattern, pattern.folds_before_filling);
        contents::way_in(pattern, &folded, &contents)
    };
    // The far end of the box and the far flap of the envelope are open; a tray is open above.
    let from_far = Vec3::new(0.0, -1.0, 0.0);
    assert_eq!(way(&seed_tin_box(), Vec3::new(30.0, 60.0, 15.0)), from_far);
    assert_eq!(way(&seed_envelope(), Vec3::new(60.0, 40.0, 0.0)), from_far);
    let mut tray = seed_tin_box();
    tray.folds_before_filling = 1;
    let from_above = Vec3::new(0.0, 0.0, -1.0);
    assert_eq!(way(&tray, Vec3::new(30.0, 60.0, 15.0)), from_above);
}
