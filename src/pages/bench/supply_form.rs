//! The fields of a supply.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Ruler, Unit};

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

/// A yard in ten-thousandths of a metre (exact since 1959).
const YARD: u64 = 9144;

/// A price as the bench says it: of one, of a metre, or on an inch bench of a yard. Prices are
/// stored by the metre; rounding there is finer than what is shown, so nothing typed is lost.
pub(super) fn shown_price(supply: &BenchSupply, ruler: &Ruler) -> Option<u64> {
    let price = supply.price_minor?;
    Some(match is_by_the_yard(supply.measured, ruler) {
        true => (price * YARD + 5000) / 10_000,
        false => price,
    })
}

fn stored_price(typed: u64, measured: Measured, ruler: &Ruler) -> u64 {
    match is_by_the_yard(measured, ruler) {
        true => (typed * 10_000 + YARD / 2) / YARD,
        false => typed,
    }
}

pub(super) fn is_by_the_yard(measured: Measured, ruler: &Ruler) -> bool {
    measured == Measured::Length && ruler.unit() == Unit::Inch
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
            price: shown_price(supply, ruler)
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
        let measured = kept.or_else(|| {
            errors.choice(
                "measured",
                "How it is measured out",
                &self.measured,
                &offered,
            )
        });
        let measured = measured?;
        let (on_hand, spools) = match measured {
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
            measured,
            price_minor: price?.map(|price| stored_price(price, measured, ruler)),
            on_hand: on_hand?,
            spools: spools?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// International yard and pound agreement, 1959: a yard is 0.9144 m.
    #[test]
    fn a_price_by_the_yard_is_shown_as_it_was_typed() {
        let ruler = Ruler::inch(16);
        assert_eq!(stored_price(9_144, Measured::Length, &ruler), 10_000);
        for typed in (0..20_000).chain([99_999_999]) {
            let supply = BenchSupply {
                name: String::new(),
                measured: Measured::Length,
                price_minor: Some(stored_price(typed, Measured::Length, &ruler)),
                on_hand: 0,
                spools: Vec::new(),
            };
            assert_eq!(shown_price(&supply, &ruler), Some(typed));
        }
    }
}
