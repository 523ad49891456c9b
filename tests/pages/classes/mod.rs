//! Classes: planned in one form. What changes in them, their lists and packets have files of
//! their own.

mod changes;
mod lists;
mod packet;

use tablefold::urls;

use crate::bench::{START, with};
use crate::projects::{BOX, PROJECT};
use crate::visitor::{Answer, Server};

async fn server() -> Server {
    Server::empty().await.with_instructor().await
}

/// A planned class as the form sends it; the project is row 1 of a class that exists.
pub(crate) fn planned<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut fields = vec![
        ("title", "Winter evening"),
        ("project", "1"),
        ("date", "2026-12-12"),
        ("starts", "19:00"),
        ("minutes", "90"),
        ("place", "Library 🌱"),
        ("attendees", "5"),
    ];
    for (name, value) in changed {
        for field in fields.iter_mut().filter(|field| field.0 == *name) {
            field.1 = value;
        }
    }
    fields
}

/// The version that a form was opened with.
fn version(page: &Answer) -> String {
    page.between("name=\"version\" value=\"", "\"").to_owned()
}

/// The class of the builders is on the day at which the clock of these tests stands.
#[tokio::test]
async fn the_start_page_leads_to_the_next_class_and_then_to_its_packet() {
    let server = server().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let button = |label: &str, url: &str| format!("<a class=\"button\" href=\"{url}\">{label}</a>");
    let page = visitor.get(&urls::home()).await.expect(200);
    page.shows("Your next class is planned.")
        .shows(&button("Open the class", &urls::class(id)));
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    let page = visitor.get(&urls::home()).await.expect(200);
    page.shows("Your next class is published.")
        .shows(&button("Open the packet", &urls::class_packet(id)));
}

#[tokio::test]
async fn a_class_has_a_packet_right_after_its_one_form() {
    let server = server().await;
    server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let answer = visitor
        .post(&urls::class_new(), &planned(&[]))
        .await
        .expect(303);
    assert_eq!(answer.location(), urls::class(2));
    let page = visitor.get(&urls::class(2)).await.expect(200);
    page.shows("Winter evening")
        .shows("Saturday 12 December 2026, 19:00 to 20:30, Library 🌱")
        .shows("The packet balances.")
        .shows("1 for 3 attendees");
    let packs = visitor.get(&urls::class_packs(2)).await.expect(200);
    packs.shows("Seat 5").shows("As designed").hides("Seat 6");
    let list = visitor.get(&urls::classes()).await.expect(200);
    list.shows("Winter evening")
        .shows("5 attendees")
        .shows("not published");
}

#[tokio::test]
async fn a_class_without_a_project_is_sent_to_make_one() {
    let server = server().await;
    let mut visitor = server.signed_in().await;
    let link = format!("href=\"{}\"", urls::projects());
    for url in [urls::classes(), urls::class_new()] {
        visitor
            .get(&url)
            .await
            .expect(200)
            .shows(&link)
            .shows("plan that first");
    }
    let fields = planned(&[]);
    visitor.post(&urls::class_new(), &fields).await.expect(422);
}

#[tokio::test]
async fn a_plan_with_errors_comes_back_with_everything_typed() {
    let server = server().await;
    server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let long = "a".repeat(81);
    let wrong = [
        (
            "attendees",
            "0",
            "\"0\" is too few. Type a number from 1 to 400.",
        ),
        (
            "attendees",
            "10000",
            "\"10000\" is too many. Type a number from 1 to 400.",
        ),
        ("attendees", "🌱", "\"🌱\" is not a whole number"),
        ("attendees", "-3", "is too few"),
        ("minutes", "99999999999999999999", "is too many"),
        ("date", "28.11.2026", "\"28.11.2026\" is not a day"),
        ("starts", "half past 6", "\"half past 6\" is not a time"),
        ("project", "77", "\"77\" is not in the list"),
        ("title", "", "Title: nothing is typed"),
        ("place", &long, "has 81 characters. Type at most 80."),
    ];
    for (field, typed, said) in wrong {
        let fields = planned(&[(field, typed)]);
        let answer = visitor.post(&urls::class_new(), &fields).await.expect(422);
        let said = said.replace('"', "&#34;");
        let answer = answer.shows(&said).shows(&format!("href=\"#f-{field}\""));
        if !["title", "place", "project"].contains(&field) {
            answer
                .shows(&format!("value=\"{typed}\""))
                .shows("value=\"Winter evening\"");
        }
    }
    visitor.get(&urls::class(2)).await.expect(404);
}

#[tokio::test]
async fn a_megabyte_of_text_comes_back_with_everything_typed() {
    let server = server().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let text = "seed-".repeat(200_000);
    let kept = format!("value=\"{text}\"");
    let fields = planned(&[("title", &text)]);
    let answer = visitor.post(&urls::class_new(), &fields).await.expect(422);
    assert!(answer.text.contains(&kept), "the title is lost");
    assert!(
        answer
            .text
            .contains("has 1000000 characters. Type at most 80.")
    );
    assert!(answer.text.contains("href=\"#f-title\""));
    let fields = [("version", "1"), ("name-1", &text), ("colourway-1", "1")];
    let answer = visitor.post(&urls::class_attendees(id), &fields).await;
    let answer = answer.expect(422);
    assert!(answer.text.contains(&kept), "the name is lost");
    assert!(answer.text.contains("Type at most 80."));

    let text = "x".repeat(tablefold::app::BODY_LIMIT);
    let answer = visitor.post(&urls::class_new(), &[("title", &text)]).await;
    answer.expect(413).shows("Nothing was saved");
}

#[tokio::test]
async fn unknown_classes_are_a_page_and_all_of_it_is_for_the_instructor() {
    let server = server().await;
    server.with_class(1, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let of = |id| {
        [
            urls::class(id),
            urls::class_edit(id),
            urls::class_colourways(id),
            urls::class_attendees(id),
            urls::class_tools(id),
            urls::class_packet(id),
            urls::class_prep(id),
            urls::class_packs(id),
            urls::class_host(id),
            urls::class_cards(id),
            urls::class_links(id),
            urls::class_remove(id),
        ]
    };
    for url in of(99) {
        visitor.get(&url).await.expect(404).shows("Nothing is here");
    }
    visitor.get("/classes/abc").await.expect(404);
    visitor
        .get("/classes/99999999999999999999")
        .await
        .expect(404);
    visitor
        .post(&urls::class_publish(99), &[])
        .await
        .expect(404);
    for url in of(1) {
        server.anonymous().get(&url).await.expect(303);
    }
}

#[tokio::test]
async fn names_with_markup_stay_text() {
    let server = server().await;
    let id = server
        .with_class(1, |facts| {
            facts.title = "<b>Seeds</b>".to_owned();
            facts.attendees[0].name = "<script>".to_owned();
            facts.colourways[0].name = "\"Dusk\"".to_owned();
        })
        .await;
    let mut visitor = server.signed_in().await;
    for url in [
        urls::class(id),
        urls::class_packs(id),
        urls::class_host(id),
        urls::class_prep(id),
    ] {
        let page = visitor.get(&url).await.expect(200);
        page.shows("&#60;b&#62;Seeds")
            .hides("<script>")
            .hides("<b>Seeds");
    }
}

/// The forms a new instructor fills in, beside the one with name and password.
#[tokio::test]
async fn a_class_in_3_colours_with_a_bow_takes_6_forms() {
    let server = server().await;
    let mut visitor = server.signed_in().await;
    let mut forms = 1;
    let mut send = async |url: String, fields: Vec<(&str, &str)>| {
        forms += 1;
        visitor.post(&url, &fields).await.expect(303);
    };
    let papers = [("name_2", "Clay card"), ("name_3", "Fern card")];
    send(urls::bench_start(), with(&START, &papers)).await;
    let bow = [
        ("ribbon", "bow"),
        ("ribbon_bow", "8 in"),
        ("ribbon_new", "Jute ribbon"),
    ];
    let project = with(&with(&BOX, &PROJECT), &bow);
    send(urls::projects(), project).await;
    send(urls::class_new(), planned(&[])).await;
    let colourways = [
        ("version", "1"),
        ("role-0", "main"),
        ("name-1", "Moss"),
        ("paper-1-0", "1"),
        ("name-new", "Clay"),
        ("paper-new-0", "2"),
        ("name-new2", "Fern"),
        ("paper-new2-0", "3"),
        ("name-new3", ""),
        ("paper-new3-0", ""),
    ];
    send(urls::class_colourways(1), colourways.to_vec()).await;
    let names: Vec<(String, String)> = (1..=5)
        .flat_map(|id| {
            let name = (format!("name-{id}"), format!("Seat {id}"));
            [name, (format!("colourway-{id}"), "1".to_owned())]
        })
        .collect();
    let pairs = names
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()));
    let mut deal: Vec<(&str, &str)> = pairs.collect();
    deal.extend([
        ("version", "1"),
        ("add", "2"),
        ("add_colourway", "1"),
        ("do", "deal"),
    ]);
    send(urls::class_attendees(1), deal).await;
    assert_eq!(forms, 6);
    let dealt: Vec<i64> =
        sqlx::query_scalar("SELECT colourway_id FROM attendee ORDER BY position, id")
            .fetch_all(server.app.store().read())
            .await
            .unwrap();
    assert_eq!(dealt, [1, 2, 3, 1, 2, 3, 1]);
    let page = visitor.get(&urls::class(1)).await.expect(200);
    page.shows("The packet balances").shows("Fern card");
}
