//! Blanks a sheet.

use proptest::prelude::*;

use super::*;

fn sheet(width: i64, height: i64, turnable: bool) -> Stock {
    Stock {
        width: Length::from_mm(width),
        height: Length::from_mm(height),
        turnable,
        ..stock("sheet", "1", "1")
    }
}

fn most(stock: &Stock, a: i64, b: i64) -> u32 {
    blanks_per_sheet(stock, Length::from_mm(a), Length::from_mm(b))
}

#[test]
fn turning_some_blanks_gives_more() {
    // By hand: 5 x 3 on 22 x 16 cut edge to edge gives 22, 23 without that rule.
    assert_eq!(most(&sheet(22, 16, true), 5, 3), 22);
    assert_eq!(most(&sheet(22, 16, false), 5, 3), 20);
    // Both ways at once: a 3 x 2 column beside two 2 x 3 ones.
    assert_eq!(most(&sheet(5, 6, true), 3, 2), 5);
    assert_eq!(most(&sheet(5, 6, false), 3, 2), 3);
    assert_eq!(most(&sheet(4, 4, true), 5, 1), 0);
}

/// Every way to cut, one millimetre apart, without the shortcut of normal positions.
fn every_cut(
    x: i64,
    y: i64,
    blank: (i64, i64),
    known: &mut std::collections::HashMap<(i64, i64), u32>,
) -> u32 {
    if let Some(known) = known.get(&(x, y)) {
        return *known;
    }
    let fits = |(a, b): (i64, i64)| a <= x && b <= y;
    let mut best = u32::from(fits(blank) || fits((blank.1, blank.0)));
    for cut in 1..=x / 2 {
        best = best.max(every_cut(cut, y, blank, known) + every_cut(x - cut, y, blank, known));
    }
    for cut in 1..=y / 2 {
        best = best.max(every_cut(x, cut, blank, known) + every_cut(x, y - cut, blank, known));
    }
    known.insert((x, y), best);
    best
}

proptest! {
    #[test]
    fn the_yield_is_what_every_cut_gives(x in 1_i64..26, y in 1_i64..26, a in 2_i64..9, b in 2_i64..9) {
        let expected = every_cut(x, y, (a, b), &mut std::collections::HashMap::new());
        prop_assert_eq!(most(&sheet(x, y, true), a, b), expected);
        prop_assert_eq!(most(&sheet(x, y, false), a, b), u32::try_from((x / a) * (y / b)).unwrap());
    }

    #[test]
    fn squares_lie_in_a_grid(x in 1_i64..900, y in 1_i64..900, a in 1_i64..90) {
        let expected = u32::try_from((x / a) * (y / a)).unwrap();
        prop_assert_eq!(most(&sheet(x, y, true), a, a), expected);
    }
}

#[test]
fn very_many_small_blanks_are_answered_at_once() {
    let big = sheet(10_000, 10_000, true);
    assert_eq!(most(&big, 1, 2), 50_000_000);
}
