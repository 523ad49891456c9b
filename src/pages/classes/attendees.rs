//! All attendees of a class in one form: a row each, and a number to add.

use std::collections::HashSet;

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::typed::{Texts, Typed};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, published, see_other};
use crate::store::Change;
use crate::store::class_lists::{
    self, StoredAttendee, StoredColourway, list_attendees, list_colourways,
};
use crate::store::classes::{Class, ClassList, find_class, update_list_version};
use crate::urls;
use crate::workshop::MOST_KITS;

#[derive(Template)]
#[template(path = "classes/attendees.html")]
struct AttendeesPage {
    nav: Nav,
    class: Class,
    version: i64,
    rows: Vec<Row>,
    add: String,
    add_colourway: String,
    colourways: Vec<(String, String)>,
    errors: FormErrors,
}

/// One attendee as the form shows and sends it.
struct Row {
    /// Its place in the form, from 1.
    number: usize,
    key: String,
    name: String,
    colourway: String,
    remove: bool,
}

/// What a form without errors says.
struct Saving {
    attendees: Vec<StoredAttendee>,
    removed: Vec<i64>,
    /// Colourway of each one that is added.
    add: Vec<i64>,
}

/// A class with its attendees and colourways, of one moment.
struct Stored {
    class: Class,
    attendees: Vec<StoredAttendee>,
    colourways: Vec<StoredColourway>,
}

pub(super) async fn edit_attendees(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let mut read = app.store().read().begin().await?;
    let stored = stored(&mut read, id).await?;
    let rows = stored.attendees.iter().enumerate().map(Row::of).collect();
    let version = stored.class.versions.attendees;
    let page = stored.page(
        version,
        rows,
        (String::new(), String::new()),
        FormErrors::default(),
    );
    Ok(Page::ok(page))
}

pub(super) async fn update_attendees(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(typed): ProtectedForm<Typed>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let stored = stored(&mut change, id).await?;
    let rows = rows(&typed);
    let mut errors = FormErrors::default();
    let Some(saving) = stored.read(&rows, &typed, &mut errors) else {
        let add = (
            typed.get("add").to_owned(),
            typed.get("add_colourway").to_owned(),
        );
        let page = stored.page(typed.version(), rows, add, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let attendees = ClassList::Attendees;
    if !update_list_version(&mut *change, id, attendees, typed.version()).await? {
        let newer = stored.class.versions.attendees;
        let saved: Vec<Row> = stored.attendees.iter().enumerate().map(Row::of).collect();
        let texts = (stored.texts(&rows), stored.texts(&saved));
        let address = urls::class_attendees(id);
        return Err(typed.stale("list of attendees", &address, newer, texts));
    }
    save(&mut change, id, &saving, stored.attendees.len()).await?;
    // Links of their own go with those who are removed.
    published::commit(&app, change, id).await?;
    Ok(see_other(&urls::class_saved(id)))
}

async fn stored(db: &mut sqlx::SqliteConnection, id: i64) -> PageResult<Stored> {
    let class = find_class(&mut *db, id).await?;
    Ok(Stored {
        class: class.ok_or(PageError::NotFound)?,
        attendees: list_attendees(&mut *db, id).await?,
        colourways: list_colourways(db, id).await?,
    })
}

/// An attendee who is gone meanwhile is added again: what was typed is kept.
async fn save(change: &mut Change, id: i64, saving: &Saving, before: usize) -> PageResult<()> {
    for &removed in &saving.removed {
        class_lists::delete_attendee(&mut **change, id, removed).await?;
    }
    for attendee in &saving.attendees {
        if !class_lists::update_attendee(&mut **change, id, attendee).await? {
            let colourway = attendee.colourway_id;
            class_lists::insert_attendee(&mut **change, id, &attendee.name, colourway).await?;
        }
    }
    let taken: HashSet<&str> = saving.attendees.iter().map(|a| a.name.as_str()).collect();
    let seats = (1..).map(|seat| format!("Seat {seat}"));
    let free = seats
        .skip(before)
        .filter(|seat| !taken.contains(seat.as_str()));
    for (&colourway, seat) in saving.add.iter().zip(free) {
        class_lists::insert_attendee(&mut **change, id, &seat, colourway).await?;
    }
    Ok(())
}

fn rows(typed: &Typed) -> Vec<Row> {
    let row = |(index, key): (usize, &str)| Row {
        number: index + 1,
        key: key.to_owned(),
        name: typed.get(&format!("name-{key}")).to_owned(),
        colourway: typed.get(&format!("colourway-{key}")).to_owned(),
        remove: typed.has(&format!("remove-{key}")),
    };
    typed.keys("name-").enumerate().map(row).collect()
}

impl Row {
    fn of((index, attendee): (usize, &StoredAttendee)) -> Self {
        Self {
            number: index + 1,
            key: attendee.id.to_string(),
            name: attendee.name.clone(),
            colourway: attendee.colourway_id.to_string(),
            remove: false,
        }
    }

    fn read(&self, offered: &[(&str, i64)], errors: &mut FormErrors) -> Option<StoredAttendee> {
        let label = format!("Name of attendee {}", self.number);
        let name = errors.text(format!("name-{}", self.key), &label, &self.name, 80);
        let field = format!("colourway-{}", self.key);
        let colourway = errors.choice(field, "Colourway", &self.colourway, offered);
        Some(StoredAttendee {
            id: self.key.parse().unwrap_or(0),
            name: name?,
            colourway_id: colourway?,
        })
    }
}

impl Saving {
    /// First colourway, second, third, first again, in the order of the seats.
    fn deal(&mut self, colourways: impl Iterator<Item = i64> + Clone) {
        let attendees = self.attendees.iter_mut();
        let seats = attendees.map(|attendee| &mut attendee.colourway_id);
        for (seat, colourway) in seats.chain(&mut self.add).zip(colourways.cycle()) {
            *seat = colourway;
        }
    }
}

impl Stored {
    fn page(
        self,
        version: i64,
        rows: Vec<Row>,
        (add, add_colourway): (String, String),
        errors: FormErrors,
    ) -> AttendeesPage {
        let option = |c: &StoredColourway| (c.id.to_string(), c.name.clone());
        AttendeesPage {
            nav: Nav::Classes,
            version,
            rows,
            add,
            add_colourway,
            colourways: self.colourways.iter().map(option).collect(),
            errors,
            class: self.class,
        }
    }

    fn read(&self, rows: &[Row], typed: &Typed, errors: &mut FormErrors) -> Option<Saving> {
        let ids: Vec<(String, i64)> = self
            .colourways
            .iter()
            .map(|colourway| (colourway.id.to_string(), colourway.id))
            .collect();
        let offered: Vec<(&str, i64)> = ids.iter().map(|(text, id)| (text.as_str(), *id)).collect();
        let (gone, kept): (Vec<&Row>, Vec<&Row>) = rows.iter().partition(|row| row.remove);
        let read = kept.iter().map(|row| row.read(&offered, errors));
        let attendees: Vec<Option<StoredAttendee>> = read.collect();
        let add = match typed.get("add").trim() {
            "" => Some(0),
            add => errors.count("add", "How many more", add, 0..=MOST_KITS as u32),
        };
        let into = errors.choice(
            "add_colourway",
            "Colourway of the new ones",
            typed.get("add_colourway"),
            &offered,
        );
        self.count(rows, kept.len() + add.unwrap_or(0) as usize, errors);
        let mut saving = Saving {
            attendees: attendees.into_iter().collect::<Option<_>>()?,
            removed: gone.iter().filter_map(|row| row.key.parse().ok()).collect(),
            add: vec![into?; add? as usize],
        };
        if typed.get("do") == "deal" {
            saving.deal(self.colourways.iter().map(|colourway| colourway.id));
        }
        errors.is_empty().then_some(saving)
    }

    /// From 1 to as many as a class can have, those counted whom the form does not know.
    fn count(&self, rows: &[Row], in_form: usize, errors: &mut FormErrors) {
        let known: HashSet<&str> = rows.iter().map(|row| row.key.as_str()).collect();
        let unknown = self.attendees.iter().map(|a| a.id.to_string());
        let all = in_form + unknown.filter(|id| !known.contains(id.as_str())).count();
        if all == 0 {
            errors.add(
                "add",
                "How many more: a class with 0 attendees has no packet. Keep at least 1.",
            );
        } else if all > MOST_KITS {
            errors.add(
                "add",
                format!("How many more: {all} attendees are too many. A class takes {MOST_KITS}."),
            );
        }
    }

    /// The attendee as stored, or by the place of the row where there is none any more.
    fn label(&self, row: &Row) -> String {
        let stored = self
            .attendees
            .iter()
            .find(|it| it.id.to_string() == row.key);
        stored.map_or_else(
            || format!("Attendee {}", row.number),
            |attendee| format!("\"{}\"", attendee.name),
        )
    }

    /// "Seat 3" and "name Ada, colourway Meadow", to compare.
    fn texts(&self, rows: &[Row]) -> Texts {
        let name = |id: &str| {
            let found = self.colourways.iter().find(|c| c.id.to_string() == id);
            found.map_or("no colourway", |colourway| colourway.name.as_str())
        };
        let text = |row: &Row| match row.remove {
            true => "removed".to_owned(),
            false => format!("name {}, colourway {}", row.name, name(&row.colourway)),
        };
        let texts = rows.iter().map(|row| (self.label(row), text(row)));
        texts.collect()
    }
}
