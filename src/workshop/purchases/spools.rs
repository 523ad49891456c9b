//! Which spools to buy where one table can't tell: pieces of several lengths, or odd rolls.
//!
//! Every purchase up to a limit is listed, cheapest first, and tried until one holds all pieces:
//! that one costs least. Beyond the limits the best single kind of spool is taken, and the
//! bound says how much less it could be at most.

use super::Offer;
use super::cover::Cost;
use super::reels::{STEPS, Want, best_fit, fits, total};

/// Purchases that are listed at most.
const MOST_LISTED: u64 = 50_000;

/// A spool on offer: its place in the offers, its length in nm, and whether it is one length cut
/// off the reel, of as many times `size`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spool {
    pub(super) offer: usize,
    pub(super) size: u64,
    pub(super) is_reel: bool,
}

/// What is bought of each offer, what it costs, and what it can't cost less than.
pub(super) struct Found {
    pub(super) counts: Vec<(usize, u32)>,
    pub(super) cost: Cost,
    pub(super) bound: u64,
}

/// Pieces that are cut without joining, or one length that may be joined.
pub(super) struct Job<'a> {
    /// Each length once, the longest first.
    pub(super) wants: &'a [Want],
    pub(super) on_hand: &'a [u64],
    pub(super) offers: &'a [Offer],
    pub(super) spools: &'a [Spool],
    pub(super) may_join: bool,
}

impl Job<'_> {
    /// The best purchase found; `None` where nothing on offer will do.
    pub(super) fn solve(&self) -> Option<Found> {
        let mosts: Vec<u64> = self.spools.iter().map(|spool| self.most(*spool)).collect();
        let all = mosts.iter().try_fold(1_u64, |all, most| {
            all.checked_mul(most + 1).filter(|&all| all <= MOST_LISTED)
        });
        match all {
            Some(all) => self.cheapest_of(all, &mosts),
            None => self.one_kind(self.price_of_length()),
        }
    }

    /// More of a spool than this is never needed; a multi-buy may be cheaper than fewer spools,
    /// so it is filled up.
    fn most(&self, spool: Spool) -> u64 {
        let bundle = self.offers[spool.offer]
            .multi
            .map_or(1, |multi| multi.packs.max(1));
        self.needed(spool).next_multiple_of(bundle.into())
    }

    fn needed(&self, spool: Spool) -> u64 {
        let by_length = total(self.wants).div_ceil(u128::from(spool.size.max(1)));
        let by_length = u64::try_from(by_length)
            .unwrap_or(MOST_LISTED)
            .min(MOST_LISTED);
        if spool.is_reel || self.may_join {
            return by_length;
        }
        let held = self.wants.iter().filter(|want| want.length <= spool.size);
        let held: Vec<Want> = held.copied().collect();
        opened(&held, &[], spool.size).unwrap_or(0)
    }

    fn cheapest_of(&self, all: u64, mosts: &[u64]) -> Option<Found> {
        let there: u128 = self.on_hand.iter().map(|&spool| u128::from(spool)).sum();
        let need = total(self.wants);
        let mut listed: Vec<(Cost, Vec<u32>)> = (0..all)
            .map(|number| self.purchase(number, mosts))
            .filter(|(cost, _)| u128::from(cost.size) + there >= need)
            .collect();
        listed.sort_unstable();
        let mut budget = STEPS;
        let mut refuted: Vec<&Vec<u32>> = Vec::new();
        for (cost, counts) in &listed {
            let is_less = |more: &&Vec<u32>| counts.iter().zip(*more).all(|(a, b)| a <= b);
            budget = budget.saturating_sub(refuted.len());
            if refuted.iter().any(is_less) {
                continue;
            }
            match self.holds(counts, &mut budget) {
                Some(true) => return Some(self.found(*cost, counts, cost.price)),
                Some(false) => refuted.push(counts),
                None => return self.one_kind(cost.price),
            }
        }
        None
    }

    /// The purchase of a number: its digits are the counts.
    fn purchase(&self, mut number: u64, mosts: &[u64]) -> (Cost, Vec<u32>) {
        let digit = |most: &u64| {
            let count = number % (most + 1);
            number /= most + 1;
            u32::try_from(count).unwrap_or(u32::MAX)
        };
        let counts: Vec<u32> = mosts.iter().map(digit).collect();
        (self.cost(&counts), counts)
    }

    fn cost(&self, counts: &[u32]) -> Cost {
        let bought = self.spools.iter().zip(counts).map(|(spool, &count)| Cost {
            price: self.offers[spool.offer].price_of(count),
            size: spool.size.saturating_mul(count.into()),
            packs: count,
        });
        bought.fold(Cost::default(), Cost::plus)
    }

    fn holds(&self, counts: &[u32], budget: &mut usize) -> Option<bool> {
        if self.may_join {
            return Some(true);
        }
        let mut spools = self.on_hand.to_vec();
        for (spool, &count) in self.spools.iter().zip(counts) {
            if spool.is_reel {
                spools.push(spool.size.saturating_mul(count.into()));
            } else {
                spools.extend((0..count).map(|_| spool.size));
            }
        }
        fits(self.wants, &spools, budget)
    }

    fn found(&self, cost: Cost, counts: &[u32], bound: u64) -> Found {
        let counts = self.spools.iter().zip(counts);
        Found {
            counts: counts.map(|(spool, &count)| (spool.offer, count)).collect(),
            cost,
            bound,
        }
    }

    /// As many of one kind of spool as it takes; the cheapest kind.
    fn one_kind(&self, bound: u64) -> Option<Found> {
        let over = if self.may_join {
            let there: u128 = self.on_hand.iter().map(|&spool| u128::from(spool)).sum();
            let length = u64::try_from(total(self.wants).saturating_sub(there)).ok()?;
            vec![Want { length, count: 1 }]
        } else {
            best_fit(self.wants, self.on_hand)
        };
        let tried = (0..self.spools.len()).filter_map(|at| {
            let spool = self.spools[at];
            let count = if spool.is_reel || self.may_join {
                let count = total(&over).div_ceil(u128::from(spool.size.max(1)));
                u64::try_from(count).ok()?
            } else {
                opened(&over, &[], spool.size)?
            };
            Some((at, u32::try_from(count).ok()?))
        });
        let priced = tried.flat_map(|(at, count)| {
            let multi = self.offers[self.spools[at].offer].multi;
            let filled = multi.and_then(|multi| count.checked_next_multiple_of(multi.packs.max(1)));
            [Some(count), filled]
                .into_iter()
                .flatten()
                .map(move |count| {
                    let mut counts = vec![0; self.spools.len()];
                    counts[at] = count;
                    (self.cost(&counts), counts)
                })
        });
        let (cost, counts) = priced.min()?;
        Some(self.found(cost, &counts, bound.min(cost.price)))
    }

    /// No purchase costs less than the missing length at the cheapest price of a length.
    fn price_of_length(&self) -> u64 {
        let there: u128 = self.on_hand.iter().map(|&spool| u128::from(spool)).sum();
        let missing = total(self.wants).saturating_sub(there);
        let rates = self.spools.iter().flat_map(|spool| {
            let offer = &self.offers[spool.offer];
            let single = (offer.price_minor, u128::from(spool.size));
            let multi = offer.multi.map(|multi| {
                let size = u128::from(spool.size) * u128::from(multi.packs);
                (multi.price_minor, size)
            });
            [Some(single), multi].into_iter().flatten()
        });
        let costs = rates.map(|(price, size)| {
            let cost = missing.saturating_mul(price.into()).div_ceil(size.max(1));
            u64::try_from(cost).unwrap_or(u64::MAX)
        });
        costs.min().unwrap_or(0)
    }
}

/// How many spools of one length best fit opens; `None` where a piece is longer than that.
fn opened(wants: &[Want], on_hand: &[u64], size: u64) -> Option<u64> {
    let mut over = best_fit(wants, on_hand);
    let mut count = 0;
    while let Some(first) = over.first() {
        if first.length > size {
            return None;
        }
        // Many at once while one spool holds only pieces of the longest length.
        over = best_fit(&over, &[size]);
        count += 1;
    }
    Some(count)
}
