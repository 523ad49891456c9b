//! A whole packet: it balances, or says what is missing.

use std::collections::BTreeMap;

use jiff::civil::{date, time};
use tablefold_geometry::Length;

use super::*;
use crate::recipe::ToolKind;
use crate::recipe::fixture::{paper, project};

fn stock(id: i64, name: &str) -> StockPaper {
    StockPaper {
        id,
        paper: paper(name),
        price_minor: Some(60),
        on_hand: 3,
    }
}

fn colourway(id: i64, name: &str, spare_kits: u32) -> Colourway {
    let role = |role: &str, id, name| (role.to_owned(), stock(id, name));
    Colourway {
        id,
        name: name.to_owned(),
        papers: BTreeMap::from([
            role("main", 10 * id, if id == 1 { "Moss" } else { "Clay" }),
            role("accent", 10 * id + 1, if id == 1 { "Leaf" } else { "Sand" }),
            role("label", 99, "Cream"),
        ]),
        spare_kits,
    }
}

/// `attendees` in two colourways, with three spares.
pub(crate) fn class(attendees: usize) -> ClassFacts {
    let tool = |kind, count| ToolOnDay {
        kind,
        count,
        brought_by: BroughtBy::Instructor,
    };
    ClassFacts {
        title: "Seed-swap evening".to_owned(),
        date: date(2026, 11, 28),
        starts: time(18, 30, 0, 0),
        minutes: 120,
        place: "Allotment hall".to_owned(),
        project: project(),
        colourways: vec![colourway(1, "Meadow", 1), colourway(2, "Clay pot", 2)],
        attendees: (0..attendees)
            .map(|n| Attendee {
                name: format!("Seat {}", n + 1),
                colourway: 1 + (n as i64 % 2),
            })
            .collect(),
        tools: vec![tool(ToolKind::PunchBoard, 2), tool(ToolKind::Scissors, 6)],
        supplies: vec![SupplyStock {
            id: 1,
            name: "Round seed tin".to_owned(),
            on_hand: 10,
            on_hand_length: Length::ZERO,
        }],
    }
}

fn said(class: &ClassFacts) -> String {
    let problems = packet(class).map(|_| ()).expect_err("has a problem");
    problems
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn a_packet_balances_for_every_size_of_class() {
    for attendees in [1, 2, 3, 14, 40, 200] {
        let packet = packet(&class(attendees)).expect("balances");
        assert_eq!(packet.packs.len(), attendees + 3);
        for line in &packet.balance {
            assert_eq!(line.packs + line.spares, line.yields, "{}", line.what);
        }
        let packed: u64 = packet
            .packs
            .iter()
            .flat_map(|pack| &pack.items)
            .map(|item| u64::from(item.count))
            .sum();
        assert_eq!(
            packed,
            packet.balance.iter().map(|line| line.yields).sum::<u64>()
        );
    }
}

#[test]
fn every_part_of_a_pack_is_of_its_own_colourway() {
    let packet = packet(&class(14)).expect("balances");
    for pack in &packet.packs {
        for item in pack.items.iter().filter(|item| item.paper.is_some()) {
            let own = if pack.colourway == 1 {
                ["Moss", "Leaf", "Cream"]
            } else {
                ["Clay", "Sand", "Cream"]
            };
            assert!(
                own.contains(&item.from.as_str()),
                "{} in {}",
                item.from,
                pack.label
            );
        }
    }
}

#[test]
fn what_is_on_hand_is_not_bought() {
    let packet = packet(&class(14)).expect("balances");
    let tin = packet
        .pull
        .counted
        .iter()
        .find(|thing| thing.supply == 1)
        .expect("tins");
    assert_eq!((tin.total(), tin.buy()), (17, 7));
    for paper in &packet.pull.papers {
        assert_eq!(paper.buy(), paper.sheets().saturating_sub(3));
    }
}

#[test]
fn a_fence_is_set_once_in_each_pass() {
    let packet = packet(&class(14)).expect("balances");
    let mut settings: Vec<_> = packet
        .prep
        .cuts
        .iter()
        .map(|batch| (batch.pass, batch.setting))
        .collect();
    let all = settings.len();
    settings.sort_unstable();
    settings.dedup();
    assert_eq!(settings.len(), all);
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
    insta::assert_snapshot!(said(&class(0)), @"");
}

#[test]
fn a_colourway_without_a_paper_is_named() {
    let mut class = class(4);
    class.colourways[1].papers.remove("label");
    insta::assert_snapshot!(said(&class), @"");
}

#[test]
fn an_attendee_without_a_colourway_is_named() {
    let mut class = class(4);
    class.attendees[2].colourway = 7;
    insta::assert_snapshot!(said(&class), @"");
}

#[test]
fn too_many_kits_are_refused() {
    insta::assert_snapshot!(said(&class(398)), @"");
}

#[test]
fn a_paper_thicker_than_the_design_is_refused() {
    let mut class = class(4);
    if let Some(stock) = class.colourways[0].papers.get_mut("main") {
        stock.paper.caliper = Length::from_nm(400_000);
    }
    insta::assert_snapshot!(said(&class), @"");
}

#[test]
fn a_sheet_too_small_for_the_blank_is_refused() {
    let mut class = class(4);
    if let Some(stock) = class.colourways[0].papers.get_mut("main") {
        stock.paper.width = Length::inches(4);
    }
    insta::assert_snapshot!(said(&class), @"");
}

#[test]
fn a_class_step_without_its_tool_is_refused() {
    let mut class = class(4);
    class.tools[0].count = 0;
    let said = said(&class);
    assert!(said.contains("needs a punch board"), "{said}");
}
