//! Instructions with live measures: `Punch at {first}, then score.`
//!
//! A measure stands in braces under its key. Text that names a key the step does not have is
//! refused when it is typed, so that a card never shows a brace.

use tablefold_geometry::Ruler;

use super::operation::{Measure, Operation};

/// Text that names a measure which the step does not have.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WordingError {
    /// `{depth}` in a step that has no depth.
    #[error("\"{{{key}}}\" is not a measure of this step. {}", offer(.known))]
    Unknown {
        /// What was typed.
        key: String,
        /// What the step has.
        known: Vec<&'static str>,
    },
    /// A brace without its partner.
    #[error(
        "a brace stands alone in \"{near}\". Write a measure as {{name}}, or leave the brace out."
    )]
    Unbalanced {
        /// The text from there on, cut short.
        near: String,
    },
}

fn offer(known: &[&'static str]) -> String {
    if known.is_empty() {
        return "This step has no measure: write the text without braces.".to_owned();
    }
    let list: Vec<String> = known.iter().map(|key| format!("{{{key}}}")).collect();
    format!("It has {}.", list.join(", "))
}

/// Checks that `text` only names measures of `measures`.
///
/// # Errors
/// The first brace that is not a measure.
pub fn check(text: &str, measures: &[Measure]) -> Result<(), WordingError> {
    fill(text, measures, |_| String::new()).map(drop)
}

/// The text of an operation with its measures on `ruler`. Stored text was checked when it was
/// typed; where a piece has changed since, the brace is left as it is.
#[must_use]
pub(super) fn render(text: &str, operation: &Operation, ruler: &Ruler) -> String {
    fill(text, &operation.measures, |measure| {
        measure.value.text(ruler)
    })
    .unwrap_or_else(|_| text.to_owned())
}

/// "punch board" as "Punch board".
#[must_use]
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

fn fill(
    text: &str,
    measures: &[Measure],
    print: impl Fn(&Measure) -> String,
) -> Result<String, WordingError> {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find(['{', '}']) {
        out.push_str(&rest[..start]);
        let from = &rest[start..];
        let unbalanced = || WordingError::Unbalanced {
            near: from.chars().take(20).collect(),
        };
        let inner = from.strip_prefix('{').ok_or_else(unbalanced)?;
        let end = inner.find('}').ok_or_else(unbalanced)?;
        let key = inner[..end].trim();
        let measure = measures
            .iter()
            .find(|measure| measure.key == key)
            .ok_or_else(|| WordingError::Unknown {
                key: key.chars().take(30).collect(),
                known: measures.iter().map(|measure| measure.key).collect(),
            })?;
        out.push_str(&print(measure));
        rest = &inner[end + 1..];
    }
    out.push_str(rest);
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::recipe::operation::MeasureValue;
    use tablefold_geometry::Length;

    fn measures() -> Vec<Measure> {
        let exact = |key, eighths: i64| Measure {
            key,
            value: MeasureValue::Exact(Length::from_nm(eighths * 3_175_000)),
        };
        vec![exact("first", 12), exact("second", 23)]
    }

    #[test]
    fn measures_stay_live_in_reworded_text() {
        let ruler = Ruler::inch(16);
        let text = fill("Set {first}, then { second }.", &measures(), |m| {
            m.value.text(&ruler)
        });
        assert_eq!(
            text.expect("both are measures"),
            "Set 1 1/2 in, then 2 7/8 in."
        );
    }

    #[test]
    fn a_wrong_brace_is_refused_with_what_would_do() {
        let said = |text: &str| check(text, &measures()).expect_err("refused").to_string();
        insta::assert_snapshot!(said("Set {third}."), @r#""{third}" is not a measure of this step. It has {first}, {second}."#);
        insta::assert_snapshot!(said("Set {first."), @r#"a brace stands alone in "{first.". Write a measure as {name}, or leave the brace out."#);
        insta::assert_snapshot!(said("Set first}."), @r#"a brace stands alone in "}.". Write a measure as {name}, or leave the brace out."#);
        let none = check("{x}", &[]).expect_err("refused").to_string();
        insta::assert_snapshot!(none, @r#""{x}" is not a measure of this step. This step has no measure: write the text without braces."#);
    }
}
