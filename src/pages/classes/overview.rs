//! One class: the numbers that decide, whether the packet balances, and the way to everything.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::planning::{Made, make, planning};
use super::{Loaded, ProblemLine, Publication, load, problem_lines};
use crate::app::App;
use crate::error::PageResult;
use crate::pages::extract::{Path, Query, SignedIn};
use crate::pages::paperwork::{Heading, Portrait, PrepList, ToolRow, portraits, prep_list};
use crate::pages::{Nav, Page};
use crate::store::class_money;
use crate::urls;
use crate::workshop::{Cost, Currency, Packet, cost};

/// What was just done, to say so.
#[derive(Debug, Deserialize)]
pub(super) struct ClassQuery {
    done: Option<String>,
}

#[derive(Template)]
#[template(path = "classes/overview.html")]
struct ClassPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    /// Title and address of each.
    projects: Vec<(String, String)>,
    done: &'static str,
    attendees: usize,
    spares: u64,
    kits: usize,
    minutes: u32,
    publication: Publication,
    publishable: bool,
    problems: Vec<ProblemLine>,
    numbers: Option<Numbers>,
}

/// What follows from a packet that balances.
struct Numbers {
    prep: PrepList,
    money: Money,
    class_minutes: u32,
    too_long: bool,
    tools: Vec<ToolRow>,
    portraits: Vec<Portrait>,
    /// What hidden steps leave undone, with the address of the project.
    hidden_notes: Vec<(String, String)>,
}

/// What a kit costs on average.
struct Money {
    kit: String,
    note: String,
}

fn money(cost: &Cost, currency: Currency) -> Money {
    let shops = currency.amount(&cost.spent);
    if cost.unpriced.len() == cost.materials.len() {
        return Money {
            kit: "–".to_owned(),
            note: "no price is known yet".to_owned(),
        };
    }
    let average = if cost.unpriced.is_empty() {
        "on average"
    } else {
        "at least"
    };
    Money {
        kit: currency.amount(&cost.mean_kit),
        note: format!("{average}; {shops} to pay at shops"),
    }
}

pub(super) async fn show_class(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(query): Query<ClassQuery>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let (problems, numbers) = match make(app.planner(), &loaded.facts).await {
        Made::Packet(packet) => {
            let bought = class_money::bought(&mut *app.store().read().begin().await?, id).await?;
            let cost = cost(&loaded.facts, &packet, &bought);
            let money = money(&cost, app.config().currency);
            (Vec::new(), Some(numbers(&loaded, &packet, money)))
        }
        Made::Refused(problems) => (problem_lines(&loaded.class, &loaded.facts, &problems), None),
        Made::Planning(percent) => return Ok(planning(&loaded.facts.title, percent, None)),
    };
    Ok(class_page(id, &loaded, said(query.done.as_deref()), problems, numbers)?.into_response())
}

fn class_page(
    id: i64,
    loaded: &Loaded,
    done: &'static str,
    problems: Vec<ProblemLine>,
    numbers: Option<Numbers>,
) -> PageResult<Page<ClassPage>> {
    let publication = loaded.publication()?;
    let facts = &loaded.facts;
    let spares = facts.colourways.iter().map(|c| u64::from(c.spare_kits));
    Ok(Page::ok(ClassPage {
        nav: Nav::Classes,
        id,
        heading: loaded.heading()?,
        projects: addresses(loaded),
        done,
        attendees: facts.attendees.len(),
        spares: spares.sum(),
        kits: facts.kits(),
        minutes: facts.minutes,
        publishable: numbers.is_some() && !matches!(publication, Publication::Current(_)),
        publication,
        problems,
        numbers,
    }))
}

pub(super) fn addresses(loaded: &Loaded) -> Vec<(String, String)> {
    let projects = loaded.projects.iter();
    projects
        .map(|(id, title)| (title.clone(), urls::project(*id)))
        .collect()
}

fn hidden_notes(loaded: &Loaded, packet: &Packet) -> Vec<(String, String)> {
    let projects = loaded.projects.iter().enumerate();
    let of_one = projects.flat_map(|(at, (id, _))| {
        let notes = packet.recipe.hidden_notes_of(at).into_iter();
        notes.map(|note| (note, urls::project(*id)))
    });
    of_one.collect()
}

fn said(done: Option<&str>) -> &'static str {
    match done {
        Some("saved") => "Saved.",
        Some("published") => "Published. Phones and hosts with a link see this revision now.",
        _ => "",
    }
}

fn numbers(loaded: &Loaded, packet: &Packet, money: Money) -> Numbers {
    let facts = &loaded.facts;
    let attendees = facts.attendees.len();
    Numbers {
        prep: prep_list(facts, packet),
        money,
        class_minutes: packet.class_minutes,
        too_long: packet.class_minutes > facts.minutes,
        tools: packet
            .tools
            .iter()
            .map(|tool| ToolRow::of(tool, attendees))
            .collect(),
        hidden_notes: hidden_notes(loaded, packet),
        portraits: portraits(&packet.recipe.pieces, "piece"),
    }
}
