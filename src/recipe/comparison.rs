//! Which structure? All of them for one piece, ranked by what the class costs.

use tablefold_geometry::{BlankYield, BreakPoint, Refusal, SetOn, Sizing, StructureKind, size};

use super::build::Recipe;
use super::facts::{PieceFacts, ProjectFacts};
use super::made::{MadePiece, RecipeProblem, request, wrong_request};
use super::operation::Verb;

/// All structures for one piece.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Those that work, the one that costs the class least first.
    pub choices: Vec<Choice>,
    /// Those that do not, with the reason.
    pub refused: Vec<Refused>,
}

/// A structure that does not work.
#[derive(Clone, Debug)]
pub struct Refused {
    /// Which.
    pub kind: StructureKind,
    /// Why, and what would do.
    pub why: String,
    /// The tool that the bench lacks, if that is why.
    pub lacks: Option<SetOn>,
}

/// A structure that works.
#[derive(Clone, Debug)]
pub struct Choice {
    /// The piece made that way.
    pub made: MadePiece,
    /// The sheet that each body is cut from, with what a sheet gives of it alone.
    pub blanks: Vec<BlankYield>,
    /// The kind of sheet to take, and how many for all makes.
    pub sheets: (String, u32),
    /// Their price in the smallest unit of the money, if it is known.
    pub price_minor: Option<u64>,
    /// Seconds before the class, for all makes.
    pub prep_seconds: u64,
    /// Seconds in class, for one.
    pub class_seconds: u32,
    /// Steps in class.
    pub class_steps: usize,
    /// Joints that are glued or taped.
    pub joints: usize,
    /// Clearances nearby that change the number of sheets.
    pub break_points: Vec<BreakPoint>,
}

impl Choice {
    /// How hard it is to make: each step in class counts one, each joint one more. A rule of this
    /// program, no source.
    #[must_use]
    pub fn difficulty(&self) -> usize {
        self.class_steps + self.joints
    }

    /// Fewer sheets first, then the lower price; one that is not known counts as the highest, as
    /// in sizing.
    pub(super) fn rank(&self) -> (u32, u64, u64, usize) {
        let price = self.price_minor.unwrap_or(u64::MAX);
        let seconds = self.prep_seconds + u64::from(self.class_seconds);
        (self.sheets.1, price, seconds, self.difficulty())
    }
}

/// Compares all structures for the contents, paper and clearance of one piece; what goes round it
/// and settings by hand are left out of account.
///
/// # Errors
/// A [`RecipeProblem`] where a measure makes no sense by itself.
pub fn compare(project: &ProjectFacts, piece: &PieceFacts) -> Result<Comparison, RecipeProblem> {
    let mut bare = piece.clone();
    let spec = &mut bare.spec;
    (spec.by_hand, spec.band, spec.tag, spec.ribbon) = (None, None, None, None);
    spec.mats = None;
    spec.extras.clear();
    let asked = request(project, &bare, None);
    let sizing = size(&asked).map_err(|error| wrong_request(&bare, &error))?;
    let Sizing {
        answers,
        break_points,
        refused,
    } = sizing;
    let mut refused: Vec<Refused> = refused.iter().map(Refused::of).collect();
    let mut choices = Vec::new();
    for answer in answers {
        let kind = answer.kind();
        bare.spec.structure = kind;
        let mut alone = project.clone();
        alone.pieces = vec![bare.clone()];
        alone.edits.clear();
        match Recipe::build(&alone) {
            Ok(recipe) => {
                let points = break_points.iter();
                let points = points.filter(|it| it.structure == kind && it.saves != 0);
                choices.extend(choice(
                    recipe,
                    (answer.blanks, answer.cost),
                    (answer.sheet, answer.sheets_for_all),
                    (project.makes, points.cloned().collect()),
                ));
            }
            Err(problems) => refused.extend(problems.into_iter().map(|problem| Refused {
                kind,
                why: problem.message,
                lacks: None,
            })),
        }
    }
    choices.sort_by_key(Choice::rank);
    Ok(Comparison { choices, refused })
}

impl Refused {
    fn of(refusal: &Refusal) -> Self {
        Self {
            kind: refusal.structure,
            why: refusal.to_string(),
            lacks: match refusal.reason {
                tablefold_geometry::RefusalReason::NoTool { tool } => Some(tool),
                _ => None,
            },
        }
    }
}

fn choice(
    recipe: Recipe,
    (blanks, price_minor): (Vec<BlankYield>, Option<u64>),
    sheets: (String, u32),
    (makes, break_points): (u32, Vec<BreakPoint>),
) -> Option<Choice> {
    let class = || recipe.steps.iter().filter(|step| step.is_class());
    let prep = recipe.steps.iter().filter(|step| step.is_prep());
    let prep: u64 = prep.map(|step| u64::from(step.operation.seconds)).sum();
    let seconds = |sum: u32, seconds: u32| sum.saturating_add(seconds);
    let class_seconds = class().map(|step| step.operation.seconds).fold(0, seconds);
    let glued = class().filter(|step| step.operation.verb == Verb::Glue);
    let (class_steps, joints) = (class().count(), glued.count());
    Some(Choice {
        made: recipe.pieces.into_iter().next()?,
        blanks,
        sheets,
        price_minor,
        prep_seconds: prep * u64::from(makes),
        class_seconds,
        class_steps,
        joints,
        break_points,
    })
}
