//! Adding, editing and removing supplies.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use sqlx::SqliteExecutor;
use tablefold_geometry::Ruler;

use super::offers::{self, OfferRow};
use super::supply_form::{MEASURED, SupplyForm, is_by_the_yard};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, quoted_part};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::removal::{self, RemovalPage};
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, once, see_other};
use crate::store::bench::{self, BenchSupply, Measured};
use crate::store::project_facts::Bench;
use crate::store::{Saved, Update};
use crate::urls;
use crate::workshop::Item;

#[derive(Template)]
#[template(path = "bench/supply.html")]
struct SupplyPage {
    nav: Nav,
    title: String,
    action: String,
    id: Option<i64>,
    ruler: Ruler,
    form: SupplyForm,
    errors: FormErrors,
    offers: Vec<OfferRow>,
    offers_url: String,
}

impl SupplyPage {
    fn new(ruler: Ruler, form: SupplyForm, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Bench,
            title: "New supply".to_owned(),
            action: urls::supplies(),
            id: None,
            ruler,
            form,
            errors,
            offers: Vec::new(),
            offers_url: String::new(),
        }
    }

    fn stored(
        supply: &Saved<BenchSupply>,
        (form, errors): (SupplyForm, FormErrors),
        ruler: Ruler,
        offers: Vec<OfferRow>,
    ) -> Self {
        Self {
            title: supply.it.name.clone(),
            action: urls::supply(supply.id),
            id: Some(supply.id),
            offers_url: urls::supply_offers(supply.id),
            offers,
            ..Self::new(ruler, form, errors)
        }
    }

    fn price_of(&self) -> &'static str {
        if is_by_the_yard(Measured::Length, &self.ruler) {
            "Of one, or of a yard cut off the reel"
        } else {
            "Of one, or of a metre cut off the reel"
        }
    }

    fn remove_url(&self) -> Option<String> {
        self.id.map(urls::remove_supply)
    }

    fn measures(&self) -> [(&'static str, &'static str); 2] {
        MEASURED
    }
}

fn add_taken(errors: &mut FormErrors, name: &str) {
    errors.add(
        "name",
        format!(
            "Name: another supply is called \"{}\". Type another name.",
            quoted_part(name)
        ),
    );
}

async fn ruler(app: &App) -> PageResult<Ruler> {
    let bench = Bench::read(&mut *app.store().read().acquire().await?).await?;
    Ok(bench.ruler())
}

pub(super) async fn new_supply(State(app): State<App>, _: SignedIn) -> PageResult<Response> {
    let form = SupplyForm {
        once: once::token()?,
        ..SupplyForm::empty()
    };
    let page = SupplyPage::new(ruler(&app).await?, form, FormErrors::default());
    Ok(once::page(Page::ok(page)))
}

pub(super) async fn create_supply(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<SupplyForm>,
) -> PageResult<Response> {
    let ruler = ruler(&app).await?;
    let mut errors = FormErrors::default();
    if let Some(supply) = form.read((&ruler, app.config().currency), None, &mut errors) {
        let mut change = app.store().change().await?;
        if let Some(made) = once::made(&mut change, &form.once).await? {
            return Ok(made);
        }
        if bench::insert_supply(&mut *change, &supply).await?.is_some() {
            return once::commit(&app, change, &form.once, &urls::bench()).await;
        }
        add_taken(&mut errors, &form.name);
    }
    Ok(Page::invalid(SupplyPage::new(ruler, form, errors)).into_response())
}

async fn find(app: &App, id: i64) -> PageResult<Saved<BenchSupply>> {
    let found = bench::find_supply(app.store().read(), id).await?;
    found.ok_or(PageError::NotFound)
}

pub(super) async fn edit_supply(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let (supply, ruler) = (find(&app, id).await?, ruler(&app).await?);
    let form = SupplyForm::of(&supply.it, supply.version, &ruler, app.config().currency);
    let errors = FormErrors::default();
    let offers = offers::rows(&app, Item::Supply(id), &ruler).await?;
    let page = SupplyPage::stored(&supply, (form, errors), ruler, offers);
    Ok(Page::ok(page))
}

pub(super) async fn update_supply(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<SupplyForm>,
) -> PageResult<Response> {
    let (saved, ruler) = (find(&app, id).await?, ruler(&app).await?);
    let mut errors = FormErrors::default();
    if let Some(supply) = form.read(
        (&ruler, app.config().currency),
        Some(saved.it.measured),
        &mut errors,
    ) {
        let version = form.version.parse().unwrap_or(0);
        let mut change = app.store().change().await?;
        match bench::update_supply(&mut *change, (id, version), &supply).await? {
            Some(Update::Done) => {
                change.commit().await?;
                return Ok(see_other(&urls::bench()));
            }
            Some(Update::Stale) => {
                let now = SupplyForm::of(&saved.it, saved.version, &ruler, app.config().currency);
                let url = urls::supply(id);
                return Err(stale(
                    "supply",
                    url.clone(),
                    url,
                    &form,
                    (&now, saved.version),
                ));
            }
            None => add_taken(&mut errors, &form.name),
        }
    }
    let offers = offers::rows(&app, Item::Supply(id), &ruler).await?;
    let page = SupplyPage::stored(&saved, (form, errors), ruler, offers);
    Ok(Page::invalid(page).into_response())
}

async fn removal(
    db: impl SqliteExecutor<'_>,
    supply: Saved<BenchSupply>,
) -> PageResult<RemovalPage> {
    let uses = bench::list_uses_of_supply(db, supply.id).await?;
    Ok(RemovalPage {
        nav: Nav::Bench,
        what: "supply",
        goes: "It goes from your bench, with its price and what is on hand.".to_owned(),
        refusal: removal::refusal("supply", &uses),
        action: urls::remove_supply(supply.id),
        keep: urls::supply(supply.id),
        name: supply.it.name,
    })
}

pub(super) async fn ask_remove_supply(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let supply = find(&app, id).await?;
    Ok(removal(app.store().read(), supply).await?.ask())
}

pub(super) async fn delete_supply(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let supply = find(&app, id).await?;
    let mut change = app.store().change().await?;
    if let Some(refused) = removal(&mut *change, supply).await?.refused() {
        return Ok(refused);
    }
    bench::delete_supply(&mut *change, id).await?;
    change.commit().await?;
    Ok(see_other(&urls::bench()))
}
