//! Title, project, day and place: a new class, and an old one changed.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use jiff::civil::{Date, Time};
use serde::{Deserialize, Serialize};

use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, quoted_part};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::stale::stale_shown;
use crate::pages::{Nav, Page, once, see_other, when};
use crate::store;
use crate::store::class_lists::{ColourwayChange, insert_attendee, insert_colourway};
use crate::store::class_project::class_project;
use crate::store::classes::{Class, ClassDetails, find_class};
use crate::store::projects::Project;
use crate::store::{Change, Saved};
use crate::urls;
use crate::workshop::{MOST_KITS, designed_for};

/// So many lists for a further project stand empty.
const FREE_PROJECTS: usize = 2;

/// The first colourway of every class.
const AS_DESIGNED: &str = "As designed";

#[derive(Clone, Debug, Default, Deserialize, Serialize)]
#[serde(default)]
pub(super) struct ClassForm {
    title: String,
    project: String,
    also: Vec<String>,
    date: String,
    starts: String,
    minutes: String,
    place: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    attendees: String,
    version: i64,
    #[serde(skip_serializing_if = "String::is_empty")]
    once: String,
}

#[derive(Template)]
#[template(path = "classes/details.html")]
struct DetailsPage {
    nav: Nav,
    /// `None` for a class that is new.
    id: Option<i64>,
    form: ClassForm,
    projects: Vec<(String, String)>,
    errors: FormErrors,
}

impl DetailsPage {
    const fn new(
        id: Option<i64>,
        form: ClassForm,
        projects: Vec<(String, String)>,
        errors: FormErrors,
    ) -> Self {
        Self {
            nav: Nav::Classes,
            id,
            form,
            projects,
            errors,
        }
    }

    /// Lists for further projects: number and what is chosen. Two are free, where there are so
    /// many projects.
    fn more_projects(&self) -> Vec<(usize, &str)> {
        let chosen = self.form.also.iter().map(String::as_str);
        let most = self.projects.len().saturating_sub(1);
        let shown = (self.form.also.len() + FREE_PROJECTS).min(most);
        let lists = chosen.chain(std::iter::repeat("")).take(shown);
        (2..).zip(lists).collect()
    }
}

pub(super) async fn new_class(State(app): State<App>, _: SignedIn) -> PageResult<Response> {
    let stored = store::projects::list_projects(app.store().read()).await?;
    // Where there is one project, how many it makes is typed already.
    let attendees = match stored.as_slice() {
        [only] => only.it.makes.to_string(),
        _ => String::new(),
    };
    let projects = options(stored);
    let newest = projects.first().map(|(id, _)| id.clone());
    let form = ClassForm {
        project: newest.unwrap_or_default(),
        attendees,
        minutes: "120".to_owned(),
        once: once::token()?,
        ..ClassForm::default()
    };
    let page = DetailsPage::new(None, form, projects, FormErrors::default());
    Ok(once::page(Page::ok(page)))
}

pub(super) async fn create_class(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<ClassForm>,
) -> PageResult<Response> {
    let form = form.tidy();
    let projects = projects(&app).await?;
    let mut errors = FormErrors::default();
    let details = form.read(&projects, &mut errors);
    let details = together(&app, details, &mut errors).await?;
    let most = u32::try_from(MOST_KITS).unwrap_or(u32::MAX);
    let attendees = errors.count("attendees", "Attendees", &form.attendees, 1..=most);
    let (Some(details), Some(attendees)) = (details, attendees) else {
        let page = DetailsPage::new(None, form, projects, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let mut change = app.store().change().await?;
    if let Some(made) = once::made(&mut change, &form.once).await? {
        return Ok(made);
    }
    let id = insert(&mut change, &details, attendees).await?;
    once::commit(&app, change, &form.once, &urls::class(id)).await
}

/// The class with a first colourway and its seats, so that it has a packet at once.
async fn insert(change: &mut Change, details: &ClassDetails, attendees: u32) -> PageResult<i64> {
    let project = class_project(&mut *change, details).await?;
    let project = project.ok_or(PageError::NotFound)?.facts;
    let id = store::classes::insert_class(&mut *change, details).await?;
    let first = ColourwayChange {
        id: None,
        name: AS_DESIGNED.to_owned(),
        spare_kits: 0,
        papers: designed_for(&project).into_iter().collect(),
    };
    let first = insert_colourway(&mut *change, id, &first).await?;
    for seat in 1..=attendees {
        insert_attendee(&mut **change, id, &format!("Seat {seat}"), first).await?;
    }
    Ok(id)
}

pub(super) async fn edit_class(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let class = find_class(app.store().read(), id).await?;
    let form = ClassForm::of(&class.ok_or(PageError::NotFound)?);
    let projects = projects(&app).await?;
    let page = DetailsPage::new(Some(id), form, projects, FormErrors::default());
    Ok(Page::ok(page))
}

pub(super) async fn update_class(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<ClassForm>,
) -> PageResult<Response> {
    let form = form.tidy();
    let class = find_class(app.store().read(), id).await?;
    class.ok_or(PageError::NotFound)?;
    let projects = projects(&app).await?;
    let mut errors = FormErrors::default();
    let details = form.read(&projects, &mut errors);
    let Some(details) = together(&app, details, &mut errors).await? else {
        let page = DetailsPage::new(Some(id), form, projects, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let mut change = app.store().change().await?;
    if !store::classes::update_class(&mut change, id, form.version, &details).await? {
        let now = find_class(&mut *change, id).await?;
        return Err(too_late(&form, &now.ok_or(PageError::NotFound)?, &projects));
    }
    change.commit().await?;
    Ok(see_other(&urls::class_saved(id)))
}

/// The details again if their projects can be made in one class; else an error beside them.
async fn together(
    app: &App,
    details: Option<ClassDetails>,
    errors: &mut FormErrors,
) -> PageResult<Option<ClassDetails>> {
    let Some(details) = details else {
        return Ok(None);
    };
    let mut read = app.store().read().begin().await?;
    let made = class_project(&mut read, &details).await?;
    let made = made.ok_or(PageError::NotFound)?;
    let apart = made
        .apart
        .map(|apart| errors.add("also", apart.to_string()));
    Ok(apart.is_none().then_some(details))
}

/// Another save came first: both texts, with the projects by their titles.
fn too_late(form: &ClassForm, now: &Class, projects: &[(String, String)]) -> PageError {
    let address = urls::class_edit(now.id);
    let saved = (&ClassForm::of(now), now.versions.details);
    let titled = |field: &str, value: &str| {
        let is_project = ["project", "also"].contains(&field);
        let found = projects.iter().find(|(id, _)| is_project && id == value);
        found.map_or_else(|| value.to_owned(), |(_, title)| title.clone())
    };
    stale_shown("class", address.clone(), address, form, saved, &titled)
}

/// The newest project first: it is the one a new class is most often for.
async fn projects(app: &App) -> PageResult<Vec<(String, String)>> {
    let stored = store::projects::list_projects(app.store().read()).await?;
    Ok(options(stored))
}

fn options(projects: Vec<Saved<Project>>) -> Vec<(String, String)> {
    let option = |project: Saved<Project>| (project.id.to_string(), project.it.title);
    projects.into_iter().map(option).collect()
}

impl ClassForm {
    fn of(class: &Class) -> Self {
        let details = &class.details;
        Self {
            title: details.title.clone(),
            project: details.project_id.to_string(),
            also: details.also.iter().map(i64::to_string).collect(),
            date: details.date.to_string(),
            starts: when::clock(details.starts),
            minutes: details.minutes.to_string(),
            place: details.place.clone(),
            attendees: String::new(),
            version: class.versions.details,
            once: String::new(),
        }
    }

    fn read(&self, projects: &[(String, String)], errors: &mut FormErrors) -> Option<ClassDetails> {
        let offered: Vec<(&str, i64)> = projects
            .iter()
            .filter_map(|(id, _)| Some((id.as_str(), id.parse().ok()?)))
            .collect();
        let title = errors.text("title", "Title", &self.title, 80);
        let project_id = errors.choice("project", "Project", &self.project, &offered);
        let also = self.also(&offered, errors);
        let date = errors.keep("date", "Date", date(&self.date));
        let starts = errors.keep("starts", "Starts at", clock(&self.starts));
        let minutes = errors.count("minutes", "Minutes", &self.minutes, 10..=1440);
        let place = errors.text("place", "Place", &self.place, 80);
        Some(ClassDetails {
            title: title?,
            project_id: project_id?,
            also: also?,
            date: date?,
            starts: starts?,
            minutes: minutes?,
            place: place?,
        })
    }
}

impl ClassForm {
    /// What was chosen, without the lists left at "None".
    fn tidy(mut self) -> Self {
        self.also.retain(|row| !row.is_empty());
        self
    }

    /// The chosen projects in the order of choice, each once; the one above needs no second time.
    fn also(&self, offered: &[(&str, i64)], errors: &mut FormErrors) -> Option<Vec<i64>> {
        let mut also = Vec::new();
        for chosen in &self.also {
            let row = errors.choice("also", "And also", chosen, offered)?;
            if *chosen != self.project && !also.contains(&row) {
                also.push(row);
            }
        }
        Some(also)
    }
}

/// Browsers with a calendar send this form of a date; others let it be typed.
pub(super) fn date(typed: &str) -> Result<Date, String> {
    let instead = "Type it as year-month-day, like 2026-11-28.";
    if typed.trim().is_empty() {
        return Err(format!("nothing is typed. {instead}"));
    }
    let wrong = || format!("\"{}\" is not a day. {instead}", quoted_part(typed));
    let typed = typed.trim();
    let digits = typed.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    let date: Date = typed.parse().map_err(|_| wrong())?;
    let possible = digits && (2000..=2199).contains(&date.year());
    if possible { Ok(date) } else { Err(wrong()) }
}

fn clock(typed: &str) -> Result<Time, String> {
    let instead = "Type it as hour and minutes, like 18:30.";
    if typed.trim().is_empty() {
        return Err(format!("nothing is typed. {instead}"));
    }
    let wrong = || format!("\"{}\" is not a time. {instead}", quoted_part(typed));
    let (hour, rest) = typed.trim().split_once(':').ok_or_else(wrong)?;
    // Some browsers add seconds; a class does not start on one.
    let minute = rest.split(':').next().unwrap_or_default();
    let number = |text: &str| {
        let digits = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
        digits.then(|| text.parse::<i8>().ok()).flatten()
    };
    let (Some(hour), Some(minute)) = (number(hour), number(minute)) else {
        return Err(wrong());
    };
    Time::new(hour, minute, 0, 0).map_err(|_| wrong())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_times_that_are_none_are_quoted_with_what_would_do() {
        let day = |typed| date(typed).unwrap_err();
        insta::assert_snapshot!(day("28.11.2026"), @r#""28.11.2026" is not a day. Type it as year-month-day, like 2026-11-28."#);
        insta::assert_snapshot!(day("2026-02-30"), @r#""2026-02-30" is not a day. Type it as year-month-day, like 2026-11-28."#);
        insta::assert_snapshot!(day(" "), @"nothing is typed. Type it as year-month-day, like 2026-11-28.");
        insta::assert_snapshot!(day("0026-11-28"), @r#""0026-11-28" is not a day. Type it as year-month-day, like 2026-11-28."#);
        let time = |typed| clock(typed).unwrap_err();
        insta::assert_snapshot!(time("half past 6"), @r#""half past 6" is not a time. Type it as hour and minutes, like 18:30."#);
        insta::assert_snapshot!(time("24:00"), @r#""24:00" is not a time. Type it as hour and minutes, like 18:30."#);
        insta::assert_snapshot!(time("🌱:30"), @r#""🌱:30" is not a time. Type it as hour and minutes, like 18:30."#);
        assert_eq!(clock("9:05:00").unwrap(), jiff::civil::time(9, 5, 0, 0));
    }
}
