//! Break points: the nearest clearances at which a class costs more or fewer sheets.
//!
//! Stock comes in few sizes, so a blank a sixteenth smaller can double what a sheet gives.

use super::SizingRequest;
use super::cutting::Cutting;
use crate::{Length, StructureKind};

/// How many marks of the bench's ruler are looked at on each side of the clearance.
const STEPS: i64 = 8;

/// A clearance nearby that changes the yield.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BreakPoint {
    /// For which structure.
    pub structure: StructureKind,
    /// The clearance at which it changes.
    pub clearance: Length,
    /// Sheets that it saves for all makes; below zero it costs them.
    pub saves: i64,
    /// The sheet that the text speaks of.
    pub sheet: String,
    /// Blanks that it gives there (of several blanks: sets).
    pub per_sheet: u32,
    /// In words: "1/16 in less clearance gives 4 blanks ...".
    pub text: String,
}

/// The break points nearest below and above the clearance asked for.
pub(super) fn near(request: &SizingRequest, kind: StructureKind, now: &Cutting) -> Vec<BreakPoint> {
    let step = request.tools.main_ruler().step();
    let changed = |clearance: &Length| {
        let then = cutting(request, kind, *clearance);
        Some((*clearance, then?)).filter(|(_, then)| differs(now, then))
    };
    let less = (1..=STEPS).map(|k| (request.clearance - step * k).max(Length::ZERO));
    let less = less.filter(|clearance| *clearance < request.clearance);
    let more = (1..=STEPS).map(|k| request.clearance + step * k);
    let found = [
        less.into_iter().find_map(|clearance| changed(&clearance)),
        more.into_iter().find_map(|clearance| changed(&clearance)),
    ];
    let tell = |(clearance, then): (Length, Cutting)| tell(request, kind, now, clearance, &then);
    found.into_iter().flatten().map(tell).collect()
}

/// How all makes are cut at another clearance; `None` where nothing fits.
fn cutting(request: &SizingRequest, kind: StructureKind, clearance: Length) -> Option<Cutting> {
    let best = kind.family().best(&request.search(clearance, &[]))?;
    Cutting::best(&request.sheets, &best.blanks, request.makes)
}

fn differs(now: &Cutting, then: &Cutting) -> bool {
    now.sheets != then.sheets || on(now, now.stock) != on(then, now.stock)
}

fn on(cutting: &Cutting, stock: usize) -> u32 {
    cutting.per_sheet.get(stock).copied().unwrap_or(0)
}

fn tell(
    request: &SizingRequest,
    kind: StructureKind,
    now: &Cutting,
    clearance: Length,
    then: &Cutting,
) -> BreakPoint {
    // Another sheet may have become the better one; the text speaks of a sheet that changes.
    let same = on(now, now.stock) != on(then, now.stock);
    let stock = if same { now.stock } else { then.stock };
    let sheet = request.sheet_name(stock);
    let ruler = request.tools.main_ruler();
    let (by, way) = if clearance < request.clearance {
        (request.clearance - clearance, "less")
    } else {
        (clearance - request.clearance, "more")
    };
    let blanks = |count: u32| match count {
        0 => "no blank".to_owned(),
        1 => "1 blank".to_owned(),
        _ => format!("{count} blanks"),
    };
    let was = match on(now, stock) {
        0 => "none".to_owned(),
        count => count.to_string(),
    };
    let mut text = format!(
        "{} {way} clearance gives {} from a sheet of {sheet} instead of {was}",
        ruler.text(by),
        blanks(on(then, stock)),
    );
    if now.sheets != then.sheets {
        let kind = |cutting: &Cutting| match now.stock == then.stock {
            true => String::new(),
            false => format!(" of {}", request.sheet_name(cutting.stock)),
        };
        text += &format!(
            ": {} sheets{} for all {}, not {}{}",
            then.sheets,
            kind(then),
            request.makes,
            now.sheets,
            kind(now),
        );
    }
    text.push('.');
    BreakPoint {
        structure: kind,
        clearance,
        saves: i64::from(now.sheets) - i64::from(then.sheets),
        per_sheet: on(then, stock),
        sheet,
        text,
    }
}
