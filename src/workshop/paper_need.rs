//! What is cut from one paper, and the question that the planner is asked.

use std::ops::ControlFlow;
use std::sync::Arc;

use tablefold_geometry::{
    CutError, CutJob, CutPart, CutPlans, Effort, Length, PlanFault, Ruler, plan_cuts, verify,
};

use crate::recipe::Part;

use super::facts::{PlanChoice, StockPaper};
use super::problem::PacketProblem;
use super::pull::PaperPull;
use super::sizes::{PlanCost, Sizes};

/// Answers the question of one paper; a server keeps answers, [`plan_now`] does not.
pub type Planner<'p> = &'p dyn Fn(&CutJob) -> Result<Arc<CutPlans>, CutError>;

/// The effort of a plan for a class: the same on every machine, about half a second at most.
pub const CLASS_EFFORT: Effort = Effort::quick();

/// Strips, columns, trims: more turns of a sheet confuse the hands for little paper.
const PHASES: u8 = 3;

/// A planner that thinks on the spot.
///
/// # Errors
/// As [`plan_cuts`].
pub fn plan_now(job: &CutJob) -> Result<Arc<CutPlans>, CutError> {
    plan_cuts(job, &CLASS_EFFORT, &mut |_| ControlFlow::Continue(())).map(Arc::new)
}

/// All parts that are cut from one paper, whichever its sizes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PaperNeed {
    /// The row number that stands for all its sizes.
    pub(super) kind: i64,
    name: String,
    sizes: Vec<StockPaper>,
    /// The sizes that colourways name.
    named: Vec<i64>,
    /// Index of the part in the recipe, for each of `demands`.
    parts: Vec<usize>,
    demands: Vec<CutPart>,
}

/// Why there is no plan.
pub(super) enum NoPlan {
    /// The planner says so.
    Refused(CutError),
    /// A plan came that can't be cut as it says: a fault of the program.
    Faulty(PlanFault),
}

impl PaperNeed {
    pub(super) fn new(stock: &StockPaper) -> Self {
        Self {
            kind: stock.kind(),
            name: stock.kind_name().to_owned(),
            sizes: stock.all_sizes().cloned().collect(),
            named: Vec::new(),
            parts: Vec::new(),
            demands: Vec::new(),
        }
    }

    /// Two colourways may use the same paper for the same part: their numbers add up.
    pub(super) fn add(
        &mut self,
        (size, index): (i64, usize),
        part: &Part,
        (width, height): (Length, Length),
        quantity: u32,
    ) {
        if !self.named.contains(&size) {
            self.named.push(size);
        }
        if let Some(at) = self.parts.iter().position(|&other| other == index) {
            let demand = &mut self.demands[at];
            demand.quantity = demand.quantity.saturating_add(quantity);
            return;
        }
        self.parts.push(index);
        self.demands.push(CutPart {
            name: part.name.clone(),
            width,
            height,
            quantity,
            turnable: false,
        });
    }

    /// The sizes, and the parts as the strictest size lets them be turned.
    fn asked(&self) -> (Sizes, Vec<CutPart>) {
        let sizes = Sizes::new(&self.sizes, &self.named, &self.demands);
        let turned = |part: &CutPart| CutPart {
            turnable: sizes.turnable,
            ..part.clone()
        };
        let parts = self.demands.iter().map(turned).collect();
        (sizes, parts)
    }

    /// The question for the planner.
    pub(super) fn job(&self) -> Result<CutJob, CutError> {
        let (sizes, parts) = self.asked();
        asked_of(&sizes, parts)
    }

    /// Asks the planner, and cuts both plans in thought before anyone relies on them.
    pub(super) fn plan(
        &self,
        choice: PlanChoice,
        planner: Planner<'_>,
    ) -> Result<PaperPull, NoPlan> {
        let (sizes, demands) = self.asked();
        let job = asked_of(&sizes, demands.clone()).map_err(NoPlan::Refused)?;
        let plans = planner(&job).map_err(NoPlan::Refused)?;
        for plan in [&plans.least_paper, &plans.least_fiddling] {
            verify(&job, plan).map_err(NoPlan::Faulty)?;
        }
        let plans = match sizes.counts {
            PlanCost::Sheets => plans,
            PlanCost::Bought { .. } => Arc::new(CutPlans {
                least_paper: sizes.by_size(plans.least_paper.clone()),
                least_fiddling: sizes.by_size(plans.least_fiddling.clone()),
                ..*plans
            }),
        };
        Ok(PaperPull {
            id: self.kind,
            name: self.name.clone(),
            sizes: sizes.sheets,
            counts: sizes.counts,
            parts: self.parts.clone(),
            demands,
            plans,
            choice,
        })
    }

    /// The problem in words, with measures on the project's ruler.
    pub(super) fn problem(&self, why: &NoPlan, ruler: &Ruler) -> PacketProblem {
        let text = |length| ruler.text(length);
        let why = match why {
            NoPlan::Refused(CutError::TooLarge {
                part,
                width,
                height,
                turnable,
            }) => format!(
                "{part} is {} x {} and does not fit a sheet of {}{}. Use a larger sheet, or make the piece smaller.",
                text(*width),
                text(*height),
                self.sheets_in_words(ruler),
                if *turnable {
                    " either way round"
                } else {
                    ", and it may not be turned"
                },
            ),
            NoPlan::Refused(
                CutError::TooFewSheets {
                    part,
                    short,
                    quantity,
                }
                | CutError::NotFound {
                    part,
                    short,
                    quantity,
                },
            ) => format!(
                "{short} of {quantity} x {part} can't be cut: too few sheets that hold one are on hand. Type a price for such a size on the bench, or choose it in the colourway: then it can be bought."
            ),
            NoPlan::Refused(error) => error.to_string(),
            NoPlan::Faulty(fault) => format!("{fault}. Please report this."),
        };
        PacketProblem::NoCutPlan {
            paper: self.name.clone(),
            why,
        }
    }

    /// "12 in x 12 in or 8 1/4 in x 11 11/16 in": those that might be cut.
    fn sheets_in_words(&self, ruler: &Ruler) -> String {
        let (sizes, _) = self.asked();
        let mut words: Vec<String> = Vec::new();
        for sheet in &sizes.sheets {
            let (width, height) = (sheet.paper.width, sheet.paper.height);
            let size = format!("{} x {}", ruler.text(width), ruler.text(height));
            if !words.contains(&size) {
                words.push(size);
            }
        }
        words.join(" or ")
    }
}

/// What the planner is asked about these sizes and parts.
pub(super) fn asked_of(sizes: &Sizes, parts: Vec<CutPart>) -> Result<CutJob, CutError> {
    CutJob::new(sizes.stock.clone(), parts, Length::ZERO, Some(PHASES))
}
