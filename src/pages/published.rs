//! What links show: pages of the newest revision, rendered once and kept as bytes.
//!
//! A revision never changes, so neither does its page: a hall full of phones costs one rendering
//! and one look at the database for each request, which finds out that the link still works.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use askama::Template;
use axum::body::Bytes;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::planner::Planned;
use crate::store;
use crate::store::links::{LinkRole, OpenLink};
use crate::store::revisions::Revision;
use crate::token::hash_of;
use crate::workshop::{Packet, PacketProblem, draft};

/// So many pages of up to 150 kB stay in memory; then the oldest make room all at once.
const MOST_KEPT: usize = 64;

/// How long the first reader of a revision waits for its plans, after a start of the server.
const PATIENCE: Duration = Duration::from_secs(20);

/// Private, so that no shared cache keeps it; no-cache, so that a revoked link ends at once.
const CACHE: &str = "private, no-cache";

/// The pages of published classes, by class and role.
#[derive(Debug, Default)]
pub struct Published(Mutex<HashMap<(i64, LinkRole), Arc<Kept>>>);

/// A rendered page of one revision.
#[derive(Debug)]
struct Kept {
    revision_id: i64,
    html: Bytes,
    etag: HeaderValue,
}

impl Published {
    /// Drops the pages of a class that is removed.
    pub fn forget(&self, class_id: i64) {
        self.lock().retain(|(class, _), _| *class != class_id);
    }

    fn find(&self, open: OpenLink, role: LinkRole) -> Option<Arc<Kept>> {
        let kept = self.lock().get(&(open.class_id, role)).cloned();
        kept.filter(|kept| kept.revision_id == open.revision_id)
    }

    fn keep(&self, class_id: i64, role: LinkRole, page: Arc<Kept>) {
        let mut pages = self.lock();
        if pages.len() >= MOST_KEPT {
            pages.clear();
        }
        pages.insert((class_id, role), page);
    }

    /// A panic while the lock was held leaves the map whole: pages go in by one insert.
    fn lock(&self) -> std::sync::MutexGuard<'_, HashMap<(i64, LinkRole), Arc<Kept>>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The page behind a link: one calm answer for every link that opens nothing.
pub(super) async fn show<T: Template>(
    app: &App,
    (token, role): (&str, LinkRole),
    headers: &HeaderMap,
    page: impl FnOnce(&Revision, &Packet) -> T,
) -> PageResult<Response> {
    let (hash, now) = (hash_of(token), app.clock().now());
    let open = store::links::find_open_class(app.store().read(), &hash, role, now).await?;
    let open = open.ok_or(PageError::BadLink)?;
    if let Some(kept) = app.published().find(open, role) {
        return Ok(answer(&kept, headers));
    }
    let revision = store::revisions::find_revision(app.store().read(), open.revision_id).await?;
    let revision = revision.ok_or(PageError::BadLink)?;
    let kept = Arc::new(render(&revision, &packet_of(app, &revision).await?, page)?);
    app.published().keep(open.class_id, role, Arc::clone(&kept));
    Ok(answer(&kept, headers))
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

fn render<T: Template>(
    revision: &Revision,
    packet: &Packet,
    page: impl FnOnce(&Revision, &Packet) -> T,
) -> PageResult<Kept> {
    let html = page(revision, packet).render();
    let html = html.map_err(PageError::internal)?;
    let hash = HEXLOWER.encode(&Sha256::digest(&html)[..16]);
    Ok(Kept {
        revision_id: revision.id,
        etag: HeaderValue::from_str(&format!("\"{hash}\"")).map_err(PageError::internal)?,
        html: Bytes::from(html),
    })
}

fn answer(kept: &Kept, headers: &HeaderMap) -> Response {
    let caching = [
        (header::CACHE_CONTROL, HeaderValue::from_static(CACHE)),
        (header::ETAG, kept.etag.clone()),
    ];
    if has_it(headers, &kept.etag) {
        return (StatusCode::NOT_MODIFIED, caching).into_response();
    }
    let html = HeaderValue::from_static("text/html; charset=utf-8");
    let kind = [(header::CONTENT_TYPE, html)];
    (caching, kind, kept.html.clone()).into_response()
}

/// Whether the browser holds this page already (RFC 9110, 13.1.2: weak comparison).
fn has_it(headers: &HeaderMap, etag: &HeaderValue) -> bool {
    headers
        .get_all(header::IF_NONE_MATCH)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|list| list.split(','))
        .map(|tag| tag.trim().trim_start_matches("W/"))
        .any(|tag| tag == "*" || tag.as_bytes() == etag.as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_browser_that_has_the_page_gets_no_second_copy() {
        let etag = HeaderValue::from_static("\"abc\"");
        let with = |value| HeaderMap::from_iter([(header::IF_NONE_MATCH, value)]);
        for value in ["\"abc\"", "W/\"abc\"", "\"x\", \"abc\"", "*"] {
            assert!(
                has_it(&with(HeaderValue::from_static(value)), &etag),
                "{value}"
            );
        }
        for value in ["\"ab\"", "abc", ""] {
            assert!(
                !has_it(&with(HeaderValue::from_static(value)), &etag),
                "{value}"
            );
        }
    }
}
