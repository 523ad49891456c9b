//! What is cut from one paper, and the question that the planner is asked.

use std::ops::ControlFlow;
use std::sync::Arc;

use tablefold_geometry::{
    CutError, CutJob, CutPart, CutPlans, CutStock, Effort, Length, PlanFault, Ruler, plan_cuts,
    verify,
};

use crate::recipe::Part;

use super::facts::{PlanChoice, StockPaper};
use super::problem::PacketProblem;
use super::pull::PaperPull;

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

/// All parts that are cut from one paper.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PaperNeed {
    pub(super) stock: StockPaper,
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
    pub(super) fn new(stock: StockPaper) -> Self {
        Self {
            stock,
            parts: Vec::new(),
            demands: Vec::new(),
        }
    }

    /// Two colourways may use the same paper for the same part: their numbers add up.
    pub(super) fn add(
        &mut self,
        index: usize,
        part: &Part,
        (width, height): (Length, Length),
        quantity: u32,
    ) {
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
            turnable: self.stock.paper.turnable(),
        });
    }

    /// The question: sheets count 1 each, and what is not on hand is bought.
    pub(super) fn job(&self) -> Result<CutJob, CutError> {
        let sheet = CutStock {
            name: self.stock.paper.name.clone(),
            width: self.stock.paper.width,
            height: self.stock.paper.height,
            cost: 1,
            available: None,
        };
        CutJob::new(
            vec![sheet],
            self.demands.clone(),
            Length::ZERO,
            Some(PHASES),
        )
    }

    /// Asks the planner, and cuts both plans in thought before anyone relies on them.
    pub(super) fn plan(
        &self,
        choice: PlanChoice,
        planner: Planner<'_>,
    ) -> Result<PaperPull, NoPlan> {
        let job = self.job().map_err(NoPlan::Refused)?;
        let plans = planner(&job).map_err(NoPlan::Refused)?;
        for plan in [&plans.least_paper, &plans.least_fiddling] {
            verify(&job, plan).map_err(NoPlan::Faulty)?;
        }
        Ok(PaperPull {
            id: self.stock.id,
            paper: self.stock.paper.clone(),
            parts: self.parts.clone(),
            demands: self.demands.clone(),
            plans,
            choice,
            on_hand: self.stock.on_hand,
            price_minor: self.stock.price_minor,
        })
    }

    /// The problem in words, with measures on the project's ruler.
    pub(super) fn problem(&self, why: &NoPlan, ruler: &Ruler) -> PacketProblem {
        let text = |length| ruler.text(length);
        let sheet = &self.stock.paper;
        let why = match why {
            NoPlan::Refused(CutError::TooLarge {
                part,
                width,
                height,
                turnable,
            }) => format!(
                "{part} is {} x {} and does not fit a sheet of {} x {}{}. Use a larger sheet, or make the piece smaller.",
                text(*width),
                text(*height),
                text(sheet.width),
                text(sheet.height),
                if *turnable {
                    " either way round"
                } else {
                    ", and it may not be turned"
                },
            ),
            NoPlan::Refused(error) => error.to_string(),
            NoPlan::Faulty(fault) => format!("{fault}. Please report this."),
        };
        PacketProblem::NoCutPlan {
            paper: sheet.name.clone(),
            why,
        }
    }
}
