//! Inside sizes in the order in which cartons are listed.
//!
//! FEFCO and ESBO code of case designs: inside measures in mm, length x width x height; length is
//! the longer side of the opening, width the shorter one, height goes from the opening to the
//! base. A telescope box adds the height of its lid: 355 x 205 x 120/40.

use std::fmt;

use super::{Inside, Structure};

/// Where a box is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FilledAt {
    /// Over its front: a tray.
    Front,
    /// At its near end: a carton.
    End,
}

/// The inside of a box as cartons are listed. Prints in whole millimetres, rounded down: what is
/// listed goes in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CartonSize {
    /// The longer side of the opening, mm.
    pub length_mm: f64,
    /// The shorter side of the opening, mm.
    pub width_mm: f64,
    /// From the opening to the base, mm.
    pub height_mm: f64,
    /// How far a lid reaches over the base, mm.
    pub lid_mm: Option<f64>,
}

impl CartonSize {
    fn new(inside: Inside, at: FilledAt, lid_mm: Option<f64>) -> Self {
        let (other, height_mm) = match at {
            FilledAt::Front => (inside.length, inside.depth),
            FilledAt::End => (inside.depth, inside.length),
        };
        Self {
            length_mm: inside.width.max(other),
            width_mm: inside.width.min(other),
            height_mm,
            lid_mm,
        }
    }
}

impl Structure {
    /// Its inside as cartons are listed; `None` where it has no four-sided opening.
    #[must_use]
    pub fn carton_size(&self) -> Option<CartonSize> {
        let at = self.kind().family().filled_at()?;
        let lid = self.body("lid").map(|lid| {
            let (low, high) = lid.pattern.solid.bounds();
            high.z - low.z
        });
        Some(CartonSize::new(self.inside(), at, lid))
    }
}

impl fmt::Display for CartonSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A hair under a whole millimetre is rounding.
        let whole = |mm: f64| (mm + 1e-6).floor();
        let [length, width, height] = [self.length_mm, self.width_mm, self.height_mm].map(whole);
        write!(f, "{length} x {width} x {height}")?;
        self.lid_mm
            .map_or(Ok(()), |lid| write!(f, "/{}", whole(lid)))
    }
}

#[cfg(test)]
mod tests {
    use super::super::Settings;
    use super::super::test_support::{made, tenths};
    use super::super::tray::Tray;
    use super::*;

    /// FEFCO and ESBO code: a telescope box of 355 x 205 x 120 with a lid 40 high is written
    /// 355 x 205 x 120/40; the longer side of the opening comes first.
    #[test]
    fn the_longer_side_of_the_opening_comes_first_and_a_lid_last() {
        let inside = |width, length, depth| Inside {
            width,
            length,
            depth,
        };
        for (inside, at) in [
            (inside(355.0, 205.0, 120.0), FilledAt::Front),
            (inside(205.0, 355.0, 120.0), FilledAt::Front),
            (inside(205.0, 120.0, 355.0), FilledAt::End),
        ] {
            let size = CartonSize::new(inside, at, Some(40.0));
            assert_eq!(size.to_string(), "355 x 205 x 120/40");
        }
        let bare = CartonSize::new(inside(60.0, 40.0, 24.999_999_9), FilledAt::Front, None);
        assert_eq!(bare.to_string(), "60 x 40 x 25");
    }

    /// The tray of the published lid: 60 x 40 x 25 between its walls, whose length loses the tabs.
    #[test]
    fn a_tray_is_listed_by_its_inside_and_its_lid() {
        let settings = Settings::of(Tray::KIND, &[1107, 907, 252, 914, 720, 150].map(tenths));
        let size = made(settings).carton_size();
        assert_eq!(size.unwrap().to_string(), "60 x 39 x 25/15");
    }
}
