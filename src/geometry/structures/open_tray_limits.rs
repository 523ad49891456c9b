//! What an open tray has to keep to: base, lid or drawer.

use super::limits::{Asked, check_room};
use super::open_tray::{LEAST_TAB_MM, OpenTray};
use super::{StructureError, StructureKind, Tools};
use crate::{Length, Ruler};

/// The rulers and the paper that limits are told in.
pub(super) struct Limits {
    pub(super) score: Ruler,
    pub(super) trimmer: Ruler,
    pub(super) caliper: Length,
}

impl Limits {
    pub(super) fn of(
        kind: StructureKind,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        Ok(Self {
            score: tools.score_for(kind)?,
            trimmer: tools.trimmer,
            caliper,
        })
    }

    /// The tray with this width, length and score; what it refuses is said of these fields.
    pub(super) fn tray(
        &self,
        fields: [&'static str; 3],
        [width, length, score]: [Length; 3],
    ) -> Result<OpenTray, StructureError> {
        let asked = Asked::new(fields[2], score, &self.score);
        let shorter = width.min(length);
        if score * 2 >= shorter {
            let why = "the scores of opposite edges meet";
            let most = shorter.mm() / 2.0 - LEAST_TAB_MM;
            if most >= LEAST_TAB_MM {
                return Err(asked.too_much(most, why));
            }
            // No score would do on so small a sheet.
            let (field, side) = if width < length {
                (fields[0], width)
            } else {
                (fields[1], length)
            };
            let least = 4.0 * LEAST_TAB_MM + 2.0 * self.caliper.mm();
            return Err(Asked::new(field, side, &self.trimmer).too_little(least, why));
        }
        let tray = OpenTray::of((width, length), score, self.caliper);
        let axes = [
            ("width", tray.clear().0, tray.width),
            ("length", tray.clear().1, tray.length),
            ("depth", tray.depth - tray.t / 2.0, tray.depth),
        ];
        check_room(axes, self.caliper, &self.score)?;
        asked.at_least(LEAST_TAB_MM, "the corner tabs have no room for glue")?;
        if tray.tab_reach() < LEAST_TAB_MM {
            let least = 2.0 * (score + self.caliper).mm() + 2.0 * LEAST_TAB_MM;
            let why = "the corner tabs meet and have no room for glue";
            return Err(Asked::new(fields[0], width, &self.trimmer).too_little(least, why));
        }
        Ok(tray)
    }
}
