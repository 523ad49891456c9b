//! Settings held against their limits: a refusal says the mark that would do.

use super::{StructureError, StructureProblem};
use crate::sizing::SLACK_MM;
use crate::{Length, Ruler};

/// A setting, and the ruler that it is set on.
pub(super) struct Asked<'r> {
    pub(super) field: &'static str,
    pub(super) at: Length,
    pub(super) ruler: &'r Ruler,
}

impl<'r> Asked<'r> {
    pub(super) fn new(field: &'static str, at: Length, ruler: &'r Ruler) -> Self {
        Self { field, at, ruler }
    }

    pub(super) fn at_least(&self, least: f64, why: &'static str) -> Result<(), StructureError> {
        if self.at.mm() >= least - SLACK_MM {
            return Ok(());
        }
        Err(self.too_little(least, why))
    }

    pub(super) fn at_most(&self, most: f64, why: &'static str) -> Result<(), StructureError> {
        if self.at.mm() <= most + SLACK_MM {
            return Ok(());
        }
        Err(self.too_much(most, why))
    }

    /// A score that is made once more, twice as far from the edge.
    pub(super) fn twice_in_reach(&self, why: &'static str) -> Result<(), StructureError> {
        if self.ruler.has(self.at * 2) {
            return Ok(());
        }
        Err(self.too_much(self.ruler.longest().mm() / 2.0, why))
    }

    pub(super) fn too_little(&self, least: f64, why: &'static str) -> StructureError {
        // Beyond the ruler's reach the mark is counted on.
        let step = self.ruler.step();
        let counted = || Length::nearest_multiple((least / step.mm()).ceil() * step.mm(), step);
        let least = self.ruler.up(least).or_else(counted);
        let problem = StructureProblem::TooLittle {
            field: self.field,
            asked: self.at,
            least: least.unwrap_or(Length::MAX),
            why,
        };
        StructureError::new(problem, self.ruler)
    }

    pub(super) fn too_much(&self, most: f64, why: &'static str) -> StructureError {
        let problem = StructureProblem::TooMuch {
            field: self.field,
            asked: self.at,
            most: self.ruler.down(most).unwrap_or_default(),
            why,
        };
        StructureError::new(problem, self.ruler)
    }
}

/// Each axis with its room and what it is from crease to crease, mm: the paper must not fill it.
pub(super) fn check_room<const N: usize>(
    axes: [(&'static str, f64, f64); N],
    caliper: Length,
    ruler: &Ruler,
) -> Result<(), StructureError> {
    match axes.into_iter().find(|(_, room, _)| *room <= 0.0) {
        Some((axis, _, crease_mm)) => Err(no_room(axis, crease_mm, caliper, ruler)),
        None => Ok(()),
    }
}

pub(super) fn no_room(
    axis: &'static str,
    crease_mm: f64,
    caliper: Length,
    ruler: &Ruler,
) -> StructureError {
    let problem = StructureProblem::NoRoom {
        axis,
        crease_mm,
        caliper,
    };
    StructureError::new(problem, ruler)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The ruler ends at 300 mm and would go on with 363 and 364.
    #[test]
    fn the_least_mark_beyond_a_ruler_is_counted_on() {
        let ruler = Ruler::millimetre();
        let asked = Asked::new("sheet_width", Length::from_mm(200), &ruler);
        insta::assert_snapshot!(asked.too_little(363.2, "it is short"), @"Sheet width of 200 mm is too little: it is short. Set 364 mm or more.");
    }
}
