//! What the tests of all structures share: a bench with fine marks, what the checks say, and what
//! any structure has to keep.

use super::{
    Body, Inside, Settings, Structure, StructureError, StructureKind, StructureProblem, Tools,
};
use crate::sizing::Offer;
use crate::{
    Check, Contents, ContentsBox, Length, Point, PunchBoard, Ruler, SizingRequest, Stock, Trimmer,
    Unit, blanks_per_sheet, fold_closed, size,
};

/// Marks each tenth of a millimetre, so that a measure by hand is a setting.
pub(super) fn tools() -> Tools {
    on_one_ruler(millimetres(tenths(1), 2000))
}

/// Score board and trimmer with the same marks.
pub(super) fn on_one_ruler(ruler: Ruler) -> Tools {
    Tools::new(PunchBoard::default_inch(), ruler, &Trimmer::new(ruler))
}

/// A trimmer with marks each 3 mm and a score board with marks each 2 mm.
pub(super) fn coarse_tools(longest_mm: i64) -> Tools {
    let each = |step| millimetres(Length::from_mm(step), longest_mm);
    Tools {
        score: Some(each(2)),
        trimmer: each(3),
        ..tools()
    }
}

/// Marks each step from 0.
pub(super) fn millimetres(step: Length, longest_mm: i64) -> Ruler {
    let longest = Length::from_mm(longest_mm);
    Ruler::new(Unit::Millimetre, step, Length::ZERO, longest).unwrap()
}

pub(super) fn tenths(n: i64) -> Length {
    Length::from_nm(n * 100_000)
}

/// From card of 0.3 mm.
pub(super) fn made(settings: Settings) -> Structure {
    Structure::new(settings, &tools(), tenths(3)).unwrap()
}

/// Contents that fill the room.
pub(super) fn filled(inside: Inside) -> ContentsBox {
    ContentsBox {
        x: inside.width,
        y: inside.length,
        z: inside.depth,
    }
}

pub(super) fn faults(checks: &[Check]) -> Vec<String> {
    let failed = checks.iter().filter(|check| !check.holds);
    failed
        .map(|it| format!("{}: {}", it.name, it.says))
        .collect()
}

/// All that the checks say, a line each.
pub(super) fn verdicts(made: &Structure, contents: &ContentsBox) -> String {
    let checks = made.checks(Some(contents));
    let says = |it: &Check| format!("{} {} {:.2}: {}", it.name, it.holds, it.margin, it.says);
    checks.iter().map(says).collect::<Vec<_>>().join("\n")
}

/// The work on these bodies in words, a line each.
pub(super) fn told<'a>(bodies: impl IntoIterator<Item = &'a Body>, ruler: &Ruler) -> String {
    let mut lines = Vec::new();
    for body in bodies {
        let told = |work: &super::Work| work.sentence(&body.pattern, ruler);
        lines.extend(body.work.iter().map(told));
    }
    lines.join("\n")
}

/// The setting that is refused, and why.
pub(super) fn refusal(error: &StructureError) -> String {
    format!("{}: {error}", error.field())
}

/// What folds has no faults; what is refused names a setting of its kind, what fails, and what
/// would do.
pub(super) fn assert_sound_or_refused(
    kind: StructureKind,
    made: Result<Structure, StructureError>,
) {
    match made {
        Ok(made) => assert_eq!(faults(&made.checks(None)), [""; 0]),
        Err(error) => {
            let known = kind.fields().iter().any(|field| field.key == error.field());
            assert!(known || error.field() == "caliper", "{}", error.field());
            assert_says_what_would_do(&error);
        }
    }
}

/// A limit beyond what was asked, a mark, or paper that is thinner: in the sentence, and to be had.
fn assert_says_what_would_do(error: &StructureError) {
    let says = error.to_string();
    let text = |limit: &Length| error.ruler.text(*limit);
    let (fails, would_do) = match &error.problem {
        StructureProblem::TooLittle {
            asked, least, why, ..
        } => {
            assert!(least > asked, "{says}");
            (*why, format!(" Set {} or more.", text(least)))
        }
        StructureProblem::TooMuch {
            asked, most, why, ..
        } => {
            assert!(most < asked && *most > Length::ZERO, "{says}");
            (*why, format!(" Set {} or less.", text(most)))
        }
        StructureProblem::Length { .. } => ("is no length", "at most 10 m.".to_owned()),
        StructureProblem::OffRuler { tool, .. } => {
            let marks = format!("to {}.", text(&error.ruler.longest()));
            (tool.tool(), marks)
        }
        StructureProblem::NoRoom { axis, .. } => (*axis, "or larger settings.".to_owned()),
        other => panic!("{other:?} is the punch board's"),
    };
    assert!(says.contains(fails) && says.ends_with(&would_do), "{says}");
}

/// Near the edge of what can be made: what folds has no faults, what is refused says what would do.
pub(super) fn assert_sound_or_mended(made: Result<Structure, StructureError>) {
    match made {
        Ok(made) => assert_eq!(faults(&made.checks(None)), [""; 0]),
        Err(error) => assert!(error.to_string().contains(" or "), "{error}"),
    }
}

/// Contents that fit go in, and a hair more along any of these axes does not.
pub(super) fn assert_just_fit(made: &Structure, contents: ContentsBox, hairs: [f64; 3]) {
    assert_eq!(faults(&made.checks(Some(&contents))), [""; 0]);
    for (axis, hair) in hairs.into_iter().enumerate() {
        if hair > 0.0 {
            let mut sides = [contents.x, contents.y, contents.z];
            sides[axis] += hair;
            let [x, y, z] = sides;
            let larger = made.checks(Some(&ContentsBox { x, y, z }));
            assert_eq!(faults(&larger).len(), 1, "axis {axis}");
        }
    }
}

/// The volume by the structure's own formula is that of the folded paper.
pub(super) fn assert_folds_round_its_volume(made: &Structure) {
    let pattern = made.pattern();
    let volume = fold_closed(pattern).volume_of_solid(pattern);
    assert!(
        (volume / made.volume_mm3() - 1.0).abs() < 1e-9,
        "{volume} {}",
        made.volume_mm3()
    );
}

/// That many marks of a ruler in whole mm, from the last at or below a length.
pub(super) fn marks_from(mm: f64, step: i64, marks: i64) -> impl Iterator<Item = i64> {
    let first = (mm / step as f64).floor() as i64;
    (0..marks).map(move |mark| (first + mark) * step)
}

/// Whether an offer takes no more paper than these sheets, and leaves no more room than `loose`.
pub(super) fn is_no_worse(
    offer: &Offer,
    sheets: &[(Length, Length)],
    loose: f64,
    block_mm: [f64; 3],
) -> bool {
    let spare = [offer.inside.width, offer.inside.length, offer.inside.depth];
    let spare = spare.iter().zip(block_mm).map(|(room, block)| room - block);
    let mut each = offer.blanks.iter().zip(sheets);
    each.all(|(a, b)| a.0 <= b.0 && a.1 <= b.1) && spare.fold(0.0, f64::max) <= loose + 1e-6
}

/// How far an outline reaches along y, mm.
pub(super) fn deep(outline: &[Point]) -> f64 {
    let at = outline.iter().map(|p| p.y);
    at.clone().fold(f64::MIN, f64::max) - at.fold(f64::MAX, f64::min)
}

pub(super) fn eighths(n: i64) -> Length {
    Length::inch_fraction(n, 8).unwrap()
}

/// One block with 1 mm of play on a bench with marks each 1/8 in, from one square sheet that many
/// eighths wide.
pub(super) fn in_eighths(
    kind: StructureKind,
    sides: [Length; 3],
    sheet: i64,
    makes: u32,
) -> SizingRequest {
    let [width, depth, height] = sides;
    SizingRequest {
        contents: Contents::Block {
            width,
            depth,
            height,
        },
        structure: Some(kind),
        clearance: tenths(10),
        fit: crate::Fit::default(),
        caliper: tenths(3),
        tools: on_one_ruler(Ruler::inch(8)),
        sheets: vec![Stock {
            name: "square".to_owned(),
            width: eighths(sheet),
            height: eighths(sheet),
            price: None,
            turnable: true,
        }],
        makes,
    }
}

/// Sheets for all and square eighths of a blank of the best answer.
pub(super) fn best_found(request: &SizingRequest) -> Option<(u32, i64)> {
    let answer = size(request).unwrap().answers.into_iter().next()?;
    let (width, length) = answer.blank();
    let marks = |side: Length| side.nm() / eighths(1).nm();
    Some((answer.sheets_for_all, marks(width) * marks(length)))
}

/// The same of a blank of these eighths; `None` where no sheet yields one.
pub(super) fn cost_of(request: &SizingRequest, width: i64, length: i64) -> Option<(u32, i64)> {
    let yields = |sheet| blanks_per_sheet(sheet, eighths(width), eighths(length));
    let each = request.sheets.iter().map(yields).max().unwrap_or(0);
    (each > 0).then(|| (request.makes.div_ceil(each), width * length))
}

/// Whether the block goes in with its play, any way round.
pub(super) fn takes_the_block(request: &SizingRequest, inside: [f64; 3]) -> bool {
    let axes = request.contents.axes().unwrap();
    let [a, b, c] = axes.map(|(_, side)| (side + request.clearance).mm());
    let orders = [
        [a, b, c],
        [a, c, b],
        [b, a, c],
        [b, c, a],
        [c, a, b],
        [c, b, a],
    ];
    let fits = |lies: &[f64; 3]| (0..3).all(|i| inside[i] >= lies[i] - 1e-9);
    orders.iter().any(fits)
}
