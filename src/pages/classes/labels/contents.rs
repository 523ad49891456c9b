//! What stands on the labels of a class: packs with the code of their attendee's own link, tables
//! with the code of the steps, tools with where they go afterwards.

use std::collections::HashMap;

use super::super::links::{address_of, attendees_address};
use super::form::{Choice, What};
use crate::app::App;
use crate::error::PageResult;
use crate::pages::when;
use crate::print::{Label, LabelLine};
use crate::store::links::list_links;
use crate::workshop::{BroughtBy, ClassFacts, Pack, Packet, ToolLine};

/// Whole addresses of links that work.
pub(super) struct Addresses {
    /// Of all attendees.
    pub(super) all: Option<String>,
    /// Of one attendee each, by row number.
    pub(super) own: HashMap<i64, String>,
}

impl Addresses {
    pub(super) async fn of(app: &App, class: i64) -> PageResult<Self> {
        let links = list_links(app.store().read(), class).await?;
        let now = app.clock().now();
        let mut own = HashMap::new();
        for link in links.iter().filter(|link| link.works(now)) {
            if let (Some(attendee), Some(address)) = (link.attendee_id, address_of(app, link)) {
                // The newest comes first, and is the one that they were given last.
                own.entry(attendee).or_insert(address);
            }
        }
        Ok(Self {
            all: attendees_address(app, class).await?,
            own,
        })
    }

    fn of_pack(&self, attendee: Option<i64>) -> Option<String> {
        let own = attendee.and_then(|id| self.own.get(&id));
        own.or(self.all.as_ref()).cloned()
    }
}

/// All labels that are asked for: packs, then tables, then tools.
pub(super) fn labels(
    facts: &ClassFacts,
    packet: &Packet,
    choice: &Choice,
    addresses: &Addresses,
) -> Vec<Label> {
    let class = LabelLine {
        instead: when::date(facts.date),
        is_extra: true,
        ..LabelLine::new(&class_line(facts), false, 9.0)
    };
    let mut labels = Vec::new();
    if choice.what.has(What::Packs) {
        // Packs come in the order of the attendees, then the spares.
        let attendees = facts.attendees.iter().map(|one| Some(one.id));
        let ids = attendees.chain(std::iter::repeat(None));
        let packs = packet.packs.iter().zip(ids);
        labels.extend(packs.map(|(it, id)| pack(it, addresses.of_pack(id), &class)));
    }
    if choice.what.has(What::Tables) {
        labels.extend((1..=choice.tables).map(|number| table(number, addresses, &class)));
    }
    if choice.what.has(What::Tools) {
        let shared = packet.tools.iter().filter(|tool| is_shared(tool));
        labels.extend(shared.flat_map(|it| tools(it, &class)));
    }
    labels
}

/// "Seed swap evening, 5 December 2026".
pub(super) fn class_line(facts: &ClassFacts) -> String {
    format!("{}, {}", facts.title, when::date(facts.date))
}

fn pack(pack: &Pack, address: Option<String>, class: &LabelLine) -> Label {
    Label {
        lines: vec![
            LabelLine::new(&format!("Pack {}", pack.number), true, 12.0),
            LabelLine {
                instead: format!("Attendee {}", pack.number),
                ..LabelLine::new(&pack.label, true, 20.0)
            },
            LabelLine::new(&pack.colourway_name, false, 14.0),
            class.clone(),
        ],
        address,
    }
}

fn table(number: u32, addresses: &Addresses, class: &LabelLine) -> Label {
    let mut lines = vec![LabelLine::new(&format!("Table {number}"), true, 28.0)];
    if addresses.all.is_some() {
        lines.push(LabelLine::new("All steps on your phone", false, 12.0));
    }
    lines.push(class.clone());
    Label {
        lines,
        address: addresses.all.clone(),
    }
}

/// What attendees bring is theirs: no label of the class goes on it.
fn is_shared(tool: &ToolLine) -> bool {
    tool.brought_by != BroughtBy::Attendee
}

fn tools(tool: &ToolLine, class: &LabelLine) -> Vec<Label> {
    let name = capital(tool.kind.name());
    let goes = match tool.brought_by {
        BroughtBy::Venue => "Stays at the venue",
        BroughtBy::Instructor | BroughtBy::Attendee => "Goes home with the instructor",
    };
    let one = |number| Label {
        lines: vec![
            LabelLine::new(&numbered(&name, number, tool.count), true, 18.0),
            LabelLine::new(goes, false, 12.0),
            class.clone(),
        ],
        address: None,
    };
    (1..=tool.count).map(one).collect()
}

/// "Punch board 2 of 2"; one alone needs no number.
fn numbered(name: &str, number: u32, count: u32) -> String {
    match count {
        1 => name.to_owned(),
        _ => format!("{name} {number} of {count}"),
    }
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
