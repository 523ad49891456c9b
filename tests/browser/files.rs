//! Files for the printer, as the browser gets them from the links and forms of the pages.

use data_encoding::BASE64;
use serde_json::{Value, json};
use tablefold::urls;

use crate::browser::Browser;
use crate::every_page::signed_in;
use crate::printed::{A4, LETTER, Printed, squeezed};

/// A grid of 12 labels that fits A4 and Letter.
const GRID: &str = "tables=3&columns=2&rows=6&left=10 mm&top=12 mm&width=95 mm&height=40 mm\
    &across=0&down=0&first=1&outline=yes";

/// What lies behind an address of the page in the window.
async fn fetched(browser: &Browser, url: &str) -> Printed {
    let got = browser
        .wait_for(
            "const answer = await fetch(given[0]); \
             const bytes = new Uint8Array(await answer.arrayBuffer()); \
             return [answer.status, answer.headers.get('content-type'), bytes.toBase64()]",
            vec![json!(url)],
        )
        .await;
    assert_eq!(got[0], 200, "{url}");
    assert_eq!(got[1], "application/pdf", "{url}");
    Printed::new(&BASE64.decode(got[2].as_str().unwrap().as_bytes()).unwrap())
}

/// What the code on a label of [`GRID`] says, read at 300 dpi with nothing but that label in
/// sight: corners of neighbours may look like a code that there is not.
fn code_on(raster: &(usize, Vec<u8>), at: usize) -> Option<String> {
    let dots = |mm: usize| (mm as f64 / 25.4 * 300.0).round() as usize;
    let (left, top) = (dots(10 + 95 * (at % 2)), dots(12 + 40 * (at / 2)));
    let (width, grey) = raster;
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(dots(95), dots(40), |x, y| {
        grey[(top + y) * width + left + x]
    });
    let found = image.detect_grids();
    let read = found.iter().find_map(|grid| grid.decode().ok());
    read.map(|(_, text)| text)
}

/// Pages of ours ask for nothing by script, and are told so; these tests do.
async fn bypass(browser: &Browser) {
    browser
        .send("Page.setBypassCSP", json!({"enabled": true}))
        .await;
}

/// Labels are checked against the picture of their sheet on the page, which says how many there are.
#[tokio::test]
async fn sheets_of_labels_are_as_their_page_shows_them() {
    let (server, browser) = signed_in().await;
    bypass(&browser).await;
    for (paper, size) in [("a4", A4), ("letter", LETTER)] {
        for (what, coded) in [("packs", true), ("tables", true), ("tools", false)] {
            let page = urls::class_labels(1);
            let url = format!("{}{page}?what={what}&paper={paper}&{GRID}", server.base);
            browser.goto_planned(&url).await;
            let shown = browser
                .run(
                    "const look = document.querySelector('.look'); \
                     return [look.querySelector('h2').textContent, look.querySelector('a.button').href, \
                       [...look.querySelectorAll('svg text')].map((t) => t.textContent)]",
                )
                .await;
            // "17 labels on 2 sheets"
            let numbers = shown[0].as_str().unwrap().split(' ');
            let numbers: Vec<usize> = numbers.filter_map(|word| word.parse().ok()).collect();
            let labels = numbers[0];
            let sheets = numbers.get(1).copied().unwrap_or(1);
            let printed = fetched(&browser, shown[1].as_str().unwrap()).await;
            printed.assert_size(size);
            let pages = printed.pages();
            assert_eq!(pages.len(), sheets, "{what} {paper}: {shown}");
            let words = shown[2].as_array().unwrap();
            assert!(words.len() >= labels.min(12), "{shown}");
            for word in words.iter().filter_map(Value::as_str) {
                assert!(
                    pages[0].contains(&squeezed(word)),
                    "no {word} on {}",
                    pages[0]
                );
            }
            for page in 0..sheets {
                let raster = printed.raster(page + 1, 300);
                for at in 0..(labels - page * 12).min(12) {
                    let meant = coded.then(|| server.attendees.clone());
                    assert_eq!(code_on(&raster, at), meant, "{what} {paper}, {page}: {at}");
                }
            }
        }
    }
}

/// Templates come from the form on the page of a project.
#[tokio::test]
async fn templates_are_numbered_sheets_of_the_paper_that_was_chosen() {
    let (server, browser) = signed_in().await;
    bypass(&browser).await;
    browser
        .goto(&format!("{}{}", server.base, urls::project(1)))
        .await;
    let pieces = ["Seed box", "Seed envelope"];
    let address = "const form = document.querySelector('#templates form'); \
        return form.action + '?' + new URLSearchParams(new FormData(form))";
    let mut counts = Vec::new();
    for (paper, size) in [("a4", A4), ("letter", LETTER)] {
        for lines in ["together", "apart"] {
            browser.enter("paper", paper).await;
            browser.enter("lines", lines).await;
            let address = browser.run(address).await;
            let printed = fetched(&browser, address.as_str().unwrap()).await;
            printed.assert_size(size);
            let pages = printed.pages();
            for (at, page) in pages.iter().enumerate() {
                let number = format!("page{}of{}", at + 1, pages.len());
                assert!(
                    page.contains(&number),
                    "{paper} {lines}: no {number} on {page}"
                );
                assert!(page.contains("100mm"), "{paper} {lines}: no bar on {page}");
            }
            for piece in pieces.map(squeezed) {
                assert!(pages.iter().any(|page| page.contains(&piece)), "no {piece}");
            }
            counts.push(pages.len());
        }
    }
    // Cuts and scores apart: a page for each, where a template has both.
    assert!(counts[1] > counts[0] && counts[3] > counts[2], "{counts:?}");
}
