//! The atom of a recipe: one thing done to one part with one tool at one setting.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Length, Ruler};

use super::caution::Caution;
use super::facts::{Phase, ToolKind};
use super::step_picture::StepPicture;

/// What the hands do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verb {
    /// Cut a part to size from a sheet.
    CutToSize,
    /// Punch and score on the punch board.
    PunchAt,
    /// Turn a quarter, then punch and score along the guide.
    TurnAndPunch,
    /// Score a straight line.
    ScoreAt,
    /// Cut up to a point.
    CutTo,
    /// Trim what sticks out.
    Trim,
    /// Round a corner.
    Round,
    /// Punch half a hole into an edge.
    Notch,
    /// Punch a shape.
    Stamp,
    /// Fold and press the creases.
    Burnish,
    /// Fold.
    Fold,
    /// Glue or tape.
    Glue,
    /// Put one layer on another.
    Layer,
    /// Put the contents in.
    PutIn,
    /// Wrap round.
    Wrap,
    /// Tie.
    Tie,
    /// Attach.
    Attach,
    /// Anything else the instructor wants done.
    Own,
}

/// A value in an instruction. In text it stands as `{key}`.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// The word in braces.
    pub key: &'static str,
    /// How much.
    pub value: MeasureValue,
}

/// How much.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MeasureValue {
    /// Set on a ruler.
    Exact(Length),
    /// Follows from geometry, mm.
    Derived(f64),
    /// A number of things.
    Count(u32),
}

impl MeasureValue {
    /// As it stands in text, on `ruler`; "≈" where the ruler has no such mark.
    #[must_use]
    pub fn text(self, ruler: &Ruler) -> String {
        match self {
            Self::Exact(length) => ruler.text(length),
            Self::Derived(mm) => ruler.text_mm(mm),
            Self::Count(count) => count.to_string(),
        }
    }

    /// The same as a conversion: the other system's ruler.
    #[must_use]
    pub fn converted(self, ruler: &Ruler) -> Option<String> {
        let other = ruler.other();
        match self {
            Self::Exact(length) => Some(other.text(length)),
            Self::Derived(mm) => Some(other.text_mm(mm)),
            Self::Count(_) => None,
        }
    }
}

/// One operation of a recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// Unique in the project and stable: `p3.punch-1`.
    pub key: String,
    /// The piece, by place in the project; `None` for an own step.
    pub piece: Option<usize>,
    /// The part it is done to.
    pub part: Option<String>,
    /// What is done.
    pub verb: Verb,
    /// With which tool.
    pub tool: Option<ToolKind>,
    /// Whether a printed template of the part lies on it.
    pub along_template: bool,
    /// Where the fence or the paper is set: what prep batches are grouped by.
    pub settings: Vec<Length>,
    /// The values in the text.
    pub measures: Vec<Measure>,
    /// THE measure of the card, by key.
    pub headline: Option<&'static str>,
    /// Time for one, in seconds: a starting estimate.
    pub seconds: u32,
    /// Beforehand or in class.
    pub phase: Phase,
    /// Keys of what must be done before.
    pub after: Vec<String>,
    /// What to do in about five words.
    pub title: String,
    /// The instruction, with measures in braces.
    pub text: String,
    /// One tip.
    pub tip: String,
    /// One caution.
    pub caution: Option<Caution>,
    /// What the paper looks like.
    pub picture: StepPicture,
    /// Tape or glue line for one, mm.
    pub adhesive_mm: f64,
}

impl Operation {
    /// The value that `key` stands for.
    #[must_use]
    pub fn measure(&self, key: &str) -> Option<MeasureValue> {
        self.measures
            .iter()
            .find(|measure| measure.key == key)
            .map(|measure| measure.value)
    }
}

/// A recipe's steps are written with these, in the order in which they read.
impl Operation {
    /// A class step without tool, measure or picture; the rest is added to it.
    #[must_use]
    pub(super) fn new(verb: Verb, key: String, title: &str, text: &str) -> Self {
        Self {
            key,
            piece: None,
            part: None,
            verb,
            tool: None,
            along_template: false,
            settings: Vec::new(),
            measures: Vec::new(),
            headline: None,
            seconds: 60,
            phase: Phase::Class,
            after: Vec::new(),
            title: title.to_owned(),
            text: text.to_owned(),
            tip: String::new(),
            caution: None,
            picture: StepPicture::None,
            adhesive_mm: 0.0,
        }
    }

    pub(super) fn with(mut self, tool: ToolKind) -> Self {
        self.tool = Some(tool);
        self.caution = Caution::of_tool(tool);
        self
    }

    /// A template lies on it.
    pub(super) fn along_template(mut self) -> Self {
        self.along_template = true;
        self.tip("The template is as large as the sheet: lay edge on edge.")
    }

    pub(super) fn in_prep(mut self) -> Self {
        self.phase = Phase::Prep;
        self
    }

    pub(super) fn set_at(mut self, settings: &[Length]) -> Self {
        self.settings = settings.to_vec();
        self
    }

    pub(super) fn measuring(mut self, key: &'static str, value: MeasureValue) -> Self {
        self.measures.push(Measure { key, value });
        self
    }

    pub(super) fn headed(mut self, key: &'static str) -> Self {
        self.headline = Some(key);
        self
    }

    pub(super) fn taking(mut self, seconds: u32) -> Self {
        self.seconds = seconds;
        self
    }

    pub(super) fn tip(mut self, tip: &str) -> Self {
        tip.clone_into(&mut self.tip);
        self
    }

    pub(super) fn drawn(mut self, picture: StepPicture) -> Self {
        self.picture = picture;
        self
    }

    pub(super) fn warned(mut self, caution: Option<Caution>) -> Self {
        self.caution = caution;
        self
    }

    pub(super) fn sticking(mut self, mm: f64) -> Self {
        self.adhesive_mm = mm;
        self
    }
}
