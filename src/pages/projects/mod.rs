//! Projects: pieces made to measure, their parts and their steps.

mod adapt;
mod break_button;
mod choose;
mod choose_page;
mod contents_fields;
mod downloads;
mod edit;
mod envelope;
mod fit_fields;
mod hand_fields;
mod list;
mod makers_fields;
mod mats_fields;
mod new;
mod new_supplies;
mod order;
mod piece_form;
mod piece_page;
mod piece_view;
mod pieces;
mod post_view;
mod project_form;
mod sheet;
mod show;
mod step_form;
mod step_page;
mod steps;
mod supply_fields;
mod templates;
mod tolerance_view;
mod trimming_fields;

use axum::Router;
use axum::routing::{get, post};

use crate::app::App;
use crate::urls;

pub(in crate::pages) use downloads::file;
pub(crate) use list::{MOST_PORTRAITS, ProjectCard, cards};
pub(crate) use post_view::Offer;
pub(crate) use tolerance_view::Advice;

/// Routes of this area.
pub fn router() -> Router<App> {
    Router::new()
        .route(
            urls::PROJECTS,
            get(list::list_projects).post(new::create_project),
        )
        .route(urls::NEW_PROJECT, get(new::new_project))
        .route(urls::PROJECT, get(show::show_project))
        .route(urls::PROJECT_SHEET, get(sheet::show_sheet))
        .route(
            urls::EDIT_PROJECT,
            get(edit::edit_project).post(edit::update_project),
        )
        .route(
            urls::REMOVE_PROJECT,
            get(edit::ask_remove_project).post(edit::delete_project),
        )
        .route(urls::NEW_PIECE, get(pieces::new_piece))
        .route(urls::PIECES, post(pieces::create_piece))
        .route(
            urls::PIECE,
            get(pieces::edit_piece).post(pieces::update_piece),
        )
        .route(urls::PIECE_ENVELOPE, post(envelope::create_envelope))
        .route(urls::MOVE_PIECE, post(pieces::move_piece))
        .route(
            urls::REMOVE_PIECE,
            get(pieces::ask_remove_piece).post(pieces::delete_piece),
        )
        .route(
            urls::CHOOSE_FOR_PROJECT,
            get(choose::back_to_project).post(choose::choose_for_project),
        )
        .route(
            urls::CHOOSE_FOR_NEW_PIECE,
            get(choose::back_to_new_piece).post(choose::choose_for_new_piece),
        )
        .route(
            urls::CHOOSE_FOR_PIECE,
            get(choose::show_for_piece).post(choose::choose_for_piece),
        )
        .route(urls::PATTERN_SVG, get(downloads::show_svg))
        .route(urls::PATTERN_FOLD, get(downloads::show_fold))
        .route(urls::PATTERN_CUTTER, get(downloads::show_cutter))
        .route(urls::PIECE_TEMPLATES, get(templates::show_of_piece))
        .route(urls::PROJECT_TEMPLATES, get(templates::show_of_project))
        .route(urls::NEW_STEP, get(steps::new_step))
        .route(urls::STEPS, post(steps::create_step))
        .route(urls::STEP, get(steps::edit_step).post(steps::update_step))
        .route(urls::MOVE_STEP, post(steps::move_step))
        .route(urls::RESET_STEP, post(steps::reset_step))
}
