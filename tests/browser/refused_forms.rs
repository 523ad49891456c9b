//! Forms that were sent with something wrong: the page that comes back is as sound as the first.

use std::collections::BTreeMap;

use crate::browser::Browser;
use crate::checkers::{markup_errors, violations};
use crate::server::Server;

/// Where a form is, what is typed into it, and the button.
type Form = (
    &'static str,
    &'static [(&'static str, &'static str)],
    &'static str,
);

const FORMS: [Form; 9] = [
    (
        "/projects/new",
        &[("title", ""), ("makes", "0"), ("height", "tall 🌱")],
        "Save",
    ),
    (
        "/projects/1/edit",
        &[("title", ""), ("makes", "-3")],
        "Save project",
    ),
    (
        "/bench/papers/new",
        &[("name", ""), ("caliper", "thick")],
        "Save paper",
    ),
    ("/bench/supplies/new", &[("name", "")], "Save supply"),
    (
        "/classes/new",
        &[("title", ""), ("attendees", "10000")],
        "Plan the class",
    ),
    (
        "/classes/1/edit",
        &[("title", ""), ("minutes", "soon")],
        "Save",
    ),
    ("/classes/1/attendees", &[("add", "many")], "Save"),
    (
        "/classes/1/links",
        &[("until", "2020-01-01")],
        "Make a link",
    ),
    ("/classes/1/cost", &[("venue", "abc")], "Save"),
];

#[tokio::test]
async fn every_refused_form_says_what_would_do_and_is_sound() {
    let server = Server::demo();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    browser.press("Sign in").await;
    let folder = tempfile::tempdir().unwrap();
    let mut wrong: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (path, typed, button) in FORMS {
        browser.set_size(1280, 900).await;
        browser.set_scheme("light").await;
        browser.goto(&format!("{}{path}", server.base)).await;
        for (field, text) in typed {
            browser.enter(field, text).await;
        }
        browser.press(button).await;
        let text = browser.text().await;
        assert!(text.contains("another look"), "{path}: {text}");
        // Nothing typed is lost, and each message leads to its field.
        for (field, text) in typed {
            assert_eq!(browser.value(field).await, *text, "{path}: {field}");
        }
        let lost = "return [...document.querySelectorAll('.summary a')] \
            .filter((a) => !document.querySelector(a.getAttribute('href'))).length";
        assert_eq!(browser.run(lost).await, 0, "{path}");
        let name = path.trim_start_matches('/').replace('/', "-");
        let source = browser.driver.source().await.unwrap();
        let page = format!("<!DOCTYPE html>{source}");
        std::fs::write(folder.path().join(format!("{name}.html")), page).unwrap();
        for (width, scheme) in [(1280, "light"), (360, "dark")] {
            browser.set_size(width, 800).await;
            browser.set_scheme(scheme).await;
            browser.screenshot(&format!("refused-{name}-{width}")).await;
            let mut said = violations(&browser).await;
            if browser.overflow().await > 0 {
                said.push("wider than the window".to_owned());
            }
            if !said.is_empty() {
                wrong.entry(path).or_default().extend(said);
            }
        }
    }
    let markup = markup_errors(folder.path());
    assert!(
        wrong.is_empty() && markup.is_empty(),
        "{wrong:#?}\n{markup}"
    );
}
