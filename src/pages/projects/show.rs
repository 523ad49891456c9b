//! One project: pieces with the numbers that decide, parts, steps.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use tablefold_geometry::{PictureSize, Ruler, Unit};

use super::adapt::named_in;
use super::list::seconds;
use super::piece_view::PieceView;
use super::step_page::StepView;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::both::{Both, time_text};
use crate::pages::extract::{Path, Query, SignedIn};
use crate::pages::picture_sizes::on_screen;
use crate::pages::{Nav, Page, once};
use crate::print::{PrintLines, PrintPaper};
use crate::recipe::{Part, PartKind, Phase, ProjectFacts, Recipe};
use crate::store::project_facts::project_facts;
use crate::urls;

#[derive(Template)]
#[template(path = "projects/project.html")]
pub(super) struct ProjectPage {
    nav: Nav,
    pub(super) id: i64,
    pub(super) title: String,
    pub(super) makes: u32,
    is_metric: bool,
    pub(super) pieces: Vec<PieceView>,
    /// A piece that can't be made, why, and where it is edited.
    pub(super) problems: Vec<(String, String, String)>,
    pub(super) parts: Vec<PartRow>,
    prep: Vec<StepView>,
    class: Vec<StepView>,
    pub(super) prep_time: String,
    pub(super) class_time: String,
    /// What the last piece was saved without.
    without: Vec<&'static str>,
    /// What hidden steps leave undone.
    hidden_notes: Vec<String>,
    errors: FormErrors,
}

/// What one kit takes of a thing.
pub(super) struct PartRow {
    /// Which piece it is for, by its place.
    piece: usize,
    name: String,
    /// The name without that of the piece.
    pub(super) own_name: String,
    made_of: String,
    /// The paper's role, the supply or the template, by its name alone.
    pub(super) stuff: String,
    /// `None` of what is counted.
    pub(super) size: Option<Both>,
    pub(super) per_kit: u32,
}

pub(super) async fn show_project(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(saved): Query<Saved>,
) -> PageResult<Response> {
    page(&app, id, (named_in(&saved.without), FormErrors::default())).await
}

/// What the last piece was saved without.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Saved {
    without: String,
}

/// The page of a project; with errors it says why a move was refused.
pub(super) async fn page(
    app: &App,
    id: i64,
    (without, errors): (Vec<&'static str>, FormErrors),
) -> PageResult<Response> {
    let facts = project_facts(&mut *app.store().read().begin().await?, id).await?;
    let facts = facts.ok_or(PageError::NotFound)?;
    let is_good = errors.is_empty();
    let mut page = ProjectPage::new(id, &facts, errors, on_screen()).offering(&facts)?;
    page.without = without;
    Ok(if is_good {
        once::page(Page::ok(page))
    } else {
        Page::invalid(page).into_response()
    })
}

impl ProjectPage {
    /// With templates for a place of this size.
    pub(super) fn new(
        id: i64,
        facts: &ProjectFacts,
        errors: FormErrors,
        templates: PictureSize,
    ) -> Self {
        let mut page = Self {
            nav: Nav::Projects,
            id,
            title: facts.title.clone(),
            makes: facts.makes,
            is_metric: facts.board.ruler().unit() != Unit::Inch,
            pieces: Vec::new(),
            problems: Vec::new(),
            parts: Vec::new(),
            prep: Vec::new(),
            class: Vec::new(),
            prep_time: String::new(),
            class_time: String::new(),
            without: Vec::new(),
            hidden_notes: Vec::new(),
            errors,
        };
        match Recipe::build(facts) {
            Ok(recipe) => page.fill(facts, &recipe, templates),
            Err(problems) => {
                let piece = |name: &str| facts.pieces.iter().find(|piece| piece.name == name);
                let url = |name: &str| piece(name).map(|piece| urls::piece(id, piece.id));
                page.problems = problems
                    .into_iter()
                    .map(|it| {
                        (
                            it.piece.clone(),
                            it.message,
                            url(&it.piece).unwrap_or_default(),
                        )
                    })
                    .collect();
            }
        }
        page
    }

    /// With a button on each card that adds its envelope.
    fn offering(mut self, facts: &ProjectFacts) -> PageResult<Self> {
        let named = || facts.pieces.iter().map(|it| (it.id, it.name.as_str()));
        let pieces = self.pieces.into_iter();
        let offered = pieces.map(|piece| piece.offering(self.id, named()));
        self.pieces = offered.collect::<PageResult<_>>()?;
        Ok(self)
    }

    fn fill(&mut self, facts: &ProjectFacts, recipe: &Recipe, templates: PictureSize) {
        let made = recipe.pieces.iter().enumerate();
        self.pieces = made
            .filter_map(|(at, made)| PieceView::new(facts, self.id, at, made, templates))
            .collect();
        let of_piece = |part: &Part| {
            let piece = &recipe.pieces.get(part.piece)?.name;
            Some(part_row(part, piece, facts.trimmer.ruler()))
        };
        self.parts = recipe.parts.iter().filter_map(of_piece).collect();
        let views = |phase: Phase| {
            let steps = recipe.steps.iter().enumerate();
            steps
                .filter(|(_, step)| step.operation.phase == phase)
                .map(|(at, step)| StepView::new(facts, self.id, recipe, (at, step)))
                .collect()
        };
        (self.prep, self.class) = (views(Phase::Prep), views(Phase::Class));
        self.hidden_notes = recipe.hidden_notes();
        let steps = &recipe.steps;
        self.prep_time = time_text(seconds(steps.iter().filter(|step| step.is_prep())));
        self.class_time = time_text(seconds(steps.iter().filter(|step| step.is_class())));
    }

    /// What is cut for a piece, by its place.
    pub(super) fn cut_for(&self, piece: &usize) -> impl Iterator<Item = &PartRow> {
        let cut = self.parts.iter().filter(|part| part.size.is_some());
        cut.filter(|part| part.piece == *piece)
    }

    fn edit_url(&self) -> String {
        urls::edit_project(self.id)
    }

    fn new_piece_url(&self) -> String {
        urls::new_piece(self.id)
    }

    fn templates_url(&self) -> String {
        urls::project_templates(self.id)
    }

    /// The paper that people who measure so have at home.
    fn usual_paper(&self) -> &'static str {
        match self.is_metric {
            true => PrintPaper::A4.slug(),
            false => PrintPaper::Letter.slug(),
        }
    }

    fn papers(&self) -> [(&'static str, &'static str); 3] {
        PrintPaper::ALL.map(|paper| (paper.slug(), paper.label()))
    }

    fn lines(&self) -> [(&'static str, &'static str); 2] {
        PrintLines::ALL.map(|lines| (lines.slug(), lines.label()))
    }

    fn new_step_url(&self) -> String {
        urls::new_step(self.id)
    }

    /// Both lists of steps, each with its heading and what it says while it is empty.
    fn lists(&self) -> [(&'static str, &'static str, &str, &[StepView]); 2] {
        [
            (
                "prep",
                "Before the class, by you",
                &self.prep_time,
                &self.prep,
            ),
            (
                "class",
                "In class, by each attendee",
                &self.class_time,
                &self.class,
            ),
        ]
    }
}

fn part_row(part: &Part, piece: &str, ruler: &Ruler) -> PartRow {
    let without = part.name.strip_prefix(piece);
    let own_name = without.and_then(|name| name.strip_prefix(": "));
    let own_name = own_name.unwrap_or(&part.name);
    let (stuff, size) = match &part.kind {
        PartKind::Cut {
            role,
            width,
            height,
        } => (role.clone(), Some(Both::sides(ruler, *width, *height))),
        PartKind::Ribbon { name, length, .. } => (name.clone(), Some(Both::of(ruler, *length))),
        PartKind::Counted { name, .. } => (name.clone(), None),
        PartKind::Template => (format!("{own_name}, printed"), None),
    };
    let made_of = match &part.kind {
        PartKind::Cut { role, .. } => format!("paper for \"{role}\""),
        PartKind::Template => "printed at true size".to_owned(),
        _ => stuff.clone(),
    };
    PartRow {
        piece: part.piece,
        name: part.name.clone(),
        own_name: own_name.to_owned(),
        made_of,
        stuff,
        size,
        per_kit: part.per_kit,
    }
}
