//! One class: the numbers that decide, whether the packet balances, and the way to everything.

use askama::Template;
use axum::extract::State;
use serde::Deserialize;

use super::{Loaded, ProblemLine, Publication, load, problem_lines};
use crate::app::App;
use crate::error::PageResult;
use crate::pages::extract::{Path, Query, SignedIn};
use crate::pages::paperwork::{Heading, PrepList, ToolRow, prep_list};
use crate::pages::picture::Picture;
use crate::pages::{Nav, Page};
use crate::recipe::finished;
use crate::urls;
use crate::workshop::{Packet, packet};

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
    project: (String, String),
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
    class_minutes: u32,
    too_long: bool,
    tools: Vec<ToolRow>,
    portraits: Vec<(String, Picture)>,
    /// What hidden steps leave undone.
    hidden_notes: Vec<String>,
}

pub(super) async fn show_class(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(query): Query<ClassQuery>,
) -> PageResult<Page<impl Template>> {
    let loaded = load(&app, id).await?;
    let publication = loaded.publication()?;
    let (problems, numbers) = match packet(&loaded.facts) {
        Ok(packet) => (Vec::new(), Some(numbers(&loaded, &packet))),
        Err(problems) => (problem_lines(&loaded.class, &problems), None),
    };
    let facts = &loaded.facts;
    let spares = facts.colourways.iter().map(|c| u64::from(c.spare_kits));
    let project = urls::project(loaded.class.details.project_id);
    Ok(Page::ok(ClassPage {
        nav: Nav::Classes,
        id,
        heading: loaded.heading()?,
        project: (facts.project.title.clone(), project),
        done: said(query.done.as_deref()),
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

fn said(done: Option<&str>) -> &'static str {
    match done {
        Some("saved") => "Saved.",
        Some("published") => "Published. Phones and hosts with a link see this revision now.",
        _ => "",
    }
}

fn numbers(loaded: &Loaded, packet: &Packet) -> Numbers {
    let facts = &loaded.facts;
    let attendees = facts.attendees.len();
    let drawn = |(index, made): (usize, &crate::recipe::MadePiece)| {
        let scene = finished(made);
        (
            made.name.clone(),
            Picture::of(&scene, &format!("piece{index}")),
        )
    };
    Numbers {
        prep: prep_list(facts, packet),
        class_minutes: packet.class_minutes,
        too_long: packet.class_minutes > facts.minutes,
        tools: packet
            .tools
            .iter()
            .map(|tool| ToolRow::of(tool, attendees))
            .collect(),
        hidden_notes: packet.recipe.hidden_notes(),
        portraits: packet.recipe.pieces.iter().enumerate().map(drawn).collect(),
    }
}
