//! 4.1.3 Status Messages: what a page says after something was done has a role, so that a screen
//! reader says it too. 2.5.7: and what has an order is moved by single clicks.

use serde_json::Value;

use crate::browser::Browser;
use crate::every_page::signed_in;

/// A form that is saved: where it is, what is typed, the button.
type Saved = (
    &'static str,
    &'static [(&'static str, &'static str)],
    &'static str,
);

/// Saved forms after which the page says so.
const SAVED: [Saved; 5] = [
    ("/classes/1/edit", &[("place", "Potting shed")], "Save"),
    (
        "/classes/1/packet/labels",
        &[("rows", "7")],
        "Keep this sheet",
    ),
    ("/classes/1/packet/prep", &[], "Save helpers"),
    (
        "/bench/tools/2",
        &[("square", "6 in"), ("small", "4 in")],
        "Work out the notch depth",
    ),
    ("/classes/1", &[], "Publish"),
];

/// What stands out on the page, and whether a screen reader is told of it.
const SAID: &str = "return [...document.querySelectorAll('main :is(.note, .summary)')] \
    .map((e) => [e.textContent, !!e.closest('[role=status], [role=alert]')])";

/// Messages that are there after something was done, and not when the page is opened anew.
async fn said_anew(browser: &Browser) -> Vec<(Value, bool)> {
    let now = browser.run(SAID).await;
    let path = browser
        .run("return location.origin + location.pathname")
        .await;
    let after = browser.address().await;
    browser.goto(path.as_str().unwrap()).await;
    let anew = browser.run(SAID).await;
    browser.goto(&after).await;
    let before: Vec<&Value> = anew.as_array().unwrap().iter().map(|it| &it[0]).collect();
    let now = now.as_array().unwrap().iter();
    now.filter(|it| !before.contains(&&it[0]))
        .map(|it| (it[0].clone(), it[1] == true))
        .collect()
}

/// Saves the form, and gives what the page says after it.
async fn save(browser: &Browser, base: &str, (path, typed, button): Saved) {
    browser.goto_planned(&format!("{base}{path}")).await;
    for (field, text) in typed {
        browser.enter(field, text).await;
    }
    browser.press(button).await;
    // The page of a class may say first that it plans.
    if browser.text().await.contains("Planning the cuts") {
        browser.goto_planned(&browser.address().await).await;
    }
}

#[tokio::test]
async fn what_a_page_says_after_a_save_is_said_to_a_screen_reader_too() {
    let (server, browser) = signed_in().await;
    for form in SAVED {
        save(&browser, &server.base, form).await;
        let said = said_anew(&browser).await;
        assert!(!said.is_empty(), "{}: nothing is said", form.0);
        assert!(said.iter().all(|(_, told)| *told), "{}: {said:?}", form.0);
    }
    let refused = ("/classes/1/edit", &[("title", "")][..], "Save");
    save(&browser, &server.base, refused).await;
    let told = "return document.querySelector('[role=alert]').textContent";
    let told = browser.run(told).await;
    assert!(told.as_str().unwrap().contains("another look"), "{told}");
    // Without its role it is found.
    save(&browser, &server.base, SAVED[0]).await;
    browser
        .run("document.querySelector('[role=status]').removeAttribute('role')")
        .await;
    let said = said_anew(&browser).await;
    assert!(said.iter().any(|(_, told)| !told), "{said:?}");
}

/// 2.5.7 Dragging Movements: steps and pieces change places by single clicks.
#[tokio::test]
async fn order_is_changed_by_single_clicks() {
    let (server, browser) = signed_in().await;
    let project = format!("{}/projects/1", server.base);
    browser.goto(&project).await;
    let pieces = "return [...document.querySelectorAll('.actions a')].map((a) => a.textContent) \
        .filter((text) => /^Edit Seed/.test(text))";
    let before = browser.run(pieces).await;
    assert_eq!(
        before,
        serde_json::json!(["Edit Seed box", "Edit Seed envelope"])
    );
    browser.press("Move Seed envelope up").await;
    let after = browser.run(pieces).await;
    assert_eq!(
        after,
        serde_json::json!(["Edit Seed envelope", "Edit Seed box"])
    );

    let steps = "return [...document.querySelectorAll('.steps h3')].map((h) => h.textContent)";
    let before = browser.run(steps).await;
    browser.mark_old().await;
    // The first two are cut alike: the third.
    let down = "document.querySelectorAll('.steps button[value=down]')[2].id = 'third-down'";
    browser.run(down).await;
    let button = browser.driver.find(thirtyfour::By::Id("third-down")).await;
    button.unwrap().click().await.unwrap();
    browser.wait_for_new("a click on Down").await;
    let after = browser.run(steps).await;
    assert_ne!(before, after);
}
