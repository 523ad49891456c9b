//! A new instructor's walk: from an empty database to a printed packet for an idea of their own,
//! without reading anything but the pages.

use crate::browser::Browser;
use crate::server::Server;

/// The most pages with a form that the walk may take.
const MOST_FORMS: usize = 8;
const SEATS: usize = 3;
/// What one kit of this idea holds: a box sheet, a band, a tag on a mat.
const PARTS: [&str; 4] = ["box sheet", "band", "tag", "tag mat"];

struct Walk {
    browser: Browser,
    base: String,
    forms: usize,
}

impl Walk {
    /// Fills in the form on this page and sends it with the button that says `press`.
    async fn form(&mut self, fields: &[(&str, &str)], press: &str) {
        self.forms += 1;
        let name = format!("walk-{}", self.forms);
        self.browser.screenshot(&name).await;
        for (field, text) in fields {
            self.browser.enter(field, text).await;
        }
        self.browser.press(press).await;
        let text = self.browser.text().await;
        assert!(!text.contains("another look"), "{press}: {text}");
    }

    async fn printed(&self, path: &str, name: &str) -> String {
        self.browser.goto(&format!("{}{path}", self.base)).await;
        self.browser.printed_text(name).await
    }
}

#[tokio::test]
async fn a_new_instructor_prints_a_packet_for_an_own_idea_in_8_forms_at_most() {
    let server = Server::with_empty_database();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    let base = server.base.clone();
    let mut walk = Walk {
        browser,
        base,
        forms: 0,
    };
    plan(&mut walk).await;
    assert!(walk.forms <= MOST_FORMS, "{} forms", walk.forms);
    let mut text = walk.browser.text().await;
    // On a busy machine the page says first that it plans, and comes back by itself.
    for _ in 0..30 {
        if !text.contains("Planning the cuts") {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_secs(1)).await;
        text = walk.browser.text().await;
    }
    assert!(text.contains("The packet balances"), "{text}");
    walk.browser.screenshot("walk-class").await;

    let class = walk.browser.address().await;
    let class = class
        .trim_start_matches(&walk.base)
        .split('?')
        .next()
        .unwrap_or("")
        .to_owned();
    packs_hold_every_part(&walk, &class).await;
    lists_name_every_part(&walk, &class).await;
}

/// The forms: who you are, your bench, your idea, your class.
async fn plan(walk: &mut Walk) {
    walk.form(
        &[("name", "Ines"), ("password", "four paper seed tins")],
        "Start",
    )
    .await;
    walk.browser.follow("Set up your bench").await;
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
    walk.browser.follow("Start a project").await;
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
    walk.browser.follow("Plan a class").await;
    let class = [
        ("title", "Honey morning"),
        ("date", "2027-03-06"),
        ("starts", "10:00"),
        ("place", "Village hall"),
        ("attendees", "3"),
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
