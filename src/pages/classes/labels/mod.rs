//! Labels for packs, tables and tools on a sheet that people describe by its measures.

mod contents;
mod form;
mod notes;
mod preview;

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use tablefold_geometry::{Ruler, Unit};

use super::planning::with_packet;
use super::typed::Typed;
use super::{Loaded, load};
use crate::app::App;
use crate::error::PageResult;
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, Query, SignedIn};
use crate::pages::paperwork::{Heading, counted};
use crate::pages::projects::file;
use crate::pages::{Nav, Page, see_other};
use crate::print::{PlacedLabel, label_sheets_pdf};
use crate::store::label_sheet::{find_label_sheet, update_label_sheet};
use crate::urls;
use crate::workshop::Packet;

use contents::{Addresses, class_line, labels};
use form::{Choice, LabelForm, What};
use notes::notes;
use preview::Preview;

#[derive(Template)]
#[template(path = "classes/labels.html")]
struct LabelsPage {
    nav: Nav,
    id: i64,
    heading: Heading,
    form: LabelForm,
    whats: Vec<(&'static str, &'static str)>,
    papers: Vec<(&'static str, &'static str)>,
    outlines: [(&'static str, &'static str); 2],
    unit: &'static str,
    errors: FormErrors,
    /// Whether the sheet was kept just now.
    kept: bool,
    shown: Option<Shown>,
}

/// What the sheets will look like.
struct Shown {
    /// "17 labels on 2 sheets".
    sum: String,
    is_empty: bool,
    /// Where the PDF is, if one can be made.
    pdf: Option<String>,
    preview: Preview,
    notes: Vec<String>,
    no_link: bool,
    unpublished: bool,
}

pub(super) async fn show_labels(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(typed): Query<Typed>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let form = form(&app, &loaded, &typed).await?;
    page(&app, &loaded, form, typed.get("done") == "kept").await
}

/// What is wrong with the form is said on its page, not in a file.
pub(super) async fn show_labels_pdf(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    Query(typed): Query<Typed>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let form = form(&app, &loaded, &typed).await?;
    let back = || see_other(&urls::class_labels_as(id, &form.query()));
    let Some(choice) = form.read(ruler(&loaded), &mut FormErrors::default()) else {
        return Ok(back());
    };
    let addresses = Addresses::of(&app, id).await?;
    with_packet(&app, &loaded, |packet| {
        let labels = labels(&loaded.facts, packet, &choice, &addresses);
        let title = format!("Labels: {}", class_line(&loaded.facts));
        let pdf = label_sheets_pdf(&title, &labels, &choice.options);
        let pdf = pdf.ok().filter(|_| !labels.is_empty());
        let name = format!("labels-class-{id}.pdf");
        Ok(pdf.map_or_else(back, |pdf| file("application/pdf", &name, pdf)))
    })
    .await
}

pub(super) async fn update_sheet(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(typed): ProtectedForm<Typed>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let form = form(&app, &loaded, &typed).await?;
    let Some(choice) = form.read(ruler(&loaded), &mut FormErrors::default()) else {
        return page(&app, &loaded, form, false).await;
    };
    let mut change = app.store().change().await?;
    update_label_sheet(&mut *change, &choice.kept()).await?;
    change.commit().await?;
    let query = format!("{}&done=kept", form.query());
    Ok(see_other(&urls::class_labels_as(id, &query)))
}

fn ruler(loaded: &Loaded) -> &Ruler {
    loaded.facts.project.trimmer.ruler()
}

const fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "inches",
        Unit::Foot => "feet",
        Unit::Millimetre => "millimetres",
        Unit::Centimetre => "centimetres",
    }
}

/// What was typed, and for the rest the sheet that was kept.
async fn form(app: &App, loaded: &Loaded, typed: &Typed) -> PageResult<LabelForm> {
    let kept = find_label_sheet(app.store().read()).await?;
    let attendees = loaded.facts.attendees.len();
    Ok(LabelForm::usual(kept, ruler(loaded), attendees).with(typed))
}

async fn page(app: &App, loaded: &Loaded, form: LabelForm, kept: bool) -> PageResult<Response> {
    let addresses = Addresses::of(app, loaded.class.id).await?;
    let heading = loaded.heading()?;
    with_packet(app, loaded, |packet| {
        let mut errors = FormErrors::default();
        let choice = form.read(ruler(loaded), &mut errors);
        let shown = choice.map(|choice| shown(loaded, packet, &choice, &addresses, &form));
        let is_sound = errors.is_empty();
        let page = LabelsPage {
            nav: Nav::Classes,
            id: loaded.class.id,
            heading,
            whats: LabelForm::whats(),
            papers: LabelForm::papers(),
            outlines: [("yes", "A thin line round each"), ("no", "None")],
            unit: unit_name(ruler(loaded).unit()),
            form,
            errors,
            kept,
            shown,
        };
        Ok(if is_sound {
            Page::ok(page).into_response()
        } else {
            Page::invalid(page).into_response()
        })
    })
    .await
}

fn shown(
    loaded: &Loaded,
    packet: &Packet,
    choice: &Choice,
    addresses: &Addresses,
    form: &LabelForm,
) -> Shown {
    let labels = labels(&loaded.facts, packet, choice, addresses);
    let size = choice.options.label_mm();
    let placed: Vec<PlacedLabel> = labels.iter().map(|label| label.place(size)).collect();
    let sheets = choice.options.sheets(labels.len());
    let mut notes = notes(&labels, &placed, ruler(loaded));
    if choice.what.has(What::Tools) {
        notes.push("What each attendee brings gets no label.".to_owned());
    }
    let refused = choice.options.refuse_too_many(labels.len()).err();
    notes.extend(refused.iter().map(ToString::to_string));
    let coded = choice.what.has(What::Packs) || choice.what.has(What::Tables);
    let pdf = (!labels.is_empty() && refused.is_none())
        .then(|| urls::class_labels_pdf(loaded.class.id, &form.query()));
    Shown {
        sum: format!(
            "{} on {}",
            counted(labels.len() as u64, "label", "labels"),
            counted(sheets as u64, "sheet", "sheets")
        ),
        is_empty: labels.is_empty(),
        pdf,
        preview: Preview::of(&placed, &choice.options),
        notes,
        no_link: coded && labels.iter().all(|label| label.address.is_none()),
        unpublished: loaded.revision.is_none()
            && labels.iter().any(|label| label.address.is_some()),
    }
}
