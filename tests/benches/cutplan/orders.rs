//! The orders of `tests/cutplan` and what is known of them.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tablefold_geometry::{CutJob, CutPart, CutStock, Length};

pub(crate) fn folder() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let from_root = here.join("tests/cutplan");
    if from_root.is_dir() {
        from_root
    } else {
        here.join("../../tests/cutplan")
    }
}

/// What is known of an order.
#[derive(Clone, Default)]
pub(crate) struct Known {
    /// The linear program's bound, raised to a sum of prices; where it converged.
    pub(crate) bound: Option<f64>,
    pub(crate) best: Option<f64>,
    pub(crate) published: Option<f64>,
    /// The published value is proven least.
    pub(crate) optimal: bool,
}

pub(crate) fn known() -> BTreeMap<String, Known> {
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
            optimal: number(2).is_some() && number(2) == number(3),
        };
        known.insert(cells[0].to_owned(), row);
    }
    for line in read("class-best.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        if cells[2] == "yes" {
            let row = Known {
                bound: cells[6].parse().ok(),
                best: cells[7].parse().ok(),
                ..Known::default()
            };
            known.insert(cells[0].to_owned(), row);
        }
    }
    known
}

/// The files of the orders that begin with one of `names`; of all if there are none.
pub(crate) fn files(names: &[String]) -> Vec<(String, PathBuf)> {
    let mut files: Vec<(String, PathBuf)> = fs::read_dir(folder())
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "json"))
        .filter_map(|path| Some((path.file_stem()?.to_str()?.to_owned(), path)))
        .filter(|(stem, _)| !stem.starts_with("one-sheet"))
        .filter(|(stem, _)| {
            names.is_empty() || names.iter().any(|name| stem.starts_with(name.as_str()))
        })
        .collect();
    files.sort();
    files
}

pub(crate) fn read_job(path: &Path) -> CutJob {
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
