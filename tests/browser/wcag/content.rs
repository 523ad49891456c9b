//! What a page may not do to those who enlarge it, point at it without holding it steady, or learn
//! where things are.

use serde_json::Value;

use super::rows::{Rows, spoilt, style};
use crate::browser::Browser;
use crate::checkers::clipped_when_spaced;

/// 2.5.7: nothing is dragged: no such element, no listener for a movement, no slider.
const DRAGGED: &str = "const ways = ['draggable', 'ondragstart', 'ondrag', 'ondrop', 'onpointermove', 'onmousemove', 'ontouchmove']; \
    return [...document.querySelectorAll('*')].filter((e) => ways.some((way) => e.hasAttribute(way) || typeof e[way] === 'function') || e.type === 'range') \
      .map((e) => e.outerHTML.slice(0, 120))";

/// 1.4.13: no rule shows, hides or moves anything when it is pointed at or reached; the link that
/// skips the head is itself what is reached.
const APPEARS: &str = "const moves = ['display', 'visibility', 'opacity', 'content', 'position', 'top', 'left', 'right', 'bottom', 'inset', \
      'clip-path', 'transform', 'width', 'height', 'max-height', 'overflow', 'font-size']; \
    const rules = (list) => [...list].flatMap((r) => r.cssRules && r.cssRules.length ? [r, ...rules(r.cssRules)] : [r]); \
    return [...document.styleSheets, ...document.adoptedStyleSheets].flatMap((s) => rules(s.cssRules)) \
      .filter((r) => r.selectorText && /:(hover|focus)/.test(r.selectorText) && r.selectorText !== '.skip:focus') \
      .filter((r) => [...r.style].some((p) => moves.includes(p))).map((r) => r.cssText)";

/// 3.2.3: the same links in the same order at the head of every page.
const HEAD: &str =
    "return [...document.querySelectorAll('.top nav a')].map((a) => a.textContent.trim())";

/// The links at the head of every page of an instructor.
const LINKS: [&str; 4] = ["Bench", "Projects", "Classes", "Account"];

/// Looks at the page in the window.
pub(super) async fn look(browser: &Browser, page: &str, rows: &mut Rows) {
    for (row, script) in [("2.5.7", DRAGGED), ("1.4.13", APPEARS)] {
        add_all(rows, row, page, &browser.run(script).await);
    }
    let head = browser.run(HEAD).await;
    let is_private = head.as_array().is_some_and(|links| !links.is_empty());
    if is_private && head != serde_json::json!(LINKS) {
        rows.add("3.2.3", page, &head.to_string());
    }
    browser.unfold().await;
    browser.set_size(320, 640).await;
    let wider = browser.overflow().await;
    if wider > 0 {
        rows.add("1.4.10", page, &format!("{wider} px wider than 320"));
    }
    add_all(rows, "1.4.12", page, &clipped_when_spaced(browser).await);
    browser.set_size(360, 640).await;
}

fn add_all(rows: &mut Rows, row: &'static str, page: &str, found: &Value) {
    for one in found.as_array().unwrap() {
        rows.add(row, page, one.as_str().unwrap());
    }
}

/// 1.4.10 Reflow.
#[tokio::test]
async fn a_page_wider_than_320_pixels_is_found() {
    let rows = spoilt(&style("form { width: 330px }")).await;
    assert!(rows.breaks("1.4.10"), "{rows:?}");
}

/// 1.4.12 Text Spacing.
#[tokio::test]
async fn words_cut_off_when_they_are_spaced_are_found() {
    let rows = spoilt(&style("h1 { height: 1.2em; overflow: hidden }")).await;
    assert!(rows.breaks("1.4.12"), "{rows:?}");
}

/// 1.4.13 Content on Hover or Focus.
#[tokio::test]
async fn what_appears_when_it_is_pointed_at_is_found() {
    let tip = "label:hover::after { content: 'as on the terminal'; position: absolute }";
    let rows = spoilt(&style(tip)).await;
    assert!(rows.breaks("1.4.13"), "{rows:?}");
}

/// 2.5.7 Dragging Movements.
#[tokio::test]
async fn what_has_to_be_dragged_is_found() {
    let rows = spoilt("document.querySelector('button').draggable = true").await;
    assert!(rows.breaks("2.5.7"), "{rows:?}");
}
