//! Folded cards: mats on the front, and the envelope from the punch board.

use tablefold::urls;

use super::{BOX, ENVELOPE, PROJECT, with_project, workshop};
use crate::bench::{START, with};
use crate::visitor::{Answer, Visitor};

/// A card with two mats for a slip, as the form sends it.
const CARD: [(&str, &str); 11] = [
    ("name", "Gift card"),
    ("contents_name", "sowing slip"),
    ("structure", "card"),
    ("width", "70 mm"),
    ("depth", "100 mm"),
    ("height", "1 mm"),
    ("second_role", "label"),
    ("mats", "2"),
    ("mats_reveal", "1/8 in"),
    ("mats_role_1", "accent"),
    ("mats_role_2", "main"),
];

fn card(change: &[(&'static str, &'static str)]) -> Vec<(&'static str, &'static str)> {
    with(&with(&ENVELOPE, &CARD), change)
}

async fn shown(visitor: &mut Visitor<'_>, change: &[(&'static str, &'static str)]) -> Answer {
    let fields = with(&card(&[("do", "show")]), change);
    visitor.post(&urls::pieces(1), &fields).await
}

#[tokio::test]
async fn mats_are_chosen_on_the_form_of_a_card_and_become_parts_and_steps() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let bare = shown(&mut visitor, &[("mats", "")]).await.expect(200);
    bare.shows("<summary>Mats on the front</summary>")
        .shows("at the thickest place, and")
        .shows("It is shut by the envelope")
        .shows("Its paper weighs about ")
        .hides("First mat: cut");
    let page = shown(&mut visitor, &[]).await.expect(200);
    page.shows("First mat: cut")
        .shows("from the paper \"accent\"")
        .shows("shows all round")
        .shows("at the thickest place, 2 mats each as thick as a sheet, and");
    visitor.post(&urls::pieces(1), &card(&[])).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Gift card: first mat")
        .shows("Gift card: second mat")
        .shows("Cut the second mat")
        .shows("Stick the first mat on")
        .shows("Set it in the middle of the first mat: 1/8 in shows all round.");
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    page.shows("<option value=\"2\" selected>Two, one on the other")
        .shows("name=\"mats_reveal\" type=\"text\" value=\"1/8 in\"")
        .shows("name=\"mats_role_2\" type=\"text\" value=\"main\"");
    let changed = card(&[("version", "1"), ("mats", "1"), ("mats_reveal", "4 mm")]);
    visitor.post(&urls::piece(1, 2), &changed).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Gift card: mat")
        .hides("second mat")
        .shows("Stick the mat on");
}

/// The envelope and the post take two more sheets of 0.3 mm.
#[tokio::test]
async fn mats_make_the_closed_envelope_thicker() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let thick = |page: &Answer| {
        let told = page.between("and <span class=\"measure\">", " thick");
        told.to_owned()
    };
    let bare = shown(&mut visitor, &[("mats", "")]).await.expect(200);
    let page = shown(&mut visitor, &[]).await.expect(200);
    assert_ne!(thick(&page), thick(&bare));
}

#[tokio::test]
async fn mats_typed_wrong_are_marked_and_kept() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let wrong = [
        ("mats_reveal", "wide"),
        ("mats_role_2", ""),
        ("mats_role_1", "leaf"),
    ];
    let page = shown(&mut visitor, &wrong).await.expect(422);
    page.shows("id=\"e-mats_reveal\"")
        .shows("id=\"e-mats_role_2\"")
        .shows("Paper of the second mat: nothing is typed")
        .shows("value=\"wide\"")
        .shows("value=\"leaf\"");
    let page = shown(&mut visitor, &[("mats_reveal", "30 mm")]).await;
    page.expect(422)
        .shows("id=\"e-mats_reveal\"")
        .shows("for the last mat on a front")
        .shows("value=\"30 mm\"");
    let page = shown(&mut visitor, &[("mats", "3")]).await.expect(422);
    page.shows("id=\"e-mats\"");
    // Another structure reads none of it and keeps it for a card.
    let page = shown(
        &mut visitor,
        &[("structure", "pouch"), ("mats_reveal", "wide")],
    )
    .await;
    page.expect(200)
        .shows("type=\"hidden\" name=\"mats\" value=\"2\"")
        .shows("type=\"hidden\" name=\"mats_reveal\" value=\"wide\"")
        .hides("<summary>Mats on the front</summary>");
}

#[tokio::test]
async fn a_structure_without_a_front_is_used_without_the_mats() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    visitor.post(&urls::pieces(1), &card(&[])).await.expect(303);
    let url = urls::choose_for_piece(1, 2);
    let page = visitor.get(&url).await.expect(200);
    let pouch = page.between("id=\"pouch\"", "</section>").to_owned();
    assert!(pouch.contains("Use this, without its mats"), "{pouch}");
    let own = page.between("id=\"card\"", "</section>").to_owned();
    assert!(own.contains("Use this<span"), "{own}");
    let used = card(&[("structure", "pouch"), ("do", "use"), ("version", "1")]);
    let saved = visitor.post(&urls::piece(1, 2), &used).await.expect(303);
    let page = visitor.get(saved.location()).await.expect(200);
    page.shows("The piece is saved without its mats")
        .hides("second mat");
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .hides("is saved without");
    let url = format!("{}?without=roof,%3Cb%3E", urls::project(1));
    visitor
        .get(&url)
        .await
        .expect(200)
        .hides("is saved without");
}

/// The token of the form that adds the envelope.
fn token(page: &Answer, url: &str) -> String {
    let form = page.between(&format!("action=\"{url}\""), "</form>");
    let (_, rest) = form.split_once("name=\"once\" value=\"").unwrap();
    rest.split_once('"').unwrap().0.to_owned()
}

#[tokio::test]
async fn the_punched_envelope_is_added_once_as_a_piece_and_shown() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = shown(&mut visitor, &[]).await.expect(200);
    page.shows("Save the card; then a button here adds it.")
        .hides("Add the punched envelope");
    visitor.post(&urls::pieces(1), &card(&[])).await.expect(303);
    let url = urls::piece_envelope(1, 2);
    for page in [urls::piece(1, 2), urls::project(1)] {
        let page = visitor.get(&page).await.expect(200);
        assert_eq!(page.header("cache-control"), "private, no-cache");
        page.shows("each card then has 2 envelopes")
            .shows(&format!("action=\"{url}\""));
    }
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    let square = page.between("cut a square of", "(").to_owned();
    let sent = [("once", token(&page, &url))];
    let sent = sent.each_ref().map(|(name, value)| (*name, value.as_str()));
    for _ in 0..2 {
        let made = visitor.post(&url, &sent).await.expect(303);
        assert_eq!(made.location(), urls::piece(1, 3));
    }
    visitor.get(&urls::piece(1, 4)).await.expect(404);
    let page = visitor.get(&urls::piece(1, 3)).await.expect(200);
    let page = page
        .shows("value=\"Envelope for Gift card\"")
        .shows("<option value=\"envelope\" selected>")
        .shows("<option value=\"stack\" selected>")
        .shows("name=\"contents_name\" type=\"text\" value=\"Gift card\"")
        .shows("name=\"role\" type=\"text\" value=\"label\"")
        .shows("name=\"clearance\" type=\"text\" value=\"2 mm\"");
    let sheet = page.between("<dt>sheet</dt><dd>", "<small>");
    let figure = |text: &str| {
        text.replace("<span class=\"measure\">", "")
            .trim()
            .to_owned()
    };
    let plain = |text: &str| {
        let kept = text
            .split('<')
            .map(|part| part.split_once('>').map_or(part, |it| it.1));
        kept.collect::<String>()
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert_eq!(
        plain(&figure(sheet)).replace(' ', ""),
        plain(&square).replace(' ', "")
    );
    for page in [urls::piece(1, 2), urls::project(1)] {
        let page = visitor.get(&page).await.expect(200);
        page.shows("It is a piece of this project")
            .shows(&format!(
                "href=\"{}\">Envelope for Gift card</a>",
                urls::piece(1, 3)
            ))
            .hides("Add the punched envelope");
    }
    // Who sends the form all the same wants another one.
    visitor.post(&url, &[]).await.expect(303);
    visitor.get(&urls::piece(1, 4)).await.expect(200);
}

#[tokio::test]
async fn only_a_card_on_a_bench_with_a_punch_board_gets_a_punched_envelope() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = visitor.post(&urls::piece_envelope(1, 1), &[]).await;
    page.expect(400)
        .shows("gets no envelope from the punch board");
    let gone = visitor.post(&urls::piece_envelope(1, 9), &[]).await;
    gone.expect(404);
    let mut stranger = server.anonymous();
    stranger
        .post(&urls::piece_envelope(1, 1), &[])
        .await
        .expect(401);

    let server = workshop().await;
    let mut visitor = server.signed_in().await;
    let start = with(&START, &[("unit", "mm"), ("no_board", "yes")]);
    let start = with(&start, &[("notch_depth", ""), ("size", "A4")]);
    visitor.post(&urls::bench_start(), &start).await.expect(303);
    let fields = with(
        &card(&[("board", ""), ("trimmer", "1"), ("mats", "")]),
        &PROJECT,
    );
    let fields = with(
        &fields,
        &[("board", ""), ("trimmer", "1"), ("clearance", "3 mm")],
    );
    visitor.post(&urls::projects(), &fields).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Envelopes and post").hides("on the punch board");
    let page = visitor.post(&urls::piece_envelope(1, 1), &[]).await;
    page.expect(400).shows("and a punch board on the bench");
}

/// What the button sends, and its label.
fn button(page: &Answer, label: &str) -> (String, String) {
    let part = page.between("<h3>Another clearance or size</h3>", "<h3>");
    let buttons = part.split("name=\"change\" value=\"").skip(1);
    let mut buttons = buttons.map(|it| {
        let (value, rest) = it.split_once("\">").unwrap();
        (value.to_owned(), rest.split_once('<').unwrap().0.to_owned())
    });
    let found = buttons.find(|it| it.1.starts_with(label));
    found.unwrap_or_else(|| panic!("no button {label} in {part}"))
}

/// The page of a piece offers its break points as buttons that keep all else that was typed.
#[tokio::test]
async fn a_break_point_is_a_button_on_the_page_of_a_piece() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let size = [
        ("structure", "card"),
        ("width", "2 3/4 in"),
        ("depth", "7 in"),
        ("height", "0.3 mm"),
        ("clearance", "1/16 in"),
        ("role", "leaf"),
        ("do", "show"),
    ];
    let fields = with(&ENVELOPE, &size);
    let page = visitor.post(&urls::pieces(1), &fields).await.expect(200);
    let sheets = |page: &Answer| {
        let told = page.between("<dt>sheets for 14</dt><dd>", " <small>");
        told.parse::<u32>().unwrap()
    };
    let before = sheets(&page);
    for start in ["Take a ", "Take "] {
        let (take, label) = button(&page, start);
        let (field, value) = take.split_once(": ").unwrap();
        let told = match field {
            "clearance" => format!("Take {value} of clearance"),
            _ => format!("Take a {field} of {value}"),
        };
        assert_eq!(label, told);
        let taken = with(&with(&fields, &[("do", "")]), &[("change", take.as_str())]);
        let page = visitor.post(&urls::pieces(1), &taken).await.expect(200);
        let typed = format!("name=\"{field}\" type=\"text\" value=\"{value}\"");
        let page = page.shows(&typed).shows("value=\"leaf\"");
        assert_ne!(sheets(&page), before, "{take}");
    }
    let page = visitor.get(&urls::projects()).await.expect(200);
    page.hides("Seed envelope");
}

/// On the project's page the button opens the form with it; nothing is saved by that.
#[tokio::test]
async fn a_break_point_of_a_stored_piece_opens_its_form_with_it() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = visitor.get(&urls::project(1)).await.expect(200);
    let (take, _) = button(&page, "Take ");
    let (field, value) = take.split_once(": ").unwrap();
    assert_eq!(field, "clearance");
    let form = format!("<form method=\"get\" action=\"{}\">", urls::piece(1, 1));
    let page = page.shows(&form);
    assert!(
        !page.text.contains("form=\"piece\" class"),
        "no such form is there"
    );
    let url = format!(
        "{}?change={}",
        urls::piece(1, 1),
        take.replace(' ', "+").replace('/', "%2F")
    );
    let opened = visitor.get(&url).await.expect(200);
    let typed = format!("name=\"clearance\" type=\"text\" value=\"{value}\"");
    opened
        .shows(&typed)
        .shows("value=\"Seed box\"")
        .shows("sheets for 14");
    let stored = visitor.get(&urls::piece(1, 1)).await.expect(200);
    stored.shows("name=\"clearance\" type=\"text\" value=\"1/8 in\"");
    // What no button sends is no measure, and is named.
    let url = format!("{}?change=clearance:+wide", urls::piece(1, 1));
    let page = visitor.get(&url).await.expect(422);
    page.shows("id=\"e-clearance\"").shows("value=\"wide\"");
    let box_fields = with(&BOX, &[("change", "colour: red"), ("do", "")]);
    let page = visitor.post(&urls::pieces(1), &box_fields).await;
    page.expect(200).shows("value=\"1/8 in\"");
}
