//! What a page may not do to those who enlarge it, point at it without holding it steady, or learn
//! where things are.

use serde_json::Value;

use super::rows::{Rows, style};
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
    "return [...document.querySelectorAll('.top a:not(.home)')].map((a) => a.textContent.trim())";

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

/// What breaks each of these rows.
pub(super) fn spoilers() -> [(&'static str, String); 5] {
    let tip = "label:hover::after { content: 'as on the terminal'; position: absolute }";
    let head = "document.querySelector('.top-inner').insertAdjacentHTML('beforeend', '<a href=/>Help</a>')";
    [
        ("1.4.10", style("form { width: 330px }")),
        ("1.4.12", style("h1 { height: 1.2em; overflow: hidden }")),
        ("1.4.13", style(tip)),
        (
            "2.5.7",
            "document.querySelector('button').draggable = true".to_owned(),
        ),
        ("3.2.3", head.to_owned()),
    ]
}
