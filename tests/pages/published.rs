//! The pages behind links: what phones and hosts get, and what is remembered of it.

use axum::body::Body;
use axum::http::Method;
use tablefold::urls;

use crate::links::{link, published};
use crate::visitor::{Answer, Server};

#[tokio::test]
async fn a_phone_keeps_how_its_page_looks() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let path = link(&mut visitor, id, "attendee").await;
    let mut phone = server.anonymous();
    let plain = phone.get(&path).await.expect(200);
    plain.shows("class=\"snap\"").shows("Large print");
    let chosen = format!("{path}?units=other&hand=left&print=large");
    let large = phone.get(&chosen).await.expect(200);
    let cookie = large.header("set-cookie").to_owned();
    assert!(cookie.contains(&format!("Path={path};")), "{cookie}");
    let large = large
        .shows("class=\"snap large\"")
        .shows("Normal print")
        .shows("For right-handers")
        .shows("Inches first");
    let cookie = cookie.split(';').next().unwrap();
    let ask = async |headers: &[(&str, &str)]| {
        let mut phone = server.anonymous();
        phone
            .request(Method::GET, &path, headers, Body::empty())
            .await
    };
    let again = ask(&[("cookie", cookie)]).await.expect(200);
    assert_eq!(again.text, large.text);
    assert_eq!(again.header("etag"), large.header("etag"));
    let etag = again.header("etag").to_owned();
    ask(&[("cookie", cookie), ("if-none-match", &etag)])
        .await
        .expect(304);
    ask(&[("if-none-match", &etag)]).await.expect(200);
    // What an app adds to an address chooses nothing.
    let mut phone = server.anonymous();
    let added = format!("{path}?from=letter");
    let headers = [("cookie", cookie)];
    let page = phone
        .request(Method::GET, &added, &headers, Body::empty())
        .await;
    assert_eq!(page.header("set-cookie"), "");
    page.shows("class=\"snap large\"");
}

/// Written by a layer for the log, and by whoever sends the body.
const BY_OTHERS: [&str; 2] = ["x-request-id", "content-length"];

/// What is in memory goes out past the layers: its headers are still all there.
#[tokio::test]
async fn a_page_from_memory_says_all_that_the_first_one_said() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    for role in ["attendee", "host"] {
        let path = link(&mut visitor, id, role).await;
        let first = server.anonymous().get(&path).await.expect(200);
        let second = server.anonymous().get(&path).await.expect(200);
        assert_eq!(first.text, second.text);
        for name in first
            .headers
            .keys()
            .filter(|name| !BY_OTHERS.contains(&name.as_str()))
        {
            let all = |answer: &Answer| -> Vec<_> {
                answer.headers.get_all(name).iter().cloned().collect()
            };
            assert_eq!(all(&second), all(&first), "{name}");
        }
        assert!(second.headers.get("x-request-id").is_none(), "from memory");
    }
}

#[tokio::test]
async fn a_phone_gets_all_steps_in_one_small_document() {
    let (server, id) = published(14).await;
    let mut visitor = server.signed_in().await;
    let path = link(&mut visitor, id, "attendee").await;
    let page = server.anonymous().get(&path).await.expect(200);
    let steps = page.text.matches("<section class=\"stop step").count();
    assert!(steps > 15, "{steps}");
    assert!(
        page.text.len() <= 150_000,
        "{} for {steps}",
        page.text.len()
    );
    assert_eq!(page.header("cache-control"), "private, no-cache");
    assert_eq!(page.header("referrer-policy"), "no-referrer");
    assert!(page.header("x-robots-tag").contains("noindex"));
    let page = page
        .shows(&format!("Step 1 of {steps}"))
        .shows("id=\"contents\"")
        .shows("<h2>Seed box</h2>")
        .shows("<h2>Seed envelope</h2>")
        .shows("and ")
        .shows("Revision 1, published")
        .hides("style=")
        .hides("<nav aria-label=\"Main\">");
    // Beside the stylesheet and the script, both of this server, nothing is asked for.
    assert_eq!(page.text.matches(" src=\"/static/").count(), 1);
    let styles = "<link rel=\"stylesheet\" href=\"/static/";
    assert_eq!(page.text.matches(styles).count(), 1);
    let asked = page.text.matches(" src=").count() + page.text.matches("<link ").count();
    assert_eq!(asked, 3, "and an empty icon");
    assert_eq!(
        page.text.matches("http://").count(),
        page.text.matches("http://www.w3.org/2000/svg").count()
    );
    for number in 1..=steps {
        assert_eq!(
            page.text.matches(&format!("id=\"step-{number}\"")).count(),
            1
        );
        assert!(
            page.text
                .matches(&format!("href=\"#step-{number}\""))
                .count()
                >= 2
        );
    }
    // No id twice: pictures of a page would take each other's titles and patterns.
    let mut ids: Vec<&str> = page
        .text
        .split(" id=\"")
        .skip(1)
        .filter_map(|s| s.split('"').next())
        .collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all);
}

#[tokio::test]
async fn a_phone_that_has_the_page_gets_no_second_copy_until_it_changes() {
    let (server, id) = published(2).await;
    let mut visitor = server.signed_in().await;
    let path = link(&mut visitor, id, "attendee").await;
    let first = server.anonymous().get(&path).await.expect(200);
    let etag = first.header("etag").to_owned();
    assert!(etag.starts_with('"') && etag.len() > 20, "{etag}");
    let ask = async |server: &Server| {
        let headers = [("if-none-match", etag.as_str())];
        let mut phone = server.anonymous();
        phone
            .request(Method::GET, &path, &headers, Body::empty())
            .await
    };
    let same = ask(&server).await.expect(304);
    assert!(same.text.is_empty());
    assert_eq!(same.header("etag"), etag);
    // A change shows only once it is published.
    let fields = [
        ("version", "1"),
        ("title", "Winter evening"),
        ("project", "1"),
        ("date", "2026-12-12"),
        ("starts", "19:00"),
        ("minutes", "90"),
        ("place", "Library"),
    ];
    visitor
        .post(&urls::class_edit(id), &fields)
        .await
        .expect(303);
    ask(&server).await.expect(304);
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    let newer = ask(&server).await.expect(200);
    newer.shows("Winter evening").shows("Revision 2, published");
}

#[tokio::test]
async fn a_host_prints_lists_and_packs_again() {
    let (server, id) = published(14).await;
    let mut visitor = server.signed_in().await;
    let path = link(&mut visitor, id, "host").await;
    assert!(path.starts_with(urls::HOST_LINKS));
    let page = server.anonymous().get(&path).await.expect(200);
    let page = page
        .shows("Print this page")
        .shows("Revision 1, published")
        .shows("Ask attendees to bring: scissors.")
        .shows("Small parts")
        .shows("1 for 7 attendees")
        .hides("class=\"qr\"")
        .hides("<nav")
        .hides(&urls::classes());
    assert_eq!(
        page.text.matches("<section class=\"pack keep\">").count(),
        17
    );
    // With a link for attendees the list carries its code, until the link ends.
    let steps = link(&mut visitor, id, "attendee").await;
    let page = server.anonymous().get(&path).await.expect(200);
    page.shows("class=\"qr\"").shows(&steps);
    let own = visitor.get(&urls::class_host(id)).await.expect(200);
    own.shows("class=\"qr\"").shows(&steps);
    visitor
        .post(&urls::class_link_revoke(id, 2), &[])
        .await
        .expect(303);
    let page = server.anonymous().get(&path).await.expect(200);
    page.hides("class=\"qr\"").hides(&steps);
}

#[tokio::test]
async fn search_engines_are_told_to_stay_out() {
    let server = Server::empty().await;
    let robots = server.anonymous().get(urls::ROBOTS).await.expect(200);
    robots.shows("Disallow: /a/").shows("Disallow: /h/");
}
