//! A step on the project's page, and the form of one.

use askama::Template;

use super::order;
use super::step_form::{PHASES, StepForm};
use crate::forms::FormErrors;
use crate::pages::Nav;
use crate::pages::both::time_text;
use crate::pages::picture::Picture;
use crate::pages::picture_sizes::in_step_list;
use crate::recipe::{ProjectFacts, Recipe, Step, StepEdit, draw};
use crate::urls;

/// A step on the project's page.
pub(super) struct StepView {
    pub(super) key: String,
    pub(super) title: String,
    pub(super) text: String,
    pub(super) tip: String,
    /// THE measure, and converted.
    pub(super) measure: Option<(String, Option<String>)>,
    pub(super) tool: Option<&'static str>,
    pub(super) time: String,
    pub(super) caution: Option<&'static str>,
    pub(super) picture: Option<Picture>,
    pub(super) hidden: bool,
    /// In its words.
    pub(super) reworded: bool,
    /// In more than its place.
    changed: bool,
    pub(super) own: bool,
    pub(super) edit_url: String,
    pub(super) move_url: String,
}

impl StepView {
    pub(super) fn new(
        facts: &ProjectFacts,
        project: i64,
        recipe: &Recipe,
        (at, step): (usize, &Step),
    ) -> Self {
        let operation = &step.operation;
        let scene = draw(facts, &recipe.pieces, operation, false, in_step_list());
        let ruler = recipe.ruler_of(operation.tool);
        let edit = facts.edits.iter().find(|edit| edit.key == operation.key);
        Self {
            key: operation.key.clone(),
            title: operation.title.clone(),
            text: step.text(ruler),
            tip: step.tip(ruler),
            measure: step.measure(ruler),
            tool: operation.tool.map(|tool| tool.name()),
            time: time_text(operation.seconds),
            caution: operation.caution.map(|caution| caution.text()),
            picture: scene.map(|scene| Picture::of(&scene, &format!("step{at}"))),
            hidden: step.hidden,
            reworded: edit.is_some_and(is_reworded),
            changed: edit.is_some_and(is_changed),
            own: edit.is_some_and(StepEdit::is_own),
            edit_url: urls::step(project, &operation.key),
            move_url: urls::move_step(project, &operation.key),
        }
    }
}

/// Whether its words were changed.
fn is_reworded(edit: &StepEdit) -> bool {
    edit.title.is_some() || edit.text.is_some() || edit.tip.is_some()
}

/// Whether more than the place of a step was changed.
fn is_changed(edit: &StepEdit) -> bool {
    let place = StepEdit {
        key: edit.key.clone(),
        position: edit.position,
        ..StepEdit::default()
    };
    *edit != place
}

/// The form of a step.
#[derive(Template)]
#[template(path = "projects/step.html")]
pub(super) struct StepPage {
    nav: Nav,
    title: String,
    action: String,
    project: (String, String),
    /// The step as it is; nothing for a new one.
    view: Option<StepView>,
    /// Each measure of the step: its word, and its present value.
    measures: Vec<(&'static str, String)>,
    /// For a new step: where it may stand.
    places: Vec<(String, String)>,
    reset_url: Option<String>,
    form: StepForm,
    errors: FormErrors,
}

impl StepPage {
    /// A step of the project.
    pub(super) fn stored(
        (facts, id): (&ProjectFacts, i64),
        recipe: &Recipe,
        step: &Step,
        form: StepForm,
        errors: FormErrors,
    ) -> Self {
        let key = &step.operation.key;
        let view = StepView::new(facts, id, recipe, (0, step));
        let measures = step.operation.measures.iter();
        let ruler = recipe.ruler_of(step.operation.tool);
        Self {
            nav: Nav::Projects,
            title: format!("Step: {}", step.operation.title),
            action: urls::step(id, key),
            project: (facts.title.clone(), urls::project(id)),
            measures: measures.map(|it| (it.key, it.value.text(ruler))).collect(),
            places: Vec::new(),
            reset_url: (view.own || view.changed).then(|| urls::reset_step(id, key)),
            view: Some(view),
            form,
            errors,
        }
    }

    /// A step of the instructor's own.
    pub(super) fn new(
        (facts, id): (&ProjectFacts, i64),
        recipe: &Recipe,
        form: StepForm,
        errors: FormErrors,
    ) -> Self {
        let mut places = vec![(String::new(), "Before all others".to_owned())];
        for key in order::in_order(recipe) {
            if let Some(step) = recipe.step(&key) {
                places.push((key, step.operation.title.clone()));
            }
        }
        Self {
            nav: Nav::Projects,
            title: "A step of your own".to_owned(),
            action: urls::steps(id),
            project: (facts.title.clone(), urls::project(id)),
            view: None,
            measures: Vec::new(),
            places,
            reset_url: None,
            form,
            errors,
        }
    }

    fn phases(&self) -> [(&'static str, &'static str); 2] {
        PHASES
    }

    fn is_own(&self) -> bool {
        self.view.as_ref().is_none_or(|view| view.own)
    }
}
