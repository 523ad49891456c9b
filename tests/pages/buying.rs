//! Offers, the shopping list, and what a class costs.

use tablefold::recipe::ToolKind;
use tablefold::urls;
use tablefold::workshop::{BroughtBy, Currency, ToolOnDay};

use crate::visitor::{Answer, Server, Visitor};

async fn server() -> Server {
    Server::empty().await.with_instructor().await
}

/// A pack of 10 for 4.50, as the form sends it.
fn offered<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let fields = [
        ("version", ""),
        ("shop", "Paper stall"),
        ("pack", "10"),
        ("price", "4.50"),
        ("multi_packs", ""),
        ("multi_price", ""),
    ];
    changed_fields(&fields, changed)
}

/// Fee, venue and the rest, as the form sends them.
fn money<'a>(version: &'a str, changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let fields = [
        ("version", version),
        ("fee", "12.00"),
        ("margin", "20"),
        ("venue", "30"),
        ("hourly_rate", ""),
        ("own_minutes", ""),
        ("consumables", "use"),
        ("adhesive", ""),
        ("dots_apart", "1 in"),
    ];
    changed_fields(&fields, changed)
}

fn changed_fields<'a>(
    fields: &[(&'a str, &'a str)],
    changed: &[(&'a str, &'a str)],
) -> Vec<(&'a str, &'a str)> {
    let value = |name: &str| changed.iter().find(|(other, _)| *other == name);
    fields
        .iter()
        .map(|field| value(field.0).copied().unwrap_or(*field))
        .collect()
}

fn version(page: &Answer) -> String {
    page.between("name=\"version\" value=\"", "\"").to_owned()
}

async fn add(visitor: &mut Visitor<'_>, url: &str, changed: &[(&str, &str)]) {
    visitor.post(url, &offered(changed)).await.expect(303);
}

#[tokio::test]
async fn an_offer_is_added_changed_and_removed_on_the_page_of_its_paper() {
    let server = server().await;
    server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let new = urls::paper_offers(1);
    visitor
        .get(&urls::paper(1))
        .await
        .expect(200)
        .shows("No offers yet")
        .shows(&new);
    visitor
        .get(&new)
        .await
        .expect(200)
        .shows("New offer for Moss card")
        .shows("value=\"1\"");
    let answer = visitor
        .post(
            &new,
            &offered(&[("multi_packs", "3"), ("multi_price", "9")]),
        )
        .await;
    assert_eq!(answer.expect(303).location(), urls::paper(1));
    let page = visitor.get(&urls::paper(1)).await.expect(200);
    page.shows("Paper stall")
        .shows("pack of 10")
        .shows("4.50")
        .shows("3 for 9.00");

    let edit = urls::offer(1);
    let opened = visitor.get(&edit).await.expect(200).shows("value=\"9.00\"");
    let number = version(&opened);
    let changed = offered(&[("version", &number), ("price", "4.20")]);
    visitor.post(&edit, &changed).await.expect(303);
    let late = visitor.post(&edit, &changed).await.expect(409);
    late.shows("Save yours anyway").hides("3 for");
    let ask = visitor.get(&urls::remove_offer(1)).await.expect(200);
    ask.shows("Paper stall");
    visitor.post(&urls::remove_offer(1), &[]).await.expect(303);
    visitor.get(&edit).await.expect(404);
    visitor
        .get(&urls::paper(1))
        .await
        .expect(200)
        .shows("No offers yet");
}

#[tokio::test]
async fn an_offer_with_errors_comes_back_with_everything_typed() {
    let server = server().await;
    server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let wrong = [
        ("price", "-3", "\"-3\" is not an amount"),
        ("price", "🌱", "\"🌱\" is not an amount"),
        (
            "price",
            "1000000.01",
            "is too much. Type an amount up to 1000000.00",
        ),
        ("price", "", "nothing is typed. Type an amount"),
        (
            "pack",
            "0",
            "\"0\" is too few. Type a number from 1 to 10000",
        ),
        ("pack", "10001", "is too many"),
        ("multi_packs", "3", "Price together: nothing is typed"),
        ("shop", "", "Shop: nothing is typed"),
    ];
    for (field, typed, said) in wrong {
        let answer = visitor
            .post(&urls::paper_offers(1), &offered(&[(field, typed)]))
            .await;
        let said = said.replace('"', "&#34;");
        let answer = answer.expect(422).shows(&said);
        if !typed.is_empty() {
            answer.shows(&format!("value=\"{typed}\""));
        }
    }
    visitor
        .get(&urls::paper(1))
        .await
        .expect(200)
        .shows("No offers yet");
    let spool = offered(&[("pack", "99999 m")]);
    let supply = visitor
        .post(&urls::supply_offers(2), &spool)
        .await
        .expect(422);
    supply.shows("is longer than 1000 m");
}

#[tokio::test]
async fn the_bench_says_how_many_offers_a_supply_without_a_price_has() {
    let server = Server::empty().await.with_instructor().await;
    server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let bench = visitor.get(&urls::bench()).await.expect(200);
    bench.hides("offer");
    visitor
        .post(&urls::supply_offers(1), &offered(&[]))
        .await
        .expect(303);
    let bench = visitor.get(&urls::bench()).await.expect(200);
    bench.shows("<td class=\"figure\">1 offer</td>");
}

#[tokio::test]
async fn what_is_not_there_has_no_offers() {
    let server = server().await;
    server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    for url in [
        urls::paper_offers(77),
        urls::supply_offers(77),
        urls::offer(77),
        urls::class_cost(77),
        urls::class_shopping(77),
    ] {
        visitor.get(&url).await.expect(404);
    }
    visitor
        .post(&urls::paper_offers(77), &offered(&[]))
        .await
        .expect(404);
    visitor.post(&urls::remove_offer(77), &[]).await.expect(404);
    visitor
        .post(&urls::class_cost(77), &money("0", &[]))
        .await
        .expect(404);
}

/// 14 attendees and 3 spares need 17 tins and have 10. Single ones cost 0.95; packs of 4 cost 3.50
/// and 3 of them 7.00: 1 pack and 3 single ones are 6.35, 2 packs 7.00.
#[tokio::test]
async fn the_shopping_list_finds_what_costs_least_shop_by_shop() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let tins = urls::supply_offers(1);
    add(
        &mut visitor,
        &tins,
        &[("shop", "Garden shed"), ("pack", "1"), ("price", "0.95")],
    )
    .await;
    let three = [
        ("pack", "4"),
        ("price", "3.50"),
        ("multi_packs", "3"),
        ("multi_price", "7"),
    ];
    add(&mut visitor, &tins, &three).await;
    let page = visitor.get(&urls::class_shopping(id)).await.expect(200);
    let page = page
        .shows("<h2>Garden shed</h2>")
        .shows("2.85")
        .shows("<h2>Paper stall</h2>")
        .shows("1 pack of 4")
        .shows("<h2>No shop named</h2>")
        .shows("<h2>No price known</h2>")
        .shows("Jute ribbon: no price is known")
        .shows("Tape for")
        .shows("at least <strong");
    page.shows(&urls::supply_offers(2));
    let contents = visitor.get(&urls::class_packet(id)).await.expect(200);
    contents.shows(&urls::class_shopping(id));
    let class = visitor.get(&urls::class(id)).await.expect(200);
    class
        .shows(&urls::class_shopping(id))
        .shows(&urls::class_cost(id))
        .shows("at least; ");
}

#[tokio::test]
async fn ribbon_is_bought_in_spools_that_need_no_joint() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let ribbon = urls::supply_offers(2);
    let spool = [
        ("shop", "Market hall"),
        ("pack", "10 cm"),
        ("price", "0.10"),
    ];
    add(&mut visitor, &ribbon, &spool).await;
    let page = visitor.get(&urls::class_shopping(id)).await.expect(200);
    page.shows("no spool on offer is long enough for a piece");
    let spool = [("shop", "Market hall"), ("pack", "10 m"), ("price", "4.90")];
    add(&mut visitor, &ribbon, &spool).await;
    let page = visitor.get(&urls::class_shopping(id)).await.expect(200);
    page.shows("of 10 m").hides("Jute ribbon: ");
}

#[tokio::test]
async fn a_class_says_what_it_costs_and_from_how_many_it_pays() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_cost(id);
    let empty = visitor.get(&url).await.expect(200);
    empty
        .shows("Costs are least ones.")
        .shows("Jute ribbon")
        .shows("Type a fee");
    visitor.post(&url, &money("0", &[])).await.expect(303);
    let page = visitor.get(&url).await.expect(200);
    let page = page
        .shows("Fee for a margin of 20 %")
        .shows("Venue")
        .shows("value=\"12.00\"")
        .shows("Meadow");
    assert_eq!(version(&page), "1");
    let late = visitor
        .post(&url, &money("0", &[("venue", "45")]))
        .await
        .expect(409);
    late.shows("Save yours anyway").shows("45");
    visitor
        .post(&url, &money("1", &[("fee", "0.10")]))
        .await
        .expect(303);
    visitor
        .get(&url)
        .await
        .expect(200)
        .shows("Never")
        .shows("the fee does not cover the class");
}

#[tokio::test]
async fn money_with_errors_comes_back_with_everything_typed() {
    let server = server().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let wrong = [
        ("fee", "-3", "\"-3\" is not an amount"),
        ("fee", "🌱", "\"🌱\" is not an amount"),
        (
            "margin",
            "91",
            "\"91\" is too many. Type a number from 0 to 90",
        ),
        ("venue", "1e9", "\"1e9\" is not an amount"),
        ("own_minutes", "100001", "is too many"),
        ("consumables", "all", "\"all\" is not in the list"),
        ("adhesive", "77", "\"77\" is not in the list"),
        ("dots_apart", "0", "\"0\" is no size"),
    ];
    for (field, typed, said) in wrong {
        let answer = visitor
            .post(&urls::class_cost(id), &money("0", &[(field, typed)]))
            .await;
        let said = said.replace('"', "&#34;");
        answer
            .expect(422)
            .shows(&said)
            .shows("name=\"version\" value=\"0\"");
    }
}

#[tokio::test]
async fn tape_that_a_class_uses_is_on_its_list_and_is_not_removed() {
    let server = server().await;
    let id = server.with_class(14, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let tape = [
        ("version", ""),
        ("name", "Joint tape"),
        ("measured", "length"),
        ("on_hand", "2 m + 80 cm"),
        ("price", ""),
    ];
    visitor.post(&urls::supplies(), &tape).await.expect(303);
    visitor
        .get(&urls::supply(5))
        .await
        .expect(200)
        .shows("2 m + 800 mm")
        .shows("Joint tape");
    visitor
        .post(&urls::class_cost(id), &money("0", &[("adhesive", "5")]))
        .await
        .expect(303);
    let roll = [("pack", "25 m"), ("price", "4.50")];
    add(&mut visitor, &urls::supply_offers(5), &roll).await;
    let page = visitor.get(&urls::class_shopping(id)).await.expect(200);
    page.shows("Joint tape").hides("Tape for");
    let kept = visitor.post(&urls::remove_supply(5), &[]).await.expect(422);
    kept.shows("This supply is used in the class &#34;Seed-swap evening&#34;");
}

#[tokio::test]
async fn a_server_in_yen_has_no_digits_after_the_point() {
    let yen = Currency::read("JPY").unwrap();
    let server = Server::in_currency(yen).await.with_instructor().await;
    let id = server.with_class(2, |_| {}).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_cost(id);
    let refused = visitor.post(&url, &money("0", &[])).await.expect(422);
    refused.shows("has digits after the point, and JPY has none");
    let typed = [("fee", "1200"), ("venue", "3000")];
    visitor.post(&url, &money("0", &typed)).await.expect(303);
    let page = visitor.get(&url).await.expect(200);
    page.shows("\u{a0}JPY")
        .shows("value=\"1200\"")
        .hides("1200.00");
    visitor
        .get(&urls::bench())
        .await
        .expect(200)
        .shows("60\u{a0}JPY");
}

#[tokio::test]
async fn a_class_without_a_packet_keeps_its_money() {
    let server = server().await;
    let no_board = |facts: &mut tablefold::workshop::ClassFacts| {
        facts.tools.retain(|tool| tool.kind != ToolKind::PunchBoard);
        facts.tools.push(ToolOnDay {
            kind: ToolKind::PunchBoard,
            count: 0,
            brought_by: BroughtBy::Venue,
        });
    };
    let id = server.with_class(2, no_board).await;
    let mut visitor = server.signed_in().await;
    let url = urls::class_cost(id);
    visitor
        .get(&url)
        .await
        .expect(200)
        .shows("keeps the packet from balancing");
    visitor.post(&url, &money("0", &[])).await.expect(303);
    visitor.get(&url).await.expect(200).shows("value=\"12.00\"");
    visitor
        .get(&urls::class_shopping(id))
        .await
        .expect(409)
        .shows("No packet yet");
}
