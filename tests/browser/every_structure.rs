//! A project and a class of every structure: its sheet on paper, its steps on a phone.

use jiff::{SignedDuration, Timestamp};
use sqlx::SqliteConnection;
use tablefold::clock::Clock;
use tablefold::recipe::{PartKind, Recipe};
use tablefold::store::Store;
use tablefold::store::class_facts::class_facts;
use tablefold::store::links::{LinkRole, NewLink, insert_link};
use tablefold::store::revisions::insert_revision;
use tablefold::token::LinkSeed;
use tablefold::urls;
use tablefold::workshop::ClassFacts;
use tablefold_geometry::StructureKind;

use crate::browser::Browser;
use crate::builders::{insert_bench, insert_class_on};
use crate::fullest;
use crate::on_paper::{no_wider_than_the_paper, prints_whole};
use crate::printed::{A4, LETTER, squeezed};
use crate::server::Server;

/// A published class, as a test finds it.
struct Made {
    name: String,
    project: i64,
    /// Path of the link for attendees.
    phone: String,
}

/// Stores and publishes a class for each of these, all on one bench.
async fn publish(store: &Store, classes: &[(String, ClassFacts)]) -> Vec<Made> {
    let mut db = store.change().await.unwrap();
    let most = classes.iter().max_by_key(|(_, facts)| facts.supplies.len());
    let bench = insert_bench(&mut db, &most.unwrap().1).await;
    let mut made = Vec::new();
    for (name, facts) in classes {
        let (project, class) = insert_class_on(&mut db, &bench, facts).await;
        let now = Clock::machine().now();
        let frozen = class_facts(&mut db, class).await.unwrap().unwrap();
        insert_revision(&mut db, class, &frozen, now).await.unwrap();
        let phone = link(&mut db, store, class, now).await;
        made.push(Made {
            name: name.clone(),
            project,
            phone,
        });
    }
    db.commit().await.unwrap();
    made
}

async fn link(db: &mut SqliteConnection, store: &Store, class: i64, now: Timestamp) -> String {
    let seed = LinkSeed::fresh().unwrap();
    let token = store.link_key().token(&seed);
    let link = NewLink {
        role: LinkRole::Attendee,
        attendee_id: None,
        seed,
        hash: token.hash(),
        created_at: now,
        expires_at: now + SignedDuration::from_hours(24),
    };
    insert_link(&mut *db, class, &link).await.unwrap();
    urls::attendee_link(token.text())
}

/// A server with these classes, and a browser of its instructor.
async fn opened(classes: &[(String, ClassFacts)]) -> (Server, Browser, Vec<Made>) {
    let fill = async |store: &Store| publish(store, classes).await;
    let (server, made) = Server::filled(fill).await;
    let browser = Browser::open(1280, 900).await;
    browser.goto(&server.link).await;
    browser.fill("name", "Ines").await;
    browser.fill("password", "four paper seed tins").await;
    browser.press("Start").await;
    (server, browser, made)
}

/// Numerators come down to their line: a reader of PDFs may take a raised one for another line.
const PLAIN: &str = "const plain = new CSSStyleSheet(); \
    plain.replaceSync('.frac * { position: static !important }'); \
    document.adoptedStyleSheets = [plain]";

/// What the sheet has to say: every setting with its measure, every part with its size, every
/// supply. All tools of the demo have the same ruler.
fn meant(facts: &ClassFacts) -> Vec<String> {
    let recipe = Recipe::build(&facts.project).unwrap();
    let ruler = facts.project.score_ruler;
    let settings = recipe
        .pieces
        .iter()
        .flat_map(|piece| piece.structure.settings().each().collect::<Vec<_>>());
    let settings = settings.map(|(field, at)| format!("{} {}", field.name, ruler.text(at)));
    let named = |supply: i64| {
        let found = facts.supplies.iter().find(|it| it.id == supply);
        found.unwrap().name.clone()
    };
    let parts = recipe.parts.iter().map(|part| {
        let name = part.name.split(": ").last().unwrap();
        match &part.kind {
            PartKind::Cut {
                role,
                width,
                height,
            } => {
                let width = ruler.text(*width);
                let width = width.trim_end_matches(" in");
                format!("{name} ({role}): {width} × {}", ruler.text(*height))
            }
            PartKind::Ribbon { supply, length, .. } => {
                format!("{name} ({}): {}", named(*supply), ruler.text(*length))
            }
            PartKind::Counted { supply, .. } => named(*supply),
            PartKind::Template => format!("{name}, printed"),
        }
    });
    settings.chain(parts).map(|text| squeezed(&text)).collect()
}

#[tokio::test]
async fn of_every_structure_the_sheet_is_one_page_and_the_phone_page_small() {
    let mut classes = fullest::classes();
    classes.push(("three at once".to_owned(), fullest::crowded(3)));
    let (server, browser, made) = opened(&classes).await;
    for (one, (_, facts)) in made.iter().zip(&classes) {
        let url = format!("{}{}", server.base, urls::project_sheet(one.project));
        browser.goto(&url).await;
        browser.run(PLAIN).await;
        let meant = meant(facts);
        assert!(meant.len() > 5, "{}: {meant:?}", one.name);
        no_wider_than_the_paper(&browser, &one.name).await;
        for (size, paper) in [("a4", A4), ("letter", LETTER)] {
            let name = format!("sheet-{}-{size}", one.name);
            let printed = browser.print(&name, paper).await;
            printed.assert_size(paper);
            let pages = printed.pages();
            assert_eq!(pages.len(), 1, "{name}");
            let lacks: Vec<_> = meant.iter().filter(|it| !pages[0].contains(*it)).collect();
            assert!(lacks.is_empty(), "{name} lacks {lacks:?}: {}", pages[0]);
        }
        let phone = weight(&browser, &server, one).await;
        assert!(phone.steps > 10, "{}: {phone:?}", one.name);
        let most = phone.steps.max(15) * PER_STEP;
        assert!(phone.bytes <= most, "{}: {phone:?}", one.name);
        assert!(phone.sent * 5 < phone.bytes, "{}: {phone:?}", one.name);
    }
}

/// More pieces than a page holds: none is split.
#[tokio::test]
async fn a_sheet_of_many_pieces_takes_more_pages_and_phones_get_all_steps_over_a_slow_line() {
    let all = StructureKind::all().len();
    let many = [("many".to_owned(), fullest::crowded(all))];
    let (server, browser, made) = opened(&many).await;
    let sheet = format!("{}{}", server.base, urls::project_sheet(made[0].project));
    prints_whole(&browser, &sheet, "Also for one kit", "many").await;
    let phone = weight(&browser, &server, &made[0]).await;
    // What travels is what a hall's wifi feels; a step takes no more room than in a small class.
    assert!(phone.steps > 200, "{phone:?}");
    assert!(phone.sent <= 150_000, "{phone:?}");
    assert!(phone.bytes <= phone.steps * PER_STEP, "{phone:?}");
}

/// 150 kB for a class of 15 steps.
const PER_STEP: u64 = 10_000;

/// What a phone gets.
#[derive(Debug)]
struct Weight {
    steps: u64,
    bytes: u64,
    /// Compressed, as it travels.
    sent: u64,
}

async fn weight(browser: &Browser, server: &Server, of: &Made) -> Weight {
    browser.goto(&format!("{}{}", server.base, of.phone)).await;
    let found = browser
        .run(
            "const [page] = performance.getEntriesByType('navigation'); \
             return [document.querySelectorAll('.step').length, page.decodedBodySize, page.encodedBodySize]",
        )
        .await;
    let number = |at: usize| found[at].as_u64().unwrap();
    Weight {
        steps: number(0),
        bytes: number(1),
        sent: number(2),
    }
}
