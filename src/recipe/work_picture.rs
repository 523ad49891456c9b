//! Pictures of work on one body of a structure.

use tablefold_geometry::{
    Body, Edge, Face, FlatNow, FlatPicture, FoldPicture, GluePicture, Line, Pattern, PictureSize,
    Point, Scene, ScorePicture, Solid, SpaceBody, SpaceContents, SpacePicture, SpaceShape,
    SpaceView, Structure, Vec3, WasteReason, Work, flat_picture, fold_picture, glue_picture,
    score_picture, space_picture,
};

use super::facts::{PieceFacts, ProjectFacts};
use super::folded::contents;
use super::made::MadePiece;
use super::step_picture::{BodyNow, StepPicture};

/// How much of its depth a body still has to go when bodies come together.
const APART: f64 = 1.15;
/// How much of its height a card still looks out of its envelope.
const SLID_OUT: f64 = 0.6;

/// The picture of work on one body; `None` for other steps.
pub(super) fn work_picture(
    project: &ProjectFacts,
    (made, facts): (&MadePiece, &PieceFacts),
    picture: &StepPicture,
    mirrored: bool,
    size: PictureSize,
) -> Option<Scene> {
    let StepPicture::Body { body: at, now } = picture else {
        return None;
    };
    let body = made.structure.bodies().nth(*at)?;
    let pattern = &body.pattern;
    let view = SpaceView::of(pattern);
    let along = match now {
        BodyNow::Template { cut: false } => body.template_creases(),
        _ => Vec::new(),
    };
    let flat = |now, is_cut| {
        flat_picture(
            FlatPicture {
                pattern,
                ruler: project.board.ruler(),
                now,
                along: &along,
                is_cut,
                mirrored,
            },
            size,
        )
    };
    Some(match now {
        BodyNow::Score(work) => score(project, body, *work, size)?,
        BodyNow::Slits => flat(FlatNow::Cuts, false),
        BodyNow::TakeOff(why) => flat(FlatNow::TakeOff(*why), true),
        BodyNow::Template { cut } => flat(along_template(pattern, *cut), false),
        BodyNow::Film { side } => flat(FlatNow::Film(side.mm()), true),
        BodyNow::TurnOver => flat(FlatNow::TurnOver, true),
        BodyNow::Burnish => flat(FlatNow::Burnish, true),
        BodyNow::Fold(fold) => fold_picture(
            FoldPicture {
                pattern,
                view,
                from: *fold,
                to: *fold,
                mirrored,
            },
            size,
        ),
        BodyNow::Glue { zone, fold } => match fold.filter(|fold| *fold > 0) {
            Some(fold) => glue_picture(
                GluePicture {
                    pattern,
                    view,
                    fold,
                    mirrored,
                },
                size,
            )?,
            // Nothing is folded yet: the sheet lies flat.
            None => flat(fold.map_or(FlatNow::Glue(*zone), FlatNow::GlueBefore), true),
        },
        BodyNow::Together => together((made, facts), *at, mirrored, size)?,
    })
}

/// What is cut along a template is what comes off; what is scored along it are the creases.
fn along_template(pattern: &Pattern, cut: bool) -> FlatNow {
    let shaped = pattern.waste.iter().any(|it| it.why == WasteReason::Shape);
    match (cut, shaped) {
        (true, true) => FlatNow::TakeOff(WasteReason::Shape),
        (true, false) => FlatNow::Cuts,
        (false, _) => FlatNow::ScoreAlong,
    }
}

/// The sheet on the score board, the first edge at zero.
fn score(project: &ProjectFacts, body: &Body, index: usize, size: PictureSize) -> Option<Scene> {
    let work = body.work.get(index)?;
    let (Work::Score { from, at } | Work::ScorePart { from, at, .. }) = work else {
        return None;
    };
    let edge = *from.first()?;
    let (width, height) = body.blank;
    let strip = match edge {
        Edge::Left | Edge::Right => (width, height),
        Edge::Top | Edge::Bottom => (height, width),
    };
    let at_fence = |p: Point| edge.at_the_fence(body.blank, p);
    let lies = |line: Line| Line::new(at_fence(line.p0), at_fence(line.p1));
    let of = |work: &Work| body.score_lines(work).into_iter().map(lies);
    let done: Vec<Line> = body.work.iter().take(index).flat_map(of).collect();
    let lines: Vec<Line> = of(work).collect();
    let windows = body.windows().into_iter();
    let windows = windows.map(|window| window.into_iter().map(at_fence).collect());
    let windows: Vec<Vec<Point>> = windows.collect();
    Some(score_picture(
        ScorePicture {
            ruler: &project.score_ruler,
            part: &format!("{} sheet", body.name),
            strip,
            marks: &[*at],
            lines: &lines,
            done: &done,
            windows: &windows,
            turned: false,
        },
        size,
    ))
}

/// The bodies as they are when they come together, the one that moves still on its way.
fn together(
    (made, facts): (&MadePiece, &PieceFacts),
    at: usize,
    mirrored: bool,
    size: PictureSize,
) -> Option<Scene> {
    let structure = &made.structure;
    let own = structure.bodies().nth(at)?;
    let mut work = own.work.iter().enumerate().rev();
    let (place, title) = work.find_map(|(place, work)| match work {
        Work::PutTogether { what } => Some((place, format!("Put {what}"))),
        Work::Tie { through } => Some((place, format!("Tie it shut through {through}"))),
        _ => None,
    })?;
    let mut nests = structure.nests().iter();
    let nest = nests.find(|it| it.outer == at || it.inner == at);
    let inside = contents(made, facts);
    let (bodies, contents) = match nest {
        None => (
            vec![SpaceBody::at_rest(&own.pattern, angles_before(own, place))],
            None,
        ),
        Some(nest) => {
            let [inner, outer] = [nest.inner, nest.outer].map(|it| structure.bodies().nth(it));
            let (inner, outer) = (inner?, outer?);
            if let Solid::Flat { .. } = outer.pattern.solid {
                let angles = angles_before(outer, place);
                let body = SpaceBody::at_rest(&outer.pattern, angles);
                (vec![body], Some(slid_in(inner, outer)))
            } else {
                nested(structure, (inner, outer), inside, &facts.spec.contents_name)
            }
        }
    };
    Some(space_picture(
        &SpacePicture {
            title,
            bodies: &bodies,
            view: SpaceView::of(&structure.main().pattern),
            contents,
            plain: false,
            mirrored,
        },
        size,
    ))
}

/// What goes in, what it is called, the way it moves now.
type Going<'a> = Option<(SpaceContents, &'a str, Option<Vec3>)>;

/// A lid comes from above; a drawer goes in from where it is pulled out, with what is in it.
fn nested<'a>(
    structure: &'a Structure,
    (inner, outer): (&'a Body, &'a Body),
    inside: Option<SpaceContents>,
    name: &'a str,
) -> (Vec<SpaceBody<'a>>, Going<'a>) {
    let way = opening(outer);
    let (moving, way) = if way.z.abs() > 0.5 {
        (outer, way * -1.0)
    } else {
        (inner, way)
    };
    let (low, high) = structure.main().pattern.solid.bounds();
    let size = high - low;
    let far = APART * (size.x * way.x).hypot(size.y * way.y).hypot(size.z * way.z);
    let is_moving = |body: &Body| body.name == moving.name;
    let body = |body: &'a Body| {
        let by = if is_moving(body) { far } else { 0.0 };
        SpaceBody {
            place: body.place.shifted(way * by),
            carried: is_moving(body).then_some(way * -by),
            ..SpaceBody::at_rest(&body.pattern, body.pattern.final_angles())
        }
    };
    let contents = inside.map(|mut inside| {
        if is_moving(structure.main()) {
            inside.middle = inside.middle + way * far;
        }
        (inside, name, None)
    });
    (structure.bodies().map(body).collect(), contents)
}

/// One flat body goes into another, past the flap that shuts it: drawn as a thing without flaps.
fn slid_in<'a>(inner: &'a Body, outer: &Body) -> (SpaceContents, &'a str, Option<Vec3>) {
    let (low, high) = inner.pattern.solid.bounds();
    let size = Vec3::new(high.x - low.x, high.y - low.y, 0.0);
    let pattern = &outer.pattern;
    let shuts = pattern.folds.last().and_then(|fold| fold.creases.first());
    let hinge = shuts.and_then(|(id, _)| pattern.creases.get(id.0));
    let up = hinge.map_or(1.0, |hinge| hinge.a.y.signum());
    let out = Vec3::new(0.0, up * SLID_OUT * size.y, 0.0);
    let contents = SpaceContents {
        shape: SpaceShape::Block,
        size,
        middle: out,
    };
    (contents, inner.name, Some(out * -1.0))
}

/// The folds that a body has when it comes to this work.
fn angles_before(body: &Body, place: usize) -> Vec<f64> {
    let before = body.work.iter().take(place).rev();
    let mut folds = before.filter_map(|work| match work {
        Work::Fold(fold) => Some(fold + 1),
        _ => None,
    });
    body.pattern.angles_after(folds.next().unwrap_or(0))
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
