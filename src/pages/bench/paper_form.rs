//! The fields of a paper.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{
    Faces, Grain, Length, Paper, PatternDirection, Ruler, Unit, caliper_estimate, read_weight,
    sheet_sizes,
};

use super::same_paper::Papers;
use crate::forms::{FormErrors, length_text};
use crate::pages::both::Both;
use crate::store::Saved;
use crate::store::bench::BenchPaper;
use crate::workshop::Currency;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct PaperForm {
    pub(super) version: String,
    pub(super) once: String,
    pub(super) name: String,
    pub(super) size: String,
    pub(super) width: String,
    pub(super) height: String,
    pub(super) caliper: String,
    pub(super) gsm: String,
    pub(super) grain: String,
    pub(super) one_way: Option<String>,
    pub(super) one_sided: Option<String>,
    pub(super) price: String,
    pub(super) on_hand: String,
    /// Name of the paper that it is another size of.
    pub(super) same_as: String,
}

const GRAINS: [(&str, Grain); 3] = [
    ("unknown", Grain::Unknown),
    ("along_width", Grain::AlongWidth),
    ("along_height", Grain::AlongHeight),
];

/// The grains with their words, for the select.
pub(super) const GRAIN_CHOICES: [(&str, &str); 3] = [
    ("unknown", "I don't know"),
    ("along_width", "Along the width"),
    ("along_height", "Along the height"),
];

/// Sheets by name with their sizes, and own ones.
pub(super) fn size_choices(ruler: &Ruler) -> Vec<(&'static str, String)> {
    let own = ("", "Another size: type it below".to_owned());
    let named = sheet_sizes().iter().map(|size| {
        let sides = Both::sides(ruler, size.width, size.height).own;
        // Some are named after their size.
        let is_named_so = size.name.replace('x', "×") == sides;
        let said = if is_named_so {
            size.name.to_owned()
        } else {
            format!("{} ({sides})", size.name)
        };
        (size.name, said)
    });
    std::iter::once(own).chain(named).collect()
}

impl PaperForm {
    /// A form for a first paper in the units of the bench.
    pub(super) fn empty(unit: Unit) -> Self {
        let size = if unit == Unit::Inch {
            "12 x 12 in"
        } else {
            "A4"
        };
        Self {
            size: size.to_owned(),
            grain: "unknown".to_owned(),
            on_hand: "0".to_owned(),
            ..Self::default()
        }
    }

    /// The form of a stored paper.
    pub(super) fn of(
        stored: &Saved<BenchPaper>,
        papers: &Papers,
        ruler: &Ruler,
        currency: Currency,
    ) -> Self {
        let (stored, version) = (&stored.it, stored.version);
        let paper = &stored.paper;
        let (width, height) = (paper.width, paper.height);
        let named = sheet_sizes()
            .iter()
            .find(|size| (size.width, size.height) == (width, height));
        let own = |side| match named {
            Some(_) => String::new(),
            None => length_text(ruler, side),
        };
        let grain = GRAINS.iter().find(|(_, grain)| *grain == paper.grain);
        let tick = |ticked: bool| ticked.then(|| "yes".to_owned());
        Self {
            version: version.to_string(),
            name: paper.name.clone(),
            size: named.map_or_else(String::new, |size| size.name.to_owned()),
            width: own(width),
            height: own(height),
            caliper: if stored.is_estimate() {
                String::new()
            } else {
                paper.caliper.exact_text()
            },
            gsm: paper.gsm.map_or_else(String::new, |gsm| gsm.to_string()),
            grain: grain.map_or("unknown", |(slug, _)| slug).to_owned(),
            one_way: tick(paper.direction == PatternDirection::OneWay),
            one_sided: tick(paper.faces == Faces::OneSided),
            once: String::new(),
            price: stored
                .price_minor
                .map_or_else(String::new, |price| currency.price(price)),
            on_hand: stored.on_hand.to_string(),
            same_as: papers.name(stored.same_as).to_owned(),
        }
    }

    /// The paper that was typed, in one size alone.
    pub(super) fn read(
        &self,
        unit: Unit,
        currency: Currency,
        errors: &mut FormErrors,
    ) -> Option<BenchPaper> {
        let name = errors.text("name", "Name of the paper", &self.name, Paper::LONGEST_NAME);
        let sides = self.read_sides(unit, errors);
        let gsm = read_gsm(&self.gsm, errors);
        let caliper = self.read_caliper(unit, gsm, errors);
        let grain = errors.choice("grain", "Grain", &self.grain, &GRAINS);
        let price = errors.optional_money("price", "Price of a sheet", &self.price, currency);
        let on_hand = errors.count("on_hand", "Sheets on hand", &self.on_hand, 0..=100_000);
        let (width, height) = sides?;
        let paper = Paper {
            name: name?,
            width,
            height,
            gsm: gsm?,
            caliper: caliper?,
            grain: grain?,
            direction: if self.one_way.is_some() {
                PatternDirection::OneWay
            } else {
                PatternDirection::None
            },
            faces: if self.one_sided.is_some() {
                Faces::OneSided
            } else {
                Faces::SameBothSides
            },
        };
        let problems = paper.problems();
        for problem in &problems {
            errors.add(problem.field(), problem.to_string());
        }
        let paper = BenchPaper {
            paper,
            price_minor: price?,
            on_hand: on_hand?,
            same_as: None,
        };
        problems.is_empty().then_some(paper)
    }

    fn read_sides(&self, unit: Unit, errors: &mut FormErrors) -> Option<(Length, Length)> {
        if self.size.is_empty() {
            let width = errors.size("width", "Width", &self.width, unit);
            let height = errors.size("height", "Height", &self.height, unit);
            return Some((width?, height?));
        }
        let offered: Vec<_> = sheet_sizes()
            .iter()
            .map(|size| (size.name, (size.width, size.height)))
            .collect();
        errors.choice("size", "Sheet size", &self.size, &offered)
    }

    /// The caliper: measured, or estimated from the grammage.
    fn read_caliper(
        &self,
        unit: Unit,
        gsm: Option<Option<f64>>,
        errors: &mut FormErrors,
    ) -> Option<Length> {
        let typed = errors.optional_size(
            "caliper",
            "Thickness of one sheet",
            &self.caliper,
            small(unit),
        )?;
        match (typed, gsm?) {
            (Some(caliper), _) => Some(caliper),
            (None, Some(gsm)) => Some(caliper_estimate(gsm)),
            (None, None) => {
                errors.add(
                    "caliper",
                    "Thickness of one sheet: nothing is typed, and no weight either. Type the thickness, such as 0.3 mm, or the weight to estimate it from.",
                );
                None
            }
        }
    }
}

/// A bare number for a thickness is millimetres on a metric bench, inches on the other.
fn small(unit: Unit) -> Unit {
    if unit == Unit::Inch {
        Unit::Inch
    } else {
        Unit::Millimetre
    }
}

/// The grammage, which may be left out.
fn read_gsm(typed: &str, errors: &mut FormErrors) -> Option<Option<f64>> {
    if typed.trim().is_empty() {
        return Some(None);
    }
    errors.keep("gsm", "Weight", read_weight(typed)).map(Some)
}
