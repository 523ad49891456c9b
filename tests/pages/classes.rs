//! Classes: planned, changed, published, and their packets.

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
async fn what_keeps_a_packet_from_balancing_is_named_with_the_way_to_it() {
    let server = server().await;
    let id = server
        .with_class(3, |facts| {
            facts.colourways[1].papers.remove("label");
            facts.tools[0].count = 0;
        })
        .await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class(id)).await.expect(200);
    page.shows("Colourway &#34;Clay pot&#34; has no paper for &#34;label&#34;")
        .shows("needs a punch board, and none is there on the day")
        .shows(&format!("href=\"{}\"", urls::class_colourways(id)))
        .shows(&format!("href=\"{}\"", urls::class_tools(id)))
        .hides("The packet balances");
    for url in [
        urls::class_packet(id),
        urls::class_prep(id),
        urls::class_packs(id),
        urls::class_host(id),
        urls::class_cards(id),
    ] {
        visitor
            .get(&url)
            .await
            .expect(409)
            .shows("No packet yet")
            .shows("has no paper for");
    }
    let answer = visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(409);
    answer.shows("has no paper for");
    visitor.get(&urls::class(id)).await.shows("Not published");
}

#[tokio::test]
async fn every_part_of_every_pack_is_on_the_printed_lists() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let facts = tablefold::demo::class(14);
    let packet = tablefold::workshop::packet(&facts, &tablefold::workshop::plan_now).unwrap();
    let packs = visitor.get(&urls::class_packs(id)).await.expect(200);
    let sections: Vec<&str> = packs.text.split("<section class=\"pack").skip(1).collect();
    assert_eq!(sections.len(), packet.packs.len());
    for (section, pack) in sections.iter().zip(&packet.packs) {
        assert!(section.contains(&pack.label), "{}", pack.label);
        let lines = section.matches("<span class=\"tick\">").count();
        assert_eq!(lines, pack.items.len(), "{}", pack.label);
        for item in &pack.items {
            assert!(
                section.contains(&item.name),
                "{} in {}",
                item.name,
                pack.label
            );
        }
    }
    let prep = visitor.get(&urls::class_prep(id)).await.expect(200);
    for paper in &packet.pull.papers {
        assert!(prep.text.contains(&paper.name), "{}", paper.name);
    }
    for batch in &packet.prep.batches {
        for row in &batch.rows {
            assert!(prep.text.contains(&row.title), "{}", row.title);
        }
    }
    let host = visitor.get(&urls::class_host(id)).await.expect(200);
    host.shows("Ask attendees to bring: scissors.")
        .shows("Small parts")
        .shows("17 packs");
    let cards = visitor.get(&urls::class_cards(id)).await.expect(200);
    let steps = packet
        .recipe
        .steps
        .iter()
        .filter(|step| step.is_class())
        .count();
    assert_eq!(cards.text.matches("class=\"step keep\"").count(), steps);
    let contents = visitor.get(&urls::class_packet(id)).await.expect(200);
    contents
        .shows("It balances")
        .shows("Seed box: band (Leaf print)");
}

#[tokio::test]
async fn packs_print_one_to_a_page_or_several() {
    let server = server().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor
        .get(&urls::class_packs(id))
        .await
        .expect(200)
        .hides("one-a-page\"");
    let one = visitor.get(&urls::class_packs_one_a_page(id)).await;
    one.expect(200).shows("one-a-page\"");
}

#[tokio::test]
async fn attendees_are_named_added_and_removed_in_one_form() {
    let server = server().await;
    let id = server.with_class(3, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_attendees(id);
    let page = visitor.get(&url).await.expect(200);
    let version = version(&page);
    let fields = [
        ("version", version.as_str()),
        ("name-1", "Ada 🌱"),
        ("colourway-1", "2"),
        ("name-2", "Seat 2"),
        ("colourway-2", "1"),
        ("remove-2", "yes"),
        ("name-3", "Seat 3"),
        ("colourway-3", "3"),
        ("add", "2"),
        ("add_colourway", "1"),
    ];
    let saved = visitor.post(&url, &fields).await.expect(303);
    assert_eq!(saved.location(), urls::class_saved(id));
    let packs = visitor.get(&urls::class_packs(id)).await.expect(200);
    packs
        .shows("</span> Ada 🌱</h2>")
        .shows("</span> Seat 4</h2>")
        .shows("</span> Seat 5</h2>")
        .hides("</span> Seat 2</h2>");
}

#[tokio::test]
async fn wrong_attendees_come_back_as_typed() {
    let server = server().await;
    let id = server.with_class(1, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_attendees(id);
    let long = "b".repeat(81);
    let cases = [
        (
            vec![("name-1", ""), ("colourway-1", "1")],
            "nothing is typed",
        ),
        (
            vec![("name-1", long.as_str()), ("colourway-1", "1")],
            "at most 80",
        ),
        (
            vec![("name-1", "Ada"), ("colourway-1", "99")],
            "is not in the list",
        ),
        (
            vec![("name-1", "Ada"), ("colourway-1", "1"), ("remove-1", "yes")],
            "Keep at least 1",
        ),
        (
            vec![("name-1", "Ada"), ("colourway-1", "1"), ("add", "10000")],
            "is too many",
        ),
        (
            vec![("name-1", "Ada"), ("colourway-1", "1"), ("add", "400")],
            "401 attendees are too many",
        ),
    ];
    for (mut fields, said) in cases {
        fields.extend([("version", "1"), ("add_colourway", "1")]);
        let answer = visitor.post(&url, &fields).await.expect(422).shows(said);
        let name = fields[0].1;
        answer.shows(&format!("value=\"{name}\""));
    }
    visitor.get(&urls::class_packs(id)).await.shows("Seat 1");
}

#[tokio::test]
async fn a_stale_save_shows_both_texts_and_can_be_saved_anyway() {
    let server = server().await;
    let id = server.with_class(1, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_attendees(id);
    let form = |name: &'static str, version: &'static str| {
        [
            ("version", version),
            ("name-1", name),
            ("colourway-1", "1"),
            ("add", ""),
            ("add_colourway", "1"),
        ]
    };
    visitor.post(&url, &form("Ada", "1")).await.expect(303);
    let late = visitor.post(&url, &form("Bert", "1")).await.expect(409);
    late.shows("name Bert, colourway Meadow")
        .shows("name Ada, colourway Meadow")
        .shows("name=\"version\" value=\"2\"")
        .shows("name=\"name-1\" value=\"Bert\"")
        .shows("Save yours anyway");
    visitor
        .get(&urls::class_packs(id))
        .await
        .shows("Ada")
        .hides("Bert");
    visitor.post(&url, &form("Bert", "2")).await.expect(303);
    visitor
        .get(&urls::class_packs(id))
        .await
        .shows("Bert")
        .hides("Ada");
}

#[tokio::test]
async fn a_stale_save_of_day_and_place_changes_nothing() {
    let server = server().await;
    let id = server.with_class(1, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_edit(id);
    visitor
        .get(&url)
        .await
        .expect(200)
        .shows("value=\"Allotment hall\"")
        .hides("f-attendees");
    let mut fields = planned(&[]);
    fields.push(("version", "1"));
    visitor.post(&url, &fields).await.expect(303);
    let mut late = planned(&[("place", "Attic")]);
    late.push(("version", "1"));
    let answer = visitor.post(&url, &late).await.expect(409);
    answer
        .shows("Attic")
        .shows("Library 🌱")
        .shows("Save yours anyway");
    visitor.get(&url).await.shows("value=\"Library 🌱\"");
}

#[tokio::test]
async fn colourways_are_renamed_added_and_removed_in_one_form() {
    let server = server().await;
    let id = server.with_class(1, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_colourways(id);
    let page = visitor.get(&url).await.expect(200);
    let opened = version(&page);
    let page = page.shows("1 attendee has chosen it").shows("Add another");
    assert_eq!(page.between("name=\"role-0\" value=\"", "\""), "main");
    let roles = [
        ("role-0", "main"),
        ("role-1", "accent"),
        ("role-2", "label"),
    ];
    let mut fields = vec![("version", opened.as_str())];
    fields.extend(roles);
    let row = |key: [&'static str; 5], name, spares| {
        [
            (key[0], name),
            (key[1], spares),
            (key[2], "2"),
            (key[3], "4"),
            (key[4], "7"),
        ]
    };
    // Two change names with each other, one is added, one goes.
    fields.extend(row(
        ["name-1", "spares-1", "paper-1-0", "paper-1-1", "paper-1-2"],
        "Clay pot",
        "4",
    ));
    fields.extend(row(
        ["name-2", "spares-2", "paper-2-0", "paper-2-1", "paper-2-2"],
        "Meadow",
        "0",
    ));
    fields.extend(row(
        ["name-3", "spares-3", "paper-3-0", "paper-3-1", "paper-3-2"],
        "Plum",
        "0",
    ));
    fields.push(("remove-3", "yes"));
    let new = [
        "name-new",
        "spares-new",
        "paper-new-0",
        "paper-new-1",
        "paper-new-2",
    ];
    fields.extend(row(new, "Dusk", ""));
    visitor.post(&url, &fields).await.expect(303);
    let page = visitor.get(&url).await.expect(200);
    page.shows("value=\"Clay pot\"")
        .shows("value=\"Dusk\"")
        .hides("value=\"Plum\"");
    let class = visitor.get(&urls::class(id)).await.expect(200);
    class
        .shows("1 attendee, 4 spare")
        .shows("The packet balances");
}

#[tokio::test]
async fn wrong_colourways_come_back_as_typed() {
    let server = server().await;
    let id = server.with_class(1, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_colourways(id);
    let base = vec![
        ("version", "1"),
        ("role-0", "main"),
        ("role-1", "accent"),
        ("role-2", "label"),
        ("name-1", "Meadow 🌱"),
        ("spares-1", "1"),
        ("paper-1-0", "1"),
        ("paper-1-1", "1"),
        ("paper-1-2", "1"),
    ];
    let changed = |name: &'static str, value: &'static str| {
        let mut fields = base.clone();
        fields.retain(|field| field.0 != name);
        fields.push((name, value));
        fields
    };
    let cases = [
        (changed("spares-1", "🌱"), "is not a whole number"),
        (changed("spares-1", "10000"), "is too many"),
        (changed("paper-1-1", ""), "nothing is chosen"),
        (changed("paper-1-1", "99"), "is not in the list"),
        (
            changed("remove-1", "yes"),
            "1 attendee has chosen it. Give them another colourway",
        ),
        (changed("name-new", "Meadow 🌱"), "is there twice"),
    ];
    for (fields, said) in cases {
        let answer = visitor.post(&url, &fields).await.expect(422);
        answer.shows(said).shows("value=\"Meadow 🌱\"");
    }
}

#[tokio::test]
async fn tools_of_the_day_follow_the_bench_until_they_are_changed() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_tools(id);
    visitor
        .get(&url)
        .await
        .expect(200)
        .shows("class steps use it");
    let kinds = tablefold::recipe::ToolKind::ALL;
    let names: Vec<(String, String)> = kinds
        .iter()
        .map(|kind| {
            (
                format!("count-{}", kind.slug()),
                format!("who-{}", kind.slug()),
            )
        })
        .collect();
    let mut fields: Vec<(&str, &str)> = vec![("version", "1")];
    for (count, who) in &names {
        fields.extend([(count.as_str(), "7"), (who.as_str(), "venue")]);
    }
    visitor.post(&url, &fields).await.expect(303);
    let page = visitor.get(&urls::class(id)).await.expect(200);
    page.shows("1 for 2 attendees").hides("1 for 7 attendees");
    fields[1].1 = "1001";
    fields[0].1 = "2";
    let answer = visitor.post(&url, &fields).await.expect(422);
    answer
        .shows("&#34;1001&#34; is too many")
        .shows("value=\"1001\"");
}

#[tokio::test]
async fn publishing_freezes_a_revision_and_says_when_the_class_moved_on() {
    let server = server().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let publish = urls::class_publish(id);
    for _ in 0..2 {
        let answer = visitor.post(&publish, &[]).await.expect(303);
        assert_eq!(answer.location(), urls::class_published(id));
    }
    let page = visitor.get(&urls::class(id)).await.expect(200);
    page.shows(
        "Revision 1, published 28 November 2026, 10:00 UTC. Links show what the class is now.",
    )
    .hides(">Publish</button>");
    visitor
        .get(&urls::class_prep(id))
        .await
        .shows("Revision 1, published");
    let mut fields = planned(&[]);
    fields.push(("version", "1"));
    visitor
        .post(&urls::class_edit(id), &fields)
        .await
        .expect(303);
    let page = visitor.get(&urls::class(id)).await;
    page.shows("Changed since revision 1: publish again.")
        .shows(">Publish</button>");
    visitor
        .get(&urls::class_prep(id))
        .await
        .shows("Draft, changed since revision 1");
    visitor.post(&publish, &[]).await.expect(303);
    visitor
        .get(&urls::class(id))
        .await
        .shows("Revision 2, published");
}

#[tokio::test]
async fn a_removed_class_is_gone_with_its_links() {
    let server = server().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_remove(id);
    visitor
        .get(&url)
        .await
        .expect(200)
        .shows("Remove the class");
    visitor.post(&url, &[]).await.expect(303);
    visitor.get(&urls::class(id)).await.expect(404);
    visitor.post(&url, &[]).await.expect(404);
    visitor.get(&urls::classes()).await.shows("No classes yet");
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

#[tokio::test]
async fn a_new_class_has_3_blank_rows_for_colourways() {
    let server = server().await;
    let id = server.with_class(1, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_colourways(id)).await.expect(200);
    assert_eq!(page.text.matches("Add another").count(), 1);
    visitor
        .post(&urls::class_new(), &planned(&[]))
        .await
        .expect(303);
    let page = visitor.get(&urls::class_colourways(2)).await.expect(200);
    assert_eq!(page.text.matches("Add another").count(), 3);
}
