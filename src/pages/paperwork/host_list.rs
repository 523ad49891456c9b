//! The host's list: when, where, who, which tools, what to watch out for.

use super::{Portrait, counted, portraits};
use crate::recipe::ToolKind;
use crate::workshop::{BroughtBy, ClassFacts, Packet, ToolLine};

/// Everything a host needs to know.
#[derive(Clone, Debug)]
pub struct HostList {
    /// What is made.
    pub portraits: Vec<Portrait>,
    /// How many come.
    pub attendees: usize,
    /// Minutes of work for one pair of hands.
    pub class_minutes: u32,
    /// How long the class lasts.
    pub minutes: u32,
    /// Colourway, attendees, spare kits.
    pub colourways: Vec<(String, usize, u32)>,
    /// Spare kits in all.
    pub spares: u32,
    /// Tools on the tables.
    pub tools: Vec<ToolRow>,
    /// What attendees bring.
    pub bring: Vec<&'static str>,
    /// Cautions.
    pub cautions: Vec<&'static str>,
    /// Number, label, colourway, parts of each pack.
    pub packs: Vec<(usize, String, String, u32)>,
}

impl HostList {
    /// The parts of all packs.
    #[must_use]
    pub fn parts(&self) -> u32 {
        self.packs.iter().map(|(_, _, _, parts)| parts).sum()
    }
}

/// A tool of the day.
#[derive(Clone, Debug)]
pub struct ToolRow {
    /// What it is.
    pub name: &'static str,
    /// How many.
    pub count: String,
    /// Who brings them.
    pub who: &'static str,
    /// How many attendees share one.
    pub share: String,
}

/// The host's list of a class.
#[must_use]
pub fn host_list(facts: &ClassFacts, packet: &Packet) -> HostList {
    let come = |id| facts.attendees.iter().filter(move |a| a.colourway == id);
    let colourways = facts
        .colourways
        .iter()
        .map(|c| (c.name.clone(), come(c.id).count(), c.spare_kits));
    let own = packet
        .tools
        .iter()
        .filter(|tool| tool.brought_by == BroughtBy::Attendee);
    let packs = packet.packs.iter().map(|pack| {
        let parts = pack.items.iter().map(|item| item.count).sum();
        (
            pack.number,
            pack.label.clone(),
            pack.colourway_name.clone(),
            parts,
        )
    });
    HostList {
        portraits: portraits(&packet.recipe.pieces, "piece"),
        attendees: facts.attendees.len(),
        class_minutes: packet.class_minutes,
        minutes: facts.minutes,
        spares: facts.colourways.iter().map(|c| c.spare_kits).sum(),
        colourways: colourways.collect(),
        tools: packet
            .tools
            .iter()
            .map(|tool| ToolRow::of(tool, facts.attendees.len()))
            .collect(),
        bring: own.map(|tool| tool.kind.name()).collect(),
        cautions: packet.cautions.iter().map(|c| c.text()).collect(),
        packs: packs.collect(),
    }
}

impl ToolRow {
    /// A tool among so many attendees.
    #[must_use]
    pub fn of(tool: &ToolLine, attendees: usize) -> Self {
        let each = tool.brought_by == BroughtBy::Attendee;
        let (count, share) = if each {
            ("1 each".to_owned(), "their own".to_owned())
        } else {
            let sharing = attendees.div_ceil(tool.count.max(1) as usize) as u64;
            (tool.count.to_string(), shared(sharing))
        };
        Self {
            name: ToolKind::name(tool.kind),
            count,
            who: tool.brought_by.label(),
            share,
        }
    }
}

fn shared(attendees: u64) -> String {
    match attendees {
        0 | 1 => "1 for each attendee".to_owned(),
        many => format!("1 for {}", counted(many, "attendee", "attendees")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{packet, plan_now};

    #[test]
    fn two_punch_boards_serve_seven_attendees_each() {
        let facts = demo::class(14);
        let list = host_list(&facts, &packet(&facts, &plan_now).expect("balances"));
        let of = |name| list.tools.iter().find(|tool| tool.name == name).unwrap();
        assert_eq!(of("punch board").share, "1 for 7 attendees");
        assert_eq!(of("scissors").count, "1 each");
        assert_eq!(list.bring, ["scissors"]);
        let seated: usize = list.colourways.iter().map(|c| c.1).sum();
        assert_eq!((seated, list.spares, list.packs.len()), (14, 3, 17));
    }
}
