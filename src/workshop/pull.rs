//! The pull list: sheets and how they are cut, ribbon, and things by count.

use std::collections::BTreeMap;
use std::sync::Arc;

use tablefold_geometry::{CutPart, CutPlans, Length, PatternUse, Plan};

use crate::recipe::{Part, PartKind, Recipe};

use super::facts::{ClassFacts, PlanChoice, StockPaper};
use super::paper_need::{PaperNeed, Planner};
use super::plan_price::plan_price;
use super::problem::PacketProblem;
use super::purchases::ribbon_missing;
use super::sizes::{PlanCost, SheetPull};

/// Everything that is pulled from stock for all kits.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// Sheets, one entry a paper, in the order in which roles first use them.
    pub papers: Vec<PaperPull>,
    /// Ribbons.
    pub ribbons: Vec<RibbonPull>,
    /// Things by count.
    pub counted: Vec<CountedPull>,
    /// Templates to print.
    pub templates: Vec<TemplatePull>,
}

/// Copies of a template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TemplatePull {
    /// What it is called.
    pub name: String,
    /// Index of the part that it is in a kit, if it is one, and how many for all kits.
    pub in_kits: Option<(usize, u32)>,
    /// How many are needed beforehand.
    pub for_prep: u32,
}

/// The templates that all kits and the prep need.
pub(super) fn templates(class: &ClassFacts, recipe: &Recipe) -> Vec<TemplatePull> {
    let kits: u32 = kits_by_colourway(class).values().sum();
    let parts = recipe.parts.iter().enumerate();
    let in_kits = parts.filter(|(_, part)| part.kind == PartKind::Template);
    let in_kits = in_kits.map(|(index, part)| TemplatePull {
        name: part.name.clone(),
        in_kits: Some((index, kits.saturating_mul(part.per_kit))),
        for_prep: 0,
    });
    let mut templates: Vec<_> = in_kits.collect();
    for part in recipe.prep_templates() {
        let is_packed = |it: &&mut TemplatePull| {
            it.in_kits
                .is_some_and(|(index, _)| recipe.parts[index].key == part.key)
        };
        match templates.iter_mut().find(is_packed) {
            Some(template) => template.for_prep = 1,
            None => templates.push(TemplatePull {
                name: part.name,
                in_kits: None,
                for_prep: 1,
            }),
        }
    }
    templates
}

/// Sheets of one paper, in all the sizes that it is cut from.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperPull {
    /// Row number that stands for all its sizes.
    pub id: i64,
    /// What it is called, whichever its size.
    pub name: String,
    /// Its sizes, one at least: the stock of a pattern is an index into them.
    pub sizes: Vec<SheetPull>,
    /// What the costs of the plans count.
    pub counts: PlanCost,
    /// Index of the part in the recipe, for each part of the plan.
    pub parts: Vec<usize>,
    /// What is asked of the plan.
    pub demands: Vec<CutPart>,
    /// Two ways to cut the sheets, with the proof of how few can do.
    pub plans: Arc<CutPlans>,
    /// Which of them is used.
    pub choice: PlanChoice,
}

impl PaperPull {
    /// Sheets to take.
    #[must_use]
    pub fn sheets(&self) -> u32 {
        sheets_of(self.plan())
    }

    /// The size that sheets are cut from.
    #[must_use]
    pub fn size_of(&self, sheets: &PatternUse) -> &SheetPull {
        &self.sizes[sheets.stock]
    }

    /// The sizes that a plan takes sheets of, and how many.
    pub fn taken_by(&self, choice: PlanChoice) -> impl Iterator<Item = (&SheetPull, u32)> {
        let sheets = &self.plan_by(choice).sheets;
        self.sizes.iter().enumerate().filter_map(|(index, size)| {
            let of_size = sheets.iter().filter(|sheets| sheets.stock == index);
            let take = of_size.map(|sheets| sheets.count);
            let take = take.fold(0, u32::saturating_add);
            (take > 0).then_some((size, take))
        })
    }

    /// The sizes to take sheets of, and how many.
    pub fn taken(&self) -> impl Iterator<Item = (&SheetPull, u32)> {
        self.taken_by(self.choice)
    }

    /// The plan that is used.
    #[must_use]
    pub fn plan(&self) -> &Plan {
        self.plan_by(self.choice)
    }

    /// One of the two plans.
    #[must_use]
    pub fn plan_by(&self, choice: PlanChoice) -> &Plan {
        match choice {
            PlanChoice::LeastPaper => &self.plans.least_paper,
            PlanChoice::LeastFiddling => &self.plans.least_fiddling,
        }
    }

    /// How many of a part the plan in use yields, counted on the sheets.
    #[must_use]
    pub fn yields(&self, demand: usize) -> u32 {
        let sheets = self.plan().sheets.iter().map(|sheets| {
            let on_one = sheets.placed.iter().filter(|p| p.demand == demand).count();
            sheets
                .count
                .saturating_mul(u32::try_from(on_one).unwrap_or(u32::MAX))
        });
        sheets.fold(0, u32::saturating_add)
    }

    /// Sheets to buy: what is not on hand.
    #[must_use]
    pub fn buy(&self) -> u32 {
        let buy = self.taken().map(|(size, take)| size.buy(take));
        buy.fold(0, u32::saturating_add)
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

/// The planner sees one paper at a time; fence settings are shared by all. So the plan of least
/// fiddling stays the plan of least paper wherever it saves neither a way of cutting nor the
/// setting of a fence when all papers are cut together.
fn fiddle_less_where_it_pays(papers: &mut [PaperPull], at_once: u32) {
    let fiddling = papers.iter().map(|paper| Arc::clone(&paper.plans));
    let fiddling: Vec<Arc<CutPlans>> = fiddling.collect();
    let work = |papers: &[PaperPull]| {
        let price = plan_price(papers, PlanChoice::LeastFiddling, at_once);
        (price.patterns, price.work.set_ups)
    };
    for paper in papers.iter_mut() {
        let mut plans = CutPlans::clone(&paper.plans);
        plans.least_fiddling = plans.least_paper.clone();
        paper.plans = Arc::new(plans);
    }
    let mut least = work(papers);
    for (index, plans) in fiddling.into_iter().enumerate() {
        if plans.least_fiddling == plans.least_paper {
            continue;
        }
        let before = std::mem::replace(&mut papers[index].plans, plans);
        let (patterns, set_ups) = work(papers);
        if patterns <= least.0 && set_ups <= least.1 && (patterns, set_ups) != least {
            least = (patterns, set_ups);
        } else {
            papers[index].plans = before;
        }
    }
}

/// How many sheets a plan takes.
pub(super) fn sheets_of(plan: &Plan) -> u32 {
    let counts = plan.sheets.iter().map(|sheets| sheets.count);
    counts.fold(0, u32::saturating_add)
}

/// Adds up what all kits need: papers, ribbons, things by count.
pub(super) fn needs(
    class: &ClassFacts,
    parts: &[Part],
) -> (Vec<PaperNeed>, Vec<RibbonPull>, Vec<CountedPull>) {
    let kits = kits_by_colourway(class);
    let all_kits: u32 = kits.values().sum();
    let (mut papers, mut ribbons, mut counted) = (Vec::new(), Vec::new(), Vec::new());
    for (index, part) in parts.iter().enumerate() {
        let all = all_kits.saturating_mul(part.per_kit);
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
                    let of_colourway = kits.get(&colourway.id).copied().unwrap_or(0);
                    let quantity = of_colourway.saturating_mul(part.per_kit);
                    if quantity > 0 {
                        let need = entry(&mut papers, stock);
                        need.add((stock.id, index), part, (*width, *height), quantity);
                    }
                }
            }
            PartKind::Ribbon {
                supply,
                name,
                length,
            } => ribbon(&mut ribbons, class, (*supply, name), (index, *length, all)),
            PartKind::Counted { supply, name } => {
                count(&mut counted, class, (*supply, name), (index, all));
            }
            PartKind::Template => {}
        }
    }
    (papers, ribbons, counted)
}

/// Plans the cuts of every paper.
///
/// # Errors
/// A part that its paper's sheet can't hold, or a plan that can't be cut as it says.
pub(super) fn plan_papers(
    class: &ClassFacts,
    needs: Vec<PaperNeed>,
    planner: Planner<'_>,
) -> Result<Vec<PaperPull>, Vec<PacketProblem>> {
    let ruler = class.project.trimmer.ruler();
    let (mut pulls, mut problems) = (Vec::new(), Vec::new());
    for need in needs {
        match need.plan(class.cut_plan, planner) {
            Ok(pull) => pulls.push(pull),
            Err(why) => problems.push(need.problem(&why, ruler)),
        }
    }
    if problems.is_empty() {
        fiddle_less_where_it_pays(&mut pulls, class.project.trimmer.at_once());
        Ok(pulls)
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

fn entry<'a>(papers: &'a mut Vec<PaperNeed>, stock: &StockPaper) -> &'a mut PaperNeed {
    let at = papers.iter().position(|need| need.kind == stock.kind());
    let at = at.unwrap_or(papers.len());
    if at == papers.len() {
        papers.push(PaperNeed::new(stock));
    }
    &mut papers[at]
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

fn count(
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
