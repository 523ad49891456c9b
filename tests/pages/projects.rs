//! Projects: pieces, parts, steps.

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
        .shows("Lay an edge against the fence with the left corner at 2 1/8 in.")
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
async fn patterns_are_files() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let svg = visitor.get(&urls::pattern_svg(1, 1, 0)).await.expect(200);
    assert_eq!(svg.header("content-type"), "image/svg+xml");
    svg.shows("id=\"cut\"").shows("id=\"score\"");
    let fold = visitor.get(&urls::pattern_fold(1, 1, 0)).await.expect(200);
    let fold: serde_json::Value = serde_json::from_str(&fold.text).unwrap();
    assert_eq!(fold["file_spec"], 1.2);
    visitor.get(&urls::pattern_svg(1, 9, 0)).await.expect(404);
}

#[tokio::test]
async fn templates_come_as_a_pdf_on_the_paper_that_was_chosen() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = visitor.get(&urls::project(1)).await.expect(200);
    let mut page = page
        .shows(&urls::project_templates(1))
        .shows(&urls::pattern_cutter(1, 1, 0))
        .shows("value=\"apart\"");
    for paper in ["a4", "letter", "sheet"] {
        page = page.shows(&urls::piece_templates(1, 1, paper));
        let of_piece = urls::piece_templates(1, 1, paper);
        let of_project = format!("{}?paper={paper}&lines=apart", urls::project_templates(1));
        for (url, name) in [(of_piece, "piece-1"), (of_project, "project-1")] {
            let file = visitor.get(&url).await.expect(200);
            assert_eq!(file.header("content-type"), "application/pdf");
            let named = format!("attachment; filename=\"templates-{name}-{paper}.pdf\"");
            assert_eq!(file.header("content-disposition"), named);
            assert!(file.text.starts_with("%PDF-"), "{url}");
        }
    }
    let cutter = visitor
        .get(&urls::pattern_cutter(1, 1, 0))
        .await
        .expect(200);
    assert_eq!(cutter.header("content-type"), "image/svg+xml");
    cutter.shows("<g id=\"score\"").hides("dash");
    let none = urls::piece_templates(1, 1, "a5");
    visitor.get(&none).await.expect(400);
    let none = urls::piece_templates(1, 9, "a4");
    visitor.get(&none).await.expect(404);
    let server = workshop().await;
    let mut stranger = server.anonymous();
    let url = urls::project_templates(1);
    stranger.get(&url).await.expect(303);
}

#[tokio::test]
async fn a_piece_that_cannot_be_is_marked_at_its_cause() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let new = urls::pieces(1);
    let large = with(&BOX, &[("diameter", "620 mm")]);
    let page = visitor.post(&new, &large).await.expect(422);
    page.shows("id=\"e-diameter\"")
        .shows("The punch-board box needs")
        .shows("value=\"620 mm\"");
    let thick = with(&ENVELOPE, &[("height", "40 mm")]);
    let page = visitor.post(&new, &thick).await.expect(422);
    page.shows("takes contents up to").shows("id=\"e-height\"");
    let stack = with(
        &ENVELOPE,
        &[
            ("shape", "stack"),
            ("height", "100 mm"),
            ("each_thickness", "2 mm"),
            ("count", "9"),
        ],
    );
    let page = visitor.post(&new, &stack).await.expect(422);
    page.shows("id=\"e-count\"").shows("Or stack at most 3.");
    let one = with(&stack, &[("each_thickness", "8 mm"), ("count", "1")]);
    let page = visitor.post(&new, &one).await.expect(422);
    page.shows("id=\"e-each_thickness\"").hides("stack at most");
    let loose = with(&BOX, &[("clearance", "9 in")]);
    let page = visitor.post(&new, &loose).await.expect(422);
    page.shows("id=\"e-clearance\"")
        .shows("give less clearance.");
    let reveal = with(&with(&BOX, &TRIMMINGS), &[("band_reveal", "5 in")]);
    let page = visitor.post(&new, &reveal).await.expect(422);
    page.shows("id=\"e-band_reveal\"")
        .shows("A reveal of 5 in at each end leaves no strip");
    let many = with(
        &BOX,
        &[
            ("shape", "stack"),
            ("width", "2 in"),
            ("each_thickness", "9000 mm"),
            ("count", "10000"),
        ],
    );
    visitor
        .post(&new, &many)
        .await
        .expect(422)
        .shows("make a stack over 10 m");
}

#[tokio::test]
async fn settings_off_the_ruler_are_refused_with_the_nearest_marks() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let off = [
        ("at_sheet", "5.2 in"),
        ("at_punch_1", "54 mm"),
        ("at_punch_2", "1/4 in"),
    ];
    let page = visitor
        .post(&urls::pieces(1), &with(&BOX, &off))
        .await
        .expect(422);
    page.shows("The nearest marks are 5 3/16 in and 5 1/4 in.")
        .shows("The nearest marks are 2 1/8 in and 2 3/16 in.")
        .shows("The nearest mark is 1/2 in. Type it.")
        .shows("value=\"54 mm\"");
    let small = [
        ("at_sheet", "5 1/4 in"),
        ("at_punch_1", "1 1/2 in"),
        ("at_punch_2", "2 7/8 in"),
    ];
    let page = visitor
        .post(&urls::pieces(1), &with(&BOX, &small))
        .await
        .expect(422);
    page.shows("the contents lack").shows("id=\"e-at_sheet\"");
    let own = [
        ("at_sheet", "6 in"),
        ("at_punch_1", "2 1/4 in"),
        ("at_punch_2", "3 7/8 in"),
    ];
    visitor
        .post(&urls::pieces(1), &with(&BOX, &own))
        .await
        .expect(303);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .shows("These settings are yours, set by hand.");
}

#[tokio::test]
async fn everything_typed_wrong_stays_and_is_named() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let long = "y".repeat(81);
    let wrong = [
        ("title", ""),
        ("makes", "0"),
        ("board", "2"),
        ("name", long.as_str()),
        ("contents_name", "tin 🌱"),
        ("height", "🌱"),
        ("paper", "77"),
        ("ribbon", "wrap"),
        ("ribbon_supply", "1"),
        ("extra_1", "2"),
        ("tag", "star"),
    ];
    let fields = with(&with(&with(&BOX, &TRIMMINGS), &PROJECT), &wrong);
    let page = visitor.post(&urls::projects(), &fields).await.expect(422);
    page.shows("Title: nothing is typed")
        .shows("&#34;0&#34; is too few. Type a number from 1 to 400.")
        .shows("is no punch board of your bench")
        .shows("has 81 characters")
        .shows("value=\"tin 🌱\"")
        .shows("&#34;🌱&#34; has no number at character 1")
        .shows("&#34;77&#34; is not on the bench")
        .shows("&#34;Round seed tin&#34; is not cut by length")
        .shows("&#34;Jute ribbon&#34; is not counted")
        .shows("&#34;star&#34; is not in the list");
    let many = with(&with(&BOX, &PROJECT), &[("makes", "10000")]);
    visitor
        .post(&urls::projects(), &many)
        .await
        .expect(422)
        .shows("&#34;10000&#34; is too many");
    visitor
        .get(&urls::projects())
        .await
        .expect(200)
        .shows("No projects yet");
}

#[tokio::test]
async fn pieces_are_added_edited_moved_and_removed() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    visitor.get(&urls::new_piece(1)).await.expect(200);
    visitor.post(&urls::pieces(1), &ENVELOPE).await.expect(303);
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    page.shows("value=\"70 mm\"").shows("punch-board envelope");
    let wider = with(&ENVELOPE, &[("version", "1"), ("width", "80 mm")]);
    visitor.post(&urls::piece(1, 2), &wider).await.expect(303);
    let late = visitor.post(&urls::piece(1, 2), &wider).await;
    late.expect(409).shows("Save yours anyway");
    visitor
        .post(&urls::move_piece(1, 2), &[("direction", "up")])
        .await
        .expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    let at = |text: &str| page.text.find(text);
    assert!(at("id=\"piece-2\"") < at("id=\"piece-1\""));
    assert!(at("id=\"step-p2.punch\"") < at("id=\"step-p1.punch-1\""));
    visitor
        .post(&urls::remove_piece(1, 2), &[])
        .await
        .expect(303);
    visitor.get(&urls::piece(1, 2)).await.expect(404);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .hides("Seed envelope");
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
async fn a_paper_that_grew_too_small_is_said_on_the_project() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let small = [
        ("version", "1"),
        ("name", "Moss card"),
        ("size", "A7"),
        ("caliper", "0.3 mm"),
        ("grain", "unknown"),
        ("on_hand", "0"),
    ];
    visitor.post(&urls::paper(1), &small).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Seed box can't be made as it is")
        .shows("needs a sheet of");
    visitor
        .get(&urls::projects())
        .await
        .expect(200)
        .shows("needs a sheet of");
    visitor.get(&urls::pattern_svg(1, 1, 0)).await.expect(400);
    let templates = visitor.get(&urls::project_templates(1)).await.expect(400);
    templates.shows("Seed box").shows("needs a sheet of");
    visitor.get(&urls::step(1, "p1.cut")).await.expect(400);
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

const STEP: [(&str, &str); 6] = [
    ("version", "0"),
    ("title", "Punch here"),
    ("text", "Corner at {first}, please."),
    ("tip", ""),
    ("minutes", "1.5"),
    ("phase", "class"),
];

#[tokio::test]
async fn a_reworded_step_keeps_its_measures_live() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let url = urls::step(1, "p1.punch-1");
    let page = visitor.get(&url).await.expect(200);
    page.shows("{first}")
        .shows("is now <span class=\"measure\">2 1/8 in</span>");
    visitor.post(&url, &STEP).await.expect(303);
    let project = urls::project(1);
    let page = visitor.get(&project).await.expect(200);
    page.shows("Corner at 2 1/8 in, please.")
        .shows("your wording");
    let larger = with(
        &with(&BOX, &TRIMMINGS),
        &[("version", "1"), ("diameter", "70 mm")],
    );
    visitor.post(&urls::piece(1, 1), &larger).await.expect(303);
    visitor
        .get(&project)
        .await
        .expect(200)
        .hides("Corner at 2 1/8 in")
        .shows("Corner at 2 ");
    visitor
        .post(&url, &STEP)
        .await
        .expect(409)
        .shows("Save yours anyway");
    visitor
        .post(&urls::reset_step(1, "p1.punch-1"), &[])
        .await
        .expect(303);
    visitor
        .get(&project)
        .await
        .expect(200)
        .shows("Punch and score side 1")
        .hides("your wording");
}

#[tokio::test]
async fn a_wrong_brace_is_refused_with_what_would_do() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let url = urls::step(1, "p1.punch-1");
    let wrong = [
        ("text", "Corner at {third}."),
        ("minutes", "🌱"),
        ("title", ""),
    ];
    let page = visitor.post(&url, &with(&STEP, &wrong)).await.expect(422);
    page.shows("&#34;{third}&#34; is not a measure of this step. It has {first}, {second}.")
        .shows("&#34;🌱&#34; is not a number of minutes")
        .shows("Title: nothing is typed")
        .shows("Corner at {third}.</textarea>");
    visitor.get(&urls::step(1, "p1.nothing")).await.expect(404);
    visitor.get(&urls::step(2, "p1.punch-1")).await.expect(404);
}

#[tokio::test]
async fn a_step_is_hidden_and_switched_only_where_that_can_be() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let url = urls::step(1, "p1.punch-1");
    let hidden = with(&STEP, &[("hidden", "yes")]);
    visitor.post(&url, &hidden).await.expect(303);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .shows("Hidden: it is not shown and not counted.");
    let prep = with(&STEP, &[("version", "1"), ("phase", "prep")]);
    visitor.post(&url, &prep).await.expect(303);
    let late = with(&STEP, &[("text", ""), ("phase", "prep")]);
    let page = visitor
        .post(&urls::step(1, "p1.side-4"), &late)
        .await
        .expect(422);
    page.shows("can&#39;t be in prep")
        .shows("Move that one first.");
}

#[tokio::test]
async fn a_step_moves_within_what_must_come_first() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let refused = visitor
        .post(&urls::move_step(1, "p1.punch-2"), &[("direction", "up")])
        .await;
    refused
        .expect(422)
        .shows("The step stays where it is")
        .shows("&#34;Punch and score side 1&#34; must be done first.");
    let own = with(
        &STEP,
        &[
            ("title", "Tidy the tables"),
            ("text", "Clear away the scraps."),
            ("after", "p1.punch-1"),
        ],
    );
    visitor
        .get(&urls::new_step(1))
        .await
        .expect(200)
        .shows("After which step");
    visitor.post(&urls::steps(1), &own).await.expect(303);
    let order = async |visitor: &mut Visitor<'_>| {
        let page = visitor.get(&urls::project(1)).await.expect(200);
        let steps = page.text.split("id=\"step-p").count();
        assert!(steps > 10);
        let mut at: Vec<(usize, &str)> = ["step-p1.punch-1", "step-own-1", "step-p1.punch-2"]
            .into_iter()
            .map(|id| (page.text.find(&format!("id=\"{id}\"")).unwrap(), id))
            .collect();
        at.sort_unstable();
        at.into_iter()
            .map(|(_, id)| id.to_owned())
            .collect::<Vec<_>>()
    };
    let now = order(&mut visitor).await;
    assert_eq!(now, ["step-p1.punch-1", "step-own-1", "step-p1.punch-2"]);
    let down = [("direction", "down")];
    visitor
        .post(&urls::move_step(1, "own-1"), &down)
        .await
        .expect(303);
    let now = order(&mut visitor).await;
    assert_eq!(now, ["step-p1.punch-1", "step-p1.punch-2", "step-own-1"]);
    visitor
        .post(&urls::reset_step(1, "own-1"), &[])
        .await
        .expect(303);
    visitor
        .get(&urls::project(1))
        .await
        .expect(200)
        .hides("Tidy the tables");
}

#[tokio::test]
async fn own_steps_have_no_measures() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let wrong = with(&STEP, &[("after", "")]);
    let page = visitor.post(&urls::steps(1), &wrong).await.expect(422);
    page.shows("This step has no measure: write the text without braces.");
}

#[tokio::test]
async fn an_own_step_stands_only_where_it_can_be_done() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let step = with(&STEP, &[("text", "Stamp a leaf.")]);
    let wrong = [
        ("p9.cut", "class", "is not a step of this project any more"),
        (
            "p1.punch-1",
            "prep",
            "is done in class, so this one can&#39;t come before the class",
        ),
    ];
    for (after, phase, said) in wrong {
        let fields = with(&step, &[("after", after), ("phase", phase)]);
        let page = visitor.post(&urls::steps(1), &fields).await.expect(422);
        page.shows(said)
            .shows("href=\"#f-after\"")
            .shows("Stamp a leaf.");
    }
    let fields = with(&step, &[("after", "p1.punch-1")]);
    visitor.post(&urls::steps(1), &fields).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    let titles: Vec<&str> = page.text.split("<h3>").collect();
    let at = titles.iter().position(|title| title.contains("Punch here"));
    let before = titles[at.unwrap() - 1];
    assert!(before.contains("Punch and score side 1"), "{before}");
}

#[tokio::test]
async fn a_measure_in_a_title_is_filled_wherever_the_title_stands() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let url = urls::step(1, "p1.punch-1");
    let wrong = with(&STEP, &[("title", "Punch at {third}")]);
    let page = visitor.post(&url, &wrong).await.expect(422);
    page.shows("href=\"#f-title\"")
        .shows("is not a measure of this step");
    let step = with(&STEP, &[("title", "Punch at {first}")]);
    visitor.post(&url, &step).await.expect(303);
    let fields = crate::classes::planned(&[]);
    visitor.post(&urls::class_new(), &fields).await.expect(303);
    for page in [urls::project(1), urls::class_cards(1)] {
        let page = visitor.get(&page).await.expect(200);
        page.shows("Punch at 2 1/8 in").hides("{first}");
    }
    let form = visitor.get(&url).await.expect(200);
    form.shows("value=\"Punch at {first}\"");
}

#[tokio::test]
async fn only_new_words_are_called_your_wording() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let url = urls::step(1, "p1.punch-1");
    let form = visitor.get(&url).await.expect(200);
    let text = form
        .between("name=\"text\" rows=\"4\">\n", "</textarea>")
        .to_owned();
    let tip = form.between("name=\"tip\" rows=\"2\">\n", "</textarea>");
    let same = [
        ("title", "Punch and score side 1"),
        ("text", &text),
        ("tip", tip),
    ];
    let slower = with(&with(&STEP, &same), &[("minutes", "3 1/2")]);
    visitor.post(&url, &slower).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("3 1/2 min").hides("your wording");
}

#[tokio::test]
async fn pieces_of_another_project_are_not_found() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let second = with(&with(&ENVELOPE, &PROJECT), &[("title", "Other")]);
    visitor.post(&urls::projects(), &second).await.expect(303);
    for url in [
        urls::piece(2, 1),
        urls::pattern_fold(2, 1, 0),
        urls::project(99),
        urls::new_piece(99),
    ] {
        visitor.get(&url).await.expect(404);
    }
    for url in [
        urls::remove_piece(2, 1),
        urls::move_piece(2, 1),
        urls::reset_step(2, "p1.cut"),
    ] {
        visitor.post(&url, &[]).await.expect(404);
    }
    visitor.get("/projects/abc").await.expect(404);
    visitor.get(&urls::piece(1, 1)).await.expect(200);
    server.anonymous().get(&urls::project(1)).await.expect(303);
    server
        .anonymous()
        .post(&urls::remove_project(1), &[])
        .await
        .expect(401);
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

#[tokio::test]
async fn supplies_named_on_the_form_of_a_piece_go_to_the_bench_with_it() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let new = [
        ("contents_new", "Seed jar"),
        ("ribbon", "bow"),
        ("ribbon_bow", "8 in"),
        ("ribbon_new", "Moss ribbon"),
        ("extra_new", "Seed sticker"),
        ("extra_new_count", "2"),
    ];
    let fields = with(&with(&BOX, &PROJECT), &new);
    let shown = with(&fields, &[("do", "show")]);
    visitor.post(&urls::projects(), &shown).await.expect(200);
    let bench = visitor.get(&urls::bench()).await.expect(200);
    bench.hides("Seed jar");
    let taken = with(&fields, &[("ribbon_new", "Round seed tin")]);
    let page = visitor.post(&urls::projects(), &taken).await.expect(422);
    page.shows("href=\"#f-ribbon_new\"")
        .shows("is on your bench and counted")
        .shows("value=\"Seed jar\"");
    visitor.post(&urls::projects(), &fields).await.expect(303);
    let bench = visitor.get(&urls::bench()).await.expect(200);
    bench
        .shows("Seed jar")
        .shows("Moss ribbon")
        .shows("Seed sticker");
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Seed jar")
        .shows("Moss ribbon")
        .shows("Seed sticker");
    let again = with(&with(&BOX, &new), &[("name", "Second box")]);
    visitor.post(&urls::pieces(1), &again).await.expect(303);
    let counted: i64 = sqlx::query_scalar("SELECT COUNT(*) FROM supply WHERE name = 'Seed jar'")
        .fetch_one(server.app.store().read())
        .await
        .unwrap();
    assert_eq!(counted, 1);
}

#[tokio::test]
async fn what_a_hidden_step_leaves_undone_is_said() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let fields = crate::classes::planned(&[]);
    visitor.post(&urls::class_new(), &fields).await.expect(303);
    let pages = [urls::project(1), urls::class(1)];
    for page in &pages {
        visitor.get(page).await.expect(200).hides("Hidden: ");
    }
    let hide = async |visitor: &mut Visitor<'_>, key: &str| {
        let url = urls::step(1, key);
        let fields = with(
            &STEP,
            &[("hidden", "yes"), ("title", "Do it"), ("text", "So.")],
        );
        visitor.post(&url, &fields).await.expect(303);
    };
    hide(&mut visitor, "p1.punch-1").await;
    for page in &pages {
        let page = visitor.get(page).await.expect(200);
        page.shows("Hidden: Do it. Nobody is told to do it.")
            .hides("is still packed");
    }
    hide(&mut visitor, "p1.put-in").await;
    for page in &pages {
        let page = visitor.get(page).await.expect(200);
        page.shows("Seed box: round seed tin is still packed, and no step uses it.");
    }
}

#[tokio::test]
async fn a_tray_is_made_to_measure_with_a_template_for_each_body() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let tray = [
        ("structure", "tray"),
        ("name", "Seed tray"),
        ("second_role", "lid"),
    ];
    let saved = visitor.post(&urls::pieces(1), &with(&BOX, &tray)).await;
    saved.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Seed tray: base sheet")
        .shows("Seed tray: lid sheet")
        .shows("paper for &#34;lid&#34;")
        .shows("Put the lid over the base")
        .shows(&urls::pattern_svg(1, 2, 1));
    visitor.get(&urls::pattern_svg(1, 2, 1)).await.expect(200);
    visitor.get(&urls::pattern_fold(1, 2, 2)).await.expect(404);
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    page.shows("name=\"at_base_score\"").hides("at_punch_1");
}

#[tokio::test]
async fn structures_are_compared_for_what_was_typed_and_one_is_used() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let fields = with(&BOX, &[("name", "Second box")]);
    let url = urls::choose_for_new_piece(1);
    let page = visitor.post(&url, &fields).await.expect(200);
    for kind in tablefold_geometry::StructureKind::all() {
        let name = kind.name();
        let told = page.text.to_lowercase().contains(name);
        assert!(told, "{name} is neither offered nor refused");
    }
    page.shows("value=\"Second box\"").shows("Use this");
    let used = with(&fields, &[("structure", "tray")]);
    visitor.post(&urls::pieces(1), &used).await.expect(303);
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    page.shows("value=\"Second box\"")
        .shows("name=\"at_lid_score\"");
}

#[tokio::test]
async fn comparing_keeps_what_was_typed_wrong_and_names_it() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let wrong = with(&BOX, &[("diameter", "wide"), ("name", "Second box")]);
    let url = urls::choose_for_piece(1, 1);
    let page = visitor.post(&url, &wrong).await.expect(422);
    page.shows("id=\"e-diameter\"")
        .shows("value=\"wide\"")
        .shows("value=\"Second box\"");
    let both = with(&with(&BOX, &PROJECT), &[("makes", "many")]);
    let url = urls::choose_for_project();
    let page = visitor.post(&url, &both).await.expect(422);
    page.shows("id=\"e-makes\"");
    let both = with(&both, &[("makes", "40"), ("title", "")]);
    visitor.post(&url, &both).await.expect(200).shows("40 from");
}
