//! `tablefold size`: from contents to settings, JSON in, JSON out.

use std::collections::BTreeMap;

use serde::Serialize;
use tablefold_geometry::{
    Answer, BreakPoint, Length, Refusal, RefusalReason, Ruler, Sizing, SizingRequest, size,
};

use super::CommandError;
use super::json::{Object, parse, wrong};
use super::request::{FIELDS, PRICE_PARTS, read_request};

/// Answers a request; the answer ends with a line break.
///
/// # Errors
/// One line that names the field, quotes the value and says what would do.
pub fn size_command(text: &str) -> Result<String, CommandError> {
    let value = parse(text)?;
    let request = read_request(&Object::root(&value, &FIELDS)?)?;
    let sizing = sized(&request)?;
    let shown = SizeOutput::new(&request, &sizing);
    let json = serde_json::to_string_pretty(&shown);
    let json =
        json.map_err(|error| CommandError(format!("The answer cannot be written: {error}")))?;
    Ok(json + "\n")
}

/// What sizing finds; nothing found is an error with every reason.
pub(super) fn sized(request: &SizingRequest) -> Result<Sizing, CommandError> {
    let sizing = size(request).map_err(|error| wrong(&error.field, &error))?;
    if !sizing.answers.is_empty() {
        return Ok(sizing);
    }
    let field = sizing.refused.last().map_or("contents", in_the_way);
    let reasons: Vec<_> = sizing.refused.iter().map(ToString::to_string).collect();
    Err(wrong(field, reasons.join(" ")))
}

/// The field that stands in the way.
fn in_the_way(refusal: &Refusal) -> &'static str {
    match refusal.reason {
        RefusalReason::TooThick { .. } | RefusalReason::TooLarge { .. } => "contents",
        RefusalReason::Sheet { .. } => "sheets",
        RefusalReason::Board { .. } => "board.longest",
        RefusalReason::Trimmer { .. } => "trimmer",
        RefusalReason::DoesNotFold { .. } => "structure",
    }
}

/// A length as every command writes it.
#[derive(Serialize)]
pub(super) struct Measure {
    text: String,
    mm: f64,
}

impl Measure {
    pub(super) fn new(ruler: &Ruler, length: Length) -> Self {
        Self {
            text: ruler.text(length),
            mm: length.mm(),
        }
    }

    /// A derived measure, to the nanometre.
    pub(super) fn derived(ruler: &Ruler, mm: f64) -> Self {
        Self {
            text: ruler.text_mm(mm),
            mm: (mm * 1e6).round() / 1e6,
        }
    }
}

#[derive(Serialize)]
struct SizeOutput {
    answers: Vec<AnswerOutput>,
    break_points: Vec<BreakPointOutput>,
    refused: Vec<RefusedOutput>,
}

#[derive(Serialize)]
struct AnswerOutput {
    structure: &'static str,
    blank: Blank,
    settings: Vec<Setting>,
    inside: Axes<Measure>,
    axes: Axes<&'static str>,
    per_sheet: BTreeMap<String, u32>,
    sheets_for_all: u32,
    sheet: String,
    cost: Option<f64>,
    looseness: Measure,
    checks: Vec<CheckOutput>,
}

#[derive(Serialize)]
struct Blank {
    width: Measure,
    height: Measure,
}

#[derive(Serialize)]
struct Setting {
    name: &'static str,
    at: Measure,
}

/// Width of the front, front to back, and height of the front.
#[derive(Serialize)]
struct Axes<T> {
    width: T,
    depth: T,
    height: T,
}

#[derive(Serialize)]
struct CheckOutput {
    check: &'static str,
    holds: bool,
    margin: f64,
    unit: &'static str,
}

#[derive(Serialize)]
struct BreakPointOutput {
    structure: &'static str,
    clearance: Measure,
    sheet: String,
    per_sheet: u32,
    saves: i64,
    text: String,
}

#[derive(Serialize)]
struct RefusedOutput {
    structure: &'static str,
    reason: String,
}

impl SizeOutput {
    fn new(request: &SizingRequest, sizing: &Sizing) -> Self {
        let ruler = request.board.ruler();
        let answers = sizing.answers.iter();
        let points = sizing.break_points.iter();
        let refused = sizing.refused.iter().map(|refusal| RefusedOutput {
            structure: refusal.structure.slug(),
            reason: refusal.to_string(),
        });
        Self {
            answers: answers
                .map(|answer| AnswerOutput::new(request, answer))
                .collect(),
            break_points: points
                .map(|point| BreakPointOutput::new(ruler, point))
                .collect(),
            refused: refused.collect(),
        }
    }
}

impl AnswerOutput {
    fn new(request: &SizingRequest, answer: &Answer) -> Self {
        let (ruler, trimmer) = (request.board.ruler(), request.trimmer.ruler());
        // The sheet is cut on the trimmer; what is punched is set on the board.
        let setting = |(name, at): (&'static str, Length)| Setting {
            name,
            at: Measure::new(if name == "sheet" { trimmer } else { ruler }, at),
        };
        let checks = answer.checks.iter().map(|check| CheckOutput {
            check: check.name,
            holds: check.holds,
            margin: check.margin,
            unit: check.unit,
        });
        Self {
            structure: answer.kind().slug(),
            blank: Blank {
                width: Measure::new(trimmer, answer.blank.0),
                height: Measure::new(trimmer, answer.blank.1),
            },
            settings: answer.settings.list().into_iter().map(setting).collect(),
            inside: Axes {
                width: Measure::derived(ruler, answer.inside.width),
                depth: Measure::derived(ruler, answer.inside.depth),
                height: Measure::derived(ruler, answer.inside.length),
            },
            axes: Axes {
                width: answer.axes.width,
                depth: answer.axes.depth,
                height: answer.axes.length,
            },
            per_sheet: answer.per_sheet.iter().cloned().collect(),
            sheets_for_all: answer.sheets_for_all,
            sheet: answer.sheet.clone(),
            cost: answer.cost.map(|parts| parts as f64 / PRICE_PARTS),
            looseness: Measure::derived(ruler, answer.looseness_mm),
            checks: checks.collect(),
        }
    }
}

impl BreakPointOutput {
    fn new(ruler: &Ruler, point: &BreakPoint) -> Self {
        Self {
            structure: point.structure.slug(),
            clearance: Measure::new(ruler, point.clearance),
            sheet: point.sheet.clone(),
            per_sheet: point.per_sheet,
            saves: point.saves,
            text: point.text.clone(),
        }
    }
}
