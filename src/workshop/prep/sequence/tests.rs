//! Orders against exhaustive search, which knows nothing of batches: it tries every order of
//! jobs that precedence allows and pays at each change.

use proptest::prelude::*;

use super::*;

fn job(set_up: usize, after: &[usize]) -> Job {
    Job {
        set_up,
        after: after.to_vec(),
    }
}

/// Chains of set-ups, each job after the one before it.
fn chains(chains: &[&[usize]], seconds: &[u32]) -> Jobs {
    let mut jobs = Vec::new();
    for chain in chains {
        for (place, &set_up) in chain.iter().enumerate() {
            let before: Vec<usize> = (place > 0).then(|| jobs.len() - 1).into_iter().collect();
            jobs.push(job(set_up, &before));
        }
    }
    Jobs::new(jobs, seconds.to_vec())
}

/// The least seconds over every order that is allowed.
fn exhaustive(jobs: &Jobs) -> u32 {
    fn go(jobs: &Jobs, done: &mut Vec<usize>, spent: u32, best: &mut u32) {
        if done.len() == jobs.jobs.len() {
            *best = spent.min(*best);
        }
        for (index, job) in jobs.jobs.iter().enumerate() {
            if done.contains(&index) || job.after.iter().any(|before| !done.contains(before)) {
                continue;
            }
            let same = done
                .last()
                .is_some_and(|&last| jobs.jobs[last].set_up == job.set_up);
            let change = if same { 0 } else { jobs.seconds[job.set_up] };
            done.push(index);
            go(jobs, done, spent + change, best);
            done.pop();
        }
    }
    let mut best = u32::MAX;
    go(jobs, &mut Vec::new(), 0, &mut best);
    best
}

/// Every job once, after what it waits for; each group needs its own set-up and says so.
fn follows(jobs: &Jobs, order: &Sequence) -> bool {
    let mut done = Vec::new();
    let mut seconds = 0;
    for group in &order.groups {
        seconds += jobs.seconds[group.set_up];
        for &index in &group.jobs {
            let job = &jobs.jobs[index];
            if job.set_up != group.set_up || job.after.iter().any(|before| !done.contains(before)) {
                return false;
            }
            done.push(index);
        }
    }
    let changes = order
        .groups
        .windows(2)
        .all(|two| two[0].set_up != two[1].set_up);
    done.sort_unstable();
    changes && seconds == order.seconds && done == (0..jobs.jobs.len()).collect::<Vec<_>>()
}

fn set_ups(order: &Sequence) -> Vec<usize> {
    order.groups.iter().map(|group| group.set_up).collect()
}

fn small() -> impl Strategy<Value = Jobs> {
    let job = (
        0usize..4,
        prop::collection::vec(any::<prop::sample::Index>(), 0..3),
    );
    let jobs = prop::collection::vec(job, 1..8);
    (jobs, prop::collection::vec(0u32..90, 4)).prop_map(|(jobs, seconds)| {
        let jobs = jobs
            .into_iter()
            .enumerate()
            .map(|(index, (set_up, after))| Job {
                set_up,
                after: if index == 0 {
                    Vec::new()
                } else {
                    after.iter().map(|before| before.index(index)).collect()
                },
            });
        Jobs::new(jobs.collect(), seconds)
    })
}

proptest! {
    #[test]
    fn no_order_of_small_jobs_takes_less(jobs in small()) {
        let (order, least) = (sequence(&jobs), exhaustive(&jobs));
        prop_assert!(follows(&jobs, &order), "{order:?}");
        prop_assert_eq!(order.seconds, least);
        prop_assert_eq!(order.at_least_seconds, least);
    }

    #[test]
    fn a_search_that_stops_early_still_tells_the_truth(jobs in small(), states in 0usize..4) {
        let least = exhaustive(&jobs);
        let order = within(&jobs, Effort { states, width: 1 });
        prop_assert!(follows(&jobs, &order), "{order:?}");
        prop_assert!(order.at_least_seconds <= least, "{} > {least}", order.at_least_seconds);
        prop_assert!(order.seconds >= least);
        prop_assert!(jobs.seconds_of(bound::bound(&jobs)) <= least);
    }
}

#[test]
fn the_bound_is_not_just_each_set_up_once() {
    // One piece is punched, then scored, then punched; by hand: 60 + 30 + 60.
    let there_and_back = chains(&[&[0, 1, 0]], &[60, 30]);
    assert_eq!(
        there_and_back.seconds_of(bound::bound(&there_and_back)),
        150
    );
    // Two pieces that need the same two set-ups the other way round: the cheaper one twice.
    let crossed = chains(&[&[0, 1], &[1, 0]], &[60, 30]);
    assert_eq!(crossed.seconds_of(bound::bound(&crossed)), 120);
    assert_eq!(set_ups(&sequence(&crossed)), [1, 0, 1]);
}

#[test]
fn a_set_up_waits_until_all_that_need_it_are_ready() {
    // Taking what is ready first would set 1 up twice: [1, 0, 1].
    let jobs = Jobs::new(vec![job(1, &[]), job(0, &[]), job(1, &[1])], vec![60, 60]);
    let order = sequence(&jobs);
    assert_eq!(set_ups(&order), [0, 1]);
    assert_eq!(order.groups[1].jobs, [0, 2]);
}

#[test]
fn one_shorter_time_turns_the_order_round() {
    // Graham 1966, 1969: shorter times can make an old order bad, so none is kept. Here a
    // quicker set-up of 1 makes the order that was best 30 s worse than it need be.
    let order = |seconds: [u32; 2]| sequence(&chains(&[&[0, 1], &[1, 0]], &seconds));
    let (before, after) = (order([60, 90]), order([60, 30]));
    assert_eq!((set_ups(&before), before.seconds), (vec![0, 1, 0], 210));
    assert_eq!((set_ups(&after), after.seconds), (vec![1, 0, 1], 120));
    let kept = 60 + 30 + 60;
    assert_eq!(kept - after.seconds, 30);
}

#[test]
fn jobs_without_a_choice_keep_their_order() {
    let jobs = chains(&[&[2], &[0], &[1]], &[15, 15, 15]);
    assert_eq!(set_ups(&sequence(&jobs)), [2, 0, 1]);
}

#[test]
fn nothing_to_do_is_done() {
    let order = sequence(&Jobs::new(Vec::new(), Vec::new()));
    assert_eq!(
        (order.groups.len(), order.seconds, order.at_least_seconds),
        (0, 0, 0)
    );
}

#[test]
fn many_long_chains_end_with_an_order_and_a_bound() {
    // 24 chains of 16 jobs over 30 set-ups, from a fixed generator.
    let mut state = 7u64;
    let mut next = |below: u64| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (state >> 33) % below
    };
    let rows: Vec<Vec<usize>> = (0..24)
        .map(|_| (0..16).map(|_| next(30) as usize).collect())
        .collect();
    let rows: Vec<&[usize]> = rows.iter().map(Vec::as_slice).collect();
    let jobs = chains(&rows, &[45; 30]);
    let order = sequence(&jobs);
    assert!(follows(&jobs, &order));
    assert!(order.at_least_seconds <= order.seconds && order.at_least_seconds >= 30 * 45);
    assert_eq!(order, sequence(&jobs), "the same answer every time");
}
