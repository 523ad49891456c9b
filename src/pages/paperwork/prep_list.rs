//! The kit-prep list: what to pull, how sheets are cut, what is done with which tool, and which
//! part goes into which pack.

use tablefold_geometry::{Length, Ruler, both};

use super::counted;
use super::sheet_cuts::{LayoutView, PassView, layouts, passes};
use crate::forms::money_text;
use crate::recipe::{Recipe, Step};
use crate::workshop::{Batch, BatchRow, ClassFacts, Packet, PaperPull};

/// Everything that is done before the class.
#[derive(Clone, Debug)]
pub struct PrepList {
    /// Sheets to pull.
    pub papers: Vec<PullLine>,
    /// Sheets in all: take, buy.
    pub sheets: (u64, u64),
    /// Ribbons to pull and cut.
    pub ribbons: Vec<RibbonLine>,
    /// Bought things: name, take, on hand, buy.
    pub counted: Vec<(String, u32, u32, u32)>,
    /// What the sheets to buy cost; empty where a price is not known.
    pub cost: String,
    /// Tape and glue, in all.
    pub adhesive: String,
    /// How each kind of sheet is cut.
    pub layouts: Vec<LayoutView>,
    /// Cuts by fence setting, in working order.
    pub passes: Vec<PassView>,
    /// Everything else, by tool and setting.
    pub batches: Vec<BatchView>,
    /// A table for each colourway.
    pub grids: Vec<Grid>,
    /// Minutes: cutting, everything.
    pub minutes: (u32, u32),
}

/// Sheets of one paper.
#[derive(Clone, Debug)]
pub struct PullLine {
    /// The paper.
    pub name: String,
    /// The size of its sheets.
    pub size: String,
    /// How many to take.
    pub take: u32,
    /// How many are there.
    pub on_hand: u32,
    /// How many are missing.
    pub buy: u32,
}

/// Ribbon of one kind.
#[derive(Clone, Debug)]
pub struct RibbonLine {
    /// Its name.
    pub name: String,
    /// "17 x 8 in".
    pub cuts: Vec<String>,
    /// In all.
    pub total: String,
    /// What is there.
    pub on_hand: String,
    /// What is missing; empty where nothing is.
    pub buy: String,
}

/// Everything with one tool at one setting.
#[derive(Clone, Debug)]
pub struct BatchView {
    /// With which tool.
    pub tool: String,
    /// Where it is set; empty for a tool that is not.
    pub setting: String,
    /// What is done.
    pub rows: Vec<BatchLine>,
    /// All together.
    pub minutes: u32,
}

/// One operation over all kits.
#[derive(Clone, Debug)]
pub struct BatchLine {
    /// The piece it belongs to.
    pub piece: String,
    /// What is done.
    pub title: String,
    /// How.
    pub text: String,
    /// "8 of Moss card".
    pub counts: Vec<String>,
    /// In all.
    pub count: u32,
}

/// Which part goes into which pack, for one colourway.
#[derive(Clone, Debug)]
pub struct Grid {
    /// The colourway and how many packs.
    pub title: String,
    /// Part and paper of each column.
    pub columns: Vec<(String, String)>,
    /// Number and label of the pack, count of each column.
    pub rows: Vec<(usize, String, Vec<u32>)>,
    /// The sum of each column.
    pub totals: Vec<u32>,
}

/// The kit-prep list of a class.
#[must_use]
pub fn prep_list(facts: &ClassFacts, packet: &Packet) -> PrepList {
    let ruler = &packet.recipe.ruler;
    let papers = || packet.pull.papers.iter();
    PrepList {
        papers: papers().map(|paper| pull_line(paper, ruler)).collect(),
        sheets: papers().fold((0, 0), |(take, buy), paper| {
            (
                take + u64::from(paper.sheets()),
                buy + u64::from(paper.buy()),
            )
        }),
        ribbons: ribbons(packet, ruler),
        counted: packet
            .pull
            .counted
            .iter()
            .map(|c| (c.name.clone(), c.total(), c.on_hand, c.buy()))
            .collect(),
        cost: cost(packet),
        adhesive: adhesive(packet, ruler),
        layouts: papers()
            .enumerate()
            .flat_map(|(index, paper)| layouts(index, paper, ruler))
            .collect(),
        passes: passes(facts, packet),
        batches: packet
            .prep
            .batches
            .iter()
            .map(|batch| batch_view(batch, &packet.recipe))
            .collect(),
        grids: grids(facts, packet),
        minutes: (packet.prep.cut_minutes, packet.prep.minutes()),
    }
}

fn pull_line(paper: &PaperPull, ruler: &Ruler) -> PullLine {
    PullLine {
        name: paper.paper.name.clone(),
        size: format!(
            "{} x {}",
            ruler.text(paper.paper.width),
            ruler.text(paper.paper.height)
        ),
        take: paper.sheets(),
        on_hand: paper.on_hand,
        buy: paper.buy(),
    }
}

fn ribbons(packet: &Packet, ruler: &Ruler) -> Vec<RibbonLine> {
    let line = |ribbon: &crate::workshop::RibbonPull| RibbonLine {
        name: ribbon.name.clone(),
        cuts: ribbon
            .lengths
            .iter()
            .map(|(_, length, count)| format!("{count} x {}", ruler.text(*length)))
            .collect(),
        total: long(ruler, ribbon.total()),
        on_hand: long(ruler, ribbon.on_hand),
        buy: if ribbon.buy() > Length::ZERO {
            long(ruler, ribbon.buy())
        } else {
            String::new()
        },
    };
    packet.pull.ribbons.iter().map(line).collect()
}

/// A length that is measured off a spool: in metres or yards of tenths, rounded up.
fn long(ruler: &Ruler, length: Length) -> String {
    let inches = ruler.other().unit() == tablefold_geometry::Unit::Millimetre;
    let (unit_mm, unit) = if inches { (914.4, "yd") } else { (1000.0, "m") };
    // A hair of float error must not turn 2.0 into 2.1.
    let tenths = (length.mm() / unit_mm * 10.0 - 1e-9).ceil().max(0.0);
    format!("{:.1} {unit}", tenths / 10.0)
}

/// Only what has a price adds up to an honest sum.
fn cost(packet: &Packet) -> String {
    let price = |paper: &PaperPull| Some(paper.price_minor? * u64::from(paper.buy()));
    let to_buy = packet.pull.papers.iter().filter(|paper| paper.buy() > 0);
    let sum: Option<u64> = to_buy.map(price).sum();
    sum.map(money_text).unwrap_or_default()
}

fn adhesive(packet: &Packet, ruler: &Ruler) -> String {
    long(ruler, Length::from_nm((packet.adhesive_mm * 1e6) as i64))
}

fn batch_view(batch: &Batch, recipe: &Recipe) -> BatchView {
    let settings = batch.settings.iter().map(|&at| {
        let (own, other) = both(&recipe.ruler, at);
        format!("{own} ({other})")
    });
    BatchView {
        tool: batch.tool.map_or("By hand", |tool| tool.name()).to_owned(),
        setting: settings.collect::<Vec<_>>().join(", then "),
        rows: batch
            .rows
            .iter()
            .map(|row| batch_line(row, &recipe.steps[row.step], recipe))
            .collect(),
        minutes: batch.minutes,
    }
}

fn batch_line(row: &BatchRow, step: &Step, recipe: &Recipe) -> BatchLine {
    let piece = step.operation.piece.and_then(|at| recipe.pieces.get(at));
    BatchLine {
        piece: piece.map_or_else(String::new, |piece| piece.name.clone()),
        title: row.title.clone(),
        text: step.text(&recipe.ruler),
        counts: row
            .counts
            .iter()
            .map(|(from, count)| format!("{count} x {from}"))
            .collect(),
        count: row.count,
    }
}

fn grids(facts: &ClassFacts, packet: &Packet) -> Vec<Grid> {
    let of = |colourway: &crate::workshop::Colourway| {
        let packs: Vec<_> = packet
            .packs
            .iter()
            .filter(|pack| pack.colourway == colourway.id)
            .collect();
        let first = packs.first()?;
        let column = |item: &crate::workshop::PackItem| (item.name.clone(), item.from.clone());
        let count = |item: &crate::workshop::PackItem| item.count;
        let sum = |at: usize| packs.iter().map(|pack| pack.items[at].count).sum::<u32>();
        Some(Grid {
            title: format!(
                "{}: {}",
                colourway.name,
                counted(packs.len() as u64, "pack", "packs")
            ),
            columns: first.items.iter().map(column).collect(),
            totals: (0..first.items.len()).map(sum).collect(),
            rows: packs
                .iter()
                .map(|p| {
                    (
                        p.number,
                        p.label.clone(),
                        p.items.iter().map(count).collect(),
                    )
                })
                .collect(),
        })
    };
    facts.colourways.iter().filter_map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::workshop::{packet, plan_now};

    #[test]
    fn grids_hold_every_part_of_every_pack() {
        let facts = demo::class(14);
        let packet = packet(&facts, &plan_now).expect("balances");
        let list = prep_list(&facts, &packet);
        let in_grids: u64 = list
            .grids
            .iter()
            .flat_map(|g| &g.totals)
            .map(|&n| u64::from(n))
            .sum();
        let in_balance: u64 = packet
            .balance
            .iter()
            .map(|line| line.packs + line.spares)
            .sum();
        assert_eq!(in_grids, in_balance);
        assert_eq!(
            list.grids.iter().map(|grid| grid.rows.len()).sum::<usize>(),
            17
        );
    }

    #[test]
    fn spool_lengths_are_rounded_up_to_tenths() {
        let (inch, mm) = (Ruler::inch(16), Ruler::millimetre());
        assert_eq!(long(&mm, Length::from_mm(2000)), "2.0 m");
        assert_eq!(long(&mm, Length::from_mm(2001)), "2.1 m");
        assert_eq!(long(&inch, Length::inches(72)), "2.0 yd");
    }
}
