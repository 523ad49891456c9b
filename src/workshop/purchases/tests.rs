//! Purchases against every possible purchase.

use proptest::prelude::*;

use super::super::offers::MultiBuy;
use super::*;

fn offer(pack: Pack, price_minor: u64, multi: Option<(u32, u64)>) -> Offer {
    Offer {
        shop: "Corner shop".to_owned(),
        pack,
        price_minor,
        multi: multi.map(|(packs, price_minor)| MultiBuy { packs, price_minor }),
    }
}

fn purchase(need: &Need, offers: &[Offer]) -> Purchase {
    match need.buy(offers) {
        Buying::Buy(purchase) => purchase,
        other => panic!("{other:?}"),
    }
}

fn metres(n: i64) -> Length {
    Length::from_mm(n * 1000)
}

/// Price, size and packs of every purchase with up to `most` packs of each offer.
fn every(offers: &[Offer], most: u32) -> Vec<(u64, u64, u32, Vec<u32>)> {
    let mut all = vec![(0, 0, 0, Vec::new())];
    for offer in offers {
        let size = match offer.pack {
            Pack::Count(count) => count.into(),
            _ => size(offer),
        };
        all = all
            .into_iter()
            .flat_map(|(price, bought, packs, counts)| {
                (0..=most).map(move |count| {
                    let mut counts = counts.clone();
                    counts.push(count);
                    let price = price + offer.price_of(count);
                    let is_reel = offer.pack == Pack::Metre && count > 0;
                    let packs = packs + if is_reel { 1 } else { count };
                    (price, bought + size * u64::from(count), packs, counts)
                })
            })
            .collect();
    }
    all
}

#[test]
fn a_pack_beats_single_sheets_only_when_it_pays() {
    let offers = [
        offer(Pack::Count(1), 60, None),
        offer(Pack::Count(10), 450, None),
    ];
    let need = |need| Need::Count { need, on_hand: 2 };
    let few = purchase(&need(9), &offers);
    assert_eq!((few.price_minor, few.left), (420, Quantity::Count(0)));
    let many = purchase(&need(10), &offers);
    assert_eq!((many.price_minor, many.left), (450, Quantity::Count(2)));
    assert_eq!(many.lines.len(), 1);
    assert_eq!(need(2).buy(&offers), Buying::Nothing);
    assert_eq!(need(3).buy(&[]), Buying::NoOffer);
    assert_eq!(need(20_000).buy(&offers), Buying::TooMany);
    assert!(matches!(need(10_002).buy(&offers), Buying::Buy(_)));
}

#[test]
fn three_for_two_is_bought_when_three_are_needed() {
    let offers = [offer(Pack::Count(5), 300, Some((3, 600)))];
    let fifteen = purchase(
        &Need::Count {
            need: 12,
            on_hand: 0,
        },
        &offers,
    );
    assert_eq!((fifteen.price_minor, fifteen.lines[0].packs), (600, 3));
    // 2 packs cost the same as 3: what leaves less over is bought.
    let ten = purchase(
        &Need::Count {
            need: 10,
            on_hand: 0,
        },
        &offers,
    );
    assert_eq!((ten.price_minor, ten.lines[0].packs), (600, 2));
}

#[test]
fn ribbon_is_bought_so_that_no_piece_is_joined() {
    let pieces = vec![(Length::from_mm(600), 5)];
    let need = Need::Pieces {
        pieces,
        spools: vec![metres(1)],
    };
    // 1 piece from the spool at hand; a spool of 2 m holds 3 and not 3.3.
    let offers = [offer(Pack::Spool(metres(2)), 200, None)];
    assert_eq!(need.missing(), Quantity::Length(Length::from_mm(2400)));
    let bought = purchase(&need, &offers);
    assert_eq!((bought.lines[0].packs, bought.price_minor), (2, 400));
    assert_eq!(bought.left, Quantity::Length(metres(2)));
    let short = [offer(Pack::Spool(Length::from_mm(500)), 10, None)];
    assert_eq!(need.buy(&short), Buying::TooShort);
    // 2.4 m off the reel is 3 m.
    let reel = purchase(&need, &[Offer::by_the_metre(90)]);
    assert_eq!((reel.lines[0].packs, reel.price_minor), (3, 270));
}

#[test]
fn ribbon_of_several_lengths_is_searched_and_proven() {
    let pieces = vec![(Length::from_mm(700), 2), (Length::from_mm(300), 3)];
    let need = Need::Pieces {
        pieces,
        spools: Vec::new(),
    };
    let offers = [
        offer(Pack::Spool(metres(1)), 100, None),
        offer(Pack::Spool(metres(2)), 190, None),
    ];
    // 700 + 300, 700 + 300 and 300, or 2 m and a spool of 1 m.
    let bought = purchase(&need, &offers);
    assert_eq!((bought.price_minor, bought.bound_minor), (290, 290));
}

#[test]
fn a_job_beyond_the_search_says_what_it_could_cost_at_least() {
    let pieces: Vec<_> = (0..12)
        .map(|n| (Length::from_mm(400 + 37 * n), 60))
        .collect();
    let need = Need::Pieces {
        pieces,
        spools: Vec::new(),
    };
    let offers: Vec<_> = (1..=6)
        .map(|n| offer(Pack::Spool(metres(n)), 90 * n as u64 + 10, None))
        .collect();
    let bought = purchase(&need, &offers);
    assert!(bought.bound_minor < bought.price_minor);
    assert!(
        bought.bound_minor * 100 > bought.price_minor * 80,
        "{bought:?}"
    );
}

/// 400 kits of 6 lengths from 3 kinds of spools: the search gives up in time, whatever the
/// clock of the machine says, and the answer holds every piece.
#[test]
fn a_large_search_gives_up_and_still_buys_enough() {
    let pieces: Vec<_> = (0..6)
        .map(|n| (Length::from_mm(311 + 97 * n), 400))
        .collect();
    let total = sum(&pieces);
    let need = Need::Pieces {
        pieces,
        spools: vec![metres(3); 40],
    };
    let offers: Vec<_> = [(25, 900), (50, 1700), (10, 390)]
        .map(|(n, price)| offer(Pack::Spool(metres(n)), price, Some((3, price * 5 / 2))))
        .into();
    let bought = purchase(&need, &offers);
    let Quantity::Length(length) = bought.bought else {
        panic!("{bought:?}")
    };
    assert!(length + metres(120) >= total);
    assert!(bought.bound_minor <= bought.price_minor);
    assert!(
        bought.bound_minor * 10 > bought.price_minor * 9,
        "{bought:?}"
    );
}

#[test]
fn tape_may_be_joined() {
    let need = Need::Joined {
        need: Length::from_mm(24_500),
        on_hand: metres(2),
    };
    let offers = [
        offer(Pack::Spool(metres(10)), 250, None),
        offer(Pack::Spool(metres(25)), 550, None),
    ];
    let bought = purchase(&need, &offers);
    assert_eq!(bought.price_minor, 550);
    assert_eq!(bought.left, Quantity::Length(Length::from_mm(2500)));
    // A yard and a metre have a small common measure: the table would be too long.
    let odd = [
        offer(Pack::Spool(Length::from_nm(914_400_000 * 10)), 230, None),
        offer(Pack::Spool(metres(10)), 250, None),
    ];
    let bought = purchase(&need, &odd);
    assert_eq!((bought.price_minor, bought.bound_minor), (690, 690));
}

prop_compose! {
    fn any_offer(pack: fn(u32) -> Pack)(
        size in 1_u32..9,
        price in 0_u64..40,
        multi in prop::option::of((2_u32..4, 0_u64..90)),
    ) -> Offer {
        offer(pack(size), price, multi)
    }
}

fn spool(half_metres: u32) -> Pack {
    Pack::Spool(Length::from_mm(500 * i64::from(half_metres)))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn counted_things_cost_what_the_best_of_all_purchases_costs(
        need in 1_u32..14,
        offers in prop::collection::vec(any_offer(Pack::Count), 1..3),
    ) {
        let bought = purchase(&Need::Count { need, on_hand: 0 }, &offers);
        let enough = every(&offers, 15).into_iter().filter(|all| all.1 >= need.into());
        let best = enough.map(|(price, size, packs, _)| (price, size, packs)).min();
        let Quantity::Count(size) = bought.bought else { panic!("{bought:?}") };
        let packs = bought.lines.iter().map(|line| line.packs).sum();
        prop_assert_eq!(Some((bought.price_minor, size, packs)), best);
        prop_assert_eq!(bought.bound_minor, bought.price_minor);
    }

    #[test]
    fn ribbon_of_one_length_costs_what_the_best_of_all_purchases_costs(
        (length, count) in (3_i64..9, 1_u32..7),
        on_hand in 0_i64..15,
        offers in prop::collection::vec(any_offer(spool), 1..3),
        metre in prop::option::of(0_u64..40),
    ) {
        let mut offers = offers;
        offers.extend(metre.map(Offer::by_the_metre));
        check_ribbon(&[(length, count)], on_hand, &offers)?;
    }

    #[test]
    fn ribbon_of_two_lengths_costs_what_the_best_of_all_purchases_costs(
        one in (3_i64..9, 1_u32..4),
        other in (3_i64..9, 1_u32..4),
        on_hand in 0_i64..15,
        offers in prop::collection::vec(any_offer(spool), 1..3),
    ) {
        check_ribbon(&[one, other], on_hand, &offers)?;
    }
}

/// Lengths in tenths of a metre.
fn check_ribbon(
    pieces: &[(i64, u32)],
    on_hand: i64,
    offers: &[Offer],
) -> Result<(), TestCaseError> {
    let tenths = |n: i64| Length::from_mm(100 * n);
    let spools = vec![tenths(on_hand)];
    let need = Need::Pieces {
        pieces: pieces
            .iter()
            .map(|&(length, count)| (tenths(length), count))
            .collect(),
        spools: spools.clone(),
    };
    let flat: Vec<u64> = pieces
        .iter()
        .flat_map(|&(length, count)| (0..count).map(move |_| length as u64))
        .collect();
    let holds = |counts: &[u32]| {
        let mut spools = vec![on_hand as u64];
        for (offer, &count) in offers.iter().zip(counts) {
            match offer.pack {
                Pack::Metre => spools.push(10 * u64::from(count)),
                _ => spools.extend((0..count).map(|_| size(offer) / 100_000_000)),
            }
        }
        assigned(&flat, &mut spools)
    };
    let mut all = every(offers, 6);
    all.sort();
    let best = all.into_iter().find(|(.., counts)| holds(counts));
    match (need.buy(offers), best) {
        (Buying::Buy(bought), Some((price, size, packs, _))) => {
            let Quantity::Length(length) = bought.bought else {
                panic!("{bought:?}")
            };
            let taken: u32 = bought
                .lines
                .iter()
                .map(|line| {
                    if line.offer.pack == Pack::Metre {
                        1
                    } else {
                        line.packs
                    }
                })
                .sum();
            prop_assert_eq!(
                (bought.price_minor, nm(length), taken),
                (price, size, packs)
            );
            prop_assert_eq!(bought.bound_minor, price);
        }
        (Buying::Nothing, Some((_, _, packs, _))) => {
            // Free spools may be listed first; none at all is enough.
            prop_assert!(packs == 0 || holds(&vec![0; offers.len()]));
        }
        (Buying::TooShort, None) => {}
        (other, best) => prop_assert!(false, "{:?} {:?}", other, best),
    }
    Ok(())
}

/// Every assignment of pieces to spools.
pub(super) fn assigned(pieces: &[u64], spools: &mut [u64]) -> bool {
    let Some((&first, rest)) = pieces.split_first() else {
        return true;
    };
    (0..spools.len()).any(|at| {
        if spools[at] < first {
            return false;
        }
        spools[at] -= first;
        let done = assigned(rest, spools);
        spools[at] += first;
        done
    })
}
