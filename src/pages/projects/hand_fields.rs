//! Settings chosen by hand in place of the computed ones: a field for each setting of the
//! structure, called `at_` and the setting's key.

use std::collections::BTreeMap;

use serde::{Deserialize, Deserializer, Serialize};
use tablefold_geometry::{Length, Ruler, SetOn, SettingField, Settings, StructureKind};

use crate::forms::{FormErrors, length_text};
use crate::recipe::{ProjectFacts, capital};

/// What was typed, by field; all empty means computed.
#[derive(Clone, Debug, Default, Serialize)]
#[serde(transparent)]
pub(super) struct HandFields(BTreeMap<String, String>);

/// A form's other fields pass by here too, since these are named by the structures.
impl<'de> Deserialize<'de> for HandFields {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let all = BTreeMap::<String, String>::deserialize(deserializer)?;
        let known = StructureKind::all().iter().flat_map(|kind| kind.fields());
        let names: Vec<String> = known.map(field_name).collect();
        let own = all.into_iter().filter(|(name, _)| names.contains(name));
        Ok(Self(own.collect()))
    }
}

/// The name of a setting's field.
pub(super) fn field_name(field: &SettingField) -> String {
    format!("at_{}", field.key)
}

impl HandFields {
    /// The fields of a stored piece.
    pub(super) fn of(settings: Option<Settings>, ruler: &Ruler) -> Self {
        let each = settings.iter().flat_map(Settings::each);
        Self(
            each.map(|(field, at)| (field_name(field), length_text(ruler, at)))
                .collect(),
        )
    }

    /// Name, label and what was typed, for each setting of a structure.
    pub(super) fn fields(&self, kind: StructureKind) -> Vec<(String, String, String)> {
        let fields = kind.fields().iter();
        fields
            .map(|field| {
                let name = field_name(field);
                let typed = self.0.get(&name).cloned().unwrap_or_default();
                (name, capital(field.name), typed)
            })
            .collect()
    }

    /// Whether nothing is typed for that structure.
    pub(super) fn is_empty(&self, kind: StructureKind) -> bool {
        let typed = |field| self.0.get(&field_name(field));
        let mut all = kind.fields().iter().filter_map(typed);
        all.all(|typed| typed.trim().is_empty())
    }

    /// Forgets what was typed.
    pub(super) fn clear(&mut self) {
        self.0.clear();
    }

    /// The settings that were typed: `Some(None)` is none, `None` an error.
    pub(super) fn read(
        &self,
        kind: StructureKind,
        project: &ProjectFacts,
        errors: &mut FormErrors,
    ) -> Option<Option<Settings>> {
        if self.is_empty(kind) {
            return Some(None);
        }
        let read = |field: &SettingField| {
            let ruler = match field.tool {
                SetOn::Sheet | SetOn::Trimmer => project.trimmer.ruler(),
                SetOn::PunchBoard => project.board.ruler(),
                SetOn::Score | SetOn::Template => &project.score_ruler,
            };
            let name = field_name(field);
            let typed = self.0.get(&name).map_or("", String::as_str);
            let label = capital(field.name);
            mark((name, &label), typed, (field.tool.tool(), ruler), errors)
        };
        // All are read, so that all errors show at once.
        let lengths: Vec<Option<Length>> = kind.fields().iter().map(read).collect();
        let lengths: Option<Vec<Length>> = lengths.into_iter().collect();
        Settings::new(kind, &lengths?).map(Some)
    }
}

/// A setting that is a mark of the tool's ruler.
fn mark(
    (field, label): (String, &str),
    typed: &str,
    (tool, ruler): (&str, &Ruler),
    errors: &mut FormErrors,
) -> Option<Length> {
    let length = errors.size(field.clone(), label, typed, ruler.unit())?;
    if ruler.has(length) {
        return Some(length);
    }
    let near = [ruler.down(length.mm()), ruler.up(length.mm())];
    let mut marks: Vec<String> = near
        .into_iter()
        .flatten()
        .map(|at| ruler.text(at))
        .collect();
    marks.dedup();
    let (is, those) = if marks.len() == 1 {
        ("mark is", "it")
    } else {
        ("marks are", "one of them")
    };
    errors.add(
        field,
        format!(
            "{label}: \"{}\" is not a mark of the {tool}'s ruler. The nearest {is} {}. Type {those}.",
            crate::forms::quoted_part(typed),
            marks.join(" and "),
        ),
    );
    None
}
