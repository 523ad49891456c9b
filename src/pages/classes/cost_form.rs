//! The fields of a class's money.

use serde::{Deserialize, Serialize};
use tablefold_geometry::Ruler;

use crate::forms::{FormErrors, length_text};
use crate::workshop::{ClassMoney, Consumables, Currency};

/// What was typed.
#[derive(Clone, Debug, Default, Deserialize, Serialize)]
#[serde(default)]
pub(super) struct CostForm {
    pub(super) version: i64,
    pub(super) fee: String,
    pub(super) margin: String,
    pub(super) venue: String,
    pub(super) hourly_rate: String,
    pub(super) own_minutes: String,
    pub(super) consumables: String,
    pub(super) adhesive: String,
    pub(super) dots_apart: String,
}

impl CostForm {
    /// The form of what is stored.
    pub(super) fn of(money: &ClassMoney, version: i64, ruler: &Ruler, currency: Currency) -> Self {
        let price = |price: Option<u64>| price.map_or_else(String::new, |it| currency.price(it));
        let number = |number: Option<u32>| number.map_or_else(String::new, |it| it.to_string());
        Self {
            version,
            fee: price(money.fee_minor),
            margin: number(money.margin),
            venue: price(money.venue_minor),
            hourly_rate: price(money.rate_minor),
            own_minutes: number(money.own_minutes),
            consumables: money.consumables.slug().to_owned(),
            adhesive: money.adhesive.map_or_else(String::new, |id| id.to_string()),
            dots_apart: length_text(ruler, money.dots_apart),
        }
    }

    /// What was typed; `supplies` are the adhesives to choose from.
    pub(super) fn read(
        &self,
        supplies: &[(String, String)],
        (ruler, currency): (&Ruler, Currency),
        errors: &mut FormErrors,
    ) -> Option<ClassMoney> {
        let fee = errors.optional_money("fee", "Fee", &self.fee, currency);
        let margin = optional_count("margin", "Margin", &self.margin, 90, errors);
        let venue = errors.optional_money("venue", "Venue", &self.venue, currency);
        let rate = errors.optional_money(
            "hourly_rate",
            "An hour of yours",
            &self.hourly_rate,
            currency,
        );
        let minutes = optional_count(
            "own_minutes",
            "Your minutes",
            &self.own_minutes,
            100_000,
            errors,
        );
        let offered = Consumables::ALL.map(|it| (it.slug(), it));
        let consumables =
            errors.choice("consumables", "Supplies cost", &self.consumables, &offered);
        let offered: Vec<(&str, Option<i64>)> = supplies
            .iter()
            .map(|(id, _)| (id.as_str(), id.parse().ok()))
            .collect();
        let adhesive = errors.choice("adhesive", "Joints", &self.adhesive, &offered);
        let apart = errors.size(
            "dots_apart",
            "One dot every",
            &self.dots_apart,
            ruler.unit(),
        );
        Some(ClassMoney {
            fee_minor: fee?,
            margin: margin?,
            venue_minor: venue?,
            rate_minor: rate?,
            own_minutes: minutes?,
            consumables: consumables?,
            adhesive: adhesive?,
            dots_apart: apart?,
        })
    }
}

/// A whole number that may be left out: `Some(None)`; `None` is an error.
fn optional_count(
    field: &'static str,
    label: &str,
    typed: &str,
    most: u32,
    errors: &mut FormErrors,
) -> Option<Option<u32>> {
    if typed.trim().is_empty() {
        return Some(None);
    }
    errors.count(field, label, typed, 0..=most).map(Some)
}
