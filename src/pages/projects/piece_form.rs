//! The fields of a piece.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Ruler, StructureKind, Unit};

use super::adapt::adapted;
use super::contents_fields::ContentsFields;
use super::fit_fields::FitFields;
use super::hand_fields::{HandFields, field_name};
use super::mats_fields::MatsFields;
use super::supply_fields::{SupplyFields, read_supply};
use super::tolerance_view::taken;
use super::trimming_fields::{BandFields, ROLE_CHARS, TagFields};
use crate::forms::{FormErrors, length_text, quoted_part};
use crate::recipe::{Hazard, PieceSpec, ProjectFacts};
use crate::store::bench::Measured;
use crate::store::project_facts::Bench;
use crate::store::projects::Piece;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct PieceForm {
    pub(super) version: String,
    pub(super) once: String,
    /// "save", or anything else to look first.
    #[serde(rename = "do")]
    pub(super) action: String,
    /// A clearance, and play, that a button takes.
    pub(super) take: String,
    /// A clearance or a size that a button takes: "height: 23 mm".
    pub(super) change: String,
    pub(super) name: String,
    pub(super) contents_name: String,
    pub(super) contents_supply: String,
    pub(super) contents_new: String,
    pub(super) flame: Option<String>,
    pub(super) food: Option<String>,
    pub(super) small_parts: Option<String>,
    pub(super) structure: String,
    pub(super) clearance: String,
    pub(super) paper: String,
    pub(super) role: String,
    pub(super) second_role: String,
    #[serde(flatten)]
    pub(super) contents: ContentsFields,
    #[serde(flatten)]
    pub(super) fit: FitFields,
    #[serde(flatten)]
    pub(super) mats: MatsFields,
    #[serde(flatten)]
    pub(super) band: BandFields,
    #[serde(flatten)]
    pub(super) tag: TagFields,
    #[serde(flatten)]
    pub(super) supplies: SupplyFields,
    /// What a chosen structure cannot have, once it was left out.
    #[serde(skip)]
    pub(super) left_out: Vec<&'static str>,
    /// Last: it is shown all fields that no other part of the form has taken.
    #[serde(flatten)]
    pub(super) hand: HandFields,
}

impl PieceForm {
    /// An empty form with what is usual.
    pub(super) fn usual(bench: &Bench) -> Self {
        let unit = bench.ruler().unit();
        Self {
            structure: "box".to_owned(),
            clearance: if unit == Unit::Inch { "1/8 in" } else { "3 mm" }.to_owned(),
            paper: bench
                .papers
                .iter()
                .min_by_key(|paper| paper.id)
                .map_or_else(String::new, |paper| paper.id.to_string()),
            role: "main".to_owned(),
            contents: ContentsFields {
                shape: "block".to_owned(),
                ..ContentsFields::default()
            },
            mats: MatsFields::usual(unit),
            band: BandFields::usual(unit),
            supplies: SupplyFields::usual(unit),
            ..Self::default()
        }
    }

    /// The form of a stored piece.
    pub(super) fn of(piece: &Piece, version: i64, ruler: &Ruler) -> Self {
        let spec = &piece.spec;
        let tick = |hazard| spec.hazards.contains(&hazard).then(|| "yes".to_owned());
        Self {
            version: version.to_string(),
            once: String::new(),
            action: String::new(),
            take: String::new(),
            change: String::new(),
            name: piece.name.clone(),
            contents_name: spec.contents_name.clone(),
            contents_supply: spec
                .contents_supply
                .map_or_else(String::new, |id| id.to_string()),
            contents_new: String::new(),
            flame: tick(Hazard::Flame),
            food: tick(Hazard::Food),
            small_parts: tick(Hazard::SmallParts),
            structure: spec.structure.slug().to_owned(),
            clearance: length_text(ruler, spec.clearance),
            paper: piece.paper.to_string(),
            role: spec.role.clone(),
            second_role: spec.second_role.clone().unwrap_or_default(),
            contents: ContentsFields::of(&spec.contents, ruler),
            left_out: Vec::new(),
            fit: FitFields::of(spec.fit, ruler),
            hand: HandFields::of(spec.by_hand, ruler),
            mats: MatsFields::of(spec.mats.as_ref(), ruler),
            band: BandFields::of(spec.band.as_ref(), ruler),
            tag: TagFields::of(spec.tag.as_ref(), ruler),
            supplies: SupplyFields::of(spec.ribbon.as_ref(), &spec.extras, ruler),
        }
    }

    /// The piece that was typed, whether or not it can be made.
    pub(super) fn read(
        &self,
        bench: &Bench,
        project: &ProjectFacts,
        errors: &mut FormErrors,
    ) -> Option<Piece> {
        let unit = project.board.ruler().unit();
        let name = errors.text("name", "Name of the piece", &self.name, 80);
        let contents_name = errors.text("contents_name", "What goes in", &self.contents_name, 80);
        let contents = self.contents.read(unit, errors);
        let contents_supply = self.read_contents_supply(bench, errors);
        let structure = self.read_structure(errors);
        let clearance = errors.length("clearance", "Clearance", &self.clearance, unit);
        let paper = self.read_paper(bench, errors);
        let role = errors.text("role", "Paper of the sheet", &self.role, ROLE_CHARS);
        let second = errors.optional_text(
            "second_role",
            "Paper of the other sheets",
            &self.second_role,
            ROLE_CHARS,
        );
        let ruler = project.board.ruler();
        let fit = structure.and_then(|kind| self.fit.read(kind, ruler, errors));
        let by_hand = structure.and_then(|kind| self.hand.read(kind, project, errors));
        let mats = structure.and_then(|kind| self.mats.read(kind, unit, errors));
        let band = self.band.read(unit, errors);
        let tag = self.tag.read(unit, errors);
        let ribbon = self.supplies.read_ribbon(bench, unit, errors);
        let extras = self.supplies.read_extras(bench, errors);
        let spec = PieceSpec {
            contents_name: contents_name?,
            contents: contents?,
            contents_supply: contents_supply?,
            hazards: self.hazards(),
            structure: structure?,
            clearance: clearance?,
            fit: fit?,
            role: role?,
            second_role: Some(second?).filter(|role| !role.is_empty()),
            by_hand: by_hand?,
            mats: mats?,
            band: band?,
            tag: tag?,
            ribbon: ribbon?,
            extras: extras?,
        };
        Some(Piece {
            name: name?,
            paper: paper?,
            spec,
        })
    }

    /// What has to be known to compare structures: contents, clearance and paper. Names may still
    /// be missing.
    pub(super) fn read_contents(
        &self,
        bench: &Bench,
        project: &ProjectFacts,
        errors: &mut FormErrors,
    ) -> Option<Piece> {
        let mut bare = Self {
            structure: StructureKind::all()
                .first()
                .map_or_else(String::new, |kind| kind.slug().to_owned()),
            band: BandFields::default(),
            tag: TagFields::default(),
            supplies: SupplyFields::default(),
            ..self.named()
        };
        bare.hand.clear();
        let mut piece = bare.read(bench, project, errors)?;
        if let Some(kind) = self.kind() {
            let ruler = project.board.ruler();
            let opening = self.fit.read_opening(kind, ruler, errors)?;
            piece.spec.fit = piece.spec.fit.with_opening(kind, opening);
        }
        Some(piece)
    }

    /// The form with names where they are still missing.
    pub(super) fn named(&self) -> Self {
        let usual = |typed: &String, usual: &str| match typed.trim() {
            "" => usual.to_owned(),
            typed => typed.to_owned(),
        };
        Self {
            name: usual(&self.name, "Piece"),
            contents_name: usual(&self.contents_name, "contents"),
            role: usual(&self.role, "main"),
            ..self.clone()
        }
    }

    /// Whether it asks for a part that may be left out.
    pub(super) fn has(&self, part: &str) -> bool {
        match part {
            "band" => self.band.band.is_some(),
            "ribbon" => !self.supplies.ribbon.is_empty(),
            "tag" => !self.tag.tag.is_empty(),
            _ => false,
        }
    }

    /// Leaves such a part out.
    pub(super) fn leave_out(&mut self, part: &str) {
        match part {
            "band" => self.band.band = None,
            "ribbon" => self.supplies.ribbon.clear(),
            "tag" => self.tag.tag.clear(),
            _ => {}
        }
    }

    /// The form for the structure that was chosen on the page that compares them: it is saved,
    /// without what the structure cannot have.
    pub(super) fn using(self, bench: &Bench, project: &ProjectFacts) -> Self {
        if self.action != "use" {
            return self;
        }
        let (form, left_out) = adapted(bench, project, &self);
        Self {
            action: "save".to_owned(),
            left_out,
            ..form
        }
    }

    /// The form with what its button takes.
    pub(super) fn taking(mut self) -> Self {
        let take = std::mem::take(&mut self.take);
        if !take.is_empty() {
            let (clearance, play) = taken(&take);
            self.clearance = clearance.to_owned();
            if let Some(play) = play {
                self.fit.play = play.to_owned();
            }
        }
        self.changed()
    }

    /// Whether it is to be saved: it was asked for, and nothing is wrong.
    pub(super) fn is_save(&self, errors: &FormErrors) -> bool {
        self.action == "save" && errors.is_empty()
    }

    /// The structure that is chosen, if it is one.
    pub(super) fn kind(&self) -> Option<StructureKind> {
        let mut all = StructureKind::all().iter();
        all.find(|kind| kind.slug() == self.structure).copied()
    }

    pub(super) fn read_structure(&self, errors: &mut FormErrors) -> Option<StructureKind> {
        let kinds = StructureKind::all().iter().map(|kind| (kind.slug(), *kind));
        let kinds: Vec<_> = kinds.collect();
        errors.choice("structure", "How it is made", &self.structure, &kinds)
    }

    fn hazards(&self) -> Vec<Hazard> {
        let ticked = [
            (Hazard::Flame, &self.flame),
            (Hazard::Food, &self.food),
            (Hazard::SmallParts, &self.small_parts),
        ];
        let ticked = ticked.into_iter().filter(|(_, sent)| sent.is_some());
        ticked.map(|(hazard, _)| hazard).collect()
    }

    fn read_contents_supply(&self, bench: &Bench, errors: &mut FormErrors) -> Option<Option<i64>> {
        if self.contents_supply.is_empty() {
            return Some(None);
        }
        let name = ("contents_supply", "Bought and packed with it");
        read_supply(name, &self.contents_supply, bench, Measured::Each, errors).map(Some)
    }

    pub(super) fn read_paper(&self, bench: &Bench, errors: &mut FormErrors) -> Option<i64> {
        let id = self.paper.parse().ok();
        let found = bench.papers.iter().find(|paper| Some(paper.id) == id);
        if found.is_none() {
            errors.add(
                "paper",
                format!(
                    "Paper: \"{}\" is not on the bench. Choose one from the list.",
                    quoted_part(&self.paper)
                ),
            );
        }
        found.map(|paper| paper.id)
    }

    /// The field of the form to mark for the cause that a recipe names.
    pub(super) fn field_of(&self, cause: &str) -> String {
        let field = match cause {
            "settings" => {
                let first = self.kind().and_then(|kind| kind.fields().first());
                return first.map_or_else(|| "structure".to_owned(), field_name);
            }
            "structure" => "structure",
            "window" => "window",
            "slot" => "slot",
            "mats" => "mats_reveal",
            "band" => "band_overlap",
            "band_reveal" => "band_reveal",
            "band_notch" => "band_notch",
            "tag" => "tag_width",
            "ribbon" => "ribbon_bow",
            "paper" => "paper",
            "clearance" => "clearance",
            "width" => "width",
            "depth" => "depth",
            "height" => "height",
            "diameter" => "diameter",
            "each_thickness" => "each_thickness",
            "count" => "count",
            _ => self.contents.first_field(),
        };
        field.to_owned()
    }

    /// Which optional parts stand open: those in use, and those with something wrong.
    pub(super) fn is_open(&self, part: &str, errors: &FormErrors) -> bool {
        let wrong = |fields: &[&str]| fields.iter().any(|field| errors.of(*field).is_some());
        match part {
            "hand" => self.kind().is_some_and(|kind| {
                let mut names = kind.fields().iter().map(field_name);
                !self.hand.is_empty(kind) || names.any(|name| errors.of(&name).is_some())
            }),
            "role" => !self.second_role.is_empty() || wrong(&["role", "second_role"]),
            "mats" => {
                let fields = ["mats", "mats_reveal", "mats_role_1", "mats_role_2"];
                !self.mats.mats.is_empty() || wrong(&fields)
            }
            "band" => {
                let fields = ["band_overlap", "band_reveal", "band_notch", "band_role"];
                self.band.band.is_some() || wrong(&fields)
            }
            "tag" => !self.tag.tag.is_empty() || wrong(&["tag", "tag_width"]),
            "ribbon" => !self.supplies.ribbon.is_empty() || wrong(&["ribbon"]),
            "extras" => {
                let chosen = self.supplies.slots().iter().any(|slot| !slot.2.is_empty());
                chosen || !self.supplies.extra_new.is_empty()
            }
            _ => self.flame.is_some() || self.food.is_some() || self.small_parts.is_some(),
        }
    }
}
