//! A piece made to measure: from what was asked to settings, a pattern, and its checks.

use tablefold_geometry::{
    AxisMap, Band, BandError, BandRequest, BoxOutside, BreakPoint, Check, Contents, FingerNotch,
    Fit, Length, Pattern, Refusal, RefusalReason, Ribbon, RibbonRun, Serves, Sizing, SizingError,
    SizingRequest, Solid, Structure, StructureError, StructureKind, Tools, Vec3, sheet_mass_g,
    signed_area, size,
};

use super::by_hand;
use super::caution::Caution;
use super::facts::{PieceFacts, ProjectFacts, RibbonSpec, RibbonStyle};
use super::mats::{self, MadeMat};

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
    /// Which axis of the contents lies where.
    pub axes: AxisMap,
    /// The closed piece on the outside.
    pub outside: BoxOutside,
    /// The mats on the front of a card, the first on the card itself.
    pub mats: Vec<MadeMat>,
    /// The band, if it has one.
    pub band: Option<Band>,
    /// The ribbon, if it has one.
    pub ribbon: Option<Ribbon>,
    /// What the contents make it wise to say.
    pub cautions: Vec<Caution>,
}

impl MadePiece {
    /// What its paper weighs, g, all of it of so many g/m²: bodies without what is cut off, mats.
    #[must_use]
    pub fn paper_grams(&self, gsm: f64) -> f64 {
        let panels = self.structure.bodies().flat_map(|it| &it.pattern.panels);
        let bodies: f64 = panels.map(|it| signed_area(&it.outline)).sum();
        let mats = self.mats.iter().map(|mat| {
            let (width, height) = mat.shape.size();
            sheet_mass_g(width, height, gsm)
        });
        bodies * gsm / 1e6 + mats.sum::<f64>()
    }
}

/// Why a piece can't be made as asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipeProblem {
    /// The piece's name.
    pub piece: String,
    /// The field to mark: "contents" or one of its measures, "structure", "clearance", "paper", "settings",
    /// "window", "mats", "band", "band_reveal", "band_notch", "tag" or "ribbon".
    pub field: &'static str,
    /// What is wrong and what would do.
    pub message: String,
}

/// Makes one piece.
///
/// # Errors
/// [`RecipeProblem`] names the field that is the cause.
pub fn make(project: &ProjectFacts, piece: &PieceFacts) -> Result<MadePiece, RecipeProblem> {
    let problem = |field, message: String| RecipeProblem {
        piece: piece.name.clone(),
        field,
        message,
    };
    let sized = sized(project, piece).map_err(|(field, message)| problem(field, message))?;
    let Sized {
        structure,
        pattern,
        checks,
        axes,
        per_sheet,
        best_sheet,
        break_points,
    } = sized;
    let outside = outside(&structure, piece);
    goes_round(&structure, piece).map_err(|(field, message)| problem(field, message))?;
    let mats = piece.spec.mats.as_ref();
    let mats = mats::made(&structure, mats, project.trimmer.ruler());
    let mats = mats.map_err(|message| problem("mats", message))?;
    let band = band(project, piece, outside);
    let band = band.map_err(|(field, message)| problem(field, message))?;
    let ribbon = piece
        .spec
        .ribbon
        .as_ref()
        .map(|spec| ribbon(spec, outside, project));
    let ribbon = ribbon
        .transpose()
        .map_err(|error| problem("ribbon", error))?;
    let mut cautions: Vec<Caution> = piece
        .spec
        .hazards
        .iter()
        .map(|&hazard| Caution::of_hazard(hazard))
        .collect();
    if ribbon.is_some() {
        cautions.push(Caution::Cord);
    }
    Ok(MadePiece {
        id: piece.id,
        name: piece.name.clone(),
        structure,
        pattern,
        checks,
        axes,
        per_sheet,
        best_sheet,
        break_points,
        outside,
        mats,
        band,
        ribbon,
        cautions,
    })
}

/// What sizing gives, or what settings chosen by hand give.
pub(super) struct Sized {
    pub(super) structure: Structure,
    pub(super) pattern: Pattern,
    pub(super) checks: Vec<Check>,
    pub(super) axes: AxisMap,
    pub(super) per_sheet: Vec<(String, u32)>,
    pub(super) best_sheet: Option<(String, u32)>,
    pub(super) break_points: Vec<BreakPoint>,
}

/// The field to mark, and what is wrong.
pub(super) type Wrong = (&'static str, String);

/// What is asked of sizing for a piece; no structure tries all.
#[must_use]
pub fn request(
    project: &ProjectFacts,
    piece: &PieceFacts,
    structure: Option<StructureKind>,
) -> SizingRequest {
    SizingRequest {
        contents: piece.spec.contents,
        structure,
        clearance: piece.spec.clearance,
        fit: Fit {
            stuck_on: mats::thickness(piece),
            ..piece.spec.fit
        },
        caliper: piece.paper.caliper,
        tools: Tools {
            punch_board: project.has_punch_board.then_some(project.board),
            score: project.has_score_board.then_some(project.score_ruler),
            ..Tools::new(project.board, project.score_ruler, &project.trimmer)
        },
        sheets: piece.sheets.clone(),
        makes: project.makes,
    }
}

/// A question that makes no sense, by the field of the form that is wrong.
pub(super) fn wrong_request(piece: &PieceFacts, error: &SizingError) -> RecipeProblem {
    RecipeProblem {
        piece: piece.name.clone(),
        field: field_of(error),
        message: error.to_string(),
    }
}

fn field_of(error: &SizingError) -> &'static str {
    if error.field == "caliper" || error.field.starts_with("sheets") {
        "paper"
    } else {
        "contents"
    }
}

fn sized(project: &ProjectFacts, piece: &PieceFacts) -> Result<Sized, Wrong> {
    let request = request(project, piece, Some(piece.spec.structure));
    match piece.spec.by_hand {
        Some(settings) => by_hand::sized(&request, settings),
        None => computed(&request),
    }
}

fn computed(request: &SizingRequest) -> Result<Sized, Wrong> {
    let Sizing {
        answers,
        break_points,
        refused,
    } = size(request).map_err(|error| (field_of(&error), error.to_string()))?;
    let Some(answer) = answers.into_iter().next() else {
        return Err(refusal(request, &refused));
    };
    Ok(Sized {
        pattern: answer.structure.pattern().clone(),
        structure: answer.structure,
        checks: answer.checks,
        axes: answer.axes,
        per_sheet: answer.per_sheet,
        best_sheet: Some((answer.sheet, answer.sheets_for_all)),
        break_points,
    })
}

/// The field to mark for a refusal, and its words.
fn refusal(request: &SizingRequest, refused: &[Refusal]) -> Wrong {
    let why: Vec<String> = refused.iter().map(ToString::to_string).collect();
    let why = why.join(" ");
    let Some(first) = refused.first() else {
        return ("contents", why);
    };
    match &first.reason {
        RefusalReason::NoOpening { what } => (what, why),
        RefusalReason::Cannot(error) if is_opening(request, error) => (error.field(), why),
        RefusalReason::TooThick {
            thinnest, thickest, ..
        } => too_thick(&request.contents, (*thinnest, *thickest), why),
        RefusalReason::DoesNotFold { .. } => ("contents", why),
        _ if first.less_clearance => ("clearance", why),
        _ => ("contents", why),
    }
}

/// Whether an opening, such as a window, is what is wrong: it has a field of its own.
pub(super) fn is_opening(request: &SizingRequest, error: &StructureError) -> bool {
    let opening = request.structure.and_then(StructureKind::opening);
    opening.is_some_and(|opening| opening.field.key == error.field())
}

/// Which field makes the contents too thick; of a stack, how many would fit.
fn too_thick(contents: &Contents, (thinnest, thickest): (Length, Length), why: String) -> Wrong {
    let axes = contents.axes().unwrap_or_default();
    let axis = axes.iter().find(|(_, extent)| *extent == thinnest);
    let axis = axis.map_or("contents", |(name, _)| name);
    match *contents {
        Contents::Stack { each_thickness, .. } if axis == "thickness" => {
            match thickest.nm() / each_thickness.nm().max(1) {
                0 => ("each_thickness", why),
                fit => ("count", format!("{why} Or stack at most {fit}.")),
            }
        }
        _ => (axis, why),
    }
}

/// Outside of the closed piece. An envelope lies flat and is as thick as its layers.
fn outside(structure: &Structure, piece: &PieceFacts) -> BoxOutside {
    let outside = structure.outside();
    let thickness = match structure.kind().has_depth() {
        true => 0.0,
        false => thickness_mm(piece) + mats::thickness(piece).mm(),
    };
    BoxOutside {
        width_mm: outside.width,
        depth_mm: outside.depth + thickness,
        length_mm: outside.length,
    }
}

/// The thinnest side of the contents, mm.
fn thickness_mm(piece: &PieceFacts) -> f64 {
    let axes = piece.spec.contents.axes();
    axes.map_or(0.0, |axes| {
        axes.map(|(_, extent)| extent.mm())
            .into_iter()
            .fold(f64::MAX, f64::min)
    })
}

/// Whether what is to go round the piece can: bands and ties hold on blocks and on what lies flat.
fn goes_round(structure: &Structure, piece: &PieceFacts) -> Result<(), Wrong> {
    let kind = structure.kind();
    if kind.serves() != Serves::Cards && is_block(&structure.pattern().solid) {
        return Ok(());
    }
    let ties = |spec: &RibbonSpec| spec.style != RibbonStyle::Bow;
    if piece.spec.band.is_some() {
        return Err((
            "band",
            format!(
                "A band goes round a block, and the {} is none. Leave the band out, or choose \
                 another structure.",
                kind.name()
            ),
        ));
    }
    if piece.spec.ribbon.as_ref().is_some_and(ties) {
        return Err((
            "ribbon",
            format!(
                "A ribbon round it needs a block, and the {} is none. Choose a small bow that is \
                 stuck on, or no ribbon.",
                kind.name()
            ),
        ));
    }
    Ok(())
}

/// A box, something flat, or faces that all look along an axis.
fn is_block(solid: &Solid) -> bool {
    let Solid::Faces(faces) = solid else {
        return true;
    };
    faces.iter().all(|face| {
        let flat = |axis: fn(&Vec3) -> f64| {
            let mut along = face.corners.iter().map(axis);
            let first = along.next().unwrap_or_default();
            along.all(|at| (at - first).abs() < 1e-6)
        };
        flat(|p| p.x) || flat(|p| p.y) || flat(|p| p.z)
    })
}

fn band(
    project: &ProjectFacts,
    piece: &PieceFacts,
    around: BoxOutside,
) -> Result<Option<Band>, Wrong> {
    let Some(spec) = &piece.spec.band else {
        return Ok(None);
    };
    let ruler = project.board.ruler();
    let notch = spec.notch.map(FingerNotch::half_of).transpose();
    let notch = notch.map_err(|error| ("band_notch", error.text(ruler)))?;
    let request = BandRequest {
        around,
        overlap: spec.overlap,
        reveal: spec.reveal,
        caliper: piece.paper.caliper,
        notch,
    };
    let band = Band::round(&request, project.trimmer.ruler(), &project.score_ruler);
    band.map(Some).map_err(|error| {
        let field = match error {
            BandError::RevealTooLarge { .. } => "band_reveal",
            BandError::Notch(_) => "band_notch",
            _ => "band",
        };
        (field, error.text(ruler))
    })
}

fn ribbon(spec: &RibbonSpec, around: BoxOutside, project: &ProjectFacts) -> Result<Ribbon, String> {
    let ruler = project.trimmer.ruler();
    // Up to the ruler's step: a ribbon a hair too long still ties.
    let up = |mm: f64| {
        let step = ruler.step().nm().max(1);
        Length::from_nm(((mm * 1e6 / step as f64).ceil() as i64) * step)
    };
    let run = match spec.style {
        RibbonStyle::Bow => RibbonRun::BowOnly,
        RibbonStyle::Wrap => RibbonRun::Wrap {
            girth: up(2.0 * (around.width_mm + around.depth_mm)),
            overlap: Length::ZERO,
        },
        RibbonStyle::Cross => RibbonRun::Cross {
            length: up(around.length_mm),
            width: up(around.width_mm),
            height: up(around.depth_mm),
        },
    };
    Ribbon::new(run, Some(spec.bow)).map_err(|error| error.to_string())
}
