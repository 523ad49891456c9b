//! The fields of a step.

use serde::{Deserialize, Serialize};

use crate::forms::{FormErrors, quoted_part};
use crate::recipe::{Measure, Phase, Step, StepEdit, check_wording};

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct StepForm {
    pub(super) version: String,
    pub(super) once: String,
    pub(super) title: String,
    pub(super) text: String,
    pub(super) tip: String,
    pub(super) minutes: String,
    pub(super) phase: String,
    pub(super) hidden: Option<String>,
    /// For a new step: the key of the step before it.
    pub(super) after: String,
}

/// When a step is done, with the words of the form.
pub(super) const PHASES: [(&str, &str); 2] = [
    ("prep", "Before the class, by you"),
    ("class", "In class, by each attendee"),
];

impl StepForm {
    /// The form of a step as it reads now.
    pub(super) fn of(step: &Step, version: i64) -> Self {
        let operation = &step.operation;
        Self {
            version: version.to_string(),
            once: String::new(),
            title: step.typed_title.clone(),
            text: operation.text.clone(),
            tip: operation.tip.clone(),
            minutes: minutes_text(operation.seconds),
            phase: phase_slug(operation.phase).to_owned(),
            hidden: step.hidden.then(|| "yes".to_owned()),
            after: String::new(),
        }
    }

    /// An empty form for an own step behind the last one.
    pub(super) fn new_after(last: String) -> Self {
        Self {
            minutes: "2".to_owned(),
            phase: "class".to_owned(),
            after: last,
            ..Self::default()
        }
    }

    /// The step that was typed, all of it; measures are those that the step has.
    pub(super) fn read(&self, measures: &[Measure], errors: &mut FormErrors) -> Option<StepEdit> {
        let title = errors.text("title", "Title", &self.title, 60);
        let title = title.and_then(|title| worded("title", "Title", title, measures, errors));
        let text = errors.lines("text", "What to do", &self.text, 1000);
        let text = text.and_then(|text| worded("text", "What to do", text, measures, errors));
        let tip = errors.lines("tip", "Tip", &self.tip, 400);
        let tip = tip.and_then(|tip| worded("tip", "Tip", tip, measures, errors));
        let seconds = errors.keep("minutes", "Minutes", read_minutes(&self.minutes));
        let phases = [("prep", Phase::Prep), ("class", Phase::Class)];
        let phase = errors.choice("phase", "When", &self.phase, &phases);
        Some(StepEdit {
            key: String::new(),
            title: Some(title?),
            text: Some(text?),
            tip: Some(tip?),
            hidden: self.hidden.is_some(),
            phase: Some(phase?),
            position: None,
            seconds: Some(seconds?),
        })
    }
}

/// Leaves out what is as the recipe has it, so that it stays live.
pub(super) fn only_changes(edit: StepEdit, step: &Step) -> StepEdit {
    let default = &step.operation;
    let text = |typed: Option<String>, usual: &str| typed.filter(|typed| typed != usual);
    StepEdit {
        title: text(edit.title, &step.typed_title),
        text: text(edit.text, &default.text),
        tip: text(edit.tip, &default.tip),
        phase: edit.phase.filter(|phase| *phase != default.phase),
        seconds: edit.seconds.filter(|seconds| *seconds != default.seconds),
        ..edit
    }
}

fn worded(
    field: &'static str,
    label: &str,
    text: String,
    measures: &[Measure],
    errors: &mut FormErrors,
) -> Option<String> {
    let checked = check_wording(&text, measures).map(|()| text);
    errors.keep(field, label, checked)
}

pub(super) fn phase_slug(phase: Phase) -> &'static str {
    match phase {
        Phase::Prep => "prep",
        Phase::Class => "class",
    }
}

/// Seconds as minutes with up to two decimals; reads back as the same seconds.
pub(super) fn minutes_text(seconds: u32) -> String {
    let hundredths = (u64::from(seconds) * 100 + 30) / 60;
    let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Minutes as typed, in seconds: from 1 second to 4 hours.
fn read_minutes(typed: &str) -> Result<u32, String> {
    let wrong = |what: &str| {
        Err(format!(
            "\"{}\" is {what}. Type a number from 0.02 to 240, such as 1.5.",
            quoted_part(typed)
        ))
    };
    let Some(minutes) = minutes_of(typed.trim()) else {
        return wrong("not a number of minutes");
    };
    if minutes < 0.015 {
        return wrong("too few");
    }
    if minutes > 240.0 {
        return wrong("too many");
    }
    // At most 240 × 60.
    Ok((minutes * 60.0).round().max(1.0) as u32)
}

/// `1.5`, `1,5`, `1 1/2` or `1/2`: pages print halves of a minute as fractions.
fn minutes_of(text: &str) -> Option<f64> {
    let number = |text: &str| {
        let plain = text.len() <= 8 && text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        text.parse::<f64>().ok().filter(|_| plain)
    };
    let Some((rest, under)) = text.split_once('/') else {
        return number(&text.replace(',', "."));
    };
    let (whole, over) = rest.trim_end().rsplit_once(' ').unwrap_or(("0", rest));
    let under = number(under.trim_start()).filter(|under| *under >= 1.0)?;
    Some(number(whole.trim_end())? + number(over.trim_end())? / under)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_of_a_minute_read_as_pages_print_them() {
        let typed = ["1 1/2", "1.5", "1,5", "1/2", " 2 3/4 "];
        let seconds = typed.map(|typed| read_minutes(typed).unwrap());
        assert_eq!(seconds, [90, 90, 90, 30, 165]);
        for typed in ["1/0", "/2", "1 /", "1//2", "-1/2", "1/2/3"] {
            assert!(read_minutes(typed).is_err(), "{typed}");
        }
    }

    #[test]
    fn minutes_read_back_as_the_same_seconds() {
        for seconds in 1..=14_400 {
            let text = minutes_text(seconds);
            assert_eq!(read_minutes(&text), Ok(seconds), "{text}");
        }
    }

    #[test]
    fn what_is_no_time_is_refused() {
        let said = |typed| read_minutes(typed).err().unwrap_or_default();
        insta::assert_snapshot!(said("🌱"), @r#""🌱" is not a number of minutes. Type a number from 0.02 to 240, such as 1.5."#);
        insta::assert_snapshot!(said("0"), @r#""0" is too few. Type a number from 0.02 to 240, such as 1.5."#);
        insta::assert_snapshot!(said("999"), @r#""999" is too many. Type a number from 0.02 to 240, such as 1.5."#);
        insta::assert_snapshot!(said("1e9"), @r#""1e9" is not a number of minutes. Type a number from 0.02 to 240, such as 1.5."#);
        insta::assert_snapshot!(said("-3"), @r#""-3" is not a number of minutes. Type a number from 0.02 to 240, such as 1.5."#);
    }
}
