//! Which moment a step shows: folds half-way, glue while it can still be seen, contents half in.

use kurbo::Vec2;

use super::ways::{crossed, way_in};
use super::{SpaceBody, SpaceContents, SpacePicture, SpaceView, space_picture};
use crate::picture::scene::Scene;
use crate::picture::size::PictureSize;
use crate::{CreaseId, FoldStep, Folded, GlueZone, Pattern, Pose, Side, fold};

/// How far the last fold of a step has come: the first at which no moving panel is seen from its
/// edge, or else the one at which it is seen best.
const UNDER_WAY: [f64; 3] = [0.5, 0.35, 0.65];
/// A panel is seen well if it looks at the eye, with either side, by this much.
const SEEN_WELL: f64 = 0.3;
/// How far a fold has come whose panel carries the one that is folded next.
const CARRYING: f64 = 0.6;
/// How far a panel with glue has come, or is opened the other way: the first at which the glue is
/// seen well, or else the one at which it is seen best.
const WITH_GLUE: [f64; 6] = [0.4, 0.2, 0.0, -0.3, -0.6, -0.95];
/// Glue is seen well if its side looks at the eye by this much (1 is straight at it).
const SHOWS: f64 = 0.5;
/// Glue on the side that looks away counts for so much, and how well what moves is seen for so
/// much.
const BEHIND: f64 = 0.3;
const MOVES: f64 = 0.5;
/// So far off its own paper a ray to the eye starts.
const OFF_PAPER_MM: f64 = 0.05;
/// How much of the contents still looks out.
const OUT: f64 = 0.6;

/// The facts of a picture of folding.
#[derive(Clone, Copy, Debug)]
pub struct FoldPicture<'a> {
    /// The paper.
    pub pattern: &'a Pattern,
    /// From where it is seen.
    pub view: SpaceView,
    /// The first fold of the step (index into [`Pattern::folds`]); the ones before are made.
    pub from: usize,
    /// The last fold of the step, drawn half-way.
    pub to: usize,
    /// For left-handers.
    pub mirrored: bool,
}

/// Draws a fold, or several after one another, the last of them half-way.
#[must_use]
pub fn fold_picture(facts: FoldPicture<'_>, size: PictureSize) -> Scene {
    let pattern = facts.pattern;
    let folds = pattern.folds.get(facts.from..=facts.to);
    let folds = folds.unwrap_or_default();
    let view = facts.view.of_fold(pattern, facts.to);
    let mut body = SpaceBody::at_rest(pattern, under_way(facts, view));
    body.moves = folds.iter().flat_map(|fold| fold.creases.clone()).collect();
    let names: Vec<&str> = folds.iter().map(|fold| fold.name).collect();
    space_picture(
        &SpacePicture {
            title: format!("Fold {}", names.join(", then ")),
            bodies: &[body],
            view,
            contents: None,
            plain: false,
            mirrored: facts.mirrored,
        },
        size,
    )
}

/// The angles at the moment shown: all folds made but the last, and the one that carries it.
fn under_way(facts: FoldPicture<'_>, view: SpaceView) -> Vec<f64> {
    let pattern = facts.pattern;
    let steps = pattern.folds.get(facts.from..=facts.to).unwrap_or_default();
    let Some((last, before)) = steps.split_last() else {
        return pattern.angles_after(facts.from);
    };
    let crease = |id: &CreaseId| pattern.creases.get(id.0);
    let carriers = last
        .creases
        .iter()
        .filter_map(|(id, _)| Some(crease(id)?.parent));
    let carriers: Vec<_> = carriers.collect();
    let at = |part: f64| {
        let mut angles = pattern.angles_during(facts.to, part);
        for (id, to) in before.iter().flat_map(|fold| &fold.creases) {
            let carries = crease(id).is_some_and(|crease| carriers.contains(&crease.child));
            if let Some(angle) = angles.get_mut(id.0).filter(|_| carries) {
                *angle = CARRYING * to;
            }
        }
        angles
    };
    let shows = |angles: &[f64]| moving_shows(pattern, &fold(pattern, angles), last, view);
    best_of(UNDER_WAY.into_iter().map(at), shows).unwrap_or_default()
}

/// The first of the moments that scores the most.
fn best_of(
    moments: impl Iterator<Item = Vec<f64>>,
    score: impl Fn(&[f64]) -> f64,
) -> Option<Vec<f64>> {
    let scored = moments.map(|angles| (score(&angles), angles));
    let best = scored.reduce(|best, next| if next.0 > best.0 { next } else { best });
    best.map(|(_, angles)| angles)
}

/// How much the moving panel that is seen from nearest its edge looks at the eye.
fn moving_shows(pattern: &Pattern, folded: &Folded, step: &FoldStep, view: SpaceView) -> f64 {
    let crease = |id: &CreaseId| pattern.creases.get(id.0);
    let moving = step.creases.iter().filter_map(|(id, _)| crease(id));
    let facing = moving.filter_map(|crease| {
        let normal = folded.pose(crease.child)?.inside_normal();
        Some(normal.dot(view.eye()).abs().min(SEEN_WELL))
    });
    facing.fold(SEEN_WELL, f64::min)
}

/// The facts of a picture of gluing.
#[derive(Clone, Copy, Debug)]
pub struct GluePicture<'a> {
    /// The paper.
    pub pattern: &'a Pattern,
    /// From where it is seen.
    pub view: SpaceView,
    /// The fold that presses together what is glued.
    pub fold: usize,
    /// For left-handers.
    pub mirrored: bool,
}

/// Draws where glue goes just before a fold; `None` where no glue goes.
#[must_use]
pub fn glue_picture(facts: GluePicture<'_>, size: PictureSize) -> Option<Scene> {
    let pattern = facts.pattern;
    let zones = pattern.glue.iter().enumerate();
    let zones = zones.filter(|(_, zone)| zone.with_fold == facts.fold);
    let (glue, mut names): (Vec<usize>, Vec<&str>) =
        zones.map(|(at, zone)| (at, zone.name)).unzip();
    if glue.is_empty() {
        return None;
    }
    let step = pattern.folds.get(facts.fold)?;
    let view = facts.view.of_fold(pattern, facts.fold);
    let angles = |part: f64| pattern.angles_during(facts.fold, part);
    // Nothing is opened through the table.
    let floor = lowest(&fold(pattern, &angles(0.0))) - 1e-6;
    let shows = |angles: &[f64]| {
        let folded = fold(pattern, angles);
        if lowest(&folded) < floor {
            return -1.0;
        }
        let moving = moving_shows(pattern, &folded, step, view);
        glue_shows(pattern, &folded, &glue, view) + MOVES * moving
    };
    let angles = best_of(WITH_GLUE.into_iter().map(angles), shows)?;
    let mut body = SpaceBody::at_rest(pattern, angles);
    body.moves.clone_from(&step.creases);
    body.glue = glue;
    names.dedup();
    Some(space_picture(
        &SpacePicture {
            title: format!("Glue {}", names.join(", and ")),
            bodies: &[body],
            view,
            contents: None,
            plain: false,
            mirrored: facts.mirrored,
        },
        size,
    ))
}

/// How much the zones look at the eye, on average; what other paper hides does not.
fn glue_shows(pattern: &Pattern, folded: &Folded, glue: &[usize], view: SpaceView) -> f64 {
    let zones = glue.iter().filter_map(|&zone| pattern.glue.get(zone));
    let facing = zones.filter_map(|zone| {
        let pose = folded.pose(zone.on)?;
        let inside = pose.inside_normal().dot(view.eye());
        let facing = match zone.on_side {
            Side::Inside => inside,
            Side::Outside => -inside,
        };
        let seen = facing.abs().min(SHOWS) * bare_share(pattern, folded, zone, view);
        Some(if facing > 0.0 { seen } else { BEHIND * seen })
    });
    facing.sum::<f64>() / glue.len().max(1) as f64
}

/// The share of a zone's corners, drawn in towards its middle, that no other paper hides.
fn bare_share(pattern: &Pattern, folded: &Folded, zone: &GlueZone, view: SpaceView) -> f64 {
    let count = zone.area.len().max(1) as f64;
    let sum = zone
        .area
        .iter()
        .fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
    let middle = (sum / count).to_point();
    let Some(pose) = folded.pose(zone.on) else {
        return 0.0;
    };
    let bare = zone.area.iter().filter(|corner| {
        let off = view.eye() * OFF_PAPER_MM;
        let from = pose.place(middle.lerp(**corner, 0.8)) + off;
        crossed(pattern, folded, from, view.eye()) == 0
    });
    bare.count() as f64 / count
}

/// The lowest corner, mm.
fn lowest(folded: &Folded) -> f64 {
    let corners = folded.panels().iter().flatten();
    corners.map(|corner| corner.z).fold(0.0, f64::min)
}

/// The facts of a picture of filling.
#[derive(Clone, Copy, Debug)]
pub struct FillingPicture<'a> {
    /// The paper.
    pub pattern: &'a Pattern,
    /// From where it is seen.
    pub view: SpaceView,
    /// The contents where they come to lie.
    pub contents: SpaceContents,
    /// What they are called.
    pub name: &'a str,
    /// For left-handers.
    pub mirrored: bool,
}

/// Draws contents on their way into the piece, which is folded as far as it is before filling.
#[must_use]
pub fn filling_picture(facts: FillingPicture<'_>, size: PictureSize) -> Scene {
    let pattern = facts.pattern;
    let body = SpaceBody::at_rest(pattern, pattern.angles_after(pattern.folds_before_filling));
    let folded = fold(pattern, &body.angles);
    let mut contents = facts.contents;
    let is_flat = folded
        .panels()
        .iter()
        .flatten()
        .all(|corner| corner.z < 1e-6);
    if is_flat {
        contents.size.z = 0.0;
    }
    let way = way_in(pattern, &folded, &contents);
    let along = |size: f64, way: f64| (size * way).abs();
    let sides = contents.size;
    let long = along(sides.x, way.x) + along(sides.y, way.y) + along(sides.z, way.z);
    let way = way * (OUT * long);
    contents.middle = contents.middle - way;
    space_picture(
        &SpacePicture {
            title: format!("Put the {} in", facts.name),
            bodies: &[body],
            view: facts.view.of_fold(pattern, pattern.folds_before_filling),
            contents: Some((contents, facts.name, Some(way))),
            plain: false,
            mirrored: facts.mirrored,
        },
        size,
    )
}

/// Draws a finished piece without words, for a list: its bodies, all folds made.
#[must_use]
pub fn folded_portrait(name: &str, bodies: &[(&Pattern, Pose)], view: SpaceView) -> Scene {
    let at_rest = bodies.iter().map(|&(pattern, place)| SpaceBody {
        place,
        ..SpaceBody::at_rest(pattern, pattern.final_angles())
    });
    let bodies: Vec<SpaceBody<'_>> = at_rest.collect();
    space_picture(
        &SpacePicture {
            title: format!("The finished {name}"),
            bodies: &bodies,
            view,
            contents: None,
            plain: true,
            mirrored: false,
        },
        PictureSize::FREE,
    )
}
