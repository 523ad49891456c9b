//! What a form with a row for each of several things sent: names such as `name-12`.

use serde::Deserialize;

use crate::error::{PageError, SaveAnyway, StaleField, StaleSave};

/// Label and text of each row, to compare.
pub(super) type Texts = Vec<(String, String)>;

/// Pairs of name and value, exactly as typed.
#[derive(Clone, Debug, Deserialize)]
#[serde(transparent)]
pub(super) struct Typed(Vec<(String, String)>);

impl Typed {
    pub(super) fn get(&self, name: &str) -> &str {
        let found = self.0.iter().find(|(key, _)| key == name);
        found.map_or("", |(_, value)| value)
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(key, _)| key == name)
    }

    /// What follows `prefix` in the names that start with it, in the order of the form.
    pub(super) fn keys<'a>(&'a self, prefix: &'a str) -> impl Iterator<Item = &'a str> {
        self.0
            .iter()
            .filter_map(move |(key, _)| key.strip_prefix(prefix))
    }

    /// What follows `prefix` in the names that start with it, each with its value.
    pub(super) fn values<'a>(
        &'a self,
        prefix: &'a str,
    ) -> impl Iterator<Item = (&'a str, &'a str)> {
        let of = move |(key, value): &'a (String, String)| {
            Some((key.strip_prefix(prefix)?, value.as_str()))
        };
        self.0.iter().filter_map(of)
    }

    /// The version that the form was opened with; a form without one is always stale.
    pub(super) fn version(&self) -> i64 {
        self.get("version").parse().unwrap_or(0)
    }

    /// The page for a save that came too late, with a button that saves this form anyway.
    pub(super) fn stale(
        self,
        what: &str,
        address: &str,
        newer: i64,
        (yours, saved): (Texts, Texts),
    ) -> PageError {
        let mut hidden = self.0;
        hidden.retain(|(key, _)| key != "version");
        hidden.push(("version".to_owned(), newer.to_string()));
        PageError::Conflict(StaleSave {
            what: what.to_owned(),
            again: address.to_owned(),
            fields: differences(yours, saved),
            anyway: Some(SaveAnyway {
                action: address.to_owned(),
                hidden,
            }),
        })
    }
}

/// Labels whose text differs, those of `yours` first.
fn differences(yours: Texts, saved: Texts) -> Vec<StaleField> {
    let of = |list: &[(String, String)], label: &str| {
        let found = list.iter().find(|(other, _)| other == label);
        found.map_or_else(String::new, |(_, text)| text.clone())
    };
    let mut fields = Vec::new();
    for (label, text) in &yours {
        let saved = of(&saved, label);
        if saved != *text {
            fields.push(StaleField {
                label: label.clone(),
                yours: text.clone(),
                saved,
            });
        }
    }
    let only_saved = saved
        .into_iter()
        .filter(|(label, _)| !yours.iter().any(|(other, _)| other == label));
    fields.extend(only_saved.map(|(label, saved)| StaleField {
        label,
        yours: String::new(),
        saved,
    }));
    fields
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_differs_is_compared() {
        let row = |label: &str, text: &str| (label.to_owned(), text.to_owned());
        let yours = vec![
            row("Seat 1", "Ada"),
            row("Seat 2", "Ben"),
            row("Seat 4", "Eve"),
        ];
        let saved = vec![
            row("Seat 1", "Ada"),
            row("Seat 2", "Bea"),
            row("Seat 3", "Dan"),
        ];
        let found: Vec<_> = differences(yours, saved)
            .into_iter()
            .map(|field| (field.label, field.yours, field.saved))
            .collect();
        let field = |a: &str, b: &str, c: &str| (a.to_owned(), b.to_owned(), c.to_owned());
        let expected = [
            field("Seat 2", "Ben", "Bea"),
            field("Seat 4", "Eve", ""),
            field("Seat 3", "", "Dan"),
        ];
        assert_eq!(found, expected);
    }
}
