//! Parts and steps of a structure whose bodies say what the hands do: one step for each score,
//! cut and fold; glue goes on in the step of the fold that presses it.

use tablefold_geometry::{Body, Edge, Length, Structure, WasteReason, Work};

use super::box_steps::put_in_so;
use super::caution::Caution;
use super::draft::Draft;
use super::facts::{PieceSpec, ToolKind};
use super::mats::{self, MadeMat};
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::{BodyNow, StepPicture};
use super::window_steps;
use super::work_words::{self, filling_verb, score_text, tape_mm, tool_of_glue, where_glue_goes};

use MeasureValue::Exact;

/// Whether the structure's steps follow from its bodies.
pub(super) fn has_work(structure: &Structure) -> bool {
    structure.bodies().any(|body| !body.work.is_empty())
}

/// Parts and operations of every body; mats lie on the front of the first once it is folded.
/// Times are starting estimates.
pub(super) fn write(draft: &mut Draft, spec: &PieceSpec, structure: &Structure, mats: &[MadeMat]) {
    let several = structure.bodies().count() > 1;
    for (at, body) in structure.bodies().enumerate() {
        let role = if at == 0 {
            &spec.role
        } else {
            spec.second_role()
        };
        let kind = PartKind::Cut {
            role: role.to_owned(),
            width: body.blank.0,
            height: body.blank.1,
        };
        let mut writer = Writer {
            draft,
            spec,
            structure,
            body,
            at,
            prefix: if several {
                format!("{}-", body.name)
            } else {
                String::new()
            },
            last: None,
            is_round: false,
        };
        let part = writer.part();
        let label = format!("{} sheet", body.name);
        writer.draft.part(&part, &label, kind, 1);
        writer.write();
        if let (0, Some(folded)) = (at, writer.last) {
            mats::write(draft, mats, &folded);
        }
    }
    draft.name_last("close");
}

fn is_window(work: &Work) -> bool {
    matches!(work, Work::CutOut { .. } | Work::Film { .. })
}

/// Writes the steps of one body.
struct Writer<'a> {
    draft: &'a mut Draft,
    spec: &'a PieceSpec,
    structure: &'a Structure,
    body: &'a Body,
    at: usize,
    /// In front of keys where there are several bodies.
    prefix: String,
    /// The key of the step before.
    last: Option<String>,
    /// Whether the far end is towards the hands.
    is_round: bool,
}

impl Writer<'_> {
    fn part(&self) -> String {
        format!("{}sheet", self.prefix)
    }

    fn write(&mut self) {
        self.cut();
        let body = self.body;
        let mut glued: Vec<usize> = Vec::new();
        for (index, work) in body.work.iter().enumerate() {
            match work {
                Work::Glue(zone) => {
                    glued.push(*zone);
                    // Pressed by a fold that comes next, or by the hand.
                    let next = body.work.get(index + 1);
                    if !matches!(next, Some(Work::Glue(_) | Work::Fold(_))) {
                        let zones = std::mem::take(&mut glued);
                        self.glue(&zones, None);
                    }
                }
                Work::Fold(fold) if !glued.is_empty() => {
                    let zones = std::mem::take(&mut glued);
                    self.glue(&zones, Some(*fold));
                }
                Work::Fold(fold) => self.fold(*fold),
                Work::Fill => self.fill(),
                Work::PutTogether { what } => self.put_together(what),
                // With a ribbon in the kit, its own step ties it.
                Work::Tie { .. } if self.spec.ribbon.is_some() => {}
                Work::Tie { through } => self.shut(through),
                Work::CutOut { .. } => self.cut_out(work),
                Work::Film { across, side } => self.film(*across, *side),
                other => self.on_the_sheet(other, index),
            }
        }
    }

    /// Adds a step after the one before it.
    fn step(&mut self, mut operation: Operation, also: &[String]) {
        let key = format!("{}{}", self.prefix, operation.key);
        operation.key.clone_from(&key);
        let after: Vec<&str> = self.last.iter().chain(also).map(String::as_str).collect();
        self.draft.step(&self.part(), &after, operation);
        self.last = Some(key);
    }

    fn drawn(&self, now: BodyNow) -> StepPicture {
        StepPicture::Body { body: self.at, now }
    }

    fn cut(&mut self) {
        let (width, height) = self.body.blank;
        let name = self.body.name;
        let text = if width == height {
            "Cut a square of {width}."
        } else {
            "Cut a sheet {width} wide and {height} high."
        };
        let title = format!("Cut the {name} sheet");
        let step = Operation::new(Verb::CutToSize, "cut".into(), &title, text)
            .with(ToolKind::Trimmer)
            .in_prep()
            .set_at(&[width, height])
            .measuring("width", Exact(width))
            .measuring("height", Exact(height))
            .headed("width")
            .taking(40)
            .tip("Check the first one: both diagonals are equal when its corners are square.")
            .drawn(StepPicture::Cut { width, height });
        self.step(step, &[]);
    }

    /// Work on the sheet while it lies flat.
    fn on_the_sheet(&mut self, work: &Work, index: usize) {
        let step = match work {
            Work::Score { from, at } => self.score(from, (*at, ""), index),
            Work::ScorePart { from, at, part } => self.score(from, (*at, part), index),
            _ => work_words::flat_step(work, self.body, |now| self.drawn(now)),
        };
        let Some(mut step) = step else { return };
        // As if there were no window: keys stay the same, and with them what was edited.
        let before = self.body.work.iter().take(index);
        let number = before.filter(|work| !is_window(work)).count() + 1;
        step.key = format!("{}-{number}", step.key);
        self.step(step, &[]);
    }

    fn score(&self, from: &[Edge], (at, part): (Length, &str), index: usize) -> Option<Operation> {
        let before = self.body.work.get(..index).unwrap_or_default();
        let name = self.body.name;
        let scores = |work: &Work| matches!(work, Work::Score { .. } | Work::ScorePart { .. });
        let nth = before.iter().filter(|work| scores(work)).count() + 1;
        let all = self.body.work.iter().filter(|work| scores(work)).count();
        let title = match (all, from.len()) {
            (1, 4) => format!("Score the {name} all round"),
            (1, _) => format!("Score the {name}"),
            _ => format!("Score the {name}, line {nth}"),
        };
        let edges = u32::try_from(from.len()).unwrap_or(4);
        let step = Operation::new(
            Verb::ScoreAt,
            "score".into(),
            &title,
            &score_text(self.body, before, from, part),
        );
        let tip = if nth == 1 {
            "The side you see ends up inside. Press the paper to the fence."
        } else {
            ""
        };
        Some(
            step.with(ToolKind::ScoreBoard)
                .set_at(&[at])
                .measuring("at", Exact(at))
                .headed("at")
                .taking(20 + 15 * edges)
                .tip(tip)
                .drawn(self.drawn(BodyNow::Score(index))),
        )
    }

    fn fold(&mut self, fold: usize) {
        let name = self.fold_name(fold);
        let turn = self.turn_for(fold);
        let title = work_words::fold_title(self.body, self.prefix.is_empty(), fold);
        let step = Operation::new(
            Verb::Fold,
            format!("fold-{}", fold + 1),
            &title,
            &format!("{turn}Fold {name}."),
        );
        self.step(step.taking(25).drawn(self.drawn(BodyNow::Fold(fold))), &[]);
    }

    fn fold_name(&self, fold: usize) -> &'static str {
        let folds = &self.body.pattern.folds;
        folds.get(fold).map_or("", |step| step.name)
    }

    /// "Turn the carton end for end." where this fold is done at the other end than the one before.
    fn turn_for(&mut self, fold: usize) -> String {
        let folds = &self.body.pattern.folds;
        let is_far = folds.get(fold).is_some_and(|fold| fold.is_far);
        if std::mem::replace(&mut self.is_round, is_far) == is_far {
            return String::new();
        }
        format!("Turn the {} end for end. ", self.body.name)
    }

    /// Glue or tape on zones, and the fold that presses them.
    fn glue(&mut self, zones: &[usize], fold: Option<usize>) {
        let pattern = &self.body.pattern;
        let serves = self.structure.kind().serves();
        let tool = tool_of_glue(serves);
        let place_of_glue = where_glue_goes(pattern, zones);
        let put = match tool {
            ToolKind::Tape => "Put tape",
            _ => "Put a thin line of glue",
        };
        let turn = fold.map_or_else(String::new, |fold| self.turn_for(fold));
        let put = format!("{turn}{put} on {place_of_glue}, where it is hatched.");
        let text = match fold {
            Some(fold) => format!("{put} Fold {} and press.", self.fold_name(fold)),
            None => format!("{put} Press."),
        };
        let place = zones.first().copied().unwrap_or_default();
        let title = work_words::glue_title(self.body, self.prefix.is_empty(), zones, tool);
        let seconds = 30 + 15 * u32::try_from(zones.len()).unwrap_or(10).min(10);
        let step = Operation::new(Verb::Glue, format!("glue-{}", place + 1), &title, &text)
            .with(tool)
            .taking(seconds)
            .sticking(tape_mm(pattern, zones))
            .tip("Line up the edges before you press.")
            .drawn(self.drawn(BodyNow::Glue { zone: place, fold }));
        self.step(step, &[]);
    }

    fn cut_out(&mut self, work: &Work) {
        if let Some(step) = window_steps::cut_out(work) {
            let why = WasteReason::Window;
            self.step(step.drawn(self.drawn(BodyNow::TakeOff(why))), &[]);
        }
    }

    /// The film is a part of its own, cut beforehand.
    fn film(&mut self, across: Length, side: Length) {
        let part = format!("{}film", self.prefix);
        let cut = window_steps::cut_film(&part, side);
        let cut_key = cut.key.clone();
        let kind = window_steps::film_part(side);
        self.draft.part(&part, window_steps::FILM, kind, 1);
        self.draft.step(&part, &[], cut);
        let step = window_steps::tape(self.body.name, across, side);
        self.step(step.drawn(self.drawn(BodyNow::Film { side })), &[cut_key]);
    }

    fn fill(&mut self) {
        let after = self.last.clone().unwrap_or_default();
        let pattern = &self.body.pattern;
        let turn = self.turn_for(pattern.folds_before_filling);
        let (verb, name) = (filling_verb(pattern), &self.spec.contents_name);
        let text = format!("{turn}{verb} the {name} in.");
        put_in_so(self.draft, self.spec, &after, &text);
        self.last = Some("put-in".to_owned());
    }

    /// No ribbon is packed: what shuts it is the maker's own.
    fn shut(&mut self, through: &str) {
        let text = format!(
            "Lead a ribbon or a string of your own through {through} and tie it. None is in this \
             kit."
        );
        let step = Operation::new(Verb::Tie, "together".into(), "Tie it shut", &text);
        let step = step.warned(Some(Caution::Cord)).taking(60);
        self.step(step.drawn(self.drawn(BodyNow::Together)), &[]);
    }

    /// Waits for every other body.
    fn put_together(&mut self, what: &str) {
        let others = self.draft.ends(&self.part());
        let step = Operation::new(
            Verb::Layer,
            "together".into(),
            &format!("Put {what}"),
            &format!("Put {what}."),
        );
        let step = step.taking(20).drawn(self.drawn(BodyNow::Together));
        self.step(step, &others);
    }
}
