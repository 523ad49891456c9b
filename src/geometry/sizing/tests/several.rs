//! Structures of more blanks than one, and those that are scored, against brute force.

use proptest::prelude::*;

use super::*;
use crate::{Inside, Pouch, StructureKind, Tray};

fn request(contents: Contents, kind: StructureKind, makes: u32) -> SizingRequest {
    SizingRequest {
        structure: Some(kind),
        ..coarse(contents, inch("1/16"), makes)
    }
}

/// Whether a block lies in the room some way round, with its play.
fn takes(request: &SizingRequest, room: &dyn Fn(f64) -> Inside) -> bool {
    let axes = request
        .contents
        .axes()
        .unwrap()
        .map(|(_, side)| (side + request.clearance).mm());
    let orders = [
        [0, 1, 2],
        [0, 2, 1],
        [1, 0, 2],
        [1, 2, 0],
        [2, 0, 1],
        [2, 1, 0],
    ];
    orders.into_iter().any(|order| {
        let [x, y, z] = order.map(|axis: usize| axes[axis]);
        let inside = room(z);
        inside.width >= x - 1e-9 && inside.length >= y - 1e-9 && inside.depth >= z - 1e-9
    })
}

/// Every pouch on the coarse grid: the least number of sheets for all, then the least paper.
fn every_pouch(request: &SizingRequest) -> Option<(u32, i64)> {
    let eighth = inch("1/8").nm();
    let length = |n: i64| Length::from_nm(n * eighth);
    let t = request.caliper;
    let mut best: Option<(u32, i64)> = None;
    for panel in 7..=24 {
        // The narrowest flap of the usual width: 10 mm, up to a mark.
        let width = 2 * panel + (10_000_000 + eighth - 1) / eighth;
        for arch in 1..=8 {
            for long in 4 * arch..=72 {
                let at = [width, long, panel, arch].map(length);
                let settings = Settings::new(Pouch::KIND, &at).unwrap();
                let Ok(made) = Pouch::new(settings, &request.tools, t) else {
                    continue;
                };
                if !takes(request, &|depth| made.inside_for(depth)) {
                    continue;
                }
                let sheets = request.sheets.iter().filter_map(|sheet| {
                    let each = blanks_per_sheet(sheet, at[0], at[1]);
                    (each > 0).then(|| request.makes.div_ceil(each))
                });
                if let Some(sheets) = sheets.min() {
                    let found = (sheets, width * long);
                    best = Some(best.map_or(found, |best| best.min(found)));
                }
                // A longer one is never better.
                break;
            }
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn the_pouch_is_the_best_on_the_grid(
        a in tenths(20..350), b in tenths(20..350), c in tenths(5..150), makes in 1_u32..40,
    ) {
        let request = request(Contents::Block { width: a, depth: b, height: c }, Pouch::KIND, makes);
        let answer = size(&request).unwrap().answers.into_iter().next();
        let eighth = inch("1/8").nm();
        let found = answer.map(|it| {
            let (w, l) = it.blank();
            (it.sheets_for_all, (w.nm() / eighth) * (l.nm() / eighth))
        });
        prop_assert_eq!(found, every_pouch(&request));
    }

    /// Every base on the grid that holds the block: none has a smaller sheet in any way, and the
    /// lid follows from the base.
    #[test]
    fn no_tray_has_a_smaller_base(a in tenths(60..500), b in tenths(60..500), c in tenths(20..200)) {
        let request = request(Contents::Block { width: a, depth: b, height: c }, Tray::KIND, 1);
        let sizing = size(&request).unwrap();
        prop_assume!(!sizing.answers.is_empty());
        let answer = &sizing.answers[0];
        let eighth = inch("1/8").nm();
        let t = request.caliper.mm();
        let mut least = i64::MAX;
        for score in 2..=24_i64 {
            for w in 2 * score + 1..=72 {
                for l in 2 * score + 1..=72 {
                    let [w_mm, l_mm, d] = [w - 2 * score, l - 2 * score, score]
                        .map(|n| (n * eighth) as f64 / 1e6);
                    let tab = d.min(w_mm / 2.0 - t);
                    let inside = Inside { width: w_mm - t, length: l_mm - 3.0 * t, depth: d - t / 2.0 };
                    if tab >= 5.5 && takes(&request, &|_| inside) {
                        least = least.min(w * l);
                    }
                }
            }
        }
        let (w, l) = answer.blank();
        let base = (w.nm() / eighth) * (l.nm() / eighth);
        prop_assert!(base >= least);
        // The lid may favour another way to lay the block; alone the base is the least.
        let lid = answer.blanks[1].size;
        let lid = (lid.0.nm() / eighth) * (lid.1.nm() / eighth);
        prop_assert!(base + lid <= least + lid + lid / 4, "{base} {least} {lid}");
        prop_assert!(answer.checks.iter().all(|check| check.holds));
    }

    /// The plan for two blanks is one that can be cut: no sheet holds more than its area, and it
    /// is never worse than cutting each blank from sheets of its own.
    #[test]
    fn sheets_for_two_blanks_are_safe(
        one in (20_i64..220, 20_i64..220), two in (20_i64..220, 20_i64..220), makes in 1_u32..60,
        turnable: bool,
    ) {
        let mm = |(w, h): (i64, i64)| (Length::from_mm(w), Length::from_mm(h));
        let sheet = Stock { turnable, ..stock("A4", "210 mm", "297 mm") };
        let blanks = [mm(one), mm(two)];
        let each = blanks.map(|it| blanks_per_sheet(&sheet, it.0, it.1));
        let cutting = Cutting::best(std::slice::from_ref(&sheet), &blanks, makes);
        prop_assert_eq!(cutting.is_some(), each.iter().all(|count| *count > 0));
        if let Some(cutting) = cutting {
            let apart: u32 = each.iter().map(|count| makes.div_ceil(*count)).sum();
            prop_assert!(cutting.sheets <= apart, "{} {apart}", cutting.sheets);
            let paper = i64::from(makes) * (one.0 * one.1 + two.0 * two.1);
            prop_assert!(i64::from(cutting.sheets) * 210 * 297 >= paper);
            let sets = i64::from(cutting.per_sheet[0]);
            prop_assert!(sets * (one.0 * one.1 + two.0 * two.1) <= 210 * 297);
        }
    }
}

/// By hand, on A4: 3 bases of 100 x 150 (two upright, one lying above them) or 2 lids of
/// 110 x 140 a sheet; one of each share a sheet (150 + 140 of 297), two of each do not.
#[test]
fn a_base_and_a_lid_share_a_sheet() {
    let mm = |w, h| (Length::from_mm(w), Length::from_mm(h));
    let sheet = [stock("A4", "210 mm", "297 mm")];
    let cutting = |makes| Cutting::best(&sheet, &[mm(100, 150), mm(110, 140)], makes).unwrap();
    assert_eq!(cutting(1).sheets, 1);
    assert_eq!(cutting(1).of_each, [[3], [2]]);
    assert_eq!(cutting(1).per_sheet, [1]);
    // 3 x 3 bases and 1 more, 5 x 2 lids.
    assert_eq!(cutting(10).sheets, 9);
    // 2 + 2 + 1 bases; five small lids lie beside the last one.
    let small = Cutting::best(&sheet, &[mm(200, 140), mm(60, 60)], 5).unwrap();
    assert_eq!(small.sheets, 3);
}

#[test]
fn a_break_point_of_two_blanks_speaks_of_sets_and_sheets() {
    let contents = Contents::Block {
        width: inch("90 mm"),
        depth: inch("55 mm"),
        height: inch("12 mm"),
    };
    let half = Ruler::new(
        Unit::Millimetre,
        inch("0.5 mm"),
        Length::ZERO,
        inch("900 mm"),
    )
    .unwrap();
    let mut request = request(contents, Tray::KIND, 40);
    (request.tools.score, request.tools.trimmer) = (Some(half), half);
    request.sheets.remove(0);
    request.clearance = inch("2 mm");
    let sizing = size(&request).unwrap();
    let told: Vec<&str> = sizing
        .break_points
        .iter()
        .map(|it| it.text.as_str())
        .collect();
    assert_snapshot!(told.join("\n"), @"
    ≈ 1/8 in less clearance takes 16 sheets for all 40, not 18.
    A height of 11 mm instead of 12 mm takes 16 sheets for all 40, not 18.
    1/8 in more clearance takes 20 sheets for all 40, not 18.
    ");
}
