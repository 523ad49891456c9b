//! Offers and pieces as the solvers take them: whole nanometres, packs and multi-buys as choices.

use tablefold_geometry::Length;

use super::super::offers::{MultiBuy, Offer, Pack};
use super::cover::{Choice, Cost};
use super::reels::Want;
use super::spools::Spool;

/// A metre, in nm.
pub(super) const METRE: u64 = 1_000_000_000;

/// Each offer as a choice, and each multi-buy as another; and which offer and how many packs a
/// choice is.
pub(super) fn choices(
    offers: &[Offer],
    units: impl Fn(&Offer) -> u64,
    size: impl Fn(&Offer) -> u64,
) -> (Vec<Choice>, Vec<(usize, u32)>) {
    let mut found = (Vec::new(), Vec::new());
    for (index, offer) in offers.iter().enumerate() {
        let single = MultiBuy {
            packs: 1,
            price_minor: offer.price_minor,
        };
        for bundle in std::iter::once(single).chain(offer.multi) {
            let times = u64::from(bundle.packs);
            found.0.push(Choice {
                units: units(offer).saturating_mul(times),
                cost: Cost {
                    price: bundle.price_minor,
                    size: size(offer).saturating_mul(times),
                    packs: bundle.packs,
                },
            });
            found.1.push((index, bundle.packs));
        }
    }
    found
}

/// Packs of each offer, from how often each choice is taken.
pub(super) fn packs(of: &[(usize, u32)], taken: &[u32], offers: usize) -> Vec<u32> {
    let mut packs = vec![0_u32; offers];
    for (&(offer, times), &taken) in of.iter().zip(taken) {
        packs[offer] = packs[offer].saturating_add(times.saturating_mul(taken));
    }
    packs
}

pub(super) fn kinds(offers: &[Offer]) -> Vec<Spool> {
    let kind = |(offer, it): (usize, &Offer)| Spool {
        offer,
        size: size(it),
        is_reel: it.pack == Pack::Metre,
    };
    offers.iter().enumerate().map(kind).collect()
}

/// Length of a spool, nm.
pub(super) fn size(offer: &Offer) -> u64 {
    match offer.pack {
        Pack::Spool(spool) => nm(spool),
        Pack::Metre => METRE,
        Pack::Count(_) => 0,
    }
}

/// Each length once, the longest first.
pub(super) fn wants(pieces: &[(Length, u32)]) -> Vec<Want> {
    let mut all: Vec<(u64, u64)> = pieces
        .iter()
        .map(|&(l, count)| (nm(l), count.into()))
        .collect();
    all.retain(|&(length, count)| length > 0 && count > 0);
    all.sort_unstable_by(|a, b| b.cmp(a));
    let mut wants: Vec<Want> = Vec::new();
    for (length, count) in all {
        match wants.last_mut() {
            Some(last) if last.length == length => last.count += count,
            _ => wants.push(Want { length, count }),
        }
    }
    wants
}

pub(super) fn sum(pieces: &[(Length, u32)]) -> Length {
    pieces
        .iter()
        .map(|&(length, count)| length * i64::from(count))
        .sum()
}

pub(super) fn nm(length: Length) -> u64 {
    u64::try_from(length.nm()).unwrap_or(0)
}

pub(super) fn length(nm: u64) -> Length {
    Length::from_nm(i64::try_from(nm).unwrap_or(i64::MAX))
}

pub(super) const fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
