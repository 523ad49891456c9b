//! Areas and overlaps of patterns against the `geo` crate: its areas are its own; its overlaps
//! rest on an older release of the engine that the crate uses, on floating-point numbers.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use geo::{Area, BooleanOps, Coord, LineString, Polygon};
use tablefold_geometry::{
    Contents, Fit, Length, Pattern, Point, PunchBoard, PunchBox, PunchBoxSettings, PunchEnvelope,
    PunchEnvelopeSettings, Ruler, SizingRequest, Stock, StructureKind, Tools, Trimmer, Unit,
    signed_area, size,
};

fn polygon(outline: &[Point]) -> Polygon {
    let ring = outline
        .iter()
        .map(|p| Coord { x: p.x, y: p.y })
        .collect::<Vec<_>>();
    Polygon::new(LineString::from(ring), Vec::new())
}

fn sixteenths(n: i64) -> Length {
    Length::from_nm(1_587_500 * n)
}

fn patterns() -> Vec<Pattern> {
    let board = PunchBoard::default_inch();
    let t = Length::from_nm(300_000);
    let boxes = [(84, 24, 46), (128, 40, 64), (120, 50, 66), (160, 28, 92)];
    let envelopes = [(128, 56), (128, 72), (96, 30)];
    let boxes = boxes.map(|(sheet, one, two)| {
        let settings = PunchBoxSettings {
            sheet: sixteenths(sheet),
            punch_1: sixteenths(one),
            punch_2: sixteenths(two),
        };
        PunchBox::new(settings, &board, t).unwrap().pattern()
    });
    let envelopes = envelopes.map(|(sheet, punch)| {
        let settings = PunchEnvelopeSettings {
            sheet: sixteenths(sheet),
            punch: sixteenths(punch),
        };
        PunchEnvelope::new(settings, &board, t).unwrap().pattern()
    });
    let sized = StructureKind::all().iter().flat_map(bodies_of);
    boxes.into_iter().chain(envelopes).chain(sized).collect()
}

/// Every body of a structure made for a tin's block or, where it lies flat, a card.
fn bodies_of(kind: &StructureKind) -> Vec<Pattern> {
    let mm = Length::from_mm;
    let ruler = Ruler::new(Unit::Millimetre, mm(1), Length::ZERO, mm(1000)).unwrap();
    let request = SizingRequest {
        contents: Contents::Block {
            width: mm(70),
            depth: mm(if kind.has_depth() { 41 } else { 2 }),
            height: mm(55),
        },
        structure: Some(*kind),
        clearance: mm(1),
        fit: Fit::default(),
        caliper: Length::from_nm(300_000),
        tools: Tools::new(PunchBoard::default_inch(), ruler, &Trimmer::new(ruler)),
        sheets: vec![Stock {
            name: "sheet".to_owned(),
            width: mm(700),
            height: mm(1000),
            price: None,
            turnable: true,
        }],
        makes: 1,
    };
    let answer = size(&request).unwrap().answers.remove(0);
    let bodies = answer.structure.bodies();
    bodies.map(|body| body.pattern.clone()).collect()
}

#[test]
fn panels_and_waste_make_up_the_sheet_by_the_areas_of_another_library() {
    for pattern in patterns() {
        let panels = pattern.panels.iter().map(|panel| &panel.outline);
        let waste = pattern.waste.iter().map(|waste| &waste.outline);
        let sum: f64 = panels
            .chain(waste)
            .map(|outline| polygon(outline).unsigned_area())
            .sum();
        let sheet = polygon(&pattern.blank).unsigned_area();
        assert!(
            (sum - sheet).abs() < 1e-6,
            "{}: {sum} of {sheet} mm²",
            pattern.name
        );
    }
}

#[test]
fn no_two_panels_overlap_by_the_overlaps_of_another_library() {
    for pattern in patterns() {
        for (i, one) in pattern.panels.iter().enumerate() {
            for other in &pattern.panels[i + 1..] {
                let shared = polygon(&one.outline).intersection(&polygon(&other.outline));
                let area = shared.unsigned_area();
                assert!(
                    area < 1e-5,
                    "{} and {} share {area} mm²",
                    one.name,
                    other.name
                );
            }
        }
    }
}

#[test]
fn an_area_is_what_another_library_says() {
    for pattern in patterns() {
        for panel in &pattern.panels {
            let (ours, theirs) = (
                signed_area(&panel.outline),
                polygon(&panel.outline).signed_area(),
            );
            assert!(
                (ours - theirs).abs() < 1e-9 * theirs.abs(),
                "{}: {ours} {theirs}",
                panel.name
            );
        }
    }
}
