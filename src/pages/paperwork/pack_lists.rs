//! A check list for each pack.

use std::collections::BTreeMap;

use crate::workshop::{ClassFacts, Pack, Packet};

/// What goes into one pack.
#[derive(Clone, Debug)]
pub struct PackList {
    /// Number on the label.
    pub number: usize,
    /// Who it is for.
    pub label: String,
    /// Which colourway.
    pub colourway: String,
    /// Its parts.
    pub lines: Vec<PackLine>,
    /// How many parts in all.
    pub parts: u32,
}

/// One part of a pack.
#[derive(Clone, Debug)]
pub struct PackLine {
    /// What it is.
    pub name: String,
    /// The paper or the supply; empty where the name says it already.
    pub from: String,
    /// How many.
    pub count: u32,
}

/// All packs together, to compare with what lies on the table.
#[derive(Clone, Debug)]
pub struct PackTotals {
    /// How many packs.
    pub packs: usize,
    /// What they hold in all: part, paper or supply, count.
    pub lines: Vec<(String, String, u64)>,
    /// All parts.
    pub parts: u64,
}

/// The check list of every pack.
#[must_use]
pub fn pack_lists(packet: &Packet) -> Vec<PackList> {
    packet.packs.iter().map(pack_list).collect()
}

/// The pack of one attendee, by row number: packs come in the order of the attendees.
#[must_use]
pub fn own_pack(facts: &ClassFacts, packet: &Packet, attendee: i64) -> Option<PackList> {
    let place = facts.attendees.iter().position(|one| one.id == attendee)?;
    packet.packs.get(place).map(pack_list)
}

fn pack_list(pack: &Pack) -> PackList {
    let line = |item: &crate::workshop::PackItem| PackLine {
        name: item.name.clone(),
        from: not_said_twice(&item.name, &item.from),
        count: item.count,
    };
    PackList {
        number: pack.number,
        label: pack.label.clone(),
        colourway: pack.colourway_name.clone(),
        lines: pack.items.iter().map(line).collect(),
        parts: pack.items.iter().map(|item| item.count).sum(),
    }
}

/// A bought thing's part is named after it.
fn not_said_twice(name: &str, from: &str) -> String {
    let said = name.to_lowercase().ends_with(&from.to_lowercase());
    if said { String::new() } else { from.to_owned() }
}

/// What all packs hold, part by part.
#[must_use]
pub fn pack_totals(packet: &Packet) -> PackTotals {
    let mut sums: BTreeMap<(usize, Option<i64>), (String, String, u64)> = BTreeMap::new();
    for item in packet.packs.iter().flat_map(|pack| &pack.items) {
        let from = || not_said_twice(&item.name, &item.from);
        let line = sums
            .entry((item.part, item.paper))
            .or_insert_with(|| (item.name.clone(), from(), 0));
        line.2 += u64::from(item.count);
    }
    PackTotals {
        packs: packet.packs.len(),
        parts: sums.values().map(|line| line.2).sum(),
        lines: sums.into_values().collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{packet, plan_now};

    #[test]
    fn totals_are_the_sum_of_all_packs() {
        let packet = packet(&demo::class(14), &plan_now).expect("balances");
        let lists = pack_lists(&packet);
        let totals = pack_totals(&packet);
        assert_eq!(totals.packs, 17);
        let sum: u64 = lists.iter().map(|pack| u64::from(pack.parts)).sum();
        assert_eq!(totals.parts, sum);
    }

    #[test]
    fn an_own_pack_is_that_of_the_attendee() {
        let facts = demo::class(5);
        let packet = packet(&facts, &plan_now).expect("balances");
        let own = own_pack(&facts, &packet, 4).expect("seat 4 comes");
        assert_eq!(
            (own.label.as_str(), own.colourway.as_str()),
            ("Seat 4", "Plum")
        );
        assert!(own_pack(&facts, &packet, 77).is_none());
    }

    #[test]
    fn a_bought_thing_is_named_once() {
        assert_eq!(
            not_said_twice("Seed box: round seed tin", "Round seed tin"),
            ""
        );
        assert_eq!(not_said_twice("Seed box: band", "Leaf print"), "Leaf print");
    }
}
