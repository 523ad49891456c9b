//! The bench on one page, or the form that sets it up.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use tablefold_geometry::{Length, Ruler};

use super::paper_form::{GRAIN_CHOICES, size_choices};
use super::start::StartForm;
use super::supply_form::{is_by_the_yard, shown_price};
use super::tool_form::capital;
use crate::app::App;
use crate::error::PageResult;
use crate::forms::{FormErrors, spools_text};
use crate::pages::both::Both;
use crate::pages::extract::SignedIn;
use crate::pages::paperwork::counted;
use crate::pages::{Nav, Page};
use crate::recipe::ToolKind;
use crate::store::Saved;
use crate::store::bench::{
    BenchOffer, BenchPaper, BenchSupply, BenchTool, Measured, ToolParams, list_offers,
};
use crate::store::project_facts::Bench;
use crate::urls;
use crate::workshop::{BroughtBy, Currency, Item};

#[derive(Template)]
#[template(path = "bench/start.html")]
pub(super) struct StartPage {
    nav: Nav,
    form: StartForm,
    errors: FormErrors,
}

impl StartPage {
    pub(super) const fn new(form: StartForm, errors: FormErrors) -> Self {
        Self {
            nav: Nav::Bench,
            form,
            errors,
        }
    }

    fn sizes(&self) -> Vec<(&'static str, String)> {
        size_choices(&Ruler::inch(16))
    }

    /// For a second paper, which is most often as large as the first.
    fn more_sizes(&self) -> Vec<(&'static str, String)> {
        let mut sizes = self.sizes();
        if let Some(first) = sizes.first_mut() {
            first.1 = "As the first paper".to_owned();
        }
        sizes
    }

    fn grains(&self) -> [(&'static str, &'static str); 3] {
        GRAIN_CHOICES
    }

    fn units(&self) -> [(&'static str, &'static str); 2] {
        [("in", "inches"), ("mm", "millimetres")]
    }
}

#[derive(Template)]
#[template(path = "bench/bench.html")]
struct BenchPage {
    nav: Nav,
    tools: Vec<ToolRow>,
    papers: Vec<PaperRow>,
    supplies: Vec<SupplyRow>,
}

impl BenchPage {
    fn kinds(&self) -> Vec<(&'static str, String)> {
        let kinds = ToolKind::ALL.into_iter();
        kinds
            .map(|kind| (kind.slug(), capital(kind.name())))
            .collect()
    }
}

struct ToolRow {
    url: String,
    name: String,
    kind: &'static str,
    count: String,
    by: &'static str,
    ruler: String,
}

struct PaperRow {
    url: String,
    name: String,
    size: String,
    other: String,
    caliper: String,
    notes: String,
    price: String,
    on_hand: u32,
}

struct SupplyRow {
    url: String,
    name: String,
    on_hand: String,
    price: String,
}

pub(super) async fn show_bench(State(app): State<App>, _: SignedIn) -> PageResult<Response> {
    let bench = Bench::read(&mut *app.store().read().acquire().await?).await?;
    if bench.is_empty() {
        let page = StartPage::new(StartForm::default(), FormErrors::default());
        return Ok(Page::ok(page).into_response());
    }
    let offers = list_offers(app.store().read()).await?;
    let (ruler, currency) = (bench.ruler(), app.config().currency);
    let page = BenchPage {
        nav: Nav::Bench,
        tools: bench.tools.iter().map(tool_row).collect(),
        papers: sizes_together(&bench)
            .map(|(it, main)| paper_row(it, main, &ruler, currency))
            .collect(),
        supplies: supply_rows(&bench, &offers, &ruler, currency),
    };
    Ok(Page::ok(page).into_response())
}

fn tool_row(tool: &Saved<BenchTool>) -> ToolRow {
    let it = &tool.it;
    let each = it.brought_by == BroughtBy::Attendee;
    ToolRow {
        url: urls::tool(tool.id),
        name: it.name.clone(),
        kind: it.kind.name(),
        count: if each {
            "1 each".to_owned()
        } else {
            it.count.to_string()
        },
        by: carrier(it.brought_by),
        ruler: ruler_words(&it.params),
    }
}

/// Who brings a tool, as the instructor reads it.
pub(super) const fn carrier(by: BroughtBy) -> &'static str {
    match by {
        BroughtBy::Instructor => "You",
        BroughtBy::Attendee => "Each attendee brings one",
        BroughtBy::Venue => "The venue",
    }
}

fn sheets(count: u32) -> String {
    format!("{count} {}", if count == 1 { "sheet" } else { "sheets" })
}

/// "a mark every 1/16 in from 1/2 in to 8 in, notch 1/4 in".
fn ruler_words(params: &ToolParams) -> String {
    let Some(ruler) = params.ruler() else {
        return String::new();
    };
    let text = |length: Length| ruler.text(length);
    let marks = format!(
        "a mark every {} from {} to {}",
        text(ruler.step()),
        text(ruler.shortest()),
        text(ruler.longest())
    );
    match params {
        ToolParams::Board(board) => format!("{marks}, notch {}", text(board.notch_depth())),
        ToolParams::Trims(trimmer) => format!("{marks}, {} at once", sheets(trimmer.at_once())),
        _ => marks,
    }
}

/// Papers by name, each followed by its other sizes; with those the paper that they are.
fn sizes_together(
    bench: &Bench,
) -> impl Iterator<Item = (&Saved<BenchPaper>, Option<&Saved<BenchPaper>>)> {
    let mains = bench
        .papers
        .iter()
        .filter(|paper| paper.it.same_as.is_none());
    mains.flat_map(|main| {
        let sizes = bench.papers.iter();
        let sizes = sizes.filter(|paper| paper.it.same_as == Some(main.id));
        std::iter::once((main, None)).chain(sizes.map(move |size| (size, Some(main))))
    })
}

fn paper_row(
    paper: &Saved<BenchPaper>,
    main: Option<&Saved<BenchPaper>>,
    ruler: &Ruler,
    currency: Currency,
) -> PaperRow {
    let sheet = &paper.it.paper;
    let size = Both::sides(ruler, sheet.width, sheet.height);
    let mut notes = Vec::new();
    if let Some(main) = main {
        notes.push(format!("another size of {}", main.it.paper.name));
    }
    if let Some(gsm) = sheet.gsm {
        notes.push(format!("{} g/m²", gsm.round()));
    }
    if sheet.grain != tablefold_geometry::Grain::Unknown {
        let along = sheet.grain == tablefold_geometry::Grain::AlongWidth;
        notes.push(format!(
            "grain along the {}",
            if along { "width" } else { "height" }
        ));
    }
    if sheet.direction == tablefold_geometry::PatternDirection::OneWay {
        notes.push("print has an up".to_owned());
    }
    if sheet.faces == tablefold_geometry::Faces::OneSided {
        notes.push("one good side".to_owned());
    }
    PaperRow {
        url: urls::paper(paper.id),
        name: sheet.name.clone(),
        size: size.own,
        other: size.other,
        caliper: if paper.it.is_estimate() {
            format!("≈ {:.2} mm (estimate)", sheet.caliper.mm())
        } else {
            sheet.caliper.exact_text()
        },
        notes: notes.join(", "),
        price: price_text(paper.it.price_minor, currency),
        on_hand: paper.it.on_hand,
    }
}

/// Nothing for a price that is not known.
fn price_text(price: Option<u64>, currency: Currency) -> String {
    price.map_or_else(String::new, |price| currency.coded_price(price))
}

fn supply_rows(
    bench: &Bench,
    offers: &[Saved<BenchOffer>],
    ruler: &Ruler,
    currency: Currency,
) -> Vec<SupplyRow> {
    let row = |supply: &Saved<BenchSupply>| {
        let item = Item::Supply(supply.id);
        let count = offers.iter().filter(|offer| offer.it.item == item).count();
        supply_row(supply, count as u64, ruler, currency)
    };
    bench.supplies.iter().map(row).collect()
}

/// Without a price of its own, what shops ask for it has one.
fn supply_row(
    supply: &Saved<BenchSupply>,
    offers: u64,
    ruler: &Ruler,
    currency: Currency,
) -> SupplyRow {
    let it = &supply.it;
    let price = price_text(shown_price(it, ruler), currency);
    let (on_hand, per) = match it.measured {
        Measured::Each => (it.on_hand.to_string(), "each"),
        Measured::Length => {
            let per = if is_by_the_yard(it.measured, ruler) {
                "a yard"
            } else {
                "a metre"
            };
            (spools_text(ruler, &it.spools), per)
        }
    };
    SupplyRow {
        url: urls::supply(supply.id),
        name: it.name.clone(),
        on_hand,
        price: match (price.as_str(), offers) {
            ("", 0) => String::new(),
            ("", offers) => counted(offers, "offer", "offers"),
            (price, _) => format!("{price} {per}"),
        },
    }
}
