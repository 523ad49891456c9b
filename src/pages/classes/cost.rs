//! What a class costs and earns, with the form for fee, venue and own time.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use sqlx::SqliteConnection;
use tablefold_geometry::Ruler;

use super::cost_form::CostForm;
use super::cost_view::CostView;
use super::planning::{Made, PATIENCE, make, planning};
use super::problem_lines;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, see_other};
use crate::planner::CutPlanner;
use crate::store::Update;
use crate::store::class_facts::class_facts;
use crate::store::class_money::{bought, find_class_money, update_class_money};
use crate::store::classes::{Class, find_class};
use crate::store::project_facts::Bench;
use crate::urls;
use crate::workshop::{Bought, ClassFacts, Consumables, cost};

#[derive(Template)]
#[template(path = "classes/cost.html")]
struct CostPage {
    nav: Nav,
    id: i64,
    title: String,
    currency: &'static str,
    adhesives: Vec<(String, String)>,
    view: Option<CostView>,
    problems: Vec<super::ProblemLine>,
    form: CostForm,
    errors: FormErrors,
}

impl CostPage {
    fn minutes_hint(&self) -> String {
        match &self.view {
            Some(view) => format!(
                "Empty: prep and class as planned, {} min",
                view.planned_minutes
            ),
            None => "Empty: prep and class as planned".to_owned(),
        }
    }

    fn consumables(&self) -> [(&'static str, &'static str); 2] {
        Consumables::ALL.map(|it| (it.slug(), it.label()))
    }
}

/// Everything of one moment.
struct Stored {
    class: Class,
    facts: ClassFacts,
    bought: Bought,
    version: i64,
    ruler: Ruler,
    /// Supplies that may hold joints, and none.
    adhesives: Vec<(String, String)>,
}

async fn stored(db: &mut SqliteConnection, id: i64) -> PageResult<Stored> {
    let class = find_class(&mut *db, id).await?.ok_or(PageError::NotFound)?;
    let facts = class_facts(&mut *db, id)
        .await?
        .ok_or(PageError::NotFound)?;
    let (_, version) = find_class_money(&mut *db, id).await?;
    let bench = Bench::read(&mut *db).await?;
    let none = (String::new(), "Not on the list".to_owned());
    let supplies = bench
        .supplies
        .iter()
        .map(|it| (it.id.to_string(), it.it.name.clone()));
    Ok(Stored {
        class,
        bought: bought(&mut *db, id).await?,
        version,
        ruler: *facts.project.board.ruler(),
        facts,
        adhesives: std::iter::once(none).chain(supplies).collect(),
    })
}

impl Stored {
    fn form(&self, app: &App) -> CostForm {
        let currency = app.config().currency;
        CostForm::of(&self.bought.money, self.version, &self.ruler, currency)
    }

    /// The page, or how many percent of the planning are done.
    async fn page(
        self,
        app: &App,
        planner: &CutPlanner,
        (form, errors): (CostForm, FormErrors),
    ) -> Result<CostPage, u32> {
        let (view, problems) = match make(planner, &self.facts).await {
            Made::Packet(packet) => {
                let cost = cost(&self.facts, &packet, &self.bought);
                let currency = app.config().currency;
                let view = CostView::of(&self.facts, &self.bought, &cost, (&self.ruler, currency));
                (Some(view), Vec::new())
            }
            Made::Refused(problems) => (None, problem_lines(&self.class, &self.facts, &problems)),
            Made::Planning(percent) => return Err(percent),
        };
        Ok(CostPage {
            nav: Nav::Classes,
            id: self.class.id,
            title: self.facts.title,
            currency: app.config().currency.code(),
            adhesives: self.adhesives,
            view,
            problems,
            form,
            errors,
        })
    }
}

pub(super) async fn edit_cost(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let stored = stored(&mut *app.store().read().begin().await?, id).await?;
    let title = stored.facts.title.clone();
    let form = (stored.form(&app), FormErrors::default());
    Ok(match stored.page(&app, app.planner(), form).await {
        Ok(page) => Page::ok(page).into_response(),
        Err(percent) => planning(&title, percent, None),
    })
}

pub(super) async fn update_cost(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<CostForm>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let stored = stored(&mut change, id).await?;
    let mut errors = FormErrors::default();
    let money = (&stored.ruler, app.config().currency);
    let Some(money) = form.read(&stored.adhesives, money, &mut errors) else {
        // Planning may take a while: nobody else waits for the database meanwhile.
        drop(change);
        let title = stored.facts.title.clone();
        let planner = app.planner().waiting(PATIENCE);
        return Ok(match stored.page(&app, &planner, (form, errors)).await {
            Ok(page) => Page::invalid(page).into_response(),
            Err(percent) => planning(&title, percent, None),
        });
    };
    if update_class_money(&mut *change, (id, form.version), &money).await? == Update::Stale {
        let url = urls::class_cost(id);
        let now = stored.form(&app);
        return Err(stale(
            "cost",
            url.clone(),
            url,
            &form,
            (&now, stored.version),
        ));
    }
    change.commit().await?;
    Ok(see_other(&urls::class_cost(id)))
}
