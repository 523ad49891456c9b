//! The next sum of sheet prices, and every mix of sheets that makes it.
//!
//! Only sums that some mix makes are looked at: between two of them may lie any number of
//! costs that no plan has.

use super::problem::Problem;

/// Numbers of sheets to try; more are too many mixes in any case.
const MOST_TRIES: u64 = 100_000;

/// Mixes of sheets that cost the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sum {
    pub(super) cost: i64,
    /// Sheets of each stock.
    pub(super) mixes: Vec<Vec<u32>>,
}

/// What was found, and how many numbers of sheets were tried for it.
pub(super) struct Next {
    pub(super) sum: Found,
    pub(super) tries: u64,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Found {
    /// The least sum in the range.
    Sum(Sum),
    /// No mix costs anything in the range.
    Nothing,
    /// There are too many mixes to look at.
    TooMany,
}

struct Walk<'p> {
    problem: &'p Problem,
    /// Stocks from the dearest to the cheapest: the last number follows from the others.
    order: Vec<usize>,
    from: i64,
    /// Dearer sums are of no use.
    most: i64,
    counts: Vec<u32>,
    mixes: Vec<Vec<u32>>,
    most_mixes: usize,
    tries: u64,
}

/// The least sum that is at least `from` and below `before`, with at most `most_mixes` mixes.
pub(super) fn next_sum(problem: &Problem, from: i64, before: i64, most_mixes: usize) -> Next {
    let mut order: Vec<usize> = (0..problem.sheets.len()).collect();
    order.sort_by_key(|&stock| -problem.sheets[stock].cost);
    let mut walk = Walk {
        problem,
        order,
        from,
        most: before.saturating_sub(1),
        counts: vec![0; problem.sheets.len()],
        mixes: Vec::new(),
        most_mixes,
        tries: 0,
    };
    let all = walk.complete(0, 0);
    let sum = match walk.mixes.len() {
        many if !all || many > most_mixes => Found::TooMany,
        0 => Found::Nothing,
        _ => Found::Sum(Sum {
            cost: walk.most,
            mixes: walk.mixes,
        }),
    };
    Next {
        sum,
        tries: walk.tries,
    }
}

impl Walk<'_> {
    /// Completes the counts from a stock on in every way; false if there are too many.
    fn complete(&mut self, at: usize, spent: i64) -> bool {
        let Some(&stock) = self.order.get(at) else {
            return self.keep(spent);
        };
        let sheet = self.problem.sheets[stock];
        let there = i64::from(sheet.available.unwrap_or(u32::MAX));
        let most = ((self.most - spent) / sheet.cost).min(there);
        // The cheapest sheets make up what is missing, no more.
        let least = if at + 1 == self.order.len() {
            let missing = (self.from - spent).max(0);
            missing / sheet.cost + i64::from(missing % sheet.cost != 0)
        } else {
            0
        };
        for times in least..=most {
            let spent = spent + times * sheet.cost;
            if spent > self.most {
                break;
            }
            self.tries += 1;
            if self.tries > MOST_TRIES {
                return false;
            }
            self.counts[stock] = times as u32;
            if !self.complete(at + 1, spent) {
                return false;
            }
            // One more of the cheapest is a dearer sum.
            if at + 1 == self.order.len() {
                break;
            }
        }
        true
    }

    fn keep(&mut self, sum: i64) -> bool {
        if sum < self.from {
            return true;
        }
        if sum < self.most {
            self.mixes.clear();
            self.most = sum;
        }
        // One more than allowed says enough; a cheaper sum may still have fewer.
        if self.mixes.len() <= self.most_mixes {
            self.mixes.push(self.counts.clone());
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::problem::Sheet;
    use proptest::prelude::*;

    fn priced(sheets: &[(i64, Option<u32>)]) -> Problem {
        let sheet = |&(cost, available): &(i64, Option<u32>)| Sheet {
            w: 1,
            h: 1,
            cost,
            available,
        };
        Problem {
            sheets: sheets.iter().map(sheet).collect(),
            items: Vec::new(),
            demand: Vec::new(),
            area: Vec::new(),
            part: Vec::new(),
            phases: Some(3),
            unit: 1,
        }
    }

    proptest! {
        #[test]
        fn the_next_sum_and_its_mixes_are_those_of_trying_every_mix(
            sheets in prop::collection::vec((1i64..20, prop::option::of(0u32..6)), 1..4),
            from in 0i64..60,
            range in 0i64..40,
        ) {
            let problem = priced(&sheets);
            let before = from + range;
            let mut all: Vec<(i64, Vec<u32>)> = vec![(0, Vec::new())];
            for &(cost, available) in &sheets {
                let more = |(sum, mix): (i64, Vec<u32>)| {
                    (0..=available.unwrap_or(100)).map(move |times| {
                        (sum + cost * i64::from(times), [&mix[..], &[times]].concat())
                    })
                };
                all = all.into_iter().flat_map(more).filter(|&(sum, _)| sum < before).collect();
            }
            all.retain(|&(sum, _)| sum >= from);
            let least = all.iter().map(|&(sum, _)| sum).min();
            let mut mixes: Vec<Vec<u32>> = Vec::new();
            for (sum, mix) in all {
                if Some(sum) == least {
                    mixes.push(mix);
                }
            }
            mixes.sort();
            match next_sum(&problem, from, before, 10_000).sum {
                Found::Sum(mut sum) => {
                    sum.mixes.sort();
                    prop_assert_eq!((Some(sum.cost), sum.mixes), (least, mixes));
                }
                Found::Nothing => prop_assert_eq!(least, None),
                Found::TooMany => prop_assert!(false, "so few are not too many"),
            }
        }
    }

    #[test]
    fn a_long_way_to_the_next_sum_takes_few_tries() {
        // Of these prices no two sums lie between 99 991 and 99 998: one step, not 99 000.
        let problem = priced(&[(99_998, None), (99_991, None)]);
        let next = next_sum(&problem, 1, 1_000_000, 200);
        let first = Found::Sum(Sum {
            cost: 99_991,
            mixes: vec![vec![0, 1]],
        });
        assert_eq!(next.sum, first);
        assert!(next.tries < 10, "{}", next.tries);
    }

    #[test]
    fn a_sheet_for_next_to_nothing_leaves_few_mixes_to_try() {
        for order in [[1, 99_991], [99_991, 1]] {
            let problem = priced(&order.map(|cost| (cost, None)));
            let next = next_sum(&problem, 250_000, 300_000, 200);
            assert!(next.tries < 20, "{}", next.tries);
            match next.sum {
                Found::Sum(sum) => assert_eq!((sum.cost, sum.mixes.len()), (250_000, 3)),
                other => panic!("{other:?}"),
            }
        }
    }

    #[test]
    fn too_many_mixes_are_given_up_after_as_many_tries_as_are_allowed() {
        let problem = priced(&[(1, None), (2, None), (3, None), (4, None)]);
        let next = next_sum(&problem, 100_000, 200_000, 200);
        assert_eq!(next.sum, Found::TooMany);
        assert!(next.tries <= MOST_TRIES + 1);
    }
}
