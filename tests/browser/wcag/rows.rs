//! What was found against the rows, and the one walk over all pages.

use std::collections::BTreeMap;

use super::{content, focus};
use crate::browser::Browser;
use crate::every_page::{all_pages, instructor_pages, signed_in};
use crate::server::Server;

/// Rows by their number, each with the pages that break it and how.
#[derive(Debug, Default)]
pub(super) struct Rows(BTreeMap<&'static str, Vec<String>>);

impl Rows {
    pub(super) fn add(&mut self, row: &'static str, page: &str, said: &str) {
        let all = self.0.entry(row).or_default();
        all.push(format!("{page}: {said}"));
    }

    fn assert_kept(&self) {
        assert!(self.0.is_empty(), "{:#?}", self.0);
    }
}

#[tokio::test]
async fn every_page_keeps_the_rows_with_the_keyboard_and_the_pointer() {
    let (server, browser) = signed_in().await;
    let pages = instructor_pages(&browser, &server.base).await;
    let mut paths: Vec<String> = pages.iter().map(|page| page.path.clone()).collect();
    for link in [&server.attendees, &server.host] {
        let path = link.strip_prefix(&server.base).unwrap();
        let pages = all_pages(&browser, &server.base, path).await;
        paths.extend(pages.into_iter().map(|page| page.path));
    }
    let mut rows = Rows::default();
    for path in &paths {
        browser.set_size(360, 640).await;
        browser.goto(&format!("{}{path}", server.base)).await;
        content::look(&browser, path, &mut rows).await;
        focus::walk(&browser, path, &mut rows).await;
    }
    rows.assert_kept();
}

/// Every check finds its row broken on a form that a script has spoilt, and nothing before that.
#[tokio::test]
async fn each_row_is_found_where_a_page_breaks_it() {
    let server = Server::with_empty_database();
    let browser = Browser::open(360, 640).await;
    rows_of(&browser, &server, "return 0").await.assert_kept();
    for (row, script) in content::spoilers().into_iter().chain(focus::spoilers()) {
        let rows = rows_of(&browser, &server, &script).await;
        assert!(rows.0.contains_key(row), "{row}: {rows:?}");
    }
}

/// The rows that a form breaks after a script.
async fn rows_of(browser: &Browser, server: &Server, script: &str) -> Rows {
    let mut rows = Rows::default();
    browser.set_size(360, 640).await;
    browser.goto(&server.link).await;
    browser.run(script).await;
    content::look(browser, "form", &mut rows).await;
    focus::walk(browser, "form", &mut rows).await;
    rows
}

/// Adds style rules to a page.
pub(super) fn style(rules: &str) -> String {
    format!(
        "const sheet = new CSSStyleSheet(); sheet.replaceSync(`{rules}`); \
         document.adoptedStyleSheets = [sheet];"
    )
}
