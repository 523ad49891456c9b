//! One paper in several sheet sizes: the form, the bench, and the lists of a class.

use tablefold::demo;
use tablefold::store::bench::{find_paper, list_papers};
use tablefold::urls;

use crate::bench::{PAPER, at_bench, with};
use crate::visitor::{Server, Visitor};

async fn server() -> Server {
    Server::empty().await.with_instructor().await
}

/// A bench with Moss card (1), Clay card (2), and Clay card as letters (3).
async fn with_letters(server: &Server) -> Visitor<'_> {
    let mut visitor = at_bench(server).await;
    visitor.post(&urls::papers(), &PAPER).await.expect(303);
    visitor.post(&urls::papers(), &letters()).await.expect(303);
    visitor
}

fn letters() -> Vec<(&'static str, &'static str)> {
    let letters = [
        ("name", "Clay letters"),
        ("size", "US letter (ANSI A)"),
        ("same_as", "Clay card"),
    ];
    with(&PAPER, &letters)
}

#[tokio::test]
async fn a_paper_is_said_to_be_another_size_of_one() {
    let server = server().await;
    let mut visitor = with_letters(&server).await;
    let stored = find_paper(server.app.store().read(), 3).await.unwrap();
    assert_eq!(stored.unwrap().it.same_as, Some(2));
    let page = visitor.get(&urls::paper(3)).await.expect(200);
    page.shows("<option value=\"Clay card\" selected>")
        .shows("<option value=\"Moss card\">")
        .hides("<option value=\"Clay letters\"");
    let page = visitor.get(&urls::paper(2)).await.expect(200);
    page.shows("<option value=\"\" selected>A paper of its own")
        .hides("<option value=\"Clay card\"");
    // Sizes of one paper stand together, whatever their names.
    let other = with(&letters(), &[("version", "1"), ("name", "Zinnia letters")]);
    visitor.post(&urls::paper(3), &other).await.expect(303);
    let page = visitor.get(&urls::bench()).await.expect(200);
    let page = page.shows("another size of Clay card");
    let at = |name: &str| page.text.find(name).unwrap();
    assert!(at("Clay card") < at("Zinnia letters") && at("Zinnia letters") < at("Moss card"));
    // It can be taken back.
    let alone = [("version", "2"), ("same_as", "")];
    visitor
        .post(&urls::paper(3), &with(&letters(), &alone))
        .await
        .expect(303);
    let page = visitor.get(&urls::bench()).await.expect(200);
    page.hides("another size of");
}

#[tokio::test]
async fn a_paper_that_can_not_be_that_size_is_refused_beside_the_field() {
    let server = server().await;
    let mut visitor = with_letters(&server).await;
    for (paper, changes, said) in [
        (
            3,
            vec![("same_as", "Clay letters")],
            "&#34;Clay letters&#34; is this paper itself.",
        ),
        (
            1,
            vec![("name", "Moss card"), ("same_as", "Clay letters")],
            "&#34;Clay letters&#34; is itself another size of &#34;Clay card&#34;. Choose &#34;Clay card&#34;.",
        ),
        (
            3,
            vec![("caliper", "0.31 mm")],
            "&#34;Clay card&#34; is 0.3 mm thick and this paper 0.31 mm.",
        ),
        (
            2,
            vec![("name", "Clay card"), ("same_as", "Moss card")],
            "&#34;Clay letters&#34; is another size of this paper.",
        ),
        (
            3,
            vec![("same_as", "🌱")],
            "&#34;🌱&#34; is not in the list.",
        ),
    ] {
        let fields = with(&letters(), &changes);
        let fields = with(&fields, &[("version", "1")]);
        let page = visitor.post(&urls::paper(paper), &fields).await;
        let page = page.expect(422);
        let page = page.shows(said).shows("id=\"e-same_as\"");
        if let Some((_, caliper)) = changes.iter().find(|(name, _)| *name == "caliper") {
            page.shows(&format!("value=\"{caliper}\""));
        }
    }
    let new = with(&letters(), &[("name", "New"), ("same_as", "Clay letters")]);
    let page = visitor.post(&urls::papers(), &new).await.expect(422);
    page.shows("is itself another size of");
    let papers = list_papers(server.app.store().read()).await.unwrap();
    assert!(papers.len() == 3 && papers.iter().all(|it| it.version == 1));
}

#[tokio::test]
async fn a_paper_measured_anew_takes_its_other_sizes_along_and_is_not_removed() {
    let server = server().await;
    let mut visitor = with_letters(&server).await;
    let measured = [("version", "1"), ("caliper", "0.32 mm")];
    visitor
        .post(&urls::paper(2), &with(&PAPER, &measured))
        .await
        .expect(303);
    let page = visitor.get(&urls::paper(3)).await.expect(200);
    page.shows("value=\"0.32 mm\"");
    let page = visitor.get(&urls::remove_paper(2)).await.expect(200);
    page.shows("This paper is used in the paper &#34;Clay letters&#34;.");
    visitor.post(&urls::remove_paper(2), &[]).await.expect(422);
    visitor.post(&urls::remove_paper(3), &[]).await.expect(303);
    visitor.post(&urls::remove_paper(2), &[]).await.expect(303);
}

#[tokio::test]
async fn every_page_of_a_class_shows_the_sizes_that_are_cut() {
    let server = server().await;
    let id = server
        .with_class(40, |class| *class = demo::class_of_two_sizes(40))
        .await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class_cuts(id)).await.expect(200);
    page.shows("What is on hand is used up before anything is bought")
        .shows("No plan can cost less, each sheet at its lowest price.")
        .shows("sheets of ≈ 8 1/4 × 11 11/16 in (210 × 297 mm), on hand")
        .shows("Moss card A4");
    for url in [
        urls::class(id),
        urls::class_prep(id),
        urls::class_shopping(id),
        urls::class_cost(id),
    ] {
        let page = visitor.get(&url).await.expect(200);
        page.shows("Moss card").shows("Moss card A4");
    }
    // A pack holds paper, whichever sheet it came from.
    let packs = visitor.get(&urls::class_packs(id)).await.expect(200);
    packs.shows("Moss card").hides("Moss card A4");
    // So do the sums.
    let page = visitor.get(&urls::class_packet(id)).await.expect(200);
    page.hides("Moss card A4");
}

#[tokio::test]
async fn left_over_pieces_are_another_size_of_their_paper() {
    let server = server().await;
    let id = server
        .with_class(14, |class| *class = demo::class_of_two_sizes(14))
        .await;
    let mut visitor = server.signed_in().await;
    let size = [("width", "2 in"), ("height", "2 in")];
    let url = urls::class_left_overs(id);
    visitor.post(&url, &size).await.expect(303);
    let papers = list_papers(server.app.store().read()).await.unwrap();
    let main = |name: &str| papers.iter().find(|it| it.it.paper.name == name).unwrap();
    let left: Vec<_> = papers
        .iter()
        .filter(|it| it.it.paper.name.ends_with("left-over"))
        .collect();
    assert!(!left.is_empty());
    for it in &left {
        // Named after the paper, even where an A4 sheet was cut.
        let (paper, _) = it.it.paper.name.split_once(", ").unwrap();
        assert_eq!(it.it.same_as, Some(main(paper).id), "{paper}");
    }
    assert!(
        left.iter()
            .any(|it| it.it.same_as == Some(main("Moss card").id))
    );
    // What is left of left-overs comes back under the same names.
    let again = [("width", "2 in"), ("height", "2 in"), ("again", "yes")];
    visitor.post(&url, &again).await.expect(303);
    let papers = list_papers(server.app.store().read()).await.unwrap();
    let twice = papers.iter().filter(|it| {
        let name = &it.it.paper.name;
        name.matches("left-over").count() > 1
    });
    assert_eq!(twice.count(), 0);
    visitor.get(&urls::class_cuts(id)).await.expect(200);
}

#[tokio::test]
async fn another_size_on_hand_is_no_change_that_links_would_show() {
    let server = server().await;
    let id = server.with_class(3, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(303);
    let a4 = with(&PAPER, &[("caliper", "0.25 mm"), ("same_as", "Moss card")]);
    visitor.post(&urls::papers(), &a4).await.expect(303);
    let page = visitor.get(&urls::class(id)).await.expect(200);
    page.shows("Links show what the class is now.");
}
