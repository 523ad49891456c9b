//! Paper geometry, pure: exact lengths, rulers, papers, flat patterns that provably fold and
//! close, sizes made to measure, and pictures as data. No I/O, no clock, no randomness.
//!
//! Conventions, everywhere in the crate:
//!
//! ```text
//!  pattern (flat), mm           space, mm                     a picture, mm
//!      y ^                      z ^  ^ y                      +--> x
//!        |                        | /                         |
//!        +--> x                   +--> x                      v y
//! ```
//!
//! A pattern is seen from the side of the paper that ends up inside; its panels run
//! counter-clockwise. A positive fold angle is a valley: the paper comes towards the eye.
//! The root panel stays in z = 0 and the solid stands on it, at z > 0.
//! A length that a person can set on a ruler is a [`Length`], exact; what follows from square
//! roots is `f64` millimetres, and turning the second into the first always names a [`Ruler`]
//! and a direction.

mod board;
mod curve;
mod cutting;
mod decorations;
mod export;
mod fold_check;
mod folding;
mod length;
mod mass;
mod paper;
mod pattern;
mod picture;
mod polygon;
mod post;
mod region;
mod ruler;
mod sheet_sizes;
mod sizing;
mod space;
mod structures;
mod tolerance;
mod words;

pub use kurbo::{BezPath, Line};

pub use board::*;
pub use curve::{Curve, CurveShape, SAG_MM, straight_pieces};
pub use cutting::*;
pub use decorations::*;
pub use export::*;
pub use fold_check::*;
pub use folding::*;
pub use length::*;
pub use mass::*;
pub use paper::*;
pub use pattern::*;
pub use picture::*;
pub use polygon::signed_area;
pub use post::*;
pub use ruler::*;
pub use sheet_sizes::*;
pub use sizing::*;
pub use space::*;
pub use structures::*;
pub use tolerance::*;
