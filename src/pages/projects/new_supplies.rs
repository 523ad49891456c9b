//! Supplies that are named on the form of a piece: they go to the bench when the piece is saved.
//! Until then they have numbers below zero, which no row has.

use super::piece_form::PieceForm;
use crate::error::PageResult;
use crate::forms::{FormErrors, quoted_part};
use crate::recipe::PieceSpec;
use crate::store::bench::{BenchSupply, Measured, insert_supply};
use crate::store::project_facts::Bench;
use crate::store::{Change, Saved};

/// The bench with the supplies that were named, and the form that has chosen them.
pub(super) struct Named {
    pub(super) bench: Bench,
    pub(super) form: PieceForm,
    new: Vec<Saved<BenchSupply>>,
}

impl Named {
    /// Looks the names up on the bench; those that are not there are new.
    pub(super) fn read(bench: &Bench, form: &PieceForm, errors: &mut FormErrors) -> Self {
        let mut named = Self {
            bench: bench.clone(),
            form: form.clone(),
            new: Vec::new(),
        };
        let contents = ("contents_new", "New supply", Measured::Each);
        if let Some(id) = named.find(contents, &form.contents_new, errors) {
            named.form.contents_supply = id;
        }
        let ribbon = ("ribbon_new", "New ribbon", Measured::Length);
        if let Some(id) = named.find(ribbon, &form.supplies.ribbon_new, errors) {
            named.form.supplies.ribbon_supply = id;
        }
        let extra = ("extra_new", "New supply", Measured::Each);
        if let Some(id) = named.find(extra, &form.supplies.extra_new, errors) {
            named.form.supplies.add_extra(id, errors);
        }
        named
    }

    fn find(
        &mut self,
        (field, label, measured): (&'static str, &str, Measured),
        typed: &str,
        errors: &mut FormErrors,
    ) -> Option<String> {
        let name = errors.optional_text(field, label, typed, 80)?;
        if name.is_empty() {
            return None;
        }
        if let Some(there) = self.bench.supplies.iter().find(|it| it.it.name == name) {
            if there.it.measured == measured {
                return Some(there.id.to_string());
            }
            let how = match there.it.measured {
                Measured::Each => "counted",
                Measured::Length => "measured by length",
            };
            errors.add(
                field,
                format!(
                    "{label}: \"{}\" is on your bench and {how}. Type another name.",
                    quoted_part(&name)
                ),
            );
            return None;
        }
        let supply = Saved {
            id: -1 - self.new.len() as i64,
            version: 0,
            it: BenchSupply {
                name,
                measured,
                price_minor: None,
                on_hand: 0,
                spools: Vec::new(),
            },
        };
        let id = supply.id.to_string();
        self.bench.supplies.push(supply.clone());
        self.new.push(supply);
        Some(id)
    }

    /// Puts the new ones on the bench and their row numbers into the piece.
    pub(super) async fn insert(&self, change: &mut Change, spec: &mut PieceSpec) -> PageResult<()> {
        for supply in &self.new {
            let id = insert_supply(&mut **change, &supply.it).await?;
            // Someone added one of that name since the bench was read.
            let id = id.ok_or_else(|| {
                crate::error::PageError::bad_request(
                    format!(
                        "A supply called \"{}\" was added meanwhile, so nothing was saved.",
                        quoted_part(&supply.it.name)
                    ),
                    "Go back and save again.",
                )
            })?;
            let ribbon = spec.ribbon.iter_mut().map(|ribbon| &mut ribbon.supply);
            let extras = spec.extras.iter_mut().map(|extra| &mut extra.supply);
            let all = spec.contents_supply.iter_mut().chain(ribbon).chain(extras);
            for used in all.filter(|used| **used == supply.id) {
                *used = id;
            }
        }
        Ok(())
    }
}
