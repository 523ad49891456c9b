//! What is printed of a packet: the same views for the instructor, for phones and for hosts.
//! Their templates stand in `templates/paperwork/`.

mod batches;
mod cards;
mod cut_cards;
mod host_list;
mod pack_lists;
mod plan_words;
mod portraits;
mod prep_list;
mod sheet_cuts;

pub use cards::{BigMeasure, StepCard, samples, step_cards};
pub use cut_cards::{CutCards, PaperCards, cut_cards};
pub use host_list::{HostList, ToolRow, host_list};
pub use pack_lists::{PackList, PackTotals, own_pack, pack_lists, pack_totals};
pub use portraits::{Portrait, portraits};
pub(crate) use prep_list::long;
pub use prep_list::{PrepList, prep_list};

use super::when;
use crate::store::revisions::Revision;
use crate::workshop::ClassFacts;

/// What stands at the head of every printed page.
#[derive(Clone, Debug)]
pub struct Heading {
    /// The class.
    pub title: String,
    /// Day and time.
    pub when: String,
    /// Where.
    pub place: String,
    /// "Draft", or which revision and when it was published.
    pub status: String,
    /// All of it in one line, for the foot of a card that is cut out.
    pub short: String,
}

impl Heading {
    /// Of a class as it is now, which nobody has published.
    #[must_use]
    pub fn draft(facts: &ClassFacts) -> Self {
        Self::new(facts, "Draft".to_owned(), "draft")
    }

    /// Of a published revision.
    #[must_use]
    pub fn published(revision: &Revision) -> Self {
        let short = format!("revision {}", revision.number);
        Self::new(&revision.facts, published_text(revision), &short)
    }

    fn new(facts: &ClassFacts, status: String, which: &str) -> Self {
        Self {
            title: facts.title.clone(),
            when: format!(
                "{}, {}",
                when::day(facts.date),
                when::span(facts.starts, facts.minutes)
            ),
            place: facts.place.clone(),
            status,
            short: format!("{}, {}, {which}", facts.title, when::date(facts.date)),
        }
    }
}

/// "Revision 2, published 28 November 2026, 10:00 UTC".
#[must_use]
pub fn published_text(revision: &Revision) -> String {
    let at = when::moment(revision.published_at);
    format!("Revision {}, published {at}", revision.number)
}

/// "1 pack", "2 packs".
#[must_use]
pub fn counted(count: u64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
