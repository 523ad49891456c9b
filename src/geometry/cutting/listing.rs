//! Every three-phase pattern of a small order.
//!
//! Columns of one width, levels of one height and sheets are built in turn, each as the set of
//! its largest fillings: those whose counts, cut off at the demand, no other one contains. A
//! cheapest plan can be made of these alone, so that a search through all of them that finds
//! nothing is a proof.

use super::meter::Meter;
use super::problem::{Item, Problem};
use super::strips::laid;
use super::tree::{Along, Tree};

use std::collections::{BTreeMap, BTreeSet};

/// What lies in a piece: counts by row, and how.
#[derive(Clone)]
struct Filling {
    counts: Vec<u32>,
    pieces: Vec<(i64, u32, Tree)>,
}

/// Size of a piece, and all that may lie in it.
type Pieces = BTreeMap<i64, Vec<(Vec<u32>, Tree)>>;

struct Listing<'m, 'r> {
    demand: Vec<u32>,
    meter: &'m mut Meter<'r>,
}

/// All largest patterns as stock and tree; `None` if they take more effort than the meter allows.
pub(super) fn all_patterns(problem: &Problem, meter: &mut Meter<'_>) -> Option<Vec<(usize, Tree)>> {
    let mut all = Vec::new();
    for along in [Along::Height, Along::Width] {
        let (items, sheets) = laid(problem, along);
        for (stock, sheet) in sheets.iter().enumerate() {
            let demand = problem.demand.clone();
            let fits = |item: &&Item| item.w <= sheet.w && item.h <= sheet.h;
            let items: Vec<Item> = items.iter().filter(fits).copied().collect();
            let mut listing = Listing { demand, meter };
            let fillings = listing.sheet(&items, (sheet.w, sheet.h), along)?;
            all.extend(fillings.into_iter().map(|filling| {
                let pieces = filling.pieces;
                (stock, Tree::Split { along, pieces })
            }));
        }
    }
    Some(all)
}

impl Listing<'_, '_> {
    fn sheet(&mut self, items: &[Item], (w, h): (i64, i64), along: Along) -> Option<Vec<Filling>> {
        let mut columns = BTreeMap::new();
        for width in items.iter().map(|item| item.w).collect::<BTreeSet<i64>>() {
            columns.insert(width, self.stacks(items, width, h)?);
        }
        let heights: BTreeSet<i64> = columns
            .values()
            .flat_map(|stacks| stacks.keys().copied())
            .filter(|&height| height > 0)
            .collect();
        let mut levels = Pieces::new();
        for height in heights {
            let mut pieces = Pieces::new();
            for (&width, stacks) in &columns {
                let highest = stacks.range(..=height).next_back();
                let stacks = highest.map_or(&[][..], |(_, stacks)| stacks);
                let stacks = stacks.iter().filter(|stack| !stack.pieces.is_empty());
                let trees = stacks.map(|stack| stack.tree(along)).collect();
                pieces.insert(width, trees);
            }
            let level = self.fillings(&pieces, w)?.pop_last();
            let level = level.map_or_else(Vec::new, |(_, level)| level);
            let trees = level
                .iter()
                .map(|level| level.tree(along.other()))
                .collect();
            levels.insert(height, trees);
        }
        self.fillings(&levels, h)?.pop_last().map(|(_, all)| all)
    }

    /// The largest stacks of one width, by the height that they take at most.
    fn stacks(
        &mut self,
        items: &[Item],
        width: i64,
        height: i64,
    ) -> Option<BTreeMap<i64, Vec<Filling>>> {
        let mut pieces = Pieces::new();
        for &Item { row, turned, h, .. } in items.iter().filter(|item| item.w == width) {
            let mut counts = vec![0; self.demand.len()];
            counts[row] = 1;
            let part = (counts, Tree::Part { row, turned });
            pieces.entry(h).or_default().push(part);
        }
        self.fillings(&pieces, height)
    }

    /// At each place up to `length` the largest fillings of what lies before it.
    fn fillings(&mut self, pieces: &Pieces, length: i64) -> Option<BTreeMap<i64, Vec<Filling>>> {
        let empty = Filling {
            counts: vec![0; self.demand.len()],
            pieces: Vec::new(),
        };
        let mut places = BTreeMap::from([(0, vec![empty])]);
        let mut ahead = BTreeSet::from([0]);
        while let Some(place) = ahead.pop_first() {
            let mut all: Vec<Filling> = match places.range(..place).next_back() {
                Some((_, before)) => before.clone(),
                None => places[&0].clone(),
            };
            for (&size, inside) in pieces.range(..=place) {
                for before in places.get(&(place - size)).into_iter().flatten() {
                    for (counts, tree) in inside {
                        all.push(before.with(size, counts, tree, &self.demand));
                    }
                    if !self.meter.charge(300 * inside.len() as u64) {
                        return None;
                    }
                }
            }
            let all = self.largest(all)?;
            places.insert(place, all);
            let next = pieces.keys().map(|&size| place + size);
            ahead.extend(next.filter(|&next| next <= length));
        }
        Some(places)
    }

    /// Those whose counts no other one contains.
    fn largest(&mut self, mut all: Vec<Filling>) -> Option<Vec<Filling>> {
        let size = |filling: &Filling| filling.counts.iter().sum::<u32>();
        all.sort_by_key(|filling| std::cmp::Reverse(size(filling)));
        let mut kept: Vec<Filling> = Vec::new();
        for filling in all {
            let within = |other: &Filling| {
                let mut counts = filling.counts.iter().zip(&other.counts);
                counts.all(|(count, other)| count <= other)
            };
            if !self.meter.charge(3 * kept.len() as u64 + 5) {
                return None;
            }
            if !kept.iter().any(within) {
                kept.push(filling);
            }
        }
        Some(kept)
    }
}

impl Filling {
    fn tree(&self, along: Along) -> (Vec<u32>, Tree) {
        let pieces = self.pieces.clone();
        (self.counts.clone(), Tree::Split { along, pieces })
    }

    fn with(&self, size: i64, counts: &[u32], tree: &Tree, demand: &[u32]) -> Self {
        let sum = self.counts.iter().zip(counts).zip(demand);
        let counts = sum.map(|((a, b), &wanted)| (a + b).min(wanted)).collect();
        let mut pieces = self.pieces.clone();
        match pieces.iter_mut().find(|(s, _, t)| *s == size && t == tree) {
            Some((_, times, _)) => *times += 1,
            None => pieces.push((size, 1, tree.clone())),
        }
        Self { counts, pieces }
    }
}
