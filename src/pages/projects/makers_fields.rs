//! Whose hands make a project, and how many of 100 should succeed.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Hands, Length, Operation, Ruler, Unit};

use crate::forms::{FormErrors, length_text, quoted_part};
use crate::recipe::{ProjectFacts, capital};

/// Hands are off by no more than this, 95 of 100 times: twice what geometry takes.
const MOST: Length = Length::from_mm(20);

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct MakersFields {
    pub(super) hands: String,
    pub(super) wanted_of_100: String,
    pub(super) within_cut: String,
    pub(super) within_score: String,
    pub(super) within_punch: String,
    pub(super) within_calibration: String,
    pub(super) within_draw: String,
    pub(super) within_fold: String,
}

/// Whose hands, in words.
pub(super) const HANDS: [(&str, &str); 3] = [
    ("beginner", "Beginners: within 1/32 in or 0.8 mm"),
    ("practised", "Practised hands: within 1/64 in or 0.4 mm"),
    ("own", "My own numbers, below"),
];

impl MakersFields {
    /// The fields of a stored project.
    pub(super) fn of(hands: Option<Hands>, wanted_of_100: u32, ruler: &Ruler) -> Self {
        let known = hands.unwrap_or(Hands::beginner());
        let slug = if known == Hands::beginner() {
            "beginner"
        } else if known == Hands::practised() {
            "practised"
        } else {
            "own"
        };
        let mut fields = Self {
            hands: slug.to_owned(),
            wanted_of_100: wanted_of_100.to_string(),
            ..Self::default()
        };
        for operation in Operation::ALL {
            let within = length_text(ruler, known.deviation(operation) * 2);
            *fields.slot(operation) = within;
        }
        fields
    }

    fn slot(&mut self, operation: Operation) -> &mut String {
        match operation {
            Operation::Cut => &mut self.within_cut,
            Operation::Score => &mut self.within_score,
            Operation::Punch => &mut self.within_punch,
            Operation::Calibration => &mut self.within_calibration,
            Operation::Draw => &mut self.within_draw,
            Operation::Fold => &mut self.within_fold,
        }
    }

    /// Name, label and what was typed for each operation.
    pub(super) fn fields(&self) -> [(&'static str, String, &str); 6] {
        let label = |operation: Operation| capital(operation.name());
        [
            ("within_cut", label(Operation::Cut), &self.within_cut),
            ("within_score", label(Operation::Score), &self.within_score),
            ("within_punch", label(Operation::Punch), &self.within_punch),
            (
                "within_calibration",
                label(Operation::Calibration),
                &self.within_calibration,
            ),
            ("within_draw", label(Operation::Draw), &self.within_draw),
            ("within_fold", label(Operation::Fold), &self.within_fold),
        ]
    }

    /// The hands that were typed, `Some(None)` for those of beginners, and how many of 100; what
    /// was not sent at all is usual.
    pub(super) fn read(&self, unit: Unit, errors: &mut FormErrors) -> Option<(Option<Hands>, u32)> {
        let wanted = match self.wanted_of_100.trim() {
            "" => Some(ProjectFacts::USUAL_SHARE),
            typed => errors.count(
                "wanted_of_100",
                "How many of 100 should succeed",
                typed,
                1..=99,
            ),
        };
        let hands = match self.hands.as_str() {
            "" => Some(None),
            typed => {
                let offered = HANDS.map(|(slug, _)| (slug, slug));
                match errors.choice("hands", "Whose hands", typed, &offered)? {
                    "beginner" => Some(None),
                    "practised" => Some(Some(Hands::practised())),
                    _ => self.read_own(unit, errors).map(Some),
                }
            }
        };
        Some((hands?, wanted?))
    }

    fn read_own(&self, unit: Unit, errors: &mut FormErrors) -> Option<Hands> {
        let mut hands = Some(Hands::beginner());
        for (operation, (field, label, typed)) in Operation::ALL.into_iter().zip(self.fields()) {
            let within = errors.length(field, &label, typed, unit);
            let half = within.map(|within| Length::from_nm(within.nm() / 2));
            let set = half
                .zip(hands)
                .map(|(half, hands)| hands.with(operation, half));
            hands = match set {
                Some(Ok(hands)) => Some(hands),
                Some(Err(_)) => {
                    errors.add(
                        field,
                        format!(
                            "{label}: \"{}\" is more than hands are off. Type a length from 0 to {}, such as 0.8 mm.",
                            quoted_part(typed),
                            MOST.exact_text()
                        ),
                    );
                    None
                }
                None => None,
            };
        }
        hands
    }
}
