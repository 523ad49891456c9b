//! Links for attendees and hosts, and the pages behind them.

use std::time::Duration;

use jiff::SignedDuration;
use tablefold::urls;

use crate::visitor::{Server, Visitor};

const BASE: &str = "http://class.example:8080";

pub(crate) async fn published(attendees: usize) -> (Server, i64) {
    let server = Server::empty().await.with_instructor().await;
    let id = server.with_class(attendees, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    (server, id)
}

/// The path of a new link.
pub(crate) async fn link(visitor: &mut Visitor<'_>, id: i64, role: &str) -> String {
    let fields = [("role", role), ("until", "2026-12-05")];
    let answer = visitor
        .post(&urls::class_links(id), &fields)
        .await
        .expect(303);
    assert_eq!(answer.location(), urls::class_links(id));
    let answer = visitor.get(&urls::class_links(id)).await.expect(200);
    let address = answer.between("<p class=\"address\">", "</p>");
    address.strip_prefix(BASE).unwrap().to_owned()
}

#[tokio::test]
async fn a_link_can_be_printed_again_and_its_token_is_not_stored() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_links(id)).await.expect(200);
    page.shows("No links yet").shows("value=\"2026-12-05\"");
    let path = link(&mut visitor, id, "attendee").await;
    let token = path.strip_prefix(urls::ATTENDEE_LINKS).unwrap();
    assert_eq!(token.len(), 32, "160 bits in base32");
    let page = visitor.get(&urls::class_links(id)).await.expect(200);
    page.shows("Works until 5 December 2026<br>")
        .shows(&format!("{BASE}{path}"))
        .shows("aria-label=\"QR code of this link\"");
    let stored: Vec<(String, String)> = sqlx::query_as("SELECT token_hash, seed FROM link")
        .fetch_all(server.app.store().read())
        .await
        .unwrap();
    assert_eq!(stored.len(), 1);
    let (hash, seed) = &stored[0];
    assert!(hash.len() == 64 && !hash.contains(token) && !seed.contains(token));
}

#[tokio::test]
async fn a_link_of_before_still_works_and_says_that_it_is_not_kept() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let path = link(&mut visitor, id, "attendee").await;
    sqlx::query("UPDATE link SET seed = NULL")
        .execute(server.app.store().read())
        .await
        .unwrap();
    let page = visitor.get(&urls::class_links(id)).await.expect(200);
    page.hides(&path).shows("shown once and is not kept");
    server.anonymous().get(&path).await.expect(200);
    let poster = visitor.get(&urls::class_poster(id)).await.expect(200);
    poster.shows("no link for all attendees");
}

#[tokio::test]
async fn each_attendee_has_a_link_that_shows_their_pack_and_says_no_name() {
    let (server, id) = published(3).await;
    let mut visitor = server.signed_in().await;
    link(&mut visitor, id, "own").await;
    let again = [("role", "own"), ("until", "2026-12-05")];
    let again = visitor.post(&urls::class_links(id), &again).await;
    again
        .expect(422)
        .shows("every attendee has a link of their own");
    let page = visitor.get(&urls::class_links(id)).await.expect(200);
    let paths: Vec<String> = page
        .text
        .split("<p class=\"address\">")
        .skip(1)
        .map(|after| after.split('<').next().unwrap().replace(BASE, ""))
        .collect();
    assert_eq!(paths.len(), 3);
    for (seat, path) in (1..).zip(&paths) {
        let page = server.anonymous().get(path).await.expect(200);
        page.shows(&format!("Seat {seat}: your pack"))
            .shows(&format!("Pack {seat}, "))
            .shows("<strong>1 x</strong>");
        assert!(!path.to_lowercase().contains("seat"), "{path}");
    }
    let all = link(&mut visitor, id, "attendee").await;
    let page = server.anonymous().get(&all).await.expect(200);
    page.hides("your pack");
    // Whoever does not come any more takes the link along.
    let fields = [
        ("version", "1"),
        ("name-1", "Seat 1"),
        ("colourway-1", "1"),
        ("remove-1", "yes"),
        ("name-2", "Seat 2"),
        ("colourway-2", "1"),
        ("name-3", "Seat 3"),
        ("colourway-3", "1"),
        ("add_colourway", "1"),
    ];
    visitor
        .post(&urls::class_attendees(id), &fields)
        .await
        .expect(303);
    server.anonymous().get(&paths[0]).await.expect(404);
    server.anonymous().get(&paths[1]).await.expect(200);
}

#[tokio::test]
async fn whoever_comes_in_the_place_of_another_does_not_see_their_pack() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let fields = [
        ("version", "1"),
        ("name-1", "Seat 1"),
        ("colourway-1", "1"),
        ("name-2", "Seat 2"),
        ("colourway-2", "1"),
        ("remove-2", "yes"),
        ("add", "1"),
        ("add_colourway", "1"),
    ];
    let saved = visitor.post(&urls::class_attendees(id), &fields).await;
    saved.expect(303);
    link(&mut visitor, id, "own").await;
    let page = visitor.get(&urls::class_links(id)).await.expect(200);
    let addresses = page.text.split("<p class=\"address\">").skip(1);
    let paths: Vec<_> = addresses
        .map(|it| it.split('<').next().unwrap().replace(BASE, ""))
        .collect();
    let said = "Your pack is not in this revision yet. Ask your instructor.";
    let page = server.anonymous().get(&paths[0]).await.expect(200);
    page.shows("Seat 1: your pack</h2>").hides(said);
    let page = server.anonymous().get(&paths[1]).await.expect(200);
    page.hides("your pack</h2>").shows(said);
    let published = visitor.post(&urls::class_publish(id), &[]).await;
    published.expect(303);
    let page = server.anonymous().get(&paths[1]).await.expect(200);
    page.shows("your pack</h2>").hides(said);
}

/// Wherever the browser leaves: once the database says that a link has ended, it has.
#[tokio::test]
async fn a_link_ends_though_the_browser_did_not_wait_for_the_answer() {
    let (server, id) = published(1).await;
    let mut visitor = server.signed_in().await;
    let mut is_answered = false;
    for patience in 1..500 {
        let path = link(&mut visitor, id, "attendee").await;
        server.anonymous().get(&path).await.expect(200);
        let newest = newest_link(&server).await.0;
        {
            let url = urls::class_link_revoke(id, newest);
            let mut revoking = std::pin::pin!(visitor.post(&url, &[]));
            for _ in 0..patience {
                let polled = poll_once(revoking.as_mut()).await;
                is_answered = polled.is_some();
                if is_answered {
                    break;
                }
            }
        }
        tokio::time::sleep(Duration::from_millis(20)).await;
        if newest_link(&server).await.1 {
            server.anonymous().get(&path).await.expect(404);
        }
        if is_answered {
            break;
        }
    }
    assert!(is_answered);
}

/// Number of the newest link, and whether it was revoked.
async fn newest_link(server: &Server) -> (i64, bool) {
    sqlx::query_as("SELECT id, revoked_at IS NOT NULL FROM link ORDER BY id DESC LIMIT 1")
        .fetch_one(server.app.store().read())
        .await
        .unwrap()
}

/// Lets a future go as far as it can without waiting, after others have had a moment.
async fn poll_once<F: Future>(mut future: std::pin::Pin<&mut F>) -> Option<F::Output> {
    tokio::time::sleep(Duration::from_micros(200)).await;
    std::future::poll_fn(|context| {
        std::task::Poll::Ready(match future.as_mut().poll(context) {
            std::task::Poll::Ready(output) => Some(output),
            std::task::Poll::Pending => None,
        })
    })
    .await
}

#[tokio::test]
async fn a_code_on_the_hosts_list_goes_when_its_link_ends() {
    let (server, id) = published(1).await;
    let mut visitor = server.signed_in().await;
    let steps = link(&mut visitor, id, "attendee").await;
    let fields = [("role", "host"), ("until", "2026-12-20")];
    visitor
        .post(&urls::class_links(id), &fields)
        .await
        .expect(303);
    let page = visitor.get(&urls::class_links(id)).await.expect(200);
    let host = page
        .between(&format!("{BASE}{}", urls::HOST_LINKS), "<")
        .to_owned();
    let host = urls::host_link(&host);
    let page = server.anonymous().get(&host).await.expect(200);
    page.shows("class=\"qr\"").shows(&steps);
    server.wait(SignedDuration::from_hours(24 * 9));
    server.anonymous().get(&steps).await.expect(404);
    let page = server.anonymous().get(&host).await.expect(200);
    page.hides("class=\"qr\"").hides(&steps);
}

#[tokio::test]
async fn the_poster_shows_what_is_made_and_the_code_of_the_newest_link() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_poster(id)).await.expect(200);
    page.shows("Make a link</a> first").hides("class=\"qr\"");
    link(&mut visitor, id, "attendee").await;
    let newest = link(&mut visitor, id, "attendee").await;
    link(&mut visitor, id, "host").await;
    let page = visitor.get(&urls::class_poster(id)).await.expect(200);
    page.shows(&format!("{BASE}{newest}"))
        .shows("width=\"61.5mm\"")
        .shows("<figcaption>Seed box</figcaption>");
}

#[tokio::test]
async fn a_link_ends_when_it_is_revoked() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let path = link(&mut visitor, id, "attendee").await;
    server.anonymous().get(&path).await.expect(200);
    visitor
        .post(&urls::class_link_revoke(id + 1, 1), &[])
        .await
        .expect(404);
    server.anonymous().get(&path).await.expect(200);
    visitor
        .post(&urls::class_link_revoke(id, 1), &[])
        .await
        .expect(303);
    server.anonymous().get(&path).await.expect(404);
    let page = visitor.get(&urls::class_links(id)).await;
    page.shows("Revoked 28 November 2026").hides(">Revoke<");
}

#[tokio::test]
async fn links_that_open_nothing_are_one_calm_page() {
    let (server, id) = published(2).await;
    let unpublished = {
        let facts = |facts: &mut tablefold::workshop::ClassFacts| {
            for (n, stock) in facts
                .colourways
                .iter_mut()
                .flat_map(|c| c.papers.values_mut())
                .enumerate()
            {
                stock.paper.name = format!("Other {n} {}", stock.paper.name);
            }
            for piece in &mut facts.project.pieces {
                piece.paper.name = "Other".to_owned();
            }
            for supply in &mut facts.supplies {
                supply.name = format!("Other {}", supply.name);
            }
        };
        server.with_class(1, facts).await
    };
    let mut visitor = server.signed_in().await;
    let of_unpublished = link(&mut visitor, unpublished, "attendee").await;
    let host = link(&mut visitor, id, "host").await;
    let expired = link(&mut visitor, id, "attendee").await;
    let wrong_role = host.replace(urls::HOST_LINKS, urls::ATTENDEE_LINKS);
    let unknown = urls::attendee_link(&"a".repeat(32));
    server.wait(SignedDuration::from_hours(9 * 24));
    let mut pages = Vec::new();
    for path in [
        of_unpublished,
        expired,
        wrong_role,
        unknown,
        "/a/x".to_owned(),
        "/h/x".to_owned(),
    ] {
        let answer = server.anonymous().get(&path).await.expect(404);
        assert_eq!(answer.header("referrer-policy"), "no-referrer");
        assert_eq!(answer.header("x-robots-tag"), "noindex");
        pages.push(answer.hides("Seed").text);
    }
    for page in &pages {
        assert_eq!(page, &pages[0]);
    }
}

#[tokio::test]
async fn a_link_that_cannot_end_then_is_refused() {
    let (server, id) = published(1).await;
    let mut visitor = server.signed_in().await;
    for (role, until, said) in [
        ("attendee", "2026-11-27", "is not a day that a link can end"),
        ("attendee", "2099-01-01", "is not a day that a link can end"),
        ("attendee", "soon 🌱", "is not a day"),
        ("nobody", "2026-12-05", "is not in the list"),
    ] {
        let fields = [("role", role), ("until", until)];
        let answer = visitor
            .post(&urls::class_links(id), &fields)
            .await
            .expect(422);
        answer.shows(said).shows(&format!("value=\"{until}\""));
    }
}
