//! The cuts of one sheet in working order, and where each part then lies.
//!
//! Which piece of a split comes off first is free: so all cuts at a fence setting are made
//! together wherever the pieces for them have been cut free. Places follow from that order.

use std::collections::BTreeMap;

use super::placed::Placed;
use super::problem::{Problem, Sheet};
use super::tree::{Along, Tree};
use crate::Length;

/// What the fence setting of a cut is measured along.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CutDirection {
    /// Along the sheet's width: the blade runs along its height.
    Width,
    /// Along the sheet's height: the blade runs along its width.
    Height,
}

/// One cut through a whole piece, edge to edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FenceCut {
    /// What the setting is measured along.
    pub direction: CutDirection,
    /// From fence to blade: the size of what comes off.
    pub setting: Length,
    /// Number of the piece that is cut, 0 for the sheet; what remains of it keeps the number.
    pub piece: usize,
    /// Number of the piece that comes off: the next one not given yet.
    pub off: usize,
}

pub(super) struct Ordered {
    pub(super) placed: Vec<Placed>,
    pub(super) cuts: Vec<FenceCut>,
    pub(super) settings: usize,
}

/// A piece of the sheet as it is now.
struct Piece<'t> {
    x: i64,
    y: i64,
    w: i64,
    h: i64,
    along: Along,
    pending: Vec<(i64, u32, &'t Tree)>,
}

struct Bench<'p, 't> {
    problem: &'p Problem,
    kerf: i64,
    pieces: Vec<Piece<'t>>,
    /// For each setting the pieces that can be cut at it now.
    ready: BTreeMap<i64, Vec<usize>>,
    /// For each setting how many cuts are still to come.
    to_come: BTreeMap<i64, u64>,
    done: Ordered,
}

pub(super) fn working_order(problem: &Problem, kerf: Length, sheet: Sheet, tree: &Tree) -> Ordered {
    let mut bench = Bench {
        problem,
        kerf: kerf.nm(),
        pieces: Vec::new(),
        ready: BTreeMap::new(),
        to_come: BTreeMap::new(),
        done: Ordered {
            placed: Vec::new(),
            cuts: Vec::new(),
            settings: 0,
        },
    };
    bench.count(tree, 1);
    bench.pieces.push(Piece {
        x: 0,
        y: 0,
        w: sheet.w,
        h: sheet.h,
        along: Along::Width,
        pending: Vec::new(),
    });
    bench.lay(0, tree);
    let mut setting = None;
    while let Some(next) = bench.next_setting(setting) {
        if setting != Some(next) {
            bench.done.settings += 1;
        }
        setting = Some(next);
        bench.cut(next);
    }
    bench.done
}

impl<'t> Bench<'_, 't> {
    fn count(&mut self, tree: &Tree, times: u64) {
        if let Tree::Split { pieces, .. } = tree {
            for (size, more, inside) in pieces {
                let times = times * u64::from(*more);
                *self.to_come.entry(*size).or_default() += times;
                self.count(inside, times);
            }
        }
    }

    /// Lets a piece become what the tree says.
    fn lay(&mut self, index: usize, tree: &'t Tree) {
        match tree {
            Tree::Part { row, turned } => {
                let Piece { x, y, w, h, .. } = self.pieces[index];
                let unit = self.problem.unit;
                let size = |size: i64| Length::from_nm(size * unit - self.kerf);
                self.done.placed.push(Placed {
                    demand: self.problem.part[*row],
                    x: Length::from_nm(x * unit),
                    y: Length::from_nm(y * unit),
                    width: size(w),
                    height: size(h),
                    turned: *turned,
                });
            }
            Tree::Split { along, pieces } => {
                self.pieces[index].along = *along;
                self.pieces[index].pending = pieces
                    .iter()
                    .map(|(size, times, inside)| (*size, *times, inside))
                    .collect();
                for &(size, ..) in pieces {
                    let ready = self.ready.entry(size).or_default();
                    if !ready.contains(&index) {
                        ready.push(index);
                    }
                }
                self.settle(index);
            }
        }
    }

    /// The last piece of a split may be just what remains: it needs no cut.
    fn settle(&mut self, index: usize) {
        let piece = &self.pieces[index];
        let remains = match piece.along {
            Along::Width => piece.w,
            Along::Height => piece.h,
        };
        if let [(size, 1, inside)] = piece.pending[..]
            && size == remains
        {
            self.pieces[index].pending.clear();
            self.leave(size, index);
            self.came(size);
            self.lay(index, inside);
        }
    }

    fn leave(&mut self, size: i64, index: usize) {
        if let Some(ready) = self.ready.get_mut(&size) {
            ready.retain(|&other| other != index);
            if ready.is_empty() {
                self.ready.remove(&size);
            }
        }
    }

    fn came(&mut self, size: i64) {
        if let Some(count) = self.to_come.get_mut(&size) {
            *count = count.saturating_sub(1);
        }
    }

    /// The same again if possible; else one that need not come back; else the most cuts.
    fn next_setting(&self, now: Option<i64>) -> Option<i64> {
        if let Some(now) = now.filter(|now| self.ready.contains_key(now)) {
            return Some(now);
        }
        let cuts = |size: i64, ready: &Vec<usize>| -> u64 {
            let of = |&index: &usize| {
                let pending = self.pieces[index].pending.iter();
                pending
                    .filter(|&&(other, ..)| other == size)
                    .map(|&(_, times, _)| u64::from(times))
                    .sum::<u64>()
            };
            ready.iter().map(of).sum()
        };
        self.ready
            .iter()
            .max_by_key(|&(&size, ready)| {
                let now = cuts(size, ready);
                let all = self.to_come.get(&size).copied().unwrap_or(0);
                (now >= all, now, size)
            })
            .map(|(&size, _)| size)
    }

    fn cut(&mut self, size: i64) {
        let Some(&index) = self.ready.get(&size).and_then(|ready| ready.first()) else {
            return;
        };
        let pending = &mut self.pieces[index].pending;
        let Some(at) = pending.iter().position(|&(other, ..)| other == size) else {
            return self.leave(size, index);
        };
        let inside = pending[at].2;
        pending[at].1 -= 1;
        if pending[at].1 == 0 {
            pending.remove(at);
        }
        if !pending.iter().any(|&(other, ..)| other == size) {
            self.leave(size, index);
        }
        self.came(size);
        let off = self.take_off(index, size);
        self.lay(off, inside);
        self.settle(index);
    }

    fn take_off(&mut self, index: usize, size: i64) -> usize {
        let off = self.pieces.len();
        let piece = &mut self.pieces[index];
        let (x, y, along) = (piece.x, piece.y, piece.along);
        let (w, h, direction) = match along {
            Along::Width => {
                piece.x += size;
                piece.w -= size;
                (size, piece.h, CutDirection::Width)
            }
            Along::Height => {
                piece.y += size;
                piece.h -= size;
                (piece.w, size, CutDirection::Height)
            }
        };
        self.pieces.push(Piece {
            x,
            y,
            w,
            h,
            along,
            pending: Vec::new(),
        });
        self.done.cuts.push(FenceCut {
            direction,
            setting: Length::from_nm(size * self.problem.unit - self.kerf),
            piece: index,
            off,
        });
        off
    }
}
