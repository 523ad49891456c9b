//! Removing asks first, on a page of its own; what is used somewhere stays, and the page says
//! where.

use askama::Template;
use axum::response::{IntoResponse, Response};

use super::{Nav, Page};
use crate::store::bench::Use;

/// Asks whether to remove something, or says why it stays.
#[derive(Template)]
#[template(path = "remove.html")]
pub(crate) struct RemovalPage {
    pub(crate) nav: Nav,
    /// What it is: "paper".
    pub(crate) what: &'static str,
    pub(crate) name: String,
    /// What goes with it and what stays, in sentences.
    pub(crate) goes: String,
    /// Why it can't be removed.
    pub(crate) refusal: Option<String>,
    pub(crate) action: String,
    /// Where it is kept and edited.
    pub(crate) keep: String,
}

impl RemovalPage {
    /// The question, before anything was sent.
    pub(crate) fn ask(self) -> Response {
        Page::ok(self).into_response()
    }

    /// After the answer: the page again where it is refused.
    pub(crate) fn refused(self) -> Option<Response> {
        let is_refused = self.refusal.is_some();
        is_refused.then(|| Page::invalid(self).into_response())
    }
}

/// "the project \"A\" and the class \"B\""; `None` where nothing uses it.
pub(crate) fn places(uses: &[Use]) -> Option<String> {
    let list: Vec<String> = uses
        .iter()
        .map(|used| format!("the {} \"{}\"", used.kind, used.title))
        .collect();
    let (last, first) = list.split_last()?;
    Some(if first.is_empty() {
        last.clone()
    } else {
        format!("{} and {last}", first.join(", "))
    })
}

/// `None` where nothing uses it.
pub(crate) fn refusal(what: &str, uses: &[Use]) -> Option<String> {
    let places = places(uses)?;
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
