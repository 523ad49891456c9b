//! Left-over pieces that go back on the shelf: papers with sheets on hand, like any other.

use axum::extract::State;
use axum::response::Response;
use jiff::Timestamp;
use serde::Deserialize;
use sqlx::SqliteConnection;
use tablefold_geometry::{Length, Paper, Ruler, Unit};

use super::cuts::invalid;
use super::planning::{Made, PATIENCE, make};
use super::{Loaded, load, refused};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, is_ticked};
use crate::pages::both::Both;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::paperwork::counted;
use crate::pages::{see_other, when};
use crate::store::StoreResult;
use crate::store::bench::{self, BenchPaper};
use crate::store::left_overs::{LeftOvers, find_left_overs, insert_left_overs};
use crate::urls;
use crate::workshop::{ClassFacts, Packet, PaperPull, SheetPull, left_overs};

/// The longest name of a paper, in characters.
const LONGEST_NAME: usize = 80;

/// What was typed.
#[derive(Clone, Debug, Default, Deserialize)]
pub(super) struct LeftOverForm {
    pub(super) width: String,
    pub(super) height: String,
    /// Ticked to count them a second time.
    pub(super) again: Option<String>,
}

/// Left-over paper of one size.
struct Returned {
    paper: Paper,
    /// Row number of the paper that it is left of.
    same_as: i64,
    count: u32,
}

/// Small enough for a tag, large enough to be worth a place: common practice, no source.
pub(super) fn usual_form(facts: &ClassFacts) -> LeftOverForm {
    let least = match facts.project.trimmer.ruler().unit() {
        Unit::Inch | Unit::Foot => "3 in",
        Unit::Millimetre | Unit::Centimetre => "75 mm",
    };
    LeftOverForm {
        width: least.to_owned(),
        height: least.to_owned(),
        again: None,
    }
}

fn revision(loaded: &Loaded) -> u32 {
    loaded
        .revision
        .as_ref()
        .map_or(0, |revision| revision.number)
}

/// "Revision 2: 12 left-over pieces were put back on 29 November 2026, 09:00 UTC."
fn said(left: LeftOvers, number: u32) -> String {
    let pieces = counted(
        u64::from(left.pieces),
        "left-over piece was",
        "left-over pieces were",
    );
    let at = when::moment(left.booked_at);
    match number {
        0 => format!("{pieces} put back on hand on {at}, before the class was published."),
        _ => format!("Revision {number}: {pieces} put back on hand on {at}."),
    }
}

/// What was put back already, in words.
pub(super) async fn booked(app: &App, loaded: &Loaded) -> PageResult<Option<String>> {
    let number = revision(loaded);
    let found = find_left_overs(app.store().read(), loaded.class.id, number).await?;
    Ok(found.map(|left| said(left, number)))
}

pub(super) async fn create_left_overs(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(form): ProtectedForm<LeftOverForm>,
) -> PageResult<Response> {
    let loaded = load(&app, id).await?;
    let packet = match make(&app.planner().waiting(PATIENCE), &loaded.facts).await {
        Made::Packet(packet) => packet,
        Made::Refused(problems) => return Ok(refused(&loaded.class, &loaded.facts, &problems)),
        Made::Planning(_) => return Err(PageError::TooSlow),
    };
    let mut change = app.store().change().await?;
    let number = revision(&loaded);
    // Inside the change: a second press of the button waits here and finds the first.
    let before = find_left_overs(&mut *change, id, number).await?;
    let before = before.map(|left| said(left, number));
    let returned = match read(&form, &loaded, &packet, before.as_deref()) {
        Ok(returned) => returned,
        Err(errors) => return invalid(&app, &loaded, &packet, (form, errors), before),
    };
    let left = put_back(&mut change, &returned, app.clock().now()).await?;
    insert_left_overs(&mut *change, (id, number), left).await?;
    change.commit().await?;
    Ok(see_other(&urls::class_cuts(id)))
}

/// What goes back on the shelf, or what is wrong with the form.
fn read(
    form: &LeftOverForm,
    loaded: &Loaded,
    packet: &Packet,
    booked: Option<&str>,
) -> Result<Vec<Returned>, FormErrors> {
    let ruler = loaded.facts.project.trimmer.ruler();
    let mut errors = FormErrors::default();
    let width = errors.size("width", "At least so wide", &form.width, ruler.unit());
    let height = errors.size("height", "At least so high", &form.height, ruler.unit());
    if let Some(booked) = booked.filter(|_| !is_ticked(form.again.as_ref())) {
        errors.add(
            "again",
            format!("{booked} Tick the box only if the sheets were cut a second time."),
        );
    }
    let (Some(width), Some(height)) = (width, height) else {
        return Err(errors);
    };
    let papers = packet.pull.papers.iter();
    let found: Vec<Returned> = papers
        .flat_map(|paper| returned(paper, ruler, (width, height)))
        .collect();
    if found.is_empty() {
        let size = Both::sides(ruler, width, height).own;
        errors.add(
            "width",
            format!("No left-over piece is as large as {size}. Type a smaller size."),
        );
    }
    if errors.is_empty() {
        Ok(found)
    } else {
        Err(errors)
    }
}

/// Left-overs are named after the paper and not after the sheet, so that what is left of
/// several sizes, or of a left-over, comes together.
fn returned(paper: &PaperPull, ruler: &Ruler, least: (Length, Length)) -> Vec<Returned> {
    let of_size = |size: &SheetPull| {
        let left = left_overs((paper, size), ruler, least).into_iter();
        let returned = left.map(|left| Returned {
            paper: Paper {
                name: name(
                    &paper.name,
                    &Both::sides(ruler, left.width, left.height).own,
                ),
                width: left.width,
                height: left.height,
                ..size.paper.clone()
            },
            same_as: paper.id,
            count: left.count,
        });
        returned.collect::<Vec<_>>()
    };
    paper.sizes.iter().flat_map(of_size).collect()
}

/// "Moss card, 4 × 12 in left-over", within the length that names may have.
fn name(paper: &str, size: &str) -> String {
    let tail = format!(", {size} left-over");
    let room = LONGEST_NAME.saturating_sub(tail.chars().count());
    let paper: String = paper.chars().take(room).collect();
    format!("{}{tail}", paper.trim_end())
}

async fn put_back(
    db: &mut SqliteConnection,
    returned: &[Returned],
    booked_at: Timestamp,
) -> StoreResult<LeftOvers> {
    for one in returned {
        shelve(&mut *db, one).await?;
    }
    let pieces = returned.iter().map(|one| one.count);
    Ok(LeftOvers {
        booked_at,
        pieces: pieces.fold(0, u32::saturating_add),
    })
}

/// Raises the paper of that name, or adds it. A paper that has the name but not the size is
/// another one: the new one gets a number.
async fn shelve(db: &mut SqliteConnection, one: &Returned) -> StoreResult<()> {
    for number in 1.. {
        let mut paper = one.paper.clone();
        if number > 1 {
            paper.name = name(&one.paper.name, &number.to_string());
        }
        match bench::find_paper_named(&mut *db, &paper.name).await? {
            Some(there) if same_sheet(&there.it.paper, &paper) => {
                return bench::update_on_hand(&mut *db, there.id, one.count).await;
            }
            Some(_) => {}
            None => {
                let new = BenchPaper {
                    paper,
                    price_minor: None,
                    on_hand: one.count,
                    same_as: Some(one.same_as),
                };
                return bench::insert_paper(&mut *db, &new).await.map(drop);
            }
        }
    }
    Ok(())
}

fn same_sheet(one: &Paper, other: &Paper) -> bool {
    let sheet = |paper: &Paper| (paper.width, paper.height, paper.caliper, paper.grain);
    sheet(one) == sheet(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_left_over_is_named_after_its_paper_and_size() {
        insta::assert_snapshot!(name("Moss card", "4 × 12 in"), @"Moss card, 4 × 12 in left-over");
        let long = name(&"🌱".repeat(80), "4 × 12 in");
        assert_eq!(long.chars().count(), LONGEST_NAME);
        assert!(long.ends_with("🌱, 4 × 12 in left-over"), "{long}");
    }
}
