//! Projects.
use crate::app::App;
use axum::Router;
/// Routes of this area.
pub fn router() -> Router<App> {
    Router::new()
}
