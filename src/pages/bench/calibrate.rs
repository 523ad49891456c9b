//! A punch board's notch depth, from a punched square.

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use tablefold_geometry::{BoardError, PunchBoard};

use super::tool_form::ToolForm;
use super::tools::{Calibration, ToolPage, find};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, length_text};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Page, see_other};
use crate::store::Update;
use crate::store::bench::{self, BenchTool, ToolParams};
use crate::urls;

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct CalibrationForm {
    version: String,
    square: String,
    small: String,
    #[serde(rename = "do")]
    action: String,
}

/// Works the notch depth out and shows it; saves it once the instructor says so.
pub(super) async fn calibrate(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<CalibrationForm>,
) -> PageResult<Response> {
    let saved = find(&app, id).await?;
    let board = saved.it.board().ok_or(PageError::NotFound)?;
    let mut errors = FormErrors::default();
    let calibrated = read(&form, &board, &mut errors);
    if let Some(board) = calibrated.filter(|_| form.action == "apply") {
        return apply(&app, (id, &form), &saved.it, board).await;
    }
    let mut page = ToolPage::stored(&saved, ToolForm::of(&saved.it, saved.version), errors);
    page.calibration = Calibration {
        square: form.square,
        small: form.small,
        depth: calibrated.map(|board| {
            let depth = board.notch_depth();
            (length_text(board.ruler(), depth), depth)
        }),
    };
    Ok(if calibrated.is_some() {
        Page::ok(page).into_response()
    } else {
        Page::invalid(page).into_response()
    })
}

fn read(form: &CalibrationForm, board: &PunchBoard, errors: &mut FormErrors) -> Option<PunchBoard> {
    let unit = board.ruler().unit();
    let square = errors.size("square", "Side of the square you cut", &form.square, unit);
    let small = errors.size("small", "Side of the small square", &form.small, unit);
    let ruler = board.ruler();
    let said = |error: BoardError| error.text(ruler);
    let depth = PunchBoard::calibrate(square?, small?).map_err(said);
    let depth = errors.keep("small", "Side of the small square", depth)?;
    let board = PunchBoard::new(depth, *ruler).map_err(said);
    errors.keep("small", "Notch depth", board)
}

async fn apply(
    app: &App,
    (id, form): (i64, &CalibrationForm),
    tool: &BenchTool,
    board: PunchBoard,
) -> PageResult<Response> {
    let tool = BenchTool {
        params: ToolParams::Board(board),
        ..tool.clone()
    };
    let version = form.version.parse().unwrap_or(0);
    let mut change = app.store().change().await?;
    if bench::update_tool(&mut *change, (id, version), &tool).await? == Update::Stale {
        return Err(PageError::bad_request(
            "This board was changed since you opened it, so the notch depth was not saved.",
            "Open the board again and calibrate it there.",
        ));
    }
    change.commit().await?;
    Ok(see_other(&urls::tool(id)))
}
