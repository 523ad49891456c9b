//! A second and a third paper in the form that sets the bench up: most boxes have two, and most
//! papers of one make are alike, so what is left empty is as for the first.

use serde::{Deserialize, Serialize};
use tablefold_geometry::Unit;

use super::paper_form::PaperForm;
use crate::forms::{FormErrors, quoted_part};
use crate::store::bench::BenchPaper;
use crate::workshop::Currency;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct MorePapers {
    name_2: String,
    size_2: String,
    gsm_2: String,
    price_2: String,
    on_hand_2: String,
    name_3: String,
    size_3: String,
    gsm_3: String,
    price_3: String,
    on_hand_3: String,
}

/// One of them as the form shows it.
pub(super) struct Slot<'f> {
    pub(super) number: u32,
    pub(super) name: &'f str,
    pub(super) size: &'f str,
    pub(super) gsm: &'f str,
    pub(super) price: &'f str,
    pub(super) on_hand: &'f str,
}

impl Slot<'_> {
    /// The name of one of its fields.
    pub(super) fn field(&self, name: &str) -> String {
        format!("{name}_{}", self.number)
    }

    fn is_blank(&self) -> bool {
        let typed = [self.name, self.size, self.gsm, self.price, self.on_hand];
        typed.iter().all(|text| text.trim().is_empty())
    }

    /// Whether it is unfolded: something is typed.
    pub(super) fn is_open(&self) -> bool {
        !self.is_blank()
    }

    /// The whole form of this paper.
    fn on(&self, first: &PaperForm) -> PaperForm {
        let or = |typed: &str, first: &str| match typed.trim() {
            "" => first.to_owned(),
            _ => typed.to_owned(),
        };
        let mut form = first.clone();
        form.name = self.name.to_owned();
        if !self.size.is_empty() {
            form.size = self.size.to_owned();
        }
        // A weight of its own gives a thickness of its own.
        if !self.gsm.trim().is_empty() {
            form.gsm = self.gsm.to_owned();
            form.caliper = String::new();
        }
        form.price = or(self.price, &first.price);
        form.on_hand = or(self.on_hand, "0");
        form
    }

    fn has_own(&self, field: &str) -> bool {
        let typed = match field {
            "name" | "on_hand" => return true,
            "size" => self.size,
            "gsm" => self.gsm,
            "price" => self.price,
            _ => "",
        };
        !typed.trim().is_empty()
    }
}

impl MorePapers {
    /// Both, blank or not.
    pub(super) fn slots(&self) -> [Slot<'_>; 2] {
        [
            Slot {
                number: 2,
                name: &self.name_2,
                size: &self.size_2,
                gsm: &self.gsm_2,
                price: &self.price_2,
                on_hand: &self.on_hand_2,
            },
            Slot {
                number: 3,
                name: &self.name_3,
                size: &self.size_3,
                gsm: &self.gsm_3,
                price: &self.price_3,
                on_hand: &self.on_hand_3,
            },
        ]
    }

    /// The papers that were typed; what is wrong with the first alone is said there.
    pub(super) fn read(
        &self,
        first: &PaperForm,
        (unit, currency): (Unit, Currency),
        errors: &mut FormErrors,
    ) -> Option<Vec<BenchPaper>> {
        let mut taken = vec![first.name.trim()];
        let mut papers = Vec::new();
        for slot in self.slots() {
            if slot.is_blank() {
                continue;
            }
            let mut own = FormErrors::default();
            papers.push(slot.on(first).read(unit, currency, &mut own));
            for error in own.iter().filter(|error| slot.has_own(&error.field)) {
                let message = format!("Paper {}, {}", slot.number, error.message);
                errors.add(slot.field(&error.field), message);
            }
            let name = slot.name.trim();
            if !name.is_empty() && taken.contains(&name) {
                errors.add(
                    slot.field("name"),
                    format!(
                        "Paper {}, Name of the paper: another paper is called \"{}\". Type another name.",
                        slot.number,
                        quoted_part(name)
                    ),
                );
            }
            taken.push(name);
        }
        let papers = papers.into_iter().collect::<Option<Vec<_>>>()?;
        errors.is_empty().then_some(papers)
    }
}
