//! Fills one sheet after another with what is still wanted, never more of a part than that.
//!
//! Patterns made for the linear program hold many of few parts. Orders of few sheets and many
//! sizes need sheets of mixed parts: these come from here. A level is filled by a knapsack over
//! columns that are each there once.

use std::collections::BTreeMap;

use super::axis::NOWHERE;
use super::random::Random;
use super::strips::Strips;
use super::tree::Tree;

/// More columns than this are not weighed for a level.
const MOST_STACKS: usize = 400;

/// A filled sheet.
pub(super) struct Filled {
    pub(super) value: f64,
    pub(super) tree: Tree,
    pub(super) steps: u64,
}

/// One column that a level may take: its parts are (item, times).
struct Stack {
    column: usize,
    value: f64,
    parts: Vec<(usize, u32)>,
}

struct Level {
    value: f64,
    stacks: Vec<Stack>,
}

impl Strips {
    /// Fills a sheet with parts of `left`, taking them off; tries `tries` heights for each level.
    pub(super) fn fill_sheet(
        &self,
        stock: usize,
        values: &[f64],
        left: &mut [u32],
        tries: usize,
        random: &mut Random,
    ) -> Option<Filled> {
        // A single phase makes whole strips: nothing to fill.
        if self.phases() == 1 {
            return None;
        }
        let sheet = self.sheet(stock);
        let mut room = sheet.h;
        let mut filled = Filled {
            value: 0.0,
            tree: Tree::Split {
                along: self.along(),
                pieces: Vec::new(),
            },
            steps: 0,
        };
        let mut pieces = Vec::new();
        loop {
            let heights = self.heights_to_try(sheet.w, room, values, left, tries, random);
            let mut best: Option<(f64, i64, Level)> = None;
            for height in heights {
                let level = self.fill_level(stock, height, values, left, &mut filled.steps);
                let score = level.value / height as f64;
                if level.value > 0.0 && best.as_ref().is_none_or(|(most, ..)| score > *most) {
                    best = Some((score, height, level));
                }
            }
            let Some((_, height, level)) = best else {
                break;
            };
            filled.value += level.value;
            pieces.push((height, 1, self.level_tree(&level, left)));
            room -= height;
        }
        filled.tree = Tree::Split {
            along: self.along(),
            pieces: together(pieces),
        };
        (filled.value > 0.0).then_some(filled)
    }

    /// Some heights of parts that are wanted; the tall and the dear ones more often.
    fn heights_to_try(
        &self,
        width: i64,
        room: i64,
        values: &[f64],
        left: &[u32],
        tries: usize,
        random: &mut Random,
    ) -> Vec<i64> {
        let mut weights: BTreeMap<i64, f64> = BTreeMap::new();
        for item in self.items() {
            if left[item.row] > 0 && item.h <= room && item.w <= width {
                *weights.entry(item.h).or_default() += values[item.row] * f64::from(left[item.row]);
            }
        }
        let mut heights: Vec<(i64, f64)> = weights.into_iter().collect();
        let mut chosen = Vec::new();
        while chosen.len() < tries && !heights.is_empty() {
            let all: f64 = heights.iter().map(|&(_, weight)| weight).sum();
            let mut at = random.unit() * all;
            let index = heights
                .iter()
                .position(|&(_, weight)| {
                    at -= weight;
                    at <= 0.0
                })
                .unwrap_or(heights.len() - 1);
            chosen.push(heights.swap_remove(index).0);
        }
        chosen
    }

    fn fill_level(
        &self,
        stock: usize,
        height: i64,
        values: &[f64],
        left: &[u32],
        steps: &mut u64,
    ) -> Level {
        let end = self.end_x(stock);
        let mut stacks = self.stacks_for(self.sheet(stock).w, height, values, left);
        *steps += 20 * self.items().len() as u64;
        if stacks.len() > MOST_STACKS {
            let density = |stack: &Stack| stack.value / self.column_width(stack.column) as f64;
            stacks.sort_by(|a, b| density(b).total_cmp(&density(a)));
            stacks.truncate(MOST_STACKS);
        }
        let mut row = vec![0.0_f64; end + 1];
        let mut taken = vec![false; stacks.len() * (end + 1)];
        for (index, stack) in stacks.iter().enumerate() {
            let before = &self.before_x(stack.column)[..=end];
            for place in (1..=end).rev() {
                let rest = before[place];
                if rest == NOWHERE {
                    break;
                }
                let value = row[rest as usize] + stack.value;
                if value > row[place] + 1e-12 {
                    row[place] = value;
                    taken[index * (end + 1) + place] = true;
                }
            }
        }
        *steps += (stacks.len() * end) as u64;
        let mut place = end;
        let mut keep = vec![false; stacks.len()];
        for index in (0..stacks.len()).rev() {
            if taken[index * (end + 1) + place] {
                keep[index] = true;
                place = self.before_x(stacks[index].column)[place] as usize;
            }
        }
        let mut keeps = keep.into_iter();
        stacks.retain(|_| keeps.next().unwrap_or(false));
        self.level_within(stacks, values, left)
    }

    /// A part that may be turned can stand in two columns: takes off what is more than wanted.
    fn level_within(&self, mut stacks: Vec<Stack>, values: &[f64], left: &[u32]) -> Level {
        let mut left = left.to_vec();
        let mut value = 0.0;
        for stack in &mut stacks {
            for (item, times) in &mut stack.parts {
                let row = self.items()[*item].row;
                *times = left[row].min(*times);
                left[row] -= *times;
                value += values[row] * f64::from(*times);
            }
            stack.parts.retain(|&(_, times)| times > 0);
        }
        stacks.retain(|stack| !stack.parts.is_empty());
        Level { value, stacks }
    }

    /// The columns that may stand in a level, those of one width from dear to cheap.
    fn stacks_for(&self, width: i64, height: i64, values: &[f64], left: &[u32]) -> Vec<Stack> {
        let mut stacks = Vec::new();
        for column in 0..self.column_count() {
            let wide = self.column_width(column);
            let items: Vec<usize> = self
                .column_items(column)
                .filter(|&item| {
                    let h = self.items()[item].h;
                    let fits = if self.phases() == 3 {
                        h <= height
                    } else {
                        h == height
                    };
                    fits && left[self.items()[item].row] > 0
                })
                .collect();
            if wide > width || items.is_empty() {
                continue;
            }
            let mut left: Vec<u32> = items
                .iter()
                .map(|&item| left[self.items()[item].row])
                .collect();
            for _ in 0..width / wide {
                let (value, parts) = self.best_stack(&items, height, values, &left);
                if parts.is_empty() {
                    break;
                }
                let mut stack = Vec::new();
                for (index, times) in parts {
                    left[index] -= times;
                    stack.push((items[index], times));
                }
                stacks.push(Stack {
                    column,
                    value,
                    parts: stack,
                });
            }
        }
        stacks
    }

    /// Each part in turn at the foot, the others filled in by worth to height; the best of these.
    fn best_stack(
        &self,
        items: &[usize],
        height: i64,
        values: &[f64],
        left: &[u32],
    ) -> (f64, Vec<(usize, u32)>) {
        let item = |index: usize| self.items()[items[index]];
        let worth = |index: usize| values[item(index).row];
        let mut order: Vec<usize> = (0..items.len()).filter(|&i| left[i] > 0).collect();
        order.sort_by(|&a, &b| {
            let density = |i: usize| worth(i) / item(i).h as f64;
            density(b).total_cmp(&density(a)).then(a.cmp(&b))
        });
        let mut best = (0.0, Vec::new());
        for &foot in order.iter().take(8) {
            let mut room = height;
            let mut value = 0.0;
            let mut parts: Vec<(usize, u32)> = Vec::new();
            for &index in std::iter::once(&foot).chain(order.iter().filter(|&&i| i != foot)) {
                let times = (room / item(index).h).min(i64::from(left[index])) as u32;
                let times = if self.phases() == 3 {
                    times
                } else {
                    times.min(1)
                };
                if times > 0 {
                    room -= i64::from(times) * item(index).h;
                    value += f64::from(times) * worth(index);
                    parts.push((index, times));
                }
            }
            if value > best.0 {
                best = (value, parts);
            }
        }
        best
    }

    fn level_tree(&self, level: &Level, left: &mut [u32]) -> Tree {
        let stack = |stack: &Stack| {
            let mut pieces = Vec::new();
            for &(item, times) in &stack.parts {
                let item = self.items()[item];
                left[item.row] -= times;
                let (row, turned) = (item.row, item.turned);
                pieces.push((item.h, times, Tree::Part { row, turned }));
            }
            let tree = match pieces.as_slice() {
                [(_, 1, part)] if self.phases() < 3 => part.clone(),
                _ => Tree::Split {
                    along: self.along(),
                    pieces,
                },
            };
            (self.column_width(stack.column), 1, tree)
        };
        Tree::Split {
            along: self.along().other(),
            pieces: together(level.stacks.iter().map(stack).collect()),
        }
    }
}

/// Equal neighbours as one entry.
fn together(pieces: Vec<(i64, u32, Tree)>) -> Vec<(i64, u32, Tree)> {
    let mut all: Vec<(i64, u32, Tree)> = Vec::new();
    for (size, times, tree) in pieces {
        match all.iter_mut().find(|(s, _, t)| *s == size && *t == tree) {
            Some((_, more, _)) => *more += times,
            None => all.push((size, times, tree)),
        }
    }
    all
}
