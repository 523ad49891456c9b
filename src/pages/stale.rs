//! A save on top of a newer one: both texts, and a way to save yours anyway.

use serde::Serialize;

use crate::error::{PageError, SaveAnyway, StaleField, StaleSave};

/// Fields that nobody typed.
const OWN_FIELDS: [&str; 3] = ["version", "do", "once"];

/// The page that shows what was typed beside what is stored. `typed` and `saved` are the same
/// form struct; its `version` field is what makes the second try pass.
pub(crate) fn stale<F: Serialize>(
    what: &str,
    again: String,
    action: String,
    typed: &F,
    saved: (&F, i64),
) -> PageError {
    stale_shown(what, again, action, typed, saved, &|_, value| {
        value.to_owned()
    })
}

/// The same for a form with values that people do not read, such as row numbers: `shown` gives
/// what stands on the page for a field's name and value.
pub(crate) fn stale_shown<F: Serialize>(
    what: &str,
    again: String,
    action: String,
    typed: &F,
    (saved, version): (&F, i64),
    shown: &dyn Fn(&str, &str) -> String,
) -> PageError {
    let (yours, theirs) = match (pairs(typed), pairs(saved)) {
        (Ok(yours), Ok(theirs)) => (yours, theirs),
        (Err(error), _) | (_, Err(error)) => return error,
    };
    let of = |pairs: &[(String, String)], key: &str| {
        // Boxes of one name send one value each.
        let found = pairs.iter().filter(|(name, _)| name == key);
        let found: Vec<String> = found.map(|(name, value)| shown(name, value)).collect();
        found.join(", ")
    };
    let mut keys: Vec<&String> = yours.iter().chain(&theirs).map(|(key, _)| key).collect();
    let mut seen = std::collections::HashSet::new();
    keys.retain(|key| !OWN_FIELDS.contains(&key.as_str()) && seen.insert(key.as_str()));
    let fields = keys
        .into_iter()
        .map(|key| StaleField {
            label: label(key),
            yours: of(&yours, key),
            saved: of(&theirs, key),
        })
        .filter(|field| field.yours != field.saved)
        .collect();
    let mut hidden: Vec<(String, String)> = yours
        .into_iter()
        .filter(|(key, _)| !OWN_FIELDS.contains(&key.as_str()))
        .collect();
    hidden.push(("version".to_owned(), version.to_string()));
    hidden.push(("do".to_owned(), "save".to_owned()));
    PageError::Conflict(StaleSave {
        what: what.to_owned(),
        again,
        fields,
        anyway: Some(SaveAnyway { action, hidden }),
    })
}

/// The fields of a form as a browser sends them.
pub(crate) fn pairs<F: Serialize>(form: &F) -> Result<Vec<(String, String)>, PageError> {
    let text = serde_html_form::to_string(form).map_err(PageError::internal)?;
    serde_html_form::from_str(&text).map_err(PageError::internal)
}

/// `on_hand` as "On hand".
fn label(key: &str) -> String {
    let words = key.replace('_', " ");
    let mut chars = words.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => words,
    }
}
