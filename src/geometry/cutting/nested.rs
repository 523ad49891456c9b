//! The best pattern of any number of phases under given part values.
//!
//! `best(x, y)` is the worth of the best part that fits x by y, or of the best cut in two:
//!
//! ```text
//!   best(x, y) = max( part, best(x', y) + best(x - x', y), best(x, y') + best(x, y - y') )
//! ```
//!
//! over the places of both axes (after Beasley 1985). One table serves all sheets.

use super::axis::Axis;
use super::meter::Meter;
use super::problem::{Item, Problem, Sheet};
use super::strips::{Priced, laid};
use super::tree::{Along, Tree};

pub(super) struct Nested {
    items: Vec<Item>,
    sheets: Vec<Sheet>,
    xs: Axis,
    ys: Axis,
    /// First place along x and y that holds each item.
    fits: Vec<(usize, usize)>,
    ends: Vec<(usize, usize)>,
    /// `rest_y[y][cut]`: the place that remains of y after a cut at place `cut`, up to half.
    rest_y: Vec<Vec<u16>>,
    rest_x: Vec<Vec<u16>>,
}

/// More places on a side than this make the table too large.
const MOST_PLACES: usize = 2_000;

impl Nested {
    /// `None` if the table would take more than `most` steps to fill.
    pub(super) fn new(problem: &Problem, axes: [&Axis; 2], most: u64) -> Option<Self> {
        let (items, sheets) = laid(problem, Along::Height);
        let [xs, ys] = axes.map(Axis::clone);
        let (p, q) = (xs.points.len(), ys.points.len());
        if !xs.exact || !ys.exact || p > MOST_PLACES || q > MOST_PLACES || work(p, q) > most {
            return None;
        }
        let first = |axis: &Axis, size| axis.points.partition_point(|&point| point < size);
        let fits = items
            .iter()
            .map(|item| (first(&xs, item.w), first(&ys, item.h)))
            .collect();
        let ends = sheets
            .iter()
            .map(|sheet| {
                let end = |axis: &Axis, size| axis.at_most(size).unwrap_or(0);
                (end(&xs, sheet.w), end(&ys, sheet.h))
            })
            .collect();
        let rest_y = (0..q).map(|y| rests(&ys.points, y)).collect();
        let rest_x = (0..p).map(|x| rests(&xs.points, x)).collect();
        Some(Self {
            items,
            sheets,
            fits,
            ends,
            rest_y,
            rest_x,
            xs,
            ys,
        })
    }

    /// The best pattern for each sheet; `None` if stopped. Values must add up to less than 2^30
    /// on any sheet.
    pub(super) fn price(&self, values: &[i64], meter: &mut Meter<'_>) -> Option<Vec<Priced>> {
        let table = self.table(values, meter)?;
        let mut priced = Vec::new();
        for stock in 0..self.sheets.len() {
            let (x, y) = self.ends[stock];
            let value = table[x * self.ys.points.len() + y];
            if value > 0 {
                priced.push(Priced {
                    stock,
                    value: i64::from(value),
                    tree: self.tree(&table, values, x, y),
                });
            }
        }
        Some(priced)
    }

    fn table(&self, values: &[i64], meter: &mut Meter<'_>) -> Option<Vec<i32>> {
        let (p, q) = (self.xs.points.len(), self.ys.points.len());
        let mut table = vec![0_i32; p * q];
        for (item, &(x, y)) in self.items.iter().zip(&self.fits) {
            if x < p && y < q {
                let value = i32::try_from(values[item.row]).unwrap_or(i32::MAX / 2);
                let cell = &mut table[x * q + y];
                *cell = (*cell).max(value);
            }
        }
        meter.charge((p * q) as u64);
        for x in 1..p {
            let (done, rest) = table.split_at_mut(x * q);
            let row = &mut rest[..q];
            for (cell, &before) in row.iter_mut().zip(&done[(x - 1) * q..]) {
                *cell = (*cell).max(before);
            }
            let rests = &self.rest_x[x];
            for (cut, &rest) in rests.iter().enumerate().skip(1) {
                // Of cuts that leave the same remainder, the last one gives most.
                if rests.get(cut + 1) != Some(&rest) {
                    let rest = usize::from(rest);
                    join(
                        row,
                        &done[cut * q..(cut + 1) * q],
                        &done[rest * q..(rest + 1) * q],
                    );
                }
            }
            meter.charge((rests.len() * q / 3) as u64 + self.cut_row(row));
            if meter.stopped() {
                return None;
            }
        }
        Some(table)
    }

    /// The cuts along y within a row that holds the best of all else.
    fn cut_row(&self, row: &mut [i32]) -> u64 {
        // A cut makes sense only where the near piece gains something.
        let mut gains: Vec<usize> = Vec::new();
        let mut steps = row.len() as u64;
        for y in 1..row.len() {
            let mut best = row[y].max(row[y - 1]);
            let rest = &self.rest_y[y];
            for &cut in &gains {
                if cut >= rest.len() {
                    break;
                }
                best = best.max(row[cut] + row[usize::from(rest[cut])]);
            }
            row[y] = best;
            steps += 2 * gains.len().min(rest.len()) as u64;
            if best > row[y - 1] {
                gains.push(y);
            }
        }
        steps
    }

    fn tree(&self, table: &[i32], values: &[i64], mut x: usize, mut y: usize) -> Tree {
        let q = self.ys.points.len();
        let at = |x: usize, y: usize| table[x * q + y];
        let value = at(x, y);
        while x > 0 && at(x - 1, y) == value {
            x -= 1;
        }
        while y > 0 && at(x, y - 1) == value {
            y -= 1;
        }
        let fits = |&(index, &(left, top)): &(usize, &(usize, usize))| {
            left <= x && top <= y && values[self.items[index].row] == i64::from(value)
        };
        if let Some((index, _)) = self.fits.iter().enumerate().find(fits) {
            return self.trimmed(index);
        }
        for (cut, &rest) in self.rest_y[y].iter().enumerate().skip(1) {
            let rest = usize::from(rest);
            if at(x, cut) + at(x, rest) == value {
                let sizes = (self.ys.points[cut], self.ys.points[rest]);
                let pieces = [(x, cut), (x, rest)].map(|(x, y)| self.tree(table, values, x, y));
                return split(Along::Height, sizes, pieces);
            }
        }
        for (cut, &rest) in self.rest_x[x].iter().enumerate().skip(1) {
            let rest = usize::from(rest);
            if at(cut, y) + at(rest, y) == value {
                let sizes = (self.xs.points[cut], self.xs.points[rest]);
                let pieces = [(cut, y), (rest, y)].map(|(x, y)| self.tree(table, values, x, y));
                return split(Along::Width, sizes, pieces);
            }
        }
        // Not reached: every cell has one of the three origins.
        Tree::Split {
            along: Along::Width,
            pieces: Vec::new(),
        }
    }

    /// A part alone in a piece that may be larger.
    fn trimmed(&self, index: usize) -> Tree {
        let Item { row, turned, w, h } = self.items[index];
        Tree::Split {
            along: Along::Width,
            pieces: vec![(
                w,
                1,
                Tree::Split {
                    along: Along::Height,
                    pieces: vec![(h, 1, Tree::Part { row, turned })],
                },
            )],
        }
    }
}

/// Cell by cell: is the cut worth more?
fn join(row: &mut [i32], near: &[i32], far: &[i32]) {
    for ((cell, &near), &far) in row.iter_mut().zip(near).zip(far) {
        *cell = (*cell).max(near + far);
    }
}

/// For each cut place up to half of `whole`, the place that remains; place 0 stands for no cut.
fn rests(points: &[i64], whole: usize) -> Vec<u16> {
    let mut rest = whole;
    let mut rests = Vec::new();
    for &cut in points.iter().take_while(|&&cut| 2 * cut <= points[whole]) {
        while points[rest] > points[whole] - cut {
            rest -= 1;
        }
        rests.push(rest as u16);
    }
    rests
}

fn split(along: Along, sizes: (i64, i64), pieces: [Tree; 2]) -> Tree {
    let [near, far] = pieces;
    let mut all = Vec::new();
    for (size, tree) in [(sizes.0, near), (sizes.1, far)] {
        match tree {
            // A piece that is split the same way again joins the row it lies in.
            Tree::Split {
                along: inner,
                pieces,
            } if inner == along => all.extend(pieces),
            tree => all.push((size, 1, tree)),
        }
    }
    let mut pieces: Vec<(i64, u32, Tree)> = Vec::new();
    for (size, times, tree) in all {
        match pieces.iter_mut().find(|(s, _, t)| *s == size && *t == tree) {
            Some((_, more, _)) => *more += times,
            None => pieces.push((size, times, tree)),
        }
    }
    Tree::Split { along, pieces }
}

fn work(p: usize, q: usize) -> u64 {
    let (p, q) = (p as u64, q as u64);
    // A step along x handles several cells at once.
    p * q * (p / 8 + q / 4)
}
