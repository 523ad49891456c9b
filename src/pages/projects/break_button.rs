//! Break points as buttons: each takes its clearance or size.

use tablefold_geometry::{BreakPoint, Ruler};

use super::piece_form::PieceForm;
use crate::forms::length_text;

/// A small change that changes the number of sheets.
pub(super) struct BreakButton {
    /// What it does.
    pub(super) text: String,
    /// "Take 1/16 in of clearance".
    pub(super) label: String,
    /// The field that changes, and to what.
    pub(super) field: &'static str,
    pub(super) value: String,
}

impl BreakButton {
    pub(super) fn new(point: &BreakPoint, ruler: &Ruler) -> Self {
        let (field, value) = match point.size {
            None => ("clearance", length_text(ruler, point.clearance)),
            Some(size) => (size.field, length_text(ruler, size.to)),
        };
        let label = match point.size {
            None => format!("Take {value} of clearance"),
            Some(_) => format!("Take a {field} of {value}"),
        };
        Self {
            text: point.text.clone(),
            label,
            field,
            value,
        }
    }

    /// What it sends.
    pub(super) fn change(&self) -> String {
        format!("{}: {}", self.field, self.value)
    }
}

impl PieceForm {
    /// With the change that such a button sends; what no button sends changes nothing.
    pub(super) fn changed(mut self) -> Self {
        let change = std::mem::take(&mut self.change);
        let (field, value) = change.split_once(": ").unwrap_or_default();
        let field = match field {
            "clearance" => &mut self.clearance,
            "width" => &mut self.contents.width,
            "depth" => &mut self.contents.depth,
            "diameter" => &mut self.contents.diameter,
            "height" => &mut self.contents.height,
            _ => return self,
        };
        value.clone_into(field);
        self
    }
}
