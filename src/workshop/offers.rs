//! What shops ask for papers and supplies.

use std::collections::BTreeMap;

use tablefold_geometry::Length;

/// The largest pack, and the most units that are bought at once.
pub const MOST_UNITS: u32 = 10_000;

/// The longest spool or roll: 1 km.
pub const LONGEST_SPOOL: Length = Length::from_mm(1_000_000);

/// Something of the bench that is bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Item {
    /// A paper, by row number.
    Paper(i64),
    /// A supply, by row number.
    Supply(i64),
}

/// What one pack holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pack {
    /// So many sheets or things; 1 is a single one.
    Count(u32),
    /// A spool or a roll.
    Spool(Length),
    /// Cut off the reel in whole metres, in one length.
    Metre,
}

/// So many packs for a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MultiBuy {
    /// How many packs, 2 or more.
    pub packs: u32,
    /// For all of them together, in minor units.
    pub price_minor: u64,
}

/// A shop's price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// The shop as the instructor names it; empty for a price that names none.
    pub shop: String,
    /// What a pack holds.
    pub pack: Pack,
    /// Price of one pack, in minor units.
    pub price_minor: u64,
    /// "3 for 2".
    pub multi: Option<MultiBuy>,
}

impl Offer {
    /// A plain price of one sheet or thing.
    #[must_use]
    pub const fn single(price_minor: u64) -> Self {
        Self {
            shop: String::new(),
            pack: Pack::Count(1),
            price_minor,
            multi: None,
        }
    }

    /// A plain price of a metre.
    #[must_use]
    pub const fn by_the_metre(price_minor: u64) -> Self {
        Self {
            shop: String::new(),
            pack: Pack::Metre,
            price_minor,
            multi: None,
        }
    }

    /// What so many packs cost, with as many multi-buys as pay.
    #[must_use]
    pub fn price_of(&self, packs: u32) -> u64 {
        let single = self.price_minor.saturating_mul(packs.into());
        match self.multi {
            Some(multi) if multi.packs > 0 => {
                let bundles = u64::from(packs / multi.packs);
                let rest = u64::from(packs % multi.packs);
                let bundled = multi.price_minor.saturating_mul(bundles);
                single.min(bundled.saturating_add(self.price_minor.saturating_mul(rest)))
            }
            _ => single,
        }
    }
}

/// All offers, by what they are for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Offers(BTreeMap<Item, Vec<Offer>>);

impl Offers {
    /// Adds an offer.
    pub fn add(&mut self, item: Item, offer: Offer) {
        self.0.entry(item).or_default().push(offer);
    }

    /// Those for one thing.
    #[must_use]
    pub fn of(&self, item: Item) -> &[Offer] {
        self.0.get(&item).map_or(&[], Vec::as_slice)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_for_two_is_taken_as_often_as_it_pays() {
        let offer = Offer {
            multi: Some(MultiBuy {
                packs: 3,
                price_minor: 200,
            }),
            ..Offer::single(100)
        };
        let prices = [0, 1, 2, 3, 4, 6, 8].map(|packs| offer.price_of(packs));
        assert_eq!(prices, [0, 100, 200, 200, 300, 400, 600]);
        let worse = Offer {
            multi: Some(MultiBuy {
                packs: 2,
                price_minor: 300,
            }),
            ..Offer::single(100)
        };
        assert_eq!(worse.price_of(4), 400);
    }
}
