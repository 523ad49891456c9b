//! The list of fence settings, followed blindly: does every part come off?
//!
//! An independent reader: it knows the sheets, what each row of the list says, and which parts
//! lie on which strip; it shares no code with the list.

use std::collections::BTreeMap;

use proptest::prelude::*;
use tablefold_geometry::Length;

use super::*;
use crate::demo::class;

/// What is left of a strip, and the parts that it holds.
struct Strip {
    width: Length,
    height: Length,
    parts: Vec<(String, Length, Length)>,
}

/// Cuts along one row of the list: paper and what comes off, so many times.
type Done = BTreeMap<(Pass, Length, String, String), u32>;

/// Takes `want` off what is left, as a fence does: the part is what lies behind the blade.
fn take(left: &mut Length, want: Length, cuts: &mut Done, row: (Pass, Length, String, String)) {
    assert!(*left >= want, "{row:?}: {} is left", left.exact_text());
    *left -= want;
    *cuts.entry(row).or_default() += 1;
}

/// Follows the list for one paper.
fn follow(paper: &PaperPull, prep: &Prep, done: &mut Done) {
    let name = &paper.paper.name;
    let mut sheets = Vec::new();
    for layout in &paper.plan.layouts {
        for _ in 0..layout.count {
            sheets.push((paper.paper.height, strips(paper, &layout.placed)));
        }
    }
    let settings = |pass| prep.cuts.iter().filter(move |batch| batch.pass == pass);
    for batch in settings(Pass::Strips) {
        for (left, strips) in &mut sheets {
            for _ in strips
                .iter()
                .filter(|s| s.height == batch.setting && s.height < paper.paper.height)
            {
                let row = (
                    Pass::Strips,
                    batch.setting,
                    name.clone(),
                    "strips".to_owned(),
                );
                take(left, batch.setting, done, row);
            }
        }
    }
    for batch in settings(Pass::Across) {
        for strip in sheets.iter_mut().flat_map(|sheet| &mut sheet.1) {
            for (part, width, _) in &strip.parts {
                if *width == batch.setting && *width < paper.paper.width {
                    let row = (Pass::Across, batch.setting, name.clone(), part.clone());
                    take(&mut strip.width, batch.setting, done, row);
                }
            }
        }
    }
    for batch in settings(Pass::Trim) {
        for strip in sheets.iter().flat_map(|sheet| &sheet.1) {
            for (part, _, height) in &strip.parts {
                if *height == batch.setting && *height < strip.height {
                    let row = (Pass::Trim, batch.setting, name.clone(), part.clone());
                    *done.entry(row).or_default() += 1;
                }
            }
        }
    }
}

/// Strips by their top edge, each as high as its highest part.
fn strips(paper: &PaperPull, placed: &[tablefold_geometry::Placed]) -> Vec<Strip> {
    let mut by_top: BTreeMap<Length, Strip> = BTreeMap::new();
    for part in placed {
        let strip = by_top.entry(part.y).or_insert_with(|| Strip {
            width: paper.paper.width,
            height: Length::ZERO,
            parts: Vec::new(),
        });
        strip.height = strip.height.max(part.height);
        let name = paper.demands[part.demand].part.clone();
        strip.parts.push((name, part.width, part.height));
    }
    by_top.into_values().collect()
}

/// Every part passes each fence that its size asks for, and the list says so, no more, no less.
fn check(class: &ClassFacts) {
    let made = packet(class).expect("balances");
    let mut done = Done::new();
    for paper in &made.pull.papers {
        follow(paper, &made.prep, &mut done);
        for (demand, wanted) in paper.demands.iter().enumerate() {
            assert_eq!(paper.plan.yields(demand), wanted.quantity);
            let across = |turned| if turned { wanted.height } else { wanted.width };
            // A part as wide as the sheet needs no cut across.
            for turned in [false, true] {
                let lie = paper.plan.layouts.iter().map(|layout| {
                    let alike =
                        |p: &&tablefold_geometry::Placed| p.demand == demand && p.turned == turned;
                    layout.count * layout.placed.iter().filter(alike).count() as u32
                });
                let pieces: u32 = lie.sum();
                let row = (
                    Pass::Across,
                    across(turned),
                    paper.paper.name.clone(),
                    wanted.part.clone(),
                );
                if pieces > 0 && across(turned) < paper.paper.width {
                    assert_eq!(done.get(&row), Some(&pieces), "{row:?}");
                }
            }
        }
    }
    let mut listed = Done::new();
    for batch in &made.prep.cuts {
        for row in &batch.rows {
            let key = (
                batch.pass,
                batch.setting,
                row.paper.clone(),
                row.what.clone(),
            );
            *listed.entry(key).or_default() += row.pieces;
        }
    }
    assert_eq!(listed, done);
}

#[test]
fn following_the_fence_settings_cuts_every_part() {
    for attendees in [1, 14, 60] {
        check(&class(attendees));
    }
}

#[test]
fn a_sheet_as_wide_as_its_part_still_gives_it() {
    let mut class = class(5);
    let band = packet(&class).expect("balances").recipe.pieces[0]
        .band
        .clone()
        .expect("has one");
    for colourway in &mut class.colourways {
        if let Some(stock) = colourway.papers.get_mut("accent") {
            stock.paper.width = band.strip_length();
            stock.paper.height = band.strip_length();
        }
    }
    check(&class);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn fence_settings_cut_every_part_from_any_sheet(
        (width, height) in (230i64..900, 230i64..900),
        attendees in 1usize..30,
    ) {
        let mut class = class(attendees);
        for colourway in &mut class.colourways {
            for stock in colourway.papers.values_mut() {
                stock.paper.width = Length::from_mm(width);
                stock.paper.height = Length::from_mm(height);
            }
        }
        check(&class);
    }
}
