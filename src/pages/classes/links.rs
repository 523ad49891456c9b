//! Links for attendees and hosts: made here, shown once, ended here.

use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
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
use crate::pages::{Nav, Page, see_other, when};
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
    /// The whole address of the link that was just made, and what it shows.
    made: Option<(String, &'static str)>,
    errors: FormErrors,
}

struct LinkRow {
    id: i64,
    what: &'static str,
    created: String,
    ends: String,
    works: bool,
    state: String,
}

pub(super) async fn list_links(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let class = class(&app, id).await?;
    let form = LinkForm {
        role: LinkRole::Attendee.slug().to_owned(),
        until: default_day(&class, app.clock().now()).to_string(),
    };
    let page = page(&app, class, form, None, FormErrors::default()).await?;
    Ok(Page::ok(page))
}

pub(super) async fn create_link(
    State(app): State<App>,
    _: SignedIn,
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
    let token = Token::for_link()?;
    let mut change = app.store().change().await?;
    let hash = token.hash();
    store::links::insert_link(&mut *change, id, role, &hash, now, end_of(until)?).await?;
    change.commit().await?;
    let path = match role {
        LinkRole::Attendee => urls::attendee_link(token.text()),
        LinkRole::Host => urls::host_link(token.text()),
    };
    // Shown in this one answer: after a redirect it would have to be stored somewhere.
    let made = (app.config().base_url.with_path(&path), role.label());
    let page = page(&app, class, form, Some(made), errors).await?;
    Ok(Page::with_status(StatusCode::CREATED, page).into_response())
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
    made: Option<(String, &'static str)>,
    errors: FormErrors,
) -> PageResult<LinksPage> {
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
        links: links.iter().map(|link| row(link, now)).collect(),
        made,
        errors,
    })
}

fn row(link: &Link, now: Timestamp) -> LinkRow {
    let works = link.revoked_at.is_none() && link.expires_at > now;
    LinkRow {
        id: link.id,
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
