//! The structure of a piece: compared, made to measure, its patterns as files.

use tablefold::urls;

use super::{BOX, PROJECT, with_project, workshop};
use crate::bench::with;

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
    cutter
        .shows("<g id=\"score\"")
        .shows(", inside up</title>")
        .hides("dash");
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

/// A ball has one measure; every structure that is a box takes it as a block of that side, and the
/// four-faced pouch as the sphere it holds.
#[tokio::test]
async fn a_ball_is_sized_and_comes_back_as_it_was_typed() {
    let server = workshop().await;
    let mut visitor = with_project(&server).await;
    let ball = [
        ("shape", "ball"),
        ("diameter", "25 mm"),
        ("height", ""),
        ("contents_name", "ball of twine"),
    ];
    let fields = with(&BOX, &ball);
    for slug in ["box", "tray", "hexagon", "four-faced"] {
        let named = [("structure", slug), ("do", "show")];
        let page = visitor.post(&urls::pieces(1), &with(&fields, &named)).await;
        page.expect(200).shows("fits and folds").shows("<svg");
    }
    let four = with(&fields, &[("structure", "four-faced")]);
    visitor.post(&urls::pieces(1), &four).await.expect(303);
    let page = visitor.get(&urls::piece(1, 2)).await.expect(200);
    page.shows("<option value=\"ball\" selected>")
        .shows("name=\"diameter\" type=\"text\" value=\"25 mm\"")
        .shows("diameter");
    let page = visitor.get(&urls::project(1)).await.expect(200);
    page.shows("Put in the ball of twine");
    let page = visitor.get(&urls::choose_for_piece(1, 2)).await;
    page.expect(200).shows("value=\"four-faced\">Use this");
    let none = with(&fields, &[("diameter", "")]);
    let page = visitor.post(&urls::pieces(1), &none).await.expect(422);
    page.shows("id=\"e-diameter\"").hides("id=\"e-height\"");
}
