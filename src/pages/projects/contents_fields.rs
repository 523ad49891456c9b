//! What goes in: its shape and measures.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Contents, Ruler, Unit};

use crate::forms::{FormErrors, length_text};

/// What was typed. Each shape reads its own fields.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct ContentsFields {
    pub(super) shape: String,
    pub(super) width: String,
    pub(super) depth: String,
    pub(super) diameter: String,
    pub(super) height: String,
    pub(super) each_thickness: String,
    pub(super) count: String,
}

/// The shapes with their words.
pub(super) const SHAPES: [(&str, &str); 4] = [
    ("block", "Block: a packet, a bar, a box"),
    ("cylinder", "Cylinder: a tin, a jar, a roll"),
    ("ball", "Ball: a ball of twine, a bulb"),
    ("stack", "Stack: cards, packets on each other"),
];

impl ContentsFields {
    /// The fields of stored contents.
    pub(super) fn of(contents: &Contents, ruler: &Ruler) -> Self {
        let text = |length| length_text(ruler, length);
        let mut fields = Self::default();
        match *contents {
            Contents::Block {
                width,
                depth,
                height,
            } => {
                fields.shape = "block".to_owned();
                fields.width = text(width);
                fields.depth = text(depth);
                fields.height = text(height);
            }
            Contents::Cylinder { diameter, height } => {
                fields.shape = "cylinder".to_owned();
                fields.diameter = text(diameter);
                fields.height = text(height);
            }
            Contents::Ball { diameter } => {
                fields.shape = "ball".to_owned();
                fields.diameter = text(diameter);
            }
            Contents::Stack {
                width,
                height,
                each_thickness,
                count,
            } => {
                fields.shape = "stack".to_owned();
                fields.width = text(width);
                fields.height = text(height);
                fields.each_thickness = text(each_thickness);
                fields.count = count.to_string();
            }
        }
        fields
    }

    /// The contents that were typed.
    pub(super) fn read(&self, unit: Unit, errors: &mut FormErrors) -> Option<Contents> {
        let shapes = SHAPES.map(|(slug, _)| (slug, slug));
        match errors.choice("shape", "Shape", &self.shape, &shapes)? {
            "cylinder" => {
                let diameter = errors.size("diameter", "Diameter", &self.diameter, unit);
                let height = errors.size("height", "Height", &self.height, unit);
                Some(Contents::Cylinder {
                    diameter: diameter?,
                    height: height?,
                })
            }
            "ball" => {
                let diameter = errors.size("diameter", "Diameter", &self.diameter, unit);
                diameter.map(|diameter| Contents::Ball { diameter })
            }
            "stack" => self.read_stack(unit, errors),
            _ => {
                let width = errors.size("width", "Width", &self.width, unit);
                let depth = errors.size("depth", "Depth", &self.depth, unit);
                let height = errors.size("height", "Height", &self.height, unit);
                Some(Contents::Block {
                    width: width?,
                    depth: depth?,
                    height: height?,
                })
            }
        }
    }

    fn read_stack(&self, unit: Unit, errors: &mut FormErrors) -> Option<Contents> {
        let width = errors.size("width", "Width", &self.width, unit);
        let height = errors.size("height", "Height", &self.height, unit);
        let each = errors.size(
            "each_thickness",
            "Thickness of one",
            &self.each_thickness,
            unit,
        );
        let count = errors.count("count", "How many on each other", &self.count, 1..=10_000);
        Some(Contents::Stack {
            width: width?,
            height: height?,
            each_thickness: each?,
            count: count?,
        })
    }

    /// The field to mark where the contents as a whole are the cause.
    pub(super) fn first_field(&self) -> &'static str {
        if matches!(self.shape.as_str(), "cylinder" | "ball") {
            "diameter"
        } else {
            "width"
        }
    }
}
