//! What links show: pages of the newest revision, rendered and compressed once and kept as bytes.
//!
//! A revision never changes, so neither does its page: a hall full of phones costs one rendering.
//! What is in memory is answered before any route is looked up ([`AtOnce`]).

mod at_once;
mod doors;
mod view;

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use askama::Template;
use axum::body::{Body, Bytes};
use axum::http::{HeaderMap, HeaderValue, Response, header};
use jiff::Timestamp;

use super::classes::attendees_address;
use super::codings::Codings;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::layers::headers::link_doors;
use crate::planner::Planned;
use crate::store;
use crate::store::links::{LinkRole, OpenLink};
use crate::store::revisions::Revision;
use crate::token::hash_of;
use crate::urls;
use crate::workshop::{Packet, PacketProblem, draft};
pub use at_once::AtOnce;
use doors::Doors;
pub use view::View;

/// So many bytes of pages stay in memory; then all make room at once. A page is up to 150 kB and
/// its two compressed copies 50 kB.
const MOST_BYTES: usize = 128 * 1024 * 1024;

/// Private, so that no shared cache keeps it; no-cache, so that a revoked link ends at once.
const CACHE: &str = "private, no-cache";

/// How long the first reader of a revision waits for its plans, after a start of the server.
const PATIENCE: Duration = Duration::from_secs(20);

/// The pages of published classes.
#[derive(Debug, Default)]
pub struct Published {
    doors: Doors,
    pages: Mutex<Pages>,
}

#[derive(Debug, Default)]
struct Pages {
    kept: HashMap<(OpenPage, View), Arc<Codings>>,
    bytes: usize,
}

/// Which page a link opens, however long it works.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct OpenPage {
    revision_id: i64,
    role: LinkRole,
    attendee_id: Option<i64>,
}

/// A page that a link asks for.
pub(super) struct Asked<'a> {
    /// The secret part of its address.
    pub(super) token: &'a str,
    /// What kind of link it claims to be.
    pub(super) role: LinkRole,
    /// What stands behind the "?".
    pub(super) query: &'a str,
    /// Its headers.
    pub(super) headers: &'a HeaderMap,
}

/// What a page is made of.
pub(super) struct Opened<'a> {
    /// What was published.
    pub(super) revision: &'a Revision,
    /// Computed from it.
    pub(super) packet: &'a Packet,
    /// Row of the attendee whose own link it is.
    pub(super) attendee: Option<i64>,
    /// The link for all attendees, if it can be shown again.
    pub(super) steps_address: Option<&'a str>,
    /// How it is to look.
    pub(super) view: View,
}

impl Published {
    /// Links, revisions, attendees or classes have changed: the next who comes looks again.
    pub fn changed(&self) {
        self.doors.forget();
        // Hosts' lists show the code of a link that may have ended.
        *self.lock() = Pages::default();
    }

    fn kept(&self, asked: &Asked<'_>, now: Timestamp) -> Option<Arc<Codings>> {
        let open = self.doors.known((&hash_of(asked.token), asked.role), now)?;
        self.find(&(page_of(open), asked.view()))
    }

    fn find(&self, page: &(OpenPage, View)) -> Option<Arc<Codings>> {
        self.lock().kept.get(page).cloned()
    }

    fn keep(&self, page: (OpenPage, View), kept: Arc<Codings>) {
        let mut pages = self.lock();
        if pages.bytes + kept.size() > MOST_BYTES {
            *pages = Pages::default();
        }
        pages.bytes += kept.size();
        if let Some(before) = pages.kept.insert(page, kept) {
            pages.bytes -= before.size();
        }
    }

    /// A panic while the lock was held leaves the map whole: pages go in by one insert.
    fn lock(&self) -> std::sync::MutexGuard<'_, Pages> {
        self.pages.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Asked<'_> {
    /// Only phones choose; a host's lists are what they are.
    fn view(&self) -> View {
        match self.role {
            LinkRole::Attendee => {
                let asked = View::of_query(self.query);
                asked.unwrap_or_else(|| View::of_cookie(self.headers))
            }
            LinkRole::Host => View::default(),
        }
    }

    fn answer(&self, kept: &Codings) -> Response<Bytes> {
        let mut response = kept.answer(self.headers);
        if let Some(cookie) = self.cookie() {
            response.headers_mut().insert(header::SET_COOKIE, cookie);
        }
        response
    }

    fn cookie(&self) -> Option<HeaderValue> {
        let chosen = View::of_query(self.query);
        let chosen = chosen.filter(|_| self.role == LinkRole::Attendee);
        chosen.and_then(|view| view.cookie(&urls::attendee_link(self.token)))
    }
}

const fn page_of(open: OpenLink) -> OpenPage {
    OpenPage {
        revision_id: open.revision_id,
        role: open.role,
        attendee_id: open.attendee_id,
    }
}

/// The page behind a link: one calm answer for every link that opens nothing.
pub(super) async fn show<T: Template>(
    app: &App,
    asked: Asked<'_>,
    page: impl FnOnce(&Opened<'_>) -> T,
) -> PageResult<Response<Body>> {
    let link = (&hash_of(asked.token), asked.role);
    let doors = &app.published().doors;
    let open = doors.find(app.store(), link, app.clock().now()).await?;
    let open = open.ok_or(PageError::BadLink)?;
    let view = asked.view();
    if let Some(kept) = app.published().find(&(page_of(open), view)) {
        return Ok(asked.answer(&kept).map(Body::from));
    }
    let revision = store::revisions::find_revision(app.store().read(), open.revision_id).await?;
    let revision = revision.ok_or(PageError::BadLink)?;
    let address = attendees_address(app, open.class_id).await?;
    let opened = Opened {
        steps_address: address.as_deref(),
        revision: &revision,
        packet: &packet_of(app, &revision).await?,
        attendee: open.attendee_id,
        view,
    };
    let html = page(&opened).render().map_err(PageError::internal)?;
    let headers = headers(app.config().base_url.is_https());
    let kept = tokio::task::spawn_blocking(move || Codings::new(html, &headers)).await;
    let kept = kept.map_err(PageError::internal)?;
    let kept = Arc::new(kept.map_err(PageError::internal)?);
    app.published()
        .keep((page_of(open), view), Arc::clone(&kept));
    Ok(asked.answer(&kept).map(Body::from))
}

fn headers(is_https: bool) -> HeaderMap {
    let mut headers = link_doors(is_https);
    let set = [
        (header::CACHE_CONTROL, CACHE),
        (header::CONTENT_TYPE, "text/html; charset=utf-8"),
        // How the page looks is remembered there.
        (header::VARY, "cookie"),
    ];
    headers.extend(set.map(|(name, value)| (name, HeaderValue::from_static(value))));
    headers
}

/// It balanced when it was published; if it does not now, that is our fault.
async fn packet_of(app: &App, revision: &Revision) -> PageResult<Packet> {
    let fault = |problems: Vec<PacketProblem>| {
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        PageError::internal(format!("a published packet: {}", said.join("; ")))
    };
    let draft = draft(&revision.facts).map_err(fault)?;
    match app.planner().waiting(PATIENCE).plan(&draft.jobs()).await {
        Planned::Working { .. } => Err(PageError::TooSlow),
        Planned::Ready(found) => draft
            .finish(&revision.facts, &|job| found.plan(job))
            .map_err(fault),
    }
}
