//! Addresses of projects, their pieces and steps.

/// GET: all projects. POST: a new one.
#[must_use]
pub fn projects() -> String {
    PROJECTS.to_owned()
}

/// Pattern of [`projects`].
pub const PROJECTS: &str = "/projects";

/// GET: the form for a new project.
#[must_use]
pub fn new_project() -> String {
    NEW_PROJECT.to_owned()
}

/// Pattern of [`new_project`].
pub const NEW_PROJECT: &str = "/projects/new";

/// GET: one project.
#[must_use]
pub fn project(project: i64) -> String {
    format!("/projects/{project}")
}

/// The same, which says that a piece was saved without some of its parts.
#[must_use]
pub fn project_without(id: i64, parts: &[&str]) -> String {
    match parts {
        [] => project(id),
        parts => format!("{}?without={}", project(id), parts.join(",")),
    }
}

/// GET: all measures of a project on one page, to print.
#[must_use]
pub fn project_sheet(id: i64) -> String {
    format!("/projects/{id}/sheet")
}

/// Pattern of [`project_sheet`].
pub const PROJECT_SHEET: &str = "/projects/{id}/sheet";

/// Pattern of [`project`].
pub const PROJECT: &str = "/projects/{project}";

/// GET, POST: edit a project's own facts.
#[must_use]
pub fn edit_project(project: i64) -> String {
    format!("/projects/{project}/edit")
}

/// Pattern of [`edit_project`].
pub const EDIT_PROJECT: &str = "/projects/{project}/edit";

/// GET, POST: remove a project.
#[must_use]
pub fn remove_project(project: i64) -> String {
    format!("/projects/{project}/remove")
}

/// Pattern of [`remove_project`].
pub const REMOVE_PROJECT: &str = "/projects/{project}/remove";

/// POST: a new piece.
#[must_use]
pub fn pieces(project: i64) -> String {
    format!("/projects/{project}/pieces")
}

/// Pattern of [`pieces`].
pub const PIECES: &str = "/projects/{project}/pieces";

/// GET: the form for a new piece.
#[must_use]
pub fn new_piece(project: i64) -> String {
    format!("/projects/{project}/pieces/new")
}

/// Pattern of [`new_piece`].
pub const NEW_PIECE: &str = "/projects/{project}/pieces/new";

/// GET, POST: edit one piece.
#[must_use]
pub fn piece(project: i64, piece: i64) -> String {
    format!("/projects/{project}/pieces/{piece}")
}

/// Pattern of [`piece`].
pub const PIECE: &str = "/projects/{project}/pieces/{piece}";

/// POST: every structure for what was typed about a new project's piece; GET: its form.
#[must_use]
pub fn choose_for_project() -> String {
    CHOOSE_FOR_PROJECT.to_owned()
}

/// Pattern of [`choose_for_project`].
pub const CHOOSE_FOR_PROJECT: &str = "/projects/new/structures";

/// POST: every structure for what was typed about a new piece; GET: its form.
#[must_use]
pub fn choose_for_new_piece(project: i64) -> String {
    format!("/projects/{project}/pieces/new/structures")
}

/// Pattern of [`choose_for_new_piece`].
pub const CHOOSE_FOR_NEW_PIECE: &str = "/projects/{project}/pieces/new/structures";

/// GET: every structure for a stored piece; POST: for what was typed about it.
#[must_use]
pub fn choose_for_piece(project: i64, piece: i64) -> String {
    format!("/projects/{project}/pieces/{piece}/structures")
}

/// Pattern of [`choose_for_piece`].
pub const CHOOSE_FOR_PIECE: &str = "/projects/{project}/pieces/{piece}/structures";

/// POST: add the punch-board envelope for a card.
#[must_use]
pub fn piece_envelope(project: i64, piece: i64) -> String {
    format!("/projects/{project}/pieces/{piece}/envelope")
}

/// Pattern of [`piece_envelope`].
pub const PIECE_ENVELOPE: &str = "/projects/{project}/pieces/{piece}/envelope";

/// POST: move a piece up or down.
#[must_use]
pub fn move_piece(project: i64, piece: i64) -> String {
    format!("/projects/{project}/pieces/{piece}/move")
}

/// Pattern of [`move_piece`].
pub const MOVE_PIECE: &str = "/projects/{project}/pieces/{piece}/move";

/// GET, POST: remove a piece.
#[must_use]
pub fn remove_piece(project: i64, piece: i64) -> String {
    format!("/projects/{project}/pieces/{piece}/remove")
}

/// Pattern of [`remove_piece`].
pub const REMOVE_PIECE: &str = "/projects/{project}/pieces/{piece}/remove";

/// GET: the pattern of one body of a piece, the main one is 0, at true size.
#[must_use]
pub fn pattern_svg(project: i64, piece: i64, body: usize) -> String {
    format!(
        "/projects/{project}/pieces/{piece}/pattern.svg{}",
        of_body(body)
    )
}

fn of_body(body: usize) -> String {
    if body == 0 {
        return String::new();
    }
    format!("?body={body}")
}

/// Pattern of [`pattern_svg`].
pub const PATTERN_SVG: &str = "/projects/{project}/pieces/{piece}/pattern.svg";

/// GET: the pattern of one body of a piece, for programs that fold.
#[must_use]
pub fn pattern_fold(project: i64, piece: i64, body: usize) -> String {
    format!(
        "/projects/{project}/pieces/{piece}/pattern.fold{}",
        of_body(body)
    )
}

/// Pattern of [`pattern_fold`].
pub const PATTERN_FOLD: &str = "/projects/{project}/pieces/{piece}/pattern.fold";

/// GET: the pattern of one body of a piece, for a cutting machine.
#[must_use]
pub fn pattern_cutter(project: i64, piece: i64, body: usize) -> String {
    format!(
        "/projects/{project}/pieces/{piece}/cutter.svg{}",
        of_body(body)
    )
}

/// Pattern of [`pattern_cutter`].
pub const PATTERN_CUTTER: &str = "/projects/{project}/pieces/{piece}/cutter.svg";

/// GET: every template of a piece at true size; `?paper=` a4, letter or sheet, `&lines=` together
/// or apart.
#[must_use]
pub fn piece_templates(project: i64, piece: i64, paper: &str) -> String {
    format!("/projects/{project}/pieces/{piece}/templates.pdf?paper={paper}")
}

/// Pattern of [`piece_templates`].
pub const PIECE_TEMPLATES: &str = "/projects/{project}/pieces/{piece}/templates.pdf";

/// GET: every template of a project at true size; asked as [`piece_templates`] is.
#[must_use]
pub fn project_templates(project: i64) -> String {
    format!("/projects/{project}/templates.pdf")
}

/// Pattern of [`project_templates`].
pub const PROJECT_TEMPLATES: &str = "/projects/{project}/templates.pdf";

/// POST: a step of the instructor's own.
#[must_use]
pub fn steps(project: i64) -> String {
    format!("/projects/{project}/steps")
}

/// Pattern of [`steps`].
pub const STEPS: &str = "/projects/{project}/steps";

/// GET: the form for a step of the instructor's own.
#[must_use]
pub fn new_step(project: i64) -> String {
    format!("/projects/{project}/steps/new")
}

/// Pattern of [`new_step`].
pub const NEW_STEP: &str = "/projects/{project}/steps/new";

/// GET, POST: edit one step.
#[must_use]
pub fn step(project: i64, key: &str) -> String {
    format!("/projects/{project}/steps/{key}")
}

/// Pattern of [`step`].
pub const STEP: &str = "/projects/{project}/steps/{key}";

/// POST: move a step up or down.
#[must_use]
pub fn move_step(project: i64, key: &str) -> String {
    format!("/projects/{project}/steps/{key}/move")
}

/// Pattern of [`move_step`].
pub const MOVE_STEP: &str = "/projects/{project}/steps/{key}/move";

/// POST: put a step back to the default wording, or remove an own step.
#[must_use]
pub fn reset_step(project: i64, key: &str) -> String {
    format!("/projects/{project}/steps/{key}/reset")
}

/// Pattern of [`reset_step`].
pub const RESET_STEP: &str = "/projects/{project}/steps/{key}/reset";
