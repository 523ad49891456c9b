//! A packet with its cut plans, or the page that takes its place while they are thought out.

use std::time::Duration;

use askama::Template;
use axum::http::{HeaderName, HeaderValue};
use axum::response::{IntoResponse, Response};

use super::{Loaded, refused};
use crate::app::App;
use crate::error::PageResult;
use crate::pages::{Nav, Page};
use crate::planner::{CutPlanner, Planned};
use crate::workshop::{ClassFacts, Packet, PacketProblem, draft};

/// How long a form waits for the plans: less than any request may take.
pub(super) const PATIENCE: Duration = Duration::from_secs(20);

/// What became of a packet.
pub(super) enum Made {
    Packet(Box<Packet>),
    Refused(Vec<PacketProblem>),
    /// So many percent of the planning are done.
    Planning(u32),
}

/// Computes a packet; waits for its plans as long as the planner is patient.
pub(super) async fn make(planner: &CutPlanner, facts: &ClassFacts) -> Made {
    let draft = match draft(facts) {
        Ok(draft) => draft,
        Err(problems) => return Made::Refused(problems),
    };
    match planner.plan(&draft.jobs()).await {
        Planned::Working { percent } => Made::Planning(percent),
        Planned::Ready(found) => match draft.finish(facts, &|job| found.plan(job)) {
            Ok(packet) => Made::Packet(Box::new(packet)),
            Err(problems) => Made::Refused(problems),
        },
    }
}

/// A page of the packet; else its refusal with everything that is missing, or the wait.
pub(super) async fn with_packet(
    app: &App,
    loaded: &Loaded,
    page: impl FnOnce(&Packet) -> PageResult<Response>,
) -> PageResult<Response> {
    match make(app.planner(), &loaded.facts).await {
        Made::Packet(packet) => page(&packet),
        Made::Refused(problems) => Ok(refused(&loaded.class, &loaded.facts, &problems)),
        Made::Planning(percent) => Ok(planning(&loaded.facts.title, percent, None)),
    }
}

/// It asks again by itself every second, without a script.
#[derive(Template)]
#[template(path = "classes/planning.html")]
struct PlanningPage {
    nav: Nav,
    title: String,
    percent: u32,
    next: Option<String>,
}

/// The page that waits; it goes on to `next`, or comes back to where it is.
pub(super) fn planning(title: &str, percent: u32, next: Option<String>) -> Response {
    let refresh = match &next {
        Some(next) => format!("1; url={next}"),
        None => "1".to_owned(),
    };
    let page = PlanningPage {
        nav: Nav::Classes,
        title: title.to_owned(),
        percent,
        next,
    };
    let mut response = Page::ok(page).into_response();
    if let Ok(refresh) = HeaderValue::from_str(&refresh) {
        let name = HeaderName::from_static("refresh");
        response.headers_mut().insert(name, refresh);
    }
    response
}
