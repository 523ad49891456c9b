//! Pieces of a project: what is typed, what cannot be, what is kept.

use tablefold::urls;

use super::{BOX, ENVELOPE, PROJECT, TRIMMINGS, with_project, workshop};
use crate::bench::{at_bench, with};

#[tokio::test]
async fn a_piece_that_cannot_be_is_marked_at_its_cause() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let new = urls::pieces(1);
    let large = with(&BOX, &[("diameter", "620 mm")]);
    let page = visitor.post(&new, &large).await.expect(422);
    page.shows("id=\"e-diameter\"")
        .shows("The punch-board box needs")
        .shows("value=\"620 mm\"");
    let thick = with(&ENVELOPE, &[("height", "40 mm")]);
    let page = visitor.post(&new, &thick).await.expect(422);
    page.shows("takes contents up to").shows("id=\"e-height\"");
    let stack = with(
        &ENVELOPE,
        &[
            ("shape", "stack"),
            ("height", "100 mm"),
            ("each_thickness", "2 mm"),
            ("count", "9"),
        ],
    );
    let page = visitor.post(&new, &stack).await.expect(422);
    page.shows("id=\"e-count\"").shows("Or stack at most 3.");
    let one = with(&stack, &[("each_thickness", "8 mm"), ("count", "1")]);
    let page = visitor.post(&new, &one).await.expect(422);
    page.shows("id=\"e-each_thickness\"").hides("stack at most");
    let loose = with(&BOX, &[("clearance", "9 in")]);
    let page = visitor.post(&new, &loose).await.expect(422);
    page.shows("id=\"e-clearance\"")
        .shows("give less clearance.");
    let reveal = with(&with(&BOX, &TRIMMINGS), &[("band_reveal", "5 in")]);
    let page = visitor.post(&new, &reveal).await.expect(422);
    page.shows("id=\"e-band_reveal\"")
        .shows("A reveal of 5 in at each end leaves no strip");
    let many = with(
        &BOX,
        &[
            ("shape", "stack"),
            ("width", "2 in"),
            ("each_thickness", "9000 mm"),
            ("count", "10000"),
        ],
    );
    visitor
        .post(&new, &many)
        .await
        .expect(422)
        .shows("make a stack over 10 m");
}

#[tokio::test]
async fn settings_off_the_ruler_are_refused_with_the_nearest_marks() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let off = [
        ("at_sheet", "5.2 in"),
        ("at_punch_1", "54 mm"),
        ("at_punch_2", "1/4 in"),
    ];
    let page = visitor
        .post(&urls::pieces(1), &with(&BOX, &off))
        .await
        .expect(422);
    page.shows("The nearest marks are 5 3/16 in and 5 1/4 in.")
        .shows("The nearest marks are 2 1/8 in and 2 3/16 in.")
        .shows("The nearest mark is 1/2 in. Type it.")
        .shows("value=\"54 mm\"");
    let small = [
        ("at_sheet", "5 1/4 in"),
        ("at_punch_1", "1 1/2 in"),
        ("at_punch_2", "2 7/8 in"),
    ];
    let page = visitor
        .post(&urls::pieces(1), &with(&BOX, &small))
        .await
        .expect(422);
    page.shows("the contents lack").shows("id=\"e-at_sheet\"");
    let own = [
        ("at_sheet", "6 in"),
        ("at_punch_1", "2 1/4 in"),
        ("at_punch_2", "3 7/8 in"),
    ];
    visitor
        .post(&urls::pieces(1), &with(&BOX, &own))
        .await
        .expect(303);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .shows("These settings are yours, set by hand.");
}

#[tokio::test]
async fn everything_typed_wrong_stays_and_is_named() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let long = "y".repeat(81);
    let wrong = [
        ("title", ""),
        ("makes", "0"),
        ("board", "2"),
        ("name", long.as_str()),
        ("contents_name", "tin 🌱"),
        ("height", "🌱"),
        ("paper", "77"),
        ("ribbon", "wrap"),
        ("ribbon_supply", "1"),
        ("extra_1", "2"),
        ("tag", "star"),
    ];
    let fields = with(&with(&with(&BOX, &TRIMMINGS), &PROJECT), &wrong);
    let page = visitor.post(&urls::projects(), &fields).await.expect(422);
    page.shows("Title: nothing is typed")
        .shows("&#34;0&#34; is too few. Type a number from 1 to 400.")
        .shows("is no punch board of your bench")
        .shows("has 81 characters")
        .shows("value=\"tin 🌱\"")
        .shows("&#34;🌱&#34; has no number at character 1")
        .shows("&#34;77&#34; is not on the bench")
        .shows("&#34;Round seed tin&#34; is not cut by length")
        .shows("&#34;Jute ribbon&#34; is not counted")
        .shows("&#34;star&#34; is not in the list");
    let many = with(&with(&BOX, &PROJECT), &[("makes", "10000")]);
    visitor
        .post(&urls::projects(), &many)
        .await
        .expect(422)
        .shows("&#34;10000&#34; is too many");
    visitor
        .get(&urls::projects())
        .await
        .expect(200)
        .shows("No projects yet");
}

#[tokio::test]
async fn pieces_are_added_edited_moved_and_removed() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    visitor.get(&urls::new_piece(1)).await.expect(200);
    visitor.post(&urls::pieces(1), &ENVELOPE).await.expect(303);
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    page.shows("value=\"70 mm\"").shows("punch-board envelope");
    let wider = with(&ENVELOPE, &[("version", "1"), ("width", "80 mm")]);
    visitor.post(&urls::piece(1, 2), &wider).await.expect(303);
    let late = visitor.post(&urls::piece(1, 2), &wider).await;
    late.expect(409).shows("Save yours anyway");
    visitor
        .post(&urls::move_piece(1, 2), &[("direction", "up")])
        .await
        .expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    let at = |text: &str| page.text.find(text);
    assert!(at("id=\"piece-2\"") < at("id=\"piece-1\""));
    assert!(at("id=\"step-p2.punch\"") < at("id=\"step-p1.punch-1\""));
    visitor
        .post(&urls::remove_piece(1, 2), &[])
        .await
        .expect(303);
    visitor.get(&urls::piece(1, 2)).await.expect(404);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .hides("Seed envelope");
}

#[tokio::test]
async fn a_paper_that_grew_too_small_is_said_on_the_project() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let small = [
        ("version", "1"),
        ("name", "Moss card"),
        ("size", "A7"),
        ("caliper", "0.3 mm"),
        ("grain", "unknown"),
        ("on_hand", "0"),
    ];
    visitor.post(&urls::paper(1), &small).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Seed box can't be made as it is")
        .shows("needs a sheet of");
    visitor
        .get(&urls::projects())
        .await
        .expect(200)
        .shows("needs a sheet of");
    visitor.get(&urls::pattern_svg(1, 1, 0)).await.expect(400);
    let templates = visitor.get(&urls::project_templates(1)).await.expect(400);
    templates.shows("Seed box").shows("needs a sheet of");
    visitor.get(&urls::step(1, "p1.cut")).await.expect(400);
}

#[tokio::test]
async fn pieces_of_another_project_are_not_found() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let second = with(&with(&ENVELOPE, &PROJECT), &[("title", "Other")]);
    visitor.post(&urls::projects(), &second).await.expect(303);
    for url in [
        urls::piece(2, 1),
        urls::pattern_fold(2, 1, 0),
        urls::project(99),
        urls::new_piece(99),
    ] {
        visitor.get(&url).await.expect(404);
    }
    for url in [
        urls::remove_piece(2, 1),
        urls::move_piece(2, 1),
        urls::reset_step(2, "p1.cut"),
    ] {
        visitor.post(&url, &[]).await.expect(404);
    }
    visitor.get("/projects/abc").await.expect(404);
    visitor.get(&urls::piece(1, 1)).await.expect(200);
    server.anonymous().get(&urls::project(1)).await.expect(303);
    server
        .anonymous()
        .post(&urls::remove_project(1), &[])
        .await
        .expect(401);
}

#[tokio::test]
async fn supplies_named_on_the_form_of_a_piece_go_to_the_bench_with_it() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let new = [
        ("contents_new", "Seed jar"),
        ("ribbon", "bow"),
        ("ribbon_bow", "8 in"),
        ("ribbon_new", "Moss ribbon"),
        ("extra_new", "Seed sticker"),
        ("extra_new_count", "2"),
    ];
    let fields = with(&with(&BOX, &PROJECT), &new);
    let shown = with(&fields, &[("do", "show")]);
    visitor.post(&urls::projects(), &shown).await.expect(200);
    let bench = visitor.get(&urls::bench()).await.expect(200);
    bench.hides("Seed jar");
    let taken = with(&fields, &[("ribbon_new", "Round seed tin")]);
    let page = visitor.post(&urls::projects(), &taken).await.expect(422);
    page.shows("href=\"#f-ribbon_new\"")
        .shows("is on your bench and counted")
        .shows("value=\"Seed jar\"");
    visitor.post(&urls::projects(), &fields).await.expect(303);
    let bench = visitor.get(&urls::bench()).await.expect(200);
    bench
        .shows("Seed jar")
        .shows("Moss ribbon")
        .shows("Seed sticker");
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Seed jar")
        .shows("Moss ribbon")
        .shows("Seed sticker");
    let again = with(&with(&BOX, &new), &[("name", "Second box")]);
    visitor.post(&urls::pieces(1), &again).await.expect(303);
    let counted: i64 = sqlx::query_scalar("SELECT COUNT(*) FROM supply WHERE name = 'Seed jar'")
        .fetch_one(server.app.store().read())
        .await
        .unwrap();
    assert_eq!(counted, 1);
}
