//! Cut cards, the choice of a plan, left-over pieces, and the wait for plans.

use std::time::{Duration, Instant};

use tablefold::store::bench::list_papers;
use tablefold::urls;

use crate::visitor::Server;

async fn server() -> Server {
    Server::empty().await.with_instructor().await
}

#[tokio::test]
async fn cut_cards_show_both_plans_and_every_sheet() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_cuts(id)).await.expect(200);
    page.shows("Least paper <span class=\"soft\">in use</span>")
        .shows("Use least fiddling")
        .shows("No plan can need less than")
        .shows("Fence at")
        .shows("from the sheet, along its ")
        .shows("Keep fingers behind the guard")
        .shows("cut 2 at once")
        .shows("large enough for")
        .hides("Use least paper");
}

#[tokio::test]
async fn a_class_is_cut_by_the_plan_that_was_chosen() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let chosen = [("plan", "least_fiddling")];
    let answer = visitor.post(&urls::class_cut_plan(id), &chosen).await;
    assert_eq!(answer.expect(303).location(), urls::class_cuts(id));
    let page = visitor.get(&urls::class_cuts(id)).await.expect(200);
    page.shows("Least fiddling <span class=\"soft\">in use</span>")
        .shows("Use least paper");
    for wrong in ["", "no paper", "🌱"] {
        let answer = visitor
            .post(&urls::class_cut_plan(id), &[("plan", wrong)])
            .await;
        answer
            .expect(400)
            .shows("press the button of one of the two plans");
    }
    let nowhere = urls::class_cut_plan(id + 1);
    visitor.post(&nowhere, &chosen).await.expect(404);
    visitor.get(&urls::class_cuts(id + 1)).await.expect(404);
}

#[tokio::test]
async fn another_plan_is_no_change_that_links_would_show() {
    let server = server().await;
    let id = server.with_class(3, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    visitor
        .post(&urls::class_cut_plan(id), &[("plan", "least_fiddling")])
        .await
        .expect(303);
    let page = visitor.get(&urls::class(id)).await.expect(200);
    page.shows("Links show what the class is now.");
}

#[tokio::test]
async fn left_over_pieces_become_papers_once() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let before = list_papers(server.app.store().read()).await.unwrap();
    let size = [("width", "3 in"), ("height", "3")];
    let url = urls::class_left_overs(id);
    visitor.post(&url, &size).await.expect(303);
    let after = list_papers(server.app.store().read()).await.unwrap();
    assert!(after.len() > before.len());
    let left: Vec<_> = after
        .iter()
        .filter(|paper| paper.it.paper.name.ends_with("left-over"))
        .collect();
    for paper in &left {
        let sheet = &paper.it.paper;
        assert!(
            sheet.width.mm() >= 76.2 && sheet.height.mm() >= 76.2,
            "{sheet:?}"
        );
        assert!(paper.it.on_hand > 0 && paper.it.price_minor.is_none());
    }
    let pieces: u32 = left.iter().map(|paper| paper.it.on_hand).sum();
    visitor
        .get(&urls::class_cuts(id))
        .await
        .expect(200)
        .shows(&format!("{pieces} left-over piece"))
        .shows("put back on hand on 28 November 2026, 10:00 UTC");
    // Once more only with the tick.
    let again = visitor.post(&url, &size).await.expect(422);
    again
        .shows("Tick the box only if the sheets were cut a second time.")
        .shows("value=\"3 in\"");
    let ticked = [("width", "3 in"), ("height", "3"), ("again", "yes")];
    visitor.post(&url, &ticked).await.expect(303);
    let twice = list_papers(server.app.store().read()).await.unwrap();
    let twice: Vec<_> = twice
        .iter()
        .filter(|paper| paper.it.paper.name.ends_with("left-over"))
        .collect();
    for paper in &left {
        let now = twice.iter().find(|it| it.id == paper.id).unwrap();
        assert!(now.it.on_hand >= paper.it.on_hand, "raised, not replaced");
    }
    // The second time some left-overs are cut themselves, so that other pieces are left.
    let more = twice.iter().map(|paper| paper.it.on_hand).sum::<u32>() - pieces;
    assert!(more > 0);
    visitor
        .get(&urls::class_cuts(id))
        .await
        .expect(200)
        .shows(&format!("{more} left-over piece"));
}

#[tokio::test]
async fn sizes_of_left_overs_that_can_not_be_come_back() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_left_overs(id);
    for (typed, said) in [
        ("🌱", "At least so wide: &#34;🌱&#34; has no number"),
        ("", "At least so wide"),
        ("-3", "is below zero"),
        ("0", "is no size"),
        ("3 m", "&#34;m&#34;, which is no unit"),
        ("30 in", "No left-over piece is as large as 30 × 3 in."),
    ] {
        let answer = visitor
            .post(&url, &[("width", typed), ("height", "3 in")])
            .await;
        answer
            .expect(422)
            .shows(said)
            .shows(&format!("value=\"{typed}\""));
    }
    visitor.post(&url, &[("width", "3 in")]).await.expect(400);
    let size = [("width", "3 in"), ("height", "3 in")];
    let nowhere = urls::class_left_overs(id + 1);
    visitor.post(&nowhere, &size).await.expect(404);
    let papers = list_papers(server.app.store().read()).await.unwrap();
    assert!(
        papers
            .iter()
            .all(|paper| !paper.it.paper.name.contains("left-over"))
    );
}

#[tokio::test]
async fn a_page_that_waits_for_plans_comes_back_by_itself() {
    let server = Server::impatient().await.with_instructor().await;
    let id = server.with_class(40, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_prep(id);
    let first = visitor.get(&url).await.expect(200);
    assert_eq!(first.header("refresh"), "1");
    first
        .shows("Planning the cuts")
        .shows("<progress max=\"100\"");
    let start = Instant::now();
    loop {
        let page = visitor.get(&url).await.expect(200);
        if page.header("refresh").is_empty() {
            page.shows("Kit-prep list").shows("Fence at");
            break;
        }
        assert!(start.elapsed() < Duration::from_secs(120), "{}", page.text);
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

#[tokio::test]
async fn publishing_waits_for_the_plans() {
    let server = Server::impatient().await.with_instructor().await;
    let id = server.with_class(3, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let answer = visitor.post(&urls::class_publish(id), &[]).await;
    assert_eq!(answer.expect(303).location(), urls::class_published(id));
}
