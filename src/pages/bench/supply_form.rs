//! The fields of a supply.

use serde::{Deserialize, Serialize};
use tablefold_geometry::Ruler;

use crate::forms::{FormErrors, spools_text};
use crate::store::bench::{BenchSupply, Measured};
use crate::workshop::Currency;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct SupplyForm {
    pub(super) version: String,
    pub(super) once: String,
    pub(super) name: String,
    pub(super) measured: String,
    pub(super) on_hand: String,
    pub(super) price: String,
}

/// How supplies are measured out, for the select.
pub(super) const MEASURED: [(&str, &str); 2] = [
    ("each", "Counted: tins, packets, stickers"),
    ("length", "By length: ribbon, twine"),
];

impl SupplyForm {
    /// A form for a new supply.
    pub(super) fn empty() -> Self {
        Self {
            measured: "each".to_owned(),
            on_hand: "0".to_owned(),
            ..Self::default()
        }
    }

    /// The form of a stored supply.
    pub(super) fn of(
        supply: &BenchSupply,
        version: i64,
        ruler: &Ruler,
        currency: Currency,
    ) -> Self {
        let on_hand = match supply.measured {
            Measured::Each => supply.on_hand.to_string(),
            Measured::Length => spools_text(ruler, &supply.spools),
        };
        Self {
            version: version.to_string(),
            once: String::new(),
            name: supply.name.clone(),
            measured: supply.measured.slug().to_owned(),
            on_hand,
            price: supply
                .price_minor
                .map_or_else(String::new, |price| currency.price(price)),
        }
    }

    /// The supply that was typed. `kept` is how a stored one is measured, which stays.
    pub(super) fn read(
        &self,
        (ruler, currency): (&Ruler, Currency),
        kept: Option<Measured>,
        errors: &mut FormErrors,
    ) -> Option<BenchSupply> {
        let name = errors.text("name", "Name", &self.name, 80);
        let offered = [Measured::Each, Measured::Length].map(|by| (by.slug(), by));
        let measured =
            kept.or_else(|| errors.choice("measured", "Measured", &self.measured, &offered));
        let (on_hand, spools) = match measured? {
            Measured::Each => {
                let count = errors.count("on_hand", "On hand", &self.on_hand, 0..=100_000);
                (count, Some(Vec::new()))
            }
            Measured::Length => {
                let spools = errors.spools("on_hand", "On hand", &self.on_hand, ruler.unit());
                (Some(0), spools)
            }
        };
        let price = errors.optional_money("price", "Price", &self.price, currency);
        Some(BenchSupply {
            name: name?,
            measured: measured?,
            price_minor: price?,
            on_hand: on_hand?,
            spools: spools?,
        })
    }
}
