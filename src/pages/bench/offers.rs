//! Adding, editing and removing what shops ask for a paper or a supply.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use sqlx::SqliteConnection;
use tablefold_geometry::Ruler;

use super::offer_form::OfferForm;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, spool_text};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::removal::RemovalPage;
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, once, see_other};
use crate::store::bench::{self, BenchOffer, Measured};
use crate::store::project_facts::Bench;
use crate::store::{Saved, Update};
use crate::urls;
use crate::workshop::{Currency, Item, Offer, ShopPack};

/// One offer on the page of what it is for.
pub(super) struct OfferRow {
    pub(super) url: String,
    pub(super) shop: String,
    pub(super) pack: String,
    pub(super) price: String,
    pub(super) multi: String,
}

/// The offers for one thing.
pub(super) async fn rows(app: &App, item: Item, ruler: &Ruler) -> PageResult<Vec<OfferRow>> {
    let offers = bench::list_offers_of(app.store().read(), item).await?;
    let currency = app.config().currency;
    Ok(offers
        .iter()
        .map(|offer| row(offer, ruler, currency))
        .collect())
}

fn row(offer: &Saved<BenchOffer>, ruler: &Ruler, currency: Currency) -> OfferRow {
    let it = &offer.it.offer;
    OfferRow {
        url: urls::offer(offer.id),
        shop: it.shop.clone(),
        pack: pack_text(it, ruler),
        price: currency.coded_price(it.price_minor),
        multi: it.multi.map_or_else(String::new, |multi| {
            format!(
                "{} for {}",
                multi.packs,
                currency.coded_price(multi.price_minor)
            )
        }),
    }
}

/// "single", "pack of 10", "25 m".
fn pack_text(offer: &Offer, ruler: &Ruler) -> String {
    match offer.pack {
        ShopPack::Count(1) => "single".to_owned(),
        ShopPack::Count(count) => format!("pack of {count}"),
        ShopPack::Spool(length) => format!("spool of {}", spool_text(ruler, length)),
        ShopPack::Metre => "off the reel".to_owned(),
    }
}

/// What an offer is for.
struct Thing {
    item: Item,
    name: String,
    by_length: bool,
    ruler: Ruler,
}

impl Thing {
    fn url(&self) -> String {
        match self.item {
            Item::Paper(id) => urls::paper(id),
            Item::Supply(id) => urls::supply(id),
        }
    }
}

async fn thing(db: &mut SqliteConnection, item: Item) -> PageResult<Thing> {
    let bench = Bench::read(db).await?;
    let found = match item {
        Item::Paper(id) => bench
            .paper(id)
            .map(|paper| (paper.it.paper.name.clone(), false)),
        Item::Supply(id) => {
            let supply = bench.supplies.iter().find(|supply| supply.id == id);
            supply.map(|it| (it.it.name.clone(), it.it.measured == Measured::Length))
        }
    };
    let (name, by_length) = found.ok_or(PageError::NotFound)?;
    Ok(Thing {
        item,
        name,
        by_length,
        ruler: bench.ruler(),
    })
}

#[derive(Template)]
#[template(path = "bench/offer.html")]
struct OfferPage {
    nav: Nav,
    thing: Thing,
    id: Option<i64>,
    currency: &'static str,
    form: OfferForm,
    errors: FormErrors,
}

impl OfferPage {
    fn new(app: &App, thing: Thing, id: Option<i64>, form: OfferForm, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Bench,
            thing,
            id,
            currency: app.config().currency.code(),
            form,
            errors,
        }
    }

    fn action(&self) -> String {
        match (self.id, self.thing.item) {
            (Some(id), _) => urls::offer(id),
            (None, Item::Paper(id)) => urls::paper_offers(id),
            (None, Item::Supply(id)) => urls::supply_offers(id),
        }
    }

    fn remove_url(&self) -> Option<String> {
        self.id.map(urls::remove_offer)
    }
}

pub(super) async fn new_paper_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    new_offer(&app, Item::Paper(id)).await
}

pub(super) async fn new_supply_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    new_offer(&app, Item::Supply(id)).await
}

async fn new_offer(app: &App, item: Item) -> PageResult<Response> {
    let thing = thing(&mut *app.store().read().acquire().await?, item).await?;
    let form = OfferForm {
        once: once::token()?,
        ..OfferForm::empty(thing.by_length)
    };
    let page = OfferPage::new(app, thing, None, form, FormErrors::default());
    Ok(once::page(Page::ok(page)))
}

pub(super) async fn create_paper_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<OfferForm>,
) -> PageResult<Response> {
    create_offer(&app, Item::Paper(id), form).await
}

pub(super) async fn create_supply_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<OfferForm>,
) -> PageResult<Response> {
    create_offer(&app, Item::Supply(id), form).await
}

async fn create_offer(app: &App, item: Item, form: OfferForm) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let thing = thing(&mut change, item).await?;
    let mut errors = FormErrors::default();
    let money = (&thing.ruler, app.config().currency);
    let Some(offer) = form.read(thing.by_length, money, &mut errors) else {
        let page = OfferPage::new(app, thing, None, form, errors);
        return Ok(Page::invalid(page).into_response());
    };
    if let Some(made) = once::made(&mut change, &form.once).await? {
        return Ok(made);
    }
    bench::insert_offer(&mut *change, &BenchOffer { item, offer }).await?;
    once::commit(app, change, &form.once, &thing.url()).await
}

async fn find(db: &mut SqliteConnection, id: i64) -> PageResult<(Saved<BenchOffer>, Thing)> {
    let offer = bench::find_offer(&mut *db, id).await?;
    let offer = offer.ok_or(PageError::NotFound)?;
    let thing = thing(db, offer.it.item).await?;
    Ok((offer, thing))
}

pub(super) async fn edit_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let (saved, thing) = find(&mut *app.store().read().acquire().await?, id).await?;
    let currency = app.config().currency;
    let form = OfferForm::of(&saved.it.offer, saved.version, &thing.ruler, currency);
    Ok(Page::ok(OfferPage::new(
        &app,
        thing,
        Some(id),
        form,
        FormErrors::default(),
    )))
}

pub(super) async fn update_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<OfferForm>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let (saved, thing) = find(&mut change, id).await?;
    let mut errors = FormErrors::default();
    let currency = app.config().currency;
    let Some(offer) = form.read(thing.by_length, (&thing.ruler, currency), &mut errors) else {
        let page = OfferPage::new(&app, thing, Some(id), form, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let version = form.version.parse().unwrap_or(0);
    if bench::update_offer(&mut *change, (id, version), &offer).await? == Update::Stale {
        let now = OfferForm::of(&saved.it.offer, saved.version, &thing.ruler, currency);
        let url = urls::offer(id);
        return Err(stale(
            "offer",
            url.clone(),
            url,
            &form,
            (&now, saved.version),
        ));
    }
    change.commit().await?;
    Ok(see_other(&thing.url()))
}

pub(super) async fn ask_remove_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let (saved, thing) = find(&mut *app.store().read().acquire().await?, id).await?;
    let page = RemovalPage {
        nav: Nav::Bench,
        what: "offer",
        name: format!("{} from {}", thing.name, saved.it.offer.shop),
        goes: "Shopping lists and costs no longer count with it.".to_owned(),
        refusal: None,
        action: urls::remove_offer(id),
        keep: urls::offer(id),
    };
    Ok(page.ask())
}

pub(super) async fn delete_offer(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let (_, thing) = find(&mut change, id).await?;
    bench::delete_offer(&mut *change, id).await?;
    change.commit().await?;
    Ok(see_other(&thing.url()))
}
