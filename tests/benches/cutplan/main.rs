//! The cut planner on published orders and on class orders: `cargo bench --bench cutplan`.
//!
//! Prints bound and cost beside the known ones of `tests/cutplan`, seconds of computing, patterns
//! of both plans; then each thing asked for, met or not. Words after `--` choose orders by the
//! start of their names; `quick` leaves the long search out.

#![expect(clippy::print_stdout, reason = "a bench reports on the terminal")]

mod orders;
mod targets;

use std::fs;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::OnceLock;
use std::time::Instant;

use orders::{Known, files, known, read_job};
use tablefold_geometry::{CutJob, Effort, cut_bound, plan_cuts, verify};

/// What an order came to.
struct Row {
    name: String,
    known: Known,
    bound: u64,
    /// Milliseconds of the linear program alone.
    lp_ms: f64,
    /// Price of the cheapest sheet.
    cheapest: u64,
    quick: Outcome,
    thorough: Outcome,
}

/// What an effort came to.
#[derive(Clone)]
struct Outcome {
    cost: u64,
    bound: u64,
    seconds: f64,
    /// Patterns of the cheapest plan as it was found, before it was tidied at the same cost.
    found: usize,
    /// Patterns and fence settings of the cheapest plan, then of the one of least fiddling.
    paper: (usize, usize),
    fiddling: (usize, usize),
    dearer_percent: f64,
}

impl Outcome {
    /// Patterns that the plan of least fiddling saves, in percent of some.
    fn fewer_percent(&self, than: usize) -> f64 {
        100.0 * (1.0 - self.fiddling.0 as f64 / than as f64)
    }
}

impl Row {
    fn gap_percent(&self, of: &Outcome) -> f64 {
        100.0 * (of.cost as f64 / self.bound as f64 - 1.0)
    }
}

fn main() {
    let words = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"));
    let (quick, names): (Vec<String>, Vec<String>) = words.partition(|word| word == "quick");
    let known = known();
    head();
    let mut rows = Vec::new();
    for (name, file) in files(&names) {
        let known = known.get(&name).cloned().unwrap_or_default();
        let row = run(name, &file, known, quick.is_empty());
        show(&row);
        rows.push(row);
    }
    targets::report(&rows);
}

/// Seconds of computing where the system tells them (others may use the machine), else by the clock.
fn seconds_so_far() -> f64 {
    static START: OnceLock<Instant> = OnceLock::new();
    let clock = START.get_or_init(Instant::now).elapsed().as_secs_f64();
    let computing = fs::read_to_string("/proc/self/schedstat").ok();
    let nanoseconds: Option<f64> =
        computing.and_then(|text| text.split_whitespace().next()?.parse().ok());
    nanoseconds.map_or(clock, |nanoseconds| nanoseconds / 1e9)
}

fn run(name: String, file: &Path, known: Known, long: bool) -> Row {
    let job = read_job(file);
    // So short that the least of a few times by the clock tells most.
    let mut lp_ms = f64::INFINITY;
    let mut relaxed = None;
    for _ in 0..5 {
        let start = Instant::now();
        relaxed = Some(cut_bound(&job, &Effort::thorough()));
        lp_ms = lp_ms.min(1000.0 * start.elapsed().as_secs_f64());
        if lp_ms > 200.0 {
            break;
        }
    }
    let relaxed = relaxed.map_or(0, |relaxed| relaxed.cost);
    let quick = outcome(&job, Effort::quick());
    let thorough = if long {
        outcome(&job, Effort::thorough())
    } else {
        quick.clone()
    };
    Row {
        name,
        known,
        bound: relaxed.max(quick.bound).max(thorough.bound),
        lp_ms,
        cheapest: job
            .stock()
            .iter()
            .map(|sheet| sheet.cost)
            .min()
            .unwrap_or(0),
        quick,
        thorough,
    }
}

fn outcome(job: &CutJob, effort: Effort) -> Outcome {
    let start = seconds_so_far();
    let plans = plan_cuts(job, &effort, &mut |_| ControlFlow::Continue(())).expect("a plan");
    let seconds = seconds_so_far() - start;
    for plan in [&plans.least_paper, &plans.least_fiddling] {
        verify(job, plan).expect("the plan keeps its promises");
    }
    let (paper, fiddling) = (&plans.least_paper, &plans.least_fiddling);
    Outcome {
        cost: paper.cost,
        bound: plans.bound,
        seconds,
        found: plans.patterns_untidied,
        paper: (paper.sheets.len(), paper.settings()),
        fiddling: (fiddling.sheets.len(), fiddling.settings()),
        dearer_percent: 100.0 * (fiddling.cost as f64 / paper.cost as f64 - 1.0),
    }
}

/// Quick and long search are divided by a bar.
fn head() {
    println!(
        "{:24} {:>9} {:>10} {:>6} | {:>9} {:>6} {:>7} | {:>9} {:>6} {:>7} {:>9} {:>9} | {:>14}",
        "order",
        "bound",
        "known",
        "LP ms",
        "quick",
        "s",
        "gap %",
        "thorough",
        "s",
        "gap %",
        "best here",
        "published",
        "patterns as found > patterns/fence tidied at the same cost > least fiddling (1 % or one cheapest sheet), fewer, dearer: quick; thorough"
    );
}

fn show(row: &Row) {
    let number = |number: Option<f64>| number.map_or_else(String::new, |n| format!("{n}"));
    let mark = match row.known.bound {
        None => " ",
        Some(known) if known > row.bound as f64 => "!",
        Some(known) if known < row.bound as f64 => ">",
        Some(_) => "=",
    };
    let against = |cost: u64| match row.known.best {
        Some(best) if (cost as f64) < best => "<",
        Some(best) if (cost as f64) > best => ">",
        Some(_) => "=",
        None => " ",
    };
    let patterns = |of: &Outcome| {
        let ((paper, fence), (few, few_fence)) = (of.paper, of.fiddling);
        let (fewer, dearer) = (of.fewer_percent(paper), of.dearer_percent);
        let found = of.found;
        format!(
            "{found:>2} > {paper:>2}/{fence:<3} > {few:>2}/{few_fence:<3} {fewer:>3.0} % {dearer:>5.2} %"
        )
    };
    let (quick, thorough) = (&row.quick, &row.thorough);
    println!(
        "{:24} {:>9}{mark}{:>10} {:>6.1} | {:>9}{} {:>5.2} {:>7.3} | {:>9}{} {:>5.2} {:>7.3} {:>9} {:>9} | {}; {}",
        row.name,
        row.bound,
        number(row.known.bound),
        row.lp_ms,
        quick.cost,
        against(quick.cost),
        quick.seconds,
        row.gap_percent(quick),
        thorough.cost,
        against(thorough.cost),
        thorough.seconds,
        row.gap_percent(thorough),
        number(row.known.best),
        number(row.known.published),
        patterns(quick),
        patterns(thorough),
    );
}
