//! The kit-prep list: what to pull, how sheets are cut, what is done with which tool, and which
//! part goes into which pack.

use std::collections::BTreeMap;

use tablefold_geometry::{Length, Ruler};

use super::batches::{BatchView, Helper, batch_views, set_ups_in_words};
use super::counted;
use super::sheet_cuts::{LayoutView, PassView, layouts, passes};
use crate::pages::both::Both;
use crate::workshop::{ClassFacts, Packet, PaperPull, SheetPull};

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
    /// Templates to print: name, copies for the kits, copies for the prep.
    pub templates: Vec<(String, u32, u32)>,
    /// "1.1 yd of tape and 0.5 yd of glue" for all kits, glue in lines; empty where neither is.
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
    /// "Batching saves 62 minutes: ..."; empty where it saves nothing.
    pub saves: String,
    /// How often the fence is set, and a tool for the batches; empty where none is.
    pub set_ups: (String, String),
}

/// Sheets of one size of a paper.
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
        papers: papers()
            .flat_map(PaperPull::taken)
            .map(|(size, take)| pull_line(size, take, ruler))
            .collect(),
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
        templates: packet
            .pull
            .templates
            .iter()
            .map(|it| {
                (
                    it.name.clone(),
                    it.in_kits.map_or(0, |(_, count)| count),
                    it.for_prep,
                )
            })
            .collect(),
        adhesive: adhesive(packet, ruler),
        layouts: papers()
            .enumerate()
            .flat_map(|(index, paper)| layouts(index, paper, facts.project.trimmer.ruler()))
            .collect(),
        passes: passes(facts, packet),
        batches: batch_views(&packet.prep.batches, &packet.recipe),
        grids: grids(facts, packet),
        minutes: (packet.prep.cut_minutes, packet.prep.minutes()),
        saves: saves(packet),
        set_ups: (
            set_ups_in_words(packet.prep.cut_set_ups),
            set_ups_in_words(packet.prep.set_ups),
        ),
    }
}

impl PrepList {
    /// The same list with the names of those who help.
    #[must_use]
    pub fn helped_by(mut self, names: &BTreeMap<String, String>) -> Self {
        let cuts = self.passes.iter_mut().flat_map(|pass| &mut pass.settings);
        let cuts = cuts.map(|cut| &mut cut.helper);
        let batches = self.batches.iter_mut().map(|batch| &mut batch.helper);
        cuts.chain(batches).for_each(|helper| helper.take(names));
        self
    }

    /// Whether a frame is cut with a knife.
    #[must_use]
    pub fn cuts_frames(&self) -> bool {
        let rows = self.batches.iter().flat_map(|batch| &batch.rows);
        rows.filter_map(|row| row.frame.as_ref())
            .any(|frame| frame.is_cut)
    }

    /// The fields for helpers, in working order.
    pub fn helpers(&self) -> impl Iterator<Item = &Helper> {
        let cuts = self.passes.iter().flat_map(|pass| &pass.settings);
        let batches = self.batches.iter().map(|batch| &batch.helper);
        cuts.map(|cut| &cut.helper).chain(batches)
    }
}

fn saves(packet: &Packet) -> String {
    match packet.prep.saved_minutes() {
        0 => String::new(),
        saved => format!(
            "Batching saves {}: kit by kit it takes about {}.",
            counted(u64::from(saved), "minute", "minutes"),
            packet.prep.kit_by_kit_minutes
        ),
    }
}

fn pull_line(size: &SheetPull, take: u32, ruler: &Ruler) -> PullLine {
    let sheet = &size.paper;
    PullLine {
        name: sheet.name.clone(),
        size: Both::sides(ruler, sheet.width, sheet.height).own,
        take,
        on_hand: size.on_hand,
        buy: size.buy(take),
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
        on_hand: long(ruler, ribbon.on_hand()),
        buy: if ribbon.buy() > Length::ZERO {
            long(ruler, ribbon.buy())
        } else {
            String::new()
        },
    };
    packet.pull.ribbons.iter().map(line).collect()
}

/// A length that is measured off a spool: in metres or yards of tenths, rounded up.
pub(crate) fn long(ruler: &Ruler, length: Length) -> String {
    let inches = ruler.other().unit() == tablefold_geometry::Unit::Millimetre;
    let (unit_mm, unit) = if inches { (914.4, "yd") } else { (1000.0, "m") };
    // A hair of float error must not turn 2.0 into 2.1.
    let tenths = (length.mm() / unit_mm * 10.0 - 1e-9).ceil() as u64;
    format!("{}.{} {unit}", tenths / 10, tenths % 10)
}

fn adhesive(packet: &Packet, ruler: &Ruler) -> String {
    let lines = [(packet.tape_mm, "tape"), (packet.glue_mm, "glue")];
    let some = lines.iter().filter(|(mm, _)| *mm > 0.0);
    let texts = some.map(|(mm, what)| {
        let length = Length::from_nm((mm * 1e6) as i64);
        format!("{} of {what}", long(ruler, length))
    });
    texts.collect::<Vec<_>>().join(" and ")
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
        assert_eq!(long(&mm, Length::from_mm(0)), "0.0 m");
        assert_eq!(long(&mm, Length::from_mm(2000)), "2.0 m");
        assert_eq!(long(&mm, Length::from_mm(2001)), "2.1 m");
        assert_eq!(long(&inch, Length::inches(72)), "2.0 yd");
    }
}
