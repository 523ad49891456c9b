//! A recipe: pieces, parts, and steps in the order in which they are taught.

use tablefold_geometry::{PunchBox, PunchEnvelope, Ruler};

use super::arrange::{arrange, settle_phases};
use super::draft::Draft;
use super::facts::{Phase, PieceFacts, ProjectFacts, StepEdit, ToolKind};
use super::joined::Own;
use super::made::{MadePiece, RecipeProblem, make};
use super::operation::{Operation, Verb};
use super::part::Part;
use super::{box_steps, envelope_steps, tag, trimmings, wording, work_steps};

/// Everything that follows from a project's facts.
#[derive(Clone, Debug)]
pub struct Recipe {
    /// What is made.
    pub pieces: Vec<MadePiece>,
    /// What one kit holds.
    pub parts: Vec<Part>,
    /// Steps in order, hidden ones too.
    pub steps: Vec<Step>,
    /// The ruler that measures are printed on, where the tool has none of its own.
    pub ruler: Ruler,
    /// The trimmer's.
    trimmer: Ruler,
    /// The score board's.
    score_board: Ruler,
}

/// An operation as the instructor teaches it.
#[derive(Clone, Debug)]
pub struct Step {
    /// The operation with the instructor's words, time and phase. Its title has its measures
    /// filled in: it is read in lists, where no ruler is at hand.
    pub operation: Operation,
    /// The title with measures in braces, as it is edited.
    pub typed_title: String,
    /// Not shown, not counted.
    pub hidden: bool,
    /// Whether the instructor changed or added it.
    pub edited: bool,
    /// Which of the joined projects it belongs to, from 0.
    pub project: usize,
}

impl Step {
    /// Shown, and done beforehand.
    #[must_use]
    pub fn is_prep(&self) -> bool {
        !self.hidden && self.operation.phase == Phase::Prep
    }

    /// Shown, and done in class.
    #[must_use]
    pub fn is_class(&self) -> bool {
        !self.hidden && self.operation.phase == Phase::Class
    }

    /// The instruction with its measures.
    #[must_use]
    pub fn text(&self, ruler: &Ruler) -> String {
        wording::render(&self.operation.text, &self.operation, ruler)
    }

    /// The tip with its measures.
    #[must_use]
    pub fn tip(&self, ruler: &Ruler) -> String {
        wording::render(&self.operation.tip, &self.operation, ruler)
    }

    /// THE measure: as the project's ruler has it, and converted.
    #[must_use]
    pub fn measure(&self, ruler: &Ruler) -> Option<(String, Option<String>)> {
        let value = self.operation.measure(self.operation.headline?)?;
        Some((value.text(ruler), value.converted(ruler)))
    }
}

impl Recipe {
    /// Computes the recipe of a project.
    ///
    /// # Errors
    /// A [`RecipeProblem`] for each piece that can't be made.
    pub fn build(project: &ProjectFacts) -> Result<Self, Vec<RecipeProblem>> {
        let mut recipe = Self {
            pieces: Vec::new(),
            parts: Vec::new(),
            steps: Vec::new(),
            ruler: *project.board.ruler(),
            trimmer: *project.trimmer.ruler(),
            score_board: project.score_ruler,
        };
        let mut problems = Vec::new();
        for (number, own) in project.own().iter().enumerate() {
            let operations = recipe.write(&project.bench_of(number), own, &mut problems);
            let ordered = settle_phases(arrange(operations, own.edits));
            let ruler = recipe.ruler;
            let steps = ordered.into_iter().map(|operation| Step {
                project: number,
                ..step(operation, own.edits, &ruler)
            });
            recipe.steps.extend(steps);
        }
        if problems.is_empty() {
            recipe.pack_templates();
            Ok(recipe)
        } else {
            Err(problems)
        }
    }

    /// Adds pieces and parts of one project, and gives its operations with the instructor's words.
    fn write(
        &mut self,
        bench: &ProjectFacts,
        own: &Own<'_>,
        problems: &mut Vec<RecipeProblem>,
    ) -> Vec<Operation> {
        let mut operations = Vec::new();
        for (index, piece) in own.pieces.iter().enumerate() {
            match written(bench, own.first + index, piece) {
                Ok((made, draft)) => {
                    self.pieces.push(made);
                    self.parts.extend(draft.parts);
                    operations.extend(draft.operations);
                }
                Err(problem) => problems.push(problem),
            }
        }
        operations.extend(own.edits.iter().filter(|edit| edit.is_own()).map(own_step));
        let worded = operations.into_iter();
        worded
            .map(|operation| edited(operation, own.edits))
            .collect()
    }

    /// A kit holds a template of each part that is worked along one in class.
    fn pack_templates(&mut self) {
        for part in std::mem::take(&mut self.parts) {
            let template = self
                .has_template(&part, Step::is_class)
                .then(|| part.template());
            self.parts.push(part);
            self.parts.extend(template);
        }
    }

    fn has_template(&self, part: &Part, is_done: fn(&Step) -> bool) -> bool {
        self.steps.iter().any(|step| {
            let operation = &step.operation;
            let is_its = operation.part.as_ref() == Some(&part.key);
            is_its && operation.along_template && is_done(step)
        })
    }

    /// The templates that are needed beforehand, one of each.
    pub fn prep_templates(&self) -> impl Iterator<Item = Part> {
        let parts = self.parts.iter();
        parts
            .filter(|part| self.has_template(part, Step::is_prep))
            .map(Part::template)
    }

    /// The parts of one piece.
    pub fn parts_of(&self, piece: usize) -> impl Iterator<Item = &Part> {
        self.parts.iter().filter(move |part| part.piece == piece)
    }

    /// The roles that a colourway gives a paper, each once, in the order of the parts.
    #[must_use]
    pub fn roles(&self) -> Vec<String> {
        let mut roles: Vec<String> = Vec::new();
        for role in self.parts.iter().filter_map(Part::role) {
            if !roles.iter().any(|other| other == role) {
                roles.push(role.to_owned());
            }
        }
        roles
    }

    /// The ruler that a tool is set on: a board in inches may stand beside a trimmer in mm.
    #[must_use]
    pub fn ruler_of(&self, tool: Option<ToolKind>) -> &Ruler {
        match tool {
            Some(ToolKind::Trimmer) => &self.trimmer,
            Some(ToolKind::ScoreBoard) => &self.score_board,
            _ => &self.ruler,
        }
    }

    /// What hiding steps leaves undone: for each hidden step that others need or that works on a
    /// part, a sentence or two.
    #[must_use]
    pub fn hidden_notes(&self) -> Vec<String> {
        self.hidden_notes_of(0)
    }

    /// The same for one of several joined projects, from 0.
    #[must_use]
    pub fn hidden_notes_of(&self, project: usize) -> Vec<String> {
        let steps = self.steps.iter();
        let hidden = steps.filter(|step| step.hidden && step.project == project);
        hidden.filter_map(|step| self.hidden_note(step)).collect()
    }

    fn hidden_note(&self, hidden: &Step) -> Option<String> {
        let operation = &hidden.operation;
        let mut shown = self.steps.iter().filter(|step| !step.hidden);
        let needed = shown.any(|step| step.operation.after.contains(&operation.key));
        let part = operation.part.as_ref();
        let part = self.parts.iter().find(|it| Some(&it.key) == part);
        if !needed && part.is_none() {
            return None;
        }
        let note = format!("Hidden: {}. Nobody is told to do it.", operation.title);
        let used = |key: &String| {
            let mut shown = self.steps.iter().filter(|step| !step.hidden);
            shown.any(|step| step.operation.part.as_ref() == Some(key))
        };
        Some(match part {
            Some(part) if !used(&part.key) => {
                format!("{note} {} is still packed, and no step uses it.", part.name)
            }
            _ => note,
        })
    }

    /// The step with that key.
    #[must_use]
    pub fn step(&self, key: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.operation.key == key)
    }
}

fn written(
    project: &ProjectFacts,
    index: usize,
    piece: &PieceFacts,
) -> Result<(MadePiece, Draft), RecipeProblem> {
    let made = make(project, piece)?;
    let mut draft = Draft::new(index, piece.id, &piece.name);
    trimmings::bought(&mut draft, piece);
    if let Some(structure) = PunchBox::of(&made.structure) {
        box_steps::write(&mut draft, &piece.spec, &structure, &made.pattern);
    } else if let Some(structure) = PunchEnvelope::of(&made.structure) {
        envelope_steps::write(&mut draft, &piece.spec, &structure, &made.pattern);
    } else if work_steps::has_work(&made.structure) {
        work_steps::write(&mut draft, &piece.spec, &made.structure, &made.mats);
    } else {
        return Err(RecipeProblem {
            piece: piece.name.clone(),
            field: "structure",
            message: format!(
                "The {} has no steps yet. Choose another structure.",
                made.structure.kind().name()
            ),
        });
    }
    if let (Some(spec), Some(band)) = (&piece.spec.band, &made.band) {
        trimmings::band(&mut draft, spec, band);
    }
    if let Some(spec) = &piece.spec.tag {
        let trimmer = project.trimmer.ruler();
        tag::write(&mut draft, spec, (&piece.name, trimmer, made.outside))?;
    }
    if let (Some(spec), Some(ribbon)) = (&piece.spec.ribbon, &made.ribbon) {
        let name = piece
            .supplies
            .iter()
            .find(|supply| supply.id == spec.supply);
        let name = name.map_or_else(String::new, |supply| supply.name.clone());
        let ruler = project.board.ruler();
        trimmings::ribbon(&mut draft, spec, ribbon, &made, (&name, ruler));
    }
    Ok((made, draft))
}

/// A step that the instructor added.
fn own_step(edit: &StepEdit) -> Operation {
    Operation::new(Verb::Own, edit.key.clone(), "", "")
}

/// The operation with the instructor's words, time and phase.
fn edited(mut operation: Operation, edits: &[StepEdit]) -> Operation {
    let Some(edit) = edits.iter().find(|edit| edit.key == operation.key) else {
        return operation;
    };
    let set = |to: &mut String, from: &Option<String>| {
        if let Some(text) = from {
            text.clone_into(to);
        }
    };
    set(&mut operation.title, &edit.title);
    set(&mut operation.text, &edit.text);
    set(&mut operation.tip, &edit.tip);
    if operation.verb != Verb::CutToSize {
        operation.phase = edit.phase.unwrap_or(operation.phase);
    }
    operation.seconds = edit.seconds.unwrap_or(operation.seconds);
    operation
}

fn step(mut operation: Operation, edits: &[StepEdit], ruler: &Ruler) -> Step {
    let edit = edits.iter().find(|edit| edit.key == operation.key);
    let title = wording::render(&operation.title, &operation, ruler);
    let typed_title = std::mem::replace(&mut operation.title, title);
    Step {
        typed_title,
        hidden: edit.is_some_and(|edit| edit.hidden),
        edited: edit.is_some(),
        project: 0,
        operation,
    }
}
