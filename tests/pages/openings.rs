//! Windows in lids and slots for a hand, from the form to the class.

use tablefold::urls;

use crate::bench::with;
use crate::classes::planned;
use crate::projects::{BOX, with_project};
use crate::visitor::{Answer, Server, Visitor};

async fn workshop() -> Server {
    Server::empty().await.with_instructor().await
}

async fn asked(visitor: &mut Visitor<'_>, change: &[(&str, &str)]) -> Answer {
    let fields = with(&BOX, &[("structure", "tray"), ("do", "show")]);
    visitor.post(&urls::pieces(1), &with(&fields, change)).await
}

#[tokio::test]
async fn a_window_is_asked_for_in_the_form_and_told_beside_it() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = asked(&mut visitor, &[("window", "1 in")]).await.expect(200);
    page.shows("Window in the lid")
        .shows("Its film is a part of its own")
        .shows("<dt>window</dt>")
        .shows("fits and folds");
    let page = asked(&mut visitor, &[]).await.expect(200);
    page.hides("<dt>window</dt>");
    let large = [("window", "9 in")];
    let page = asked(&mut visitor, &large).await.expect(422);
    page.shows("10 mm of paper has to stay all round it. Set ")
        .shows("href=\"#f-window\"")
        .shows("value=\"9 in\"");
    let page = asked(&mut visitor, &[("window", "round")])
        .await
        .expect(422);
    page.shows("Window in the lid: &#34;round&#34;");
}

#[tokio::test]
async fn a_structure_without_a_window_says_so_and_keeps_what_was_typed() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let boxed = [("structure", "box"), ("window", "1 in")];
    let page = asked(&mut visitor, &boxed).await.expect(200);
    page.shows("This structure has no window: \"1 in\" waits for one that has.")
        .shows("type=\"hidden\" name=\"window\" value=\"1 in\"")
        .hides("Window in the lid");
    let gable = [("structure", "gable-top"), ("slot", "3 in")];
    let page = asked(&mut visitor, &gable).await.expect(200);
    page.shows("Hand slot in the roof")
        .shows("<dt>hand slot</dt>");
}

#[tokio::test]
async fn a_stored_window_is_a_part_of_the_kit_and_comes_back_into_the_form() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let saved = [("window", "1 in"), ("do", "save"), ("name", "Window tray")];
    asked(&mut visitor, &saved).await.expect(303);
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Window tray: window film")
        .shows("Cut the window in the lid")
        .shows("Tape film behind the lid&#39;s window");
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    page.shows("name=\"window\"").shows("value=\"1 in\"");
}

#[tokio::test]
async fn compared_with_a_window_the_others_say_that_they_have_none() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let fields = [("structure", "tray"), ("window", "1 in"), ("band", "")];
    let fields = with(&BOX, &fields);
    let page = visitor.post(&urls::choose_for_new_piece(1), &fields).await;
    let page = page.expect(200);
    assert!(page.text.contains("id=\"tray\"") && page.text.contains("id=\"hexagon\""));
    page.hides("id=\"drawer\"")
        .shows("The drawer with sleeve has no window. Leave the window out.")
        .shows("name=\"window\" value=\"1 in\"");
}

#[tokio::test]
async fn a_class_with_a_window_asks_for_its_film_among_the_papers() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let saved = [("window", "1 in"), ("do", "save"), ("name", "Window tray")];
    asked(&mut visitor, &saved).await.expect(303);
    let class = visitor.post(&urls::class_new(), &planned(&[])).await;
    class.expect(303);
    let page = visitor.get(&urls::class_colourways(1)).await.expect(200);
    page.shows("Paper for window film");
}
