//! Pictures as data: what a step looks like on the table in front of you.
//!
//! ```text
//!   typed facts --(board, cut, flat, ...)--> Scene --(svg)--> Svg text
//! ```
//!
//! A [`Scene`] holds paths with a role and texts with a place, in millimetres, x right and y
//! **down**; one writer turns it into SVG. Screen, phone and print share the same picture.
//!
//! To look at all of them: `cargo run -p tablefold-geometry --example pictures > pictures.html`.
//!
//! A picture is drawn for a place of a certain size ([`PictureSize`]), so that its words can be
//! read there. All type and all lines are measured in `u`: the least type size is 3.6 of it.

mod board;
mod canvas;
mod cut;
mod finished;
mod flat;
mod frame;
mod layers;
mod legend;
mod legible;
mod lens;
mod number;
mod placer;
mod ribbon;
mod ruler_marks;
mod scene;
mod score;
mod shape;
mod sheet;
mod size;
mod space;
mod strokes;
mod svg;
#[cfg(test)]
mod tests;
mod wrap;

pub use board::{PunchNow, PunchPicture, punch_picture};
pub use cut::{CutPicture, cut_picture};
pub use finished::{FinishedPicture, finished_picture, length_picture};
pub use flat::{FlatNow, FlatPicture, flat_picture};
pub use frame::{FramePicture, frame_picture};
pub use layers::{LayersPicture, PictureLayer, layers_picture};
pub use legend::LegendEntry;
pub(crate) use number::rounded;
pub use ribbon::{RibbonPicture, RibbonPictureKind, ribbon_picture};
pub use scene::{
    Anchor, LineRole, Scene, SceneItem, ScenePath, SceneText, TextSize, for_other_hand,
};
pub use score::{ScorePicture, score_picture};
pub use shape::{NotchPicture, ShapePicture, notch_picture, shape_picture};
pub use sheet::{SheetPicture, part_letter, sheet_picture};
pub use size::PictureSize;
pub use space::{
    FillingPicture, FoldPicture, GluePicture, SpaceAxis, SpaceBody, SpaceContents, SpacePicture,
    SpaceShape, SpaceView, filling_picture, fold_picture, folded_portrait, glue_picture,
    space_picture,
};
pub use svg::Svg;
pub(crate) use svg::escape;
pub use wrap::{WrapPicture, wrap_picture};
