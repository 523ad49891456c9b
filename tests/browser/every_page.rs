//! Every page that an instructor can reach by links from the start page, found by following them.

use std::collections::BTreeSet;

use serde_json::json;
use tokio::sync::OnceCell;

use crate::browser::Browser;
use crate::server::Server;
use crate::soundness::Soundness;

/// So many pages at least, or the walk has stopped somewhere.
const LEAST_PAGES: usize = 40;

/// A page by its address, with its source.
pub(crate) struct Found {
    pub(crate) path: String,
    source: String,
}

/// Addresses that differ only in numbers are pages of one kind: `/projects/3` and `/projects/4`,
/// and so are those of the steps of a project.
fn kind(path: &str) -> String {
    let mut kind = String::new();
    let path = match path.split_once("/steps/p") {
        Some((project, _)) => project,
        None => path,
    };
    for c in path.chars() {
        let c = if c.is_ascii_digit() { '0' } else { c };
        if !(c == '0' && kind.ends_with('0')) {
            kind.push(c);
        }
    }
    kind
}

/// One page of each kind that links lead to, the first one first.
pub(crate) async fn all_pages(browser: &Browser, base: &str, start: &str) -> Vec<Found> {
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

/// The pages that links lead an instructor of the demo to: the same ones on every server.
pub(crate) async fn instructor_pages(browser: &Browser, base: &str) -> &'static [Found] {
    static PAGES: OnceCell<Vec<Found>> = OnceCell::const_new();
    PAGES
        .get_or_init(async || all_pages(browser, base, "/").await)
        .await
}

pub(crate) async fn signed_in() -> (Server, Browser) {
    let server = Server::demo();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    browser.press("Sign in").await;
    (server, browser)
}

/// A name for a file, with another one for what links of the demo have made up by chance.
fn name_of(path: &str) -> String {
    let safe = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    let name: String = path.trim_start_matches('/').chars().map(safe).collect();
    match (path.get(..3), path.split_once('?')) {
        (Some("/a/" | "/h/"), view) => {
            let view = view.map_or("", |(_, view)| view);
            format!("link{}{}", &name[..1], view.replace(['=', '&'], "-"))
        }
        _ => name,
    }
}

#[tokio::test]
async fn every_page_is_sound_at_every_size_in_light_and_dark() {
    let (server, browser) = signed_in().await;
    let own = instructor_pages(&browser, &server.base).await;
    assert!(own.len() >= LEAST_PAGES, "{} pages", own.len());
    let mut shared = Vec::new();
    for link in [&server.attendees, &server.host] {
        let path = link.strip_prefix(&server.base).unwrap();
        // With all switches of the phone page, as it links to them.
        shared.extend(all_pages(&browser, &server.base, path).await);
    }
    let mut soundness = Soundness::new();
    for page in own.iter().chain(&shared) {
        let name = format!("page-{}", name_of(&page.path));
        browser.goto(&format!("{}{}", server.base, page.path)).await;
        soundness.look(&browser, &name).await;
        soundness.read(&name, &page.source);
    }
    soundness.assert();
}
