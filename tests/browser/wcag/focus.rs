//! The keyboard alone, on one page: everything is reached, seen, left again, and nothing happens
//! by being reached.

use super::rows::{Rows, style};
use crate::browser::Browser;

/// What a Tab is to reach: one of a group of radio buttons, nothing that is folded away.
const STOPS: &str = "window.stops = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex=\"0\"]')] \
    .filter((e) => e.type !== 'hidden' && !e.disabled && e.checkVisibility({visibilityProperty: true}) \
      && !(e.type === 'radio' && !e.checked && document.querySelector(`[name=\"${e.name}\"]:checked`)));";

/// Notes after each key where the focus is, whether it shows (2.4.7), and whether anything lies
/// over all of it (2.4.11). The page has scrolled by the time a key comes up again. The button of a
/// calendar within a date is the browser's own, with a ring of its own.
const WATCH: &str = "const says = (e) => e.outerHTML.slice(0, 120); \
    window.seen = new Set(); window.unseen = new Set(); window.covered = new Set(); window.left = false; \
    window.here = location.href; \
    document.addEventListener('keyup', () => { \
      const e = document.activeElement; \
      if (!e || e === document.body) { window.left = true; return; } \
      if (window.seen.has(e) && e === window.stops[0] && window.seen.size > 1) window.left = true; \
      window.seen.add(e); \
      const s = getComputedStyle(e); \
      const own = /date|time/.test(e.type) && !e.matches(':focus'); \
      if (!own && (s.outlineStyle === 'none' || parseFloat(s.outlineWidth) < 2 || s.outlineColor === 'rgba(0, 0, 0, 0)')) window.unseen.add(says(e)); \
      const shows = [...e.getClientRects()].some((r) => [.1, .3, .5, .7, .9].some((x) => [.1, .5, .9].some((y) => { \
        const top = document.elementFromPoint(r.left + r.width * x, r.top + r.height * y); \
        return top && (e.contains(top) || top.contains(e)); }))); \
      if (!shows) window.covered.add(says(e)); \
    }, true); ";

const FOUND: &str = "const missed = window.stops.filter((e) => !window.seen.has(e)).map((e) => e.outerHTML.slice(0, 120)); \
    return [missed, [...window.unseen], [...window.covered], window.left, location.href === window.here]";

/// Goes through the page with the Tab key.
pub(super) async fn walk(browser: &Browser, page: &str, rows: &mut Rows) {
    browser.unfold().await;
    browser.run("window.scrollTo(0, 0)").await;
    let count = browser
        .run(&format!("{STOPS} {WATCH} return window.stops.length"))
        .await;
    // A date has up to 4 parts that a Tab stops at, a time 3.
    let parts = "return 4 * document.querySelectorAll('[type=date], [type=time]').length";
    let parts = browser.run(parts).await;
    let times = count.as_u64().unwrap() + parts.as_u64().unwrap() + 2;
    browser.tab(usize::try_from(times).unwrap()).await;
    let found = browser.run(FOUND).await;
    for (at, row) in ["2.1.1", "2.4.7", "2.4.11"].into_iter().enumerate() {
        let Some(list) = found[at].as_array() else {
            rows.add("3.2.1", page, "another page came up by itself");
            return;
        };
        for one in list {
            rows.add(row, page, one.as_str().unwrap());
        }
    }
    if found[3] == false {
        rows.add("2.1.2", page, "the focus does not leave it");
    }
    if found[4] == false {
        rows.add("3.2.1", page, "the address changed");
    }
}

/// What breaks each of these rows.
pub(super) fn spoilers() -> [(&'static str, String); 5] {
    let on_button = |script: &str| format!("const b = document.querySelector('button'); {script}");
    [
        ("2.1.1", on_button("b.tabIndex = -1")),
        (
            "2.1.2",
            on_button("b.addEventListener('keydown', (e) => e.preventDefault())"),
        ),
        ("2.4.7", style(":focus-visible { outline: 0 !important }")),
        (
            "2.4.11",
            style("form::after { content: ''; position: fixed; inset: 0; z-index: 9 }"),
        ),
        (
            "3.2.1",
            on_button("b.addEventListener('focus', () => { location.hash = 'on' })"),
        ),
    ]
}
