//! Two searches over the sets of jobs that can be done: a quick one that keeps a few states on
//! each level, and one that goes by the bound until it has the least or its states are used up.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap, HashSet};

use super::Jobs;
use super::bits::Bits;
use super::bound::Tails;

/// Set-ups in order.
pub(super) struct Path {
    pub(super) set_ups: Vec<usize>,
    pub(super) weight: u64,
}

/// What the slower search found out.
pub(super) enum Proof {
    /// Nothing is less.
    Least(Path),
    /// It stopped; nothing is less than this.
    AtLeast(u64),
}

struct Node {
    done: Bits,
    spent: u64,
    /// The node before and the set-up that led here.
    from: Option<(usize, usize)>,
}

/// A beam: always ends, because each level does at least one more job in every state.
pub(super) fn beam(jobs: &Jobs, width: usize) -> Path {
    let tails = Tails::of(jobs);
    let mut nodes = vec![start(jobs)];
    let mut level = vec![0];
    let mut best: Option<usize> = None;
    while !level.is_empty() {
        let mut next: Vec<(u64, usize)> = Vec::new();
        let mut seen: HashMap<Bits, u64> = HashMap::new();
        for &at in &level {
            if nodes[at].done.count() == jobs.len() {
                if best.is_none_or(|best| nodes[at].spent < nodes[best].spent) {
                    best = Some(at);
                }
                continue;
            }
            for node in steps(jobs, &nodes, at) {
                let known = seen.get(&node.done).copied().unwrap_or(u64::MAX);
                if node.spent < known {
                    seen.insert(node.done.clone(), node.spent);
                    let total = node.spent + tails.left(jobs, &node.done);
                    next.push((total, nodes.len()));
                    nodes.push(node);
                }
            }
        }
        let limit = best.map_or(u64::MAX, |best| nodes[best].spent);
        next.retain(|&(total, _)| total < limit);
        next.sort_unstable();
        next.truncate(width);
        level = next.into_iter().map(|(_, at)| at).collect();
    }
    path(&nodes, best.unwrap_or(0))
}

/// Best first by what was spent and the bound for the rest. That bound never falls by more than
/// a step costs, so the first complete state is the least, and no state is looked at twice.
pub(super) fn prove(jobs: &Jobs, states: usize) -> Proof {
    let tails = Tails::of(jobs);
    let mut nodes = vec![start(jobs)];
    let mut known: HashMap<Bits, u64> = HashMap::new();
    let mut looked_at: HashSet<Bits> = HashSet::new();
    let mut open = BinaryHeap::from([Reverse((tails.left(jobs, &nodes[0].done), jobs.len(), 0))]);
    while let Some(Reverse((total, left, at))) = open.pop() {
        if left == 0 {
            return Proof::Least(path(&nodes, at));
        }
        if looked_at.len() == states {
            return Proof::AtLeast(total);
        }
        if !looked_at.insert(nodes[at].done.clone()) {
            continue;
        }
        for node in steps(jobs, &nodes, at) {
            let before = known.get(&node.done).copied().unwrap_or(u64::MAX);
            if node.spent < before {
                known.insert(node.done.clone(), node.spent);
                let total = node.spent + tails.left(jobs, &node.done);
                let left = jobs.len() - node.done.count();
                open.push(Reverse((total, left, nodes.len())));
                nodes.push(node);
            }
        }
    }
    // Jobs can always be put in order, so this is for no jobs at all.
    Proof::Least(path(&nodes, 0))
}

fn start(jobs: &Jobs) -> Node {
    Node {
        done: Bits::new(jobs.len()),
        spent: 0,
        from: None,
    }
}

fn steps(jobs: &Jobs, nodes: &[Node], at: usize) -> Vec<Node> {
    let from = &nodes[at];
    let step = |set_up: usize| {
        let mut done = from.done.clone();
        jobs.close(&mut done, |other| other == set_up);
        Node {
            done,
            spent: from.spent + jobs.weight(set_up),
            from: Some((at, set_up)),
        }
    };
    jobs.open(&from.done).into_iter().map(step).collect()
}

fn path(nodes: &[Node], mut at: usize) -> Path {
    let weight = nodes[at].spent;
    let mut set_ups = Vec::new();
    while let Some((before, set_up)) = nodes[at].from {
        set_ups.push(set_up);
        at = before;
    }
    set_ups.reverse();
    Path { set_ups, weight }
}
