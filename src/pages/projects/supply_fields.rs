//! Ribbon and other bought things.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Ruler, Unit};

use crate::forms::{FormErrors, quoted_part, ribbon_text};
use crate::recipe::{ExtraSpec, RibbonSpec, RibbonStyle};
use crate::store::bench::Measured;
use crate::store::project_facts::Bench;

/// What was typed about ribbon and extras.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct SupplyFields {
    pub(super) ribbon: String,
    pub(super) ribbon_supply: String,
    pub(super) ribbon_new: String,
    pub(super) ribbon_bow: String,
    pub(super) extra_1: String,
    pub(super) extra_1_count: String,
    pub(super) extra_2: String,
    pub(super) extra_2_count: String,
    pub(super) extra_3: String,
    pub(super) extra_3_count: String,
    pub(super) extra_4: String,
    pub(super) extra_4_count: String,
    pub(super) extra_new: String,
    pub(super) extra_new_count: String,
}

/// The ways to use a ribbon.
pub(super) const RIBBONS: [(&str, &str); 4] = [
    ("", "No ribbon"),
    ("bow", "A bow stuck on"),
    ("wrap", "Once round, with a bow"),
    ("cross", "Crossed, with a bow"),
];

const STYLES: [(&str, Option<RibbonStyle>); 4] = [
    ("", None),
    ("bow", Some(RibbonStyle::Bow)),
    ("wrap", Some(RibbonStyle::Wrap)),
    ("cross", Some(RibbonStyle::Cross)),
];

impl Default for SupplyFields {
    fn default() -> Self {
        let one = || "1".to_owned();
        Self {
            ribbon: String::new(),
            ribbon_supply: String::new(),
            ribbon_new: String::new(),
            ribbon_bow: "8 in".to_owned(),
            extra_1: String::new(),
            extra_1_count: one(),
            extra_2: String::new(),
            extra_2_count: one(),
            extra_3: String::new(),
            extra_3_count: one(),
            extra_4: String::new(),
            extra_4_count: one(),
            extra_new: String::new(),
            extra_new_count: one(),
        }
    }
}

impl SupplyFields {
    /// The usual bow in the units of the bench.
    pub(super) fn usual(unit: Unit) -> Self {
        let mut fields = Self::default();
        if unit != Unit::Inch {
            fields.ribbon_bow = "20 cm".to_owned();
        }
        fields
    }

    /// The fields of a stored piece.
    pub(super) fn of(ribbon: Option<&RibbonSpec>, extras: &[ExtraSpec], ruler: &Ruler) -> Self {
        let mut fields = Self::usual(ruler.unit());
        if let Some(ribbon) = ribbon {
            let style = STYLES
                .iter()
                .find(|(_, style)| *style == Some(ribbon.style));
            fields.ribbon = style.map_or("", |(slug, _)| slug).to_owned();
            fields.ribbon_supply = ribbon.supply.to_string();
            fields.ribbon_bow = ribbon_text(ruler, ribbon.bow);
        }
        let slots = [
            (&mut fields.extra_1, &mut fields.extra_1_count),
            (&mut fields.extra_2, &mut fields.extra_2_count),
            (&mut fields.extra_3, &mut fields.extra_3_count),
            (&mut fields.extra_4, &mut fields.extra_4_count),
        ];
        for ((supply, count), extra) in slots.into_iter().zip(extras) {
            *supply = extra.supply.to_string();
            *count = extra.count.to_string();
        }
        fields
    }

    /// The ribbon that was typed: `Some(None)` is none, `None` an error.
    pub(super) fn read_ribbon(
        &self,
        bench: &Bench,
        unit: Unit,
        errors: &mut FormErrors,
    ) -> Option<Option<RibbonSpec>> {
        let Some(style) = errors.choice("ribbon", "Ribbon", &self.ribbon, &STYLES)? else {
            return Some(None);
        };
        let (field, label) = ("ribbon_supply", "Which ribbon");
        let supply = read_supply(
            (field, label),
            &self.ribbon_supply,
            bench,
            Measured::Length,
            errors,
        );
        let bow = errors.size("ribbon_bow", "Length for the bow", &self.ribbon_bow, unit);
        Some(Some(RibbonSpec {
            style,
            supply: supply?,
            bow: bow?,
        }))
    }

    /// Chooses a supply in the first free slot.
    pub(super) fn add_extra(&mut self, id: String, errors: &mut FormErrors) {
        let slots = [
            (&mut self.extra_1, &mut self.extra_1_count),
            (&mut self.extra_2, &mut self.extra_2_count),
            (&mut self.extra_3, &mut self.extra_3_count),
            (&mut self.extra_4, &mut self.extra_4_count),
        ];
        let label = "How many for each piece";
        let count = errors.count("extra_new_count", label, &self.extra_new_count, 1..=100);
        match slots.into_iter().find(|(supply, _)| supply.is_empty()) {
            Some((supply, number)) => {
                *supply = id;
                *number = count.unwrap_or(1).to_string();
            }
            None => errors.add(
                "extra_new",
                "New supply: all 4 places are taken. Choose \"Nothing\" in one of them first.",
            ),
        }
    }

    /// The extras that were typed.
    pub(super) fn read_extras(
        &self,
        bench: &Bench,
        errors: &mut FormErrors,
    ) -> Option<Vec<ExtraSpec>> {
        let mut extras = Vec::new();
        let mut is_good = true;
        for (field, count_field, supply, count) in self.slots() {
            if supply.is_empty() {
                continue;
            }
            let name = (field, "Other supply");
            let read = read_supply(name, supply, bench, Measured::Each, errors);
            let count = errors.count(count_field, "How many for each piece", count, 1..=100);
            match read.zip(count) {
                Some((supply, count)) => extras.push(ExtraSpec { supply, count }),
                None => is_good = false,
            }
        }
        is_good.then_some(extras)
    }

    /// Field, count field, and what was typed in both.
    pub(super) fn slots(&self) -> [(&'static str, &'static str, &str, &str); 4] {
        [
            (
                "extra_1",
                "extra_1_count",
                &self.extra_1,
                &self.extra_1_count,
            ),
            (
                "extra_2",
                "extra_2_count",
                &self.extra_2,
                &self.extra_2_count,
            ),
            (
                "extra_3",
                "extra_3_count",
                &self.extra_3,
                &self.extra_3_count,
            ),
            (
                "extra_4",
                "extra_4_count",
                &self.extra_4,
                &self.extra_4_count,
            ),
        ]
    }
}

/// A supply that was chosen, measured out as it has to be.
pub(super) fn read_supply(
    (field, label): (&'static str, &str),
    typed: &str,
    bench: &Bench,
    measured: Measured,
    errors: &mut FormErrors,
) -> Option<i64> {
    let id = typed.parse().ok();
    let found = bench.supplies.iter().find(|supply| Some(supply.id) == id);
    let wrong = match found {
        Some(supply) if supply.it.measured == measured => return Some(supply.id),
        Some(supply) => {
            let how = match measured {
                Measured::Each => "counted",
                Measured::Length => "cut by length",
            };
            format!(
                "{label}: \"{}\" is not {how}. Choose a supply that is, or add one to the bench.",
                quoted_part(&supply.it.name)
            )
        }
        None if typed.is_empty() => {
            format!("{label}: nothing is chosen. Choose a supply, or add one to the bench.")
        }
        None => format!(
            "{label}: \"{}\" is not on the bench any more. Choose another one.",
            quoted_part(typed)
        ),
    };
    errors.add(field, wrong);
    None
}
