//! The order of prep in which tools are set up least: precedence-constrained batching.
//!
//! Jobs have a set-up (a tool at a setting) and jobs that come before them. A sequence pays for
//! a set-up each time it changes to it, so equal neighbours share one. For chains this is the
//! weighted shortest common supersequence, which is hard; classes are small, so that search
//! with a bound mostly proves the least. Nothing here knows a clock: limits count states.
//!
//! Once a set-up is made, doing every job that is ready for it is never worse: taking a job out
//! of a later batch can only make that batch vanish. So a sequence is a list of set-ups.

mod bits;
mod bound;
mod search;
#[cfg(test)]
mod tests;

use bits::Bits;

/// One thing to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Job {
    /// Which set-up it needs: an index into [`Jobs::weights`].
    pub(super) set_up: usize,
    /// Jobs that must be done before, each with a smaller index.
    pub(super) after: Vec<usize>,
}

/// Everything to put in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Jobs {
    jobs: Vec<Job>,
    /// Seconds for each set-up.
    seconds: Vec<u32>,
}

/// Jobs that share a set-up, by index.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Group {
    /// The set-up.
    pub(super) set_up: usize,
    /// The jobs, in order.
    pub(super) jobs: Vec<usize>,
}

/// An order of all jobs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sequence {
    /// One for each time that something is set up.
    pub(super) groups: Vec<Group>,
    /// Seconds of all set-ups.
    pub(super) seconds: u32,
    /// No order needs fewer seconds.
    pub(super) at_least_seconds: u32,
}

impl Jobs {
    /// `seconds` has an entry for every set-up that a job names. What a job waits for among
    /// later jobs is dropped, so that jobs can always be put in order.
    pub(super) fn new(mut jobs: Vec<Job>, seconds: Vec<u32>) -> Self {
        for (index, job) in jobs.iter_mut().enumerate() {
            job.after.retain(|&before| before < index);
            job.set_up = job.set_up.min(seconds.len().saturating_sub(1));
        }
        Self { jobs, seconds }
    }

    fn len(&self) -> usize {
        self.jobs.len()
    }

    /// Seconds first, then the number of set-ups: one number to minimise. There are at most as
    /// many set-ups as jobs, so dividing by one more gives the seconds back.
    fn weight(&self, set_up: usize) -> u64 {
        u64::from(self.seconds[set_up]) * self.scale() + 1
    }

    fn scale(&self) -> u64 {
        self.len() as u64 + 1
    }

    fn seconds_of(&self, weight: u64) -> u32 {
        u32::try_from(weight / self.scale()).unwrap_or(u32::MAX)
    }

    fn is_ready(&self, job: usize, done: &Bits) -> bool {
        !done.has(job) && self.jobs[job].after.iter().all(|&before| done.has(before))
    }

    /// Does every job whose set-up `may` be used, as far as they get; gives what was done.
    /// One pass is enough, because jobs wait for smaller indexes only.
    fn close(&self, done: &mut Bits, may: impl Fn(usize) -> bool) -> Vec<usize> {
        let mut now = Vec::new();
        for (index, job) in self.jobs.iter().enumerate() {
            if may(job.set_up) && self.is_ready(index, done) {
                done.add(index);
                now.push(index);
            }
        }
        now
    }

    /// Set-ups that a ready job needs, that of the first job first.
    fn open(&self, done: &Bits) -> Vec<usize> {
        let mut open = Vec::new();
        for (index, job) in self.jobs.iter().enumerate() {
            if self.is_ready(index, done) && !open.contains(&job.set_up) {
                open.push(job.set_up);
            }
        }
        open
    }
}

/// How far a search goes before it settles for what it has.
#[derive(Clone, Copy, Debug)]
pub(super) struct Effort {
    /// States that the proof may look at.
    pub(super) states: usize,
    /// States that the quick search keeps on each level.
    pub(super) width: usize,
}

impl Effort {
    /// For jobs of this size: a few hundredths of a second at most in a release build.
    fn of(jobs: &Jobs) -> Self {
        let state = (jobs.len() * jobs.seconds.len()).max(1);
        Self {
            states: (20_000_000 / state).clamp(200, 20_000),
            width: (200_000 / state).clamp(4, 64),
        }
    }
}

/// The order with the least seconds of set-ups that the effort finds, and what no order can
/// beat. Where there is a choice, jobs keep their order.
pub(super) fn sequence(jobs: &Jobs) -> Sequence {
    within(jobs, Effort::of(jobs))
}

fn within(jobs: &Jobs, effort: Effort) -> Sequence {
    let bound = bound::bound(jobs);
    let quick = search::beam(jobs, effort.width);
    let (path, bound) = if quick.weight == bound {
        (quick, bound)
    } else {
        match search::prove(jobs, effort.states) {
            search::Proof::Least(best) => {
                let weight = best.weight;
                (best, weight)
            }
            search::Proof::AtLeast(weight) => {
                let bound = bound.max(weight).min(quick.weight);
                (quick, bound)
            }
        }
    };
    Sequence {
        groups: groups(jobs, &path.set_ups),
        seconds: jobs.seconds_of(path.weight),
        at_least_seconds: jobs.seconds_of(bound),
    }
}

fn groups(jobs: &Jobs, set_ups: &[usize]) -> Vec<Group> {
    let mut done = Bits::new(jobs.len());
    let group = |&set_up: &usize| Group {
        jobs: jobs.close(&mut done, |other| other == set_up),
        set_up,
    };
    set_ups.iter().map(group).collect()
}
