//! A flap that narrows from its hinge, so that it goes in between walls.

use kurbo::Point;

use super::build::{Builder, ccw};
use super::tube::TAPER;
use crate::{CreaseId, Face, PanelId, PanelRole, WasteReason};

/// A flap that narrows from its hinge.
pub(super) struct Flap {
    pub(super) name: &'static str,
    pub(super) on: PanelId,
    /// Left and right of the column of the sheet in which it is.
    pub(super) column: (f64, f64),
    /// Where it hinges, from the middle of the sheet.
    pub(super) from: f64,
    pub(super) deep: f64,
    /// How far it draws back at its hinge, on the left and on the right.
    pub(super) inset: (f64, f64),
    pub(super) place: (Face, i8),
}

impl Flap {
    /// Adds the flap and the waste round it, up to the sheet's edge at `reach`.
    pub(super) fn add(&self, b: &mut Builder, up: f64, reach: f64) -> (CreaseId, PanelId) {
        let (y0, y1) = (self.from, self.from + self.deep);
        let taper = TAPER * self.deep;
        let ((x0, x1), at) = (self.column, |x: f64, y: f64| Point::new(x, y * up));
        let (left, right) = (x0 + self.inset.0, x1 - self.inset.1);
        let outline = vec![
            at(left, y0),
            at(right, y0),
            at(right - taper, y1),
            at(left + taper, y1),
        ];
        let flap = ccw(outline);
        let flap = b.panel(self.name, flap, self.place, PanelRole::Flap);
        let line = (at(left, y0), at(right, y0));
        let hinge = b.crease(self.name, line, (self.on, flap), 90.0);
        let beside = [
            vec![at(x0, y0), at(left, y0), at(left + taper, y1), at(x0, y1)],
            vec![at(right, y0), at(x1, y0), at(x1, y1), at(right - taper, y1)],
        ];
        for outline in beside {
            b.waste(outline, WasteReason::Shape);
        }
        b.waste(
            vec![at(x0, y1), at(x1, y1), at(x1, reach), at(x0, reach)],
            WasteReason::Shape,
        );
        (hinge, flap)
    }
}
