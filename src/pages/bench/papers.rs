//! Adding, editing and removing papers.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use sqlx::{SqliteConnection, SqliteExecutor};
use tablefold_geometry::Ruler;

use super::offers::{self, OfferRow};
use super::paper_form::{GRAIN_CHOICES, PaperForm, size_choices};
use super::same_paper::Papers;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, quoted_part};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::removal::{self, RemovalPage};
use crate::pages::stale::stale;
use crate::pages::{Nav, Page, once, see_other};
use crate::store::bench::{self as store, BenchPaper};
use crate::store::project_facts::Bench;
use crate::store::{Saved, Update};
use crate::urls;
use crate::workshop::{Currency, Item};

#[derive(Template)]
#[template(path = "bench/paper.html")]
struct PaperPage {
    nav: Nav,
    title: String,
    action: String,
    id: Option<i64>,
    ruler: Ruler,
    form: PaperForm,
    errors: FormErrors,
    papers: Papers,
    offers: Vec<OfferRow>,
    offers_url: String,
}

impl PaperPage {
    fn new((ruler, papers): (Ruler, Papers), form: PaperForm, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Bench,
            title: "New paper".to_owned(),
            action: urls::papers(),
            id: None,
            ruler,
            form,
            errors,
            papers,
            offers: Vec::new(),
            offers_url: String::new(),
        }
    }

    fn stored(
        paper: &Saved<BenchPaper>,
        bench: (Ruler, Papers),
        form: PaperForm,
        errors: FormErrors,
        offers: Vec<OfferRow>,
    ) -> Self {
        Self {
            title: paper.it.paper.name.clone(),
            action: urls::paper(paper.id),
            id: Some(paper.id),
            offers_url: urls::paper_offers(paper.id),
            offers,
            ..Self::new(bench, form, errors)
        }
    }

    fn remove_url(&self) -> Option<String> {
        self.id.map(urls::remove_paper)
    }

    fn sizes(&self) -> Vec<(&'static str, String)> {
        size_choices(&self.ruler)
    }

    fn grains(&self) -> [(&'static str, &'static str); 3] {
        GRAIN_CHOICES
    }
}

fn add_taken(errors: &mut FormErrors, name: &str) {
    errors.add(
        "name",
        format!(
            "Name of the paper: another paper is called \"{}\". Type another name.",
            quoted_part(name)
        ),
    );
}

/// The ruler of the bench, and its papers as the form of one of them sees them.
async fn bench(db: &mut SqliteConnection, own: Option<i64>) -> PageResult<(Ruler, Papers)> {
    let bench = Bench::read(db).await?;
    Ok((bench.ruler(), Papers::new(bench.papers, own)))
}

pub(super) async fn new_paper(State(app): State<App>, _: SignedIn) -> PageResult<Response> {
    let bench = bench(&mut *app.store().read().acquire().await?, None).await?;
    let form = PaperForm {
        once: once::token()?,
        ..PaperForm::empty(bench.0.unit())
    };
    let page = PaperPage::new(bench, form, FormErrors::default());
    Ok(once::page(Page::ok(page)))
}

impl PaperForm {
    /// The paper that was typed, with the paper that it is another size of.
    fn read_on(
        &self,
        (ruler, papers): &(Ruler, Papers),
        currency: Currency,
        errors: &mut FormErrors,
    ) -> Option<BenchPaper> {
        let mut paper = self.read(ruler.unit(), currency, errors)?;
        papers
            .read(&self.same_as, &mut paper, errors)
            .then_some(paper)
    }
}

pub(super) async fn create_paper(
    State(app): State<App>,
    _: SignedIn,
    ProtectedForm(form): ProtectedForm<PaperForm>,
) -> PageResult<Response> {
    let mut errors = FormErrors::default();
    let mut change = app.store().change().await?;
    let bench = bench(&mut change, None).await?;
    if let Some(paper) = form.read_on(&bench, app.config().currency, &mut errors) {
        if let Some(made) = once::made(&mut change, &form.once).await? {
            return Ok(made);
        }
        if store::insert_paper(&mut *change, &paper).await?.is_some() {
            return once::commit(&app, change, &form.once, &urls::bench()).await;
        }
        add_taken(&mut errors, &form.name);
    }
    Ok(Page::invalid(PaperPage::new(bench, form, errors)).into_response())
}

async fn find(app: &App, id: i64) -> PageResult<Saved<BenchPaper>> {
    let found = store::find_paper(app.store().read(), id).await?;
    found.ok_or(PageError::NotFound)
}

pub(super) async fn edit_paper(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let paper = find(&app, id).await?;
    let bench = bench(&mut *app.store().read().acquire().await?, Some(id)).await?;
    let form = PaperForm::of(&paper, &bench.1, &bench.0, app.config().currency);
    let offers = offers::rows(&app, Item::Paper(id), &bench.0).await?;
    let page = PaperPage::stored(&paper, bench, form, FormErrors::default(), offers);
    Ok(Page::ok(page))
}

pub(super) async fn update_paper(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<PaperForm>,
) -> PageResult<Response> {
    let saved = find(&app, id).await?;
    let mut errors = FormErrors::default();
    let mut change = app.store().change().await?;
    let bench = bench(&mut change, Some(id)).await?;
    if let Some(paper) = form.read_on(&bench, app.config().currency, &mut errors) {
        let version = form.version.parse().unwrap_or(0);
        match store::update_paper(&mut *change, (id, version), &paper).await? {
            Some(Update::Done) => {
                store::update_other_sizes(&mut *change, id, &paper).await?;
                change.commit().await?;
                return Ok(see_other(&urls::bench()));
            }
            Some(Update::Stale) => {
                let now = PaperForm::of(&saved, &bench.1, &bench.0, app.config().currency);
                let url = urls::paper(id);
                return Err(stale(
                    "paper",
                    url.clone(),
                    url,
                    &form,
                    (&now, saved.version),
                ));
            }
            None => add_taken(&mut errors, &form.name),
        }
    }
    let offers = offers::rows(&app, Item::Paper(id), &bench.0).await?;
    let page = PaperPage::stored(&saved, bench, form, errors, offers);
    Ok(Page::invalid(page).into_response())
}

async fn removal(db: impl SqliteExecutor<'_>, paper: Saved<BenchPaper>) -> PageResult<RemovalPage> {
    let uses = store::list_uses_of_paper(db, paper.id).await?;
    Ok(RemovalPage {
        nav: Nav::Bench,
        what: "paper",
        goes: "It goes from your bench, with its price and the sheets on hand.".to_owned(),
        refusal: removal::refusal("paper", &uses),
        action: urls::remove_paper(paper.id),
        keep: urls::paper(paper.id),
        name: paper.it.paper.name,
    })
}

pub(super) async fn ask_remove_paper(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let paper = find(&app, id).await?;
    Ok(removal(app.store().read(), paper).await?.ask())
}

pub(super) async fn delete_paper(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Response> {
    let paper = find(&app, id).await?;
    let mut change = app.store().change().await?;
    if let Some(refused) = removal(&mut *change, paper).await?.refused() {
        return Ok(refused);
    }
    store::delete_paper(&mut *change, id).await?;
    change.commit().await?;
    Ok(see_other(&urls::bench()))
}
