//! The job in small whole numbers: lengths divided by their greatest common divisor.
//!
//! A kerf k is added to every part and once to the sheet: then parts lie edge to edge.

use super::job::{CutJob, ways};

/// A way in which a part may lie.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    /// Row of the part among the wanted ones.
    pub(super) row: usize,
    pub(super) turned: bool,
    pub(super) w: i64,
    pub(super) h: i64,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct Sheet {
    pub(super) w: i64,
    pub(super) h: i64,
    pub(super) cost: i64,
    pub(super) available: Option<u32>,
}

pub(super) struct Problem {
    pub(super) sheets: Vec<Sheet>,
    pub(super) items: Vec<Item>,
    /// How many of each wanted part.
    pub(super) demand: Vec<u32>,
    /// Area of each wanted part.
    pub(super) area: Vec<f64>,
    /// Index in the job of each wanted part.
    pub(super) part: Vec<usize>,
    pub(super) phases: Option<u8>,
    /// Nanometres to a unit.
    pub(super) unit: i64,
}

impl Problem {
    pub(super) fn new(job: &CutJob) -> Self {
        let kerf = job.kerf().nm();
        let part: Vec<usize> = (0..job.parts().len())
            .filter(|&part| job.parts()[part].quantity > 0)
            .collect();
        let wanted = || part.iter().map(|&part| &job.parts()[part]);
        let unit = job
            .stock()
            .iter()
            .flat_map(|sheet| [sheet.width, sheet.height])
            .chain(wanted().flat_map(|part| [part.width, part.height]))
            .fold(0, |unit, length| gcd(unit, length.nm() + kerf));
        let mut items = Vec::new();
        let sheets: Vec<Sheet> = job
            .stock()
            .iter()
            .map(|sheet| Sheet {
                w: (sheet.width.nm() + kerf) / unit,
                h: (sheet.height.nm() + kerf) / unit,
                cost: sheet.cost as i64,
                available: sheet.available,
            })
            .collect();
        for (row, part) in wanted().enumerate() {
            for (width, height, turned) in ways(part) {
                let (w, h) = ((width.nm() + kerf) / unit, (height.nm() + kerf) / unit);
                if sheets.iter().any(|sheet| w <= sheet.w && h <= sheet.h) {
                    items.push(Item { row, turned, w, h });
                }
            }
        }
        let demand = wanted().map(|part| part.quantity).collect();
        let size = |length: crate::Length| ((length.nm() + kerf) / unit) as f64;
        let area = wanted()
            .map(|part| size(part.width) * size(part.height))
            .collect();
        Self {
            sheets,
            items,
            demand,
            area,
            part,
            phases: job.max_stages(),
            unit,
        }
    }

    pub(super) fn rows(&self) -> usize {
        self.demand.len()
    }
}

pub(super) fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
