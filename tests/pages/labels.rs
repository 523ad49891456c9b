//! Label sheets: the form, what its page says, and whose link is on which label.

use tablefold::urls;
use tablefold::workshop::BroughtBy;

use crate::pdf::{codes, raster, text};
use crate::visitor::{Server, Visitor};

const BASE: &str = "http://class.example:8080";

async fn published(attendees: usize) -> (Server, i64) {
    let server = Server::empty().await.with_instructor().await;
    let id = server.with_class(attendees, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    (server, id)
}

async fn make_links(visitor: &mut Visitor<'_>, id: i64, role: &str) -> Vec<String> {
    let fields = [("role", role), ("until", "2026-12-05")];
    visitor
        .post(&urls::class_links(id), &fields)
        .await
        .expect(303);
    let page = visitor.get(&urls::class_links(id)).await.expect(200);
    let after = page.text.split("<p class=\"address\">").skip(1);
    after
        .map(|after| after.split('<').next().unwrap().to_owned())
        .collect()
}

/// Metric, so that a test says what it means in mm.
const SHEET: &[(&str, &str)] = &[
    ("what", "packs"),
    ("tables", "2"),
    ("paper", "a4"),
    ("columns", "2"),
    ("rows", "7"),
    ("left", "10 mm"),
    ("top", "12 mm"),
    ("width", "95 mm"),
    ("height", "39 mm"),
    ("across", "0"),
    ("down", "0"),
    ("first", "1"),
    ("outline", "yes"),
];

/// The sheet above with some fields typed otherwise.
fn typed<'a>(other: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let kept = SHEET
        .iter()
        .filter(|(name, _)| !other.iter().any(|(changed, _)| changed == name));
    kept.chain(other).copied().collect()
}

fn query(other: &[(&str, &str)]) -> String {
    serde_html_form::to_string(typed(other)).unwrap()
}

async fn pdf(visitor: &mut Visitor<'_>, id: i64, other: &[(&str, &str)]) -> Vec<u8> {
    let answer = visitor
        .get(&urls::class_labels_pdf(id, &query(other)))
        .await
        .expect(200);
    assert_eq!(answer.header("content-type"), "application/pdf");
    answer.bytes
}

#[tokio::test]
async fn each_attendees_label_carries_that_attendees_own_link() {
    let (server, id) = published(3).await;
    let mut visitor = server.signed_in().await;
    let own = make_links(&mut visitor, id, "own").await;
    assert_eq!(own.len(), 3);
    // One label a sheet, so that a code belongs to the words of its page.
    let one = [("rows", "1"), ("columns", "1")];
    let labels = pdf(&mut visitor, id, &one).await;
    let words = text(&labels);
    let pages: Vec<&str> = words.split('\u{c}').collect();
    for (seat, address) in own.iter().enumerate() {
        let name = format!("Seat {}", seat + 1);
        assert!(pages[seat].contains(&name), "{:?}", pages[seat]);
        assert_eq!(codes(&raster(&labels, seat + 1)), [address.as_str()]);
        let path = address.strip_prefix(BASE).unwrap();
        let opened = server.anonymous().get(path).await.expect(200);
        opened.shows(&format!("{name}: your pack"));
    }
    // A spare belongs to nobody: without a link for all it has no code.
    assert!(pages[3].contains("Spare 1"), "{:?}", pages[3]);
    assert_eq!(codes(&raster(&labels, 4)), [] as [&str; 0]);
    let all = make_links(&mut visitor, id, "attendee").await;
    let shared = all.iter().find(|address| !own.contains(address)).unwrap();
    let labels = pdf(&mut visitor, id, &one).await;
    assert_eq!(codes(&raster(&labels, 4)), [shared.as_str()]);
    assert_eq!(codes(&raster(&labels, 1)), [own[0].as_str()]);
}

#[tokio::test]
async fn tables_and_tools_have_their_labels() {
    let server = Server::empty().await.with_instructor().await;
    let id = server
        .with_class(14, |facts| {
            for tool in &mut facts.tools {
                if tool.kind.slug() == "trimmer" {
                    tool.brought_by = BroughtBy::Venue;
                }
            }
        })
        .await;
    let mut visitor = server.signed_in().await;
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    let shared = make_links(&mut visitor, id, "attendee").await;
    let tables = pdf(&mut visitor, id, &[("what", "tables"), ("tables", "3")]).await;
    let words = text(&tables);
    for said in ["Table 1", "Table 2", "Table 3", "All steps on your phone"] {
        assert!(words.contains(said), "{said} in {words}");
    }
    let found = codes(&raster(&tables, 1));
    assert_eq!(found, [shared[0].as_str(); 3]);
    let tools = text(&pdf(&mut visitor, id, &[("what", "tools")]).await);
    assert!(tools.contains("Punch board 1 of 2") && tools.contains("Punch board 2 of 2"));
    assert!(tools.contains("Goes home with the instructor"));
    // Scissors are brought by each attendee.
    assert!(!tools.contains("Scissors"), "{tools}");
    let all = [("what", "all"), ("tables", "3")];
    let all = text(&pdf(&mut visitor, id, &all).await);
    for said in ["Pack 17", "Table 3", "Punch board 2 of 2"] {
        assert!(all.contains(said), "{said}");
    }
}

#[tokio::test]
async fn the_page_shows_the_sheet_before_it_is_printed() {
    let (server, id) = published(14).await;
    let mut visitor = server.signed_in().await;
    for page in [urls::class_packet(id), urls::class_packs(id)] {
        let page = visitor.get(&page).await.expect(200);
        page.shows(&format!("href=\"{}\"", urls::class_labels(id)));
    }
    let page = visitor.get(&urls::class_labels(id)).await.expect(200);
    page.shows("there is no link whose address is kept")
        .shows("A number alone means inches.");
    make_links(&mut visitor, id, "attendee").await;
    let asked = query(&[("first", "4")]);
    let page = visitor
        .get(&urls::class_labels_as(id, &asked))
        .await
        .expect(200);
    let page = page
        .shows("<h2>17 labels on 2 sheets</h2>")
        .shows("<figcaption>Sheet 1 of 2 with 11 labels</figcaption>")
        .shows("viewBox=\"-2 -2 214.00 301.00\"")
        .shows("Seat 11</text>")
        .hides("Seat 12</text>")
        .hides("class=\"note\"");
    // Three labels are gone, and the first stands in the second row at the right.
    assert_eq!(page.text.matches("<path d=\"M0 0L95.00 39.00").count(), 3);
    let fourth = page.between("translate(105.00 51.00)", "</g>");
    assert!(fourth.contains("Seat 1</text>"), "{fourth}");
    let link = page.between("<a class=\"button\" href=\"", "\"");
    let link = link.replace("&#38;", "&");
    let labels = visitor.get(&link).await.expect(200);
    assert_eq!(crate::drawn::pages(&labels.bytes).len(), 2);
}

#[tokio::test]
async fn bad_measures_are_said_beside_their_fields_and_nothing_typed_is_lost() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    for (field, typed, says) in [
        (
            "columns",
            "0",
            "Columns: &#34;0&#34; is too few. Type a number from 1 to 60.",
        ),
        (
            "rows",
            "0",
            "Rows: &#34;0&#34; is too few. Type a number from 1 to 60.",
        ),
        ("rows", "six", "Rows: &#34;six&#34; is not a whole number."),
        (
            "columns",
            "99999999999",
            "Columns: &#34;99999999999&#34; is too many.",
        ),
        ("across", "-2 mm", "Gap across: &#34;-2 mm&#34;"),
        ("down", "-1", "Gap down: &#34;-1&#34;"),
        ("left", "wide", "Left margin: &#34;wide&#34; has no number"),
        ("top", "", "Top margin: Nothing is typed here."),
        (
            "width",
            "120 mm",
            "Width of a label: &#34;120 mm&#34; does not fit: 2 columns reach to",
        ),
        (
            "height",
            "5 mm",
            "Height of a label: &#34;5 mm&#34; is too small. Type at least",
        ),
        (
            "width",
            "99999999999999999 mm",
            "Width of a label: &#34;99999999999999999 mm&#34;",
        ),
        (
            "first",
            "15",
            "First free label: &#34;15&#34; is too many. Type a number from 1 to 14.",
        ),
        ("first", "0", "First free label: &#34;0&#34; is too few."),
        ("tables", "-1", "Tables: &#34;-1&#34; is too few."),
        (
            "outline",
            "maybe",
            "Outline: &#34;maybe&#34; is not in the list.",
        ),
        (
            "what",
            "hats",
            "Labels for: &#34;hats&#34; is not in the list.",
        ),
        ("paper", "a3", "Sheet: &#34;a3&#34; is not in the list."),
        ("paper", "own", "Width of the sheet: Nothing is typed here."),
    ] {
        let other = [(field, typed)];
        let page = visitor
            .get(&urls::class_labels_as(id, &query(&other)))
            .await
            .expect(422)
            .shows("role=\"alert\"")
            .shows(says)
            .hides("Get the PDF");
        if !["outline", "what", "paper"].contains(&field) {
            let shown = typed.replace('"', "&#34;");
            let kept = format!("name=\"{field}\" type=\"text\" value=\"{shown}\"");
            let page = page.shows(&kept);
            page.shows(&format!("id=\"e-{field}\""))
                .shows("name=\"width\" type=\"text\" value=\"");
        }
        let keep = self::typed(&other);
        let page = visitor
            .post(&urls::class_labels(id), &keep)
            .await
            .expect(422);
        page.shows(says);
        let answer = visitor
            .get(&urls::class_labels_pdf(id, &query(&other)))
            .await
            .expect(303);
        assert_eq!(
            answer.location(),
            urls::class_labels_as(id, &query_in_order(&other))
        );
    }
}

/// As the page writes its own address: all fields in their order.
fn query_in_order(other: &[(&str, &str)]) -> String {
    let value = |name| {
        let all = typed(other);
        let found = all.into_iter().find(|(field, _)| *field == name);
        (name, found.map_or("", |(_, value)| value))
    };
    let names = [
        "what",
        "tables",
        "paper",
        "paper_width",
        "paper_height",
        "columns",
        "rows",
        "left",
        "top",
        "width",
        "height",
        "across",
        "down",
        "first",
        "outline",
    ];
    serde_html_form::to_string(names.map(value)).unwrap()
}

#[tokio::test]
async fn a_sheet_is_kept_only_when_it_is_asked_for() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let other = [("columns", "1"), ("width", "133 mm"), ("outline", "no")];
    visitor
        .get(&urls::class_labels_as(id, &query(&other)))
        .await
        .expect(200);
    let page = visitor.get(&urls::class_labels(id)).await.expect(200);
    let page = page.hides("133 mm");
    drop(page);
    let answer = visitor
        .post(&urls::class_labels(id), &typed(&other))
        .await
        .expect(303);
    let page = visitor.get(answer.location()).await.expect(200);
    page.shows("The sheet is kept.");
    let page = visitor.get(&urls::class_labels(id)).await.expect(200);
    page.shows("value=\"133 mm\"")
        .shows("<option value=\"no\" selected>")
        .shows("<option value=\"a4\" selected>")
        .hides("The sheet is kept.");
}

#[tokio::test]
async fn what_the_labels_lack_is_said() {
    let server = Server::empty().await.with_instructor().await;
    let id = server
        .with_class(3, |facts| {
            facts.attendees[0].name = "Wilhelmina ".repeat(7).trim().to_owned();
            facts.attendees[1].name = "Bea 🌱 <b>".to_owned();
            facts.attendees[2].name = "花子".to_owned();
        })
        .await;
    let mut visitor = server.signed_in().await;
    make_links(&mut visitor, id, "attendee").await;
    let small = query(&[("height", "18 mm"), ("width", "40 mm")]);
    let page = visitor
        .get(&urls::class_labels_as(id, &small))
        .await
        .expect(200);
    page.shows("labels without a code: there is no room")
        .shows("words are cut or left out, even at 8 pt")
        .shows("The font of the labels lacks a sign in “Bea 🌱 &#60;b&#62;”: it is left out.")
        .shows("“花子” is “Attendee 3”")
        .shows("make labels at least 15/16 in high and 1 13/16 in wide")
        .shows(">Bea &#60;b&#62;</text>")
        .shows("Nothing is published yet")
        .hides("<b>")
        .shows("…</text>");
    let found = codes(&raster(
        &pdf(&mut visitor, id, &[("height", "18 mm"), ("width", "40 mm")]).await,
        1,
    ));
    assert_eq!(found, [] as [&str; 0], "text without the code");
}

#[tokio::test]
async fn a_class_whose_attendees_bring_every_tool_has_no_label_for_any() {
    let server = Server::empty().await.with_instructor().await;
    let none = server
        .with_class(2, |facts| {
            for tool in &mut facts.tools {
                tool.brought_by = BroughtBy::Attendee;
            }
        })
        .await;
    let mut visitor = server.signed_in().await;
    let tools = query(&[("what", "tools")]);
    let page = visitor
        .get(&urls::class_labels_as(none, &tools))
        .await
        .expect(200);
    page.shows("There is nothing to print").hides("Get the PDF");
    let answer = visitor.get(&urls::class_labels_pdf(none, &tools)).await;
    assert_eq!(
        answer.expect(303).location(),
        urls::class_labels_as(none, &query_in_order(&[("what", "tools")]))
    );
}

#[tokio::test]
async fn only_the_instructor_prints_labels() {
    let (server, id) = published(2).await;
    let mut stranger = server.anonymous();
    for address in [urls::class_labels(id), urls::class_labels_pdf(id, "")] {
        let answer = stranger.get(&address).await.expect(303);
        assert!(answer.location().starts_with("/sign-in"), "{answer:?}");
    }
    stranger
        .post(&urls::class_labels(id), SHEET)
        .await
        .expect(401);
    let mut visitor = server.signed_in().await;
    visitor.get(&urls::class_labels(id + 9)).await.expect(404);
}
