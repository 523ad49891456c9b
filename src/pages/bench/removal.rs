//! Why something can't be removed: where it is used.

use crate::store::bench::Use;

/// `None` where nothing uses it.
pub(crate) fn refusal(what: &str, uses: &[Use]) -> Option<String> {
    let list: Vec<String> = uses
        .iter()
        .map(|used| format!("the {} \"{}\"", used.kind, used.title))
        .collect();
    let (last, first) = list.split_last()?;
    let places = if first.is_empty() {
        last.clone()
    } else {
        format!("{} and {last}", first.join(", "))
    };
    Some(format!(
        "This {what} is used in {places}. Choose another one there first, then remove it here."
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn used(title: &str) -> Use {
        Use {
            kind: "project".to_owned(),
            id: 1,
            title: title.to_owned(),
        }
    }

    #[test]
    fn every_use_is_named() {
        assert_eq!(refusal("paper", &[]), None);
        let one = refusal("paper", &[used("Seed swap")]).unwrap_or_default();
        insta::assert_snapshot!(one, @r#"This paper is used in the project "Seed swap". Choose another one there first, then remove it here."#);
        let three = [used("A"), used("B"), used("C")];
        insta::assert_snapshot!(refusal("paper", &three).unwrap_or_default(), @r#"This paper is used in the project "A", the project "B" and the project "C". Choose another one there first, then remove it here."#);
    }
}
