//! Cut cards: a card for each way in which sheets are cut, and the two plans side by side.

use tablefold_geometry::{CutPart, PatternUse, Ruler, both};

use super::counted;
use super::sheet_cuts::{KeyLine, cut_from, fence, freed, key, picture, way};
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
        proof: proof(u64::from(least), prices[0].least_sheets),
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

/// "Least fiddling takes 1 sheet more (0.60) and saves about 4 minutes."
fn difference([paper, fiddling]: &[PlanPrice; 2], currency: Currency) -> String {
    let sheets = i64::from(fiddling.sheets) - i64::from(paper.sheets);
    let minutes = i64::from(paper.work.minutes()) - i64::from(fiddling.work.minutes());
    if sheets == 0 && minutes == 0 {
        return "Both plans take the same paper and about the same time.".to_owned();
    }
    let money = fiddling.money.saturating_sub(paper.money);
    let worth = if money > 0 {
        format!(" (worth {})", currency.coded_price(money))
    } else {
        String::new()
    };
    let takes = match u64::try_from(sheets) {
        Ok(0) | Err(_) => "no more paper".to_owned(),
        Ok(more) => format!("{}{worth}", counted(more, "sheet more", "sheets more")),
    };
    let saves = match minutes {
        0 => "takes about the same time".to_owned(),
        1.. => {
            let time = counted(minutes.unsigned_abs(), "minute", "minutes");
            format!("saves about {time}")
        }
        _ => {
            let time = counted(minutes.unsigned_abs(), "minute", "minutes");
            format!("costs about {time} more")
        }
    };
    format!("Least fiddling takes {takes} and {saves}.")
}

/// The bound and the gap in words.
fn proof(sheets: u64, bound: u64) -> String {
    let least = counted(bound, "sheet", "sheets");
    match sheets.saturating_sub(bound) {
        0 => format!("No plan can need less than {least}: this is least."),
        gap => format!(
            "No plan can need less than {least}: this is at most {} above the least possible.",
            counted(gap, "sheet", "sheets")
        ),
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
    let sheets = counted(u64::from(paper.sheets()), "sheet", "sheets");
    let size = Both::sides(ruler, paper.paper.width, paper.paper.height);
    let patterns = paper.plan().sheets.iter().enumerate();
    let extra = paper.demands.iter().enumerate().filter_map(|(at, part)| {
        let more = paper.yields(at).saturating_sub(part.quantity);
        (more > 0).then(|| format!("{more} x {}", part.name))
    });
    PaperCards {
        name: paper.paper.name.clone(),
        sheets: format!("{sheets} of {} ({})", size.own, size.other),
        proof: proof(u64::from(paper.sheets()), paper.plans.bound),
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
    let alike = counted(u64::from(sheets.count), "sheet", "sheets alike");
    let at_once = trimmer.at_once().min(sheets.count);
    let batches = sheet_batches((index, paper), pattern, trimmer.at_once());
    CutCard {
        title: way(paper, pattern),
        count: if at_once > 1 {
            format!("{alike}, cut {at_once} at once")
        } else {
            alike
        },
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
    let others = other_parts(packet, paper);
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
fn other_parts(packet: &Packet, paper: &PaperPull) -> Vec<CutPart> {
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
                turnable: paper.paper.turnable(),
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
    fn bound_and_gap_are_told_in_words() {
        insta::assert_snapshot!(proof(15, 15), @"No plan can need less than 15 sheets: this is least.");
        insta::assert_snapshot!(proof(2, 1), @"No plan can need less than 1 sheet: this is at most 1 sheet above the least possible.");
    }

    #[test]
    fn the_price_of_the_difference_is_money_and_minutes() {
        let facts = demo::class(14);
        let packet = packet(&facts, &plan_now).expect("balances");
        let mut prices = PlanChoice::ALL.map(|choice| plan_price(&packet.pull.papers, choice, 2));
        prices[1] = prices[0];
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Both plans take the same paper and about the same time.");
        prices[1].sheets += 2;
        prices[1].money += 120;
        prices[1].work.set_ups -= 3;
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Least fiddling takes 2 sheets more (worth 1.20) and saves about 3 minutes.");
        prices[1] = prices[0];
        prices[1].work.set_ups += 1;
        insta::assert_snapshot!(difference(&prices, Currency::NONE), @"Least fiddling takes no more paper and costs about 1 minute more.");
    }

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
