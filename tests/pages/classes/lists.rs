//! Attendees, colourways and tools of a class, a form each.

use tablefold::urls;

use super::{planned, server, version};

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
