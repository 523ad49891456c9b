//! Which sums the sheets' prices can make, and the proven bound raised to the next of them.

use super::problem::{Problem, gcd};

pub(super) struct Prices {
    /// Greatest common divisor of the prices.
    unit: i64,
    /// For each remainder of the least price (in units) the least sum that has it.
    least: Vec<i64>,
}

/// A larger table would be slower than it is worth.
const MOST_REMAINDERS: i64 = 100_000;

impl Prices {
    pub(super) fn new(problem: &Problem) -> Self {
        let unit = problem
            .sheets
            .iter()
            .fold(0, |unit, sheet| gcd(unit, sheet.cost));
        let mut prices: Vec<i64> = problem.sheets.iter().map(|s| s.cost / unit).collect();
        prices.sort_unstable();
        prices.dedup();
        let base = prices[0];
        if base > MOST_REMAINDERS {
            return Self {
                unit,
                least: vec![0],
            };
        }
        let mut least = vec![i64::MAX; base as usize];
        least[0] = 0;
        for &price in &prices[1..] {
            // Twice round each cycle of remainders settles it.
            let cycles = gcd(base, price);
            for start in 0..cycles {
                let mut at = start;
                for _ in 0..2 * base / cycles {
                    let to = (at + price) % base;
                    if least[at as usize] != i64::MAX {
                        least[to as usize] = least[to as usize].min(least[at as usize] + price);
                    }
                    at = to;
                }
            }
        }
        Self { unit, least }
    }

    fn can(&self, units: i64) -> bool {
        units >= 0 && self.least[(units % self.least.len() as i64) as usize] <= units
    }

    /// The least sum of prices that is not below `cost`.
    pub(super) fn up(&self, cost: i64) -> i64 {
        let mut units = cost.max(0).div_euclid(self.unit) + i64::from(cost.max(0) % self.unit != 0);
        while !self.can(units) {
            units += 1;
        }
        units * self.unit
    }

    /// The greatest sum of prices below `cost`; negative if there is none.
    pub(super) fn below(&self, cost: i64) -> i64 {
        let mut units = (cost - 1).div_euclid(self.unit);
        while units >= 0 && !self.can(units) {
            units -= 1;
        }
        units * self.unit
    }
}

/// What every plan costs at least, from part values and the best pattern of each sheet.
///
/// With sheets without limit, Farley's bound: the values are scaled until no pattern is worth
/// more than its sheet costs. Limited sheets may be worth more: what they gain is taken off, as
/// often as there are such sheets (Lagrange). Whole numbers throughout.
pub(super) fn proven(
    problem: &Problem,
    limits: &[Option<u32>],
    values: &[i64],
    best: &[i64],
    price: (i64, i64),
) -> i64 {
    let worth: i128 = problem
        .demand
        .iter()
        .zip(values)
        .map(|(&demand, &value)| i128::from(demand) * i128::from(value))
        .sum();
    // A value of 1 stands for over / under of cost.
    let (mut over, mut under) = (i128::from(price.0), i128::from(price.1));
    let all_free = limits.iter().all(Option::is_none);
    let mut tight: Option<(i128, i128)> = None;
    for ((sheet, &best), limit) in problem.sheets.iter().zip(best).zip(limits) {
        let (cost, best) = (i128::from(sheet.cost), i128::from(best));
        if best > 0 && limit.is_none() {
            match tight {
                Some((c, b)) if c * best <= cost * b => {}
                _ => tight = Some((cost, best)),
            }
        }
    }
    if let Some((cost, best)) = tight
        && (all_free || cost * under < over * best)
    {
        (over, under) = (cost, best);
    }
    let mut total = worth * over;
    for ((sheet, &best), limit) in problem.sheets.iter().zip(best).zip(limits) {
        if let Some(limit) = *limit {
            let gain = i128::from(best) * over - i128::from(sheet.cost) * under;
            total -= i128::from(limit) * gain.max(0);
        }
    }
    // Rounded up: a plan's cost is whole.
    let bound = total.div_euclid(under.max(1)) + i128::from(total.rem_euclid(under.max(1)) != 0);
    i64::try_from(bound.max(0)).unwrap_or(i64::MAX)
}
