//! Projects: made, renamed, removed. Their pieces, steps and patterns have files of their own.

mod cards;
mod pieces;
mod steps;
mod structures;

use tablefold::urls;

use crate::bench::{at_bench, with};
use crate::visitor::{Server, Visitor};

/// A box for a round tin, as the form sends it.
pub(crate) const BOX: [(&str, &str); 10] = [
    ("name", "Seed box"),
    ("contents_name", "round seed tin"),
    ("structure", "box"),
    ("paper", "1"),
    ("shape", "cylinder"),
    ("diameter", "62 mm"),
    ("height", "24 mm"),
    ("clearance", "1/8 in"),
    ("role", "main"),
    ("do", "save"),
];

pub(crate) const PROJECT: [(&str, &str); 4] = [
    ("title", "Seed-swap gifts"),
    ("makes", "14"),
    ("board", "1"),
    ("trimmer", "2"),
];

pub(crate) const TRIMMINGS: [(&str, &str); 13] = [
    ("contents_supply", "1"),
    ("small_parts", "yes"),
    ("band", "yes"),
    ("band_overlap", "1/2 in"),
    ("band_reveal", "1/8 in"),
    ("band_notch", "1/2 in"),
    ("band_role", "accent"),
    ("tag", "circle"),
    ("tag_width", "1 in"),
    ("tag_role", "label"),
    ("ribbon", "bow"),
    ("ribbon_supply", "2"),
    ("ribbon_bow", "8 in"),
];

pub(crate) const ENVELOPE: [(&str, &str); 11] = [
    ("name", "Seed envelope"),
    ("contents_name", "seed packet"),
    ("structure", "envelope"),
    ("paper", "1"),
    ("shape", "block"),
    ("width", "70 mm"),
    ("depth", "100 mm"),
    ("height", "2 mm"),
    ("clearance", "1/8 in"),
    ("role", "main"),
    ("do", "save"),
];

async fn workshop() -> Server {
    Server::empty().await.with_instructor().await
}

/// Someone with one project: a box with band, tag and ribbon.
pub(crate) async fn with_project(server: &Server) -> Visitor<'_> {
    let mut visitor = at_bench(server).await;
    let fields = with(&with(&BOX, &TRIMMINGS), &PROJECT);
    let saved = visitor.post(&urls::projects(), &fields).await.expect(303);
    assert_eq!(saved.location(), urls::project(1));
    visitor
}

#[tokio::test]
async fn a_project_needs_a_bench_first() {
    let server = workshop().await;
    let mut visitor = server.signed_in().await;
    visitor
        .get(&urls::projects())
        .await
        .expect(200)
        .shows("No projects yet");
    let page = visitor.get(&urls::new_project()).await.expect(200);
    page.shows("Set up your bench").hides("<form");
}

#[tokio::test]
async fn show_me_computes_and_saves_nothing() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    visitor
        .get(&urls::new_project())
        .await
        .expect(200)
        .shows("Show me");
    let fields = with(&with(&BOX, &PROJECT), &[("do", "show")]);
    let page = visitor.post(&urls::projects(), &fields).await.expect(200);
    page.shows("sheets for 14")
        .shows("5 <span class=\"frac\"><sup>13</sup>/<sub>16</sub></span> in")
        .shows("≈ 148 mm")
        .shows("<svg")
        .shows("value=\"62 mm\"");
    visitor
        .get(&urls::projects())
        .await
        .expect(200)
        .shows("No projects yet");
}

#[tokio::test]
async fn a_project_shows_numbers_parts_and_steps() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = visitor.get(&urls::project(1)).await.expect(200);
    let page = page
        .shows("5 <span class=\"frac\"><sup>13</sup>/<sub>16</sub></span> in")
        .shows("instead of")
        .shows("Seed box: band")
        .shows("Before the class, by you")
        .shows("In class, by each attendee")
        .shows("Punch and score side 1")
        .shows(
            "Lay the box sheet front down, an edge against the fence, the left corner at 2 1/8 in.",
        )
        .shows("Small parts: not for children under 3 years")
        .shows("Keep fingers behind the guard");
    let page = page.hides("{first}");
    assert_eq!(page.text.matches("<h1>").count(), 1);
    let ids: Vec<&str> = page
        .text
        .split(" id=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .collect();
    let mut unique = ids.clone();
    unique.sort_unstable();
    unique.dedup();
    assert_eq!(unique.len(), ids.len(), "an id stands twice");
    let page = visitor.get(&urls::projects()).await.expect(200);
    page.shows("Seed box: sheet 5 13/16 in, punch 1 at 2 1/8 in");
    let page = visitor.get(&urls::home()).await.expect(200);
    page.shows("Seed-swap gifts").shows("Plan a class");
    next_class(&server, &mut visitor).await;
}

/// The clock of these tests stands at 28 November 2026: a class of the day before is over.
async fn next_class(server: &Server, visitor: &mut Visitor<'_>) {
    let mut change = server.app.store().change().await.unwrap();
    for (title, date) in [
        ("Past class", "2026-11-27"),
        ("Far class", "2026-12-24"),
        ("Next class", "2026-11-28"),
    ] {
        sqlx::query("INSERT INTO class (project_id, title, date, starts, minutes, place) VALUES (1, ?1, ?2, '18:30', 120, 'Hall')")
            .bind(title)
            .bind(date)
            .execute(&mut *change)
            .await
            .unwrap();
    }
    change.commit().await.unwrap();
    let page = visitor.get(&urls::home()).await.expect(200);
    page.shows("Next class</a>")
        .shows("Saturday 28 November 2026, 18:30, Hall")
        .hides("Past class")
        .hides("Far class");
}

#[tokio::test]
async fn what_a_project_uses_is_not_removed_and_named() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    for url in [
        urls::remove_paper(1),
        urls::remove_supply(2),
        urls::remove_tool(1),
    ] {
        let page = visitor.post(&url, &[]).await.expect(422);
        page.shows("is used in the project &#34;Seed-swap gifts&#34;")
            .shows("role=\"alert\"");
    }
    visitor
        .post(&urls::remove_project(1), &[])
        .await
        .expect(303);
    visitor.get(&urls::project(1)).await.expect(404);
    visitor.post(&urls::remove_paper(1), &[]).await.expect(303);
}

#[tokio::test]
async fn a_project_is_renamed_unless_the_save_is_stale() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let renamed = with(
        &PROJECT,
        &[("version", "1"), ("title", "Winter gifts"), ("makes", "20")],
    );
    visitor
        .get(&urls::edit_project(1))
        .await
        .expect(200)
        .shows("value=\"14\"");
    visitor
        .post(&urls::edit_project(1), &renamed)
        .await
        .expect(303);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .shows("sheets for 20");
    let late = visitor
        .post(&urls::edit_project(1), &renamed)
        .await
        .expect(409);
    late.shows("Edit again");
    let wrong = with(&renamed, &[("version", "2"), ("trimmer", "1")]);
    visitor
        .post(&urls::edit_project(1), &wrong)
        .await
        .expect(422)
        .shows("is no trimmer of your bench");
}

#[tokio::test]
async fn removing_asks_first_and_names_the_class_that_changes() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let fields = crate::classes::planned(&[]);
    visitor.post(&urls::class_new(), &fields).await.expect(303);
    let form = visitor.get(&urls::piece(1, 1)).await.expect(200);
    form.shows(&format!("href=\"{}\"", urls::remove_piece(1, 1)))
        .hides(&format!("action=\"{}\"", urls::remove_piece(1, 1)));
    let page = visitor.get(&urls::remove_piece(1, 1)).await.expect(200);
    page.shows("Remove \"Seed box\"")
        .shows("made in the class &#34;Winter evening&#34;")
        .shows("Keep it");
    let stays = [
        urls::remove_project(1),
        urls::remove_paper(1),
        urls::remove_supply(2),
        urls::remove_tool(1),
    ];
    for url in stays {
        let page = visitor.get(&url).await.expect(200);
        page.shows(" stays</h1>").hides("Keep it");
    }
    let page = visitor.get(&urls::remove_tool(5)).await.expect(200);
    page.shows("Remove the tool").shows("Keep it");
    visitor.get(&urls::tool(5)).await.expect(200);
    for gone in [urls::remove_piece(1, 9), urls::remove_paper(9)] {
        visitor.get(&gone).await.expect(404);
    }
}
