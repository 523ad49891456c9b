//! A box from a square, two punches a side.
//!
//! ```text
//!             /\                  punches at p1, p2 from the left corner of a side, depth e:
//!           /    \   top end flap     W = √2 (p1 − e)
//!          |______|                   L = √2 (S − p2 − e)
//!     tab  |______|  tab <- end wall  d = (p2 − p1) / √2
//!      ____|      |____           the side flap reaches F = L/2 + √2 e; what sticks out past
//!    /|    |front |    |\         the far edge, F − W, is trimmed off
//!  <  |wall|      |wall|  > side flap
//!    \|____|______|____|/         closed: tabs lie inside the end walls; inner side flap,
//!     tab  |______|  tab          outer side flap, end flaps make the back, in this order
//!          |______|
//!           \    /                cuts along |u| = W/2, from the notch to |v| = L/2, free tabs
//!             \/
//! ```

use std::f64::consts::SQRT_2;

use serde::{Deserialize, Serialize};

use super::limits::check_room;
use super::notched_square::{check_marks, check_sheet};
use super::{BackRemedy, Inside, StructureError, StructureProblem};
use crate::{Length, PunchBoard};

/// Overlap of the two side flaps that can be glued, mm (common practice, no source).
const BACK_OVERLAP_MM: f64 = 8.0;
/// Usual radius of a rounded flap tip, mm (common practice, no source).
const TIP_RADIUS_MM: f64 = 6.35;

/// What is set to make a box: the side of the square, and the two punches from its left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PunchBoxSettings {
    /// Side of the square sheet.
    pub sheet: Length,
    /// First punch on the first side.
    pub punch_1: Length,
    /// Second punch on the first side.
    pub punch_2: Length,
}

/// A punch-board box that can be made.
#[derive(Clone, Debug, PartialEq)]
pub struct PunchBox {
    settings: PunchBoxSettings,
    notch_depth: Length,
    pub(super) caliper: Length,
    pub(super) width: f64,
    pub(super) length: f64,
    pub(super) depth: f64,
    /// √2 e.
    pub(super) s: f64,
}

impl PunchBox {
    /// The box that these settings make on this board, from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a punch that is no mark of the board's
    /// ruler; punches less than two notch depths apart; a sheet that
    /// does not reach past the second notch; side flaps that overlap by less than 8 mm; paper so
    /// thick that it fills the box.
    pub fn new(
        settings: PunchBoxSettings,
        board: &PunchBoard,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        let PunchBoxSettings {
            sheet,
            punch_1,
            punch_2,
        } = settings;
        let e = board.notch_depth();
        check_marks(
            sheet,
            &[("punch_1", punch_1), ("punch_2", punch_2)],
            board,
            caliper,
        )?;
        let least = punch_1 + e * 2;
        if punch_2 < least {
            let least = board.ruler().up(least.mm()).unwrap_or(least);
            let problem = StructureProblem::NotchesOverlap {
                punch_1,
                punch_2,
                least,
            };
            return Err(StructureError::new(problem, board.ruler()));
        }
        check_sheet(sheet, punch_2, board)?;
        let made = Self {
            settings,
            notch_depth: e,
            caliper,
            width: SQRT_2 * (punch_1 - e).mm(),
            length: SQRT_2 * (sheet - punch_2 - e).mm(),
            depth: (punch_2 - punch_1).mm() / SQRT_2,
            s: SQRT_2 * e.mm(),
        };
        made.check_back(board)?;
        made.check_room(board)?;
        Ok(made)
    }

    /// The settings, in mm and on no ruler, that make a box of these sizes, crease to crease:
    /// sheet, punch 1, punch 2 (the inverse of [`PunchBox::new`]).
    #[must_use]
    pub fn exact_settings_mm(
        (width, length, depth): (f64, f64, f64),
        notch_depth: Length,
    ) -> (f64, f64, f64) {
        let e = notch_depth.mm();
        let punch_1 = width / SQRT_2 + e;
        let punch_2 = punch_1 + SQRT_2 * depth;
        (
            (width + length + 2.0 * depth) / SQRT_2 + 2.0 * e,
            punch_1,
            punch_2,
        )
    }

    fn check_back(&self, board: &PunchBoard) -> Result<(), StructureError> {
        let overlap_mm = self.back_overlap_mm();
        if overlap_mm >= BACK_OVERLAP_MM {
            return Ok(());
        }
        let PunchBoxSettings {
            sheet,
            punch_1,
            punch_2,
        } = self.settings;
        let turned = (sheet - punch_2, sheet - punch_1);
        let marks = board.ruler().has(turned.0) && board.ruler().has(turned.1);
        // Turned, width and length change places.
        let remedy = if self.width < BACK_OVERLAP_MM {
            BackRemedy::Widen
        } else if marks && overlap(self.width, self.length, self.s) >= BACK_OVERLAP_MM {
            BackRemedy::Turn(turned.0, turned.1)
        } else {
            BackRemedy::Lengthen
        };
        let problem = StructureProblem::BackOpen {
            overlap_mm,
            needs_mm: BACK_OVERLAP_MM,
            remedy,
        };
        Err(StructureError::new(problem, board.ruler()))
    }

    fn check_room(&self, board: &PunchBoard) -> Result<(), StructureError> {
        let inside = self.inside();
        let axes = [
            ("width", inside.width, self.width),
            ("length", inside.length, self.length),
            ("depth", inside.depth, self.depth),
        ];
        check_room(axes, self.caliper, board.ruler())
    }

    /// The settings it was made from.
    #[must_use]
    pub fn settings(&self) -> PunchBoxSettings {
        self.settings
    }

    /// Notch depth of the board it is made on.
    #[must_use]
    pub fn notch_depth(&self) -> Length {
        self.notch_depth
    }

    /// Width of the front, crease to crease, mm.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        self.width
    }

    /// Length of the front, crease to crease, mm.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        self.length
    }

    /// Depth from front to back, crease to crease, mm.
    #[must_use]
    pub fn depth_mm(&self) -> f64 {
        self.depth
    }

    /// Room inside: half a caliper for each wall and one for each further layer inside it. The
    /// width loses t, the depth 2 t (the inner side flap), the length 3 t (a tab at each end) or
    /// 5 t where the two tabs of an end overlap.
    #[must_use]
    pub fn inside(&self) -> Inside {
        let t = self.caliper.mm();
        let at_ends = if self.tabs_overlap() { 5.0 } else { 3.0 };
        Inside {
            width: self.width - t,
            length: self.length - at_ends * t,
            depth: self.depth - 2.0 * t,
        }
    }

    /// How far a side flap reaches from its crease before it is trimmed, mm.
    #[must_use]
    pub fn flap_reach_mm(&self) -> f64 {
        self.length / 2.0 + self.s
    }

    /// How far a side flap sticks out past the far edge and is trimmed, mm; 0 if it does not.
    #[must_use]
    pub fn trim_mm(&self) -> f64 {
        (self.flap_reach_mm() - self.width).max(0.0)
    }

    /// How far the two side flaps overlap at the middle, mm; negative is a gap.
    #[must_use]
    pub fn back_overlap_mm(&self) -> f64 {
        overlap(self.length, self.width, self.s)
    }

    /// How far an end flap reaches over the back before its tip is rounded or trimmed, mm.
    #[must_use]
    pub fn end_flap_reach_mm(&self) -> f64 {
        self.width / 2.0 + self.s
    }

    /// How far an end flap sticks out past the other end and is trimmed, mm; 0 if it does not.
    #[must_use]
    pub fn end_flap_trim_mm(&self) -> f64 {
        (self.end_flap_reach_mm() - self.length).max(0.0)
    }

    /// Radius of the rounded tips of the end flaps, mm; 0 where the tip is trimmed off. Three
    /// notch depths at most: the flap then still covers the gap that the side flaps leave.
    #[must_use]
    pub fn tip_radius_mm(&self) -> f64 {
        if self.end_flap_trim_mm() > 0.0 {
            return 0.0;
        }
        let side = self.width / SQRT_2;
        TIP_RADIUS_MM
            .min(side / 2.0)
            .min(3.0 * self.notch_depth.mm())
    }

    /// How far a tab reaches along its end wall, mm.
    #[must_use]
    pub fn tab_reach_mm(&self) -> f64 {
        self.depth.min(self.width - self.caliper.mm())
    }

    /// How much of a tab is trimmed off because it is longer than the box is wide inside, mm.
    #[must_use]
    pub fn tab_trim_mm(&self) -> f64 {
        self.depth - self.tab_reach_mm()
    }

    /// Whether the two tabs of an end lie over each other.
    #[must_use]
    pub fn tabs_overlap(&self) -> bool {
        2.0 * self.tab_reach_mm() > self.width + 1e-9
    }
}

/// How far two flaps from sides of this length, this far apart, overlap when they are trimmed to
/// the far side, mm.
fn overlap(side: f64, apart: f64, s: f64) -> f64 {
    2.0 * (side / 2.0 + s).min(apart) - apart
}
