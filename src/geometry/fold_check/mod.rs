//! The fold check: proves that a pattern folds into what it is meant to be.
//!
//! Every point is computed from the panels, creases and glue themselves; no formula of a
//! structure is trusted. One file a point.

mod bodies;
mod clear;
mod closed;
mod crossing;
mod flat;
mod glue;
mod hinges;
mod moments;
mod stack;
mod vertices;

#[cfg(test)]
mod broken_tests;
#[cfg(test)]
mod tests;

pub(crate) use bodies::{bodies_check, nest_check};
pub(crate) use closed::covered_faces;
pub use vertices::{kawasaki, maekawa};

use crate::{Pattern, Pose};
use moments::Moments;

/// What one point of the fold check found.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Which point: "flat", "hinges", "closed", "clear", "glue", "flat vertices" or "nests".
    pub name: &'static str,
    /// Whether it holds.
    pub holds: bool,
    /// How much there is to spare before it fails, in `unit`; negative where it fails.
    pub margin: f64,
    /// Unit of the margin: "mm", "mm²", "%", "°".
    pub unit: &'static str,
    /// What was found, in a sentence.
    pub says: String,
}

/// A block that has to fit inside, along the axes of the closed piece, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContentsBox {
    /// Along the width.
    pub x: f64,
    /// Along the length.
    pub y: f64,
    /// From front to back.
    pub z: f64,
}

/// Runs all six points, in this order: flat, hinges, closed, clear, glue, flat vertices.
#[must_use]
pub fn fold_check(pattern: &Pattern, contents: Option<&ContentsBox>) -> Vec<Check> {
    fold_check_lying(pattern, contents, None)
}

/// The same, for contents that lie in the piece at a pose of their own: from the middle of the
/// block, along its sides, to space. Counts for solids given by their faces.
pub(crate) fn fold_check_lying(
    pattern: &Pattern,
    contents: Option<&ContentsBox>,
    lie: Option<&Pose>,
) -> Vec<Check> {
    if let Some(fault) = flat::broken(pattern) {
        return not_a_pattern(&fault);
    }
    let moments = Moments::of(pattern);
    vec![
        flat::check(pattern),
        hinges::check(pattern, &moments),
        closed::check(pattern, &moments),
        clear::check(pattern, &moments, contents, lie),
        glue::check(pattern, &moments),
        vertices::check(pattern),
    ]
}

/// A list that names panels it does not have, or points that are nowhere, holds in no respect.
fn not_a_pattern(fault: &str) -> Vec<Check> {
    ["flat", "hinges", "closed", "clear", "glue", "flat vertices"]
        .map(|name| Check {
            name,
            holds: false,
            margin: -1.0,
            unit: "faults",
            says: format!("This is no pattern: {fault}."),
        })
        .into()
}

/// Collects the worst of many measurements against one limit.
struct Worst {
    margin: f64,
    fault: Option<String>,
}

impl Worst {
    fn new(most: f64) -> Self {
        Self {
            margin: most,
            fault: None,
        }
    }

    /// Notes what is left of a tolerance; the sentence of the least margin below 0 is kept.
    fn note(&mut self, margin: f64, says: impl FnOnce() -> String) {
        // NaN is no measurement: it counts as the worst.
        let margin = if margin.is_nan() {
            f64::NEG_INFINITY
        } else {
            margin
        };
        if margin < self.margin {
            self.margin = margin;
            if margin < 0.0 {
                self.fault = Some(says());
            }
        }
    }

    fn check(
        self,
        name: &'static str,
        unit: &'static str,
        good: impl FnOnce(f64) -> String,
    ) -> Check {
        Check {
            name,
            holds: self.fault.is_none(),
            margin: self.margin,
            unit,
            says: self.fault.unwrap_or_else(|| good(self.margin)),
        }
    }
}
