//! A project on one printed page: what it looks like, every measure, what one kit takes.

use std::collections::{BTreeMap, BTreeSet};

use askama::Template;
use axum::extract::State;

use super::show::ProjectPage;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, SignedIn};
use crate::pages::picture_sizes::on_project_sheet;
use crate::pages::{Nav, Page};
use crate::store::project_facts::project_facts;

#[derive(Template)]
#[template(path = "projects/sheet.html")]
struct SheetPage {
    nav: Nav,
    project: ProjectPage,
}

impl SheetPage {
    /// Of all pieces, each once.
    fn cautions(&self) -> BTreeSet<&'static str> {
        let pieces = self.project.pieces.iter();
        pieces
            .flat_map(|piece| piece.cautions.iter().copied())
            .collect()
    }

    /// What is counted, over all pieces: how many of each.
    fn counted(&self) -> BTreeMap<&str, u32> {
        let mut counts = BTreeMap::new();
        for part in self.project.parts.iter().filter(|part| part.size.is_none()) {
            *counts.entry(part.stuff.as_str()).or_default() += part.per_kit;
        }
        counts
    }
}

pub(super) async fn show_sheet(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let facts = project_facts(&mut *app.store().read().begin().await?, id).await?;
    let facts = facts.ok_or(PageError::NotFound)?;
    let size = on_project_sheet(facts.pieces.len());
    Ok(Page::ok(SheetPage {
        nav: Nav::Projects,
        project: ProjectPage::new(id, &facts, FormErrors::default(), size),
    }))
}
