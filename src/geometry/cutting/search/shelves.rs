//! Whole plans in shelves: the tallest part opens a level, lower ones fill it as they come.
//!
//! Not good, but quick whatever the number of sizes: it ends what careful filling has no effort
//! left for.

use super::super::problem::{Item, Sheet};
use super::super::strips::laid;
use super::super::tree::{Along, Tree};
use super::{Search, Uses};

/// Parts as they lie, the tallest first.
struct Shelves {
    along: Along,
    items: Vec<Item>,
    sheets: Vec<Sheet>,
}

impl Search<'_, '_, '_> {
    /// Cuts what is `left` in shelves, beside the sheets in use.
    pub(super) fn shelves(&mut self, mut left: Vec<u32>, mut uses: Uses) {
        let problem = self.generator.problem;
        // A lower part in a level is trimmed: the third phase.
        if problem.phases.is_some_and(|phases| phases < 3) {
            return self.plain(left, uses);
        }
        let mut both = [Along::Height, Along::Width].map(|along| {
            let (mut items, sheets) = laid(problem, along);
            items.sort_by_key(|item| (-item.h, -item.w, item.row));
            Shelves {
                along,
                items,
                sheets,
            }
        });
        let mut room = self.rooms(&uses);
        while left.iter().any(|&count| count > 0) && !self.meter.stopped() {
            let mut best: Option<(f64, usize, Tree)> = None;
            for shelves in &mut both {
                shelves.items.retain(|item| left[item.row] > 0);
                self.meter.charge(20 * shelves.items.len() as u64);
                for stock in (0..room.len()).filter(|&stock| room[stock] > 0) {
                    let (area, tree) = shelves.fill(stock, &left);
                    let score = area / problem.sheets[stock].cost as f64;
                    if area > 0.0 && best.as_ref().is_none_or(|&(most, ..)| score > most) {
                        best = Some((score, stock, tree));
                    }
                }
            }
            let Some((_, stock, tree)) = best else {
                self.note_lacking(&left);
                return;
            };
            let mut made = vec![0; left.len()];
            tree.count(1, &mut made);
            let Some(pattern) = self.generator.index_of(stock, tree) else {
                return;
            };
            let times = super::sheets::alike(&made, &left).min(room[stock]);
            for (left, made) in left.iter_mut().zip(&made) {
                *left -= made.saturating_mul(times).min(*left);
            }
            room[stock] -= times;
            uses.push((pattern, times));
        }
        if left.iter().all(|&count| count == 0) {
            self.offer(uses);
        }
    }
}

impl Shelves {
    /// One sheet: the area of its parts, and how they lie.
    fn fill(&self, stock: usize, left: &[u32]) -> (f64, Tree) {
        let sheet = self.sheets[stock];
        let mut left = left.to_vec();
        let mut room = sheet.h;
        let mut area = 0.0;
        let mut levels: Vec<(i64, u32, Tree)> = Vec::new();
        for index in 0..self.items.len() {
            let first = self.items[index];
            while left[first.row] > 0 && first.h <= room && first.w <= sheet.w {
                let columns = self.level(index, sheet.w, &mut left, &mut area);
                room -= first.h;
                let tree = Tree::Split {
                    along: self.along.other(),
                    pieces: columns,
                };
                match levels.last_mut() {
                    Some((h, times, last)) if *h == first.h && *last == tree => *times += 1,
                    _ => levels.push((first.h, 1, tree)),
                }
            }
        }
        let tree = Tree::Split {
            along: self.along,
            pieces: levels,
        };
        (area, tree)
    }

    /// A level as high as the item `first`, filled by it and those after it.
    fn level(
        &self,
        first: usize,
        width: i64,
        left: &mut [u32],
        area: &mut f64,
    ) -> Vec<(i64, u32, Tree)> {
        let height = self.items[first].h;
        let mut room = width;
        let mut columns = Vec::new();
        for &Item { row, turned, w, h } in &self.items[first..] {
            let each = (height / h).min(i64::from(left[row]));
            if each == 0 || w > room {
                continue;
            }
            let times = (room / w).min(i64::from(left[row]) / each);
            room -= times * w;
            left[row] -= (times * each) as u32;
            *area += (times * each) as f64 * (w as f64 * h as f64);
            let stack = Tree::Split {
                along: self.along,
                pieces: vec![(h, each as u32, Tree::Part { row, turned })],
            };
            columns.push((w, times as u32, stack));
        }
        columns
    }
}
