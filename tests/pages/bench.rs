//! The bench: tools, papers, supplies.

use tablefold::urls;

use crate::visitor::{Server, Visitor};

/// What the form of an empty bench sends, as it is first shown, with a paper.
pub(crate) const START: [(&str, &str); 13] = [
    ("unit", "in"),
    ("notch_depth", "1/4 in"),
    ("step", ""),
    ("name", "Moss card"),
    ("size", "12 x 12 in"),
    ("width", ""),
    ("height", ""),
    ("caliper", ""),
    ("gsm", "216"),
    ("grain", "unknown"),
    ("price", "0.60"),
    ("on_hand", "4"),
    ("do", ""),
];

/// `fields` with some replaced or added.
pub(crate) fn with<'a>(
    fields: &[(&'a str, &'a str)],
    changes: &[(&'a str, &'a str)],
) -> Vec<(&'a str, &'a str)> {
    let is_changed = |name: &str| changes.iter().any(|(changed, _)| *changed == name);
    let kept = fields.iter().filter(|(name, _)| !is_changed(name)).copied();
    kept.chain(changes.iter().copied()).collect()
}

/// Someone whose bench has the usual tools, a paper, a tin and a ribbon.
pub(crate) async fn at_bench(server: &Server) -> Visitor<'_> {
    let mut visitor = server.signed_in().await;
    visitor.post(&urls::bench_start(), &START).await.expect(303);
    let tin = [
        ("name", "Round seed tin"),
        ("measured", "each"),
        ("on_hand", "10"),
    ];
    visitor.post(&urls::supplies(), &tin).await.expect(303);
    let ribbon = [
        ("name", "Jute ribbon"),
        ("measured", "length"),
        ("on_hand", "6 ft"),
    ];
    visitor.post(&urls::supplies(), &ribbon).await.expect(303);
    visitor
}

async fn workshop() -> Server {
    Server::empty().await.with_instructor().await
}

pub(crate) const PAPER: [(&str, &str); 7] = [
    ("name", "Clay card"),
    ("size", "A4"),
    ("caliper", "0.3 mm"),
    ("gsm", ""),
    ("grain", "along_height"),
    ("price", ""),
    ("on_hand", "2"),
];

#[tokio::test]
async fn an_empty_bench_is_set_up_in_one_form() {
    let server = workshop().await;
    let mut visitor = server.signed_in().await;
    visitor
        .get(&urls::home())
        .await
        .expect(200)
        .shows("Set up your bench");
    let page = visitor.get(&urls::bench()).await.expect(200);
    page.shows("<h1>Set up your bench</h1>")
        .shows("Leave it empty for 1/4 in, or 6 mm");
    visitor.post(&urls::bench_start(), &START).await.expect(303);
    let page = visitor.get(&urls::bench()).await.expect(200);
    page.shows("a mark every 1/16 in from 1/2 in to 8 in, notch 1/4 in")
        .shows("≈ 0.25 mm (estimate)")
        .shows("12 × 12 in")
        .shows("≈ 305 × 305 mm")
        .shows("Each attendee brings one");
    visitor
        .get(&urls::home())
        .await
        .expect(200)
        .shows("9 tools, 1 paper, 0 supplies");
    visitor.post(&urls::bench_start(), &START).await.expect(303);
    visitor
        .get(&urls::home())
        .await
        .expect(200)
        .shows("9 tools, 1 paper");
}

#[tokio::test]
async fn a_metric_bench_reads_in_millimetres() {
    let server = workshop().await;
    let mut visitor = server.signed_in().await;
    let metric = [("unit", "mm"), ("notch_depth", "6"), ("size", "A4")];
    visitor
        .post(&urls::bench_start(), &with(&START, &metric))
        .await
        .expect(303);
    let page = visitor.get(&urls::bench()).await.expect(200);
    page.shows("a mark every 1 mm from 10 mm to 200 mm, notch 6 mm")
        .shows("<span class=\"measure\">210 × 297 mm</span>");
}

#[tokio::test]
async fn an_impossible_bench_keeps_everything_typed() {
    let server = workshop().await;
    let mut visitor = server.signed_in().await;
    let wrong = [
        ("notch_depth", "2 in"),
        ("name", "Moss <card>"),
        ("gsm", "🌱"),
        ("price", "-3"),
    ];
    let page = visitor
        .post(&urls::bench_start(), &with(&START, &wrong))
        .await
        .expect(422);
    page.shows("3 fields need another look")
        .shows("more than a punch makes")
        .shows("value=\"2 in\"")
        .shows("value=\"Moss &#60;card&#62;\"")
        .shows("&#34;🌱&#34; is no weight of paper")
        .shows("&#34;-3&#34; is not an amount");
    visitor
        .get(&urls::bench())
        .await
        .expect(200)
        .shows("Set up your bench");
}

#[tokio::test]
async fn papers_are_added_edited_and_removed() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    visitor
        .get(&urls::new_paper())
        .await
        .expect(200)
        .shows("US letter");
    visitor.post(&urls::papers(), &PAPER).await.expect(303);
    let page = visitor.get(&urls::paper(2)).await.expect(200);
    page.shows("value=\"0.3 mm\"")
        .shows("<option value=\"A4\" selected>");
    let own = [
        ("version", "1"),
        ("size", ""),
        ("width", "8 1/2"),
        ("height", "30 cm"),
    ];
    visitor
        .post(&urls::paper(2), &with(&PAPER, &own))
        .await
        .expect(303);
    visitor
        .get(&urls::bench())
        .await
        .expect(200)
        .shows("≈ 8 1/2 × 11 13/16 in");
    visitor.post(&urls::remove_paper(2), &[]).await.expect(303);
    visitor
        .get(&urls::bench())
        .await
        .expect(200)
        .hides("Clay card");
    visitor.get(&urls::paper(2)).await.expect(404);
}

#[tokio::test]
async fn a_paper_that_is_none_is_refused_field_by_field() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let long = "x".repeat(81);
    let wrong = [
        ("name", long.as_str()),
        ("size", ""),
        ("width", "0"),
        ("height", "99999999999999999999 m"),
        ("caliper", "2 in"),
        ("price", "abc"),
        ("on_hand", "-1"),
    ];
    let page = visitor
        .post(&urls::papers(), &with(&PAPER, &wrong))
        .await
        .expect(422);
    page.shows("has 81 characters. Type at most 80.")
        .shows("&#34;0&#34; is no size")
        .shows("value=\"99999999999999999999 m\"")
        .shows("&#34;abc&#34; is not an amount")
        .shows("&#34;-1&#34; is too few");
    let taken = [("name", "Moss card")];
    let page = visitor
        .post(&urls::papers(), &with(&PAPER, &taken))
        .await
        .expect(422);
    page.shows("another paper is called &#34;Moss card&#34;");
    let none = [("caliper", "")];
    let page = visitor
        .post(&urls::papers(), &with(&PAPER, &none))
        .await
        .expect(422);
    page.shows("Thickness of one sheet: nothing is typed, and no weight either");
    let thick = [("caliper", "6 mm")];
    let page = visitor
        .post(&urls::papers(), &with(&PAPER, &thick))
        .await
        .expect(422);
    page.shows("The caliper is 6 mm");
}

#[tokio::test]
async fn a_stale_save_shows_both_texts_and_saves_yours_anyway() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    visitor.post(&urls::papers(), &PAPER).await.expect(303);
    let first = [("version", "1"), ("name", "Clay card, heavy")];
    visitor
        .post(&urls::paper(2), &with(&PAPER, &first))
        .await
        .expect(303);
    let late = [("version", "1"), ("name", "Brick card"), ("one_way", "yes")];
    let page = visitor
        .post(&urls::paper(2), &with(&PAPER, &late))
        .await
        .expect(409);
    let page = page
        .shows("Clay card, heavy")
        .shows("Brick card")
        .shows("Save yours anyway")
        .shows("name=\"version\" value=\"2\"")
        .shows("name=\"one_way\" value=\"yes\"");
    page.hides("name=\"version\" value=\"1\"");
    visitor
        .get(&urls::bench())
        .await
        .expect(200)
        .hides("Brick card");
    let anyway = with(&with(&PAPER, &late), &[("version", "2"), ("do", "save")]);
    visitor.post(&urls::paper(2), &anyway).await.expect(303);
    visitor
        .get(&urls::bench())
        .await
        .expect(200)
        .shows("Brick card");
}

#[tokio::test]
async fn a_board_is_calibrated_from_a_punched_square() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    visitor
        .get(&urls::tool(1))
        .await
        .expect(200)
        .shows("Calibrate the notch");
    // e = S / 2 - a / sqrt 2: 76.2 - 99 / 1.41421356 = 6.196 mm, kept to 0.01 mm.
    let square = [("version", "1"), ("square", "6 in"), ("small", "99 mm")];
    let page = visitor.post(&urls::calibrate(1), &square).await.expect(200);
    page.shows("6.2 mm")
        .shows("Use this notch depth")
        .shows("value=\"99 mm\"");
    visitor
        .get(&urls::tool(1))
        .await
        .expect(200)
        .shows("value=\"1/4 in\"");
    let apply = with(&square, &[("do", "apply")]);
    visitor.post(&urls::calibrate(1), &apply).await.expect(303);
    visitor
        .get(&urls::tool(1))
        .await
        .expect(200)
        .shows("value=\"6.2 mm\"");
    visitor
        .post(&urls::calibrate(1), &apply)
        .await
        .expect(400)
        .shows("was not saved");
    let wrong = [("version", "2"), ("square", "6 in"), ("small", "6 in")];
    let page = visitor.post(&urls::calibrate(1), &wrong).await.expect(422);
    // 6 / 2 - 6 / sqrt 2 = -1.243 in, said in inches on an inch board.
    page.shows("gives a notch depth of -1.24 in, which no punch makes")
        .shows("id=\"e-small\"");
    visitor.post(&urls::calibrate(4), &square).await.expect(404);
}

#[tokio::test]
async fn tools_are_added_with_the_ruler_they_have() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let new = format!("{}?kind=trimmer", urls::new_tool());
    visitor.get(&new).await.expect(200).shows("value=\"12 in\"");
    visitor.get(&urls::new_tool()).await.expect(400);
    let trimmer = [
        ("kind", "trimmer"),
        ("name", "Long trimmer"),
        ("count", "1"),
        ("brought_by", "venue"),
        ("unit", "mm"),
        ("step", "0.5"),
        ("shortest", "0"),
        ("longest", "460"),
        ("at_once", "4"),
    ];
    visitor.post(&urls::tools(), &trimmer).await.expect(303);
    let page = visitor.get(&urls::bench()).await.expect(200);
    page.shows("a mark every 0.5 mm from 0 mm to 460 mm, 4 sheets at once");
    let wrong = [
        ("step", "0.01"),
        ("at_once", "21"),
        ("count", "10000"),
        ("brought_by", "dog"),
    ];
    let page = visitor
        .post(&urls::tools(), &with(&trimmer, &wrong))
        .await
        .expect(422);
    page.shows("too fine to set")
        .shows("Sheets at once: &#34;21&#34; is too many. Type a number from 1 to 20.")
        .shows("&#34;10000&#34; is too many")
        .shows("&#34;dog&#34; is not in the list");
    visitor.post(&urls::remove_tool(10), &[]).await.expect(303);
    visitor.post(&urls::remove_tool(10), &[]).await.expect(404);
}

#[tokio::test]
async fn supplies_are_counted_or_cut_by_length() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    visitor.get(&urls::bench()).await.expect(200).shows("72 in");
    let wrong = [
        ("name", "Twine"),
        ("measured", "length"),
        ("on_hand", "many"),
    ];
    let page = visitor.post(&urls::supplies(), &wrong).await.expect(422);
    page.shows("&#34;many&#34; has no number")
        .shows("value=\"many\"");
    let taken = [
        ("name", "Jute ribbon"),
        ("measured", "each"),
        ("on_hand", "1"),
    ];
    let page = visitor.post(&urls::supplies(), &taken).await.expect(422);
    page.shows("another supply is called &#34;Jute ribbon&#34;");
    let more = [
        ("version", "1"),
        ("name", "Jute ribbon 🌱"),
        ("on_hand", "9 ft"),
        ("price", "1.20"),
    ];
    visitor.post(&urls::supply(2), &more).await.expect(303);
    let page = visitor.get(&urls::bench()).await.expect(200);
    page.shows("108 in")
        .shows("Jute ribbon 🌱")
        .shows("1.20 a yard");
    visitor.post(&urls::remove_supply(2), &[]).await.expect(303);
    visitor.get(&urls::supply(2)).await.expect(404);
}

#[tokio::test]
async fn a_megabyte_in_any_field_comes_back_with_that_field_marked() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let text = "x".repeat(1024 * 1024);
    for field in ["name", "caliper", "gsm", "price", "on_hand"] {
        let fields = with(&PAPER, &[(field, &text)]);
        let answer = visitor.post(&urls::papers(), &fields).await.expect(422);
        assert!(
            answer.text.contains(&format!("value=\"{text}\"")),
            "{field}"
        );
        assert!(
            answer.text.contains(&format!("href=\"#f-{field}\"")),
            "{field}"
        );
    }
    let above = "x".repeat(tablefold::app::BODY_LIMIT);
    let fields = with(&PAPER, &[("name", &above)]);
    visitor.post(&urls::papers(), &fields).await.expect(413);
}

#[tokio::test]
async fn the_bench_is_for_the_instructor_alone() {
    let server = workshop().await;
    at_bench(&server).await;
    let mut stranger = server.anonymous();
    stranger.get(&urls::bench()).await.expect(303);
    stranger.post(&urls::papers(), &PAPER).await.expect(401);
    stranger.post(&urls::remove_paper(1), &[]).await.expect(401);
    let mut visitor = server.signed_in().await;
    visitor.get(&urls::paper(1)).await.expect(200);
}

/// Name, width, weight, price, sheets on hand.
type Row = (String, i64, Option<f64>, Option<i64>, i64);

#[tokio::test]
async fn up_to_3_papers_go_on_a_new_bench_in_one_form() {
    let server = workshop().await;
    let mut visitor = server.signed_in().await;
    let more = [
        ("name_2", "Clay card"),
        ("name_3", "Fern card"),
        ("size_3", "A4"),
        ("gsm_3", "300"),
        ("price_3", "0.80"),
        ("on_hand_3", "7"),
    ];
    let twice = with(
        &with(&START, &more),
        &[("name_3", "Clay card"), ("price_3", "-3")],
    );
    let page = visitor.post(&urls::bench_start(), &twice).await;
    page.expect(422)
        .shows("href=\"#f-name_3\"")
        .shows("href=\"#f-price_3\"")
        .shows("value=\"Clay card\"");
    let fields = with(&START, &more);
    visitor
        .post(&urls::bench_start(), &fields)
        .await
        .expect(303);
    let stored: Vec<Row> =
        sqlx::query_as("SELECT name, width_nm, gsm, price_minor, on_hand FROM paper ORDER BY id")
            .fetch_all(server.app.store().read())
            .await
            .unwrap();
    let row = |name: &str, width, gsm, price, on_hand| {
        (name.to_owned(), width, Some(gsm), Some(price), on_hand)
    };
    let foot = 304_800_000;
    let expected = [
        row("Moss card", foot, 216.0, 60, 4),
        row("Clay card", foot, 216.0, 60, 0),
        row("Fern card", 210_000_000, 300.0, 80, 7),
    ];
    assert_eq!(stored, expected);
}
