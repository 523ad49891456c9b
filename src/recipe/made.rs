//! A piece made to measure: from what was asked to settings, a pattern, and its checks.

use tablefold_geometry::{
    Band, BandRequest, BoxOutside, BreakPoint, Check, FingerNotch, Pattern, Ribbon, RibbonRun,
    Sizing, SizingRequest, Structure, size,
};

use super::caution::Caution;
use super::facts::{PieceFacts, ProjectFacts, RibbonSpec, RibbonStyle};

/// A piece with everything that follows from what was asked.
#[derive(Clone, Debug)]
pub struct MadePiece {
    /// Row number.
    pub id: i64,
    /// What it is called.
    pub name: String,
    /// What it is.
    pub structure: Structure,
    /// The flat pattern.
    pub pattern: Pattern,
    /// The fold check, point by point.
    pub checks: Vec<Check>,
    /// Each sheet and how many blanks it yields.
    pub per_sheet: Vec<(String, u32)>,
    /// The sheet that serves the usual number best, and how many of it.
    pub best_sheet: Option<(String, u32)>,
    /// Which small change of clearance changes the number of sheets.
    pub break_points: Vec<BreakPoint>,
    /// The closed piece on the outside.
    pub outside: BoxOutside,
    /// The band, if it has one.
    pub band: Option<Band>,
    /// The ribbon, if it has one.
    pub ribbon: Option<Ribbon>,
    /// What the contents make it wise to say.
    pub cautions: Vec<Caution>,
}

/// Why a piece can't be made as asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipeProblem {
    /// The piece's name.
    pub piece: String,
    /// The field to mark: "contents", "settings", "band", "tag" or "ribbon".
    pub field: &'static str,
    /// What is wrong and what would do.
    pub message: String,
}

/// Makes one piece.
///
/// # Errors
/// [`RecipeProblem`] names the field that is the cause.
pub fn make(project: &ProjectFacts, piece: &PieceFacts) -> Result<MadePiece, RecipeProblem> {
    let problem = |field, message: String| RecipeProblem { piece: piece.name.clone(), field, message };
    let sized = sized(project, piece).map_err(|(field, message)| problem(field, message))?;
    let Sized { structure, pattern, checks, per_sheet, best_sheet, break_points } = sized;
    let outside = outside(&structure, piece);
    let band = band(project, piece, outside).map_err(|error| problem("band", error))?;
    let ribbon = piece.spec.ribbon.as_ref().map(|spec| ribbon(spec, outside, project));
    let ribbon = ribbon.transpose().map_err(|error| problem("ribbon", error))?;
    let mut cautions: Vec<Caution> =
        piece.spec.hazards.iter().map(|&hazard| Caution::of_hazard(hazard)).collect();
    if ribbon.is_some() {
        cautions.push(Caution::Cord);
    }
    Ok(MadePiece {
        id: piece.id,
        name: piece.name.clone(),
        structure,
        pattern,
        checks,
        per_sheet,
        best_sheet,
        break_points,
        outside,
        band,
        ribbon,
        cautions,
    })
}

struct Sized {
    structure: Structure,
    pattern: Pattern,
    checks: Vec<Check>,
    per_sheet: Vec<(String, u32)>,
    best_sheet: Option<(String, u32)>,
    break_points: Vec<BreakPoint>,
}

fn sized(project: &ProjectFacts, piece: &PieceFacts) -> Result<Sized, (&'static str, String)> {
    let request = SizingRequest {
        contents: piece.spec.contents,
        structure: Some(piece.spec.structure),
        clearance: piece.spec.clearance,
        caliper: piece.paper.caliper,
        board: project.board,
        trimmer: project.trimmer,
        sheets: piece.sheets.clone(),
        makes: project.makes,
        settings: piece.spec.by_hand,
    };
    let field = if piece.spec.by_hand.is_some() { "settings" } else { "contents" };
    let Sizing { answers, break_points, refused } =
        size(&request).map_err(|error| (field, error.to_string()))?;
    let Some(answer) = answers.into_iter().next() else {
        let why: Vec<String> = refused.into_iter().map(|refusal| refusal.reason).collect();
        return Err((field, why.join(" ")));
    };
    let structure = Structure::new(answer.settings, &project.board, piece.paper.caliper)
        .map_err(|error| ("settings", error.to_string()))?;
    Ok(Sized {
        structure,
        pattern: answer.pattern,
        checks: answer.checks,
        per_sheet: answer.per_sheet,
        best_sheet: Some((answer.sheet, answer.sheets_for_all)),
        break_points,
    })
}

/// Outside of the closed piece. An envelope lies flat and is as thick as its layers.
fn outside(structure: &Structure, piece: &PieceFacts) -> BoxOutside {
    let caliper = piece.paper.caliper;
    match structure {
        Structure::Box(made) => BoxOutside::of_creases(
            made.width_mm(),
            made.depth_mm() + 2.0 * caliper.mm(),
            made.length_mm(),
            caliper,
        ),
        Structure::Envelope(made) => BoxOutside::of_creases(
            made.width_mm(),
            piece.spec.contents.thickness_mm() + 3.0 * caliper.mm(),
            made.height_mm(),
            caliper,
        ),
    }
}

fn band(project: &ProjectFacts, piece: &PieceFacts, around: BoxOutside) -> Result<Option<Band>, String> {
    let Some(spec) = &piece.spec.band else { return Ok(None) };
    let notch = spec.notch.map(FingerNotch::half_of).transpose().map_err(|error| error.to_string())?;
    let request = BandRequest {
        around,
        overlap: spec.overlap,
        reveal: spec.reveal,
        caliper: piece.paper.caliper,
        notch,
    };
    Band::round(&request, project.trimmer.ruler(), &project.score_ruler)
        .map(Some)
        .map_err(|error| error.to_string())
}

fn ribbon(spec: &RibbonSpec, around: BoxOutside, project: &ProjectFacts) -> Result<Ribbon, String> {
    let ruler = project.trimmer.ruler();
    // Up to the ruler's step: a ribbon a hair too long still ties.
    let up = |mm: f64| {
        let step = ruler.step().nm().max(1);
        tablefold_geometry::Length::from_nm(((mm * 1e6 / step as f64).ceil() as i64) * step)
    };
    let run = match spec.style {
        RibbonStyle::Bow => RibbonRun::BowOnly,
        RibbonStyle::Wrap => RibbonRun::Wrap {
            girth: up(2.0 * (around.width_mm + around.depth_mm)),
            overlap: tablefold_geometry::Length::ZERO,
        },
        RibbonStyle::Cross => RibbonRun::Cross {
            length: up(around.length_mm),
            width: up(around.width_mm),
            height: up(around.depth_mm),
        },
    };
    Ribbon::new(run, Some(spec.bow)).map_err(|error| error.to_string())
}
