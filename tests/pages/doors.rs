//! What guards every page: where forms come from, headers, sizes, errors as pages.

use axum::body::Body;
use axum::http::Method;
use tablefold::app::BODY_LIMIT;
use tablefold::urls;

use crate::visitor::{Answer, Server};

const FORM: (&str, &str) = ("content-type", "application/x-www-form-urlencoded");
const OWN: &str = "http://class.example:8080";

/// Posts a wrong sign-in: 422 means that the form reached its handler.
async fn post_with(server: &Server, headers: &[(&str, &str)]) -> Answer {
    let body = Body::from("name=nobody&password=wrong");
    let all = [&[FORM], headers].concat();
    let answer = server
        .anonymous()
        .request(Method::POST, &urls::sign_in(), &all, body)
        .await;
    server.app.throttle().note_right("nobody");
    answer
}

/// Every row of the table in the OWASP Cross-Site Request Forgery Prevention Cheat Sheet.
#[tokio::test]
async fn forms_are_taken_from_own_pages_only() {
    let server = Server::empty().await.with_instructor().await;
    let (taken, refused) = (422, 403);
    let rows: &[(&[(&str, &str)], u16)] = &[
        (&[("sec-fetch-site", "same-origin")], taken),
        (&[("sec-fetch-site", "same-origin"), ("origin", OWN)], taken),
        (
            &[("sec-fetch-site", "same-origin"), ("origin", "null")],
            taken,
        ),
        (
            &[("sec-fetch-site", "none"), ("sec-fetch-mode", "navigate")],
            taken,
        ),
        (
            &[("sec-fetch-site", "none"), ("sec-fetch-mode", "cors")],
            refused,
        ),
        (&[("sec-fetch-site", "none")], refused),
        (&[("sec-fetch-site", "same-site"), ("origin", OWN)], refused),
        (
            &[("sec-fetch-site", "cross-site"), ("origin", OWN)],
            refused,
        ),
        (&[("sec-fetch-site", "cross-site")], refused),
        (&[("origin", OWN)], taken),
        (&[("origin", "http://other.example")], refused),
        (&[("origin", "http://class.example:9090")], refused),
        (&[("origin", "null")], refused),
        (&[("origin", "")], refused),
        (&[], refused),
    ];
    for (headers, status) in rows {
        let answer = post_with(&server, headers).await;
        assert_eq!(
            answer.status.as_u16(),
            *status,
            "{headers:?}: {}",
            answer.text
        );
        if *status == refused {
            answer
                .shows("This form came from elsewhere")
                .shows("Nothing was saved");
        }
    }
}

#[tokio::test]
async fn an_invented_forwarded_host_opens_nothing() {
    let server = Server::empty().await.with_instructor().await;
    let headers = [
        ("origin", "http://other.example"),
        ("x-forwarded-host", "other.example"),
        ("x-request-id", "forged"),
    ];
    let answer = post_with(&server, &headers).await.expect(403);
    assert_ne!(answer.header("x-request-id"), "forged");
}

/// Values: OWASP HTTP Headers Cheat Sheet; ASVS 5.0.0 3.4.x and 14.3.2.
#[tokio::test]
async fn every_page_closes_its_doors() {
    let server = Server::empty().await.with_instructor().await;
    let mut instructor = server.signed_in().await;
    for url in [
        urls::home(),
        urls::sign_in(),
        urls::account(),
        "/nowhere".to_owned(),
    ] {
        let answer = instructor.get(&url).await;
        let csp = answer.header("content-security-policy");
        for part in [
            "default-src 'none'",
            "frame-ancestors 'none'",
            "base-uri 'none'",
            "object-src 'none'",
        ] {
            assert!(csp.contains(part), "{url}: {csp}");
        }
        assert!(!csp.contains("unsafe"), "{csp}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{url}");
        assert_eq!(answer.header("referrer-policy"), "same-origin", "{url}");
        assert_eq!(answer.header("cache-control"), "no-store", "{url}");
        assert_eq!(answer.header("x-frame-options"), "DENY", "{url}");
        assert_eq!(
            answer.header("cross-origin-opener-policy"),
            "same-origin",
            "{url}"
        );
        assert_eq!(answer.header("strict-transport-security"), "", "{url}");
        assert_eq!(answer.header("server"), "", "{url}");
        assert_eq!(answer.header("x-request-id").len(), 8, "{url}");
    }
}

#[tokio::test]
async fn link_pages_send_no_referrer_and_stay_out_of_search() {
    let server = Server::empty().await.with_instructor().await;
    for url in ["/a/unknown", "/h/unknown"] {
        let answer = server.anonymous().get(url).await.expect(404);
        assert_eq!(answer.header("referrer-policy"), "no-referrer");
        assert_eq!(answer.header("x-robots-tag"), "noindex");
        answer
            .shows("This link does not open anything")
            .hides("<nav")
            .hides("class=\"button\"");
    }
    let robots = server.anonymous().get(urls::ROBOTS).await.expect(200);
    robots
        .shows("Disallow: /a/")
        .shows("Disallow: /h/")
        .shows("Disallow: /welcome/");
}

/// RFC 6797; only where the server is reached over https.
#[tokio::test]
async fn https_is_remembered_and_its_cookie_is_bound_to_the_host() {
    let server = Server::at("https://class.example")
        .await
        .with_instructor()
        .await;
    let mut instructor = server.signed_in().await;
    let answer = instructor.get(&urls::account()).await.expect(200);
    assert_eq!(
        answer.header("strict-transport-security"),
        "max-age=31536000"
    );
    let headers = [FORM, ("sec-fetch-site", "same-origin")];
    let body = Body::from("name=Ines&password=four+paper+seed+tins");
    let answer = server
        .anonymous()
        .request(Method::POST, "/sign-in", &headers, body)
        .await;
    let cookie = answer.expect(303).header("set-cookie").to_owned();
    assert!(cookie.starts_with("__Host-tablefold="), "{cookie}");
    assert!(cookie.ends_with("; Path=/; Max-Age=1209600; HttpOnly; SameSite=Lax; Secure"));
}

#[tokio::test]
async fn a_form_above_the_limit_gets_a_page_and_keeps_nothing() {
    let server = Server::empty().await.with_instructor().await;
    let long = "x".repeat(BODY_LIMIT);
    let fields = [("name", long.as_str()), ("password", "wrong")];
    let answer = server
        .anonymous()
        .post(&urls::sign_in(), &fields)
        .await
        .expect(413);
    answer
        .shows("2 MB")
        .shows("Nothing was saved")
        .hides("xxxx");
}

#[tokio::test]
async fn what_is_no_form_of_ours_gets_a_page() {
    let server = Server::empty().await.with_instructor().await;
    let bodies: [(&str, &[u8]); 5] = [
        ("application/json", b"{}"),
        ("", b"name=a&password=b"),
        (FORM.1, b"name=a"),
        (FORM.1, b"name=%FF&password=b"),
        (FORM.1, b"name=\xff&password=b"),
    ];
    for (kind, body) in bodies {
        let headers = [("content-type", kind), ("origin", OWN)];
        let body = Body::from(body.to_vec());
        let answer = server
            .anonymous()
            .request(Method::POST, "/sign-in", &headers, body)
            .await;
        answer
            .expect(400)
            .shows("<h1>This does not work</h1>")
            .shows("Nothing was saved");
    }
}

#[tokio::test]
async fn unknown_addresses_and_methods_get_a_page() {
    let server = Server::empty().await.with_instructor().await;
    let mut visitor = server.anonymous();
    visitor
        .get("/nowhere")
        .await
        .expect(404)
        .shows("Nothing is here");
    visitor
        .get("/static/000000000000/style.css")
        .await
        .expect(404);
    visitor.get("/welcome/%FF").await.expect(404);
    let headers = [("origin", OWN)];
    let answer = visitor
        .request(Method::DELETE, "/account", &headers, Body::empty())
        .await;
    answer.expect(405).shows("This does not work");
}

#[tokio::test]
async fn static_files_are_kept_and_private_pages_are_not() {
    let server = Server::empty().await;
    let url = urls::static_file("style.css");
    let answer = server.anonymous().get(&url).await.expect(200);
    assert_eq!(
        answer.header("cache-control"),
        "public, max-age=31536000, immutable"
    );
    assert_eq!(answer.header("content-type"), "text/css; charset=utf-8");
    let page = server.anonymous().get(&urls::sign_in()).await.expect(200);
    page.shows(&url)
        .hides("style=\"")
        .hides("<style")
        .hides("<script");
}

#[tokio::test]
async fn pages_travel_compressed() {
    let server = Server::empty().await;
    let headers = [("accept-encoding", "br")];
    let url = urls::static_file("style.css");
    let answer = server
        .anonymous()
        .request(Method::GET, &url, &headers, Body::empty())
        .await;
    assert_eq!(answer.header("content-encoding"), "br");
}
