//! Sizing by examples; brute force, laws and yields have files of their own.

mod brute;
mod laws;
mod several;
mod yields;

use insta::assert_snapshot;
use proptest::prelude::*;

use super::*;
use crate::{
    PunchBoard, PunchBox, PunchBoxSettings, PunchEnvelope, Ruler, Tools, Tray, Trimmer, Unit,
};

fn inch(text: &str) -> Length {
    Length::read(text, Unit::Inch).unwrap_or_else(|error| panic!("{error}"))
}

fn block(width: &str, depth: &str, height: &str) -> Contents {
    Contents::Block {
        width: inch(width),
        depth: inch(depth),
        height: inch(height),
    }
}

fn stock(name: &str, width: &str, height: &str) -> Stock {
    Stock {
        name: name.to_owned(),
        width: inch(width),
        height: inch(height),
        price: None,
        turnable: true,
    }
}

fn usual(contents: Contents) -> SizingRequest {
    SizingRequest {
        contents,
        structure: Some(PunchBox::KIND),
        clearance: inch("1/16"),
        fit: crate::Fit::default(),
        caliper: inch("0.3 mm"),
        tools: Tools::new(
            PunchBoard::default_inch(),
            Ruler::inch(16),
            &Trimmer::default_inch(),
        ),
        sheets: vec![
            stock("12 x 12 in", "12", "12"),
            stock("A4", "210 mm", "297 mm"),
        ],
        makes: 14,
    }
}

/// A coarse bench, so that brute force is quick.
fn coarse(contents: Contents, clearance: Length, makes: u32) -> SizingRequest {
    let ruler = Ruler::new(Unit::Inch, inch("1/8"), inch("1/2"), inch("3")).unwrap();
    SizingRequest {
        tools: Tools::new(
            PunchBoard::new(inch("1/4"), ruler).unwrap(),
            Ruler::inch(8),
            &Trimmer::new(Ruler::inch(8)),
        ),
        clearance,
        makes,
        sheets: vec![stock("9 x 9 in", "9", "9"), stock("A4", "210 mm", "297 mm")],
        ..usual(contents)
    }
}

fn tenths(range: std::ops::Range<i64>) -> impl Strategy<Value = Length> {
    range.prop_map(|tenths| Length::from_nm(tenths * 100_000))
}

fn any_contents() -> impl Strategy<Value = Contents> {
    let side = || tenths(5..500);
    prop_oneof![
        (side(), side(), side()).prop_map(|(width, depth, height)| Contents::Block {
            width,
            depth,
            height
        }),
        (side(), side()).prop_map(|(diameter, height)| Contents::Cylinder { diameter, height }),
        side().prop_map(|diameter| Contents::Ball { diameter }),
        (side(), side(), tenths(1..30), 1_u32..9).prop_map(
            |(width, height, each_thickness, count)| Contents::Stack {
                width,
                height,
                each_thickness,
                count
            }
        ),
    ]
}

fn any_punched() -> impl Strategy<Value = StructureKind> {
    prop_oneof![Just(PunchBox::KIND), Just(PunchEnvelope::KIND)]
}

fn any_kind() -> impl Strategy<Value = StructureKind> {
    proptest::sample::select(StructureKind::all())
}

fn first(request: &SizingRequest) -> Answer {
    let sizing = size(request).unwrap();
    let refused: Vec<String> = sizing.refused.iter().map(ToString::to_string).collect();
    let mut answers = sizing.answers.into_iter();
    answers.next().unwrap_or_else(|| panic!("{refused:?}"))
}

fn box_at(sheet: &str, punch_1: &str, punch_2: &str) -> Settings {
    Settings::from(PunchBoxSettings {
        sheet: inch(sheet),
        punch_1: inch(punch_1),
        punch_2: inch(punch_2),
    })
}

/// Common practice, no source: a 5 1/4 in square punched at 1 1/2 and 2 7/8 in, notch 1/4 in,
/// gives a box of about 1 3/4 x 1 x 3 in.
#[test]
fn a_block_that_just_fits_the_known_box_gets_its_settings() {
    let mut request = usual(block("1.75", "0.945", "2.94"));
    request.clearance = Length::ZERO;
    let answer = first(&request);
    assert_eq!(answer.settings, box_at("5 1/4", "1 1/2", "2 7/8"));
    let axes = answer.axes;
    assert_eq!(
        (axes.width, axes.depth, axes.length),
        ("width", "depth", "height")
    );
    assert_eq!(
        answer.per_sheet,
        [("12 x 12 in".to_owned(), 4), ("A4".to_owned(), 2)]
    );
    assert_eq!(
        (answer.sheet.as_str(), answer.sheets_for_all),
        ("12 x 12 in", 4)
    );
}

#[test]
fn a_tin_lies_with_its_axis_where_the_sheet_is_least() {
    let contents = Contents::Cylinder {
        diameter: inch("60 mm"),
        height: inch("20 mm"),
    };
    let answer = first(&usual(contents));
    assert_eq!(answer.axes.depth, "height");
    assert_eq!(
        (answer.axes.width, answer.axes.length),
        ("diameter", "diameter")
    );
    let inside = answer.inside;
    for (room, needs) in [
        (inside.width, 60.0),
        (inside.length, 60.0),
        (inside.depth, 20.0),
    ] {
        assert!(room >= needs + 1.5875 - 1e-6, "{inside:?}");
    }
}

#[test]
fn a_thin_stack_gets_an_envelope_and_a_thick_one_a_box() {
    let stack = |count| Contents::Stack {
        width: inch("2"),
        height: inch("3"),
        each_thickness: inch("0.5 mm"),
        count,
    };
    let mut request = usual(stack(6));
    request.structure = None;
    let sizing = size(&request).unwrap();
    let punched = |it: &&Answer| [PunchEnvelope::KIND, PunchBox::KIND].contains(&it.kind());
    let answer = sizing.answers.iter().find(punched).unwrap();
    assert_eq!(answer.kind(), PunchEnvelope::KIND);
    assert_eq!(answer.axes.depth, "thickness");
    // 2 (W - t) >= 2 (w + h): the girth of the envelope goes round the stack.
    assert!(answer.inside.width >= inch("2 1/16").mm().min(inch("3 1/16").mm()) - 1e-6);
    request.contents = stack(20);
    let sizing = size(&request).unwrap();
    let answer = sizing.answers.iter().find(punched).unwrap();
    assert_eq!(answer.kind(), PunchBox::KIND);
    assert_snapshot!(sizing.refused[0], @"The punch-board envelope takes contents up to 1/4 in thick; these are 10 mm. Choose the punch-board box.");
}

/// 1/4 in is the thickest that an envelope takes (common practice, no source).
#[test]
fn what_is_just_as_thick_as_an_envelope_takes_still_gets_one() {
    let answers = |thick: &str| {
        let mut request = usual(block("2", "3", thick));
        request.structure = Some(PunchEnvelope::KIND);
        size(&request).unwrap().answers.len()
    };
    assert_eq!((answers("1/4"), answers("17/64")), (1, 0));
}

#[test]
fn the_first_of_equal_prices_stays_first_and_a_lower_price_wins() {
    let mut request = usual(block("2", "1", "3"));
    request.sheets = vec![stock("blue", "12", "12"), stock("green", "12", "12")];
    assert_eq!(first(&request).sheet, "blue");
    request.sheets[0].price = Some(50);
    request.sheets[1].price = Some(40);
    let answer = first(&request);
    assert_eq!(answer.sheet, "green");
    assert_eq!(answer.cost, Some(40 * u64::from(answer.sheets_for_all)));
}

#[test]
fn what_does_not_fit_is_refused_with_what_would_do() {
    let refused = |request: &SizingRequest| {
        let sizing = size(request).unwrap();
        assert!(sizing.answers.is_empty());
        sizing
            .refused
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    };
    let mut request = usual(block("3", "3", "8"));
    assert_snapshot!(refused(&request), @"The punch-board box needs a sheet of 12 13/16 in; the largest is 12 x 12 in, 12 in on its shorter side. Add a larger sheet or take smaller contents.");
    request.contents = block("1", "6", "14");
    request.sheets = vec![stock("poster", "40", "60")];
    request.tools.trimmer = Ruler::inch(16);
    assert_snapshot!(refused(&request), @"The punch-board box needs a blank of 16 3/8 in; the trimmer cuts up to 12 in. Use a longer trimmer or take smaller contents.");
    let long = Ruler::new(Unit::Inch, inch("1/16"), Length::ZERO, inch("40")).unwrap();
    request.tools.trimmer = long;
    request.contents = block("10", "12", "12");
    assert_snapshot!(refused(&request), @"The punch-board box needs a punch at 23 1/8 in; the board reaches from 1/2 in to 8 in. Use a board that reaches further or take smaller contents.");
    request.contents = block("10 mm", "9999 mm", "10000 mm");
    assert_snapshot!(refused(&request), @"The punch-board box cannot be made for contents 10000 mm long: no tool reaches that far, and no sheet does; the largest is poster, 40 in on its shorter side. Take smaller contents.");
    request.contents = block("10000 mm", "10000 mm", "10000 mm");
    request.clearance = Length::MAX;
    let mut all = Vec::new();
    for kind in [PunchEnvelope::KIND, PunchBox::KIND, Tray::KIND] {
        request.structure = Some(kind);
        all.push(refused(&request));
    }
    request.structure = None;
    assert_eq!(
        refused(&request).lines().count(),
        StructureKind::all().len()
    );
    assert_snapshot!(all.join("\n"), @"
    The punch-board envelope takes contents up to 1/4 in thick; these are 10000 mm. Choose the punch-board box.
    The punch-board box cannot be made for contents 10000 mm long: no tool reaches that far, and no sheet does; the largest is poster, 40 in on its shorter side. Take smaller contents.
    The tray with lid cannot be made for contents 10000 mm long: no tool reaches that far, and no sheet does; the largest is poster, 40 in on its shorter side. Take smaller contents.
    ");
}

#[test]
fn a_field_that_makes_no_sense_is_named() {
    let wrong = |change: &dyn Fn(&mut SizingRequest)| {
        let mut request = usual(block("1", "2", "3"));
        change(&mut request);
        let error = size(&request).expect_err("refused");
        format!("{}: {error}", error.field)
    };
    let stack = |count, each| Contents::Stack {
        width: inch("2"),
        height: inch("3"),
        each_thickness: inch(each),
        count,
    };
    assert_snapshot!(wrong(&|r| r.contents = block("1", "0", "3")), @"contents.depth: 0 mm is no size. Type a length above 0, such as 60 mm.");
    assert_snapshot!(wrong(&|r| r.contents = stack(0, "1 mm")), @"contents.count: 0 is no number of things in a stack. Type one from 1 to 10000.");
    assert_snapshot!(wrong(&|r| r.contents = stack(u32::MAX, "1 mm")), @"contents.count: 4294967295 is no number of things in a stack. Type one from 1 to 10000.");
    assert_snapshot!(wrong(&|r| r.contents = stack(10_000, "2 mm")), @"contents.count: 10000 things of 2 mm make a stack over 10 m. Type fewer or thinner ones.");
    assert_snapshot!(wrong(&|r| r.caliper = Length::ZERO), @"caliper: 0 mm is no thickness of paper. Type one above 0 and up to 3 mm, such as 0.3 mm.");
    assert_snapshot!(wrong(&|r| r.caliper = inch("1/4")), @"caliper: 6.35 mm is no thickness of paper. Type one above 0 and up to 3 mm, such as 0.3 mm.");
    assert_snapshot!(wrong(&|r| r.makes = 0), @"makes: 0 is no number of pieces to make. Type one from 1 to 1000000.");
    assert_snapshot!(wrong(&|r| r.sheets.clear()), @"sheets: There is no sheet to cut from. Add at least one, such as 12 x 12 in.");
    assert_snapshot!(wrong(&|r| r.sheets[1].height = Length::ZERO), @"sheets[1].height: 0 mm is no size. Type a length above 0, such as 60 mm.");
    assert_snapshot!(wrong(&|r| r.sheets[1].name = " ".to_owned()), @"sheets[1].name: This sheet has no name. Type one, such as A4.");
    assert_snapshot!(wrong(&|r| r.sheets[1].name = "12 x 12 in".to_owned()), @r##"sheets[1].name: "12 x 12 in" names two sheets. Give each its own name."##);
}

#[test]
fn a_sixteenth_less_can_double_the_yield() {
    // 4 blanks of 6 in from 12 x 12 in; 6 1/16 in gives 1.
    let mut request = usual(block("2", "1 1/8", "3 1/4"));
    request.sheets.truncate(1);
    let sizing = size(&request).unwrap();
    let told: Vec<&str> = sizing
        .break_points
        .iter()
        .map(|point| point.text.as_str())
        .collect();
    assert_snapshot!(told.join("\n"), @"
    1/16 in less clearance gives 4 blanks from a sheet of 12 x 12 in instead of 1: 4 sheets for all 14, not 14.
    A depth of 1 in instead of 1 1/8 in gives 4 blanks from a sheet of 12 x 12 in instead of 1: 4 sheets for all 14, not 14.
    ");
    let point = &sizing.break_points[0];
    request.clearance = point.clearance;
    let there = first(&request);
    assert_eq!(there.per_sheet[0].1, point.per_sheet);
}
