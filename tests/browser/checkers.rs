//! Checkers of others: axe-core for accessibility, the Nu HTML checker for markup, and rows of
//! WCAG 2.2 that a script can measure.

use std::path::PathBuf;
use std::process::Command;

use serde_json::{Value, json};

use crate::browser::Browser;

fn tool(path: &str) -> PathBuf {
    // Beside the folder that cargo gives tests.
    let npm = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("../npm/node_modules");
    let file = npm.join(path);
    assert!(
        file.exists(),
        "{} is missing: run tests/all.sh once, which installs it",
        file.display()
    );
    file
}

/// What axe-core finds wrong with the page: rule, how bad, where. Also WCAG 2.2, 2.5.8 (targets of
/// 24 px), which it leaves off.
pub(crate) async fn violations(browser: &Browser) -> Vec<String> {
    // Half a megabyte, which stays as long as the page does.
    if browser.run("return !window.axe").await == true {
        let source = std::fs::read_to_string(tool("axe-core/axe.min.js")).unwrap();
        browser.run(&source).await;
    }
    let found = browser
        .wait_for(
            "const found = await window.axe.run(document, {resultTypes: ['violations'], rules: {'target-size': {enabled: true}}}); \
             return found.violations.map((v) => v.id + ': ' + v.help + ' ' + \
                 v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + ' (' + (n.failureSummary || '') + ')').join(' | '))",
            vec![],
        )
        .await;
    let list = found.as_array().unwrap_or_else(|| panic!("axe: {found}"));
    list.iter()
        .map(|one| one.as_str().unwrap().to_owned())
        .collect()
}

/// What the Nu HTML checker says against these files.
pub(crate) fn markup_errors(folder: &std::path::Path) -> String {
    let run = Command::new("java")
        .arg("-jar")
        .arg(tool("vnu-jar/build/dist/vnu.jar"))
        .args([
            "--format",
            "gnu",
            "--stdout",
            "--exit-zero-always",
            "--skip-non-html",
        ])
        .arg(folder)
        .output();
    let run = run.unwrap_or_else(|error| panic!("no java: {error}. Install default-jre-headless."));
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    let said = String::from_utf8(run.stdout).unwrap();
    let own = said.lines().filter(|line| !line.trim().is_empty());
    own.collect::<Vec<_>>().join("\n")
}

/// WCAG 2.2, 1.4.12: with more space between letters, words, lines and paragraphs nothing is cut
/// off. Gives what is.
pub(crate) async fn clipped_when_spaced(browser: &Browser) -> Value {
    browser
        .run(
            "const sheet = new CSSStyleSheet(), own = document.adoptedStyleSheets; \
             sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: .12em !important; \
                word-spacing: .16em !important } p { margin-bottom: 2em !important }'); \
             document.adoptedStyleSheets = [...own, sheet]; \
             const clips = (e) => { const s = getComputedStyle(e); \
                return [s.overflowX, s.overflowY].some((o) => o === 'hidden' || o === 'clip') }; \
             const found = [...document.querySelectorAll('body *')].filter((e) => clips(e) \
                && !e.closest('.hide, .samples, svg, input, textarea') \
                && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)) \
                .map((e) => e.outerHTML.slice(0, 120)); \
             const page = document.documentElement, wide = page.scrollWidth - page.clientWidth; \
             document.adoptedStyleSheets = own; \
             return wide > 0 ? [...found, 'wider by ' + wide] : found",
        )
        .await
}

/// Links, buttons and fields that are smaller than `least` CSS pixels either way. A link within a
/// sentence is exempt (WCAG 2.2, 2.5.8, inline); a field counts with its label.
pub(crate) async fn small_targets(browser: &Browser, least: u32) -> Value {
    let script = format!(
        "return [...document.querySelectorAll('a[href], button, input, select, summary')] \
         .filter((e) => e.type !== 'hidden' && e.getClientRects().length && !e.closest('.hide, .skip')) \
         .map((e) => [e, (e.closest('label') || e).getBoundingClientRect()]) \
         .filter(([, r]) => r.width && (r.width < {least} - .5 || r.height < {least} - .5)) \
         .map(([e, r]) => e.outerHTML.slice(0, 100) + ' ' + Math.round(r.width) + 'x' + Math.round(r.height))"
    );
    browser.run(&script).await
}

/// Nothing, as a script gives it.
pub(crate) fn nothing() -> Value {
    json!([])
}
