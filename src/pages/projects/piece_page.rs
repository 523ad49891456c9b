//! The form of a piece, with its picture and numbers beside it.

use askama::Template;
use axum::response::{IntoResponse, Response};

use tablefold_geometry::{Serves, SetOn, StructureKind};

use super::contents_fields::SHAPES;
use super::fit_fields::{FitFields, FitWords, OpeningField};
use super::mats_fields::{MATS, MatsFields};
use super::piece_form::PieceForm;
use super::piece_view::PieceView;
use super::project_form::{ProjectFields, boards, choices};
use super::supply_fields::RIBBONS;
use super::trimming_fields::TAGS;
use crate::forms::FormErrors;
use crate::pages::both::Both;
use crate::pages::picture_sizes::on_screen;
use crate::pages::{Nav, Page};
use crate::recipe::{ProjectFacts, Recipe, ToolKind, capital};
use crate::store::bench::Measured;
use crate::store::project_facts::Bench;
use crate::store::projects::Piece;
use crate::urls;

/// The form of a piece; with project fields on top for the first piece of a new project.
#[derive(Template)]
#[template(path = "projects/piece.html")]
pub(super) struct PiecePage {
    pub(super) nav: Nav,
    pub(super) title: String,
    pub(super) action: String,
    pub(super) back: (String, String),
    pub(super) remove_url: Option<String>,
    pub(super) choose_url: String,
    pub(super) project: Option<ProjectFields>,
    pub(super) form: PieceForm,
    pub(super) errors: FormErrors,
    pub(super) look: Option<PieceView>,
    pub(super) bench: Bench,
}

impl PiecePage {
    pub(super) fn new(
        bench: Bench,
        form: PieceForm,
        errors: FormErrors,
        look: Option<PieceView>,
    ) -> Self {
        Self {
            nav: Nav::Projects,
            title: "New project".to_owned(),
            action: urls::projects(),
            back: ("Projects".to_owned(), urls::projects()),
            remove_url: None,
            choose_url: urls::choose_for_project(),
            project: None,
            form,
            errors,
            look,
            bench,
        }
    }

    /// 422 while something is wrong.
    pub(super) fn answer(self) -> Response {
        if self.errors.is_empty() {
            Page::ok(self).into_response()
        } else {
            Page::invalid(self).into_response()
        }
    }

    fn shapes(&self) -> [(&'static str, &'static str); 4] {
        SHAPES
    }

    fn tags(&self) -> [(&'static str, &'static str); 3] {
        TAGS
    }

    fn ribbons(&self) -> [(&'static str, &'static str); 4] {
        RIBBONS
    }

    /// Every structure, by what it is good for.
    fn structures(&self) -> Vec<(&'static str, Vec<(&'static str, String)>)> {
        groups()
    }

    /// What the chosen structure is.
    fn about(&self) -> &'static str {
        self.form.kind().map_or("", StructureKind::about)
    }

    /// How it is kept shut.
    fn closing(&self) -> Option<&'static str> {
        self.form.kind()?.closing()
    }

    /// How the play of a lid, a drawer or a card is called, where there is one.
    fn fit(&self) -> Option<FitWords> {
        FitWords::of(self.form.kind()?, &self.bench.ruler())
    }

    /// The window that the structure can have.
    fn opening(&self) -> Option<OpeningField<'_>> {
        self.form.fit.opening(self.form.kind()?)
    }

    fn lids(&self) -> [(&'static str, &'static str); 3] {
        FitFields::lids()
    }

    /// Whether the chosen structure has a front for mats.
    fn takes_mats(&self) -> bool {
        self.form.kind().is_some_and(MatsFields::suit)
    }

    fn mats(&self) -> [(&'static str, &'static str); 3] {
        MATS
    }

    /// Name, label and what was typed for each setting of the chosen structure.
    fn hand(&self) -> Vec<(String, String, String)> {
        let kind = self.form.kind();
        kind.map(|kind| self.form.hand.fields(kind))
            .unwrap_or_default()
    }

    /// How to go on where the bench lacks a tool that the structure needs.
    fn lacks(&self) -> Option<(&'static str, String)> {
        let has = |kind| self.bench.tools.iter().any(|tool| tool.it.kind == kind);
        let needed = self.form.kind()?.fields().iter().map(|field| field.tool);
        needed
            .into_iter()
            .filter_map(tool_of)
            .find(|kind| !has(*kind))
            .map(|kind| {
                let url = format!("{}?kind={}", urls::new_tool(), kind.slug());
                (kind.name(), url)
            })
    }

    fn boards(&self) -> Vec<(String, String)> {
        boards(&self.bench)
    }

    fn trimmers(&self) -> Vec<(String, String)> {
        choices(&self.bench, ToolKind::Trimmer)
    }

    fn papers(&self) -> Vec<(String, String)> {
        let ruler = self.bench.ruler();
        let papers = self.bench.papers.iter();
        papers
            .map(|paper| {
                let sheet = &paper.it.paper;
                let sides = Both::sides(&ruler, sheet.width, sheet.height).own;
                // A name that tells the size needs no second one.
                let told = sheet.name.replace('x', "×").contains(&sides);
                let name = if told {
                    sheet.name.clone()
                } else {
                    format!("{} ({sides})", sheet.name)
                };
                (paper.id.to_string(), name)
            })
            .collect()
    }

    fn counted(&self) -> Vec<(String, String)> {
        self.supplies(Measured::Each, "Nothing")
    }

    fn by_length(&self) -> Vec<(String, String)> {
        self.supplies(Measured::Length, "No ribbon chosen")
    }

    fn supplies(&self, measured: Measured, none: &str) -> Vec<(String, String)> {
        let supplies = self.bench.supplies.iter();
        let fitting = supplies.filter(|supply| supply.it.measured == measured);
        let named = fitting.map(|supply| (supply.id.to_string(), supply.it.name.clone()));
        std::iter::once((String::new(), none.to_owned()))
            .chain(named)
            .collect()
    }
}

/// Every structure, by what it is good for.
pub(super) fn groups() -> Vec<(&'static str, Vec<(&'static str, String)>)> {
    let served = [
        (Serves::Solids, "For tins, jars, boxes"),
        (Serves::FlatThings, "For cards, packets, papers"),
        (Serves::Cards, "Cards to give"),
    ];
    let of = |serves| {
        let kinds = StructureKind::all().iter();
        let kinds = kinds.filter(move |kind| kind.serves() == serves);
        kinds.map(|kind| (kind.slug(), capital(kind.name())))
    };
    let groups = served.map(|(serves, words)| (words, of(serves).collect::<Vec<_>>()));
    groups
        .into_iter()
        .filter(|(_, kinds)| !kinds.is_empty())
        .collect()
}

/// The kind of tool that a setting is set on, of those that a bench may lack.
pub(super) fn tool_of(tool: SetOn) -> Option<ToolKind> {
    match tool {
        SetOn::PunchBoard => Some(ToolKind::PunchBoard),
        SetOn::Score => Some(ToolKind::ScoreBoard),
        SetOn::Sheet | SetOn::Trimmer => Some(ToolKind::Trimmer),
        SetOn::Template => None,
    }
}

/// Computes what was typed; what can't be made is marked at the field that is the cause.
pub(super) fn look(
    bench: &Bench,
    project: &ProjectFacts,
    (id, piece): ((i64, i64), &Piece),
    form: &PieceForm,
    errors: &mut FormErrors,
) -> Option<PieceView> {
    let (project_id, piece_id) = id;
    let mut alone = project.clone();
    alone.pieces = bench.piece(piece_id, piece).into_iter().collect();
    alone.edits.clear();
    match Recipe::build(&alone) {
        Ok(recipe) => {
            let view = PieceView::new(&alone, project_id, 0, recipe.pieces.first()?, on_screen());
            view.map(|view| view.advised(&alone))
        }
        Err(problems) => {
            for problem in problems {
                errors.add(form.field_of(problem.field), problem.message);
            }
            None
        }
    }
}
