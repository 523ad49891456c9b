//! Getting in without a puzzle, and without typing a password that a manager knows. What is typed
//! once is not asked for again: `walk.rs`.

use serde_json::json;

use crate::browser::Browser;
use crate::server::Server;

const PASSWORD: &str = "four paper seed tins";

/// Fields to fill in, with what a password manager is told of them.
const FIELDS: &str = "return [...document.querySelectorAll('main :is(input, select, textarea)')] \
    .filter((e) => e.checkVisibility()).map((e) => [e.name, e.autocomplete])";

/// Whether a text that was copied from the name comes into the password.
async fn takes_a_paste(browser: &Browser) -> bool {
    let focus = async |name: &str| {
        browser
            .run(&format!("document.querySelector('[name={name}]').focus()"))
            .await;
    };
    browser.fill("name", PASSWORD).await;
    focus("name").await;
    browser.command("selectAll").await;
    browser.command("copy").await;
    focus("password").await;
    browser.command("selectAll").await;
    browser.command("paste").await;
    browser.value("password").await == PASSWORD
}

/// 3.3.8 Accessible Authentication (Minimum): nothing to remember or to solve beside a password,
/// which may be pasted and kept by a manager.
#[tokio::test]
async fn a_manager_or_a_paste_signs_in() {
    let server = Server::with_empty_database();
    let browser = Browser::open(360, 640).await;
    browser.goto(&server.link).await;
    let told = json!([["name", "username"], ["password", "new-password"]]);
    assert_eq!(browser.run(FIELDS).await, told);
    assert!(takes_a_paste(&browser).await);
    browser.fill("name", "Ines").await;
    browser.press("Start").await;

    browser
        .goto(&format!("{}/account/password", server.base))
        .await;
    let told = json!([
        ["old_password", "current-password"],
        ["new_password", "new-password"]
    ]);
    assert_eq!(browser.run(FIELDS).await, told);
    browser.goto(&format!("{}/account", server.base)).await;
    browser.press("Sign out").await;
    let told = json!([["name", "username"], ["password", "current-password"]]);
    assert_eq!(browser.run(FIELDS).await, told);
    // A field that takes no paste is found.
    browser
        .run("document.addEventListener('paste', (e) => e.preventDefault())")
        .await;
    assert!(!takes_a_paste(&browser).await);
    browser.goto(&format!("{}/sign-in", server.base)).await;
    assert!(takes_a_paste(&browser).await);
    browser.fill("name", "Ines").await;
    browser.press("Sign in").await;
    assert!(browser.text().await.contains("Hello Ines."));
}
