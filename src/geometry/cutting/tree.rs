//! How one sheet falls into parts, edge to edge.

use super::problem::Problem;

/// Along which side of the sheet the pieces of a split follow each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Along {
    Width,
    Height,
}

impl Along {
    pub(super) fn other(self) -> Self {
        match self {
            Self::Width => Self::Height,
            Self::Height => Self::Width,
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) enum Tree {
    Part {
        row: usize,
        turned: bool,
    },
    /// Pieces of a size, so many times each; what remains is waste.
    Split {
        along: Along,
        pieces: Vec<(i64, u32, Tree)>,
    },
}

impl Tree {
    pub(super) fn count(&self, times: u32, counts: &mut [u32]) {
        match self {
            Self::Part { row, .. } => counts[*row] = counts[*row].saturating_add(times),
            Self::Split { pieces, .. } => {
                for (_, more, inside) in pieces {
                    inside.count(times.saturating_mul(*more), counts);
                }
            }
        }
    }
}

/// A way to cut one sheet of a stock.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    pub(super) stock: usize,
    /// Row and how many, none of them 0; may be more than are wanted.
    pub(super) counts: Vec<(usize, u32)>,
    pub(super) tree: Tree,
}

impl Pattern {
    pub(super) fn new(problem: &Problem, stock: usize, tree: Tree) -> Self {
        let mut all = vec![0; problem.rows()];
        tree.count(1, &mut all);
        let counts = all
            .into_iter()
            .enumerate()
            .filter(|&(_, count)| count > 0)
            .collect();
        Self {
            stock,
            counts,
            tree,
        }
    }
}
