//! What no order can beat.
//!
//! Every set-up is made at least once. Where jobs follow each other, A, then B, then A, the
//! first and the last can't share one: a set-up is made at least as often as the path that
//! comes back to it most. And two set-ups by themselves, with all others for nothing, are an
//! easy problem: they take turns. Pairs that share no set-up add up.

use super::Jobs;
use super::bits::Bits;

/// For each job and set-up, how often paths from that job on come to the set-up, at most.
pub(super) struct Tails(Vec<Vec<u32>>);

impl Tails {
    pub(super) fn of(jobs: &Jobs) -> Self {
        let mut tails = vec![vec![0; jobs.seconds.len()]; jobs.len()];
        for index in (0..jobs.len()).rev() {
            let own = jobs.jobs[index].set_up;
            // What came back from later jobs counts all but a run that this job begins.
            let row = &mut tails[index];
            row[own] = row[own].max(1);
            let row = row.clone();
            for &before in &jobs.jobs[index].after {
                let its = jobs.jobs[before].set_up;
                for (set_up, &count) in row.iter().enumerate() {
                    let starts_anew = u32::from(set_up == its && its != own);
                    let known = &mut tails[before][set_up];
                    *known = (*known).max(count + starts_anew);
                }
            }
        }
        Self(tails)
    }

    /// Weight that is still to pay at least, where no batch goes on.
    pub(super) fn left(&self, jobs: &Jobs, done: &Bits) -> u64 {
        let mut most = vec![0; jobs.seconds.len()];
        for index in (0..jobs.len()).filter(|&index| jobs.is_ready(index, done)) {
            for (most, &count) in most.iter_mut().zip(&self.0[index]) {
                *most = count.max(*most);
            }
        }
        let weigh = |(set_up, &times): (usize, &u32)| jobs.weight(set_up) * u64::from(times);
        most.iter().enumerate().map(weigh).sum()
    }

    fn times(&self, set_up: usize) -> u64 {
        u64::from(self.0.iter().map(|row| row[set_up]).max().unwrap_or(0))
    }
}

/// The bound for all jobs.
pub(super) fn bound(jobs: &Jobs) -> u64 {
    let tails = Tails::of(jobs);
    let alone: Vec<u64> = (0..jobs.seconds.len())
        .map(|set_up| jobs.weight(set_up) * tails.times(set_up))
        .collect();
    let mut pairs: Vec<(u64, usize, usize)> = Vec::new();
    for a in 0..alone.len() {
        for b in a + 1..alone.len() {
            let more = turns(jobs, a, b).saturating_sub(alone[a] + alone[b]);
            if more > 0 {
                pairs.push((more, a, b));
            }
        }
    }
    // The largest first; any choice without a shared set-up is a bound.
    pairs.sort_by_key(|&(more, a, b)| (std::cmp::Reverse(more), a, b));
    let mut taken = vec![false; alone.len()];
    let mut bound: u64 = alone.iter().sum();
    for (more, a, b) in pairs {
        if !taken[a] && !taken[b] {
            (taken[a], taken[b]) = (true, true);
            bound += more;
        }
    }
    bound
}

/// The least weight of set-ups `a` and `b` where all others cost nothing.
fn turns(jobs: &Jobs, a: usize, b: usize) -> u64 {
    let starting = |first: usize, second: usize| {
        let mut done = Bits::new(jobs.len());
        jobs.close(&mut done, |set_up| set_up != a && set_up != b);
        let (mut now, mut next, mut weight) = (first, second, 0);
        while done.count() < jobs.len() {
            let did = jobs.close(&mut done, |set_up| set_up != next);
            if did.iter().any(|&job| jobs.jobs[job].set_up == now) {
                weight += jobs.weight(now);
            }
            (now, next) = (next, now);
        }
        weight
    };
    starting(a, b).min(starting(b, a))
}
