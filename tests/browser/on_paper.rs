//! All that is printed, on A4 and on Letter: nothing cut off, nothing split, no blank page.

use serde_json::json;

use crate::browser::Browser;
use crate::printed::{A4, LETTER, Printed, squeezed};
use crate::server::Server;
use crate::soundness::Soundness;

/// What is printed of the demo's class, and words that must be on it.
const VIEWS: [(&str, &str); 11] = [
    ("packet", "It balances"),
    ("packet/prep", "Kit-prep list"),
    ("packet/cuts", "Fence at"),
    ("packet/shopping", "Shopping list"),
    ("packet/packs", "All packs together"),
    ("packet/packs?per_page=1", "All packs together"),
    ("packet/host", "Tools on the tables"),
    ("packet/cards", "Step 1 of"),
    ("packet/cards?per_page=1", "Step 1 of"),
    ("packet/cards?per_page=4&hand=left", "Step 1 of"),
    ("poster", "All steps on your phone"),
];

/// Marks both ends of whatever must not be split with a word of its own, too small to move anything,
/// and says how many there are.
const MARK_KEPT: &str = "const words = (e) => { const walk = document.createTreeWalker(e, NodeFilter.SHOW_TEXT, \
      (n) => n.textContent.trim() && !n.parentElement.closest('svg, form, .hide, .screen-only, summary, .running, .moves, .card-foot, .tick, .frac') \
        ? NodeFilter.FILTER_ACCEPT : NodeFilter.FILTER_REJECT); \
      const all = []; while (walk.nextNode()) all.push(walk.currentNode); return all; }; \
    const mark = (text) => { const span = document.createElement('span'); span.textContent = text; \
      span.style = 'position: absolute; font: 1px sans-serif'; return span; }; \
    const kept = [...document.querySelectorAll('.keep')].map(words).filter((all) => all.length > 1); \
    kept.forEach((all, n) => { all[0].before(mark(`q${n}from`)); all[all.length - 1].after(mark(`q${n}to`)); }); \
    return kept.map((all) => all[0].textContent.trim())";

pub(crate) async fn demo() -> (Server, Browser, String) {
    let server = Server::demo();
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    browser.press("Sign in").await;
    let class = format!("{}/classes/1", server.base);
    // The plans first: a page that waits for them is another page.
    browser.goto_planned(&class).await;
    (server, browser, class)
}

/// CSS Paged Media Module Level 3 for the sizes; ISO 32000-2, 8.3.2.3: a point is 1/72 in.
#[tokio::test]
async fn every_list_prints_whole_on_a4_and_letter() {
    let (server, browser, class) = demo().await;
    let mut views: Vec<(String, String)> = VIEWS
        .iter()
        .map(|(path, words)| (format!("{class}/{path}"), (*words).to_owned()))
        .collect();
    views.push((
        format!("{}/projects/1/sheet", server.base),
        "Cut for one kit".to_owned(),
    ));
    views.push((server.attendees.clone(), "That is all of it".to_owned()));
    views.push((server.host.clone(), "What is in each pack".to_owned()));
    for (url, words) in views {
        prints_whole(&browser, &url, &words, "print").await;
    }
}

/// The page at this address comes out whole on both sizes of paper, with these words on it.
pub(crate) async fn prints_whole(browser: &Browser, url: &str, words: &str, name: &str) {
    browser.goto_planned(url).await;
    let head = browser
        .run("const head = document.querySelector('.running, .card-foot'); return head && head.textContent")
        .await;
    let head = head.as_str().map(squeezed);
    let has_one = head.as_ref().is_some_and(|head| head.contains("2026"));
    assert!(has_one || !url.contains("/packet"), "{url}: {head:?}");
    no_wider_than_the_paper(browser, url).await;
    let kept = browser.run(MARK_KEPT).await;
    let kept = kept.as_array().unwrap();
    let view = url.rsplit('/').next().unwrap();
    let view = view.replace(['?', '&', '='], "-");
    for (size, paper) in [("a4", A4), ("letter", LETTER)] {
        let printed = browser.print(&format!("{name}-{view}-{size}"), paper).await;
        printed.assert_size(paper);
        let pages = printed.pages();
        let count = pages.len();
        for (n, page) in pages.iter().enumerate() {
            let foot = squeezed(&format!("Page {} of {count}", n + 1));
            assert!(page.contains(&foot), "{url} {size}, page {}: {page}", n + 1);
            assert!(
                head.as_ref().is_none_or(|head| page.contains(head)),
                "{url} {size}, page {}: no {head:?}",
                n + 1
            );
            assert!(
                page.len() > foot.len() + head.as_ref().map_or(0, String::len) + 60,
                "{url} {size}: page {} is blank",
                n + 1
            );
        }
        assert!(
            pages.iter().any(|page| page.contains(&squeezed(words))),
            "{url} {size}: no {words}"
        );
        for (n, first) in kept.iter().enumerate() {
            let ends = [format!("q{n}from"), format!("q{n}to")];
            let is_whole = |page: &String| ends.iter().all(|end| page.contains(end.as_str()));
            assert!(pages.iter().any(is_whole), "{url} {size}: {first} is split");
        }
    }
}

/// What an A4 page and a Letter page hold within the margins of the style sheet, in CSS px.
const WITHIN_MARGINS: [(u32, u32); 2] = [(703, 1017), (725, 950)];

/// A script that lists faults finds none on either size of paper.
async fn faultless_on_paper(browser: &Browser, url: &str, faults: &str) {
    let media = |name| json!({"media": name});
    browser
        .send("Emulation.setEmulatedMedia", media("print"))
        .await;
    for (width, height) in WITHIN_MARGINS {
        browser.set_size(width, height).await;
        let found = browser.run(faults).await;
        assert_eq!(found, json!([]), "{url} on paper {width} px wide");
    }
    browser.send("Emulation.setEmulatedMedia", media("")).await;
    browser.set_size(1280, 900).await;
}

pub(crate) async fn no_wider_than_the_paper(browser: &Browser, url: &str) {
    let wide = "return [...document.querySelectorAll('main *')] \
        .filter((e) => e.getClientRects().length && e.getBoundingClientRect().right > innerWidth + 1) \
        .filter((e) => !e.children.length).map((e) => e.parentElement.outerHTML.slice(0, 190)).slice(0, 5)";
    faultless_on_paper(browser, url, wide).await;
}

/// Two projects in one class: longer lists, two headings in the contents, pieces of both.
#[tokio::test]
async fn a_class_of_two_projects_prints_whole_and_is_sound_on_screens() {
    let (server, browser, class) = demo().await;
    second_project(&browser, &server.base).await;
    browser.goto(&format!("{class}/edit")).await;
    browser.enter("also", "Seed-swap cards").await;
    browser.press("Save").await;
    browser.goto_planned(&class).await;
    browser.press("Publish").await;
    let mut soundness = Soundness::new();
    for (name, url) in [
        ("class", class.clone()),
        ("edit", format!("{class}/edit")),
        ("prep", format!("{class}/packet/prep")),
        ("cards", format!("{class}/packet/cards")),
        ("poster", format!("{class}/poster")),
        ("classes", format!("{}/classes", server.base)),
        ("phone", server.attendees.clone()),
        ("host", server.host.clone()),
    ] {
        browser.goto_planned(&url).await;
        soundness.look(&browser, &format!("two-{name}")).await;
    }
    let grow = ["prep", "cuts", "packs", "host", "hand=left", "poster"];
    for (path, words) in VIEWS {
        if grow.iter().any(|view| path.ends_with(view)) {
            prints_whole(&browser, &format!("{class}/{path}"), words, "two").await;
        }
    }
    soundness.assert();
}

/// The demo's class can make this one too.
async fn second_project(browser: &Browser, base: &str) {
    browser.goto(&format!("{base}/projects/new")).await;
    for (field, text) in [
        ("title", "Seed-swap cards"),
        ("makes", "14"),
        ("name", "Gift card"),
        ("structure", "card"),
        ("contents_name", "sowing slip"),
        ("shape", "block"),
        ("width", "100 mm"),
        ("depth", "1 mm"),
        ("height", "70 mm"),
    ] {
        browser.enter(field, text).await;
    }
    browser.press("Save").await;
    let text = browser.text().await;
    assert!(text.contains("Gift card"), "{text}");
}

/// Ink on white paper whatever the screen looks like, even where the reader ticks that colours
/// behind the text are printed: the dark scheme prints as the light one does, dot for dot.
#[tokio::test]
async fn a_dark_screen_prints_black_on_white() {
    let (server, browser, class) = demo().await;
    let mut urls: Vec<String> = VIEWS.map(|(path, _)| format!("{class}/{path}")).into();
    urls.extend([
        format!("{class}/packet/cards?print=large"),
        format!("{}/projects/1/sheet", server.base),
        format!("{}?print=large", server.attendees),
        server.host.clone(),
    ]);
    for url in &urls {
        browser.goto(url).await;
        let looks = in_both_schemes(&browser).await;
        assert_eq!(looks[0].len(), looks[1].len(), "{url}");
        for (n, (light, dark)) in looks[0].iter().zip(&looks[1]).enumerate() {
            assert!(light == dark, "{url}, page {}: not as in the light", n + 1);
            let share = |is: fn(u8) -> bool| {
                let count = light.iter().filter(|grey| is(**grey)).count();
                count as f64 / light.len() as f64
            };
            let (white, black) = (share(|grey| grey >= 250), share(|grey| grey < 128));
            assert!(white > 0.5 && black < 0.2, "{url}: {white} {black}");
            assert!(light.iter().any(|grey| *grey < 80), "{url}: no ink");
        }
    }
    // A page that keeps its dark paper is found.
    browser
        .run(
            "const dark = new CSSStyleSheet(); document.adoptedStyleSheets = [dark]; \
            dark.replaceSync('@media (prefers-color-scheme: dark) { p { background: #222 } }')",
        )
        .await;
    let [light, dark] = in_both_schemes(&browser).await;
    assert_ne!(light, dark);
}

/// Each page as it is printed in the light and in the dark, in grey values.
async fn in_both_schemes(browser: &Browser) -> [Vec<Vec<u8>>; 2] {
    let mut looks = [Vec::new(), Vec::new()];
    for (look, scheme) in looks.iter_mut().zip(["light", "dark"]) {
        browser.set_scheme(scheme).await;
        let printed = browser.print_with(scheme, A4, true).await;
        let pages = 1..=printed.pages().len();
        *look = pages.map(|page| printed.raster(page, 40).1).collect();
    }
    looks
}

/// So many cards on each page, and each whole: the first and the last words of a card fit into it.
#[tokio::test]
async fn cards_fill_their_part_of_the_page_and_no_more() {
    let (_server, browser, class) = demo().await;
    for (print, layouts) in [("normal", &[1, 2, 4][..]), ("large", &[1, 2][..])] {
        for &per_page in layouts {
            let url = format!("{class}/packet/cards?print={print}&per_page={per_page}");
            browser.goto(&url).await;
            let pages = browser
                .print(&format!("cards-{per_page}-{print}"), A4)
                .await
                .pages();
            for (n, page) in pages.iter().enumerate() {
                let on_it = page.matches("Step").count();
                let is_last = n + 1 == pages.len();
                assert!(
                    on_it == per_page || is_last && on_it > 0,
                    "{url}: {on_it} on page {}",
                    n + 1
                );
            }
            nothing_spilt(&browser, &url).await;
        }
    }
}

/// Each card holds all its words on paper, and a picture that can be seen.
async fn nothing_spilt(browser: &Browser, url: &str) {
    let spilt = "return [...document.querySelectorAll('.card-page > .step')] \
        .filter((s) => s.scrollHeight > s.clientHeight + 1 || [...s.querySelectorAll('.pic')].some((p) => p.getBoundingClientRect().height < 60)) \
        .map((s) => s.innerText.slice(0, 60))";
    faultless_on_paper(browser, url, spilt).await;
}

/// As long as a form takes them, and as long as a card is that shares its page.
#[tokio::test]
async fn a_card_with_much_text_has_a_page_of_its_own_and_none_is_lost() {
    let (server, browser, class) = demo().await;
    let words = |length: usize| "Fold it over and press. ".repeat(length / 24);
    for (step, text, tip) in [("p1.side-2", 1000, 400), ("p1.close", 240, 90)] {
        let form = format!("{}/projects/1/steps/{step}", server.base);
        browser.goto(&form).await;
        browser.enter("text", &words(text)).await;
        browser.enter("tip", &words(tip)).await;
        browser.press("Save step").await;
    }
    for (print, layouts) in [("normal", &[1, 2, 4][..]), ("large", &[1, 2][..])] {
        for &per_page in layouts {
            let url = format!("{class}/packet/cards?print={print}&per_page={per_page}");
            prints_whole(&browser, &url, "Step 29 of 29", "long").await;
            nothing_spilt(&browser, &url).await;
            let cards = "return [...document.querySelectorAll('.card-page')].map((p) => \
                [p.className.includes('up-1'), p.innerText.includes('Step 3 of')]).filter((p) => p[1])";
            assert_eq!(browser.run(cards).await, json!([[true, true]]), "{url}");
        }
    }
}

/// RNIB clear print: 12 pt at least, 14 in large print. A CSS px is 1/96 in, a point 1/72.
#[tokio::test]
async fn what_attendees_and_hosts_hold_is_set_in_12_points_and_14_in_large_print() {
    let (server, browser, class) = demo().await;
    let large = format!("{}?print=large", server.attendees);
    let cards = format!("{class}/packet/cards");
    for (url, least) in [
        (cards.clone(), 12.0),
        (format!("{cards}?per_page=4"), 12.0),
        (format!("{cards}?per_page=2&print=large"), 14.0),
        (format!("{class}/packet/packs"), 12.0),
        (server.host.clone(), 12.0),
        (server.attendees.clone(), 12.0),
        (large, 14.0),
    ] {
        browser.goto(&url).await;
        browser
            .send("Emulation.setEmulatedMedia", json!({"media": "print"}))
            .await;
        let script = format!(
            "return [...document.querySelectorAll('main p, main li, main td, main th, main dd, main .legend')] \
             .filter((e) => e.getClientRects().length && !e.closest('svg, .running, .card-foot, .hide, .address') \
                && parseFloat(getComputedStyle(e).fontSize) < {} - .01) \
             .map((e) => getComputedStyle(e).fontSize + ' ' + e.outerHTML.slice(0, 90)).slice(0, 5)",
            least * 96.0 / 72.0
        );
        assert_eq!(browser.run(&script).await, json!([]), "{url}");
        browser
            .send("Emulation.setEmulatedMedia", json!({"media": ""}))
            .await;
    }
}

/// GS1 General Specifications 5.12.3.1: a module of 0.396 to 0.990 mm and at least 4 dots of the
/// printer, here at 300 dpi; read by a decoder that shares no code with the encoder.
#[tokio::test]
async fn codes_are_read_from_the_printed_page_at_300_dpi() {
    let (server, browser, class) = demo().await;
    for url in [
        format!("{class}/poster"),
        format!("{class}/packet/host"),
        server.host.clone(),
    ] {
        browser.goto(&url).await;
        let printed = browser.print("code", A4).await;
        let (text, module_mm) = code_on(&printed);
        assert_eq!(text, server.attendees, "{url}");
        let is_poster = url.ends_with("poster");
        let range = if is_poster { 1.4..1.6 } else { 0.396..0.990 };
        assert!(range.contains(&module_mm), "{url}: {module_mm} mm");
        assert!(module_mm / 25.4 * 300.0 >= 4.0);
    }
}

/// The code on the first page: its text, and the width of a module in mm.
fn code_on(printed: &Printed) -> (String, f64) {
    let (width, grey) = printed.raster(1, 300);
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(width, grey.len() / width, |x, y| {
            grey[y * width + x]
        });
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1, "codes on the page");
    let (meta, text) = grids[0].decode().unwrap();
    let [a, b, ..] = grids[0].bounds;
    let side = f64::hypot(f64::from(a.x - b.x), f64::from(a.y - b.y));
    let modules = 17 + 4 * meta.version.0;
    (text, side / modules as f64 / 300.0 * 25.4)
}
