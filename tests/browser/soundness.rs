//! A page as it stands in the window, held against every checker, and kept to be looked at.

use std::collections::BTreeMap;

use crate::browser::{Browser, keeps_screens};
use crate::checkers::{clipped_when_spaced, markup_errors, nothing, violations};

/// What is wrong with the pages that were looked at.
pub(crate) struct Soundness {
    wrong: BTreeMap<String, Vec<String>>,
    sources: tempfile::TempDir,
}

impl Soundness {
    pub(crate) fn new() -> Self {
        Self {
            wrong: BTreeMap::new(),
            sources: tempfile::tempdir().unwrap(),
        }
    }

    /// The page in the window, with everything unfolded: WCAG 2.2 AA as axe-core checks it, light
    /// and dark, 1.4.10 (320 px), 1.4.4 (200 %: a window of half the width) and 1.4.12.
    pub(crate) async fn look(&mut self, browser: &Browser, name: &str) {
        let source = browser.driver.source().await.unwrap();
        self.read(name, &format!("<!DOCTYPE html>{source}"));
        keep_screens(browser, name).await;
        browser.unfold().await;
        for (width, scheme) in [(1280, "light"), (360, "dark")] {
            browser.set_size(width, 800).await;
            browser.set_scheme(scheme).await;
            for said in violations(browser).await {
                self.add(name, format!("{width} {scheme}: {said}"));
            }
        }
        for width in [640, 320] {
            browser.set_size(width, 640).await;
            let wider = browser.overflow().await;
            if wider > 0 {
                self.add(name, format!("{wider} px wider than {width}"));
            }
        }
        let clipped = clipped_when_spaced(browser).await;
        if clipped != nothing() {
            self.add(name, format!("spaced: {clipped}"));
        }
        browser.set_size(1280, 900).await;
    }

    /// Source for the checker of HTML, in place of what the browser made of it.
    pub(crate) fn read(&self, name: &str, source: &str) {
        let file = self.sources.path().join(format!("{name}.html"));
        std::fs::write(file, source).unwrap();
    }

    fn add(&mut self, name: &str, what: String) {
        self.wrong.entry(name.to_owned()).or_default().push(what);
    }

    /// Nothing was wrong, and the Nu HTML checker has nothing to say.
    pub(crate) fn assert(self) {
        let markup = markup_errors(self.sources.path());
        assert!(
            self.wrong.is_empty() && markup.is_empty(),
            "{:#?}\n{markup}",
            self.wrong
        );
    }
}

/// The page as it opens on a phone, a tablet and a laptop.
async fn keep_screens(browser: &Browser, name: &str) {
    if !keeps_screens() {
        return;
    }
    for width in [360, 768, 1280] {
        browser.set_size(width, 800).await;
        for scheme in ["light", "dark"] {
            browser.set_scheme(scheme).await;
            browser
                .screenshot(&format!("{name}-{width}-{scheme}"))
                .await;
        }
    }
}
