//! A class that makes several projects.

use tablefold::demo;
use tablefold::recipe::ToolKind;
use tablefold::store::bench::{BenchTool, ToolParams, insert_tool};
use tablefold::store::projects::{Project, find_project, insert_project};
use tablefold::urls;
use tablefold::workshop::BroughtBy;
use tablefold_geometry::{Ruler, Trimmer};

use crate::builders::{Rows, insert_pieces};
use crate::classes::planned;
use crate::links::link;
use crate::visitor::Server;

impl Server {
    /// Stores another project of the seed-swap evening, made on the tools and papers of a class
    /// that exists; gives its row number.
    pub(crate) async fn with_second_project(&self, change: impl FnOnce(&mut Project)) -> i64 {
        let facts = demo::second_project();
        let mut db = self.app.store().change().await.unwrap();
        let first = find_project(&mut *db, 1).await.unwrap().unwrap();
        let mut project = Project {
            title: facts.title.clone(),
            ..first.it
        };
        change(&mut project);
        let row = insert_project(&mut *db, &project).await.unwrap();
        let same: Rows = (1..=20).map(|id| (id, id)).collect();
        insert_pieces(&mut db, row, &facts, (&same, &same)).await;
        db.commit().await.unwrap();
        row
    }
}

const GIFTS: &str = "<a href=\"/projects/1\">Seed-swap gifts</a>";
const CARDS: &str = "<a href=\"/projects/2\">Seed-swap cards</a>";

/// A class of the first project, and a second project beside it.
async fn server() -> Server {
    let server = Server::empty().await.with_instructor().await;
    server.with_class(2, |_| {}).await;
    assert_eq!(server.with_second_project(|_| {}).await, 2);
    server
}

fn with_also<'a>(also: &[&'a str], changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut fields = planned(changed);
    fields.extend(also.iter().map(|row| ("also", *row)));
    fields
}

#[tokio::test]
async fn a_class_of_two_projects_has_a_packet_of_both() {
    let server = server().await;
    let mut visitor = server.signed_in().await;
    let form = visitor.get(&urls::class_new()).await.expect(200);
    form.shows("<legend>And also").shows("name=\"also\"");
    // The project that is made anyway counts once.
    let sooner = [("date", "2026-11-28"), ("starts", "10:00")];
    let fields = with_also(&["2", "1"], &sooner);
    let made = visitor.post(&urls::class_new(), &fields).await.expect(303);
    assert_eq!(made.location(), urls::class(2));
    let page = visitor.get(&urls::class(2)).await.expect(200);
    page.shows(&format!("You make {GIFTS} and {CARDS}."))
        .shows("The packet balances.")
        .shows("<figcaption>Seed envelope</figcaption>")
        .shows("<figcaption>Gift card</figcaption>");
    let packs = visitor.get(&urls::class_packs(2)).await.expect(200);
    packs.shows("Seed box: band").shows("Gift card: ");
    let contents = visitor.get(&urls::class_packet(2)).await.expect(200);
    contents.shows("Seed box: band").shows("Gift card: ");
    let cards = visitor.get(&urls::class_cards(2)).await.expect(200);
    cards
        .shows("Put in the round seed tin")
        .shows("Put in the sowing slip");
    for url in [
        urls::class_prep(2),
        urls::class_cuts(2),
        urls::class_shopping(2),
        urls::class_host(2),
        urls::class_poster(2),
        urls::class_tools(2),
        urls::class_colourways(2),
    ] {
        visitor.get(&url).await.expect(200);
    }
    for url in [urls::classes(), urls::home()] {
        let page = visitor.get(&url).await.expect(200);
        page.shows("Seed-swap gifts and Seed-swap cards");
    }
}

#[tokio::test]
async fn a_phone_has_the_steps_of_both_under_their_titles() {
    let server = server().await;
    let mut visitor = server.signed_in().await;
    let fields = with_also(&["2"], &[]);
    visitor.post(&urls::class_new(), &fields).await.expect(303);
    visitor.post(&urls::class_publish(2), &[]).await.expect(303);
    let path = link(&mut visitor, 2, "attendee").await;
    let page = server.anonymous().get(&path).await.expect(200);
    let contents = page.between("id=\"contents\"", "</section>");
    let at = |text: &str| {
        contents
            .find(text)
            .unwrap_or_else(|| panic!("{text}: {contents}"))
    };
    let order = [
        at("<h2>Seed-swap gifts</h2>"),
        at("<h3>Seed box</h3>"),
        at("Put in the round seed tin"),
        at("<h2>Seed-swap cards</h2>"),
        at("<h3>Gift card</h3>"),
        at("Put in the sowing slip"),
    ];
    assert!(order.is_sorted(), "{order:?}");
    // The second list counts on.
    let second = contents
        .split("<ol class=\"contents\" start=\"")
        .nth(2)
        .unwrap();
    let start = second.split('"').next().unwrap();
    assert!(
        second.contains(&format!("href=\"#step-{start}\"")),
        "{second}"
    );
    // What is frozen stays when the class makes one project again.
    let mut alone = planned(&[]);
    alone.push(("version", "1"));
    visitor.post(&urls::class_edit(2), &alone).await.expect(303);
    let now = visitor.get(&urls::class(2)).await.expect(200);
    now.shows(&format!("You make {GIFTS}."))
        .shows("Changed since revision 1");
    let again = server.anonymous().get(&path).await.expect(200);
    assert_eq!(again.text, page.text);
}

#[tokio::test]
async fn a_class_of_one_project_has_no_headings_and_nothing_to_tick() {
    let server = Server::empty().await.with_instructor().await;
    server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let form = visitor.get(&urls::class_edit(1)).await.expect(200);
    form.hides("And also").hides("name=\"also\"");
    visitor.post(&urls::class_publish(1), &[]).await.expect(303);
    let path = link(&mut visitor, 1, "attendee").await;
    let page = server.anonymous().get(&path).await.expect(200);
    page.hides("<h2>Seed-swap gifts</h2>")
        .shows("<ol class=\"contents\" start=\"1\">");
}

#[tokio::test]
async fn more_projects_are_chosen_and_left_out_and_a_stale_save_shows_both() {
    let server = server().await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_edit(1);
    let chosen = "<option value=\"2\" selected>";
    visitor.get(&url).await.expect(200).hides(chosen);
    let mut fields = with_also(&["2", ""], &[]);
    fields.push(("version", "1"));
    visitor.post(&url, &fields).await.expect(303);
    visitor.get(&url).await.expect(200).shows(chosen);
    let mut late = planned(&[("project", "2")]);
    late.push(("version", "1"));
    let answer = visitor.post(&url, &late).await.expect(409);
    let fields = answer.between("<main", "</main>").to_owned();
    let answer = answer.shows("Also").shows("Seed-swap gifts");
    assert_eq!(fields.matches("Seed-swap cards").count(), 2, "{fields}");
    answer.shows("name=\"project\" value=\"2\"");
    let mut both = with_also(&["1"], &[("project", "2")]);
    both.push(("version", "2"));
    visitor.post(&url, &both).await.expect(303);
    let page = visitor.get(&urls::class(1)).await.expect(200);
    page.shows(&format!("You make {CARDS} and {GIFTS}."));
    let gone = visitor
        .post(&urls::remove_project(1), &[])
        .await
        .expect(422);
    gone.shows("the class &#34;Winter evening&#34;");
    let gone = visitor
        .post(&urls::remove_project(2), &[])
        .await
        .expect(422);
    gone.shows("the class &#34;Winter evening&#34;");
    let unknown = with_also(&["77"], &[]);
    let answer = visitor.post(&urls::class_new(), &unknown).await.expect(422);
    answer
        .shows("&#34;77&#34; is not in the list")
        .shows("href=\"#f-also\"");
}

#[tokio::test]
async fn projects_are_made_in_the_order_in_which_they_were_chosen() {
    let server = server().await;
    let third = server
        .with_second_project(|project| project.title = "Seed-swap tags".to_owned())
        .await
        .to_string();
    let mut visitor = server.signed_in().await;
    for (class, also, told) in [
        (2, ["2", &third], "Seed-swap cards and Seed-swap tags"),
        (
            3,
            [third.as_str(), "2"],
            "Seed-swap tags and Seed-swap cards",
        ),
    ] {
        let fields = with_also(&also, &[]);
        visitor.post(&urls::class_new(), &fields).await.expect(303);
        visitor.get(&urls::classes()).await.expect(200).shows(told);
        // The form has them in the same order.
        let form = visitor.get(&urls::class_edit(class)).await.expect(200);
        let lists = form.between("id=\"f-also\"", "</fieldset>");
        let mut chosen = lists.split("\" selected>").map(|before| {
            let (_, value) = before.rsplit_once('"').unwrap_or_default();
            value.to_owned()
        });
        assert_eq!(chosen.by_ref().take(2).collect::<Vec<_>>(), also);
    }
}

/// A trimmer in millimetres.
async fn other_trimmer(server: &Server) -> i64 {
    let mut db = server.app.store().change().await.unwrap();
    let tool = BenchTool {
        kind: ToolKind::Trimmer,
        name: "Metric trimmer".to_owned(),
        count: 1,
        brought_by: BroughtBy::Instructor,
        params: ToolParams::Trims(Trimmer::new(Ruler::millimetre())),
    };
    let row = insert_tool(&mut *db, &tool).await.unwrap();
    db.commit().await.unwrap();
    row
}

#[tokio::test]
async fn projects_on_different_tools_are_refused_with_everything_typed() {
    let server = server().await;
    let trimmer = other_trimmer(&server).await;
    let metric = |project: &mut tablefold::store::projects::Project| {
        project.title = "Metric cards".to_owned();
        project.trimmer = trimmer;
    };
    let row = server.with_second_project(metric).await.to_string();
    let mut visitor = server.signed_in().await;
    let fields = with_also(&["2", &row], &[]);
    let answer = visitor.post(&urls::class_new(), &fields).await.expect(422);
    answer
        .shows("&#34;Metric cards&#34; can&#39;t share a class with &#34;Seed-swap gifts&#34;: their trimmers differ.")
        .shows("href=\"#f-also\"")
        .shows(&format!("<option value=\"{row}\" selected>"))
        .shows("<option value=\"2\" selected>")
        .shows("value=\"Winter evening\"");
    visitor.get(&urls::class(2)).await.expect(404);
    // A project may change its tools after the class was planned.
    let fields = with_also(&["2"], &[]);
    visitor.post(&urls::class_new(), &fields).await.expect(303);
    sqlx::query("UPDATE project SET trimmer_id = ?1 WHERE id = 2")
        .bind(trimmer)
        .execute(server.app.store().read())
        .await
        .unwrap();
    let page = visitor.get(&urls::class(2)).await.expect(200);
    page.shows("their trimmers differ")
        .shows(&format!("href=\"{}\"", urls::class_edit(2)))
        .shows(&format!("You make {GIFTS} and {CARDS}."));
    let packs = visitor.get(&urls::class_packs(2)).await.expect(409);
    packs.shows("their trimmers differ");
    visitor.post(&urls::class_publish(2), &[]).await.expect(409);
}

#[tokio::test]
async fn a_project_that_makes_nothing_is_named_with_the_way_to_it() {
    let server = server().await;
    let mut visitor = server.signed_in().await;
    let fields = with_also(&["2"], &[]);
    visitor.post(&urls::class_new(), &fields).await.expect(303);
    sqlx::query("DELETE FROM piece WHERE project_id = 2")
        .execute(server.app.store().read())
        .await
        .unwrap();
    let page = visitor.get(&urls::class(2)).await.expect(200);
    page.shows("The project &#34;Seed-swap cards&#34; has no piece")
        .shows("href=\"/projects/2\">Go to Project</a>");
}
