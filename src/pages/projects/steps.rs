//! Rewording, hiding, moving and adding steps.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::pieces::MoveForm;
use super::step_form::{StepForm, only_changes, phase_slug};
use super::step_page::StepPage;
use super::{order, show};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, quoted_part};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::stale::stale;
use crate::pages::{Page, once, see_other};
use crate::recipe::{Phase, ProjectFacts, Recipe, Step, StepEdit, switched};
use crate::store::project_facts::project_facts;
use crate::store::projects::{self, StepRow};
use crate::store::{Change, Update};
use crate::urls;

/// A project and its recipe.
struct Loaded {
    id: i64,
    facts: ProjectFacts,
    recipe: Recipe,
}

async fn load(app: &App, id: i64) -> PageResult<Loaded> {
    let mut read = app.store().read().begin().await?;
    let facts = project_facts(&mut read, id).await?;
    let facts = facts.ok_or(PageError::NotFound)?;
    let recipe = Recipe::build(&facts).map_err(|_| {
        PageError::bad_request(
            "A piece of this project can't be made as it is, so it has no steps.",
            "Open the project and edit the piece that it names.",
        )
    })?;
    Ok(Loaded { id, facts, recipe })
}

impl Loaded {
    fn step(&self, key: &str) -> PageResult<&Step> {
        self.recipe.step(key).ok_or(PageError::NotFound)
    }

    /// The step as the recipe has it; an own step has no other than itself.
    fn default_step(&self, key: &str) -> Option<Step> {
        let mut facts = self.facts.clone();
        facts.edits.clear();
        Recipe::build(&facts).ok()?.step(key).cloned()
    }

    fn page(&self, step: &Step, form: StepForm, errors: FormErrors) -> StepPage {
        let facts = (&self.facts, self.id);
        StepPage::stored(facts, &self.recipe, step, form, errors)
    }
}

async fn find_row(app: &App, project: i64, key: &str) -> PageResult<Option<StepRow>> {
    Ok(projects::find_step_edit(app.store().read(), project, key).await?)
}

pub(super) async fn edit_step(
    State(app): State<App>,
    _: SignedIn,
    Path((project, key)): Path<(i64, String)>,
) -> PageResult<Page<impl Template>> {
    let (loaded, row) = (
        load(&app, project).await?,
        find_row(&app, project, &key).await?,
    );
    let step = loaded.step(&key)?;
    let form = StepForm::of(step, row.map_or(0, |row| row.version));
    Ok(Page::ok(loaded.page(step, form, FormErrors::default())))
}

pub(super) async fn update_step(
    State(app): State<App>,
    _: SignedIn,
    Path((project, key)): Path<(i64, String)>,
    ProtectedForm(form): ProtectedForm<StepForm>,
) -> PageResult<Response> {
    let (loaded, row) = (
        load(&app, project).await?,
        find_row(&app, project, &key).await?,
    );
    let step = loaded.step(&key)?;
    let mut errors = FormErrors::default();
    let Some(edit) = read(&loaded, step, &form, &mut errors) else {
        return Ok(Page::invalid(loaded.page(step, form, errors)).into_response());
    };
    let version = form.version.parse().unwrap_or(0);
    let mut change = app.store().change().await?;
    if store(&mut change, project, (version, row.as_ref()), &edit).await? == Update::Stale {
        let version = row.map_or(0, |row| row.version);
        let now = StepForm::of(step, version);
        let url = urls::step(project, &key);
        return Err(stale("step", url.clone(), url, &form, (&now, version)));
    }
    change.commit().await?;
    Ok(see_other(&urls::project(project)))
}

/// What was typed, and whether the step may be in that phase.
fn read(
    loaded: &Loaded,
    step: &Step,
    form: &StepForm,
    errors: &mut FormErrors,
) -> Option<StepEdit> {
    let operation = &step.operation;
    let edit = form.read(&operation.measures, errors)?;
    if let Some(phase) = edit.phase.filter(|phase| *phase != operation.phase) {
        let all: Vec<_> = loaded
            .recipe
            .steps
            .iter()
            .map(|step| step.operation.clone())
            .collect();
        errors.keep("phase", "When", switched(&all, &operation.key, phase))?;
    }
    let edit = StepEdit {
        key: operation.key.clone(),
        ..edit
    };
    Some(match loaded.default_step(&operation.key) {
        Some(default) => only_changes(edit, &default),
        None => edit,
    })
}

async fn store(
    change: &mut Change,
    project: i64,
    (version, row): (i64, Option<&StepRow>),
    edit: &StepEdit,
) -> PageResult<Update> {
    Ok(if row.is_some() {
        projects::update_step_edit(&mut **change, project, version, edit).await?
    } else {
        projects::insert_step_edit(&mut **change, project, edit).await?
    })
}

pub(super) async fn reset_step(
    State(app): State<App>,
    _: SignedIn,
    Path((project, key)): Path<(i64, String)>,
) -> PageResult<Response> {
    let loaded = load(&app, project).await?;
    loaded.step(&key)?;
    let mut change = app.store().change().await?;
    projects::delete_step_edit(&mut *change, project, &key).await?;
    change.commit().await?;
    Ok(see_other(&urls::project(project)))
}

pub(super) async fn move_step(
    State(app): State<App>,
    _: SignedIn,
    Path((project, key)): Path<(i64, String)>,
    ProtectedForm(form): ProtectedForm<MoveForm>,
) -> PageResult<Response> {
    let loaded = load(&app, project).await?;
    loaded.step(&key)?;
    match order::after_move(&loaded.recipe, &key, form.direction == "up") {
        Ok(keys) => {
            let mut change = app.store().change().await?;
            projects::update_step_order(&mut change, project, &keys).await?;
            change.commit().await?;
            let to = format!("{}#step-{key}", urls::project(project));
            Ok(see_other(&to))
        }
        Err(refused) => {
            let mut errors = FormErrors::default();
            errors.add(format!("step-{key}"), refused.to_string());
            show::page(&app, project, (Vec::new(), errors)).await
        }
    }
}

pub(super) async fn new_step(
    State(app): State<App>,
    _: SignedIn,
    Path(project): Path<i64>,
) -> PageResult<Response> {
    let loaded = load(&app, project).await?;
    let last = order::in_order(&loaded.recipe).pop().unwrap_or_default();
    let form = StepForm {
        once: once::token()?,
        ..StepForm::new_after(last)
    };
    let facts = (&loaded.facts, project);
    let page = StepPage::new(facts, &loaded.recipe, form, FormErrors::default());
    Ok(once::page(Page::ok(page)))
}

pub(super) async fn create_step(
    State(app): State<App>,
    _: SignedIn,
    Path(project): Path<i64>,
    ProtectedForm(form): ProtectedForm<StepForm>,
) -> PageResult<Response> {
    let loaded = load(&app, project).await?;
    let mut errors = FormErrors::default();
    let edit = form.read(&[], &mut errors);
    let place = place(&loaded.recipe, &form, &mut errors);
    let (Some(edit), Some(place)) = (edit, place) else {
        let facts = (&loaded.facts, project);
        let page = StepPage::new(facts, &loaded.recipe, form, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let mut keys = order::in_order(&loaded.recipe);
    let mut change = app.store().change().await?;
    if let Some(made) = once::made(&mut change, &form.once).await? {
        return Ok(made);
    }
    let key = projects::insert_own_step(&mut change, project, &edit).await?;
    keys.insert(place, key);
    projects::update_step_order(&mut change, project, &keys).await?;
    once::commit(&app, change, &form.once, &urls::project(project)).await
}

/// Where an own step goes among all steps: behind one that is there and is done before it.
fn place(recipe: &Recipe, form: &StepForm, errors: &mut FormErrors) -> Option<usize> {
    if form.after.is_empty() {
        return Some(0);
    }
    let keys = order::in_order(recipe);
    let at = keys.iter().position(|key| *key == form.after);
    let (Some(at), Some(before)) = (at, recipe.step(&form.after)) else {
        errors.add(
            "after",
            format!(
                "After which step: \"{}\" is not a step of this project any more. Choose one from the list.",
                quoted_part(&form.after)
            ),
        );
        return None;
    };
    if form.phase == phase_slug(Phase::Prep) && before.operation.phase == Phase::Class {
        errors.add(
            "after",
            format!(
                "After which step: \"{}\" is done in class, so this one can't come before the class. Choose a step before the class, or do this one in class too.",
                before.operation.title
            ),
        );
        return None;
    }
    Some(at + 1)
}
