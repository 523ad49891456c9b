//! Money: whole minor units of one currency a server, and exact fractions of them.
//!
//! What is typed and stored is a whole number of minor units (`_minor`). What is shared out is an
//! [`Amount`], an exact fraction, rounded once: when it is shown.

mod amount;
mod codes;
mod currency;

pub use amount::Amount;
pub use currency::{Currency, CurrencyError, MAX_MINOR};
