//! Settings: what is set on the tools to make one structure, as named lengths.
//!
//! Written as one JSON object: `{"structure": "box", "sheet": "133.35 mm", "punch_1": ..}`.

use std::collections::BTreeMap;
use std::fmt;

use serde::de::Error as _;
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;

use super::{StructureError, StructureKind, StructureProblem, Tools};
use crate::Length;

/// No structure has more settings.
pub(crate) const MOST_SETTINGS: usize = 12;

/// The tool that a setting is set on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SetOn {
    /// A side of the sheet, cut on the trimmer.
    Sheet,
    /// A punch along the punch board's fence.
    PunchBoard,
    /// A score, by its distance from an edge of the sheet.
    Score,
    /// A cut on the trimmer into the sheet or off it.
    Trimmer,
    /// Drawn round a template or on one.
    Template,
}

impl SetOn {
    /// The tool in a sentence.
    #[must_use]
    pub const fn tool(self) -> &'static str {
        match self {
            Self::Sheet | Self::Trimmer => "trimmer",
            Self::PunchBoard => "punch board",
            Self::Score => "score board",
            Self::Template => "template",
        }
    }
}

/// One setting of a structure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SettingField {
    /// Its key in JSON and in forms: `punch_1`.
    pub key: &'static str,
    /// What it is called: "punch 1".
    pub name: &'static str,
    /// What it is set on.
    pub tool: SetOn,
}

impl SettingField {
    /// A field whose key is its name with underscores.
    pub(crate) const fn new(key: &'static str, name: &'static str, tool: SetOn) -> Self {
        Self { key, name, tool }
    }
}

/// An opening that a structure has if it is asked for: a window, a slot for a hand. Its size is a
/// setting after all others, which may be left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Opening {
    /// The setting.
    pub field: SettingField,
    /// What it is called in a form: "Window in the lid".
    pub label: &'static str,
    /// What is measured, and what is there without it.
    pub hint: &'static str,
    /// How the piece is kept shut with it, where that is another way than without.
    pub closing: Option<&'static str>,
}

/// What is set on the tools to make one structure.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Settings {
    kind: StructureKind,
    /// In the order of the structure's fields, then its opening; zero beyond them.
    at: [Length; MOST_SETTINGS],
}

impl Settings {
    /// Settings in the order of [`StructureKind::fields`], and then the opening if it has one;
    /// `None` if they are more or fewer.
    #[must_use]
    pub fn new(kind: StructureKind, lengths: &[Length]) -> Option<Self> {
        let mut at = [Length::ZERO; MOST_SETTINGS];
        let opening = usize::from(kind.opening().is_some());
        let further = lengths.len().checked_sub(kind.fields().len())?;
        if further > opening {
            return None;
        }
        at.get_mut(..lengths.len())?.copy_from_slice(lengths);
        Some(Self { kind, at })
    }

    /// Settings of a structure that knows its own fields; what is left out is zero, which every
    /// structure refuses.
    pub(crate) fn of(kind: StructureKind, lengths: &[Length]) -> Self {
        let mut at = [Length::ZERO; MOST_SETTINGS];
        for (slot, length) in at.iter_mut().zip(lengths) {
            *slot = *length;
        }
        Self { kind, at }
    }

    /// Which structure they make.
    #[must_use]
    pub const fn kind(&self) -> StructureKind {
        self.kind
    }

    /// The same with an opening so large, or without; a structure that never has one stays as it
    /// is.
    #[must_use]
    pub fn with_opening(mut self, opening: Option<Length>) -> Self {
        let place = self.kind.fields().len();
        let offered = self.kind.opening().is_some();
        if let Some(slot) = self.at.get_mut(place).filter(|_| offered) {
            *slot = opening.unwrap_or_default();
        }
        self
    }

    /// How large its opening is, if it has one.
    #[must_use]
    pub fn opening(&self) -> Option<Length> {
        let at = self.at.get(self.kind.fields().len()).copied();
        at.filter(|at| *at != Length::ZERO && self.kind.opening().is_some())
    }

    /// How the piece is kept shut, if by a feature of its own.
    #[must_use]
    pub fn closing(&self) -> Option<&'static str> {
        let with_opening = self.opening().and(self.kind.opening());
        let own = with_opening.and_then(|opening| opening.closing);
        own.or(self.kind.closing())
    }

    /// Each setting with its field, in the order of the hands, and the opening if it has one.
    pub fn each(&self) -> impl Iterator<Item = (&'static SettingField, Length)> + '_ {
        let opening = self.kind.opening().map(|opening| &opening.field);
        let fields = self.kind.fields().iter().zip(self.at);
        fields.chain(opening.zip(self.opening()))
    }

    /// Each setting with its name, in the order of the hands.
    #[must_use]
    pub fn list(&self) -> Vec<(&'static str, Length)> {
        self.each().map(|(field, at)| (field.name, at)).collect()
    }

    /// The settings of one tool, in the order of the hands.
    #[must_use]
    pub fn on(&self, tool: SetOn) -> Vec<Length> {
        let of_tool = self.each().filter(|(field, _)| field.tool == tool);
        of_tool.map(|(_, at)| at).collect()
    }

    /// The setting with that key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<Length> {
        let found = self.each().find(|(field, _)| field.key == key);
        found.map(|(_, at)| at)
    }

    /// Whether each is a length at all, and each that is set on a tool but the trimmer a mark of
    /// its ruler. (Sheets are cut from what is at hand; who cuts them checks the trimmer.)
    pub(crate) fn check_marks(&self, tools: &Tools, caliper: Length) -> Result<(), StructureError> {
        let usable = |length| length > Length::ZERO && length <= Length::MAX;
        let of_paper = ("caliper", caliper, tools.main_ruler());
        let all = self.each().map(|(field, at)| {
            let ruler = tools.ruler(field.tool).unwrap_or(tools.main_ruler());
            (field.key, at, ruler)
        });
        if let Some((field, asked, ruler)) = all.chain([of_paper]).find(|it| !usable(it.1)) {
            let problem = StructureProblem::Length { field, asked };
            return Err(StructureError::new(problem, ruler));
        }
        for (field, asked) in self.each() {
            let set = matches!(field.tool, SetOn::Score | SetOn::PunchBoard);
            let Some(ruler) = tools.ruler(field.tool).filter(|_| set) else {
                continue;
            };
            if !ruler.has(asked) {
                let (field, tool) = (field.key, field.tool);
                let problem = StructureProblem::OffRuler { field, tool, asked };
                return Err(StructureError::new(problem, ruler));
            }
        }
        Ok(())
    }

    /// The first `N` settings.
    pub(crate) fn first<const N: usize>(&self) -> [Length; N] {
        std::array::from_fn(|index| self.at.get(index).copied().unwrap_or_default())
    }
}

impl fmt::Debug for Settings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut shown = f.debug_struct(self.kind.slug());
        for (field, at) in self.each() {
            shown.field(field.key, &at);
        }
        shown.finish()
    }
}

impl Serialize for Settings {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.each().count() + 1))?;
        map.serialize_entry("structure", &self.kind)?;
        for (field, at) in self.each() {
            map.serialize_entry(field.key, &at)?;
        }
        map.end()
    }
}

impl<'de> Deserialize<'de> for Settings {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let mut given = BTreeMap::<String, Value>::deserialize(deserializer)?;
        let kind = given.remove("structure");
        let kind = kind.ok_or(D::Error::missing_field("structure"))?;
        let kind: StructureKind = serde_json::from_value(kind).map_err(D::Error::custom)?;
        let opening = kind.opening().map(|opening| &opening.field);
        let opening = opening.filter(|field| given.contains_key(field.key));
        let mut take = |key: &'static str| given.remove(key).ok_or(D::Error::missing_field(key));
        let lengths: Result<Vec<Length>, D::Error> = kind
            .fields()
            .iter()
            .chain(opening)
            .map(|field| {
                let wrong = |error| D::Error::custom(format_args!("{}: {error}", field.key));
                serde_json::from_value(take(field.key)?).map_err(wrong)
            })
            .collect();
        Ok(Self::of(kind, &lengths?))
    }
}
