//! Links for attendees and hosts: made here, listed with their codes, ended here.

use std::collections::{BTreeSet, HashMap};

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
use crate::pages::qr::QrPicture;
use crate::pages::{Nav, Page, once, published, see_other, when};
use crate::store;
use crate::store::Change;
use crate::store::class_lists::list_attendees;
use crate::store::classes::{Class, find_class};
use crate::store::links::{Link, LinkRole, NewLink};
use crate::token::LinkSeed;
use crate::urls;

/// Days that a link works after the class, unless another day is chosen.
const DAYS_AFTER: i64 = 7;
/// A link that works for years is one that nobody remembers.
const LONGEST_DAYS: i64 = 400;

/// What can be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// One link for all attendees.
    Attendees,
    /// A link for each attendee, with their pack.
    Own,
    /// One link for the host.
    Host,
}

impl Kind {
    const ALL: [(&'static str, Self); 3] = [
        ("attendee", Self::Attendees),
        ("own", Self::Own),
        ("host", Self::Host),
    ];

    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::Attendees => "Attendees: all step cards, for phones",
            Self::Own => "Each attendee: a link of their own, with their pack",
            Self::Host => "Host: the host's list and all packs, for printing",
        }
    }

    pub(super) const fn of(link: &Link) -> Self {
        match (link.role, link.attendee_id) {
            (LinkRole::Host, _) => Self::Host,
            (LinkRole::Attendee, None) => Self::Attendees,
            (LinkRole::Attendee, Some(_)) => Self::Own,
        }
    }
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct LinkForm {
    role: String,
    until: String,
    once: String,
}

#[derive(Template)]
#[template(path = "classes/links.html")]
struct LinksPage {
    nav: Nav,
    class: Class,
    published: bool,
    form: LinkForm,
    kinds: Vec<(&'static str, &'static str)>,
    /// Of everybody, with their codes.
    shared: Vec<LinkRow>,
    /// Whether one of them is for all attendees.
    has_poster: bool,
    /// Of one attendee each.
    own: Vec<LinkRow>,
    /// That work no more.
    ended: Vec<LinkRow>,
    errors: FormErrors,
}

struct LinkRow {
    id: i64,
    /// Its place among the links of the class, from 1: by it two of a kind are told apart.
    number: usize,
    /// What it shows, or whose own it is.
    what: String,
    created: String,
    ends: String,
    /// When it was revoked, or until when it worked.
    state: String,
    /// The whole address; `None` for a link that was made before they were kept.
    address: Option<String>,
    code: Option<QrPicture>,
}

pub(super) async fn list_links(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let class = class(&app, id).await?;
    let now = app.clock().now();
    let form = LinkForm {
        role: Kind::ALL[0].0.to_owned(),
        until: default_day(&class, now).to_string(),
        once: once::token()?,
    };
    let page = page(&app, class, form, FormErrors::default()).await?;
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
    let Some((kind, until)) = form.read(today(now), &mut errors) else {
        let page = page(&app, class, form, errors).await?;
        return Ok(Page::invalid(page).into_response());
    };
    let mut change = app.store().change().await?;
    if let Some(made) = once::made(&mut change, &form.once).await? {
        return Ok(made);
    }
    let wanted = wanted(&mut change, (id, kind), now).await?;
    if wanted.is_empty() {
        let message = "For: every attendee has a link of their own. Revoke one to make another.";
        errors.add("role", message);
        let page = page(&app, class, form, errors).await?;
        return Ok(Page::invalid(page).into_response());
    }
    for (role, attendee) in wanted {
        let link = new_link(&app, (role, attendee), (now, end_of(until)?))?;
        store::links::insert_link(&mut *change, id, &link).await?;
    }
    let location = urls::class_links(id);
    once::keep(&app, &mut change, &form.once, &location).await?;
    published::commit(&app, change, id).await?;
    Ok(see_other(&location))
}

/// The links that a form asks for: of their own for those attendees who have none that works.
async fn wanted(
    change: &mut Change,
    (class, kind): (i64, Kind),
    now: Timestamp,
) -> PageResult<Vec<(LinkRole, Option<i64>)>> {
    if kind == Kind::Host {
        return Ok(vec![(LinkRole::Host, None)]);
    }
    if kind == Kind::Attendees {
        return Ok(vec![(LinkRole::Attendee, None)]);
    }
    let links = store::links::list_links(&mut **change, class).await?;
    let working = links.iter().filter(|link| link.works(now));
    let have: BTreeSet<i64> = working.filter_map(|link| link.attendee_id).collect();
    let attendees = list_attendees(&mut **change, class).await?;
    let without = attendees.iter().filter(|one| !have.contains(&one.id));
    Ok(without
        .map(|one| (LinkRole::Attendee, Some(one.id)))
        .collect())
}

fn new_link(
    app: &App,
    (role, attendee_id): (LinkRole, Option<i64>),
    (created_at, expires_at): (Timestamp, Timestamp),
) -> PageResult<NewLink> {
    let seed = LinkSeed::fresh().map_err(PageError::internal)?;
    Ok(NewLink {
        role,
        attendee_id,
        hash: app.store().link_key().token(&seed).hash(),
        seed,
        created_at,
        expires_at,
    })
}

pub(super) async fn class(app: &App, id: i64) -> PageResult<Class> {
    let class = find_class(app.store().read(), id).await?;
    class.ok_or(PageError::NotFound)
}

async fn page(
    app: &App,
    class: Class,
    form: LinkForm,
    errors: FormErrors,
) -> PageResult<LinksPage> {
    let mut read = app.store().read().begin().await?;
    let links = store::links::list_links(&mut *read, class.id).await?;
    let newest = store::revisions::find_newest_revision(&mut *read, class.id).await?;
    let attendees = list_attendees(&mut *read, class.id).await?;
    let names: HashMap<i64, String> = attendees.into_iter().map(|a| (a.id, a.name)).collect();
    let now = app.clock().now();
    let of = |wanted: &dyn Fn(&Link) -> bool| {
        let links = numbered(&links).filter(|(_, link)| wanted(link));
        let row = |(number, link)| row(app, &names, (number, link), now);
        links.map(row).collect::<Vec<_>>()
    };
    let mut own = of(&|link| link.works(now) && Kind::of(link) == Kind::Own);
    own.reverse();
    Ok(LinksPage {
        nav: Nav::Classes,
        class,
        published: newest.is_some(),
        form,
        kinds: Kind::ALL.map(|(slug, kind)| (slug, kind.label())).to_vec(),
        shared: of(&|link| link.works(now) && Kind::of(link) != Kind::Own),
        has_poster: links
            .iter()
            .any(|link| link.works(now) && Kind::of(link) == Kind::Attendees),
        own,
        ended: of(&|link| !link.works(now)),
        errors,
    })
}

/// Newest first, as they are listed; the first that was made is number 1.
pub(super) fn numbered(links: &[Link]) -> impl Iterator<Item = (usize, &Link)> {
    (1..=links.len()).rev().zip(links)
}

fn row(
    app: &App,
    names: &HashMap<i64, String>,
    (number, link): (usize, &Link),
    now: Timestamp,
) -> LinkRow {
    let ends = when::date(last_day(link.expires_at));
    let address = link.works(now).then(|| address_of(app, link)).flatten();
    let whose = link.attendee_id.and_then(|id| names.get(&id)).cloned();
    let code = address.as_deref().filter(|_| whose.is_none());
    LinkRow {
        id: link.id,
        number,
        what: whose.unwrap_or_else(|| Kind::of(link).label().to_owned()),
        created: when::moment(link.created_at),
        state: match link.revoked_at {
            Some(at) => format!("Revoked {}", when::moment(at)),
            None => format!("Worked until {ends}"),
        },
        ends,
        code: code.and_then(|address| QrPicture::of(address, "QR code of this link")),
        address,
    }
}

/// The address of the newest working link for all attendees.
pub(super) async fn attendees_address(app: &App, class: i64) -> PageResult<Option<String>> {
    let link = attendees_link(app, class).await?;
    Ok(link.map(|(address, _)| address))
}

/// The newest working link for all attendees: its address, and when it ends.
pub(in crate::pages) async fn attendees_link(
    app: &App,
    class: i64,
) -> PageResult<Option<(String, Timestamp)>> {
    let links = store::links::list_links(app.store().read(), class).await?;
    let now = app.clock().now();
    let mut usable = links
        .iter()
        .filter(|link| link.works(now) && Kind::of(link) == Kind::Attendees);
    Ok(usable.find_map(|link| Some((address_of(app, link)?, link.expires_at))))
}

/// The whole address of a link; `None` where its seed or the key of the links is another.
pub(super) fn address_of(app: &App, link: &Link) -> Option<String> {
    let token = app.store().link_key().token(link.seed.as_ref()?);
    if token.hash() != link.hash {
        return None;
    }
    let path = match link.role {
        LinkRole::Attendee => urls::attendee_link(token.text()),
        LinkRole::Host => urls::host_link(token.text()),
    };
    Some(app.config().base_url.with_path(&path))
}

fn today(now: Timestamp) -> Date {
    Offset::UTC.to_datetime(now).date()
}

/// A week after the class, or after today where the class is over.
fn default_day(class: &Class, now: Timestamp) -> Date {
    let day = class.details.date.max(today(now));
    let day = day.checked_add(DAYS_AFTER.days()).unwrap_or(day);
    day.min(longest_day(today(now)))
}

fn longest_day(today: Date) -> Date {
    today.checked_add(LONGEST_DAYS.days()).unwrap_or(today)
}

/// Noon UTC of the next day: by then the day is over in every time zone.
fn end_of(day: Date) -> PageResult<Timestamp> {
    let midnight = Offset::UTC.to_timestamp(day.at(0, 0, 0, 0));
    Ok(midnight.map_err(PageError::internal)? + SignedDuration::from_hours(36))
}

/// The day that was typed: the reverse of [`end_of`].
fn last_day(ends: Timestamp) -> Date {
    today(ends - SignedDuration::from_hours(36))
}

impl LinkForm {
    fn read(&self, today: Date, errors: &mut FormErrors) -> Option<(Kind, Date)> {
        let kind = errors.choice("role", "For", &self.role, &Kind::ALL);
        let until = errors.keep("until", "Works until", date(&self.until));
        let until = until.and_then(|day| {
            let last = longest_day(today);
            let fits = (today..=last).contains(&day);
            if !fits {
                let message = format!(
                    "Works until: {day} is not a day that a link can end. Type a day from {today} to {last}."
                );
                errors.add("until", message);
            }
            fits.then_some(day)
        });
        Some((kind?, until?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_lasts_through_its_day_wherever_the_hall_is() {
        let end = end_of(jiff::civil::date(2026, 12, 5)).unwrap();
        // UTC-12, the last place where a day ends (IANA time zone database, "Etc/GMT+12").
        assert_eq!(last_day(end), jiff::civil::date(2026, 12, 5));
        let last = Offset::constant(-12).to_datetime(end);
        assert_eq!(last.to_string(), "2026-12-06T00:00:00");
    }
}
