//! "Which structure?": compared, used, changed by a button.

use tablefold::urls;
use tablefold_geometry::StructureKind;

use crate::bench::{START, at_bench, with};
use crate::projects::{BOX, ENVELOPE, PROJECT, TRIMMINGS, with_project};
use crate::visitor::{Server, Visitor};

async fn workshop() -> Server {
    Server::empty().await.with_instructor().await
}

/// A small cube goes into what is solid, a card into what is flat.
const CUBE: [(&str, &str); 5] = [
    ("shape", "block"),
    ("width", "1 in"),
    ("depth", "1 in"),
    ("height", "1 1/4 in"),
    ("contents_name", "seed bar"),
];

/// What is typed for a structure that takes it.
fn typed(kind: StructureKind) -> Vec<(&'static str, &'static str)> {
    let solid = with(&BOX, &CUBE);
    match kind.slug() {
        "envelope" | "card" | "pouch" => with(&ENVELOPE, &[("clearance", "1/16 in")]),
        _ => solid,
    }
}

#[tokio::test]
async fn use_this_works_for_every_structure() {
    for kind in StructureKind::all() {
        let server = workshop().await;
        let mut visitor = at_bench(&server).await;
        let fields = with(&typed(*kind), &PROJECT);
        let compared = visitor.post(&urls::choose_for_project(), &fields).await;
        let compared = compared.expect(200);
        let slug = kind.slug();
        let offered = format!("name=\"structure\" value=\"{slug}\">Use this");
        assert!(compared.text.contains(&offered), "{slug} is not offered");
        let used = with(&fields, &[("structure", slug), ("do", "use")]);
        visitor.post(&urls::projects(), &used).await.expect(303);
        let page = visitor.get(&urls::piece(1, 1)).await.expect(200);
        page.shows(&format!("<option value=\"{slug}\" selected>"))
            .shows("fits and folds")
            .shows("In the hands of a class");
        let page = visitor.get(&urls::project(1)).await.expect(200);
        page.hides("can't be made as it is");
    }
}

#[tokio::test]
async fn a_stored_piece_is_compared_under_an_address_of_its_own() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let url = urls::choose_for_piece(1, 1);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .shows(&format!("href=\"{url}\""));
    let page = visitor.get(&url).await.expect(200);
    page.shows("For round seed tin with 1/8 in of clearance")
        .shows("Of 100 beginners, ")
        .shows("value=\"Seed box\"");
    visitor.get(&urls::choose_for_piece(1, 9)).await.expect(404);
    for (url, form) in [
        (urls::choose_for_project(), urls::new_project()),
        (urls::choose_for_new_piece(1), urls::new_piece(1)),
    ] {
        assert_eq!(visitor.get(&url).await.expect(303).location(), form);
    }
}

/// A pouch holds no band and no tie: said beside it, and left out when it is used.
#[tokio::test]
async fn what_a_structure_cannot_carry_is_named_and_left_out() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let url = urls::choose_for_piece(1, 1);
    let page = visitor.get(&url).await.expect(200);
    let gable = page.between("id=\"gable-top\"", "</section>").to_owned();
    assert!(gable.contains("Use this, without its band"), "{gable}");
    assert!(gable.contains("can't have the band of this piece"));
    let tray = page.between("id=\"tray\"", "</section>").to_owned();
    assert!(tray.contains("Use this<span"), "{tray}");
    let wrapped = with(
        &with(&BOX, &TRIMMINGS),
        &[
            ("structure", "gable-top"),
            ("ribbon", "wrap"),
            ("do", "use"),
            ("version", "1"),
        ],
    );
    let page = visitor.post(&url, &wrapped).await.expect(200);
    page.shows("Use this, without its band and ribbon");
    let saved = visitor.post(&urls::piece(1, 1), &wrapped).await;
    saved.expect(303);
    let page = visitor.get(&urls::piece(1, 1)).await.expect(200);
    page.shows("<option value=\"gable-top\" selected>")
        .hides("name=\"band\" type=\"checkbox\" value=\"yes\" checked")
        .shows("<option value=\"\" selected>No ribbon")
        .shows("<option value=\"circle\" selected>");
    // Saving is no choosing: what does not go is refused there, with the reason.
    let saved = with(&wrapped, &[("do", "save"), ("version", "2")]);
    let page = visitor.post(&urls::piece(1, 1), &saved).await.expect(422);
    page.shows("A band goes round a block");
}

async fn compared(visitor: &mut Visitor<'_>, change: &[(&str, &str)]) -> crate::visitor::Answer {
    let fields = with(&ENVELOPE, change);
    let url = urls::choose_for_new_piece(1);
    visitor.post(&url, &fields).await.expect(200)
}

#[tokio::test]
async fn a_size_that_saves_sheets_is_a_button() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let size = [
        ("width", "3 5/8 in"),
        ("depth", "5 3/4 in"),
        ("height", "1/16 in"),
    ];
    let page = compared(&mut visitor, &size).await;
    let part = page.between("<h2>Another clearance or size</h2>", "</section>");
    let sizes: Vec<&str> = part.matches("Make it ").collect();
    assert!(!sizes.is_empty(), "{part}");
    assert!(part.matches("<form").count() <= 3, "{part}");
    let button = part.split("<button class=\"quiet\" name=\"").skip(1);
    let button = button
        .map(|it| it.split_once("</button>").unwrap().0)
        .find(|it| it.contains(">Take a "))
        .unwrap();
    let (name, rest) = button.split_once("\" value=\"").unwrap();
    let (value, label) = rest.split_once("\">").unwrap();
    assert_eq!(label, format!("Take a {name} of {value}"));
    let taken = with(&with(&ENVELOPE, &size), &[(name, value)]);
    let url = urls::choose_for_new_piece(1);
    let page = visitor.post(&url, &taken).await.expect(200);
    page.shows(&format!("name=\"{name}\" value=\"{value}\""));
}

#[tokio::test]
async fn a_bench_without_a_punch_board_makes_what_is_scored() {
    let server = workshop().await;
    let mut visitor = server.signed_in().await;
    let start = with(&START, &[("unit", "mm"), ("no_board", "yes")]);
    let start = with(&start, &[("notch_depth", ""), ("size", "A4")]);
    visitor.post(&urls::bench_start(), &start).await.expect(303);
    let page = visitor.get(&urls::new_project()).await.expect(200);
    page.shows("<option value=\"\" selected>No punch board");
    let none = [("board", ""), ("trimmer", "1"), ("clearance", "3 mm")];
    let fields = with(&with(&with(&BOX, &CUBE), &PROJECT), &none);
    let page = visitor.post(&urls::projects(), &fields).await.expect(422);
    page.shows("punch board");
    let page = visitor.post(&urls::choose_for_project(), &fields).await;
    page.expect(200)
        .shows("value=\"tray\">Use this")
        .shows("Add a punch board");
    let tray = with(&fields, &[("structure", "tray")]);
    visitor.post(&urls::projects(), &tray).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("fits and folds").shows(" mm").hides("Punch");
    let page = visitor.get(&urls::edit_project(1)).await.expect(200);
    page.shows("<option value=\"\" selected>No punch board");
}
