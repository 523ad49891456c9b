//! What links show: pages of the newest revision, rendered and compressed once and kept as bytes.
//!
//! A revision never changes, so neither does its page: a hall full of phones costs one rendering.
//! What is in memory is answered before any route is looked up ([`AtOnce`]).

mod at_once;
mod doors;
mod pages;
mod view;

use std::time::Duration;

use askama::Template;
use axum::body::{Body, Bytes};
use axum::http::{HeaderMap, HeaderValue, Response, header};
use jiff::Timestamp;

use super::classes::attendees_link;
use super::codings::Codings;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::layers::headers::link_doors;
use crate::planner::Planned;
use crate::store::links::{LinkRole, OpenLink};
use crate::store::revisions::Revision;
use crate::store::{self, Change, StoreResult};
use crate::token::{TokenHash, hash_of};
use crate::urls;
use crate::workshop::{Packet, PacketProblem, draft};
pub use at_once::AtOnce;
use doors::Doors;
use pages::{Kept, PageKey, Pages, Place};
pub use view::View;

/// Private, so that no shared cache keeps it; no-cache, so that a revoked link ends at once.
const CACHE: &str = "private, no-cache";

/// How long the first reader of a revision waits for its plans, after a start of the server.
const PATIENCE: Duration = Duration::from_secs(20);

/// The pages of published classes.
#[derive(Debug, Default)]
pub struct Published {
    doors: Doors,
    pages: Pages,
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
    /// What a request asks for, and the page itself where it is in memory.
    fn find<'a>(
        &self,
        (path, query): (&'a str, Option<&'a str>),
        headers: &'a HeaderMap,
        now: Timestamp,
    ) -> Option<(Asked<'a>, Place)> {
        let asked = Asked::at(path, query, headers)?;
        let open = self.doors.known(asked.link(), now)?;
        let place = self.pages.find(&PageKey::of(open, asked.view()), now)?;
        Some((asked, place))
    }
}

/// Commits a change of links, revisions, attendees or classes: whoever comes after it sees it.
/// Goes on to its end when the browser has left, or a link that ended would go on working.
pub(super) async fn commit(app: &App, change: Change, class: i64) -> PageResult<()> {
    let app = app.clone();
    let committed = tokio::spawn(async move {
        change.commit().await?;
        let published = app.published();
        published.doors.forget();
        published.pages.forget(class);
        StoreResult::Ok(())
    });
    Ok(committed.await.map_err(PageError::internal)??)
}

impl<'a> Asked<'a> {
    fn at(path: &'a str, query: Option<&'a str>, headers: &'a HeaderMap) -> Option<Self> {
        let of = |prefix, role| path.strip_prefix(prefix).map(|token| (token, role));
        let (token, role) = of(urls::ATTENDEE_LINKS, LinkRole::Attendee)
            .or_else(|| of(urls::HOST_LINKS, LinkRole::Host))?;
        Some(Self {
            token,
            role,
            query: query.unwrap_or_default(),
            headers,
        })
    }

    fn link(&self) -> (TokenHash, LinkRole) {
        (hash_of(self.token), self.role)
    }

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

/// The page behind a link: one calm answer for every link that opens nothing.
pub(super) async fn show<T: Template>(
    app: &App,
    asked: Asked<'_>,
    page: impl FnOnce(&Opened<'_>) -> T,
) -> PageResult<Response<Body>> {
    let (published, now) = (app.published(), app.clock().now());
    let open = published.doors.find(app.store(), asked.link(), now).await?;
    let open = open.ok_or(PageError::BadLink)?;
    let view = asked.view();
    let place = published.pages.place(PageKey::of(open, view), now);
    let made = place.get_or_try_init(|| make(app, open, view, page));
    let kept = made.await?;
    published.pages.make_room();
    Ok(asked.answer(&kept.codings).map(Body::from))
}

async fn make<T: Template>(
    app: &App,
    open: OpenLink,
    view: View,
    page: impl FnOnce(&Opened<'_>) -> T,
) -> PageResult<Kept> {
    let revision = store::revisions::find_revision(app.store().read(), open.revision_id).await?;
    let revision = revision.ok_or(PageError::BadLink)?;
    let steps = attendees_link(app, open.class_id).await?;
    let opened = Opened {
        steps_address: steps.as_ref().map(|(address, _)| address.as_str()),
        revision: &revision,
        packet: &packet_of(app, &revision).await?,
        attendee: open.attendee_id,
        view,
    };
    let html = page(&opened).render().map_err(PageError::internal)?;
    let headers = headers(app.config().base_url.is_https());
    let codings = tokio::task::spawn_blocking(move || Codings::new(html, &headers)).await;
    let codings = codings.map_err(PageError::internal)?;
    Ok(Kept {
        codings: codings.map_err(PageError::internal)?,
        until: steps.map(|(_, until)| until),
    })
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
