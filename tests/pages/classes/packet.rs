//! The packet of a class: it balances, and all of it is on paper.

use tablefold::urls;

use super::server;

#[tokio::test]
async fn what_keeps_a_packet_from_balancing_is_named_with_the_way_to_it() {
    let server = server().await;
    let id = server
        .with_class(3, |facts| {
            facts.colourways[1].papers.remove("label");
            facts.tools[0].count = 0;
        })
        .await;
    let mut visitor = server.signed_in().await;
    let page = visitor.get(&urls::class(id)).await.expect(200);
    page.shows("Colourway &#34;Clay pot&#34; has no paper for &#34;label&#34;")
        .shows("needs a punch board, and none is there on the day")
        .shows(&format!("href=\"{}\"", urls::class_colourways(id)))
        .shows(&format!("href=\"{}\"", urls::class_tools(id)))
        .hides("The packet balances");
    for url in [
        urls::class_packet(id),
        urls::class_prep(id),
        urls::class_packs(id),
        urls::class_host(id),
        urls::class_cards(id),
    ] {
        visitor
            .get(&url)
            .await
            .expect(409)
            .shows("No packet yet")
            .shows("has no paper for");
    }
    let answer = visitor
        .post(&urls::class_publish(id), &[])
        .await
        .expect(409);
    answer.shows("has no paper for");
    visitor.get(&urls::class(id)).await.shows("Not published");
}

#[tokio::test]
async fn every_part_of_every_pack_is_on_the_printed_lists() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let facts = tablefold::demo::class(14);
    let packet = tablefold::workshop::packet(&facts, &tablefold::workshop::plan_now).unwrap();
    let packs = visitor.get(&urls::class_packs(id)).await.expect(200);
    let sections: Vec<&str> = packs.text.split("<section class=\"pack").skip(1).collect();
    assert_eq!(sections.len(), packet.packs.len());
    for (section, pack) in sections.iter().zip(&packet.packs) {
        assert!(section.contains(&pack.label), "{}", pack.label);
        let lines = section.matches("<span class=\"tick\">").count();
        assert_eq!(lines, pack.items.len(), "{}", pack.label);
        for item in &pack.items {
            assert!(
                section.contains(&item.name),
                "{} in {}",
                item.name,
                pack.label
            );
        }
    }
    let prep = visitor.get(&urls::class_prep(id)).await.expect(200);
    for paper in &packet.pull.papers {
        assert!(prep.text.contains(&paper.name), "{}", paper.name);
    }
    for batch in &packet.prep.batches {
        for row in &batch.rows {
            assert!(prep.text.contains(&row.title), "{}", row.title);
        }
    }
    let host = visitor.get(&urls::class_host(id)).await.expect(200);
    host.shows("Ask attendees to bring: scissors.")
        .shows("Small parts")
        .shows("17 packs");
    let cards = visitor.get(&urls::class_cards(id)).await.expect(200);
    let steps = packet
        .recipe
        .steps
        .iter()
        .filter(|step| step.is_class())
        .count();
    assert_eq!(cards.text.matches("class=\"step keep\"").count(), steps);
    let contents = visitor.get(&urls::class_packet(id)).await.expect(200);
    contents
        .shows("It balances")
        .shows("Seed box: band (Leaf print)");
}

#[tokio::test]
async fn packs_print_one_to_a_page_or_several() {
    let server = server().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    visitor
        .get(&urls::class_packs(id))
        .await
        .expect(200)
        .hides("one-a-page\"");
    let one = visitor.get(&urls::class_packs_one_a_page(id)).await;
    one.expect(200).shows("one-a-page\"");
}
