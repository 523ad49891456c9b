//! Links for attendees and hosts: made here, shown once after the redirect, ended here.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use jiff::civil::Date;
use jiff::tz::Offset;
use jiff::{SignedDuration, Timestamp, ToSpan};
use serde::Deserialize;

use super::details::date;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, once, see_other, when};
use crate::store;
use crate::store::classes::{Class, find_class};
use crate::store::links::{Link, LinkRole};
use crate::token::Token;
use crate::urls;

/// Days that a link works after the class, unless another day is chosen.
const DAYS_AFTER: i64 = 7;
/// A link that works for years is one that nobody remembers.
const LONGEST_DAYS: i64 = 400;

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct LinkForm {
    role: String,
    until: String,
    once: String,
}

/// The form has no field: the address says it all.
#[derive(Deserialize)]
pub(super) struct RevokeForm {}

#[derive(Template)]
#[template(path = "classes/links.html")]
struct LinksPage {
    nav: Nav,
    class: Class,
    published: bool,
    form: LinkForm,
    roles: Vec<(&'static str, &'static str)>,
    links: Vec<LinkRow>,
    made: Option<MadeLink>,
    errors: FormErrors,
}

/// The link that was just made.
struct MadeLink {
    number: usize,
    /// The whole address.
    address: String,
    /// What it shows.
    what: &'static str,
}

struct LinkRow {
    id: i64,
    /// Its place among the links of the class, from 1: by it two of a kind are told apart.
    number: usize,
    what: &'static str,
    created: String,
    ends: String,
    works: bool,
    state: String,
}

pub(super) async fn list_links(
    State(app): State<App>,
    session: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let class = class(&app, id).await?;
    let now = app.clock().now();
    let form = LinkForm {
        role: LinkRole::Attendee.slug().to_owned(),
        until: default_day(&class, now).to_string(),
        once: once::token()?,
    };
    let fresh = app.fresh_links().take((session.session_id, id), now);
    let page = page(&app, class, form, fresh, FormErrors::default()).await?;
    Ok(Page::ok(page))
}

pub(super) async fn create_link(
    State(app): State<App>,
    session: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<LinkForm>,
) -> PageResult<Response> {
    let class = class(&app, id).await?;
    let now = app.clock().now();
    let mut errors = FormErrors::default();
    let Some((role, until)) = form.read(today(now), &mut errors) else {
        let page = page(&app, class, form, None, errors).await?;
        return Ok(Page::invalid(page).into_response());
    };
    let mut change = app.store().change().await?;
    if let Some(made) = once::made(&mut change, &form.once).await? {
        return Ok(made);
    }
    let token = Token::for_link()?;
    let hash = token.hash();
    store::links::insert_link(&mut *change, id, role, &hash, now, end_of(until)?).await?;
    // Before the commit: a browser that hangs up meanwhile finds the link when it asks again.
    app.fresh_links().put((session.session_id, id), token, now);
    once::commit(&app, change, &form.once, &urls::class_links(id)).await
}

pub(super) async fn revoke_link(
    State(app): State<App>,
    _: SignedIn,
    Path((id, link)): Path<(i64, i64)>,
    ProtectedForm(RevokeForm {}): ProtectedForm<RevokeForm>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let now = app.clock().now();
    if !store::links::update_link_revoked(&mut *change, id, link, now).await? {
        return Err(PageError::NotFound);
    }
    change.commit().await?;
    Ok(see_other(&urls::class_links(id)))
}

async fn class(app: &App, id: i64) -> PageResult<Class> {
    let class = find_class(app.store().read(), id).await?;
    class.ok_or(PageError::NotFound)
}

async fn page(
    app: &App,
    class: Class,
    form: LinkForm,
    fresh: Option<Token>,
    errors: FormErrors,
) -> PageResult<LinksPage> {
    let made = match &fresh {
        Some(token) => store::links::find_link(app.store().read(), class.id, &token.hash()).await?,
        None => None,
    };
    let links = store::links::list_links(app.store().read(), class.id).await?;
    let newest = store::revisions::find_newest_revision(app.store().read(), class.id).await?;
    let now = app.clock().now();
    Ok(LinksPage {
        nav: Nav::Classes,
        class,
        published: newest.is_some(),
        form,
        roles: LinkRole::ALL
            .map(|role| (role.slug(), role.label()))
            .to_vec(),
        made: made
            .zip(fresh)
            .and_then(|(id, token)| made_link(app, &links, id, &token)),
        links: numbered(&links)
            .map(|(number, link)| row(number, link, now))
            .collect(),
        errors,
    })
}

/// Newest first, as they are listed; the first that was made is number 1.
fn numbered(links: &[Link]) -> impl Iterator<Item = (usize, &Link)> {
    (1..=links.len()).rev().zip(links)
}

fn made_link(app: &App, links: &[Link], id: i64, token: &Token) -> Option<MadeLink> {
    let (number, link) = numbered(links).find(|(_, link)| link.id == id)?;
    let path = match link.role {
        LinkRole::Attendee => urls::attendee_link(token.text()),
        LinkRole::Host => urls::host_link(token.text()),
    };
    Some(MadeLink {
        number,
        address: app.config().base_url.with_path(&path),
        what: link.role.label(),
    })
}

fn row(number: usize, link: &Link, now: Timestamp) -> LinkRow {
    let works = link.revoked_at.is_none() && link.expires_at > now;
    LinkRow {
        id: link.id,
        number,
        what: link.role.label(),
        created: when::moment(link.created_at),
        ends: when::moment(link.expires_at),
        works,
        state: match link.revoked_at {
            Some(at) => format!("revoked {}", when::moment(at)),
            None if works => "works".to_owned(),
            None => "expired".to_owned(),
        },
    }
}

fn today(now: Timestamp) -> Date {
    Offset::UTC.to_datetime(now).date()
}

/// A week after the class, or after today where the class is over.
fn default_day(class: &Class, now: Timestamp) -> Date {
    let day = class.details.date.max(today(now));
    day.checked_add(DAYS_AFTER.days()).unwrap_or(day)
}

/// Noon UTC of the next day: by then the day is over in every time zone.
fn end_of(day: Date) -> PageResult<Timestamp> {
    let midnight = Offset::UTC.to_timestamp(day.at(0, 0, 0, 0));
    Ok(midnight.map_err(PageError::internal)? + SignedDuration::from_hours(36))
}

impl LinkForm {
    fn read(&self, today: Date, errors: &mut FormErrors) -> Option<(LinkRole, Date)> {
        let offered = LinkRole::ALL.map(|role| (role.slug(), role));
        let role = errors.choice("role", "For", &self.role, &offered);
        let until = errors.keep("until", "Works until", date(&self.until));
        let until = until.and_then(|day| {
            let last = today.checked_add(LONGEST_DAYS.days()).unwrap_or(today);
            let fits = (today..=last).contains(&day);
            if !fits {
                let message = format!(
                    "Works until: {day} is not a day that a link can end. Type a day from {today} to {last}."
                );
                errors.add("until", message);
            }
            fits.then_some(day)
        });
        Some((role?, until?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_lasts_through_its_day_wherever_the_hall_is() {
        let end = end_of(jiff::civil::date(2026, 12, 5)).unwrap();
        // UTC-12, the last place where a day ends (IANA time zone database, "Etc/GMT+12").
        let last = Offset::constant(-12).to_datetime(end);
        assert_eq!(last.to_string(), "2026-12-06T00:00:00");
    }
}
