//! A lid that goes over its base: what is set, the play it needs, how it lies on the rim, its
//! window.

use super::limits::Asked;
use super::open_tray::LEAST_TAB_MM;
use super::open_tray_limits::Limits;
use super::work::Work;
use super::{Body, Opening, SetOn, SettingField, StructureError};
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

/// A window in the lid.
pub(super) const WINDOW: Opening = Opening {
    field: SettingField::new("window", "window", SetOn::Template),
    label: "Window in the lid",
    hint: "A round one, so wide; empty for none. Its film is a part of its own: each colourway \
           names a paper for it",
    closing: None,
};
/// Smaller than this shows nothing, mm (common practice, no source).
const LEAST_WINDOW_MM: f64 = 10.0;
/// Paper that stays round a window, mm (common practice, no source).
const PAPER_ROUND_MM: f64 = 10.0;
/// How far the film reaches beyond a window: a strip of tape and a little, mm (common practice, no
/// source).
const FILM_BEYOND_MM: f64 = 8.0;

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

    /// Whether a window goes into a lid whose top is so wide where it is narrowest, and takes a
    /// square of film at most so wide, mm.
    pub(super) fn window(&self, window: Length, top: f64, film: f64) -> Result<(), StructureError> {
        let asked = Asked::new(WINDOW.field.key, window, &self.score);
        asked.at_least(LEAST_WINDOW_MM, "so small a window shows nothing")?;
        let largest_film = self.trimmer.down(film).unwrap_or_default();
        let by_paper = top - 2.0 * PAPER_ROUND_MM;
        let by_film = largest_film.mm() - 2.0 * FILM_BEYOND_MM;
        if by_paper <= by_film {
            return asked.at_most(by_paper, "10 mm of paper has to stay all round it");
        }
        let why = "the film behind it, 8 mm wider all round, does not lie between the walls";
        asked.at_most(by_film, why)
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

/// The side of the film behind a window, up to a mark of the trimmer; `None` beyond its reach.
fn film_for(window: Length, trimmer: &Ruler) -> Option<Length> {
    trimmer.up(window.mm() + 2.0 * FILM_BEYOND_MM)
}

/// What the hands do to a lid that has a window: it is cut before the sheet is scored, and the
/// film is glued while the lid still lies flat.
pub(super) fn with_window(
    mut work: Vec<Work>,
    window: Option<Length>,
    trimmer: &Ruler,
) -> Vec<Work> {
    let film = window.and_then(|across| Some((across, film_for(across, trimmer)?)));
    if let Some((across, side)) = film {
        let folded = work.iter().position(|it| matches!(it, Work::Fold(_)));
        work.insert(folded.unwrap_or(work.len()), Work::Film { across, side });
        let cut = Work::CutOut {
            name: "window in the lid",
            across,
            way: "wide",
            by_punch: false,
        };
        work.insert(0, cut);
    }
    work
}

/// The mark for a lid of that depth, at most as deep as its base and with room for its tabs.
pub(super) fn score_for(depth: LidDepth, base: Length, score: &Ruler) -> Length {
    let deep = depth.of_base_mm(base.mm()).max(LEAST_TAB_MM);
    let lid = score.up(deep).filter(|at| *at <= base);
    lid.unwrap_or(base)
}
