//! The fields of an offer.

use serde::{Deserialize, Serialize};
use tablefold_geometry::Ruler;

use crate::forms::{FormErrors, spool_text};
use crate::workshop::{Currency, MOST_UNITS, MultiBuy, Offer, ShopPack};

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct OfferForm {
    pub(super) version: String,
    pub(super) once: String,
    pub(super) shop: String,
    pub(super) pack: String,
    pub(super) price: String,
    pub(super) multi_packs: String,
    pub(super) multi_price: String,
}

impl OfferForm {
    /// A form for a new offer.
    pub(super) fn empty(by_length: bool) -> Self {
        Self {
            pack: if by_length { "" } else { "1" }.to_owned(),
            ..Self::default()
        }
    }

    /// The form of a stored offer.
    pub(super) fn of(offer: &Offer, version: i64, ruler: &Ruler, currency: Currency) -> Self {
        let multi = offer.multi;
        Self {
            version: version.to_string(),
            once: String::new(),
            shop: offer.shop.clone(),
            pack: match offer.pack {
                ShopPack::Count(count) => count.to_string(),
                ShopPack::Spool(length) => spool_text(ruler, length),
                ShopPack::Metre => "1 m".to_owned(),
            },
            price: currency.price(offer.price_minor),
            multi_packs: multi.map_or_else(String::new, |multi| multi.packs.to_string()),
            multi_price: multi.map_or_else(String::new, |multi| currency.price(multi.price_minor)),
        }
    }

    /// The offer that was typed.
    pub(super) fn read(
        &self,
        by_length: bool,
        (ruler, currency): (&Ruler, Currency),
        errors: &mut FormErrors,
    ) -> Option<Offer> {
        let shop = errors.text("shop", "Shop", &self.shop, 80);
        let pack = if by_length {
            let spool = errors.spool("pack", "Length of a spool", &self.pack, ruler.unit());
            spool.map(ShopPack::Spool)
        } else {
            let count = errors.count("pack", "In a pack", &self.pack, 1..=MOST_UNITS);
            count.map(ShopPack::Count)
        };
        let price = errors.money("price", "Price of a pack", &self.price, currency);
        let multi = self.read_multi(price, currency, errors);
        Some(Offer {
            shop: shop?,
            pack: pack?,
            price_minor: price?,
            multi: multi?,
        })
    }

    /// The multi-buy: both fields or neither, and no dearer than as many single packs.
    fn read_multi(
        &self,
        price: Option<u64>,
        currency: Currency,
        errors: &mut FormErrors,
    ) -> Option<Option<MultiBuy>> {
        let is_empty = |typed: &str| typed.trim().is_empty();
        if is_empty(&self.multi_packs) && is_empty(&self.multi_price) {
            return Some(None);
        }
        let packs = errors.count("multi_packs", "Packs together", &self.multi_packs, 2..=100);
        let label = "Price together";
        let together = errors.money("multi_price", label, &self.multi_price, currency);
        let (packs, together) = (packs?, together?);
        let single = price?.saturating_mul(packs.into());
        if together > single {
            errors.add(
                "multi_price",
                format!(
                    "Price together: {} is more than {packs} single packs cost, {}. Type a lower price, or leave both fields empty.",
                    currency.price(together),
                    currency.price(single)
                ),
            );
            return None;
        }
        Some(Some(MultiBuy {
            packs,
            price_minor: together,
        }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(by_length: bool, fields: [&str; 5]) -> (Option<Offer>, String) {
        let [shop, pack, price, multi_packs, multi_price] = fields.map(str::to_owned);
        let form = OfferForm {
            version: String::new(),
            once: String::new(),
            shop,
            pack,
            price,
            multi_packs,
            multi_price,
        };
        let mut errors = FormErrors::default();
        let ruler = Ruler::millimetre();
        let offer = form.read(by_length, (&ruler, Currency::NONE), &mut errors);
        let said: Vec<_> = errors.iter().map(|error| error.message.clone()).collect();
        (offer, said.join("\n"))
    }

    #[test]
    fn each_wrong_offer_says_what_would_do() {
        let refused = |by_length, fields| {
            let (offer, said) = read(by_length, fields);
            assert_eq!(offer, None);
            said
        };
        insta::assert_snapshot!(refused(false, ["", "0", "-3", "", ""]), @r#"
        Shop: nothing is typed. Type at least one character.
        In a pack: "0" is too few. Type a number from 1 to 10000.
        Price of a pack: "-3" is not an amount. Type one like 4.50, without the currency.
        "#);
        insta::assert_snapshot!(refused(false, ["Stall", "10", "🌱", "3", ""]), @r#"
        Price of a pack: "🌱" is not an amount. Type one like 4.50, without the currency.
        Price together: nothing is typed. Type an amount, or 0 for nothing.
        "#);
        insta::assert_snapshot!(refused(false, ["Stall", "10001", "1", "3", "3.01"]), @r#"
        In a pack: "10001" is too many. Type a number from 1 to 10000.
        Price together: 3.01 is more than 3 single packs cost, 3.00. Type a lower price, or leave both fields empty.
        "#);
        insta::assert_snapshot!(refused(true, ["Stall", "long", "1000000.01", "1", "0"]), @r#"
        Length of a spool: "long" has no number at character 1. Type a number first, such as 5 1/4 in or 133 mm.
        Price of a pack: "1000000.01" is too much. Type an amount up to 1000000.00.
        Packs together: "1" is too few. Type a number from 2 to 100.
        "#);
    }

    #[test]
    fn an_offer_reads_back_as_its_form_shows_it() {
        for (by_length, fields) in [
            (false, ["Paper stall", "10", "4.50", "3", "9.00"]),
            (true, ["Market hall", "25 m", "3.20", "", ""]),
        ] {
            let (offer, said) = read(by_length, fields);
            let offer = offer.expect(&said);
            let form = OfferForm::of(&offer, 1, &Ruler::millimetre(), Currency::NONE);
            let shown = [
                form.shop,
                form.pack,
                form.price,
                form.multi_packs,
                form.multi_price,
            ];
            assert_eq!(shown, fields.map(str::to_owned));
        }
    }
}
