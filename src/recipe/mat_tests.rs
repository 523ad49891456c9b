//! Mats on the front of a card, and the envelope from the punch board that takes it.

use tablefold_geometry::{
    Contents, FoldedCard, Length, PictureSize, PunchEnvelopeSettings, Settings, Structure,
    StructureKind, sheet_mass_g,
};

use super::*;
use crate::demo::second_project;
use crate::workshop::designed_for;

fn sixteenths(n: i64) -> Length {
    Length::from_nm(n * 1_587_500)
}

/// The demo's card with so many mats that each show 1/8 in.
fn with_mats(count: usize) -> ProjectFacts {
    let mut project = second_project();
    let roles = ["accent", "label"].map(str::to_owned);
    project.pieces[0].spec.mats = (count > 0).then(|| MatsSpec {
        reveal: sixteenths(2),
        roles: roles.into_iter().take(count).collect(),
    });
    project
}

fn recipe(project: &ProjectFacts) -> Recipe {
    Recipe::build(project).expect("the card can be made")
}

fn text(recipe: &Recipe, key: &str) -> String {
    let step = recipe.step(key).expect("there");
    let ruler = recipe.ruler_of(step.operation.tool);
    let (measure, _) = step.measure(ruler).expect("a measure");
    format!("{}. {measure}. {}", step.operation.title, step.text(ruler))
}

fn front(recipe: &Recipe) -> (Length, Length) {
    let card = FoldedCard::of(&recipe.pieces[0].structure);
    card.expect("a card").front()
}

/// Each mat is smaller than what it lies on by a quarter of an inch each way.
#[test]
fn mats_are_parts_of_their_own_papers_smaller_by_twice_the_reveal() {
    let recipe = recipe(&with_mats(2));
    let mats: Vec<(&str, Option<&str>, Length, Length)> = recipe
        .parts
        .iter()
        .filter_map(|part| match &part.kind {
            PartKind::Cut { width, height, .. } if part.key.contains("mat") => {
                Some((part.name.as_str(), part.role(), *width, *height))
            }
            _ => None,
        })
        .collect();
    let (width, height) = front(&recipe);
    let less = |n: i64| (width - sixteenths(n), height - sixteenths(n));
    let [first, second] = [less(4), less(8)];
    assert_eq!(
        mats,
        [
            ("Gift card: first mat", Some("accent"), first.0, first.1),
            ("Gift card: second mat", Some("label"), second.0, second.1),
        ]
    );
    for (key, size) in [("p3.card-mat-1-cut", first), ("p3.card-mat-2-cut", second)] {
        let step = recipe.step(key).expect("there");
        assert!(step.is_prep() && step.operation.tool == Some(ToolKind::Trimmer));
        assert_eq!(step.operation.settings, [size.0, size.1]);
    }
    let mut designed: Vec<String> = designed_for(&with_mats(2))
        .into_iter()
        .map(|d| d.0)
        .collect();
    let mut needed = recipe.roles();
    designed.sort();
    needed.sort();
    assert_eq!(designed, needed);
}

#[test]
fn mats_are_stuck_on_the_shut_card_before_it_goes_into_its_envelope() {
    let recipe = recipe(&with_mats(2));
    let at = |key: &str| {
        let mut steps = recipe.steps.iter();
        steps.position(|step| step.operation.key == key).expect(key)
    };
    let order = [
        "card-fold-1",
        "card-mat-1-stick",
        "card-mat-2-stick",
        "envelope-together",
    ];
    let order = order.map(|name| at(&format!("p3.{name}")));
    assert!(order.is_sorted(), "{order:?}");
    let together = recipe.step("p3.envelope-together").expect("there");
    assert!(
        together
            .operation
            .after
            .contains(&"p3.card-mat-2-stick".to_owned())
    );
    insta::assert_snapshot!(text(&recipe, "p3.card-mat-1-stick"), @"Stick the first mat on. 1/8 in. Lay the card shut, its fold on the left. Put tape along the 4 edges of the back of the first mat. Set it in the middle of the front: 1/8 in shows all round. Press.");
    insta::assert_snapshot!(text(&recipe, "p3.card-mat-2-stick"), @"Stick the second mat on. 1/8 in. Lay the card shut, its fold on the left. Put tape along the 4 edges of the back of the second mat. Set it in the middle of the first mat: 1/8 in shows all round. Press.");
    // Tape along 4 edges of each.
    let (width, height) = front(&recipe);
    let first = recipe.step("p3.card-mat-1-stick").expect("there");
    let round = 2.0 * ((width - sixteenths(4)).mm() + (height - sixteenths(4)).mm());
    assert!((first.operation.adhesive_mm - round).abs() < 1e-9);
    assert!(first.is_class() && first.operation.tool == Some(ToolKind::Tape));
}

#[test]
fn the_picture_shows_the_layers_below_and_where_the_fold_is() {
    let project = with_mats(2);
    let recipe = recipe(&project);
    for mirrored in [false, true] {
        let of = |key| {
            let step = recipe.step(key).expect("there");
            draw(
                &project,
                &recipe.pieces,
                &step.operation,
                mirrored,
                PictureSize::FREE,
            )
            .expect("a picture")
        };
        let said = [of("p3.card-mat-1-stick"), of("p3.card-mat-2-stick")];
        let said = said.map(|scene| format!("{}. {}", scene.title, scene.description));
        insta::allow_duplicates! {
            insta::assert_snapshot!(said.join("\n"), @"
            Stick the first mat on, centred. From the lowest to the uppermost: card, first mat. All are centred. A rim of 1/8 in shows on each side. The fold is on the left.
            Stick the second mat on, centred. From the lowest to the uppermost: card, first mat, second mat. All are centred. A rim of 1/8 in shows on each side. The fold is on the left.
            ");
        }
    }
}

/// A reveal of 3 mm is no mark of a ruler in sixteenths; the front is marked in other sixteenths.
#[test]
fn a_reveal_off_the_marks_is_told_as_it_comes_out() {
    let mut project = with_mats(1);
    let mats = project.pieces[0].spec.mats.as_mut().expect("one");
    mats.reveal = Length::from_nm(5_300_000);
    // By hand: twice 5.3 mm are 6.68 sixteenths, so 7 come off.
    let recipe = recipe(&project);
    let (width, height) = front(&recipe);
    let made = &recipe.pieces[0].mats[0];
    let cut = (width - sixteenths(7), height - sixteenths(7));
    assert_eq!(made.shape.size(), cut);
    insta::assert_snapshot!(text(&recipe, "p3.card-mat-1-stick"), @"Stick the mat on. ≈ 1/4 in. Lay the card shut, its fold on the left. Put tape along the 4 edges of the back of the mat. Set it in the middle of the front: ≈ 1/4 in shows all round. Press.");
}

#[test]
fn rims_that_differ_are_both_told() {
    let mut project = with_mats(1);
    // A score board in halves of a sixteenth: the front ends between marks of the trimmer.
    project.score_ruler = tablefold_geometry::Ruler::inch(32);
    project.pieces[0].spec.contents = Contents::Block {
        width: Length::from_nm(99_300_000),
        depth: Length::from_mm(1),
        height: Length::from_mm(70),
    };
    let recipe = recipe(&project);
    let (width, _) = front(&recipe);
    assert!(!project.trimmer.ruler().has(width), "{width:?}");
    insta::assert_snapshot!(text(&recipe, "p3.card-mat-1-stick"), @"Stick the mat on. ≈ 1/8 in. Lay the card shut, its fold on the left. Put tape along the 4 edges of the back of the mat. Set it in the middle of the front: ≈ 1/8 in shows left and right, 1/8 in above and below. Press.");
}

/// By hand: 2 mats of 0.25 mm make the shut envelope 0.5 mm thicker, and want as much more of it.
#[test]
fn mats_take_of_the_play_and_of_the_post() {
    let thick = |count| recipe(&with_mats(count)).pieces[0].outside.depth_mm;
    assert!((thick(2) - thick(0) - 0.5).abs() < 1e-9);
    let asked = |count| {
        let project = with_mats(count);
        sizing_request(&project, &project.pieces[0], None)
            .fit
            .stuck_on
    };
    assert_eq!(
        (asked(0), asked(2)),
        (Length::ZERO, Length::from_nm(500_000))
    );
    let nests = |count: usize| {
        let made = &recipe(&with_mats(count)).pieces[0];
        made.structure.load().stuck_on
    };
    assert_eq!(nests(2), Length::from_nm(500_000));
}

/// The card of 4 by 2 3/4 in shut is 4 by 5 1/2 in of paper; its envelope loses the corners of its
/// sheet. Mats weigh what their rectangles do.
#[test]
fn paper_is_weighed_without_what_is_cut_off_and_with_its_mats() {
    let made = |count| recipe(&with_mats(count)).pieces.remove(0);
    let bare = made(0);
    let [card, envelope] = bare.structure.blanks()[..] else {
        panic!("two sheets")
    };
    let sheet = |(width, height)| sheet_mass_g(width, height, 250.0);
    let grams = bare.paper_grams(250.0);
    assert!(grams < sheet(card) + sheet(envelope), "{grams}");
    assert!(grams > sheet(card) + 0.7 * sheet(envelope), "{grams}");
    let with = made(2);
    let mats: f64 = with.mats.iter().map(|mat| sheet(mat.shape.size())).sum();
    let mut without = with.clone();
    without.mats.clear();
    let more = with.paper_grams(250.0) - without.paper_grams(250.0);
    assert!(mats > 1.0 && (more - mats).abs() < 1e-9, "{more} {mats}");
}

/// The settings that just take the card with its slip and its mats do not take a thicker slip, nor
/// more mats.
#[test]
fn settings_by_hand_leave_play_for_what_is_in_the_card_and_on_it() {
    let mut project = with_mats(2);
    // No clearance, and rulers so fine that nothing is left over.
    project.pieces[0].spec.clearance = Length::ZERO;
    let fine = Length::from_nm(100_000);
    let fine = tablefold_geometry::Ruler::new(
        tablefold_geometry::Unit::Millimetre,
        fine,
        Length::ZERO,
        Length::from_mm(305),
    );
    let fine = fine.expect("a ruler");
    (project.score_ruler, project.trimmer) = (fine, tablefold_geometry::Trimmer::new(fine));
    let settings = recipe(&project).pieces[0].structure.settings();
    let mut by_hand = project.clone();
    by_hand.pieces[0].spec.by_hand = Some(settings);
    assert!(Recipe::build(&by_hand).is_ok());
    let refused = |project: &ProjectFacts| {
        let problems = Recipe::build(project).expect_err("refused");
        assert_eq!(problems[0].field, "settings");
        assert!(
            problems[0].message.contains("of play"),
            "{}",
            problems[0].message
        );
    };
    let mats = by_hand.pieces[0].spec.mats.as_mut().expect("two");
    mats.roles.push("main".to_owned());
    mats.roles.push("main".to_owned());
    refused(&by_hand);
    by_hand.pieces[0].spec.mats = project.pieces[0].spec.mats.clone();
    by_hand.pieces[0].spec.contents = Contents::Block {
        width: Length::from_mm(99),
        depth: Length::from_nm(1_900_000),
        height: Length::from_mm(69),
    };
    refused(&by_hand);
}

#[test]
fn mats_that_cannot_be_say_why_at_their_field() {
    let refused = |project: &ProjectFacts| {
        let problems = Recipe::build(project).expect_err("refused");
        format!("{}: {}", problems[0].field, problems[0].message)
    };
    let mut wide = with_mats(2);
    wide.pieces[0].spec.mats.as_mut().expect("two").reveal = Length::inches(1);
    insta::assert_snapshot!(refused(&wide), @"mats: A reveal of 1 in round each of 2 mats leaves less than 7/16 in for the last mat on a front 3 1/16 in across. Type 5/8 in or less.");
    wide.pieces[0].spec.mats.as_mut().expect("two").reveal = Length::inches(30);
    assert!(refused(&wide).starts_with("mats: A reveal of 30 in round each"));
    let mut pouch = with_mats(1);
    pouch.pieces[0].spec.structure = StructureKind::find("envelope").expect("there");
    insta::assert_snapshot!(refused(&pouch), @"mats: Mats lie on the front of a folded card, and the punch-board envelope is none. Leave them out, or choose the card.");
    let mut many = with_mats(1);
    many.pieces[0].spec.mats.as_mut().expect("one").roles = vec!["main".to_owned(); 10_000];
    assert!(refused(&many).starts_with("mats: 10000 layers are no stack of mats"));
}

/// Every pack holds both mats, and the sheets yield as many as all packs need.
#[test]
fn a_packet_with_mats_balances() {
    let mut class = crate::demo::class(5);
    class.project.pieces = with_mats(2).pieces;
    let packet = crate::workshop::packet(&class, &crate::workshop::plan_now).expect("balances");
    for pack in &packet.packs {
        let mats = pack.items.iter().filter(|item| item.name.ends_with(" mat"));
        assert_eq!(mats.count(), 2, "{}", pack.label);
    }
    let round = |key| {
        packet
            .recipe
            .step(key)
            .map_or(0.0, |it| it.operation.adhesive_mm)
    };
    let one = round("p3.card-mat-1-stick") + round("p3.card-mat-2-stick");
    let kits = packet.packs.len() as f64;
    assert!((packet.tape_mm - one * kits).abs() < 1e-6);
}

#[test]
fn a_piece_stored_without_mats_is_read_and_written_as_it_was() {
    let spec = with_mats(0).pieces.remove(0).spec;
    let text = serde_json::to_string(&StoredSpec::V1(spec.clone())).expect("JSON");
    assert!(
        !text.contains("mats") && !text.contains("stuck_on"),
        "{text}"
    );
    let StoredSpec::V1(read) = serde_json::from_str(&text).expect("read");
    assert_eq!(read, spec);
    let spec = with_mats(2).pieces.remove(0).spec;
    let text = serde_json::to_string(&spec).expect("JSON");
    assert_eq!(
        serde_json::from_str::<PieceSpec>(&text).expect("read"),
        spec
    );
}

/// It takes the card with 2 mm of play beyond its thickness, and a square one mark smaller takes
/// it at no punch: the room of an envelope is √2 times what is between its scores, less the paper.
#[test]
fn the_matching_envelope_takes_the_shut_card_from_the_smallest_square() {
    let project = with_mats(2);
    let recipe = recipe(&project);
    let (card, made) = (&project.pieces[0], &recipe.pieces[0]);
    let envelope = matching_envelope(card, made).expect("a punch board is there");
    assert_eq!(envelope.name, "Envelope for Gift card");
    let (width, height) = front(&recipe);
    // 2 sheets and 2 mats of 0.25 mm, and a slip of 1 mm.
    let stack = Contents::Stack {
        width,
        height,
        each_thickness: Length::from_mm(2),
        count: 1,
    };
    assert_eq!(envelope.spec.contents, stack);
    let punched = make(&project, &envelope).expect("made");
    let tools = punched.structure.tools();
    let need = |side: Length| side.mm() + 2.0 - 1e-9;
    let takes = |sheet, punch| {
        let at = Settings::from(PunchEnvelopeSettings { sheet, punch });
        Structure::new(at, tools, card.paper.caliper).is_ok_and(|made| {
            let inside = made.inside_for(2.0);
            let fits = |a: Length, b: Length| inside.width >= need(a) && inside.length >= need(b);
            fits(width, height) || fits(height, width)
        })
    };
    let at = |key| punched.structure.settings().get(key).expect("set");
    assert!(takes(at("sheet"), at("punch")));
    let smaller = at("sheet") - sixteenths(1);
    assert!((1..200).all(|punch| !takes(smaller, sixteenths(punch))));
}

#[test]
fn only_a_card_on_a_bench_with_a_punch_board_has_a_matching_envelope() {
    let mut project = with_mats(1);
    project.pieces[0].spec.second_role = Some("label".to_owned());
    let made = |project: &ProjectFacts| {
        let made = make(project, &project.pieces[0]).expect("made");
        matching_envelope(&project.pieces[0], &made)
    };
    assert_eq!(
        made(&project).map(|it| it.spec.role),
        Some("label".to_owned())
    );
    project.pieces[0].spec.fit.play = Some(Length::from_mm(5));
    assert_eq!(
        made(&project).map(|it| it.spec.clearance),
        Some(Length::from_mm(5))
    );
    project.has_punch_board = false;
    assert_eq!(made(&project), None);
    let boxes = crate::demo::project();
    assert_eq!(made(&boxes), None);
}
