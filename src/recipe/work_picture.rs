//! Pictures of work on one body of a structure.

use tablefold_geometry::{
    Body, Edge, Face, FlatNow, FlatPicture, FoldPicture, GluePicture, Length, Pattern, Scene,
    ScorePicture, Solid, SpaceBody, SpacePicture, SpaceView, Vec3, WasteReason, Work, flat_picture,
    fold_picture, glue_picture, score_picture, space_picture,
};

use super::facts::ProjectFacts;
use super::made::MadePiece;
use super::step_picture::{BodyNow, StepPicture};

/// How much of its depth a body still has to go when bodies come together.
const APART: f64 = 1.15;

/// The picture of work on one body; `None` for other steps.
pub(super) fn work_picture(
    project: &ProjectFacts,
    made: &MadePiece,
    picture: &StepPicture,
    mirrored: bool,
) -> Option<Scene> {
    let StepPicture::Body { body: at, now } = picture else {
        return None;
    };
    let body = made.structure.bodies().nth(*at)?;
    let pattern = &body.pattern;
    let view = SpaceView::of(pattern);
    let flat = |now, is_cut| {
        flat_picture(FlatPicture {
            pattern,
            ruler: project.board.ruler(),
            now,
            is_cut,
            mirrored,
        })
    };
    Some(match now {
        BodyNow::Score { from, at, done } => score(project, body, (*from, *at), done),
        BodyNow::Slits => flat(FlatNow::Cuts, false),
        BodyNow::TakeOff(why) => flat(FlatNow::TakeOff(*why), true),
        BodyNow::Template { cut } => flat(along_template(pattern, *cut), false),
        BodyNow::TurnOver => flat(FlatNow::TurnOver, true),
        BodyNow::Burnish => flat(FlatNow::Burnish, true),
        BodyNow::Fold(fold) => fold_picture(FoldPicture {
            pattern,
            view,
            from: *fold,
            to: *fold,
            mirrored,
        }),
        BodyNow::Glue { zone, fold } => {
            let before = |fold| {
                glue_picture(GluePicture {
                    pattern,
                    view,
                    fold,
                    mirrored,
                })
            };
            let in_space = fold.filter(|fold| *fold > 0).and_then(before);
            let lying = || match fold {
                Some(fold) => flat(FlatNow::GlueBefore(*fold), true),
                None => flat(FlatNow::Glue(*zone), true),
            };
            in_space.unwrap_or_else(lying)
        }
        BodyNow::Together => together(made, *at, mirrored)?,
    })
}

/// What is cut along a template is what comes off; what is scored along it are the creases.
fn along_template(pattern: &Pattern, cut: bool) -> FlatNow {
    let shaped = pattern.waste.iter().any(|it| it.why == WasteReason::Shape);
    match (cut, shaped) {
        (true, true) => FlatNow::TakeOff(WasteReason::Shape),
        (true, false) => FlatNow::Cuts,
        (false, _) => FlatNow::Burnish,
    }
}

/// The sheet on the score board, the edge at zero.
fn score(
    project: &ProjectFacts,
    body: &Body,
    (from, at): (Edge, Length),
    done: &[Length],
) -> Scene {
    let (width, height) = body.blank;
    let strip = match from {
        Edge::Left | Edge::Right => (width, height),
        Edge::Top | Edge::Bottom => (height, width),
    };
    let done_mm: Vec<f64> = done.iter().map(|at| at.mm()).collect();
    score_picture(ScorePicture {
        ruler: &project.score_ruler,
        part: &format!("{} sheet", body.name),
        strip,
        marks: &[at],
        done_mm: &done_mm,
        turned: false,
    })
}

/// All bodies folded, the one that moves still on its way.
fn together(made: &MadePiece, at: usize, mirrored: bool) -> Option<Scene> {
    let structure = &made.structure;
    let nests = structure.nests().iter();
    let nest = nests.clone().find(|it| it.outer == at || it.inner == at);
    let (inner, outer) = nest.map_or((0, at), |nest| (nest.inner, nest.outer));
    let way = opening(structure.bodies().nth(outer)?);
    // A lid comes from above; a drawer goes in from where it is pulled out.
    let (moving, way) = if way.z.abs() > 0.5 {
        (outer, way * -1.0)
    } else {
        (inner, way)
    };
    let (low, high) = structure.main().pattern.solid.bounds();
    let size = high - low;
    let far = APART * (size.x * way.x).hypot(size.y * way.y).hypot(size.z * way.z);
    let bodies: Vec<SpaceBody<'_>> = structure
        .bodies()
        .enumerate()
        .map(|(index, body)| {
            let by = if index == moving { far } else { 0.0 };
            SpaceBody {
                place: body.place.shifted(way * by),
                ..SpaceBody::at_rest(&body.pattern, body.pattern.final_angles())
            }
        })
        .collect();
    let mut work = structure.bodies().nth(at)?.work.iter().rev();
    let title = work.find_map(|work| match work {
        Work::PutTogether { what } => Some(format!("Put {what}")),
        _ => None,
    })?;
    Some(space_picture(&SpacePicture {
        title,
        bodies: &bodies,
        view: SpaceView::of(&structure.main().pattern),
        contents: None,
        plain: false,
        mirrored,
    }))
}

/// Which way the open side of a body looks where it stands; of several, the one nearest to you.
fn opening(body: &Body) -> Vec3 {
    let z = Vec3::new(0.0, 0.0, 1.0);
    let ways: Vec<Vec3> = match &body.pattern.solid {
        Solid::Box { open, .. } | Solid::Flat { open, .. } => open.iter().map(looks).collect(),
        Solid::Faces(faces) => {
            let open = faces.iter().filter(|face| face.open);
            open.map(|face| normal(&face.corners)).collect()
        }
    };
    let placed = ways.into_iter().map(|way| body.place.turn(way));
    placed.min_by(|a, b| a.y.total_cmp(&b.y)).unwrap_or(z)
}

/// The outward way of a face of a box.
fn looks(face: &Face) -> Vec3 {
    match face {
        Face::Front => Vec3::new(0.0, 0.0, -1.0),
        Face::Left => Vec3::new(-1.0, 0.0, 0.0),
        Face::Right => Vec3::new(1.0, 0.0, 0.0),
        Face::Bottom => Vec3::new(0.0, -1.0, 0.0),
        Face::Top => Vec3::new(0.0, 1.0, 0.0),
        Face::Back | Face::Numbered(_) => Vec3::new(0.0, 0.0, 1.0),
    }
}

/// The outward way of a plane face, by its corners (twice its area as a vector).
fn normal(corners: &[Vec3]) -> Vec3 {
    let pairs = corners.iter().zip(corners.iter().cycle().skip(1));
    let sum = pairs.fold(Vec3::default(), |sum, (a, b)| sum + a.cross(*b));
    sum.unit()
}
