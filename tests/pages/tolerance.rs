//! What hands make of a piece, on its pages.

use tablefold::urls;

use crate::bench::with;
use crate::projects::{BOX, ENVELOPE, PROJECT, with_project};
use crate::visitor::{Answer, Server, Visitor};

async fn workshop() -> Server {
    Server::empty().await.with_instructor().await
}

/// Of 100, as the page says it of the first piece that it tells it of.
fn of_100(page: &Answer) -> u32 {
    let told = page.between("<h3>In the hands of a class</h3>", "You want");
    let (_, rest) = told.split_once(", ").unwrap();
    let (number, _) = rest.split_once(" make").unwrap();
    number.rsplit(' ').next().unwrap().parse().unwrap()
}

/// What the button takes, and what it is called.
fn button(page: &Answer) -> (String, String) {
    let button = page.between("name=\"take\" value=\"", "</button>");
    let (value, label) = button.split_once("\">").unwrap();
    (value.to_owned(), label.to_owned())
}

async fn tray(visitor: &mut Visitor<'_>, change: &[(&str, &str)]) -> Answer {
    let fields = with(&BOX, &[("structure", "tray"), ("do", "show")]);
    let fields = with(&fields, change);
    visitor.post(&urls::pieces(1), &fields).await
}

#[tokio::test]
async fn hands_stand_beside_a_piece_with_a_table_of_measures() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = visitor.get(&urls::project(1)).await.expect(200);
    let many = of_100(&page);
    assert!((1..100).contains(&many), "{many}");
    page.shows("Of 100 beginners, ")
        .shows("You want 95.")
        .shows("Width inside")
        .shows("Worst case")
        .hides("name=\"take\"");
}

/// Beginners' trays: 95 of 100 take more clearance and more play; one button takes both.
#[tokio::test]
async fn one_button_takes_the_clearance_and_the_play_that_95_of_100_need() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = tray(&mut visitor, &[]).await.expect(200);
    assert!(of_100(&page) < 95);
    let (take, label) = button(&page);
    let (clearance, play) = take.split_once(" + ").unwrap();
    assert_eq!(
        label,
        format!("Take {clearance} of clearance and {play} of play")
    );
    let page = tray(&mut visitor, &[("take", &take)]).await.expect(200);
    assert!(of_100(&page) >= 95, "{}", of_100(&page));
    let page = page
        .shows(&format!(
            "name=\"clearance\" type=\"text\" value=\"{clearance}\""
        ))
        .shows(&format!("name=\"play\" type=\"text\" value=\"{play}\""));
    // What is enough already is enough.
    page.shows("Less clearance is not enough.")
        .hides("name=\"take\"");
    let saved = [("take", take.as_str()), ("do", "save")];
    tray(&mut visitor, &saved).await.expect(303);
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    assert!(of_100(&page) >= 95);
    page.shows(&format!("value=\"{play}\""));
}

#[tokio::test]
async fn a_lid_is_as_deep_and_as_loose_as_typed_within_limits() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let page = tray(&mut visitor, &[]).await.expect(200);
    let page = page
        .shows("Play of the lid over the base")
        .shows("1/32 in to 1/4 in; empty for the least")
        .shows("Depth of the lid");
    let shallow = page.between("<dt>lid score</dt>", "</div>").to_owned();
    let full = tray(&mut visitor, &[("lid", "full")]).await.expect(200);
    let base = full.between("<dt>base score</dt>", "</div>").to_owned();
    assert_eq!(full.between("<dt>lid score</dt>", "</div>"), base);
    assert_ne!(shallow, base);
    let page = tray(&mut visitor, &[("play", "1 in"), ("lid", "deep")]).await;
    page.expect(422)
        .shows("Play of the lid over the base: &#34;1 in&#34; is no play that works. Type 1/32 in to 1/4 in, or leave it empty for the least.")
        .shows("Depth of the lid: &#34;deep&#34; is not in the list.")
        .shows("value=\"1 in\"");
    let drawer = [("structure", "drawer"), ("play", "1/64 in")];
    let page = tray(&mut visitor, &drawer).await.expect(422);
    page.shows("Play of the drawer in its sleeve: &#34;1/64 in&#34; is no play that works. Type 3/64 in to 1/4 in");
    // A box has no lid, and keeps what was typed for another structure.
    let boxed = [("structure", "box"), ("play", "1/8 in"), ("lid", "half")];
    let page = tray(&mut visitor, &boxed).await.expect(200);
    page.shows("type=\"hidden\" name=\"play\" value=\"1/8 in\"")
        .hides("Depth of the lid");
}

#[tokio::test]
async fn a_project_says_whose_hands_and_how_many_of_100() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let before = of_100(&tray(&mut visitor, &[]).await.expect(200));
    let edit = urls::edit_project(1);
    let page = visitor.get(&edit).await.expect(200);
    page.shows("Whose hands")
        .shows("name=\"within_cut\" type=\"text\" value=\"0.8 mm\"");
    let practised = with(
        &PROJECT,
        &[
            ("version", "1"),
            ("hands", "practised"),
            ("wanted_of_100", "90"),
        ],
    );
    visitor.post(&edit, &practised).await.expect(303);
    let page = tray(&mut visitor, &[]).await.expect(200);
    let page = page
        .shows("Of 100 practised makers, ")
        .shows("You want 90.");
    assert!(of_100(&page) > before);
    visitor.post(&edit, &practised).await.expect(409);
    let own = [
        ("version", "2"),
        ("hands", "own"),
        ("within_cut", "1/16 in"),
        ("within_score", "1.6 mm"),
        ("within_punch", "1/16 in"),
        ("within_calibration", "0.3 mm"),
        ("within_draw", "1 mm"),
        ("within_fold", "0"),
    ];
    let own = with(&practised, &own);
    visitor.post(&edit, &own).await.expect(303);
    let page = tray(&mut visitor, &[]).await.expect(200);
    let page = page.shows("Of 100 makers with your numbers, ");
    assert!(of_100(&page) < before);
    let page = visitor.get(&edit).await.expect(200);
    page.shows("name=\"within_cut\" type=\"text\" value=\"1/16 in\"")
        .shows("<option value=\"own\" selected>");
    let wrong = [
        ("version", "3"),
        ("within_cut", "30 mm"),
        ("within_fold", "thumb"),
        ("wanted_of_100", "100"),
    ];
    let page = visitor.post(&edit, &with(&own, &wrong)).await.expect(422);
    page.shows("A cut: &#34;30 mm&#34; is more than hands are off. Type a length from 0 to 20 mm, such as 0.8 mm.")
        .shows("id=\"e-within_fold\"")
        .shows("id=\"e-wanted_of_100\"")
        .shows("value=\"thumb\"");
}

/// Where neither clearance nor play is enough, the page says what stands in the way.
#[tokio::test]
async fn a_share_out_of_reach_says_why_and_what_would_do() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let rough = [
        ("version", "1"),
        ("hands", "own"),
        ("within_cut", "6 mm"),
        ("within_score", "6 mm"),
        ("within_punch", "6 mm"),
        ("within_calibration", "1 mm"),
        ("within_draw", "6 mm"),
        ("within_fold", "3 mm"),
    ];
    let rough = with(&PROJECT, &rough);
    visitor
        .post(&urls::edit_project(1), &rough)
        .await
        .expect(303);
    let page = tray(&mut visitor, &[]).await.expect(200);
    page.shows("No clearance and no play that this program tries is enough for 95 of 100.")
        .shows("fails most often")
        .shows("Cut and score the sheets yourself before the class")
        .hides("name=\"take\"");
}

/// An A2 card (5 1/2 x 4 1/4 in folded) goes into an A2 envelope; its post is a letter.
#[tokio::test]
async fn a_card_names_its_envelopes_and_its_post_both_ways() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let card = [
        ("structure", "card"),
        ("width", "4 in"),
        ("depth", "5 1/2 in"),
        ("height", "0.3 mm"),
        ("clearance", "0.1 mm"),
        ("do", "show"),
    ];
    let fields = with(&ENVELOPE, &card);
    let page = visitor.post(&urls::pieces(1), &fields).await.expect(200);
    page.shows("Envelopes and post")
        .shows("<li>US A2, ")
        // The front is 4 1/16 x 5 9/16 in. (4 1/16 in + 2 mm + 3 sheets) / √2 + 1/4 in is 3 1/4 in
        // on the ruler; the square is that and (5 9/16 in + 2 mm + 3 sheets) / √2 + 1/4 in.
        .shows("Or make another one on the punch board: cut a square of <span class=\"measure\">7 9/16 in")
        .shows("and punch the first side at <span class=\"measure\">3 1/4 in")
        .shows("USPS")
        .shows("Along the short side: not mailable. It has to be at least 5 in along the address")
        .shows("Addressed either way up: letter. Up to 240 x 165 x 5 mm and 100 g.")
        .shows("Royal Mail")
        .shows("2010 to 2018: DMM 101.1")
        .shows("Limits change: check before you post.");
    let url = urls::choose_for_new_piece(1);
    let page = visitor.post(&url, &fields).await.expect(200);
    page.shows("It also fits US A2").shows("USPS: letter");
}
