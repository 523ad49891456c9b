//! The pull list: sheets and how they are cut, ribbon, and things by count.

use std::collections::BTreeMap;

use tablefold_geometry::{CutPlan, Demand, Length, Paper, shelf_plan};

use crate::recipe::{Part, PartKind};

use super::facts::{ClassFacts, StockPaper};
use super::problem::PacketProblem;
use super::purchases::ribbon_missing;

/// Everything that is pulled from stock for all kits.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// Sheets, one entry a paper, in the order in which roles first use them.
    pub papers: Vec<PaperPull>,
    /// Ribbons.
    pub ribbons: Vec<RibbonPull>,
    /// Things by count.
    pub counted: Vec<CountedPull>,
}

/// Sheets of one paper.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperPull {
    /// Row number.
    pub id: i64,
    /// The sheet.
    pub paper: Paper,
    /// Index of the part in the recipe, for each demand of the plan.
    pub parts: Vec<usize>,
    /// What is asked of the plan.
    pub demands: Vec<Demand>,
    /// How the sheets are cut.
    pub plan: CutPlan,
    /// Sheets on hand.
    pub on_hand: u32,
    /// Price of one sheet, in minor units.
    pub price_minor: Option<u64>,
}

impl PaperPull {
    /// Sheets to take.
    #[must_use]
    pub fn sheets(&self) -> u32 {
        self.plan.sheets()
    }

    /// Sheets to buy: what is not on hand.
    #[must_use]
    pub fn buy(&self) -> u32 {
        self.sheets().saturating_sub(self.on_hand)
    }
}

/// Ribbon from one spool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RibbonPull {
    /// Supply row.
    pub supply: i64,
    /// What it is called.
    pub name: String,
    /// Index of the part, length of one and number of pieces.
    pub lengths: Vec<(usize, Length, u32)>,
    /// Spools on hand.
    pub spools: Vec<Length>,
}

impl RibbonPull {
    /// All pieces together.
    #[must_use]
    pub fn total(&self) -> Length {
        self.lengths
            .iter()
            .map(|&(_, length, count)| length * i64::from(count))
            .sum()
    }

    /// All that is on hand.
    #[must_use]
    pub fn on_hand(&self) -> Length {
        self.spools.iter().copied().sum()
    }

    /// The pieces that the spools on hand do not hold, all together: nothing is joined.
    #[must_use]
    pub fn buy(&self) -> Length {
        ribbon_missing(&self.pieces(), &self.spools)
    }

    /// Length of a piece and how many.
    #[must_use]
    pub fn pieces(&self) -> Vec<(Length, u32)> {
        let lengths = self.lengths.iter();
        lengths.map(|&(_, length, count)| (length, count)).collect()
    }
}

/// A bought thing by count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountedPull {
    /// Supply row.
    pub supply: i64,
    /// What it is called.
    pub name: String,
    /// Index of the part and how many.
    pub uses: Vec<(usize, u32)>,
    /// On hand.
    pub on_hand: u32,
}

impl CountedPull {
    /// How many in all.
    #[must_use]
    pub fn total(&self) -> u32 {
        let counts = self.uses.iter().map(|&(_, count)| count);
        counts.fold(0, u32::saturating_add)
    }

    /// How many are missing.
    #[must_use]
    pub fn buy(&self) -> u32 {
        self.total().saturating_sub(self.on_hand)
    }
}

/// Adds up what all kits need and plans the cuts.
///
/// # Errors
/// A colourway without a paper for a role, or a part that its paper's sheet can't hold.
pub(super) fn pull(class: &ClassFacts, parts: &[Part]) -> Result<Pull, Vec<PacketProblem>> {
    let kits = kits_by_colourway(class);
    let all_kits: u32 = kits.values().sum();
    let mut papers: Vec<(StockPaper, Vec<usize>, Vec<Demand>)> = Vec::new();
    let mut pull = Pull {
        papers: Vec::new(),
        ribbons: Vec::new(),
        counted: Vec::new(),
    };
    for (index, part) in parts.iter().enumerate() {
        match &part.kind {
            PartKind::Cut {
                role,
                width,
                height,
            } => {
                for colourway in &class.colourways {
                    let Some(stock) = colourway.papers.get(role) else {
                        continue;
                    };
                    let quantity = kits.get(&colourway.id).copied().unwrap_or(0) * part.per_kit;
                    if quantity > 0 {
                        let of = entry(&mut papers, stock);
                        demand(of, index, part, (*width, *height), quantity);
                    }
                }
            }
            PartKind::Ribbon {
                supply,
                name,
                length,
            } => {
                ribbon(
                    &mut pull.ribbons,
                    class,
                    (*supply, name),
                    (index, *length, all_kits * part.per_kit),
                );
            }
            PartKind::Counted { supply, name } => {
                counted(
                    &mut pull.counted,
                    class,
                    (*supply, name),
                    (index, all_kits * part.per_kit),
                );
            }
        }
    }
    let ruler = class.project.trimmer.ruler();
    let mut problems = Vec::new();
    for (stock, part_indexes, demands) in papers {
        match shelf_plan(stock.paper.width, stock.paper.height, &demands) {
            Ok(plan) => pull.papers.push(PaperPull {
                id: stock.id,
                paper: stock.paper,
                parts: part_indexes,
                demands,
                plan,
                on_hand: stock.on_hand,
                price_minor: stock.price_minor,
            }),
            Err(error) => problems.push(PacketProblem::NoCutPlan {
                paper: stock.paper.name.clone(),
                why: error.text(|length| ruler.text(length)),
            }),
        }
    }
    if problems.is_empty() {
        Ok(pull)
    } else {
        Err(problems)
    }
}

/// Attendees and spares of each colourway.
pub(super) fn kits_by_colourway(class: &ClassFacts) -> BTreeMap<i64, u32> {
    let mut kits: BTreeMap<i64, u32> = class
        .colourways
        .iter()
        .map(|colourway| (colourway.id, colourway.spare_kits))
        .collect();
    for attendee in &class.attendees {
        *kits.entry(attendee.colourway).or_default() += 1;
    }
    kits
}

fn entry<'a>(
    papers: &'a mut Vec<(StockPaper, Vec<usize>, Vec<Demand>)>,
    stock: &StockPaper,
) -> &'a mut (StockPaper, Vec<usize>, Vec<Demand>) {
    let at = papers
        .iter()
        .position(|(other, ..)| other.id == stock.id)
        .unwrap_or(papers.len());
    if at == papers.len() {
        papers.push((stock.clone(), Vec::new(), Vec::new()));
    }
    &mut papers[at]
}

/// Two colourways may use the same paper for the same part: their numbers add up.
fn demand(
    (stock, indexes, demands): &mut (StockPaper, Vec<usize>, Vec<Demand>),
    index: usize,
    part: &Part,
    (width, height): (Length, Length),
    quantity: u32,
) {
    if let Some(at) = indexes.iter().position(|&other| other == index) {
        demands[at].quantity += quantity;
        return;
    }
    indexes.push(index);
    demands.push(Demand {
        part: part.name.clone(),
        width,
        height,
        quantity,
        turnable: stock.paper.turnable(),
    });
}

fn ribbon(
    ribbons: &mut Vec<RibbonPull>,
    class: &ClassFacts,
    (supply, name): (i64, &str),
    line: (usize, Length, u32),
) {
    if let Some(ribbon) = ribbons.iter_mut().find(|ribbon| ribbon.supply == supply) {
        ribbon.lengths.push(line);
        return;
    }
    let stock = class.supplies.iter().find(|stock| stock.id == supply);
    ribbons.push(RibbonPull {
        supply,
        name: name.to_owned(),
        lengths: vec![line],
        spools: stock.map_or_else(Vec::new, |stock| stock.spools.clone()),
    });
}

fn counted(
    counted: &mut Vec<CountedPull>,
    class: &ClassFacts,
    (supply, name): (i64, &str),
    line: (usize, u32),
) {
    if let Some(thing) = counted.iter_mut().find(|thing| thing.supply == supply) {
        thing.uses.push(line);
        return;
    }
    let stock = class.supplies.iter().find(|stock| stock.id == supply);
    counted.push(CountedPull {
        supply,
        name: name.to_owned(),
        uses: vec![line],
        on_hand: stock.map_or(0, |stock| stock.on_hand),
    });
}
