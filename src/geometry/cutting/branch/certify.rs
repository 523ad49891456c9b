//! Is a branch rightly given up? Checked in whole numbers, whatever the tableau rounded.
//!
//! For any weights y of the rows, whose activities are s = A x, each point of the branch costs
//!
//! ```text
//!   c x + k = c x + y (s - A x)  >=  sum min (c - y A)(j) x(j)  +  sum min y(i) s(i)
//! ```
//!
//! over the bounds of the branch. Without c the right side must be above 0: then there is no
//! point at all.

use super::Search;

/// Weights are rounded to this part.
const PARTS: f64 = (1_u64 << 24) as f64;

impl Search<'_> {
    /// Notes that the search proves nothing if this branch might hold a plan worth finding.
    pub(super) fn certify(&mut self) {
        if self.choice.certify && !self.given_up_rightly() {
            self.complete = false;
        }
    }

    fn given_up_rightly(&self) -> bool {
        let (weights, with_cost) = self.tableau.weights();
        let largest = weights
            .iter()
            .fold(1e-9, |most, weight| f64::max(most, weight.abs()));
        let parts = if with_cost { PARTS } else { PARTS / largest };
        let columns = self.tableau.columns;
        let bounds = |variable: usize| (self.tableau.low[variable], self.tableau.high[variable]);
        let mut least = 0_i128;
        let mut whole = Vec::new();
        for (row, weight) in weights.iter().enumerate() {
            let (low, high) = bounds(columns + row);
            let mut weight = (weight * parts).round() as i128;
            // Without an upper bound a row can't be worth less than nothing.
            if weight < 0 && high.is_infinite() {
                weight = 0;
            }
            least += weight * if weight > 0 { low } else { high.min(1e15) } as i128;
            whole.push(weight);
        }
        let first_stock = self.choice.demand.len();
        for (column, pattern) in self.choice.patterns.iter().enumerate() {
            let mut price = -whole[first_stock + pattern.stock];
            for &(row, count) in pattern.counts {
                let count = count.min(self.choice.demand[row]);
                price -= whole[row] * i128::from(count);
            }
            if with_cost {
                price += i128::from(pattern.cost) * parts as i128;
            }
            let (low, high) = bounds(column);
            least += price * if price > 0 { low } else { high } as i128;
        }
        let enough = if with_cost {
            i128::from(self.cutoff) * parts as i128
        } else {
            0
        };
        least > enough
    }
}
