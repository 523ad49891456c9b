//! The page "Which structure?": what each one costs the class, and why others do not work.

use askama::Template;
use tablefold_geometry::{BreakPoint, Ruler, Serves};

use super::adapt::adapted;
use super::break_button::BreakButton;
use super::piece_form::PieceForm;
use super::piece_page::tool_of;
use super::post_view::PostView;
use super::tolerance_view::ToleranceView;
use crate::app::App;
use crate::forms::{FormErrors, length_text};
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
    /// Other clearances and sizes that change the number of sheets.
    break_points: Vec<BreakRow>,
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

/// A small change that changes the number of sheets, of one of the structures.
struct BreakRow {
    button: BreakButton,
    /// What it does, and for which structure.
    text: String,
    /// All other fields.
    fields: Vec<(String, String)>,
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
    /// What of the piece it cannot have: "band".
    without: Vec<&'static str>,
    tolerance: Option<ToleranceView>,
    /// Of a card: envelopes and post.
    post: Option<String>,
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
            choice_row(choice, at, (facts, currency), (bench, form))
        };
        Self {
            nav: Nav::Projects,
            contents: form.contents_name.trim().to_owned(),
            clearance: form.clearance.clone(),
            makes: facts.makes,
            paper: paper.map_or_else(String::new, |paper| paper.it.paper.name.clone()),
            break_points: break_points(&found, facts, form, &then.fields),
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
    (bench, form): (&Bench, &PieceForm),
) -> ChoiceRow {
    let kind = choice.made.structure.kind();
    let mut asked = form.clone();
    asked.structure = kind.slug().to_owned();
    asked.hand.clear();
    let (_, without) = adapted(bench, facts, &asked);
    let piece = asked.read_contents(bench, facts, &mut FormErrors::default());
    let piece = piece.and_then(|piece| bench.piece(0, &piece));
    let tolerance = piece
        .as_ref()
        .and_then(|piece| ToleranceView::new(facts, piece, &choice.made));
    let ruler = facts.board.ruler();
    let post = piece
        .as_ref()
        .and_then(|piece| PostView::new(piece, &choice.made, ruler));
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
        closing: choice.made.structure.settings().closing(),
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
        is_chosen: form.structure == kind.slug(),
        without,
        tolerance,
        post: post.map(|post| post.line()),
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

/// The changes that come to the fewest sheets, over all structures that work.
fn break_points(
    found: &Comparison,
    facts: &ProjectFacts,
    form: &PieceForm,
    fields: &[(String, String)],
) -> Vec<BreakRow> {
    let mut points: Vec<&BreakPoint> = found
        .choices
        .iter()
        .flat_map(|choice| &choice.break_points)
        .collect();
    points.sort_by_key(|point| point.order());
    points.truncate(MOST_BREAK_POINTS);
    let ruler = facts.board.ruler();
    let points = points.into_iter();
    points
        .map(|point| break_row(point, ruler, form, fields))
        .collect()
}

fn break_row(
    point: &BreakPoint,
    ruler: &Ruler,
    form: &PieceForm,
    fields: &[(String, String)],
) -> BreakRow {
    let (kind, button) = (point.structure, BreakButton::new(point, ruler));
    let told = match point.size {
        None => button.text.clone(),
        Some(size) => {
            let by = length_text(ruler, size.by());
            let what = match form.contents_name.trim() {
                "" => "what goes in",
                named => named,
            };
            let lead = match kind.serves() {
                Serves::Solids => format!("If the {what} were {by} {}", size.word()),
                _ => format!("Make it {by} {}", size.word()),
            };
            format!("{lead}: {}", uncapital(&button.text))
        }
    };
    let typed = [
        ("structure", &form.structure),
        ("clearance", &form.clearance),
    ];
    let typed = typed.map(|(name, value)| (name.to_owned(), value.clone()));
    let others = fields.iter().cloned().chain(typed);
    BreakRow {
        text: format!("{}. {told}", capital(kind.name())),
        fields: others.filter(|(other, _)| other != button.field).collect(),
        button,
    }
}

/// "A height" after a colon: "a height".
fn uncapital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(letters).collect()
    })
}
