//! What can be wrong with a cut job, in words that say what would do.

use crate::Length;

/// Why a job can't be planned.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CutError {
    /// There is nothing to cut from.
    #[error("there is no sheet to cut from. Add at least one sheet size with its price.")]
    NoStock,
    /// There is nothing to cut.
    #[error("there is no part to cut. Add at least one part with a quantity above 0.")]
    NoParts,
    /// More sheet sizes than a plan takes.
    #[error("{count} sheet sizes are more than a plan takes. Give at most {most}.")]
    TooManyStocks {
        /// How many were given.
        count: usize,
        /// How many are allowed.
        most: usize,
    },
    /// More part sizes than a plan takes.
    #[error(
        "{count} part sizes are more than a plan takes. Give at most {most}, or plan them in several jobs."
    )]
    TooManyParts {
        /// How many were given.
        count: usize,
        /// How many are allowed.
        most: usize,
    },
    /// More pieces than a plan takes.
    #[error("{count} pieces are more than a plan takes. Ask for at most {most} in one job.")]
    TooManyPieces {
        /// How many were asked.
        count: u64,
        /// How many are allowed.
        most: u64,
    },
    /// A width or height that is no size.
    #[error("{what}: the {side} {} is not a size. Give a length above 0 and at most {}.", .value.exact_text(), Length::MAX.exact_text())]
    Size {
        /// "sheet A4" or "part tag".
        what: String,
        /// "width" or "height".
        side: &'static str,
        /// The value given.
        value: Length,
    },
    /// A price that no plan can be compared by.
    #[error(
        "sheet {stock}: the price {cost} can't be used. Give a whole number from 1 to {most}, in the smallest coin."
    )]
    Cost {
        /// The sheet's name.
        stock: String,
        /// The price given.
        cost: u64,
        /// The highest price.
        most: u64,
    },
    /// Kerf out of range.
    #[error("the kerf {} can't be used. Give 0 for a blade that takes nothing away, or at most {}.", .value.exact_text(), .most.exact_text())]
    Kerf {
        /// The value given.
        value: Length,
        /// The widest kerf.
        most: Length,
    },
    /// A number of phases that isn't offered.
    #[error(
        "{value} phases of cuts are not offered. Give 1, 2 or 3, or leave it empty for any number."
    )]
    Stages {
        /// The value given.
        value: u8,
    },
    /// A part that no sheet can hold.
    #[error("part {part} is {} x {} and fits no sheet {}. Add a larger sheet, or make the part smaller.", .width.exact_text(), .height.exact_text(), either_way(*.turnable))]
    TooLarge {
        /// The part's name.
        part: String,
        /// Its width.
        width: Length,
        /// Its height.
        height: Length,
        /// May it be turned?
        turnable: bool,
    },
    /// So many parts on a sheet that nobody would cut them.
    #[error("part {part} is {} x {}, so small that a sheet {stock} holds more than {most}. Give a smaller sheet, or a larger part.", .width.exact_text(), .height.exact_text())]
    TooSmall {
        /// The part's name.
        part: String,
        /// Its width.
        width: Length,
        /// Its height.
        height: Length,
        /// The sheet's name.
        stock: String,
        /// The most parts that a sheet may hold.
        most: u64,
    },
    /// A part that fits a sheet but not with so few phases.
    #[error("part {part} can't be cut in {phases}: it needs a trim. Allow one phase more.")]
    NeedsMorePhases {
        /// The part's name.
        part: String,
        /// "1 phase" or "2 phases".
        phases: String,
    },
    /// The sheets on hand don't suffice.
    #[error(
        "there are too few sheets for part {part}: {short} of {quantity} can't be made. Make more sheets available."
    )]
    TooFewSheets {
        /// The part's name.
        part: String,
        /// How many at least are missing.
        short: u32,
        /// How many were asked.
        quantity: u32,
    },
    /// No plan was found, though none was proven impossible.
    #[error(
        "no plan was found that makes part {part} from the sheets available: {short} of {quantity} are missing in the best one. Make more sheets available, or allow more effort."
    )]
    NotFound {
        /// The part's name.
        part: String,
        /// How many are missing in the best attempt.
        short: u32,
        /// How many were asked.
        quantity: u32,
    },
    /// The caller stopped the work before there was a plan.
    #[error("the planning was stopped before there was a plan. Start it again.")]
    Stopped,
}

fn either_way(turnable: bool) -> &'static str {
    if turnable {
        "either way round"
    } else {
        "without turning it"
    }
}
