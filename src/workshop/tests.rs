//! A whole packet: it balances, or says what is missing.

use tablefold_geometry::Length;

use super::*;
use crate::demo::class;

fn said(class: &ClassFacts) -> String {
    let problems = packet(class, &plan_now)
        .map(|_| ())
        .expect_err("has a problem");
    problems
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn a_packet_balances_for_every_size_of_class() {
    for attendees in [1, 2, 3, 14, 40, 200] {
        let packet = packet(&class(attendees), &plan_now).expect("balances");
        assert_eq!(packet.packs.len(), attendees + 3);
        for line in &packet.balance {
            let need = line.packs + line.spares;
            assert_eq!(need + line.extra(), line.yields, "{}", line.what);
        }
        let packed: u64 = packet
            .packs
            .iter()
            .flat_map(|pack| &pack.items)
            .map(|item| u64::from(item.count))
            .sum();
        let given = packet.balance.iter().map(|line| line.yields - line.extra());
        assert_eq!(packed, given.sum::<u64>());
    }
}

#[test]
fn every_part_of_a_pack_is_of_its_own_colourway() {
    let packet = packet(&class(14), &plan_now).expect("balances");
    for pack in &packet.packs {
        for item in pack.items.iter().filter(|item| item.paper.is_some()) {
            let class = class(14);
            let own = class.colourway(pack.colourway).expect("there");
            let paper = own
                .papers
                .values()
                .find(|stock| Some(stock.id) == item.paper);
            assert!(
                paper.is_some_and(|stock| stock.paper.name == item.from),
                "{}",
                item.from
            );
        }
    }
}

#[test]
fn what_is_on_hand_is_not_bought() {
    let packet = packet(&class(14), &plan_now).expect("balances");
    let tin = packet
        .pull
        .counted
        .iter()
        .find(|thing| thing.supply == 1)
        .expect("tins");
    assert_eq!((tin.total(), tin.buy()), (17, 7));
    for paper in &packet.pull.papers {
        assert_eq!(
            paper.buy(),
            paper.sheets().saturating_sub(paper.sizes[0].on_hand)
        );
    }
}

#[test]
fn no_tool_setting_comes_up_twice_among_the_batches() {
    let packet = packet(&class(14), &plan_now).expect("balances");
    let stamped: Vec<_> = packet
        .prep
        .batches
        .iter()
        .map(|b| (b.tool, b.settings.clone()))
        .collect();
    for (at, batch) in stamped.iter().enumerate() {
        assert!(!stamped[at + 1..].contains(batch), "{batch:?} is set twice");
    }
}

#[test]
fn a_class_without_attendees_is_refused() {
    insta::assert_snapshot!(said(&class(0)), @"The class has no attendees. Add at least 1.");
}

#[test]
fn a_colourway_without_a_paper_is_named() {
    let mut class = class(4);
    class.colourways[1].papers.remove("label");
    insta::assert_snapshot!(said(&class), @r#"Colourway "Clay pot" has no paper for "label". Choose one under Colourways."#);
}

#[test]
fn an_attendee_without_a_colourway_is_named() {
    let mut class = class(4);
    class.attendees[2].colourway = 7;
    insta::assert_snapshot!(said(&class), @"Seat 3 has no colourway. Choose one under Attendees.");
}

#[test]
fn too_many_kits_are_refused() {
    insta::assert_snapshot!(said(&class(398)), @"401 kits are more than a class can have. Plan at most 400 attendees and spares.");
}

#[test]
fn a_paper_thicker_than_the_design_is_refused() {
    let mut class = class(4);
    if let Some(stock) = class.colourways[0].papers.get_mut("main") {
        stock.paper.caliper = Length::from_nm(400_000);
    }
    insta::assert_snapshot!(said(&class), @r#"
    Colourway "Meadow" uses Moss card (0.4 mm thick) for "main", but Seed box is designed for 0.25 mm. Choose a thinner paper, or design the piece for this one.
    Colourway "Meadow" uses Moss card (0.4 mm thick) for "main", but Seed envelope is designed for 0.25 mm. Choose a thinner paper, or design the piece for this one.
    "#);
}

#[test]
fn a_sheet_too_small_for_the_blank_is_refused() {
    let mut class = class(4);
    if let Some(stock) = class.colourways[0].papers.get_mut("main") {
        stock.paper.width = Length::inches(4);
    }
    insta::assert_snapshot!(said(&class), @"Moss card: Seed box: box sheet is 5 13/16 in x 5 13/16 in and does not fit a sheet of 4 in x 12 in either way round. Use a larger sheet, or make the piece smaller.");
}

#[test]
fn a_class_step_without_its_tool_is_refused() {
    let mut class = class(4);
    class.tools[0].count = 0;
    let said = said(&class);
    assert!(said.contains("needs a punch board"), "{said}");
}
