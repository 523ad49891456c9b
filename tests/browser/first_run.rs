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
    let printed = browser.printed_text().await;
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

/// A form that is too large must get its page, not a broken connection.
#[tokio::test]
async fn a_megabyte_typed_into_a_field_gets_a_page() {
    let server = Server::with_empty_database();
    let browser = Browser::open(1280, 800).await;
    browser.goto(&server.link).await;
    let script = "document.querySelector('[name=name]').value = 'x'.repeat(1000000);";
    browser.driver.execute(script, vec![]).await.unwrap();
    browser.press("Start").await;
    assert!(browser.text().await.contains("That is too much at once"));
    browser.screenshot("too-large-1280").await;
}
