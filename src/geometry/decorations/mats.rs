//! Layered mats: the same shape, each layer smaller than the one below by twice the reveal, so
//! that the same rim shows all round.

use kurbo::{BezPath, Circle, Rect, Shape};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::{Length, Ruler};

/// The least side of a mat that hands still lay straight, mm (common practice, no source).
const LEAST_SIDE_MM: f64 = 10.0;

/// A mat's shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum MatShape {
    /// A rectangle.
    Rectangle {
        /// Side to side.
        width: Length,
        /// Bottom to top.
        height: Length,
    },
    /// A circle.
    Circle {
        /// Right across.
        diameter: Length,
    },
}

/// Why mats cannot be layered so.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum MatsError {
    /// No layers, or more than [`Mats::MOST_LAYERS`].
    #[error(
        "{layers} layers are no stack of mats. Give 1 to {}.",
        Mats::MOST_LAYERS
    )]
    Layers {
        /// Layers asked for.
        layers: usize,
    },
    /// The lowest mat has no size.
    #[error("A mat with a side of {} cannot be cut. Give more than 0 and at most 10 m.", side.exact_text())]
    NoSize {
        /// The side given.
        side: Length,
    },
    /// The rim has no width.
    #[error("A reveal of {} does not show. Give more than 0.", reveal.exact_text())]
    NoReveal {
        /// The rim given.
        reveal: Length,
    },
    /// The uppermost mats would vanish.
    #[error(
        "{layers} layers with a reveal of {} leave nothing of a side of {}. Make at most {most}, or use a reveal under {}.",
        reveal.exact_text(),
        side.exact_text(),
        reveal_under.exact_text()
    )]
    NothingLeft {
        /// Layers asked for.
        layers: usize,
        /// The rim asked for.
        reveal: Length,
        /// The shortest side of the lowest mat.
        side: Length,
        /// Most layers with this rim.
        most: usize,
        /// With this many layers the rim must be less than this.
        reveal_under: Length,
    },
    /// The uppermost mat would be too small to cut and to lay straight.
    #[error(
        "{} leaves less than {} of {} for the last mat. {}",
        shown(*layers, *reveal),
        least.exact_text(),
        side.exact_text(),
        advice(*most)
    )]
    TooSmall {
        /// Mats asked for.
        layers: usize,
        /// The rim asked for.
        reveal: Length,
        /// The shorter side of what they lie on.
        side: Length,
        /// The least side of a mat.
        least: Length,
        /// A rim that does; `None` where none does.
        most: Option<Length>,
    },
}

fn shown(layers: usize, reveal: Length) -> String {
    let reveal = reveal.exact_text();
    match layers {
        1 => format!("A reveal of {reveal}"),
        _ => format!("A reveal of {reveal} round each of {layers} mats"),
    }
}

fn advice(most: Option<Length>) -> String {
    match most {
        Some(most) => format!("Make the reveal {} or less.", most.exact_text()),
        None => "Use fewer mats, or none.".to_owned(),
    }
}

impl MatShape {
    /// Sides of the smallest rectangle round it.
    #[must_use]
    pub const fn size(self) -> (Length, Length) {
        match self {
            Self::Rectangle { width, height } => (width, height),
            Self::Circle { diameter } => (diameter, diameter),
        }
    }

    /// Smaller by `rim` on every side.
    fn inset(self, rim: Length) -> Self {
        match self {
            Self::Rectangle { width, height } => Self::Rectangle {
                width: width - rim * 2,
                height: height - rim * 2,
            },
            Self::Circle { diameter } => Self::Circle {
                diameter: diameter - rim * 2,
            },
        }
    }

    /// The largest of this shape that can be cut and leaves at least `rim` on every side.
    fn cut_within(self, rim: Length, trimmer: &Ruler) -> Option<Self> {
        let cut = |side: Length| {
            let left = side.checked_sub(rim.checked_mul(2)?)?;
            let mark = trimmer.down(left.mm())?;
            (mark.mm() >= LEAST_SIDE_MM).then_some(mark)
        };
        Some(match self {
            Self::Rectangle { width, height } => Self::Rectangle {
                width: cut(width)?,
                height: cut(height)?,
            },
            Self::Circle { diameter } => Self::Circle {
                diameter: cut(diameter)?,
            },
        })
    }

    /// Area in mm².
    #[must_use]
    pub fn area_mm2(self) -> f64 {
        match self {
            Self::Rectangle { width, height } => width.mm() * height.mm(),
            Self::Circle { diameter } => std::f64::consts::PI * diameter.mm().powi(2) / 4.0,
        }
    }

    /// Outline in mm, centred at the origin.
    #[must_use]
    pub fn outline(self) -> BezPath {
        const TOLERANCE_MM: f64 = 1e-6;
        let (width, height) = self.size();
        let (x, y) = (width.mm() / 2.0, height.mm() / 2.0);
        match self {
            Self::Rectangle { .. } => Rect::new(-x, -y, x, y).to_path(TOLERANCE_MM),
            Self::Circle { .. } => Circle::new((0.0, 0.0), x).to_path(TOLERANCE_MM),
        }
    }
}

/// Mats from the lowest and largest to the uppermost and smallest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mats {
    layers: Vec<MatShape>,
    reveal: Length,
}

impl Mats {
    /// Most layers: beyond it the stack is a block.
    pub const MOST_LAYERS: usize = 20;

    /// `layers` mats, the lowest of them `outer`, each smaller than the one below by twice the
    /// `reveal`.
    ///
    /// # Errors
    /// [`MatsError`] unless 1 ≤ layers ≤ [`Self::MOST_LAYERS`], sides and reveal are above 0 (at
    /// most 10 m), and the uppermost mat still has a size.
    pub fn layers(outer: MatShape, reveal: Length, layers: usize) -> Result<Self, MatsError> {
        if !(1..=Self::MOST_LAYERS).contains(&layers) {
            return Err(MatsError::Layers { layers });
        }
        let (width, height) = outer.size();
        for side in [width, height] {
            if side <= Length::ZERO || side > Length::MAX {
                return Err(MatsError::NoSize { side });
            }
        }
        if reveal <= Length::ZERO {
            return Err(MatsError::NoReveal { reveal });
        }
        let side = width.min(height);
        // Layer n (from 0) keeps side − 2 n reveal, which must stay above 0.
        let most = 1 + (side.nm() - 1) / reveal.nm().saturating_mul(2);
        let most = usize::try_from(most).unwrap_or(usize::MAX);
        if layers > most {
            return Err(MatsError::NothingLeft {
                layers,
                reveal,
                side,
                most,
                reveal_under: side / (2 * (layers as i64 - 1)),
            });
        }
        Ok(Self {
            layers: (0..layers as i64)
                .map(|n| outer.inset(reveal * n))
                .collect(),
            reveal,
        })
    }

    /// `layers` mats on top of each other in the middle of `base`, cut at marks of the trimmer:
    /// the largest that leave at least the `reveal` on every side of what lies below.
    ///
    /// # Errors
    /// [`MatsError`] unless 1 ≤ layers ≤ [`Self::MOST_LAYERS`], the reveal is above 0, and the
    /// uppermost mat is at least 10 mm across.
    pub fn on(
        base: MatShape,
        reveal: Length,
        layers: usize,
        trimmer: &Ruler,
    ) -> Result<Self, MatsError> {
        if !(1..=Self::MOST_LAYERS).contains(&layers) {
            return Err(MatsError::Layers { layers });
        }
        if reveal <= Length::ZERO {
            return Err(MatsError::NoReveal { reveal });
        }
        let mut cut = Vec::with_capacity(layers);
        let mut below = base;
        for _ in 0..layers {
            let Some(mat) = below.cut_within(reveal, trimmer) else {
                return Err(too_small(base, reveal, layers, trimmer));
            };
            cut.push(mat);
            below = mat;
        }
        Ok(Self {
            layers: cut,
            reveal,
        })
    }

    /// The mats, lowest first.
    #[must_use]
    pub fn shapes(&self) -> &[MatShape] {
        &self.layers
    }

    /// The rim of each layer that shows.
    #[must_use]
    pub const fn reveal(&self) -> Length {
        self.reveal
    }
}

/// The refusal with a reveal that does: each mat loses less than a step to its mark.
fn too_small(base: MatShape, reveal: Length, layers: usize, trimmer: &Ruler) -> MatsError {
    let (width, height) = base.size();
    let side = width.min(height);
    let least = trimmer.up(LEAST_SIDE_MM).unwrap_or(Length::MAX);
    let times = layers as i64;
    let spare = side - least - trimmer.step() * times;
    let most = spare / (2 * times);
    let steps = most.nm() / trimmer.step().nm().max(1);
    MatsError::TooSmall {
        layers,
        reveal,
        side,
        least,
        most: (steps > 0).then(|| trimmer.step() * steps),
    }
}

/// The rim in mm that shows of `lower` at its sides and at its ends when `upper` lies in its
/// middle; negative where `upper` sticks out.
#[must_use]
pub fn reveal_round_mm(lower: MatShape, upper: MatShape) -> (f64, f64) {
    let ((lower_width, lower_height), (upper_width, upper_height)) = (lower.size(), upper.size());
    (
        (lower_width - upper_width).mm() / 2.0,
        (lower_height - upper_height).mm() / 2.0,
    )
}
