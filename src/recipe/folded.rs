//! Pictures of a piece in space: folding, gluing, filling, and the finished piece.

use tablefold_geometry::{
    Contents, FillingPicture, FoldPicture, GluePicture, Pattern, PictureSize, Pose, Scene, Solid,
    SpaceAxis, SpaceContents, SpaceShape, SpaceView, Vec3, filling_picture, fold_picture,
    folded_portrait, glue_picture,
};

use super::facts::PieceFacts;
use super::made::MadePiece;
use super::step_picture::StepPicture;

/// The picture of a step of a punched piece that folds, glues or fills; `None` for others.
pub(super) fn in_space(
    (made, facts): (&MadePiece, &PieceFacts),
    picture: &StepPicture,
    mirrored: bool,
    size: PictureSize,
) -> Option<Scene> {
    let pattern = &made.pattern;
    let view = SpaceView::of(pattern);
    let folds = |from, to| {
        fold_picture(
            FoldPicture {
                pattern,
                view,
                from,
                to,
                mirrored,
            },
            size,
        )
    };
    match picture {
        StepPicture::Folds { from, to } => Some(folds(fold(pattern, from)?, fold(pattern, to)?)),
        StepPicture::Close => {
            let last = pattern.folds.len().checked_sub(1)?;
            Some(folds(pattern.folds_before_filling.min(last), last))
        }
        StepPicture::Glue { fold: name } => {
            let fold = fold(pattern, name)?;
            glue_picture(
                GluePicture {
                    pattern,
                    view,
                    fold,
                    mirrored,
                },
                size,
            )
        }
        StepPicture::PutIn => Some(filling_picture(
            FillingPicture {
                pattern,
                view,
                contents: contents(made, facts)?,
                name: &facts.spec.contents_name,
                mirrored,
            },
            size,
        )),
        _ => None,
    }
}

/// The finished piece, small and without words: several bodies as they stand in use; one by
/// itself with its front up, which has no seam, or, if it is flat, its flaps.
#[must_use]
pub fn finished(made: &MadePiece) -> Scene {
    let pattern = &made.pattern;
    let bodies = made.structure.bodies();
    let bodies: Vec<(&Pattern, Pose)> = bodies.map(|body| (&body.pattern, body.place)).collect();
    let view = SpaceView::of(pattern);
    let view = match pattern.solid {
        Solid::Box { .. } | Solid::Faces(_) if bodies.len() == 1 => view.turned_over(),
        _ => view,
    };
    folded_portrait(&made.name, &bodies, view)
}

/// The contents where they come to lie: in the middle, on the root panel.
pub(super) fn contents(made: &MadePiece, facts: &PieceFacts) -> Option<SpaceContents> {
    let contents = &facts.spec.contents;
    let axes = contents.axes()?;
    let extent = |name: &str| {
        let axis = axes.iter().find(|axis| axis.0 == name);
        axis.map_or(0.0, |axis| axis.1.mm())
    };
    let names = [made.axes.width, made.axes.length, made.axes.depth];
    let [x, y, z] = names.map(extent);
    let along = |name: &str| match names.iter().position(|axis| *axis == name) {
        Some(0) => SpaceAxis::X,
        Some(1) => SpaceAxis::Y,
        _ => SpaceAxis::Z,
    };
    let shape = match *contents {
        Contents::Block { .. } => SpaceShape::Block,
        Contents::Cylinder { .. } => SpaceShape::Cylinder(along("height")),
        Contents::Ball { .. } => SpaceShape::Ball,
        Contents::Stack { count, .. } => SpaceShape::Stack(along("thickness"), count),
    };
    // Half a sheet lies between the contents and the middle of the paper under them.
    let above = made.pattern.caliper_mm / 2.0;
    Some(SpaceContents {
        shape,
        size: Vec3::new(x, y, z),
        middle: Vec3::new(0.0, 0.0, z / 2.0 + above),
    })
}

fn fold(pattern: &Pattern, name: &str) -> Option<usize> {
    pattern.folds.iter().position(|step| step.name == name)
}
