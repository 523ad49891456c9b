//! The page "Which structure?": what each one costs the class, and why others do not work.

use askama::Template;
use tablefold_geometry::BreakPoint;

use super::piece_form::PieceForm;
use super::piece_page::tool_of;
use crate::app::App;
use crate::forms::length_text;
use crate::pages::Nav;
use crate::pages::both::{Both, time_text};
use crate::pages::picture::Picture;
use crate::recipe::{Choice, Comparison, ProjectFacts, Refused, capital, finished};
use crate::store::project_facts::Bench;
use crate::urls;
use crate::workshop::Currency;

/// Buttons for other clearances, at most.
const MOST_BREAK_POINTS: usize = 3;

#[derive(Template)]
#[template(path = "projects/choose.html")]
pub(super) struct ChoosePage {
    nav: Nav,
    contents: String,
    clearance: String,
    makes: u32,
    paper: String,
    choices: Vec<ChoiceRow>,
    refused: Vec<RefusedRow>,
    /// Another clearance that changes the number of sheets: what it does, and the clearance.
    break_points: Vec<(String, String)>,
    /// The structure that was chosen before.
    structure: String,
    then: Then,
}

/// Where the buttons lead.
pub(super) struct Then {
    /// To this page again.
    pub(super) again: String,
    /// To the piece, made or changed.
    pub(super) action: String,
    /// What was typed.
    pub(super) fields: Vec<(String, String)>,
}

/// A structure that works.
struct ChoiceRow {
    slug: &'static str,
    name: String,
    about: &'static str,
    closing: Option<&'static str>,
    picture: Picture,
    blanks: Vec<BlankRow>,
    sheets: u32,
    sheet: String,
    price: Option<String>,
    prep: String,
    class: String,
    steps: usize,
    joints: usize,
    difficulty: usize,
    is_chosen: bool,
}

/// The sheet of one body.
struct BlankRow {
    body: &'static str,
    size: Both,
    yields: String,
}

/// A structure that does not work.
struct RefusedRow {
    name: String,
    why: String,
    /// A tool to add, with the address of its form.
    add: Option<(&'static str, String)>,
}

impl ChoosePage {
    pub(super) fn new(
        app: &App,
        (facts, bench): (&ProjectFacts, &Bench),
        form: &PieceForm,
        found: Comparison,
        then: Then,
    ) -> Self {
        let currency = app.config().currency;
        let paper = form.paper.parse().ok().and_then(|id| bench.paper(id));
        let row = |(at, choice): (usize, &Choice)| {
            choice_row(choice, at, (facts, currency), &form.structure)
        };
        Self {
            nav: Nav::Projects,
            contents: form.contents_name.trim().to_owned(),
            clearance: form.clearance.clone(),
            makes: facts.makes,
            paper: paper.map_or_else(String::new, |paper| paper.it.paper.name.clone()),
            break_points: break_points(&found, facts),
            choices: found.choices.iter().enumerate().map(row).collect(),
            refused: found.refused.iter().map(refused_row).collect(),
            structure: form.structure.clone(),
            then,
        }
    }
}

fn choice_row(
    choice: &Choice,
    at: usize,
    (facts, currency): (&ProjectFacts, Currency),
    chosen: &str,
) -> ChoiceRow {
    let kind = choice.made.structure.kind();
    let blanks = choice.blanks.iter().map(|blank| {
        let yields = blank.per_sheet.iter();
        let yields = yields.map(|(sheet, count)| format!("{count} from {sheet}"));
        BlankRow {
            body: blank.body,
            size: Both::sides(facts.trimmer.ruler(), blank.size.0, blank.size.1),
            yields: yields.collect::<Vec<_>>().join(", "),
        }
    });
    ChoiceRow {
        slug: kind.slug(),
        name: capital(kind.name()),
        about: kind.about(),
        closing: kind.closing(),
        picture: Picture::of(&finished(&choice.made), &format!("choice{at}")),
        blanks: blanks.collect(),
        sheets: choice.sheets.1,
        sheet: choice.sheets.0.clone(),
        price: choice.price_minor.map(|minor| currency.coded_price(minor)),
        prep: time_text(u32::try_from(choice.prep_seconds).unwrap_or(u32::MAX)),
        class: time_text(choice.class_seconds),
        steps: choice.class_steps,
        joints: choice.joints,
        difficulty: choice.difficulty(),
        is_chosen: chosen == kind.slug(),
    }
}

fn refused_row(refused: &Refused) -> RefusedRow {
    let add = refused.lacks.and_then(tool_of);
    RefusedRow {
        name: capital(refused.kind.name()),
        why: refused.why.clone(),
        add: add.map(|kind| {
            let url = format!("{}?kind={}", urls::new_tool(), kind.slug());
            (kind.name(), url)
        }),
    }
}

/// The clearances that save the most sheets, or cost the fewest, over all structures that work.
fn break_points(found: &Comparison, facts: &ProjectFacts) -> Vec<(String, String)> {
    let mut points: Vec<&BreakPoint> = found
        .choices
        .iter()
        .flat_map(|choice| &choice.break_points)
        .collect();
    points.sort_by_key(|point| std::cmp::Reverse(point.saves));
    points.truncate(MOST_BREAK_POINTS);
    let ruler = facts.board.ruler();
    points
        .into_iter()
        .map(|point| {
            let text = format!("{}: {}", capital(point.structure.name()), point.text);
            (text, length_text(ruler, point.clearance))
        })
        .collect()
}
