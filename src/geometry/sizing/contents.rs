//! What goes in, and which of its axes lies along which axis of the piece.

use serde::{Deserialize, Serialize};

use crate::Length;

/// Lengths and counts above these are slips of the keyboard.
pub(super) const MOST_IN_A_STACK: u32 = 10_000;

/// What the piece is made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "lowercase", deny_unknown_fields)]
pub enum Contents {
    /// A block; it may lie any way round.
    Block {
        /// First side.
        width: Length,
        /// Second side.
        depth: Length,
        /// Third side.
        height: Length,
    },
    /// A cylinder: a tin, a candle, a roll. Its axis may lie any way round.
    Cylinder {
        /// Across.
        diameter: Length,
        /// Along the axis.
        height: Length,
    },
    /// A ball.
    Ball {
        /// Across.
        diameter: Length,
    },
    /// Flat things on top of each other: cards, packets.
    Stack {
        /// First side of one.
        width: Length,
        /// Second side of one.
        height: Length,
        /// Thickness of one.
        each_thickness: Length,
        /// How many.
        count: u32,
    },
}

impl Contents {
    /// The block round the contents: three axes, each with its name and extent. `None` where a
    /// stack is too high to be a length.
    #[must_use]
    pub fn axes(&self) -> Option<[(&'static str, Length); 3]> {
        Some(match *self {
            Self::Block {
                width,
                depth,
                height,
            } => [("width", width), ("depth", depth), ("height", height)],
            Self::Cylinder { diameter, height } => [
                ("diameter", diameter),
                ("diameter", diameter),
                ("height", height),
            ],
            Self::Ball { diameter } => [("diameter", diameter); 3],
            Self::Stack {
                width,
                height,
                each_thickness,
                count,
            } => {
                let thickness = each_thickness.checked_mul(i64::from(count))?;
                [
                    ("width", width),
                    ("height", height),
                    ("thickness", thickness),
                ]
            }
        })
    }

    /// The place among [`Self::axes`] of the axis that they are round about, if they are round.
    pub(crate) const fn round_about(&self) -> Option<usize> {
        match self {
            Self::Cylinder { .. } => Some(2),
            Self::Block { .. } | Self::Ball { .. } | Self::Stack { .. } => None,
        }
    }

    /// Whether they are a ball.
    #[must_use]
    pub const fn is_ball(&self) -> bool {
        matches!(self, Self::Ball { .. })
    }

    /// Every length that was given, with the name of its field.
    pub(super) fn given(&self) -> Vec<(&'static str, Length)> {
        match *self {
            Self::Block {
                width,
                depth,
                height,
            } => vec![("width", width), ("depth", depth), ("height", height)],
            Self::Cylinder { diameter, height } => {
                vec![("diameter", diameter), ("height", height)]
            }
            Self::Ball { diameter } => vec![("diameter", diameter)],
            Self::Stack {
                width,
                height,
                each_thickness,
                ..
            } => vec![
                ("width", width),
                ("height", height),
                ("each_thickness", each_thickness),
            ],
        }
    }
}

/// Which axis of the contents lies along each axis of the piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct AxisMap {
    /// Along the width of the front.
    pub width: &'static str,
    /// Along the length of the front.
    pub length: &'static str,
    /// From front to back.
    pub depth: &'static str,
}

/// The six ways to lay three axes along width, length and depth.
pub(super) const ORDERS: [[usize; 3]; 6] = [
    [0, 1, 2],
    [1, 0, 2],
    [0, 2, 1],
    [2, 0, 1],
    [1, 2, 0],
    [2, 1, 0],
];
