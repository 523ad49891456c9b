//! Setting up an empty bench in one form: the usual tools and up to 3 papers.

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use tablefold_geometry::{Length, PunchBoard, Ruler, Unit};

use super::more_papers::MorePapers;
use super::paper_form::PaperForm;
use super::show::StartPage;
use super::tool_form::{capital, usual_params};
use crate::app::App;
use crate::error::PageResult;
use crate::forms::FormErrors;
use crate::pages::extract::{ProtectedForm, SignedIn};
use crate::pages::{Page, see_other};
use crate::recipe::ToolKind;
use crate::store::bench::{self, BenchTool, ToolParams};
use crate::store::project_facts::Bench;
use crate::urls;
use crate::workshop::BroughtBy;

/// What was typed.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct StartForm {
    pub(super) unit: String,
    pub(super) notch_depth: String,
    pub(super) no_board: Option<String>,
    pub(super) step: String,
    #[serde(flatten)]
    pub(super) paper: PaperForm,
    #[serde(flatten)]
    pub(super) more: MorePapers,
}

impl Default for StartForm {
    fn default() -> Self {
        Self {
            unit: "in".to_owned(),
            notch_depth: String::new(),
            no_board: None,
            step: String::new(),
            paper: PaperForm::empty(Unit::Inch),
            more: MorePapers::default(),
        }
    }
}

/// The usual tools: how many, and who brings them. A starting point to be edited.
const USUAL: [(ToolKind, u32, BroughtBy); 9] = [
    (ToolKind::PunchBoard, 2, BroughtBy::Instructor),
    (ToolKind::Trimmer, 1, BroughtBy::Instructor),
    (ToolKind::ScoreBoard, 1, BroughtBy::Instructor),
    (ToolKind::Scissors, 1, BroughtBy::Attendee),
    (ToolKind::BoneFolder, 4, BroughtBy::Instructor),
    (ToolKind::Tape, 4, BroughtBy::Instructor),
    (ToolKind::Glue, 2, BroughtBy::Instructor),
    (ToolKind::ShapePunch, 1, BroughtBy::Instructor),
    (ToolKind::HolePunch, 2, BroughtBy::Instructor),
];

impl StartForm {
    fn tools(&self, errors: &mut FormErrors) -> Option<(Unit, Vec<BenchTool>)> {
        let units = [("in", Unit::Inch), ("mm", Unit::Millimetre)];
        let unit = errors.choice("unit", "You measure in", &self.unit, &units);
        let default_unit = unit.unwrap_or(Unit::Inch);
        let notch = errors.optional_size(
            "notch_depth",
            "Notch depth of your punch board",
            &self.notch_depth,
            default_unit,
        );
        let step = errors.optional_size(
            "step",
            "Your trimmer has a mark every",
            &self.step,
            default_unit,
        );
        let unit = unit?;
        let board = match usual_params(ToolKind::PunchBoard, unit) {
            ToolParams::Board(board) => {
                PunchBoard::new(notch?.unwrap_or(usual_notch(unit)), *board.ruler())
                    .map_err(|error| error.text(board.ruler()))
            }
            _ => return None,
        };
        let board = errors.keep("notch_depth", "Notch depth of your punch board", board)?;
        let ruler = trimmer_ruler(unit, step?);
        let ruler = errors.keep("step", "Your trimmer has a mark every", ruler)?;
        let has = |kind: ToolKind| self.no_board.is_none() || kind != ToolKind::PunchBoard;
        let usual = USUAL.into_iter().filter(|(kind, ..)| has(*kind));
        let tools = usual.map(|(kind, count, brought_by)| BenchTool {
            kind,
            name: capital(kind.name()),
            count,
            brought_by,
            params: match kind {
                ToolKind::PunchBoard => ToolParams::Board(board),
                ToolKind::Trimmer => ToolParams::Ruled(ruler),
                kind => usual_params(kind, unit),
            },
        });
        Some((unit, tools.collect()))
    }
}

/// Common practice, no source: 1/4 in, and as metric boards say it, 6 mm.
const fn usual_notch(unit: Unit) -> Length {
    match unit {
        Unit::Inch | Unit::Foot => Length::from_nm(6_350_000),
        _ => Length::from_nm(6_000_000),
    }
}

fn trimmer_ruler(unit: Unit, step: Option<Length>) -> Result<Ruler, String> {
    let usual = if unit == Unit::Inch {
        Ruler::inch(16)
    } else {
        Ruler::millimetre()
    };
    let step = step.unwrap_or(usual.step());
    let ruler = Ruler::new(unit, step, usual.shortest(), usual.longest());
    ruler.map_err(|error| error.text(&usual))
}

pub(super) async fn create_bench(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<StartForm>,
) -> PageResult<Response> {
    let mut errors = FormErrors::default();
    let tools = form.tools(&mut errors);
    let unit = tools.as_ref().map_or(Unit::Inch, |(unit, _)| *unit);
    let currency = app.config().currency;
    let paper = form.paper.read(unit, currency, &mut errors);
    let more = form.more.read(&form.paper, (unit, currency), &mut errors);
    let (Some((_, tools)), Some(paper), Some(more)) = (tools, paper, more) else {
        return Ok(Page::invalid(StartPage::new(form, errors)).into_response());
    };
    let mut change = app.store().change().await?;
    // Sent twice, by a double click: the bench is there, so show it.
    if Bench::read(&mut change).await?.is_empty() {
        for tool in &tools {
            bench::insert_tool(&mut *change, tool).await?;
        }
        for paper in std::iter::once(&paper).chain(&more) {
            bench::insert_paper(&mut *change, paper).await?;
        }
        change.commit().await?;
    }
    Ok(see_other(&urls::bench()))
}
