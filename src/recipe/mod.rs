//! A project: pieces made to measure, their parts, and the operations that make them, in order.
//! Pure: facts in, recipe out.

mod arrange;
mod box_folds;
mod box_steps;
mod build;
mod by_hand;
mod caution;
mod comparison;
mod draft;
mod draw;
mod envelope_steps;
mod facts;
mod folded;
mod joined;
mod left_hand;
mod made;
mod matching;
mod mats;
mod operation;
mod part;
mod step_picture;
mod tag;
mod tight;
mod trimmings;
mod window_steps;
mod wording;
mod work_picture;
mod work_steps;
mod work_words;

pub use arrange::{MoveRefused, moved, switched};
pub use build::{Recipe, Step};
pub use caution::Caution;
pub use comparison::{Choice, Comparison, Refused, compare};
pub use draw::{draw, template};
pub use facts::{
    BandSpec, ExtraSpec, Hazard, MatSpec, MatsSpec, Phase, PieceFacts, PieceSpec, ProjectFacts,
    RibbonSpec, RibbonStyle, StepEdit, StoredSpec, SupplyFacts, TagShape, TagSpec, ToolKind,
};
pub use folded::finished;
pub use joined::{CannotJoin, Differs, Share, in_words};
pub use left_hand::for_left_hand;
pub use made::{MadePiece, RecipeProblem, make, request as sizing_request};
pub use matching::matching_envelope;
pub use mats::{MadeMat, thickness as mats_thickness};
pub use operation::{Measure, MeasureValue, Operation, Verb};
pub use part::{Part, PartKind, Role};
pub use step_picture::{BodyNow, StepPicture};
pub use tight::tight_sheet;
pub use wording::{WordingError, capital, check as check_wording};

#[cfg(test)]
mod fault_tests;
#[cfg(test)]
mod joined_tests;
#[cfg(test)]
mod mat_tests;
#[cfg(test)]
mod number_tests;
#[cfg(test)]
mod side_tests;
#[cfg(test)]
pub(crate) mod structure_tests;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod window_tests;
