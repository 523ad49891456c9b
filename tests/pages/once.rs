//! Forms that make something make it once, however often they are sent.

use sqlx::AssertSqlSafe;
use tablefold::urls;

use crate::bench::{PAPER, at_bench, with};
use crate::classes::planned;
use crate::projects::{BOX, ENVELOPE, PROJECT, with_project};
use crate::visitor::{Server, Visitor};

type Fields<'f> = &'f [(&'f str, &'f str)];

async fn workshop() -> Server {
    Server::empty().await.with_instructor().await
}

async fn rows(server: &Server, table: &str) -> i64 {
    let count = AssertSqlSafe(format!("SELECT COUNT(*) FROM {table}"));
    sqlx::query_scalar(count)
        .fetch_one(server.app.store().read())
        .await
        .unwrap()
}

/// Opens a form, sends it twice, and gives both answers' addresses.
async fn sent_twice(
    visitor: &mut Visitor<'_>,
    (form, action): (&str, &str),
    fields: &[(&str, &str)],
) -> [String; 2] {
    let page = visitor.get(form).await.expect(200);
    assert_eq!(page.header("cache-control"), "private, no-cache", "{form}");
    let token = page.between("name=\"once\" value=\"", "\"").to_owned();
    let fields = with(fields, &[("once", &token)]);
    let first = visitor.post(action, &fields).await.expect(303);
    let second = visitor.post(action, &fields).await.expect(303);
    [first.location().to_owned(), second.location().to_owned()]
}

#[tokio::test]
async fn a_form_sent_twice_makes_one_thing_and_leads_to_it() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let tin = [("name", "Tin"), ("measured", "each"), ("on_hand", "1")];
    let tool = [
        ("kind", "glue"),
        ("name", "Glue"),
        ("count", "1"),
        ("brought_by", "venue"),
    ];
    let step = [("title", "Stamp it"), ("minutes", "2"), ("phase", "class")];
    let project = with(&BOX, &PROJECT);
    let class = planned(&[]);
    let new_tool = format!("{}?kind=glue", urls::new_tool());
    let forms: [(&str, String, String, Fields<'_>); 7] = [
        ("paper", urls::new_paper(), urls::papers(), &PAPER),
        ("supply", urls::new_supply(), urls::supplies(), &tin),
        ("tool", new_tool, urls::tools(), &tool),
        ("project", urls::new_project(), urls::projects(), &project),
        ("piece", urls::new_piece(1), urls::pieces(1), &ENVELOPE),
        ("step_edit", urls::new_step(1), urls::steps(1), &step),
        ("class", urls::class_new(), urls::class_new(), &class),
    ];
    for (table, form, action, fields) in forms {
        // A new own step gives the others their places, in rows of the same table.
        let counted = match table {
            "step_edit" => "step_edit WHERE key GLOB 'own-*'",
            "piece" => "piece WHERE project_id = 1",
            table => table,
        };
        let before = rows(&server, counted).await;
        let [first, second] = sent_twice(&mut visitor, (&form, &action), fields).await;
        assert_eq!(first, second, "{table}");
        assert_eq!(rows(&server, counted).await, before + 1, "{table}");
    }
}

#[tokio::test]
async fn a_form_keeps_its_token_while_it_is_put_right() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let wrong = with(&PAPER, &[("name", ""), ("once", "leaf")]);
    let page = visitor.post(&urls::papers(), &wrong).await.expect(422);
    page.shows("name=\"once\" value=\"leaf\"");
    let right = with(&PAPER, &[("once", "leaf")]);
    visitor.post(&urls::papers(), &right).await.expect(303);
    assert_eq!(rows(&server, "paper").await, 2);
}

#[tokio::test]
async fn two_forms_opened_apart_make_two_things() {
    let server = workshop().await;
    let mut visitor = at_bench(&server).await;
    let mut tokens = Vec::new();
    for name in ["Clay card", "Loam card"] {
        let page = visitor.get(&urls::new_paper()).await.expect(200);
        let token = page.between("name=\"once\" value=\"", "\"").to_owned();
        let fields = with(&PAPER, &[("name", name), ("once", &token)]);
        visitor.post(&urls::papers(), &fields).await.expect(303);
        tokens.push(token);
    }
    assert_ne!(tokens[0], tokens[1]);
    assert_eq!(rows(&server, "paper").await, 3);
}

#[tokio::test]
async fn a_form_sent_twice_makes_one_link() {
    let server = workshop().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_links(id);
    let page = visitor.get(&url).await.expect(200);
    let token = page.between("name=\"once\" value=\"", "\"").to_owned();
    let fields = [("role", "host"), ("until", "2026-12-05"), ("once", &token)];
    for _ in 0..2 {
        let made = visitor.post(&url, &fields).await.expect(303);
        assert_eq!(made.location(), url);
    }
    assert_eq!(rows(&server, "link").await, 1);
    let page = visitor.get(&url).await.expect(200);
    page.shows("/h/").shows("Link 1. Host").hides("Link 2.");
    assert_eq!(rows(&server, "link").await, 1);
}
