//! What a piece has beside its structure: a band round the box, layered mats, punched shapes,
//! a finger notch, ribbon, and the adhesive that holds it together.

mod adhesive;
mod band;
mod finger_notch;
mod mats;
#[cfg(test)]
mod mats_tests;
mod ribbon;
mod shapes;

pub use adhesive::*;
pub use band::*;
pub use finger_notch::*;
pub use mats::*;
pub use ribbon::*;
pub use shapes::*;
