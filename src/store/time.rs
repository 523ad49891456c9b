//! Times in the database: UTC text of one shape, so that they compare as text.

use jiff::Timestamp;

/// `2026-11-28T10:00:00Z`: whole seconds, always 20 characters.
#[must_use]
pub fn to_text(at: Timestamp) -> String {
    at.strftime("%Y-%m-%dT%H:%M:%SZ").to_string()
}

/// Reads what [`to_text`] wrote.
///
/// # Errors
/// When the text is no time: the row was not written by this program.
pub fn from_text(text: &str) -> Result<Timestamp, sqlx::Error> {
    text.parse()
        .map_err(|error: jiff::Error| sqlx::Error::Decode(Box::new(error)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_survives_the_database_to_the_second() {
        let at: Timestamp = "2026-11-28T10:00:00.75Z".parse().unwrap();
        assert_eq!(to_text(at), "2026-11-28T10:00:00Z");
        assert_eq!(from_text(&to_text(at)).unwrap().as_second(), at.as_second());
    }
}
