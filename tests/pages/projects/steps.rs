//! Steps of a project: reworded, moved, hidden, and those of your own.

use tablefold::urls;

use super::{BOX, TRIMMINGS, with_project, workshop};
use crate::bench::with;
use crate::visitor::Visitor;

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
