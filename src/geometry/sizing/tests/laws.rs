//! What must hold whatever the numbers.

use proptest::prelude::*;

use super::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(66))]

    /// Sheets for all, then the paper in the blanks: what fits around more fits around less.
    #[test]
    fn larger_contents_never_need_less_paper(
        contents in any_contents(), more in tenths(0..100), axis in 0_usize..3, kind in any_kind(),
    ) {
        let sides = contents.axes().unwrap().map(|(_, side)| side);
        let larger = |axis_now: usize| if axis_now == axis { sides[axis_now] + more } else { sides[axis_now] };
        let block = |side: &dyn Fn(usize) -> Length| Contents::Block {
            width: side(0), depth: side(1), height: side(2),
        };
        let ask = |contents| size(&SizingRequest { structure: Some(kind), ..usual(contents) }).unwrap();
        let (small, large) = (ask(block(&|axis| sides[axis])), ask(block(&larger)));
        if let Some(large) = large.answers.first() {
            let small = small.answers.first();
            let small = small.expect("what fits around more fits around less");
            let needs = |it: &Answer| (it.sheets_for_all, area(&it.structure.blanks()));
            prop_assert!(needs(small) <= needs(large), "{kind:?} {small:?} {large:?}");
        }
    }
}

/// A pouch that is just long enough for tiny contents may be too short for its glue: a longer one
/// does, and is found as it is for contents that need it.
#[test]
fn the_least_pouch_for_tiny_contents_has_room_for_its_glue() {
    let pouch = |width_nm| {
        let side = Length::from_nm(500_000);
        let block = Contents::Block {
            width: Length::from_nm(width_nm),
            depth: side,
            height: side,
        };
        let asked = SizingRequest {
            structure: StructureKind::find("pouch"),
            ..usual(block)
        };
        let answers = size(&asked).unwrap().answers;
        area(&answers.first().unwrap().structure.blanks())
    };
    assert!(pouch(500_000) <= pouch(800_000));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn naming_the_axes_otherwise_changes_nothing(a in tenths(5..900), b in tenths(5..900), c in tenths(5..900)) {
        let ask = |width, depth, height| {
            let request = SizingRequest { structure: None, ..usual(Contents::Block { width, depth, height }) };
            let extents = [("width", width), ("depth", depth), ("height", height)];
            let extent = |name: &str| extents.iter().find(|(axis, _)| *axis == name).map(|(_, extent)| *extent);
            let sizing = size(&request).unwrap();
            sizing.answers.into_iter().map(|answer| {
                let axes = [answer.axes.width, answer.axes.length, answer.axes.depth].map(extent);
                (answer.settings, answer.sheets_for_all, answer.looseness_mm.to_bits(), axes)
            }).collect::<Vec<_>>()
        };
        let expected = ask(a, b, c);
        for (x, y, z) in [(a, c, b), (b, a, c), (b, c, a), (c, a, b), (c, b, a)] {
            prop_assert_eq!(ask(x, y, z), expected.clone());
        }
    }

    /// An inch is 25.4 mm: a metric bench with marks every 1.5875 mm is the inch bench.
    #[test]
    fn a_metric_bench_of_the_same_measures_gives_the_same_settings(contents in any_contents()) {
        let metric = |ruler: &Ruler| {
            Ruler::new(Unit::Millimetre, ruler.step(), ruler.shortest(), ruler.longest()).unwrap()
        };
        let inches = SizingRequest { structure: None, ..usual(contents) };
        let Tools { punch_board, score, trimmer } = inches.tools;
        let inch_board = punch_board.unwrap();
        let board = PunchBoard::new(inch_board.notch_depth(), metric(inch_board.ruler())).unwrap();
        let tools = Tools {
            punch_board: Some(board),
            score: Some(metric(&score.unwrap())),
            trimmer: metric(&trimmer),
        };
        let millimetres = SizingRequest { tools, ..inches.clone() };
        let ask = |request| {
            let answers = size(request).unwrap().answers;
            answers.into_iter().map(|a| (a.settings, a.axes, a.per_sheet)).collect::<Vec<_>>()
        };
        prop_assert_eq!(ask(&inches), ask(&millimetres));
    }
}
