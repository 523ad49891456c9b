//! Hidden surfaces against a ray caster, layers in one plane, sizes, bytes and words.

mod rays;
mod scenes;
mod steps;

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
        space_picture(
            &SpacePicture {
                title: "trial".to_owned(),
                bodies: &self.bodies,
                view: self.view,
                contents: self.contents.map(|contents| (contents, "tin", None)),
                plain: true,
                mirrored: false,
            },
            PictureSize::FREE,
        )
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
    let scored = scored_bodies();
    for pattern in [seed_tin_box(), seed_envelope()].iter().chain(&scored) {
        let trials = honest(&mut seed, pattern);
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

/// Whether rays meet nothing else in front of a point of an edge or against it, nor just beside it.
fn is_in_sight(rays: &Rays<'_>, stage: &Stage, edge: &stage::Edge, place: Vec3) -> bool {
    let depth = place.dot(rays.view.eye());
    let near = [
        (0.0, 0.0),
        (0.02, 0.0),
        (-0.02, 0.0),
        (0.0, 0.02),
        (0.0, -0.02),
    ];
    let hides = |(x, y): &(f64, f64)| {
        let at = rays.view.seen(place) + kurbo::Vec2::new(*x, *y);
        let is_own = match rays.cast(at) {
            Hit::Paper { body, panel, .. } => {
                let sheet = stage.sheet_of(body, PanelId(panel));
                sheet.is_some_and(|sheet| edge.sheets.contains(&sheet))
            }
            Hit::Nothing => true,
            Hit::Contents => false,
        };
        rays.depth(at) > depth + if is_own { 1.0 } else { -0.1 }
    };
    !edge.sheets.is_empty() && !near.iter().any(hides)
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
                if !is_in_sight(&rays, &stage, edge, place) {
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
        place: Pose::FLAT.shifted(Vec3::new(3.0, -4.0, 9.0)),
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
