//! The packet: everything a class needs on paper, computed from the class's facts. It balances
//! or it is refused.

use std::collections::BTreeSet;

use tablefold_geometry::CutJob;

use crate::recipe::{Caution, Part, PieceSpec, Recipe, ToolKind};

use super::balance::{Balance, balance, off};
use super::facts::{BroughtBy, ClassFacts, MOST_KITS, MOST_THINGS, StockPaper};
use super::packs::{Pack, packs};
use super::paper_need::{PaperNeed, Planner};
use super::prep::{Prep, prep};
use super::problem::PacketProblem;
use super::pull::{CountedPull, Pull, RibbonPull, needs, plan_papers, templates};

/// Everything a class needs.
#[derive(Clone, Debug)]
pub struct Packet {
    /// Pieces, parts and steps.
    pub recipe: Recipe,
    /// What is pulled from stock and how it is cut.
    pub pull: Pull,
    /// What is done beforehand, in batches.
    pub prep: Prep,
    /// One for each attendee and spare.
    pub packs: Vec<Pack>,
    /// Tools on the tables.
    pub tools: Vec<ToolLine>,
    /// What the host should be told.
    pub cautions: Vec<Caution>,
    /// Proof that it balances.
    pub balance: Vec<Balance>,
    /// Minutes of class steps for one pair of hands that never waits for a tool.
    pub class_minutes: u32,
    /// Tape for all kits, mm.
    pub tape_mm: f64,
    /// Lines of glue for all kits, mm; dots are not counted.
    pub glue_mm: f64,
}

/// A tool that class steps need.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolLine {
    /// Which.
    pub kind: ToolKind,
    /// How many are there.
    pub count: u32,
    /// Who brings them.
    pub brought_by: BroughtBy,
    /// How many class steps use it.
    pub steps: usize,
}

/// A packet but for the cut plans, which may take a while.
#[derive(Clone, Debug)]
pub struct PacketDraft {
    recipe: Recipe,
    packs: Vec<Pack>,
    papers: Vec<PaperNeed>,
    ribbons: Vec<RibbonPull>,
    counted: Vec<CountedPull>,
}

/// Computes a class's packet.
///
/// # Errors
/// Every [`PacketProblem`] found, so that all can be put right at once.
pub fn packet(class: &ClassFacts, planner: Planner<'_>) -> Result<Packet, Vec<PacketProblem>> {
    draft(class)?.finish(class, planner)
}

/// Everything that needs no cut plan.
///
/// # Errors
/// Every [`PacketProblem`] found, so that all can be put right at once.
pub fn draft(class: &ClassFacts) -> Result<PacketDraft, Vec<PacketProblem>> {
    if let Some(apart) = &class.apart {
        return Err(vec![PacketProblem::Apart(apart.clone())]);
    }
    let recipe = Recipe::build(&class.project).map_err(|problems| {
        let piece = |p: crate::recipe::RecipeProblem| PacketProblem::Piece {
            piece: p.piece,
            why: p.message,
        };
        problems.into_iter().map(piece).collect::<Vec<_>>()
    })?;
    let problems = problems(class, &recipe);
    if !problems.is_empty() {
        return Err(problems);
    }
    let packs = packs(class, &recipe.parts)?;
    let (papers, ribbons, counted) = needs(class, &recipe.parts);
    Ok(PacketDraft {
        recipe,
        packs,
        papers,
        ribbons,
        counted,
    })
}

impl PacketDraft {
    /// The questions that the planner will be asked; one that can't be asked is found by
    /// [`PacketDraft::finish`].
    #[must_use]
    pub fn jobs(&self) -> Vec<CutJob> {
        self.papers
            .iter()
            .filter_map(|need| need.job().ok())
            .collect()
    }

    /// Plans the cuts and balances the whole.
    ///
    /// # Errors
    /// Every [`PacketProblem`] found.
    pub fn finish(
        self,
        class: &ClassFacts,
        planner: Planner<'_>,
    ) -> Result<Packet, Vec<PacketProblem>> {
        let (recipe, packs) = (self.recipe, self.packs);
        let pull = Pull {
            papers: plan_papers(class, self.papers, planner)?,
            ribbons: self.ribbons,
            counted: self.counted,
            templates: templates(class, &recipe),
        };
        let balance = balance(&recipe, &packs, &pull);
        let off = off(&balance);
        if !off.is_empty() {
            return Err(off);
        }
        let kits = packs.len() as f64;
        let shown = || recipe.steps.iter().filter(|step| !step.hidden);
        let class_seconds: u32 = shown()
            .filter(|step| step.is_class())
            .map(|step| step.operation.seconds)
            .fold(0, u32::saturating_add);
        let lines_mm = |tool: ToolKind| {
            let with = shown().filter(|step| step.operation.tool == Some(tool));
            with.map(|step| step.operation.adhesive_mm).sum::<f64>() * kits
        };
        Ok(Packet {
            prep: prep(class, &recipe.parts, &recipe.steps, &pull),
            tools: tools(class, &recipe),
            cautions: cautions(&recipe),
            class_minutes: class_seconds.div_ceil(60),
            tape_mm: lines_mm(ToolKind::Tape),
            glue_mm: lines_mm(ToolKind::Glue),
            recipe,
            pull,
            packs,
            balance,
        })
    }
}

/// What can be seen to be missing before anything is counted.
fn problems(class: &ClassFacts, recipe: &Recipe) -> Vec<PacketProblem> {
    let mut problems = Vec::new();
    if class.attendees.is_empty() {
        problems.push(PacketProblem::NoAttendees);
    }
    let empty = class.project.without_pieces().into_iter();
    problems.extend(empty.map(|project| PacketProblem::NoPieces { project }));
    if class.kits() > MOST_KITS {
        problems.push(PacketProblem::TooManyKits {
            kits: class.kits(),
            most: MOST_KITS,
        });
    }
    let too_many = |part: &&Part| u64::from(part.per_kit) * class.kits() as u64 > MOST_THINGS;
    if let Some(part) = recipe.parts.iter().find(too_many) {
        problems.push(PacketProblem::TooManyThings {
            part: part.name.clone(),
            per_kit: part.per_kit,
            most: MOST_THINGS,
        });
    }
    problems.extend(papers(class, recipe));
    for step in recipe.steps.iter().filter(|step| step.is_class()) {
        let Some(kind) = step.operation.tool else {
            continue;
        };
        let there = class.tools.iter().any(|tool| {
            tool.kind == kind && (tool.count > 0 || tool.brought_by == BroughtBy::Attendee)
        });
        if !there {
            problems.push(PacketProblem::NoTool {
                step: step.operation.title.clone(),
                tool: kind.name(),
            });
        }
    }
    problems
}

/// A paper for every role, and none thicker than its piece was designed for.
fn papers(class: &ClassFacts, recipe: &Recipe) -> Vec<PacketProblem> {
    let mut problems = Vec::new();
    let mut note = |problem| {
        if !problems.contains(&problem) {
            problems.push(problem);
        }
    };
    for colourway in &class.colourways {
        for part in &recipe.parts {
            let Some(role) = part.role() else { continue };
            let piece = &class.project.pieces[part.piece];
            let Some(stock) = colourway.papers.get(role) else {
                note(PacketProblem::NoPaper {
                    colourway: colourway.name.clone(),
                    role: role.to_owned(),
                });
                continue;
            };
            let thick = |size: &&StockPaper| size.paper.caliper > piece.paper.caliper;
            let must_fit = must_fit(&piece.spec, role);
            // Every size may be cut.
            if let Some(size) = stock.all_sizes().find(thick).filter(|_| must_fit) {
                note(PacketProblem::TooThick {
                    colourway: colourway.name.clone(),
                    paper: size.paper.name.clone(),
                    caliper_mm: size.paper.caliper.mm(),
                    role: role.to_owned(),
                    piece: piece.name.clone(),
                    designed_mm: piece.paper.caliper.mm(),
                });
            }
        }
    }
    problems
}

/// Whether the piece's sizes depend on how thick that role's paper is. Tags lie on the outside.
fn must_fit(spec: &PieceSpec, role: &str) -> bool {
    spec.role == role
        || spec.second_role() == role
        || spec.band.as_ref().is_some_and(|band| band.role == role)
}

fn tools(class: &ClassFacts, recipe: &Recipe) -> Vec<ToolLine> {
    let line = |kind: ToolKind| {
        let steps = recipe
            .steps
            .iter()
            .filter(|step| step.is_class() && step.operation.tool == Some(kind))
            .count();
        let there = class.tools.iter().find(|tool| tool.kind == kind);
        (steps > 0).then(|| ToolLine {
            kind,
            count: there.map_or(0, |tool| tool.count),
            brought_by: there.map_or(BroughtBy::Instructor, |tool| tool.brought_by),
            steps,
        })
    };
    ToolKind::ALL.into_iter().filter_map(line).collect()
}

fn cautions(recipe: &Recipe) -> Vec<Caution> {
    let mut cautions: BTreeSet<Caution> = recipe
        .steps
        .iter()
        .filter(|step| !step.hidden)
        .filter_map(|step| step.operation.caution)
        .collect();
    cautions.extend(
        recipe
            .pieces
            .iter()
            .flat_map(|piece| piece.cautions.iter().copied()),
    );
    cautions.into_iter().collect()
}
