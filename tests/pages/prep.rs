//! The kit-prep list: batches as cards, and who helps with them.

use tablefold::store::class_lists::list_helpers;
use tablefold::urls;
use tablefold_geometry::StructureKind;

use crate::visitor::{Answer, Server, Visitor};

/// The field of the batch that punches tags, and the same row in the database.
const TAG: &str = "helper-p1.tag-stamp";
const TAG_KEY: &str = "p1.tag-stamp";

async fn server() -> Server {
    Server::empty().await.with_instructor().await
}

async fn save(visitor: &mut Visitor<'_>, id: i64, version: &str, names: &[(&str, &str)]) -> Answer {
    let mut fields = vec![("version", version)];
    fields.extend_from_slice(names);
    visitor.post(&urls::class_prep(id), &fields).await
}

/// The tag's helper as the page shows it in its field.
fn named(page: &Answer) -> String {
    page.between(
        "name=\"helper-p1.tag-stamp\" form=\"helpers\" value=\"",
        "\"",
    )
    .to_owned()
}

#[tokio::test]
async fn batches_are_cards_with_setting_counts_minutes_and_frame() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_prep(id)).await.expect(200);
    page.shows("Batching saves 146 minutes: kit by kit it takes about 182.")
        .shows("3 set-ups, about 2 minutes: no order takes less.")
        .shows("Batch 1, about 5 min")
        .shows("17 x Cream card (Meadow 7, Clay pot 5, Plum 5)")
        .shows("Frame: cut an opening of 1 9/32 in x 1 9/32 in into a left-over of Leaf print, 2 9/32 in x 2 9/32 in or larger")
        .shows("Cut frames on a mat")
        .hides("Templates to print");
}

#[tokio::test]
async fn templates_are_printed_with_the_rest_of_the_pull_list_and_packed() {
    let server = server().await;
    let id = server
        .with_class(14, |facts| {
            let spec = &mut facts.project.pieces[0].spec;
            spec.structure = StructureKind::find("straight-tuck").expect("registered");
            (spec.band, spec.tag, spec.ribbon) = (None, None, None);
        })
        .await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_prep(id)).await.expect(200);
    page.shows(
        "Seed box: carton template</th><td class=\"figure\">17</td><td class=\"figure\">0</td>",
    )
    .shows("at true size (100 %, not fitted to the page)")
    .shows(
        "<th scope=\"col\">Seed box: carton template<br><span class=\"soft\">printed</span></th>",
    );
    let packs = visitor.get(&urls::class_packs(id)).await.expect(200);
    packs.shows("Seed box: carton template <span class=\"soft\">printed</span>");
}

#[tokio::test]
async fn one_kit_says_nothing_of_saving() {
    let server = server().await;
    let alone = |facts: &mut tablefold::workshop::ClassFacts| {
        for colourway in &mut facts.colourways {
            colourway.spare_kits = 0;
        }
    };
    let id = server.with_class(1, alone).await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_prep(id)).await.expect(200);
    page.shows("About ")
        .hides("Batching saves")
        .hides("Frame: cut");
}

#[tokio::test]
async fn a_helper_stays_with_what_is_done_and_can_be_taken_off() {
    let server = server().await;
    let id = server.with_class(4, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_prep(id)).await.expect(200);
    assert_eq!(named(&page), "");
    page.shows("class=\"write\"");
    let answer = save(&mut visitor, id, "1", &[(TAG, " Robin 🌱 ")]).await;
    assert_eq!(answer.expect(303).location(), urls::class_prep_saved(id));
    let page = visitor.get(&urls::class_prep_saved(id)).await.expect(200);
    assert_eq!(named(&page), "Robin 🌱");
    page.shows("Saved.").shows("Helper: Robin 🌱");
    save(&mut visitor, id, "2", &[(TAG, "")]).await.expect(303);
    let page = visitor.get(&urls::class_prep(id)).await.expect(200);
    assert_eq!(named(&page), "");
}

#[tokio::test]
async fn a_name_too_long_comes_back_with_everything_typed() {
    let server = server().await;
    let id = server.with_class(4, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let long = "n".repeat(81);
    let names = [(TAG, long.as_str()), ("helper-p1.mat-stamp", "Wren")];
    let page = save(&mut visitor, id, "1", &names).await.expect(422);
    assert_eq!(named(&page), long);
    page.shows("value=\"Wren\"")
        .shows("has 81 characters. Type at most 80.")
        .shows("href=\"#f-helper-p1.tag-stamp\"")
        .shows("id=\"e-helper-p1.tag-stamp\"");
    let stored = list_helpers(server.app.store().read(), id).await.unwrap();
    assert_eq!(stored.len(), 0);
}

#[tokio::test]
async fn a_stale_save_of_helpers_shows_both_and_can_be_saved_anyway() {
    let server = server().await;
    let id = server.with_class(4, |_| {}).await;
    let mut visitor = server.signed_in().await;
    save(&mut visitor, id, "1", &[(TAG, "Robin")])
        .await
        .expect(303);
    let late = save(&mut visitor, id, "1", &[(TAG, "Wren")])
        .await
        .expect(409);
    late.shows("Helper with batch 1, shape punch")
        .shows("Robin")
        .shows("name=\"helper-p1.tag-stamp\" value=\"Wren\"")
        .shows("name=\"version\" value=\"2\"");
    save(&mut visitor, id, "2", &[(TAG, "Wren")])
        .await
        .expect(303);
    let stored = list_helpers(server.app.store().read(), id).await.unwrap();
    assert_eq!(stored.get(TAG_KEY).map(String::as_str), Some("Wren"));
}

#[tokio::test]
async fn a_helper_is_kept_while_the_packet_does_not_balance() {
    let server = server().await;
    let id = server.with_class(0, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor.get(&urls::class_prep(id)).await.expect(409);
    save(&mut visitor, id, "1", &[(TAG, "Robin")])
        .await
        .expect(303);
    let stored = list_helpers(server.app.store().read(), id).await.unwrap();
    assert_eq!(stored.get(TAG_KEY).map(String::as_str), Some("Robin"));
}

#[tokio::test]
async fn helpers_are_the_instructors_alone() {
    let server = server().await;
    let id = server.with_class(4, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    let names = [(TAG, "<b>Robin</b>"), ("other", "x")];
    save(&mut visitor, id, "1", &names).await.expect(303);
    // A helper is no part of what was published.
    let page = visitor.get(&urls::class_prep(id)).await.expect(200);
    page.shows("Revision 1, published")
        .shows("&#60;b&#62;Robin")
        .hides("<b>Robin");
    for url in [
        urls::class_host(id),
        urls::class_packs(id),
        urls::class_cards(id),
    ] {
        visitor.get(&url).await.expect(200).hides("Robin");
    }
    save(&mut visitor, 99, "1", &[]).await.expect(404);
    let mut stranger = server.anonymous();
    save(&mut stranger, id, "2", &[(TAG, "Wren")])
        .await
        .expect(401);
    let stored = list_helpers(server.app.store().read(), id).await.unwrap();
    assert_eq!(
        stored.get(TAG_KEY).map(String::as_str),
        Some("<b>Robin</b>")
    );
}
