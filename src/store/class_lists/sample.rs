//! A class for tests of the store.

use super::{ColourwayChange, insert_attendee, insert_colourway};
use crate::store::Store;
use crate::store::classes::{ClassDetails, insert_class};
use crate::store::projects::tests::filled;

/// Of the first project of a test database.
pub(in crate::store) fn details() -> ClassDetails {
    ClassDetails {
        title: "Seed-swap evening".to_owned(),
        project_id: 1,
        also: Vec::new(),
        date: jiff::civil::date(2026, 11, 28),
        starts: jiff::civil::time(18, 30, 0, 0),
        minutes: 120,
        place: "Allotment hall".to_owned(),
    }
}

/// A colourway that uses one paper for everything.
pub(in crate::store) fn colourway(id: Option<i64>, name: &str) -> ColourwayChange {
    let role = |role: &str| (role.to_owned(), 1);
    ColourwayChange {
        id,
        name: name.to_owned(),
        spare_kits: 1,
        papers: ["main", "accent", "label"].map(role).into(),
    }
}

/// Three seats and a spare kit in one colourway.
pub(in crate::store) async fn class(store: &Store) -> i64 {
    assert_eq!(filled(store).await, details().project_id);
    let mut change = store.change().await.unwrap();
    let id = insert_class(&mut change, &details()).await.unwrap();
    let first = insert_colourway(&mut change, id, &colourway(None, "Meadow"))
        .await
        .unwrap();
    for name in ["Seat 1", "Seat 2", "Seat 3"] {
        insert_attendee(&mut *change, id, name, first)
            .await
            .unwrap();
    }
    change.commit().await.unwrap();
    id
}
