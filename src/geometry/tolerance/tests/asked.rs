//! Clearances asked for through sizing, and every structure in the registry.

use insta::assert_snapshot;

use super::*;
use crate::{Answer, Contents, SizingRequest, Stock, size};

pub(super) fn request(contents: Contents) -> SizingRequest {
    SizingRequest {
        contents,
        structure: None,
        clearance: Length::ZERO,
        fit: crate::Fit::default(),
        caliper: Length::from_nm(300_000),
        tools: tools(),
        sheets: vec![Stock {
            name: "12 x 12 in".to_owned(),
            width: inch("12"),
            height: inch("12"),
            price: None,
            turnable: true,
        }],
        makes: 14,
    }
}

/// A seed tin.
pub(super) fn tin() -> Contents {
    Contents::Cylinder {
        diameter: Length::from_mm(62),
        height: Length::from_mm(41),
    }
}

pub(super) fn wanted(share: f64) -> WantedShare {
    WantedShare {
        share,
        grid: inch("1/32"),
        most: inch("1/4"),
    }
}

/// Asked of public sizing for each clearance in turn.
#[test]
fn the_least_clearance_is_the_first_that_does() {
    let mut request = request(tin());
    let fine = Ruler::new(Unit::Inch, inch("1/64"), inch("1/2"), inch("8")).unwrap();
    request.tools.punch_board = PunchBoard::new(inch("1/4"), fine).ok();
    request.tools.trimmer = Ruler::inch(64);
    let mut least = Vec::new();
    for hands in [Hands::practised(), Hands::beginner()] {
        let found = clearance_for(&request, PunchBox::KIND, &hands, &wanted(0.95)).unwrap();
        assert!(found.tolerance.together.share >= 0.95);
        let mut first = None;
        for step in 0..=8 {
            let mut request = request.clone();
            request.clearance = inch("1/32") * step;
            request.structure = Some(PunchBox::KIND);
            let answer = size(&request).unwrap().answers.remove(0);
            let contents = answer.contents_box(&tin()).unwrap();
            let share = tolerance(&answer.structure, &contents, &hands)
                .together
                .share;
            if share >= 0.95 {
                first = Some((request.clearance, answer.settings));
                break;
            }
        }
        assert_eq!(first, Some((found.clearance, found.answer.settings)));
        least.push(found.clearance);
    }
    assert!(least[0] < least[1], "{least:?}");
}

#[test]
fn a_share_that_clearance_alone_does_not_reach_says_what_stands_in_its_way() {
    let request = request(tin());
    let error = clearance_for(&request, Tray::KIND, &Hands::beginner(), &wanted(0.95));
    let error = error.expect_err("not reached");
    assert_snapshot!(error, @"No clearance up to 6.35 mm is enough for 95 of 100 makers. The best, 6.35 mm, is enough for 70. The play of the base in the lid along the width fails most often: it has 1.0 mm to spare and needs 2.2 mm.");
    let ClearanceError::NotReached(it) = error else {
        panic!("{error:?}");
    };
    let held = it.held_back_by().unwrap();
    assert!(matches!(held.kind, MeasureKind::Play { .. }), "{held:?}");
}

#[test]
fn questions_without_an_answer_are_refused_in_words() {
    let ask = |wanted: WantedShare, contents| {
        let found = clearance_for(
            &request(contents),
            PunchBox::KIND,
            &Hands::beginner(),
            &wanted,
        );
        found
            .map(|it| it.clearance)
            .expect_err("refused")
            .to_string()
    };
    assert_snapshot!(ask(wanted(1.0), tin()), @"share: 1 is no share of makers. Type one above 0 and below 1, such as 0.95 for 95 of 100.");
    assert_snapshot!(ask(wanted(f64::NAN), tin()), @"share: NaN is no share of makers. Type one above 0 and below 1, such as 0.95 for 95 of 100.");
    let grid = |grid, most| WantedShare {
        share: 0.95,
        grid,
        most,
    };
    assert_snapshot!(ask(grid(Length::ZERO, inch("1/4")), tin()), @"grid: from 0 mm to 6.35 mm in steps of 0 mm is no search of 1 to 400 steps. Type another step, such as 0.5 mm.");
    assert_snapshot!(ask(grid(Length::from_nm(1), Length::MAX), tin()), @"grid: from 0 mm to 10000 mm in steps of 0.000001 mm is no search of 1 to 400 steps. Type another step, such as 0.5 mm.");
    assert_snapshot!(ask(grid(inch("1/4"), Length::from_nm(-1)), tin()), @"grid: from 0 mm to -0.000001 mm in steps of 6.35 mm is no search of 1 to 400 steps. Type another step, such as 0.5 mm.");
    let nothing = Contents::Cylinder {
        diameter: Length::ZERO,
        height: inch("1"),
    };
    assert_snapshot!(ask(wanted(0.9), nothing), @"contents.diameter: 0 mm is no size. Type a length above 0, such as 60 mm.");
    let long = Contents::Cylinder {
        diameter: inch("20"),
        height: inch("20"),
    };
    assert_snapshot!(ask(wanted(0.9), long), @"The punch-board box needs a punch at 42 13/16 in; the board reaches from 1/2 in to 8 in. It needs a sheet of 57 1/4 in too; the largest is 12 x 12 in, 12 in on its shorter side. Use a longer board and a larger sheet, or take smaller contents.");
}

/// Made for the first of a tin, a card and a few seeds that goes in.
pub(super) fn sized(
    kind: StructureKind,
    clearance: Length,
    play: Option<Length>,
) -> (Answer, ContentsBox) {
    let card = Contents::Block {
        width: inch("5"),
        depth: inch("1/8"),
        height: inch("3 1/2"),
    };
    let side = inch("1");
    let seeds = Contents::Block {
        width: side,
        depth: side,
        height: side,
    };
    let sized = [tin(), card, seeds].into_iter().find_map(|contents| {
        let mut request = request(contents);
        request.clearance = clearance;
        request.fit.play = play;
        request.structure = Some(kind);
        let answer = size(&request).unwrap().answers.into_iter().next()?;
        Some((answer, contents))
    });
    let (answer, contents) = sized.unwrap_or_else(|| panic!("{kind:?} is never made"));
    let contents = answer.contents_box(&contents).unwrap();
    (answer, contents)
}

/// Whatever joins the registry is carried too.
#[test]
fn every_structure_has_shares_within_their_bounds() {
    for kind in StructureKind::all() {
        let (answer, contents) = sized(*kind, inch("1/16"), None);
        for source in sources(&answer.structure) {
            let again = varied(&answer.structure, &[(source, Length::ZERO)]).unwrap();
            assert_eq!(again.inside(), answer.structure.inside(), "{kind:?}");
        }
        let found = tolerance(&answer.structure, &contents, &Hands::beginner());
        assert_eq!(found.left_out, Vec::<String>::new(), "{kind:?}");
        for measure in &found.measures {
            assert!(measure.room_mm > -1e-6, "{kind:?} {measure:?}");
            // What follows the printed template moves with no setting.
            let set = !measure.parts.is_empty();
            assert_eq!(measure.sigma_mm > 0.0, set, "{kind:?} {measure:?}");
            assert!(
                measure.likely_mm <= measure.worst_mm + 1e-9,
                "{kind:?} {measure:?}"
            );
            assert!(
                (0.5 - 1e-9..=1.0).contains(&measure.share),
                "{kind:?} {measure:?}"
            );
        }
        let together = found.together;
        let within = together.at_least..=together.at_most;
        assert!(within.contains(&together.share), "{kind:?} {together:?}");
        // Room in bent paper is curved, and little; the width of a glue zone may come to be held
        // by another side of it, far from where it fails.
        let straight = |it: &Measure| it.bend_mm < 0.1 || it.bend_mm < it.room_mm / 4.0;
        assert!(found.measures.iter().all(straight), "{kind:?} {found:?}");
        assert!(together.error < 2e-3, "{kind:?} {together:?}");
        let practised = tolerance(&answer.structure, &contents, &Hands::practised());
        assert!(
            practised.together.share > together.share,
            "{kind:?} {practised:?}"
        );
    }
}

/// The chord of an arc is no straight line in its depth: the pouch says how far it is off.
#[test]
fn a_bent_measure_says_that_it_is_bent() {
    let mut request = request(Contents::Block {
        width: inch("2"),
        depth: inch("1/4"),
        height: inch("3"),
    });
    request.structure = Some(Pouch::KIND);
    let answer = size(&request).unwrap().answers.remove(0);
    let contents = answer.contents_box(&request.contents).unwrap();
    let found = tolerance(&answer.structure, &contents, &Hands::beginner());
    let width = inside(&found, Along::Width);
    assert!(
        width.bend_mm > 0.01 && width.bend_mm < width.sigma_mm,
        "{width:?}"
    );
}
