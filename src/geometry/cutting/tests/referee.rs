//! Every way to cut a small sheet, and the cheapest plan, by trying everything.
//!
//! Works on whole millimetres and on sets of count vectors; shares nothing with the planner.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use crate::cutting::CutJob;

/// How many of each part, never more than wanted.
type Counts = Vec<u32>;

pub(super) struct Referee {
    /// Part, width, height: one entry for each way to lie.
    items: Vec<(usize, i64, i64)>,
    wanted: Counts,
    memo: HashMap<(i64, i64, u8, u8), BTreeSet<Counts>>,
}

impl Referee {
    /// Sizes with the kerf added, as (width, height, wanted, may turn).
    pub(super) fn new(parts: &[(i64, i64, u32, bool)]) -> Self {
        let mut items = Vec::new();
        for (index, &(w, h, _, turnable)) in parts.iter().enumerate() {
            items.push((index, w, h));
            if turnable && w != h {
                items.push((index, h, w));
            }
        }
        Self {
            items,
            wanted: parts.iter().map(|part| part.2).collect(),
            memo: HashMap::new(),
        }
    }

    /// All count vectors that no other one contains, for a sheet and a number of phases.
    pub(super) fn patterns(&mut self, w: i64, h: i64, phases: Option<u8>) -> Vec<Counts> {
        let all = match phases {
            None => self.any(w, h),
            Some(phases) => {
                let mut all = self.phased(w, h, phases, 0);
                all.extend(self.phased(w, h, phases, 1));
                all
            }
        };
        largest(all).into_iter().collect()
    }

    /// Whole pieces: nothing, or a part of exactly this size.
    fn whole(&self, w: i64, h: i64, exact: bool) -> BTreeSet<Counts> {
        let mut all = BTreeSet::from([vec![0; self.wanted.len()]]);
        for &(part, width, height) in &self.items {
            let fits = if exact {
                (width, height) == (w, h)
            } else {
                width <= w && height <= h
            };
            if fits && self.wanted[part] > 0 {
                let mut counts = vec![0; self.wanted.len()];
                counts[part] = 1;
                all.insert(counts);
            }
        }
        all
    }

    fn any(&mut self, w: i64, h: i64) -> BTreeSet<Counts> {
        if let Some(known) = self.memo.get(&(w, h, u8::MAX, 0)) {
            return known.clone();
        }
        let mut all = self.whole(w, h, false);
        for cut in 1..=w / 2 {
            let both = (self.any(cut, h), self.any(w - cut, h));
            all.extend(self.together(&both.0, &both.1));
        }
        for cut in 1..=h / 2 {
            let both = (self.any(w, cut), self.any(w, h - cut));
            all.extend(self.together(&both.0, &both.1));
        }
        let all = largest(all);
        self.memo.insert((w, h, u8::MAX, 0), all.clone());
        all
    }

    /// At most so many phases, the first one along the width (0) or the height (1).
    fn phased(&mut self, w: i64, h: i64, phases: u8, along: u8) -> BTreeSet<Counts> {
        if phases == 0 {
            return self.whole(w, h, true);
        }
        if let Some(known) = self.memo.get(&(w, h, phases, along)) {
            return known.clone();
        }
        let side = if along == 0 { w } else { h };
        let mut upto: Vec<BTreeSet<Counts>> = vec![BTreeSet::from([vec![0; self.wanted.len()]])];
        for size in 1..=side {
            let mut all = upto[size as usize - 1].clone();
            for last in 1..=size {
                let (pw, ph) = if along == 0 { (last, h) } else { (w, last) };
                let piece = self.phased(pw, ph, phases - 1, 1 - along);
                all.extend(self.together(&piece, &upto[(size - last) as usize]));
            }
            upto.push(largest(all));
        }
        let all = upto.pop().unwrap_or_default();
        self.memo.insert((w, h, phases, along), all.clone());
        all
    }

    fn together(&self, a: &BTreeSet<Counts>, b: &BTreeSet<Counts>) -> BTreeSet<Counts> {
        let sum = |a: &Counts, b: &Counts| -> Counts {
            let both = a.iter().zip(b).zip(&self.wanted);
            both.map(|((a, b), &wanted)| (a + b).min(wanted)).collect()
        };
        a.iter()
            .flat_map(|a| b.iter().map(move |b| sum(a, b)))
            .collect()
    }
}

fn largest(all: BTreeSet<Counts>) -> BTreeSet<Counts> {
    let within = |a: &Counts, b: &Counts| a != b && a.iter().zip(b).all(|(a, b)| a <= b);
    all.iter()
        .filter(|a| !all.iter().any(|b| within(a, b)))
        .cloned()
        .collect()
}

/// The least cost of a small job; `None` if its sheets don't suffice.
pub(super) fn least_cost(job: &CutJob) -> Option<u64> {
    let whole = |length: crate::Length| (length + job.kerf()).nm() / 1_000_000;
    let parts: Vec<(i64, i64, u32, bool)> = job
        .parts()
        .iter()
        .map(|part| {
            (
                whole(part.width),
                whole(part.height),
                part.quantity,
                part.turnable,
            )
        })
        .collect();
    let mut referee = Referee::new(&parts);
    let patterns: Vec<Vec<Counts>> = job
        .stock()
        .iter()
        .map(|sheet| referee.patterns(whole(sheet.width), whole(sheet.height), job.max_stages()))
        .collect();
    // Cheapest first over (what is missing, sheets used).
    let start: Counts = parts.iter().map(|part| part.2).collect();
    let mut open = BTreeMap::from([((0_u64, start, vec![0_u32; patterns.len()]), ())]);
    let mut seen = BTreeSet::new();
    while let Some(((cost, missing, used), ())) = open.pop_first() {
        if missing.iter().all(|&missing| missing == 0) {
            return Some(cost);
        }
        if !seen.insert((missing.clone(), used.clone())) {
            continue;
        }
        for (stock, sheet) in job.stock().iter().enumerate() {
            if sheet
                .available
                .is_some_and(|available| used[stock] >= available)
            {
                continue;
            }
            for counts in &patterns[stock] {
                let rest: Counts = missing
                    .iter()
                    .zip(counts)
                    .map(|(missing, made)| missing.saturating_sub(*made))
                    .collect();
                if rest != missing {
                    let mut used = used.clone();
                    used[stock] += u32::from(sheet.available.is_some());
                    open.insert((cost + sheet.cost, rest, used), ());
                }
            }
        }
    }
    None
}
