//! Every page that an instructor can reach by links from the start page, found by following them.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::json;

use crate::browser::Browser;
use crate::checkers::{clipped_when_spaced, markup_errors, nothing, violations};
use crate::server::Server;

/// So many pages at least, or the walk has stopped somewhere.
const LEAST_PAGES: usize = 40;

/// A page by its address, with its source.
struct Found {
    path: String,
    source: String,
}

/// Addresses that differ only in numbers are pages of one kind: `/projects/3` and `/projects/4`.
fn kind(path: &str) -> String {
    let mut kind = String::new();
    for c in path.chars() {
        let c = if c.is_ascii_digit() { '0' } else { c };
        if !(c == '0' && kind.ends_with('0')) {
            kind.push(c);
        }
    }
    kind
}

/// One page of each kind that links lead to, the first one first.
async fn all_pages(browser: &Browser, base: &str, start: &str) -> Vec<Found> {
    // Pages of ours ask for nothing by script, and are told so; this one does.
    let bypass = async |on| {
        browser
            .send("Page.setBypassCSP", json!({"enabled": on}))
            .await
    };
    bypass(true).await;
    browser.goto(&format!("{base}/")).await;
    let mut waiting = vec![start.to_owned()];
    let mut seen = BTreeSet::from([kind(start)]);
    let mut found = Vec::new();
    while let Some(path) = waiting.pop() {
        let got = browser
            .wait_for(
                "let answer; for (let i = 0; i < 100; i++) { \
                   answer = await fetch(given[0]); \
                   const type = answer.headers.get('content-type') || ''; \
                   if (!type.startsWith('text/html')) return [answer.status, type, '', []]; \
                   const text = await answer.text(); \
                   if (!text.includes('Planning the cuts')) { \
                     const page = new DOMParser().parseFromString(text, 'text/html'); \
                     const links = [...page.querySelectorAll('a[href]')].map((a) => a.getAttribute('href')); \
                     return [answer.status, type, text, links]; } \
                   await new Promise((later) => setTimeout(later, 500)); } \
                 return [0, 'still planning', '', []]",
                vec![json!(format!("{base}{path}"))],
            )
            .await;
        assert_eq!(got[0], 200, "{path}: {got}");
        if !got[1].as_str().unwrap().starts_with("text/html") {
            continue;
        }
        for link in got[3].as_array().unwrap() {
            let link = link.as_str().unwrap().split('#').next().unwrap();
            let link = link.strip_prefix(base).unwrap_or(link);
            let link = if link.starts_with('?') {
                let here = path.split('?').next().unwrap();
                format!("{here}{link}")
            } else {
                link.to_owned()
            };
            // Switches one by one: all of them at once are the same rules again.
            let is_second_switch = path.contains("units=") && link.contains("units=");
            if link.starts_with('/') && !is_second_switch && seen.insert(kind(&link)) {
                waiting.push(link);
            }
        }
        let source = got[2].as_str().unwrap().to_owned();
        found.push(Found { path, source });
    }
    bypass(false).await;
    found
}

async fn signed_in() -> (Server, Browser) {
    let server = Server::demo();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    browser.press("Sign in").await;
    (server, browser)
}

fn name_of(path: &str) -> String {
    let safe = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    path.trim_start_matches('/').chars().map(safe).collect()
}

/// WCAG 2.2 AA as axe-core checks it, 1.4.10 (320 px), 1.4.4 (200 %: a window of half the width)
/// and 1.4.12; HTML as the W3C's Nu checker reads it.
#[tokio::test]
async fn every_page_is_sound_at_every_size_in_light_and_dark() {
    let (server, browser) = signed_in().await;
    let mut pages = all_pages(&browser, &server.base, "/").await;
    assert!(pages.len() >= LEAST_PAGES, "{} pages", pages.len());
    for link in [&server.attendees, &server.host] {
        let path = link.strip_prefix(&server.base).unwrap();
        // With all switches of the phone page, as it links to them.
        pages.extend(all_pages(&browser, &server.base, path).await);
    }
    let mut wrong: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let folder = tempfile::tempdir().unwrap();
    for page in &pages {
        let name = name_of(&page.path);
        let mut add = |what: String| wrong.entry(page.path.clone()).or_default().push(what);
        let file = folder.path().join(format!("{name}.html"));
        std::fs::write(file, &page.source).unwrap();
        browser.goto(&format!("{}{}", server.base, page.path)).await;
        for (width, height, scheme) in [
            (1280, 900, "light"),
            (360, 640, "dark"),
            (768, 1024, "light"),
        ] {
            browser.set_size(width, height).await;
            browser.set_scheme(scheme).await;
            browser.screenshot(&format!("page-{name}-{width}")).await;
            if width != 768 {
                for said in violations(&browser).await {
                    add(format!("{width} {scheme}: {said}"));
                }
            }
        }
        for width in [640, 320] {
            browser.set_size(width, 640).await;
            let wider = browser.overflow().await;
            if wider > 0 {
                add(format!("{wider} px wider than {width}"));
            }
        }
        let clipped = clipped_when_spaced(&browser).await;
        if clipped != nothing() {
            add(format!("spaced: {clipped}"));
        }
    }
    let markup = markup_errors(folder.path());
    assert!(
        wrong.is_empty() && markup.is_empty(),
        "{wrong:#?}\n{markup}"
    );
}
