//! A set of jobs, small enough to keep thousands of.

/// Which jobs are done.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Bits(Box<[u64]>);

impl Bits {
    /// None of `len` jobs.
    pub(super) fn new(len: usize) -> Self {
        Self(vec![0; len.div_ceil(64)].into_boxed_slice())
    }

    pub(super) fn has(&self, index: usize) -> bool {
        self.0[index / 64] & (1 << (index % 64)) != 0
    }

    pub(super) fn add(&mut self, index: usize) {
        self.0[index / 64] |= 1 << (index % 64);
    }

    pub(super) fn count(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }
}
