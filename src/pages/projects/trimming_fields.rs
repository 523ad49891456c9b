//! The band and the tag.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Length, Ruler, Unit};

use crate::forms::{FormErrors, length_text};
use crate::recipe::{BandSpec, MatSpec, TagShape, TagSpec};

/// Longest name of a role, in characters.
pub(super) const ROLE_CHARS: usize = 40;

/// What was typed about the band.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct BandFields {
    pub(super) band: Option<String>,
    pub(super) band_overlap: String,
    pub(super) band_reveal: String,
    pub(super) band_notch: String,
    pub(super) band_role: String,
}

impl Default for BandFields {
    fn default() -> Self {
        Self {
            band: None,
            band_overlap: "1/2 in".to_owned(),
            band_reveal: "1/8 in".to_owned(),
            band_notch: String::new(),
            band_role: "accent".to_owned(),
        }
    }
}

impl BandFields {
    /// The usual band in the units of the bench.
    pub(super) fn usual(unit: Unit) -> Self {
        let mut fields = Self::default();
        if unit != Unit::Inch {
            fields.band_overlap = "12 mm".to_owned();
            fields.band_reveal = "3 mm".to_owned();
        }
        fields
    }

    /// The fields of a stored piece.
    pub(super) fn of(band: Option<&BandSpec>, ruler: &Ruler) -> Self {
        let Some(band) = band else {
            return Self::usual(ruler.unit());
        };
        let text = |length| length_text(ruler, length);
        Self {
            band: Some("yes".to_owned()),
            band_overlap: text(band.overlap),
            band_reveal: text(band.reveal),
            band_notch: band.notch.map(text).unwrap_or_default(),
            band_role: band.role.clone(),
        }
    }

    /// The band that was typed: `Some(None)` is none, `None` an error.
    pub(super) fn read(&self, unit: Unit, errors: &mut FormErrors) -> Option<Option<BandSpec>> {
        if self.band.is_none() {
            return Some(None);
        }
        let overlap = errors.size(
            "band_overlap",
            "Overlap of the ends",
            &self.band_overlap,
            unit,
        );
        let reveal = errors.length("band_reveal", "Reveal at each end", &self.band_reveal, unit);
        let notch = errors.optional_size("band_notch", "Finger notch", &self.band_notch, unit);
        let role = errors.text(
            "band_role",
            "Paper of the band",
            &self.band_role,
            ROLE_CHARS,
        );
        Some(Some(BandSpec {
            overlap: overlap?,
            reveal: reveal?,
            notch: notch?,
            role: role?,
        }))
    }
}

/// What was typed about the tag.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct TagFields {
    pub(super) tag: String,
    pub(super) tag_width: String,
    pub(super) tag_height: String,
    pub(super) tag_role: String,
    pub(super) mat_reveal: String,
    pub(super) mat_role: String,
}

impl Default for TagFields {
    fn default() -> Self {
        Self {
            tag: String::new(),
            tag_width: String::new(),
            tag_height: String::new(),
            tag_role: "label".to_owned(),
            mat_reveal: String::new(),
            mat_role: "accent".to_owned(),
        }
    }
}

/// The shapes of a tag with their words.
pub(super) const TAGS: [(&str, &str); 3] = [
    ("", "No tag"),
    ("circle", "Circle"),
    ("rectangle", "Rectangle"),
];

impl TagFields {
    /// The fields of a stored piece.
    pub(super) fn of(tag: Option<&TagSpec>, ruler: &Ruler) -> Self {
        let Some(tag) = tag else {
            return Self::default();
        };
        let text = |length| length_text(ruler, length);
        let (shape, width, height) = match tag.shape {
            TagShape::Circle { diameter } => ("circle", text(diameter), String::new()),
            TagShape::Rectangle { width, height } => ("rectangle", text(width), text(height)),
        };
        let mat = tag.mat.as_ref();
        Self {
            tag: shape.to_owned(),
            tag_width: width,
            tag_height: height,
            tag_role: tag.role.clone(),
            mat_reveal: mat.map(|mat| text(mat.reveal)).unwrap_or_default(),
            mat_role: mat.map_or_else(|| "accent".to_owned(), |mat| mat.role.clone()),
        }
    }

    /// The tag that was typed: `Some(None)` is none, `None` an error.
    pub(super) fn read(&self, unit: Unit, errors: &mut FormErrors) -> Option<Option<TagSpec>> {
        let offered = TAGS.map(|(slug, _)| (slug, slug));
        // The empty choice is one of them, so `choice` never calls it missing.
        let shape = errors.choice("tag", "Tag", &self.tag, &offered)?;
        if shape.is_empty() {
            return Some(None);
        }
        let width = errors.size("tag_width", "Width of the tag", &self.tag_width, unit);
        let shape = if shape == "circle" {
            width.map(|diameter| TagShape::Circle { diameter })
        } else {
            let height = errors.size("tag_height", "Height of the tag", &self.tag_height, unit);
            width
                .zip(height)
                .map(|(width, height)| TagShape::Rectangle { width, height })
        };
        let role = errors.text("tag_role", "Paper of the tag", &self.tag_role, ROLE_CHARS);
        let reveal =
            errors.optional_size("mat_reveal", "Layer below shows", &self.mat_reveal, unit);
        let mat = self.read_mat(reveal?, errors);
        Some(Some(TagSpec {
            shape: shape?,
            role: role?,
            mat: mat?,
        }))
    }

    fn read_mat(&self, reveal: Option<Length>, errors: &mut FormErrors) -> Option<Option<MatSpec>> {
        let Some(reveal) = reveal else {
            return Some(None);
        };
        let role = errors.text(
            "mat_role",
            "Paper of the layer below",
            &self.mat_role,
            ROLE_CHARS,
        );
        Some(Some(MatSpec {
            reveal,
            role: role?,
        }))
    }
}
