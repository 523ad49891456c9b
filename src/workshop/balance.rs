//! The reconciliation: what packs and spares need is what sheets and lists yield. No less; and
//! no more, but for what sheets that are cut alike give over.

use std::collections::BTreeMap;

use crate::recipe::{PartKind, Recipe};

use super::packs::Pack;
use super::problem::PacketProblem;
use super::pull::Pull;

/// One line of the reconciliation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Balance {
    /// Part and what it is made of.
    pub what: String,
    /// In attendees' packs.
    pub packs: u64,
    /// In spare kits.
    pub spares: u64,
    /// What cut plan and pull list yield.
    pub yields: u64,
    /// Cut from sheets: sheets that are cut alike may give a few more than are needed.
    pub is_cut: bool,
}

impl Balance {
    /// Parts that fall off the sheets beyond what is needed.
    #[must_use]
    pub fn extra(&self) -> u64 {
        self.yields.saturating_sub(self.packs + self.spares)
    }

    fn off(&self) -> Option<PacketProblem> {
        let need = self.packs + self.spares;
        let may_be_over = self.is_cut && need > 0;
        let agrees = self.yields == need || (may_be_over && self.yields > need);
        (!agrees).then(|| PacketProblem::Unbalanced {
            what: self.what.clone(),
            need,
            yields: self.yields,
        })
    }
}

/// The lines that do not agree.
pub(super) fn off(balance: &[Balance]) -> Vec<PacketProblem> {
    balance.iter().filter_map(Balance::off).collect()
}

/// Counts packs on one side, and what sheets and lists yield on the other.
pub(super) fn balance(recipe: &Recipe, packs: &[Pack], pull: &Pull) -> Vec<Balance> {
    let mut need: BTreeMap<(usize, Option<i64>), (String, u64, u64)> = BTreeMap::new();
    for pack in packs {
        for item in &pack.items {
            let line = need
                .entry((item.part, item.paper))
                .or_insert_with(|| (format!("{} ({})", item.name, item.from), 0, 0));
            let side = if pack.spare { &mut line.2 } else { &mut line.1 };
            *side += u64::from(item.count);
        }
    }
    // What is pulled and in no pack must not go unseen.
    for (part, paper) in pulled(pull) {
        let what = || recipe.parts[part].name.clone();
        need.entry((part, paper)).or_insert_with(|| (what(), 0, 0));
    }
    need.into_iter()
        .map(|((part, paper), (what, packs, spares))| Balance {
            yields: yields(recipe, pull, part, paper),
            is_cut: paper.is_some(),
            what,
            packs,
            spares,
        })
        .collect()
}

/// Every part that is pulled, with its paper.
fn pulled(pull: &Pull) -> impl Iterator<Item = (usize, Option<i64>)> {
    let cut = pull
        .papers
        .iter()
        .flat_map(|paper| paper.parts.iter().map(|&part| (part, Some(paper.id))));
    let lengths = pull.ribbons.iter().flat_map(|ribbon| &ribbon.lengths);
    let uses = pull.counted.iter().flat_map(|thing| &thing.uses);
    let templates = pull.templates.iter().filter_map(|it| it.in_kits);
    cut.chain(lengths.map(|line| (line.0, None)))
        .chain(uses.map(|line| (line.0, None)))
        .chain(templates.map(|line| (line.0, None)))
}

fn yields(recipe: &Recipe, pull: &Pull, part: usize, paper: Option<i64>) -> u64 {
    let on_sheets = |paper: i64| {
        let pull = pull.papers.iter().find(|pull| pull.id == paper)?;
        let demand = pull.parts.iter().position(|&other| other == part)?;
        Some(pull.yields(demand))
    };
    let made = match (&recipe.parts[part].kind, paper) {
        (PartKind::Cut { .. }, Some(paper)) => on_sheets(paper),
        (PartKind::Ribbon { .. }, _) => pull
            .ribbons
            .iter()
            .flat_map(|r| &r.lengths)
            .find(|l| l.0 == part)
            .map(|l| l.2),
        (PartKind::Counted { .. }, _) => pull
            .counted
            .iter()
            .flat_map(|c| &c.uses)
            .find(|u| u.0 == part)
            .map(|u| u.1),
        (PartKind::Template, _) => pull
            .templates
            .iter()
            .filter_map(|it| it.in_kits)
            .find(|it| it.0 == part)
            .map(|it| it.1),
        (PartKind::Cut { .. }, None) => None,
    };
    u64::from(made.unwrap_or(0))
}
