//! Adding, editing and removing supplies.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use tablefold_geometry::Ruler;

use super::offers::{self, OfferRow};
use super::removal;
use super::supply_form::{MEASURED, SupplyForm};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, quoted_part};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, see_other};
use crate::store::bench::{self, BenchSupply};
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
    form: SupplyForm,
    errors: FormErrors,
    offers: Vec<OfferRow>,
    offers_url: String,
}

impl SupplyPage {
    fn new(form: SupplyForm, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Bench,
            title: "New supply".to_owned(),
            action: urls::supplies(),
            id: None,
            form,
            errors,
            offers: Vec::new(),
            offers_url: String::new(),
        }
    }

    fn stored(
        supply: &Saved<BenchSupply>,
        form: SupplyForm,
        errors: FormErrors,
        offers: Vec<OfferRow>,
    ) -> Self {
        Self {
            title: supply.it.name.clone(),
            action: urls::supply(supply.id),
            id: Some(supply.id),
            offers_url: urls::supply_offers(supply.id),
            offers,
            ..Self::new(form, errors)
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

pub(super) async fn new_supply(_: SignedIn) -> PageResult<Page<impl Template>> {
    let form = SupplyForm::empty();
    Ok(Page::ok(SupplyPage::new(form, FormErrors::default())))
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
        if bench::insert_supply(&mut *change, &supply).await?.is_some() {
            change.commit().await?;
            return Ok(see_other(&urls::bench()));
        }
        add_taken(&mut errors, &form.name);
    }
    Ok(Page::invalid(SupplyPage::new(form, errors)).into_response())
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
    Ok(Page::ok(SupplyPage::stored(&supply, form, errors, offers)))
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
    let page = SupplyPage::stored(&saved, form, errors, offers);
    Ok(Page::invalid(page).into_response())
}

pub(super) async fn delete_supply(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let (supply, ruler) = (find(&app, id).await?, ruler(&app).await?);
    let mut change = app.store().change().await?;
    let uses = bench::list_uses_of_supply(&mut *change, id).await?;
    if let Some(why) = removal::refusal("supply", &uses) {
        let mut errors = FormErrors::default();
        errors.add("remove", why);
        let form = SupplyForm::of(&supply.it, supply.version, &ruler, app.config().currency);
        let offers = offers::rows(&app, Item::Supply(id), &ruler).await?;
        let page = SupplyPage::stored(&supply, form, errors, offers);
        return Ok(Page::invalid(page).into_response());
    }
    bench::delete_supply(&mut *change, id).await?;
    change.commit().await?;
    Ok(see_other(&urls::bench()))
}
