//! Words inside pictures are as large as the words around them have to be: on paper 12 points, 14
//! in large print (RNIB, clear print guidelines), on a phone 12 px at 360 px width.

use serde_json::json;

use crate::browser::Browser;
use crate::on_paper::demo;
use crate::printed::{A4, LETTER, squeezed};

/// The type size of each word in a picture, in CSS px as it is shown, the smallest first.
const SIZES: &str = "return [...document.querySelectorAll('svg.pic text')] \
     .filter((t) => t.getClientRects().length).map((t) => \
     [parseFloat(getComputedStyle(t).fontSize) * t.ownerSVGElement.getScreenCTM().a, t.textContent]) \
     .sort((a, b) => a[0] - b[0])";
/// A CSS px is 1/96 in, a point 1/72.
const PX: f64 = 96.0 / 72.0;
/// What a printer's page holds within the margins, in CSS px: A4 and Letter.
const WITHIN_MARGINS: [(u32, u32); 2] = [(703, 1017), (725, 950)];
/// The same where 4 cards share it.
const WITHIN_NARROW_MARGINS: [(u32, u32); 2] = [(725, 1047), (748, 980)];

/// No word in a picture is smaller, and there are some.
async fn all_at_least(browser: &Browser, least_px: f64, what: &str) {
    let sizes = browser.run(SIZES).await;
    let sizes = sizes.as_array().unwrap();
    let small: Vec<_> = sizes
        .iter()
        .take_while(|word| word[0].as_f64().unwrap() < least_px - 0.05)
        .collect();
    // The one page of a project of several pieces leaves them out.
    let has_words = !what.contains("/sheet");
    assert!(!sizes.is_empty() || !has_words, "{what}: no words");
    assert!(small.is_empty(), "{what}, least {least_px} px: {small:?}");
}

#[tokio::test]
async fn words_in_pictures_are_large_enough_wherever_they_are_printed() {
    let (server, browser, class) = demo().await;
    let cards = |query: &str| format!("{class}/packet/cards?{query}");
    let wide = WITHIN_MARGINS;
    for (url, least, pages) in [
        (cards("per_page=1"), 12.0, wide),
        (cards("per_page=2"), 12.0, wide),
        (cards("per_page=4"), 12.0, WITHIN_NARROW_MARGINS),
        (cards("per_page=4&hand=left"), 12.0, WITHIN_NARROW_MARGINS),
        (cards("per_page=1&print=large"), 14.0, wide),
        (cards("per_page=2&print=large"), 14.0, wide),
        (format!("{class}/packet/cuts"), 12.0, wide),
        (format!("{class}/packet/prep"), 12.0, wide),
        (format!("{}/projects/1/sheet", server.base), 12.0, wide),
        (server.attendees.clone(), 12.0, wide),
        (format!("{}?print=large", server.attendees), 14.0, wide),
    ] {
        browser.goto_planned(&url).await;
        let media = |name| json!({"media": name});
        browser
            .send("Emulation.setEmulatedMedia", media("print"))
            .await;
        for (width, height) in pages {
            browser.set_size(width, height).await;
            all_at_least(&browser, least * PX, &format!("{url} {width} px wide")).await;
        }
        browser.send("Emulation.setEmulatedMedia", media("")).await;
        browser.set_size(1280, 900).await;
    }
}

#[tokio::test]
async fn words_in_pictures_are_large_enough_on_a_phone() {
    let (server, browser, _) = demo().await;
    for query in ["", "?print=large", "?hand=left", "?units=other"] {
        browser.goto(&format!("{}{query}", server.attendees)).await;
        for (width, height) in [(360, 640), (360, 800), (390, 844)] {
            browser.set_size(width, height).await;
            all_at_least(&browser, 12.0, &format!("phone{query}, {width} x {height}")).await;
        }
    }
}

/// The same on the print-out itself, for every word of the cards: only the foot of a card, the
/// number of the page and the figures of a fraction are smaller.
#[tokio::test]
async fn nothing_on_a_printed_card_but_its_foot_is_smaller_than_12_points() {
    let (_server, browser, class) = demo().await;
    for (query, number_points) in [
        ("per_page=1", 15.0),
        ("per_page=2", 12.0),
        ("per_page=4", 12.0),
        ("per_page=2&print=large", 14.0),
    ] {
        browser.goto(&format!("{class}/packet/cards?{query}")).await;
        let least = if query.contains("large") { 14.0 } else { 12.0 };
        let foot = browser
            .run("return document.querySelector('.card-foot').textContent")
            .await;
        let foot = squeezed(foot.as_str().unwrap());
        for paper in [A4, LETTER] {
            let printed = browser.print("words", paper).await;
            let words = printed.words();
            // "Step 1 of 29": its size is that of the card.
            let step = words.iter().find(|(word, _)| word == "Step").unwrap();
            let points = |high: f64| high / step.1 * number_points;
            let is_foot = |word: &str| foot.contains(word) || word == "Page" || word == "of";
            let is_figure =
                |word: &str| word.chars().all(|c| c.is_ascii_digit() || "/⁄".contains(c));
            let small: Vec<_> = words
                .iter()
                .map(|(word, high)| (word, points(*high)))
                .filter(|(word, size)| *size < least - 0.1 && !is_figure(word))
                .filter(|(word, size)| *size > 10.1 || !is_foot(word))
                .collect();
            assert!(words.len() > 500 && small.is_empty(), "{query}: {small:?}");
        }
    }
}
