//! Break points: the nearest clearances at which a class costs more or fewer sheets, and the
//! sizes of the contents at which it costs fewer.
//!
//! Stock comes in few sizes, so a blank a sixteenth smaller can double what a sheet gives.

use super::SizingRequest;
use super::cutting::Cutting;
use super::size_breaks::{SizeChange, smaller};
use crate::{Length, Serves, StructureKind};

/// How many marks of the bench's ruler are looked at on each side of the clearance.
const STEPS: i64 = 8;

/// A clearance nearby that changes the yield.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BreakPoint {
    /// For which structure.
    pub structure: StructureKind,
    /// The clearance at which it changes; as asked for, where a size does it.
    pub clearance: Length,
    /// The size of the contents that does it; `None` where the clearance does.
    pub size: Option<SizeChange>,
    /// Sheets for all makes then.
    pub sheets: u32,
    /// Sheets that it saves for all makes; below zero it costs them.
    pub saves: i64,
    /// The sheet that the text speaks of.
    pub sheet: String,
    /// Blanks that it gives there (of several blanks: sets).
    pub per_sheet: u32,
    /// In words: "1/16 in less clearance gives 4 blanks ...".
    pub text: String,
}

/// Break points that are told, at most.
const MOST: usize = 3;

impl BreakPoint {
    /// Whether it is about a size of things that are bought, such as tins: they rarely come
    /// smaller.
    fn is_bought_size(&self) -> bool {
        self.size.is_some() && self.structure.serves() == Serves::Solids
    }

    /// What matters more comes first: what saves sheets, then what costs some; to the fewest
    /// sheets first, by the smallest change; sizes of what is bought last among those that save.
    #[must_use]
    pub fn order(&self) -> (u8, u32, i64, Length) {
        let group = match self.saves {
            1.. if self.is_bought_size() => 1,
            1.. => 0,
            0 => 3,
            _ => 2,
        };
        let by = self.size.map_or(Length::ZERO, |size| size.by());
        (group, self.sheets, -self.saves, by)
    }
}

/// Those that matter most, with at most one size of bought things for each structure.
pub(super) fn foremost(mut points: Vec<BreakPoint>) -> Vec<BreakPoint> {
    points.sort_by_key(BreakPoint::order);
    let mut sized = Vec::new();
    points.retain(|point| {
        let again = point.is_bought_size() && sized.contains(&point.structure);
        if point.is_bought_size() {
            sized.push(point.structure);
        }
        !again
    });
    points.truncate(MOST);
    points
}

/// The break points nearest below and above the clearance asked for, and the nearest smaller
/// sizes of the contents.
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
    let ruler = request.tools.main_ruler();
    let tell_clearance = |(clearance, then): (Length, Cutting)| {
        let (by, way) = if clearance < request.clearance {
            (request.clearance - clearance, "less")
        } else {
            (clearance - request.clearance, "more")
        };
        let what = format!("{} {way} clearance", ruler.text(by));
        let told = tell(request, kind, (now, &then), &what);
        BreakPoint { clearance, ..told }
    };
    let tell_size = |(size, then): (SizeChange, Cutting)| {
        let told = tell(request, kind, (now, &then), &size.text(ruler));
        BreakPoint {
            size: Some(size),
            ..told
        }
    };
    let sizes = smaller(request, now, |request| {
        cutting(request, kind, request.clearance)
    });
    let by_clearance = found.into_iter().flatten().map(tell_clearance);
    by_clearance
        .chain(sizes.into_iter().map(tell_size))
        .collect()
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
    (now, then): (&Cutting, &Cutting),
    what: &str,
) -> BreakPoint {
    // Another sheet may have become the better one; the text speaks of a sheet that changes.
    let same = on(now, now.stock) != on(then, now.stock);
    let stock = if same { now.stock } else { then.stock };
    let sheet = request.sheet_name(stock);
    let of_sheets = |cutting: &Cutting| match now.stock == then.stock {
        true => String::new(),
        false => format!(" of {}", request.sheet_name(cutting.stock)),
    };
    let for_all = format!(
        "{} sheets{} for all {}, not {}{}",
        then.sheets,
        of_sheets(then),
        request.makes,
        now.sheets,
        of_sheets(now),
    );
    let mut text = if on(now, stock) == on(then, stock) {
        // Blanks of one piece share sheets in another way.
        format!("{what} takes {for_all}")
    } else {
        let (was, is) = (on(now, stock), counted(then, on(then, stock)));
        let was = if was == 0 {
            "none".to_owned()
        } else {
            was.to_string()
        };
        let more = if now.sheets == then.sheets {
            String::new()
        } else {
            format!(": {for_all}")
        };
        format!("{what} gives {is} from a sheet of {sheet} instead of {was}{more}")
    };
    text.push('.');
    BreakPoint {
        structure: kind,
        clearance: request.clearance,
        size: None,
        sheets: then.sheets,
        saves: i64::from(now.sheets) - i64::from(then.sheets),
        per_sheet: on(then, stock),
        sheet,
        text,
    }
}

/// "2 blanks", or "2 sets" where a piece takes several blanks.
fn counted(cutting: &Cutting, count: u32) -> String {
    let one = if cutting.of_each.len() > 1 {
        "set"
    } else {
        "blank"
    };
    match count {
        0 => format!("no {one}"),
        1 => format!("1 {one}"),
        _ => format!("{count} {one}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{PunchEnvelope, Tray};

    fn point(structure: StructureKind, size: Option<SizeChange>, saves: i64) -> BreakPoint {
        BreakPoint {
            structure,
            clearance: Length::ZERO,
            size,
            sheets: 3,
            saves,
            sheet: String::new(),
            per_sheet: 1,
            text: String::new(),
        }
    }

    #[test]
    fn what_saves_comes_first_and_sizes_of_bought_things_last_among_it() {
        let size = Some(SizeChange {
            field: "height",
            from: Length::from_mm(20),
            to: Length::from_mm(19),
        });
        let tin = point(Tray::KIND, size, 2);
        let packet = point(PunchEnvelope::KIND, size, 1);
        let clearance = point(Tray::KIND, None, 1);
        let costs = point(Tray::KIND, None, -1);
        let all = [&costs, &tin, &packet, &clearance].map(Clone::clone);
        let told = foremost(all.to_vec());
        assert_eq!(told, [clearance, packet, tin]);
    }
}
