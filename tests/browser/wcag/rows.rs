//! What was found against the rows, and the one walk over all pages.

use std::collections::BTreeMap;

use super::{content, focus};
use crate::browser::Browser;
use crate::every_page::{all_pages, signed_in};
use crate::server::Server;

/// Rows by their number, each with the pages that break it and how.
#[derive(Debug, Default)]
pub(super) struct Rows(BTreeMap<&'static str, Vec<String>>);

impl Rows {
    pub(super) fn add(&mut self, row: &'static str, page: &str, said: &str) {
        let all = self.0.entry(row).or_default();
        all.push(format!("{page}: {said}"));
    }

    pub(super) fn breaks(&self, row: &str) -> bool {
        self.0.contains_key(row)
    }

    pub(super) fn assert_kept(&self) {
        assert!(self.0.is_empty(), "{:#?}", self.0);
    }
}

#[tokio::test]
async fn every_page_keeps_the_rows_with_the_keyboard_and_the_pointer() {
    let (server, browser) = signed_in().await;
    let mut pages = all_pages(&browser, &server.base, "/").await;
    for link in [&server.attendees, &server.host] {
        let path = link.strip_prefix(&server.base).unwrap();
        pages.extend(all_pages(&browser, &server.base, path).await);
    }
    let mut rows = Rows::default();
    for page in &pages {
        browser.set_size(360, 640).await;
        browser.goto(&format!("{}{}", server.base, page.path)).await;
        content::look(&browser, &page.path, &mut rows).await;
        focus::walk(&browser, &page.path, &mut rows).await;
    }
    rows.assert_kept();
}

/// The rows that a form breaks once a script has spoilt it; before, it breaks none.
pub(super) async fn spoilt(script: &str) -> Rows {
    let server = Server::with_empty_database();
    let browser = Browser::open(360, 640).await;
    let mut rows = Rows::default();
    for (page, script) in [("sound", "return 0"), ("spoilt", script)] {
        rows.assert_kept();
        browser.goto(&server.link).await;
        browser.run(script).await;
        content::look(&browser, page, &mut rows).await;
        focus::walk(&browser, page, &mut rows).await;
    }
    rows
}

/// Adds style rules to a page.
pub(super) fn style(rules: &str) -> String {
    format!(
        "const sheet = new CSSStyleSheet(); sheet.replaceSync(`{rules}`); \
         document.adoptedStyleSheets = [sheet];"
    )
}
