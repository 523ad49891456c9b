//! A new instructor's walk: from an empty database to a printed packet for an idea of their own,
//! without reading anything but the pages.

use std::collections::BTreeSet;

use serde_json::json;

use crate::browser::Browser;
use crate::server::Server;

/// The most pages with a form that the walk may take.
const MOST_FORMS: usize = 8;
const SEATS: usize = 3;
/// What one kit of this idea holds: a box sheet, a band, a tag on a mat.
const PARTS: [&str; 4] = ["box sheet", "band", "tag", "tag mat"];

/// How the instructor steers the browser.
#[derive(Clone, Copy, PartialEq, Eq)]
enum By {
    Pointer,
    /// The same in a browser that runs no script.
    PointerWithoutScripts,
    /// Keys alone: WCAG 2.2, 2.1.1 and 2.1.2.
    Keys,
}

struct Walk {
    browser: Browser,
    base: String,
    by: By,
    forms: usize,
    /// All that was typed.
    typed: Vec<String>,
}

impl Walk {
    /// Fills in the form on this page and sends it with the button that says `press`.
    async fn form(&mut self, fields: &[(&str, &str)], press: &str) {
        self.forms += 1;
        let name = format!("walk-{}", self.forms);
        self.browser.screenshot(&name).await;
        for (field, text) in fields {
            self.typed.push((*text).to_owned());
            match self.by {
                By::Keys => self.browser.enter_by_keys(field, text).await,
                _ => self.browser.enter(field, text).await,
            }
        }
        self.go(press).await;
        let text = self.browser.text().await;
        assert!(!text.contains("another look"), "{press}: {text}");
    }

    /// Presses the button or follows the link that says so.
    async fn go(&self, label: &str) {
        let is_button = format!(
            "return [...document.querySelectorAll('button')].some((b) => b.textContent.trim() === '{label}')"
        );
        match self.by {
            By::Keys => self.browser.go_by_keys(label).await,
            _ if self.browser.run(&is_button).await == true => self.browser.press(label).await,
            _ => self.browser.follow(label).await,
        }
    }

    async fn printed(&self, path: &str, name: &str) -> String {
        self.browser.goto(&format!("{}{path}", self.base)).await;
        self.browser.printed_text(name).await
    }
}

#[tokio::test]
async fn a_new_instructor_prints_a_packet_for_an_own_idea_in_8_forms_at_most() {
    let server = Server::with_empty_database();
    let (walk, class) = walked(&server, By::Pointer).await;
    walk.browser.screenshot("walk-class").await;
    packs_hold_every_part(&walk, &class).await;
    lists_name_every_part(&walk, &class).await;
}

#[tokio::test]
async fn the_same_packet_is_printed_where_no_script_runs() {
    let server = Server::with_empty_database();
    let (walk, class) = walked(&server, By::PointerWithoutScripts).await;
    packs_hold_every_part(&walk, &class).await;
    lists_name_every_part(&walk, &class).await;
}

#[tokio::test]
async fn the_keyboard_alone_leads_to_the_same_packet() {
    let server = Server::with_empty_database();
    let (walk, class) = walked(&server, By::Keys).await;
    packs_hold_every_part(&walk, &class).await;
}

/// From the link on the terminal to a class whose packet balances: its path.
async fn walked(server: &Server, by: By) -> (Walk, String) {
    let browser = Browser::open(1280, 900).await;
    if by == By::PointerWithoutScripts {
        let off = json!({"value": true});
        browser
            .send("Emulation.setScriptExecutionDisabled", off)
            .await;
        browser
            .goto("data:text/html,<noscript>No script runs</noscript>")
            .await;
        assert_eq!(browser.text().await, "No script runs");
    }
    browser.goto(&server.link).await;
    let mut walk = Walk {
        browser,
        base: server.base.clone(),
        by,
        forms: 0,
        typed: Vec::new(),
    };
    plan(&mut walk).await;
    assert!(walk.forms <= MOST_FORMS, "{} forms", walk.forms);
    assert_eq!(typed_twice(&walk.typed), [] as [&str; 0]);
    let class = walk.browser.address().await;
    // On a busy machine the page says first that it plans.
    walk.browser.goto_planned(&class).await;
    let text = walk.browser.text().await;
    assert!(text.contains("The packet balances"), "{text}");
    let path = class.trim_start_matches(&walk.base).split('?').next();
    let path = path.unwrap_or_default().to_owned();
    (walk, path)
}

/// WCAG 2.2, 3.3.7 Redundant Entry: what was typed in one form is there in the next ones. A box
/// that is ticked is not typed.
fn typed_twice(typed: &[String]) -> Vec<&str> {
    let mut seen = BTreeSet::from(["on"]);
    let mut twice = Vec::new();
    for text in typed {
        if !seen.insert(text) && text != "on" {
            twice.push(text.as_str());
        }
    }
    twice
}

/// The forms: who you are, your bench, your idea, your class.
async fn plan(walk: &mut Walk) {
    walk.form(
        &[("name", "Ines"), ("password", "four paper seed tins")],
        "Start",
    )
    .await;
    walk.go("Set up your bench").await;
    let bench = [
        ("unit", "mm"),
        ("notch_depth", "6 mm"),
        ("name", "Fern card"),
        ("size", "A4"),
        ("caliper", "0.3 mm"),
        ("price", "0.40"),
        ("on_hand", "5"),
    ];
    walk.form(&bench, "Set up").await;
    walk.browser.goto(&format!("{}/", walk.base)).await;
    walk.go("Start a project").await;
    let idea = [
        ("title", "Jars of honey"),
        ("makes", "3"),
        ("name", "Jar box"),
        ("contents_name", "small jar"),
        ("shape", "cylinder"),
        ("diameter", "38"),
        ("height", "50 mm"),
        ("band", "on"),
        ("tag", "circle"),
        ("tag_width", "25 mm"),
        ("mat_reveal", "3 mm"),
    ];
    walk.form(&idea, "Save").await;
    walk.browser.goto(&format!("{}/", walk.base)).await;
    walk.go("Plan a class").await;
    let class = [
        ("title", "Honey morning"),
        ("date", "2027-03-06"),
        ("starts", "10:00"),
        ("place", "Village hall"),
    ];
    walk.form(&class, "Plan the class").await;
}

/// One pack a page: each page has one seat and all its parts. The totals come last.
async fn packs_hold_every_part(walk: &Walk, class: &str) {
    let text = walk
        .printed(&format!("{class}/packet/packs?per_page=1"), "walk-packs")
        .await;
    let pages: Vec<&str> = text
        .split('\u{c}')
        .filter(|page| !page.trim().is_empty())
        .collect();
    assert_eq!(
        pages.len(),
        SEATS + 1,
        "one page for each pack, and one for the totals: {text}"
    );
    for (n, page) in pages.iter().take(SEATS).enumerate() {
        assert!(page.contains(&format!("Seat {}", n + 1)), "{page}");
        assert!(page.contains("Honey morning"), "no running head: {page}");
        for part in PARTS {
            assert!(
                page.contains(&format!("Jar box: {part}")),
                "no {part} on {page}"
            );
        }
        assert!(page.contains("Fern card"), "{page}");
    }
}

async fn lists_name_every_part(walk: &Walk, class: &str) {
    let prep = walk
        .printed(&format!("{class}/packet/prep"), "walk-prep")
        .await;
    for what in [
        "Fern card",
        "Jar box: box sheet",
        "Jar box: band",
        "Jar box: tag mat",
    ] {
        assert!(
            prep.contains(what),
            "no {what} on the kit-prep list: {prep}"
        );
    }
    let cuts = walk
        .printed(&format!("{class}/packet/cuts"), "walk-cuts")
        .await;
    for what in ["Fern card", "Jar box: box sheet", "Fence at", "Left over"] {
        assert!(cuts.contains(what), "no {what} on the cut cards: {cuts}");
    }
    let host = walk
        .printed(&format!("{class}/packet/host"), "walk-host")
        .await;
    for what in ["Village hall", "Seat 3", "punch board", "Caution"] {
        assert!(host.contains(what), "no {what} on the host's list: {host}");
    }
    let cards = walk
        .printed(&format!("{class}/packet/cards"), "walk-cards")
        .await;
    for what in ["Punch side 1 again", "small jar", "Put the band round"] {
        assert!(cards.contains(what), "no {what} on the step cards: {cards}");
    }
}
