//! What to buy: for each need the purchase that costs least, leaves least over, and takes the
//! fewest packs, compared in this order.
//!
//! Counted things, tape, and ribbon in pieces of one length are solved exactly up to
//! [`MOST_UNITS`] units. Ribbon in pieces of several lengths is solved exactly while the search
//! stays small; beyond that the purchase says what the least possible price is.

mod choices;
mod cover;
mod reels;
mod spools;

use tablefold_geometry::Length;

use super::offers::{MOST_UNITS, Offer, Pack};
use choices::{METRE, choices, gcd, kinds, length, nm, packs, size, sum, wants};
use cover::{Cost, MOST, Table};
use reels::{STEPS, Want};
use spools::Job;

/// What a class needs of one thing, and what is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Need {
    /// Sheets or things.
    Count {
        /// How many.
        need: u32,
        /// How many are there.
        on_hand: u32,
    },
    /// A length that may be joined, such as tape.
    Joined {
        /// How long.
        need: Length,
        /// What is there.
        on_hand: Length,
    },
    /// Pieces that are cut from spools without joining.
    Pieces {
        /// Length of a piece and how many.
        pieces: Vec<(Length, u32)>,
        /// Spools that are there.
        spools: Vec<Length>,
    },
}

/// A number or a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// So many.
    Count(u64),
    /// So long.
    Length(Length),
}

/// Packs of one offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PurchaseLine {
    /// Which offer.
    pub offer: Offer,
    /// How many packs; metres where it is cut off the reel.
    pub packs: u32,
    /// What they cost, in minor units.
    pub price_minor: u64,
}

/// What to buy of one thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Purchase {
    /// From which offers.
    pub lines: Vec<PurchaseLine>,
    /// What all of it costs, in minor units.
    pub price_minor: u64,
    /// No purchase costs less; equal to the price where it is proven to be the least.
    pub bound_minor: u64,
    /// What is bought, used or not.
    pub bought: Quantity,
    /// What stays over of it and of what was there.
    pub left: Quantity,
}

/// What becomes of a need.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Buying {
    /// Enough is there.
    Nothing,
    /// This is bought.
    Buy(Purchase),
    /// No offer is known.
    NoOffer,
    /// No spool on offer is long enough.
    TooShort,
    /// More units than are worked out.
    TooMany,
}

impl Need {
    /// All that is used.
    #[must_use]
    pub fn used(&self) -> Quantity {
        match self {
            Self::Count { need, .. } => Quantity::Count((*need).into()),
            Self::Joined { need, .. } => Quantity::Length(*need),
            Self::Pieces { pieces, .. } => Quantity::Length(sum(pieces)),
        }
    }

    /// What is there.
    #[must_use]
    pub fn on_hand(&self) -> Quantity {
        match self {
            Self::Count { on_hand, .. } => Quantity::Count((*on_hand).into()),
            Self::Joined { on_hand, .. } => Quantity::Length(*on_hand),
            Self::Pieces { spools, .. } => Quantity::Length(spools.iter().copied().sum()),
        }
    }

    /// What is not there. Of ribbon: the pieces that the spools at hand do not hold.
    #[must_use]
    pub fn missing(&self) -> Quantity {
        match self {
            Self::Count { need, on_hand } => Quantity::Count(need.saturating_sub(*on_hand).into()),
            Self::Joined { need, on_hand } => {
                Quantity::Length((*need - *on_hand).max(Length::ZERO))
            }
            Self::Pieces { pieces, spools } => Quantity::Length(ribbon_missing(pieces, spools)),
        }
    }

    /// What stays over of what is there, where nothing is bought.
    #[must_use]
    pub fn left_of_shelf(&self) -> Quantity {
        match (self.on_hand(), self.used()) {
            (Quantity::Count(there), Quantity::Count(used)) => {
                Quantity::Count(there.saturating_sub(used))
            }
            (Quantity::Length(there), Quantity::Length(used)) => {
                Quantity::Length((there - used).max(Length::ZERO))
            }
            (there, _) => there,
        }
    }

    /// The purchase that costs least.
    #[must_use]
    pub fn buy(&self, offers: &[Offer]) -> Buying {
        if self.missing().is_nothing() {
            return Buying::Nothing;
        }
        let fits = |offer: &&Offer| matches!(offer.pack, Pack::Count(_)) == self.is_counted();
        let offers: Vec<Offer> = offers.iter().filter(fits).cloned().collect();
        if offers.is_empty() {
            return Buying::NoOffer;
        }
        match self {
            Self::Count { need, on_hand } => {
                by_count(need.saturating_sub(*on_hand), *need, *on_hand, &offers)
            }
            Self::Joined { need, on_hand } => self.joined(nm(*need - *on_hand), &offers),
            Self::Pieces { pieces, spools } => self.pieces(&wants(pieces), spools, &offers),
        }
    }

    const fn is_counted(&self) -> bool {
        matches!(self, Self::Count { .. })
    }

    fn joined(&self, missing: u64, offers: &[Offer]) -> Buying {
        let step = offers.iter().map(size).fold(0, gcd).max(1);
        let units = missing.div_ceil(step);
        if units <= MOST {
            let (choices, of) = choices(offers, |offer| size(offer) / step, size);
            let table = Table::new(units, choices);
            let Some(cost) = table.cost(units) else {
                return Buying::TooShort;
            };
            let counts = packs(&of, &table.counts(units), offers.len());
            return self.bought(counts, cost, cost.price, offers);
        }
        let want = [Want {
            length: missing,
            count: 1,
        }];
        self.searched(&Job {
            wants: &want,
            on_hand: &[],
            offers,
            spools: &kinds(offers),
            may_join: true,
        })
    }

    fn pieces(&self, wants: &[Want], spools: &[Length], offers: &[Offer]) -> Buying {
        let on_hand: Vec<u64> = spools.iter().map(|&spool| nm(spool)).collect();
        if let [want] = wants {
            return self.one_length(*want, &on_hand, offers);
        }
        self.searched(&Job {
            wants,
            on_hand: &on_hand,
            offers,
            spools: &kinds(offers),
            may_join: false,
        })
    }

    fn searched(&self, job: &Job<'_>) -> Buying {
        let Some(found) = job.solve() else {
            return Buying::TooShort;
        };
        let mut counts = vec![0; job.offers.len()];
        for (offer, count) in found.counts {
            counts[offer] = count;
        }
        self.bought(counts, found.cost, found.bound, job.offers)
    }

    /// Pieces of one length are counted; one length off the reel comes on top of spools.
    fn one_length(&self, want: Want, on_hand: &[u64], offers: &[Offer]) -> Buying {
        let length = want.length.max(1);
        let there: u64 = on_hand.iter().map(|spool| spool / length).sum();
        let missing = want.count.saturating_sub(there);
        if missing > MOST {
            return Buying::TooMany;
        }
        let on_spool = |offer: &Offer| match offer.pack {
            Pack::Spool(spool) => nm(spool) / length,
            _ => 0,
        };
        let (choices, of) = choices(offers, on_spool, size);
        let table = Table::new(missing, choices);
        let reel = offers
            .iter()
            .enumerate()
            .filter(|(_, offer)| offer.pack == Pack::Metre);
        let reel = reel.min_by_key(|(_, offer)| offer.price_minor);
        let metres_for_all = (u128::from(missing) * u128::from(length)).div_ceil(METRE.into());
        let most = reel.map_or(0, |_| u32::try_from(metres_for_all).unwrap_or(u32::MAX));
        let with_metres = |metres: u32| {
            let rest = missing.saturating_sub(u64::from(metres) * METRE / length);
            let off_reel = Cost {
                price: reel.map_or(0, |(_, offer)| offer.price_of(metres)),
                size: u64::from(metres) * METRE,
                packs: u32::from(metres > 0),
            };
            Some((table.cost(rest)?.plus(off_reel), metres, rest))
        };
        let Some((cost, metres, rest)) = (0..=most).filter_map(with_metres).min() else {
            return Buying::TooShort;
        };
        let mut counts = packs(&of, &table.counts(rest), offers.len());
        if let Some((at, _)) = reel {
            counts[at] = metres;
        }
        self.bought(counts, cost, cost.price, offers)
    }

    fn bought(&self, counts: Vec<u32>, cost: Cost, bound: u64, offers: &[Offer]) -> Buying {
        let lines = offers.iter().zip(counts).filter(|(_, packs)| *packs > 0);
        let lines = lines.map(|(offer, packs)| PurchaseLine {
            price_minor: offer.price_of(packs),
            offer: offer.clone(),
            packs,
        });
        let (bought, left) = match (self.used(), self.on_hand()) {
            (Quantity::Count(used), Quantity::Count(there)) => {
                let left = (cost.size + there).saturating_sub(used);
                (Quantity::Count(cost.size), Quantity::Count(left))
            }
            (Quantity::Length(used), Quantity::Length(there)) => {
                let bought = length(cost.size);
                (
                    Quantity::Length(bought),
                    Quantity::Length(bought + there - used),
                )
            }
            (used, _) => (used, used),
        };
        Buying::Buy(Purchase {
            lines: lines.collect(),
            price_minor: cost.price,
            bound_minor: bound,
            bought,
            left,
        })
    }
}

impl Quantity {
    /// Nothing, or no length.
    #[must_use]
    pub fn is_nothing(self) -> bool {
        matches!(self, Self::Count(0))
            || matches!(self, Self::Length(length) if length <= Length::ZERO)
    }
}

fn by_count(missing: u32, need: u32, on_hand: u32, offers: &[Offer]) -> Buying {
    if missing > MOST_UNITS {
        return Buying::TooMany;
    }
    let count = |offer: &Offer| match offer.pack {
        Pack::Count(count) => count.into(),
        _ => 0,
    };
    let (choices, of) = choices(offers, count, count);
    let table = Table::new(missing.into(), choices);
    let Some(cost) = table.cost(missing.into()) else {
        return Buying::NoOffer;
    };
    let counts = packs(&of, &table.counts(missing.into()), offers.len());
    Need::Count { need, on_hand }.bought(counts, cost, cost.price, offers)
}

/// How long the pieces are together that spools at hand do not hold. Where the search gives up,
/// best fit says it: then a piece may count as missing that a cleverer cut would find.
pub(super) fn ribbon_missing(pieces: &[(Length, u32)], spools: &[Length]) -> Length {
    let wants = wants(pieces);
    let spools: Vec<u64> = spools.iter().map(|&spool| nm(spool)).collect();
    if wants.is_empty() || reels::fits(&wants, &spools, &mut STEPS.clone()) == Some(true) {
        return Length::ZERO;
    }
    let over = reels::total(&reels::best_fit(&wants, &spools));
    length(u64::try_from(over).unwrap_or(u64::MAX))
}

#[cfg(test)]
mod tests;
