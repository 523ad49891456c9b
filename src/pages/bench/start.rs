//! Setting up an empty bench in one form: the usual tools and the first paper.

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use tablefold_geometry::{Length, PunchBoard, Ruler, Unit};

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
    pub(super) step: String,
    #[serde(flatten)]
    pub(super) paper: PaperForm,
}

impl Default for StartForm {
    fn default() -> Self {
        Self {
            unit: "in".to_owned(),
            notch_depth: "1/4 in".to_owned(),
            step: String::new(),
            paper: PaperForm::empty(Unit::Inch),
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
        let notch = errors.size(
            "notch_depth",
            "Notch depth",
            &self.notch_depth,
            default_unit,
        );
        let step = errors.optional_size("step", "Marks on your trimmer", &self.step, default_unit);
        let unit = unit?;
        let board = match usual_params(ToolKind::PunchBoard, unit) {
            ToolParams::Board(board) => PunchBoard::new(notch?, *board.ruler()),
            _ => return None,
        };
        let board = errors.keep("notch_depth", "Notch depth", board)?;
        let ruler = trimmer_ruler(unit, step?);
        let ruler = errors.keep("step", "Marks on your trimmer", ruler)?;
        let tools = USUAL.map(|(kind, count, brought_by)| BenchTool {
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
        Some((unit, tools.to_vec()))
    }
}

fn trimmer_ruler(
    unit: Unit,
    step: Option<Length>,
) -> Result<Ruler, tablefold_geometry::RulerError> {
    let usual = if unit == Unit::Inch {
        Ruler::inch(16)
    } else {
        Ruler::millimetre()
    };
    let step = step.unwrap_or(usual.step());
    Ruler::new(unit, step, usual.shortest(), usual.longest())
}

pub(super) async fn create_bench(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<StartForm>,
) -> PageResult<Response> {
    let mut errors = FormErrors::default();
    let tools = form.tools(&mut errors);
    let unit = tools.as_ref().map_or(Unit::Inch, |(unit, _)| *unit);
    let paper = form.paper.read(unit, app.config().currency, &mut errors);
    let (Some((_, tools)), Some(paper)) = (tools, paper) else {
        return Ok(Page::invalid(StartPage::new(form, errors)).into_response());
    };
    let mut change = app.store().change().await?;
    // Sent twice, by a double click: the bench is there, so show it.
    if Bench::read(&mut change).await?.is_empty() {
        for tool in &tools {
            bench::insert_tool(&mut *change, tool).await?;
        }
        bench::insert_paper(&mut *change, &paper).await?;
        change.commit().await?;
    }
    Ok(see_other(&urls::bench()))
}
