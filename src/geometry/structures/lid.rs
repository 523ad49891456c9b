//! A lid that goes over its base: what is set, the play it needs, how it lies on the rim.

use super::limits::Asked;
use super::open_tray::LEAST_TAB_MM;
use super::open_tray_limits::Limits;
use super::work::Work;
use super::{Body, SetOn, SettingField, StructureError};
use crate::sizing::MOST_ASKED_MM;
use crate::{FitLimits, Length, LidDepth, Point, Pose, Ruler, Vec3};

/// Least play of the lid over the base, from wall to wall, mm (common practice, no source).
pub(super) const LEAST_PLAY_MM: f64 = 0.5;
/// A lid with more play than this slides about, mm (common practice, no source).
const MOST_PLAY_MM: f64 = 8.0;
/// What can be asked of a lid.
pub(super) const LID: FitLimits = FitLimits {
    what: "the lid over the base",
    least_mm: LEAST_PLAY_MM,
    most_mm: MOST_ASKED_MM,
    has_lid: true,
};
/// How the piece is kept shut.
pub(super) const CLOSING: &str = "the lid, held by its fit over the base";

/// What is set to make base and lid.
pub(super) const FIELDS: [SettingField; 6] = [
    SettingField::new("base_width", "base width", SetOn::Sheet),
    SettingField::new("base_length", "base length", SetOn::Sheet),
    SettingField::new("base_score", "base score", SetOn::Score),
    SettingField::new("lid_width", "lid width", SetOn::Sheet),
    SettingField::new("lid_length", "lid length", SetOn::Sheet),
    SettingField::new("lid_score", "lid score", SetOn::Score),
];
/// The keys of those of the base, and of those of the lid.
pub(super) const BASE_KEYS: [&str; 3] = [FIELDS[0].key, FIELDS[1].key, FIELDS[2].key];
/// See [`BASE_KEYS`].
pub(super) const LID_KEYS: [&str; 3] = [FIELDS[3].key, FIELDS[4].key, FIELDS[5].key];

impl Limits {
    /// Whether a lid of that side, `asked`, has this play over its base, mm.
    pub(super) fn play(
        &self,
        field: &'static str,
        asked: Length,
        play: f64,
    ) -> Result<(), StructureError> {
        let with = |wanted: f64| asked.mm() - play + wanted;
        let asked = Asked::new(field, asked, &self.trimmer);
        asked.at_least(with(LEAST_PLAY_MM), "the lid does not go over the base")?;
        // On a coarse ruler the least that goes over may be looser.
        let most = MOST_PLAY_MM.max(LEAST_PLAY_MM + self.trimmer.step().mm());
        asked.at_most(with(most), "the lid is loose on the base")
    }

    /// Whether the lid leaves the base to stand on.
    pub(super) fn lid_depth(&self, lid: Length, base: Length) -> Result<(), StructureError> {
        if lid <= base + self.caliper {
            return Ok(());
        }
        let why = "a lid deeper than the base stands on the table before it is shut";
        Err(Asked::new(LID_KEYS[2], lid, &self.score).too_much(base.mm(), why))
    }
}

/// Base and lid as they are filled and put together: turned over about the line along x, the
/// lid's top rests on the rim, `rim` mm over the floor's crease plane.
pub(super) fn put_together(mut base: Body, mut lid: Body, rim: f64) -> (Body, Body) {
    base.work.push(Work::Fill);
    let over = Pose::turn_about(Point::ZERO, Point::new(1.0, 0.0), 180.0);
    lid.place = over.shifted(Vec3::new(0.0, 0.0, rim));
    let what = LID.what;
    lid.work.push(Work::PutTogether { what });
    (base, lid)
}

/// The mark for a lid of that depth, at most as deep as its base and with room for its tabs.
pub(super) fn score_for(depth: LidDepth, base: Length, score: &Ruler) -> Length {
    let deep = depth.of_base_mm(base.mm()).max(LEAST_TAB_MM);
    let lid = score.up(deep).filter(|at| *at <= base);
    lid.unwrap_or(base)
}
