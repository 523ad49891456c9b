//! How much work a plan may take: counted in steps, never by the clock, so that the same job
//! gives the same plan on every machine.

use std::ops::ControlFlow;

/// How hard to look for a better plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Steps, each about half a nanosecond of a laptop's time.
    pub steps: u64,
}

impl Effort {
    /// About half a second: while a page loads.
    #[must_use]
    pub const fn quick() -> Self {
        Self { steps: 760_000_000 }
    }

    /// About five seconds.
    #[must_use]
    pub const fn thorough() -> Self {
        Self {
            steps: 7_500_000_000,
        }
    }
}

/// How far the planner is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Steps done.
    pub done: u64,
    /// Steps allowed; the planner stops sooner when the plan is proven least.
    pub of: u64,
    /// Cost of the best plan so far.
    pub best: Option<u64>,
    /// No plan can cost less than this.
    pub bound: u64,
}

pub(super) struct Meter<'a> {
    used: u64,
    limit: u64,
    all: u64,
    next_report: u64,
    stopped: bool,
    pub(super) best: Option<u64>,
    pub(super) bound: u64,
    report: &'a mut dyn FnMut(&Progress) -> ControlFlow<()>,
}

const REPORT_EVERY: u64 = 20_000_000;

impl<'a> Meter<'a> {
    pub(super) fn new(
        effort: &Effort,
        report: &'a mut dyn FnMut(&Progress) -> ControlFlow<()>,
    ) -> Self {
        Self {
            used: 0,
            limit: effort.steps,
            all: effort.steps,
            next_report: 0,
            stopped: false,
            best: None,
            bound: 0,
            report,
        }
    }

    /// Counts steps; says whether there is work left to spend.
    pub(super) fn charge(&mut self, steps: u64) -> bool {
        self.used = self.used.saturating_add(steps);
        if self.used >= self.next_report && !self.stopped {
            self.next_report = self.used + REPORT_EVERY;
            let progress = Progress {
                done: self.used.min(self.all),
                of: self.all,
                best: self.best,
                bound: self.bound,
            };
            self.stopped = (self.report)(&progress).is_break();
        }
        self.going()
    }

    pub(super) fn going(&self) -> bool {
        !self.stopped && self.used < self.limit
    }

    pub(super) fn stopped(&self) -> bool {
        self.stopped
    }

    pub(super) fn left(&self) -> u64 {
        self.limit.saturating_sub(self.used)
    }

    pub(super) fn all(&self) -> u64 {
        self.all
    }

    /// Allows at most `steps` from here; gives back the limit to restore.
    pub(super) fn narrow(&mut self, steps: u64) -> u64 {
        let before = self.limit;
        self.limit = before.min(self.used.saturating_add(steps));
        before
    }

    pub(super) fn restore(&mut self, limit: u64) {
        self.limit = limit;
    }
}
