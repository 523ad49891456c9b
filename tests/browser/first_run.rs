//! From the link on the terminal to the start page.

use crate::browser::Browser;
use crate::server::Server;

const PASSWORD: &str = "four paper seed tins";

#[tokio::test]
async fn the_first_run_leads_to_the_start_page() {
    let server = Server::with_empty_database();
    let browser = Browser::open(360, 800).await;
    browser.goto(&server.link).await;
    browser.screenshot("setup-360").await;

    browser.fill("name", "Ines").await;
    browser.fill("password", "seeds").await;
    browser.press("Start").await;
    assert!(browser.text().await.contains("5 characters are too few"));
    browser.screenshot("setup-errors-360").await;

    browser.fill("password", PASSWORD).await;
    browser.press("Start").await;
    assert!(browser.text().await.contains("Hello Ines."));

    browser.follow("Account").await;
    browser.press("Sign out").await;
    browser.fill("name", "Ines").await;
    browser.fill("password", PASSWORD).await;
    browser.press("Sign in").await;
    assert!(browser.text().await.contains("Hello Ines."));
    for (width, scheme) in [
        (320, "light"),
        (360, "dark"),
        (1280, "light"),
        (1280, "dark"),
    ] {
        browser.set_size(width, 800).await;
        browser.set_scheme(scheme).await;
        browser.screenshot(&format!("home-{width}-{scheme}")).await;
        assert_eq!(browser.overflow().await, 0, "{width} px");
    }
    let printed = browser.printed_text("home").await;
    assert!(printed.contains("What to do next"), "{printed}");
    assert!(
        !printed.contains("Account"),
        "navigation on paper: {printed}"
    );
}

/// WCAG 2.2, 1.4.10 Reflow: no second direction of scrolling at 320 CSS pixels.
#[tokio::test]
async fn pages_fit_a_window_of_320_pixels() {
    let server = Server::with_empty_database();
    let browser = Browser::open(320, 640).await;
    let nowhere = format!("{}/nowhere", server.base);
    let sign_in = format!("{}/sign-in", server.base);
    for url in [&server.link, &nowhere, &sign_in] {
        browser.goto(url).await;
        assert_eq!(browser.overflow().await, 0, "{url}");
    }
}

/// A megabyte comes back in its field; a form that is too large must get its page, not a broken
/// connection, and the way back must still hold what was typed.
#[tokio::test]
async fn what_is_far_too_long_gets_a_page_and_is_not_lost() {
    let server = Server::with_empty_database();
    let browser = Browser::open(1280, 800).await;
    browser.goto(&server.link).await;
    let script = "document.querySelector('[name=name]').value = 'x'.repeat(arguments[0]);";
    for length in [3_000_000, 1_000_000] {
        let typed = vec![length.into()];
        browser.driver.execute(script, typed).await.unwrap();
        browser.press("Start").await;
        if length > tablefold::app::BODY_LIMIT {
            assert!(browser.text().await.contains("That is too much at once"));
            browser.screenshot("too-large-1280").await;
            browser.driver.back().await.unwrap();
        } else {
            assert!(browser.text().await.contains("Type at most 80."));
        }
        assert_eq!(browser.value("name").await.len(), length);
    }
}

/// A hall's own network: plain http, a name that is not localhost (W3C Fetch Metadata: "not
/// sent to non-trustworthy destinations"), so forms are told by their Origin alone.
#[tokio::test]
async fn forms_work_on_a_plain_hall_network() {
    let server = Server::with_empty_database();
    let browser = Browser::open(360, 800).await;
    browser.goto(&server.in_the_hall(&server.link)).await;
    browser.fill("name", "Ines").await;
    browser.fill("password", PASSWORD).await;
    browser.press("Start").await;
    assert!(browser.text().await.contains("Hello Ines."));
}

#[tokio::test]
async fn a_form_that_met_a_lost_session_is_sent_again_by_a_reload() {
    let server = Server::with_empty_database();
    let browser = Browser::open(1280, 800).await;
    browser.goto(&server.link).await;
    browser.fill("name", "Ines").await;
    browser.fill("password", PASSWORD).await;
    browser.press("Start").await;
    browser
        .goto(&format!("{}/account/password", server.base))
        .await;
    browser.fill("old_password", PASSWORD).await;
    browser.fill("new_password", "four new paper tins").await;
    browser.driver.delete_all_cookies().await.unwrap();
    browser.press("Change").await;
    assert!(browser.text().await.contains("nothing was saved yet"));
    browser.screenshot("sign-in-first-1280").await;

    let first = browser.driver.window().await.unwrap();
    let second = browser.driver.new_tab().await.unwrap();
    browser.driver.switch_to_window(second).await.unwrap();
    browser.goto(&format!("{}/sign-in", server.base)).await;
    browser.fill("name", "Ines").await;
    browser.fill("password", PASSWORD).await;
    browser.press("Sign in").await;
    browser.driver.switch_to_window(first).await.unwrap();
    browser.driver.refresh().await.unwrap();
    assert!(browser.text().await.contains("Your password is changed."));
}

/// `.printed > .running + .printed-body` is what every list for paper is made of.
#[tokio::test]
async fn the_running_head_stands_on_every_printed_page() {
    let server = Server::with_empty_database();
    let browser = Browser::open(1280, 800).await;
    browser.goto(&server.link).await;
    let script = "document.querySelector('main').innerHTML = \
        '<div class=printed><div class=running><p>Seed-swap evening</p></div>' \
        + '<div class=printed-body>' + '<p class=keep>A line for the list.</p>'.repeat(120) \
        + '</div></div>'";
    browser.driver.execute(script, vec![]).await.unwrap();
    assert!(
        !browser.text().await.contains("Seed-swap evening"),
        "shown on screen"
    );
    let printed = browser.printed_text("running-head").await;
    let pages: Vec<_> = printed
        .split('\u{c}')
        .filter(|page| !page.trim().is_empty())
        .collect();
    assert!(pages.len() >= 3, "{} pages", pages.len());
    for page in pages {
        assert!(page.trim_start().starts_with("Seed-swap evening"), "{page}");
    }
}
