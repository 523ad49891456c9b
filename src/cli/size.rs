//! `tablefold size`: from contents to settings, JSON in, JSON out.

use std::collections::BTreeMap;

use serde::Serialize;
use tablefold_geometry::{
    Answer, BreakPoint, Length, Refusal, RefusalReason, Ruler, SetOn, SettingField, Sizing,
    SizingRequest, size,
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
        RefusalReason::TooThick { .. }
        | RefusalReason::TooLarge { .. }
        | RefusalReason::Cannot(_) => "contents",
        RefusalReason::NoTool {
            tool: SetOn::PunchBoard,
        } => "board",
        RefusalReason::NoTool { .. } => "score",
        RefusalReason::NoOpening { what } => what,
        RefusalReason::Sheet { .. } | RefusalReason::Blank { .. } => "sheets",
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
    blanks: Vec<BodyBlank>,
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

/// The blank of one body, and how many of it each sheet gives alone.
#[derive(Serialize)]
struct BodyBlank {
    body: &'static str,
    #[serde(flatten)]
    blank: Blank,
    per_sheet: BTreeMap<String, u32>,
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
    /// The size of the contents that it is about, if it is not the clearance.
    size: Option<SizeOfContents>,
    sheet: String,
    per_sheet: u32,
    saves: i64,
    text: String,
}

#[derive(Serialize)]
struct SizeOfContents {
    field: &'static str,
    to: Measure,
}

#[derive(Serialize)]
struct RefusedOutput {
    structure: &'static str,
    reason: String,
}

impl SizeOutput {
    fn new(request: &SizingRequest, sizing: &Sizing) -> Self {
        let ruler = request.tools.main_ruler();
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
        let (tools, ruler) = (&request.tools, request.tools.main_ruler());
        let setting = |(field, at): (&'static SettingField, Length)| Setting {
            name: field.name,
            at: Measure::new(tools.ruler(field.tool).unwrap_or(ruler), at),
        };
        let blank = |size: (Length, Length)| Blank {
            width: Measure::new(&tools.trimmer, size.0),
            height: Measure::new(&tools.trimmer, size.1),
        };
        let blanks = answer.blanks.iter().map(|it| BodyBlank {
            body: it.body,
            blank: blank(it.size),
            per_sheet: it.per_sheet.iter().cloned().collect(),
        });
        let checks = answer.checks.iter().map(|check| CheckOutput {
            check: check.name,
            holds: check.holds,
            margin: check.margin,
            unit: check.unit,
        });
        Self {
            structure: answer.kind().slug(),
            blank: blank(answer.blank()),
            blanks: blanks.collect(),
            settings: answer.settings.each().map(setting).collect(),
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
            size: point.size.map(|size| SizeOfContents {
                field: size.field,
                to: Measure::new(ruler, size.to),
            }),
            sheet: point.sheet.clone(),
            per_sheet: point.per_sheet,
            saves: point.saves,
            text: point.text.clone(),
        }
    }
}
