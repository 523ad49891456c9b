//! What rows have in common: a number, a count of saves, and columns that need checking.

use serde::Serialize;
use serde::de::DeserializeOwned;
use tablefold_geometry::Length;

/// Something stored: its row number and how often it was saved.
#[derive(Clone, Debug, PartialEq)]
pub struct Saved<T> {
    /// Row number.
    pub id: i64,
    /// Every edit form carries it, so that a stale save is refused.
    pub version: i64,
    /// What is stored.
    pub it: T,
}

/// What became of a save.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Update {
    /// It is stored.
    Done,
    /// The row was saved meanwhile, or is gone: nothing is stored.
    Stale,
}

impl Update {
    /// One row of that version there was, or none.
    pub(super) fn of(rows: u64) -> Self {
        if rows == 1 { Self::Done } else { Self::Stale }
    }
}

/// A column that this program did not write.
pub(super) fn damaged(column: &str, value: impl std::fmt::Display) -> sqlx::Error {
    sqlx::Error::Decode(format!("column {column} holds {value}").into())
}

/// A count from a column.
pub(super) fn count(column: &str, value: i64) -> Result<u32, sqlx::Error> {
    u32::try_from(value).map_err(|_| damaged(column, value))
}

/// An amount of money for a column, in minor units.
pub(super) fn minor_in(price: Option<u64>) -> Option<i64> {
    price.map(|minor| i64::try_from(minor).unwrap_or(i64::MAX))
}

/// An amount of money from a column, in minor units.
pub(super) fn minor(column: &str, value: Option<i64>) -> Result<Option<u64>, sqlx::Error> {
    let read = |minor| u64::try_from(minor).map_err(|_| damaged(column, minor));
    value.map(read).transpose()
}

/// A length that is above zero, from a column.
pub(super) fn length(column: &str, nm: i64) -> Result<Length, sqlx::Error> {
    let length = Length::from_nm(nm);
    if length < Length::ZERO || length > Length::MAX {
        return Err(damaged(column, nm));
    }
    Ok(length)
}

/// A JSON column.
pub(super) fn from_json<T: DeserializeOwned>(text: &str) -> Result<T, sqlx::Error> {
    serde_json::from_str(text).map_err(|error| sqlx::Error::Decode(error.into()))
}

/// Text for a JSON column.
pub(super) fn to_json(value: &impl Serialize) -> Result<String, sqlx::Error> {
    serde_json::to_string(value).map_err(|error| sqlx::Error::Encode(error.into()))
}

/// The word of a plain enum, as serde writes it.
pub(super) fn to_word(value: &impl Serialize) -> Result<String, sqlx::Error> {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => Ok(word),
        Ok(other) => Err(sqlx::Error::Encode(format!("{other} is no word").into())),
        Err(error) => Err(sqlx::Error::Encode(error.into())),
    }
}

/// The plain enum of a word.
pub(super) fn from_word<T: DeserializeOwned>(word: String) -> Result<T, sqlx::Error> {
    serde_json::from_value(serde_json::Value::String(word))
        .map_err(|error| sqlx::Error::Decode(error.into()))
}
