//! Pages in states that no link leads to: nothing there yet, a save that came too late, something
//! that stays, a class of two projects.

use crate::browser::Browser;
use crate::server::Server;
use crate::soundness::Soundness;

/// Presses what a page offers first until a form asks for the first paper.
async fn leads_to_the_bench(browser: &Browser, from: &str) {
    for _ in 0..3 {
        let asks = "return !!document.querySelector('main [name=caliper]')";
        if browser.run(asks).await == true {
            return;
        }
        let next = "const a = document.querySelector('main a.button'); return a && a.href";
        let next = browser.run(next).await;
        let next = next.as_str().unwrap_or_else(|| panic!("{from}: no way on"));
        browser.goto(next).await;
    }
    panic!(
        "{from} does not lead to the bench: {}",
        browser.text().await
    );
}

#[tokio::test]
async fn every_page_of_an_empty_database_leads_to_what_comes_first() {
    let server = Server::with_empty_database();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    let mut soundness = Soundness::new();
    soundness.look(&browser, "empty-welcome").await;
    browser.fill("name", "Ines").await;
    browser.fill("password", "four paper seed tins").await;
    browser.press("Start").await;
    for path in [
        "/",
        "/projects",
        "/projects/new",
        "/classes",
        "/classes/new",
        "/bench",
    ] {
        browser.goto(&format!("{}{path}", server.base)).await;
        let name = format!("empty{}", path.replace('/', "-"));
        soundness.look(&browser, &name).await;
        leads_to_the_bench(&browser, path).await;
    }
    soundness.assert();
}

#[tokio::test]
async fn what_stays_and_what_came_too_late_is_said_soundly() {
    let server = Server::demo();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    let mut soundness = Soundness::new();
    soundness.look(&browser, "state-welcome").await;
    browser.press("Sign in").await;
    let at = |path: &str| format!("{}{path}", server.base);

    browser.goto(&at("/nowhere")).await;
    soundness.look(&browser, "state-nowhere").await;
    browser.goto(&at("/bench/papers/1/remove")).await;
    soundness.look(&browser, "state-paper-stays").await;

    // Two tabs with the same form: the second save finds another text.
    browser.goto(&at("/classes/1/edit")).await;
    let first = browser.driver.window().await.unwrap();
    let second = browser.driver.new_tab().await.unwrap();
    browser.driver.switch_to_window(second).await.unwrap();
    browser.goto(&at("/classes/1/edit")).await;
    browser.fill("place", "Potting shed").await;
    browser.press("Save").await;
    browser.driver.close_window().await.unwrap();
    browser.driver.switch_to_window(first).await.unwrap();
    browser.fill("place", "Greenhouse").await;
    browser.press("Save").await;
    let text = browser.text().await;
    assert!(
        text.contains("Potting shed") && text.contains("Greenhouse"),
        "{text}"
    );
    soundness.look(&browser, "state-too-late").await;
    browser.goto_planned(&at("/classes/1")).await;
    assert!(browser.text().await.contains("publish again"));
    soundness.look(&browser, "state-changed").await;
    soundness.assert();
}
