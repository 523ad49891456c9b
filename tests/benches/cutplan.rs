//! The cut planner on published orders and on class orders: `cargo bench --bench cutplan`.
//!
//! Prints a table: bound and cost beside the known ones of `tests/cutplan`, and the time. Words
//! after `--` choose orders by the start of their names; `quick` or `steps=N` sets the effort.

use std::collections::BTreeMap;
use std::fs;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::time::Instant;

use serde_json::Value;
use tablefold_geometry::{CutJob, CutPart, CutStock, Effort, Length, plan_cuts, verify};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let mut names = Vec::new();
    let mut efforts = Vec::new();
    for argument in arguments
        .iter()
        .filter(|argument| !argument.starts_with("--"))
    {
        match (argument.as_str(), argument.strip_prefix("steps=")) {
            ("quick", _) => efforts.push(Effort::quick()),
            ("thorough", _) => efforts.push(Effort::thorough()),
            (_, Some(steps)) => efforts.push(Effort {
                steps: steps.parse().expect("steps is a number"),
            }),
            (name, None) => names.push(name.to_owned()),
        }
    }
    if efforts.is_empty() {
        efforts = vec![Effort::quick(), Effort::thorough()];
    }
    for effort in efforts {
        table(&names, effort);
    }
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

fn folder() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let from_root = here.join("tests/cutplan");
    if from_root.is_dir() {
        from_root
    } else {
        here.join("../../tests/cutplan")
    }
}

/// What is known of an order.
#[derive(Default)]
struct Known {
    bound: Option<f64>,
    best: Option<f64>,
    published: Option<f64>,
}

fn known() -> BTreeMap<String, Known> {
    let mut known = BTreeMap::new();
    let read = |name: &str| fs::read_to_string(folder().join(name)).expect("the table is there");
    for line in read("best-known.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |cell: usize| cells[cell].parse().ok();
        let any = cells[1] == "any-stages";
        let converged = cells[7] != "no";
        let bound = if any {
            number(6).filter(|_| converged)
        } else {
            number(8)
        };
        let row = Known {
            bound,
            best: number(9),
            published: number(2),
        };
        known.insert(cells[0].to_owned(), row);
    }
    for line in read("class-best.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        if cells[2] == "yes" {
            let row = Known {
                bound: cells[6].parse().ok(),
                best: cells[7].parse().ok(),
                published: None,
            };
            known.insert(cells[0].to_owned(), row);
        }
    }
    known
}

fn read_job(path: &Path) -> CutJob {
    let text = fs::read_to_string(path).expect("the order is there");
    let value: Value = serde_json::from_str(&text).expect("the order is JSON");
    let length = |of: &Value, key: &str| {
        let nm = (of[key].as_f64().expect("a length") * 1000.0).round() as i64 * 1000;
        Length::from_nm(nm)
    };
    let whole = |of: &Value, key: &str| of[key].as_u64().expect("a whole number");
    let name = |of: &Value| of["name"].as_str().expect("a name").to_owned();
    let stock = value["stock"].as_array().expect("stock").iter();
    let parts = value["parts"].as_array().expect("parts").iter();
    CutJob::new(
        stock
            .map(|sheet| CutStock {
                name: name(sheet),
                width: length(sheet, "width"),
                height: length(sheet, "height"),
                cost: whole(sheet, "cost"),
                available: sheet["available"].as_u64().map(|n| n as u32),
            })
            .collect(),
        parts
            .map(|part| CutPart {
                name: name(part),
                width: length(part, "width"),
                height: length(part, "height"),
                quantity: whole(part, "quantity") as u32,
                turnable: part["turnable"].as_bool().expect("true or false"),
            })
            .collect(),
        length(&value, "kerf"),
        value["max_stages"].as_u64().map(|stages| stages as u8),
    )
    .expect("the order can be planned")
}

fn table(names: &[String], effort: Effort) {
    let known = known();
    let mut files: Vec<PathBuf> = fs::read_dir(folder())
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    files.sort();
    println!("steps {}", effort.steps);
    println!(
        "{:28} {:>11} {:>11} {:>11} {:>11} {:>11} {:>7} {:>7} {:>5} {:>5} {:>5} {:>5} {:>6}",
        "order",
        "bound",
        "known bound",
        "cost",
        "best here",
        "published",
        "gap %",
        "seconds",
        "pats",
        "fence",
        "pats'",
        "fnc'",
        "dearer"
    );
    let (mut gaps, mut fewer) = (Vec::new(), Vec::new());
    for file in files {
        let stem = file
            .file_stem()
            .and_then(|stem| stem.to_str())
            .unwrap_or("");
        let chosen = names.is_empty() || names.iter().any(|name| stem.starts_with(name.as_str()));
        let order = file.extension().is_some_and(|ending| ending == "json");
        if !order || !chosen || stem.starts_with("one-sheet") {
            continue;
        }
        let job = read_job(&file);
        let start = seconds_so_far();
        let plans = plan_cuts(&job, &effort, &mut |_| ControlFlow::Continue(()));
        let seconds = seconds_so_far() - start;
        let plans = match plans {
            Ok(plans) => plans,
            Err(error) => {
                println!("{stem:28} {error}");
                continue;
            }
        };
        for plan in [&plans.least_paper, &plans.least_fiddling] {
            verify(&job, plan).expect("the plan keeps its promises");
        }
        let none = Known::default();
        let known = known.get(stem).unwrap_or(&none);
        let show = |number: Option<f64>| number.map_or_else(String::new, |n| format!("{n}"));
        let (paper, fiddling) = (&plans.least_paper, &plans.least_fiddling);
        let mark = match known.best {
            Some(best) if (paper.cost as f64) < best => "<",
            Some(best) if (paper.cost as f64) > best => ">",
            _ => " ",
        };
        let wrong = match known.bound {
            Some(bound) if (plans.bound as f64) < bound => "!",
            _ => " ",
        };
        println!(
            "{:28} {:>11}{}{:>11} {:>11}{}{:>11} {:>11} {:>7.3} {:>7.2} {:>5} {:>5} {:>5} {:>5} {:>6.2}",
            stem,
            plans.bound,
            wrong,
            show(known.bound),
            paper.cost,
            mark,
            show(known.best),
            show(known.published),
            plans.gap_percent(),
            seconds,
            paper.sheets.len(),
            paper.settings(),
            fiddling.sheets.len(),
            fiddling.settings(),
            (fiddling.cost as f64 / paper.cost as f64 - 1.0) * 100.0,
        );
        gaps.push(plans.gap_percent());
        fewer.push(1.0 - fiddling.sheets.len() as f64 / paper.sheets.len() as f64);
    }
    let average = |all: &[f64]| all.iter().sum::<f64>() / all.len().max(1) as f64;
    println!(
        "average gap {:.3} %, worst {:.3} %; {:.0} % fewer patterns on average",
        average(&gaps),
        gaps.iter().copied().fold(0.0, f64::max),
        100.0 * average(&fewer),
    );
}
