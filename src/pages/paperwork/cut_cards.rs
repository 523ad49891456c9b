//! Cut cards: a card for each way in which sheets are cut, and the two plans side by side.

use tablefold_geometry::{CutPart, PatternUse, Ruler, both};

use super::counted;
use super::plan_words::{difference, proof_of_all, proof_of_paper, sheets_in_words};
use super::sheet_cuts::{KeyLine, cut_from, fence, freed, key, of_size, picture, way};
use crate::pages::both::Both;
use crate::pages::picture::Picture;
use crate::recipe::{Caution, PartKind};
use crate::workshop::{
    ClassFacts, Currency, CutBatch, Packet, PaperPull, PlanChoice, PlanPrice, good_for,
    left_of_sheet, plan_price, sheet_batches,
};

/// All cards of a class.
#[derive(Clone, Debug)]
pub struct CutCards {
    /// The two plans.
    pub plans: Vec<PlanColumn>,
    /// What choosing the other plan changes.
    pub difference: String,
    /// How far from the least possible the first plan is.
    pub proof: String,
    /// Sheets that the trimmer cuts at once.
    pub at_once: u32,
    /// The caution for the trimmer.
    pub caution: &'static str,
    /// Parts whose sizes are not on the trimmer's ruler.
    pub off_ruler: Vec<String>,
    /// Papers with their cards.
    pub papers: Vec<PaperCards>,
}

/// The price of one plan.
#[derive(Clone, Debug)]
pub struct PlanColumn {
    /// As forms send it.
    pub slug: &'static str,
    /// As pages say it.
    pub label: &'static str,
    /// Whether the class uses it.
    pub is_chosen: bool,
    /// Sheets in all.
    pub sheets: u32,
    /// Ways of cutting.
    pub patterns: usize,
    /// What the sheets are worth; empty where no price is known.
    pub money: String,
    /// Fence settings.
    pub set_ups: u32,
    /// Strokes of the blade.
    pub strokes: u64,
    /// Estimate.
    pub minutes: u32,
}

/// All cards of a paper.
#[derive(Clone, Debug)]
pub struct PaperCards {
    /// Its name.
    pub name: String,
    /// "3 sheets of 12 × 12 in".
    pub sheets: String,
    /// How far from the least possible.
    pub proof: String,
    /// One for each way in which its sheets are cut.
    pub cards: Vec<CutCard>,
    /// Parts beyond what is needed.
    pub extra: Vec<String>,
}

/// Sheets that are cut alike.
#[derive(Clone, Debug)]
pub struct CutCard {
    /// "Moss card, way 1 of 2".
    pub title: String,
    /// "3 sheets alike, 2 at once".
    pub count: String,
    /// How the parts lie.
    pub picture: Picture,
    /// What the letters stand for.
    pub key: Vec<KeyLine>,
    /// Cuts in working order.
    pub settings: Vec<CardSetting>,
    /// What is left of each sheet and what it is good for.
    pub left: Vec<String>,
}

/// All cuts at one setting.
#[derive(Clone, Debug)]
pub struct CardSetting {
    /// On the trimmer's ruler.
    pub setting: String,
    /// Converted, or what to do where the ruler has no such mark.
    pub other: String,
    /// "Cut 2 strips 5 × 12 in from the sheet, along its width: 2 strokes."
    pub rows: Vec<CardRow>,
}

/// Equal cuts.
#[derive(Clone, Debug)]
pub struct CardRow {
    /// Pieces in all.
    pub pieces: u32,
    /// What comes free.
    pub what: String,
    /// From what.
    pub from: String,
}

/// The cut cards of a class.
#[must_use]
pub fn cut_cards(facts: &ClassFacts, packet: &Packet, currency: Currency) -> CutCards {
    let trimmer = facts.project.trimmer;
    let papers = &packet.pull.papers;
    let prices = PlanChoice::ALL.map(|choice| plan_price(papers, choice, trimmer.at_once()));
    let least = prices.iter().map(|price| price.sheets).min().unwrap_or(0);
    CutCards {
        plans: prices
            .iter()
            .map(|price| column(price, facts, currency))
            .collect(),
        difference: difference(&prices, currency),
        proof: proof_of_all(u64::from(least), &prices[0], papers),
        at_once: trimmer.at_once(),
        caution: Caution::Trimmer.text(),
        off_ruler: off_ruler(papers, trimmer.ruler()),
        papers: papers
            .iter()
            .enumerate()
            .map(|(index, paper)| paper_cards(facts, packet, index, paper))
            .collect(),
    }
}

fn column(price: &PlanPrice, facts: &ClassFacts, currency: Currency) -> PlanColumn {
    PlanColumn {
        slug: price.choice.slug(),
        label: price.choice.label(),
        is_chosen: price.choice == facts.cut_plan,
        sheets: price.sheets,
        patterns: price.patterns,
        money: match (price.money, price.is_partly_unpriced) {
            (0, true) => String::new(),
            (money, true) => format!("at least {}", currency.coded_price(money)),
            (money, false) => currency.coded_price(money),
        },
        set_ups: price.work.set_ups,
        strokes: price.work.strokes,
        minutes: price.work.minutes(),
    }
}

fn off_ruler(papers: &[PaperPull], ruler: &Ruler) -> Vec<String> {
    let mut named = Vec::new();
    for part in papers.iter().flat_map(|paper| &paper.demands) {
        for side in [part.width, part.height] {
            if !ruler.has(side) {
                let line = format!(
                    "{}: {} ({})",
                    part.name,
                    ruler.text(side),
                    side.exact_text()
                );
                if !named.contains(&line) {
                    named.push(line);
                }
            }
        }
    }
    named
}

fn paper_cards(facts: &ClassFacts, packet: &Packet, index: usize, paper: &PaperPull) -> PaperCards {
    let ruler = facts.project.trimmer.ruler();
    let patterns = paper.plan().sheets.iter().enumerate();
    let extra = paper.demands.iter().enumerate().filter_map(|(at, part)| {
        let more = paper.yields(at).saturating_sub(part.quantity);
        (more > 0).then(|| format!("{more} x {}", part.name))
    });
    PaperCards {
        name: paper.name.clone(),
        sheets: sheets_in_words(paper, ruler),
        proof: proof_of_paper(paper),
        cards: patterns
            .map(|pattern| card(facts, packet, (index, paper), pattern))
            .collect(),
        extra: extra.collect(),
    }
}

fn card(
    facts: &ClassFacts,
    packet: &Packet,
    (index, paper): (usize, &PaperPull),
    (pattern, sheets): (usize, &PatternUse),
) -> CutCard {
    let trimmer = facts.project.trimmer;
    let count = counted(u64::from(sheets.count), "sheet", "sheets");
    let alike = if sheets.count > 1 { " alike" } else { "" };
    let batches = sheet_batches((index, paper), pattern, trimmer.at_once());
    let at_once = match trimmer.at_once().min(sheets.count) {
        0 | 1 => String::new(),
        at_once => format!(", cut {at_once} at once"),
    };
    let size = of_size(paper, sheets, trimmer.ruler());
    CutCard {
        title: way(paper, pattern),
        count: format!("{count}{size}{alike}{at_once}"),
        picture: picture((index, paper), (pattern, sheets), trimmer.ruler()),
        key: key(paper, sheets, trimmer.ruler()),
        settings: batches
            .iter()
            .map(|batch| setting(batch, paper, trimmer.ruler()))
            .collect(),
        left: left(packet, paper, sheets, trimmer.ruler()),
    }
}

fn setting(batch: &CutBatch, paper: &PaperPull, ruler: &Ruler) -> CardSetting {
    let (setting, other) = fence(ruler, batch.setting);
    let rows = batch.rows.iter().map(|row| CardRow {
        pieces: row.pieces,
        what: freed(paper, row, ruler),
        from: cut_from(row, ruler),
    });
    CardSetting {
        setting,
        other,
        rows: rows.collect(),
    }
}

/// "1 piece 4 × 12 in: large enough for 6 x Seed box: tag".
fn left(packet: &Packet, paper: &PaperPull, sheets: &PatternUse, ruler: &Ruler) -> Vec<String> {
    let others = other_parts(packet, paper.size_of(sheets).paper.turnable());
    let line = |left: crate::workshop::LeftOver| {
        let size = both(ruler, left.width).0;
        let size = if left.width == left.height {
            format!("{size} square")
        } else {
            Both::sides(ruler, left.width, left.height).own
        };
        let good = good_for(&left, paper.demands.iter()).or_else(|| good_for(&left, others.iter()));
        let good = match good {
            Some((part, count)) => format!("large enough for {count} x {}", part.name),
            None => "waste".to_owned(),
        };
        format!("{} x {size}: {good}", left.count)
    };
    left_of_sheet(paper, sheets).into_iter().map(line).collect()
}

/// What the class cuts from other papers.
fn other_parts(packet: &Packet, turnable: bool) -> Vec<CutPart> {
    let parts = packet
        .recipe
        .parts
        .iter()
        .filter_map(|part| match part.kind {
            PartKind::Cut { width, height, .. } => Some(CutPart {
                name: part.name.clone(),
                width,
                height,
                quantity: part.per_kit,
                turnable,
            }),
            _ => None,
        });
    parts.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{packet, plan_now};

    #[test]
    fn cards_hold_every_sheet_and_every_cut() {
        let facts = demo::class(14);
        let packet = packet(&facts, &plan_now).expect("balances");
        let cards = cut_cards(&facts, &packet, Currency::NONE);
        assert_eq!(cards.plans.iter().filter(|plan| plan.is_chosen).count(), 1);
        for (paper, shown) in packet.pull.papers.iter().zip(&cards.papers) {
            assert_eq!(shown.cards.len(), paper.plan().sheets.len());
            for (sheets, card) in paper.plan().sheets.iter().zip(&shown.cards) {
                let parts: usize = card.key.iter().map(|line| line.count).sum();
                assert_eq!(parts, sheets.placed.len(), "{}", card.title);
                assert!(
                    card.settings.len() <= sheets.settings.max(1),
                    "{}",
                    card.title
                );
            }
        }
    }
}
