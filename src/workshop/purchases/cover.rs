//! Least cost to cover a number of units: an exact knapsack.
//!
//! ```text
//!   best(0) = nothing
//!   best(n) = min over choices c of best(max(0, n - units(c))) + c
//! ```
//!
//! Costs add up, then what is left over, then packs, compared in this order; so each prefix of a
//! best purchase is a best purchase, and the table is exact.

/// The most units that the table counts to.
pub(super) const MOST: u64 = super::MOST_UNITS as u64;

/// What is compared: price, then size bought, then packs. For one need, less bought is less
/// left over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub(super) price: u64,
    pub(super) size: u64,
    pub(super) packs: u32,
}

impl Cost {
    pub(super) fn plus(self, other: Self) -> Self {
        Self {
            price: self.price.saturating_add(other.price),
            size: self.size.saturating_add(other.size),
            packs: self.packs.saturating_add(other.packs),
        }
    }
}

/// Something that can be bought any number of times.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    pub(super) units: u64,
    pub(super) cost: Cost,
}

/// The best purchase for every need up to one.
pub(super) struct Table {
    best: Vec<Option<(Cost, usize)>>,
    choices: Vec<Choice>,
}

impl Table {
    /// Fills the table up to `need`, which is at most [`MOST`].
    pub(super) fn new(need: u64, choices: Vec<Choice>) -> Self {
        let need = usize::try_from(need.min(MOST)).unwrap_or(0);
        let mut table = Self {
            best: Vec::with_capacity(need + 1),
            choices,
        };
        table.best.push(Some((Cost::default(), usize::MAX)));
        for units in 1..=need as u64 {
            let best = table
                .choices
                .iter()
                .enumerate()
                .filter_map(|(index, choice)| {
                    // A choice of nothing would lead back to itself.
                    (choice.units > 0).then_some(())?;
                    let before = table.cost(units.saturating_sub(choice.units))?;
                    Some((before.plus(choice.cost), index))
                });
            let best = best.min();
            table.best.push(best);
        }
        table
    }

    /// What so many units cost; `None` where nothing covers them.
    pub(super) fn cost(&self, units: u64) -> Option<Cost> {
        let at = usize::try_from(units).ok()?;
        self.best.get(at).copied().flatten().map(|(cost, _)| cost)
    }

    /// How often each choice is bought for so many units.
    pub(super) fn counts(&self, units: u64) -> Vec<u32> {
        let mut counts = vec![0; self.choices.len()];
        let mut left = units;
        while left > 0 {
            let at = usize::try_from(left).ok().and_then(|at| self.best.get(at));
            let Some(&Some((_, index))) = at else { break };
            counts[index] += 1;
            left = left.saturating_sub(self.choices[index].units);
        }
        counts
    }
}
