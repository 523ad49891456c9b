//! What each of the two plans costs: sheets, money, minutes.

use super::facts::PlanChoice;
use super::prep::{CutWork, cut_batches};
use super::pull::{PaperPull, sheets_of};
use super::sizes::PlanCost;

/// The price of cutting all papers by one plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlanPrice {
    /// Which plan.
    pub choice: PlanChoice,
    /// Sheets in all.
    pub sheets: u32,
    /// Proven: no plan needs fewer sheets; `None` where a paper has several sizes.
    pub least_sheets: Option<u64>,
    /// Ways in which sheets are cut.
    pub patterns: usize,
    /// What the sheets are worth, of the papers that have a price, in minor units.
    pub money: u64,
    /// A paper in use has no price.
    pub is_partly_unpriced: bool,
    /// Fence settings and strokes.
    pub work: CutWork,
}

/// Adds up what a plan costs; `at_once` is how many sheets the trimmer takes.
#[must_use]
pub fn plan_price(papers: &[PaperPull], choice: PlanChoice, at_once: u32) -> PlanPrice {
    let sheets = |paper: &PaperPull| sheets_of(paper.plan_by(choice));
    let taken = || papers.iter().flat_map(|paper| paper.taken_by(choice));
    let money = taken().map(|(size, take)| {
        let price = size.price_minor.unwrap_or(0);
        price.saturating_mul(u64::from(take))
    });
    let least = papers.iter().map(|paper| match paper.counts {
        PlanCost::Sheets => Some(paper.plans.bound),
        PlanCost::Bought { .. } => None,
    });
    PlanPrice {
        choice,
        sheets: papers.iter().map(sheets).fold(0, u32::saturating_add),
        least_sheets: least.sum(),
        patterns: papers
            .iter()
            .map(|paper| paper.plan_by(choice).sheets.len())
            .sum(),
        money: money.fold(0, u64::saturating_add),
        is_partly_unpriced: taken().any(|(size, _)| size.price_minor.is_none()),
        work: cut_batches(papers, choice, at_once).1,
    }
}
