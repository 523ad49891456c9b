//! Forms that were sent with something wrong: the page that comes back is as sound as the first.

use crate::browser::Browser;
use crate::server::Server;
use crate::soundness::Soundness;

/// Where a form is, what is typed into it, and the button.
type Form = (
    &'static str,
    &'static [(&'static str, &'static str)],
    &'static str,
);

/// Every form of the demo's instructor, of its first project and of its class.
const FORMS: [Form; 22] = [
    (
        "/projects/new",
        &[("title", ""), ("makes", "0"), ("height", "tall 🌱")],
        "Save",
    ),
    (
        "/projects/1/edit",
        &[
            ("title", ""),
            ("makes", "-3"),
            ("hands", "own"),
            ("within_cut", "wide"),
        ],
        "Save project",
    ),
    (
        "/projects/1/pieces/new",
        &[("name", ""), ("width", "-1 in"), ("band_overlap", "much")],
        "Save",
    ),
    (
        "/projects/1/pieces/1",
        &[("clearance", "loose"), ("band_reveal", "1/7 in")],
        "Save",
    ),
    (
        "/projects/1/steps/new",
        &[("title", ""), ("minutes", "soon")],
        "Save step",
    ),
    (
        "/projects/1/steps/p1.close",
        &[("text", "Close it at {nowhere}."), ("minutes", "-1")],
        "Save step",
    ),
    (
        "/bench/papers/new",
        &[("name", ""), ("caliper", "thick")],
        "Save paper",
    ),
    (
        "/bench/papers/1",
        &[("price", "much"), ("on_hand", "some")],
        "Save paper",
    ),
    (
        "/bench/papers/1/offers",
        &[("shop", ""), ("pack", "0"), ("price", "cheap")],
        "Save offer",
    ),
    ("/bench/supplies/new", &[("name", "")], "Save supply"),
    ("/bench/supplies/1", &[("on_hand", "ten")], "Save supply"),
    (
        "/bench/tools/new?kind=punch_board",
        &[("name", ""), ("notch_depth", "deep")],
        "Save tool",
    ),
    (
        "/bench/tools/2",
        &[("square", "6 in"), ("small", "9 in")],
        "Work out the notch depth",
    ),
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
    ("/classes/1/colourways", &[("spares-1", "few")], "Save"),
    ("/classes/1/tools", &[("count-hole_punch", "two")], "Save"),
    (
        "/classes/1/links",
        &[("until", "2020-01-01")],
        "Make a link",
    ),
    ("/classes/1/cost", &[("venue", "abc")], "Save"),
    (
        "/classes/1/packet/labels",
        &[("columns", "0"), ("width", "wide")],
        "Show the labels",
    ),
    (
        "/classes/1/packet/cuts",
        &[("width", "wide"), ("height", "-2")],
        "Put back on hand",
    ),
];

#[tokio::test]
async fn every_refused_form_says_what_would_do_and_is_sound() {
    let server = Server::demo();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    browser.press("Sign in").await;
    let mut soundness = Soundness::new();
    for (path, typed, button) in FORMS {
        browser.set_scheme("light").await;
        browser
            .goto_planned(&format!("{}{path}", server.base))
            .await;
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
            .filter((a) => !document.querySelector(a.getAttribute('href').replace('.', '\\\\.'))).map((a) => a.outerHTML)";
        assert_eq!(browser.run(lost).await, serde_json::json!([]), "{path}");
        let name = path.trim_start_matches('/').replace(['/', '?'], "-");
        soundness.look(&browser, &format!("refused-{name}")).await;
    }
    soundness.assert();
}
