//! An envelope from a square, one punch a side.
//!
//! ```text
//!          /\               a punch at p from the left corner of a side, depth e:
//!        /    \  top flap       W = √2 (p − e)        along u
//!      _|______|_               H = √2 (S − p − e)    along v
//!    /  |      |  \
//!  <    |front |    >       the flaps on the two long sides fold first and overlap; the bottom
//!    \ _|______|_ /         flap is glued to both; the top flap closes last
//!       |      |
//!        \    /             where the front is wider than high, all this is turned a quarter:
//!          \/               bottom is then on the left and top on the right
//! ```

use std::f64::consts::SQRT_2;

use serde::{Deserialize, Serialize};

use super::limits::check_room;
use super::notched_square::{check_marks, check_sheet};
use super::{Inside, StructureError};
use crate::{Length, PunchBoard};

/// What is set to make an envelope: the side of the square, and the punch from its left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PunchEnvelopeSettings {
    /// Side of the square sheet.
    pub sheet: Length,
    /// Punch on the first side.
    pub punch: Length,
}

/// A punch-board envelope that can be made.
#[derive(Clone, Debug, PartialEq)]
pub struct PunchEnvelope {
    settings: PunchEnvelopeSettings,
    notch_depth: Length,
    pub(super) caliper: Length,
    pub(super) width: f64,
    pub(super) height: f64,
    /// √2 e.
    pub(super) s: f64,
}

impl PunchEnvelope {
    /// The envelope that these settings make on this board, from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a punch that is no mark of the board's
    /// ruler; a sheet that does not reach past the notch; paper
    /// thicker than the envelope is wide.
    pub fn new(
        settings: PunchEnvelopeSettings,
        board: &PunchBoard,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        let PunchEnvelopeSettings { sheet, punch } = settings;
        check_marks(sheet, &[("punch", punch)], board, caliper)?;
        check_sheet(sheet, punch, board)?;
        let e = board.notch_depth();
        let made = Self {
            settings,
            notch_depth: e,
            caliper,
            width: SQRT_2 * (punch - e).mm(),
            height: SQRT_2 * (sheet - punch - e).mm(),
            s: SQRT_2 * e.mm(),
        };
        let inside = made.inside();
        let axes = [
            ("width", inside.width, made.width),
            ("height", inside.length, made.height),
        ];
        check_room(axes, caliper, board.ruler())?;
        Ok(made)
    }

    /// The settings, in mm and on no ruler, that make an envelope of this width and height,
    /// crease to crease: sheet, punch (the inverse of [`PunchEnvelope::new`]).
    #[must_use]
    pub fn exact_settings_mm((width, height): (f64, f64), notch_depth: Length) -> (f64, f64) {
        let e = notch_depth.mm();
        ((width + height) / SQRT_2 + 2.0 * e, width / SQRT_2 + e)
    }

    /// The settings it was made from.
    #[must_use]
    pub fn settings(&self) -> PunchEnvelopeSettings {
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

    /// Height of the front, crease to crease, mm.
    #[must_use]
    pub fn height_mm(&self) -> f64 {
        self.height
    }

    /// Whether the front is wider than high, so that the flaps on the left and right close last.
    #[must_use]
    pub fn lies_wide(&self) -> bool {
        self.width > self.height
    }

    /// Room for something flat: half a caliper is lost at each crease, and there is no depth.
    #[must_use]
    pub fn inside(&self) -> Inside {
        self.inside_for(0.0)
    }

    /// Room for something `depth` mm thick: the paper goes round it, so that width and height
    /// each lose as much again (the girth of the envelope stays what it is).
    #[must_use]
    pub fn inside_for(&self, depth: f64) -> Inside {
        let t = self.caliper.mm();
        Inside {
            width: self.width - t - depth,
            length: self.height - t - depth,
            depth,
        }
    }

    /// Length of the sides whose flaps fold first, and the distance between these sides, mm.
    fn long_and_short(&self) -> (f64, f64) {
        (self.width.max(self.height), self.width.min(self.height))
    }

    /// How far a flap on a long side reaches from its crease before it is trimmed, mm.
    #[must_use]
    pub fn side_flap_reach_mm(&self) -> f64 {
        self.long_and_short().0 / 2.0 + self.s
    }

    /// How far a side flap sticks out past the far edge and is trimmed, mm; 0 if it does not.
    #[must_use]
    pub fn trim_mm(&self) -> f64 {
        (self.side_flap_reach_mm() - self.long_and_short().1).max(0.0)
    }

    /// How far a flap on a short side (bottom, top) reaches before it is trimmed, mm.
    #[must_use]
    pub fn end_flap_reach_mm(&self) -> f64 {
        self.long_and_short().1 / 2.0 + self.s
    }

    /// How far the bottom and top flaps stick out and are trimmed, mm; 0 if they do not.
    #[must_use]
    pub fn end_flap_trim_mm(&self) -> f64 {
        (self.end_flap_reach_mm() - self.long_and_short().0).max(0.0)
    }

    /// How far the two side flaps overlap at the middle, mm.
    #[must_use]
    pub fn back_overlap_mm(&self) -> f64 {
        let short = self.long_and_short().1;
        2.0 * self.side_flap_reach_mm().min(short) - short
    }
}
