//! The mats on the front of a card.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Ruler, Serves, StructureKind, Unit};

use super::trimming_fields::ROLE_CHARS;
use crate::forms::{FormErrors, length_text};
use crate::recipe::MatsSpec;

/// What was typed; only a card reads it.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct MatsFields {
    pub(super) mats: String,
    pub(super) mats_reveal: String,
    pub(super) mats_role_1: String,
    pub(super) mats_role_2: String,
}

impl Default for MatsFields {
    fn default() -> Self {
        Self {
            mats: String::new(),
            mats_reveal: "1/8 in".to_owned(),
            mats_role_1: "accent".to_owned(),
            mats_role_2: "main".to_owned(),
        }
    }
}

/// How many, with their words.
pub(super) const MATS: [(&str, &str); 3] = [
    ("", "No mats"),
    ("1", "One mat"),
    ("2", "Two, one on the other"),
];

impl MatsFields {
    /// The usual reveal in the units of the bench (common practice, no source).
    pub(super) fn usual(unit: Unit) -> Self {
        let mut fields = Self::default();
        if unit != Unit::Inch {
            fields.mats_reveal = "3 mm".to_owned();
        }
        fields
    }

    /// The fields of a stored piece.
    pub(super) fn of(mats: Option<&MatsSpec>, ruler: &Ruler) -> Self {
        let mut fields = Self::usual(ruler.unit());
        if let Some(mats) = mats {
            fields.mats = mats.roles.len().to_string();
            fields.mats_reveal = length_text(ruler, mats.reveal);
            let roles = [&mut fields.mats_role_1, &mut fields.mats_role_2];
            for (field, role) in roles.into_iter().zip(&mats.roles) {
                field.clone_from(role);
            }
        }
        fields
    }

    /// Each field with what was typed, for a structure that shows none of them.
    pub(super) fn hidden(&self) -> [(&'static str, &str); 4] {
        [
            ("mats", &self.mats),
            ("mats_reveal", &self.mats_reveal),
            ("mats_role_1", &self.mats_role_1),
            ("mats_role_2", &self.mats_role_2),
        ]
    }

    /// Whether a structure has a front for them.
    pub(super) fn suit(kind: StructureKind) -> bool {
        kind.serves() == Serves::Cards
    }

    /// The mats that were typed: `Some(None)` is none, `None` an error.
    pub(super) fn read(
        &self,
        kind: StructureKind,
        unit: Unit,
        errors: &mut FormErrors,
    ) -> Option<Option<MatsSpec>> {
        if !Self::suit(kind) {
            return Some(None);
        }
        let offered = MATS.map(|(slug, _)| (slug, slug));
        let count = errors.choice("mats", "Mats on the front", &self.mats, &offered)?;
        let papers = [
            ("mats_role_1", "Paper of the first mat", &self.mats_role_1),
            ("mats_role_2", "Paper of the second mat", &self.mats_role_2),
        ];
        let papers = match count {
            "1" => &papers[..1],
            "2" => &papers[..],
            _ => return Some(None),
        };
        let reveal = errors.size("mats_reveal", "Reveal of each mat", &self.mats_reveal, unit);
        let mut read = |(field, label, typed): (&'static str, &str, &String)| {
            errors.text(field, label, typed, ROLE_CHARS)
        };
        let roles: Vec<Option<String>> = papers.iter().map(|paper| read(*paper)).collect();
        Some(Some(MatsSpec {
            reveal: reveal?,
            roles: roles.into_iter().collect::<Option<_>>()?,
        }))
    }
}
