//! Changes of a class: stale saves, published revisions, removal.

use tablefold::urls;

use super::{planned, server};

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
