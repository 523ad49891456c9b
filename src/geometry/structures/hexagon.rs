//! A six-sided box with lid: two trays on a regular hexagon, the lid wider than the base by the
//! paper and its play, across flats.
//!
//! ```text
//!   across flats        creases f
//!   clear               f - 3 t         as if each of two opposite walls had a tab inside it
//!   base outside        f + t
//!   lid, clear          base outside + play
//! ```
//!
//! A cylinder goes in whose diameter is at most what is clear across flats, F. A block goes in,
//! its length across flats and its width from corner towards corner, if it is no longer than F
//! and width x √3 + length is at most 2 F: its corners then touch the four slanting walls.
//! The depth loses t: half of it under the contents, half so that they stay below the rim.

use super::hexagon_pattern::{HexTray, SQRT_3, WALLS, least_width};
use super::lid::{
    BASE_KEYS, CLOSING, FIELDS, LEAST_PLAY_MM, LID, LID_KEYS, WINDOW, put_together, score_for,
    with_window,
};
use super::limits::{Asked, check_room};
use super::offers::keep;
use super::open_tray_limits::Limits;
use super::registry::{Family, Serves};
use super::{
    Body, Inside, Laden, Nest, Opening, SettingField, Settings, Structure, StructureError,
    StructureKind, Tools,
};
use crate::sizing::{Offer, Offers, Wanted};
use crate::{ContentsBox, FitLimits, Length, Pose, Ruler};

/// A tab this high takes a spot of glue that holds, mm: an equilateral triangle of 30 mm².
const LEAST_DEPTH_MM: f64 = 8.5;
/// Half a side of the floor leaves a tab wide enough, mm.
const LEAST_SIDE_MM: f64 = 16.0;

/// A six-sided box and its lid that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hexagon {
    settings: Settings,
    base: HexTray,
    lid: HexTray,
}

/// Its entry in the registry.
pub(super) struct HexagonFamily;

impl HexagonFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl Hexagon {
    /// Its entry in the registry.
    pub const KIND: StructureKind = HexagonFamily::KIND;

    /// The box that these settings make with these tools, from paper of this caliper. Length less
    /// two scores is across flats; the width of a sheet has only to be enough.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler, under 8.5 mm, or that leaves sides under 16 mm; a sheet too narrow for
    /// its hexagon; paper that fills the box; a lid with less than 0.5 mm or more than 8 mm of
    /// play across flats (more only where the trimmer is that coarse), or deeper than the base; a
    /// window under 10 mm, or that leaves less than 10 mm of paper round it or no room for its film.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let limits = Limits::of(Self::KIND, tools, caliper)?;
        settings.check_marks(tools, caliper)?;
        let [base_w, base_l, base_score, lid_w, lid_l, lid_score] = settings.first();
        let made = Self {
            settings,
            base: tray(&limits, BASE_KEYS, [base_w, base_l, base_score])?,
            lid: tray(&limits, LID_KEYS, [lid_w, lid_l, lid_score])?,
        };
        limits.play(LID_KEYS[1], lid_l, made.play_mm())?;
        limits.lid_depth(lid_score, base_score)?;
        if let Some(window) = settings.opening() {
            limits.window(window, made.lid.flats(), largest_square(&made.lid))?;
        }
        Ok(made)
    }

    /// The box again, if the structure is one.
    #[must_use]
    pub fn of(structure: &Structure) -> Option<Self> {
        structure.again(Self::KIND, Self::new)
    }

    /// A side of the floor, crease to crease, mm.
    #[must_use]
    pub fn side_mm(&self) -> f64 {
        self.base.side()
    }

    /// Across flats, clear of walls and tabs, mm: the largest cylinder.
    #[must_use]
    pub fn across_flats_mm(&self) -> f64 {
        self.base.clear()
    }

    /// Play of the lid over the base across flats, mm.
    #[must_use]
    pub fn play_mm(&self) -> f64 {
        self.lid.clear() - self.base.outside()
    }

    /// The volume of the base, crease to crease, mm³: (3 √3 / 2) a² d.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        self.base.volume()
    }

    /// Room for the largest block on a square; others have other room ([`Self::room_for`]).
    #[must_use]
    pub fn inside(&self) -> Inside {
        let square = largest_square(&self.base);
        self.with_depth(square, square)
    }

    /// Room for a block of this width and length, or one smaller or larger by the same measure
    /// both ways.
    #[must_use]
    pub fn room_for(&self, width: f64, length: f64) -> Inside {
        let spare = spare(self.base.clear(), width, length);
        self.with_depth(width + spare, length + spare)
    }

    /// Room for a cylinder that stands.
    #[must_use]
    pub fn room_for_round(&self) -> Inside {
        let across = self.base.clear();
        self.with_depth(across, across)
    }

    fn with_depth(&self, width: f64, length: f64) -> Inside {
        Inside {
            width,
            length,
            depth: self.base.depth - self.base.t,
        }
    }

    pub(super) fn blanks(&self) -> [(Length, Length); 2] {
        let [base_w, base_l, _, lid_w, lid_l, _] = self.settings.first();
        [(base_w, base_l), (lid_w, lid_l)]
    }

    fn bodies(&self, trimmer: &Ruler) -> (Body, Body) {
        let window = self.settings.opening();
        let [.., base_score, _, _, lid_score] = self.settings.first::<6>();
        let [base_blank, lid_blank] = self.blanks();
        let base = Body {
            name: "base",
            blank: base_blank,
            pattern: self.base.pattern("base", "bottom", None),
            work: HexTray::work(base_score),
            place: Pose::FLAT,
        };
        let lid = Body {
            name: "lid",
            blank: lid_blank,
            pattern: self.lid.pattern("lid", "top", window.map(Length::mm)),
            work: with_window(HexTray::work(lid_score), window, trimmer),
            place: Pose::FLAT,
        };
        put_together(base, lid, self.base.depth + self.base.t / 2.0)
    }
}

/// The side of the largest square between the walls, mm: its corners touch the slanting ones.
fn largest_square(tray: &HexTray) -> f64 {
    2.0 * tray.clear() / (SQRT_3 + 1.0)
}

/// How much larger both width and length of a block may get, mm, `clear` across flats: until its
/// ends touch two walls, or its corners the other four.
fn spare(clear: f64, width: f64, length: f64) -> f64 {
    let corners = (2.0 * clear - SQRT_3 * width - length) / (SQRT_3 + 1.0);
    corners.min(clear - length)
}

/// What a block, or a cylinder that stands, needs across flats, mm.
fn needs(wanted: &Wanted<'_>) -> f64 {
    let [width, length, _] = wanted.block_mm;
    if wanted.round {
        width.max(length)
    } else {
        length.max((SQRT_3 * width + length) / 2.0)
    }
}

/// One of the two trays; what it refuses is said of its own settings.
fn tray(
    limits: &Limits,
    keys: [&'static str; 3],
    at: [Length; 3],
) -> Result<HexTray, StructureError> {
    let [width, length, score] = at;
    let made = HexTray::of((width, length), score, limits.caliper);
    let why = "the tabs have no room for glue";
    Asked::new(keys[2], score, &limits.score).at_least(LEAST_DEPTH_MM, why)?;
    let least = LEAST_SIDE_MM + 2.0 * made.t;
    if made.side() < least - 1e-9 {
        let why = "the sides are so short that their tabs have no room for glue";
        let least = least * SQRT_3 + 2.0 * made.depth;
        return Err(Asked::new(keys[1], length, &limits.trimmer).too_little(least, why));
    }
    let why = "the six-sided tray is wider from corner to corner";
    Asked::new(keys[0], width, &limits.trimmer).at_least(made.least_width(), why)?;
    let axes = [("depth", made.depth - made.t, made.depth)];
    check_room(axes, limits.caliper, &limits.score)?;
    Ok(made)
}

impl Family for HexagonFamily {
    fn slug(&self) -> &'static str {
        "hexagon"
    }

    fn name(&self) -> &'static str {
        "six-sided box with lid"
    }

    fn about(&self) -> &'static str {
        "A six-sided tray and a lid that goes over it, from a sheet each. The base is open at the \
         top, where contents go in; the lid shuts it. Round things fit it best."
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        &FIELDS
    }

    fn closing(&self) -> Option<&'static str> {
        Some(CLOSING)
    }

    fn fit(&self) -> Option<FitLimits> {
        Some(LID)
    }

    fn opening(&self) -> Option<&'static Opening> {
        Some(&WINDOW)
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = Hexagon::new(*settings, tools, caliper)?;
        let (main, lid) = made.bodies(&tools.trimmer);
        let across = made.lid.outside();
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            main,
            others: vec![lid],
            nests: vec![Nest {
                inner: 0,
                outer: 1,
                faces: WALLS.to_vec(),
                play_mm: LEAST_PLAY_MM,
            }],
            inside: made.inside(),
            outside: Inside {
                width: 2.0 * across / SQRT_3,
                length: across,
                depth: made.base.depth + 1.5 * made.base.t,
            },
            volume_mm3: made.volume_mm3(),
            laden: Laden::default(),
        })
    }

    fn room_for(&self, structure: &Structure, contents: &ContentsBox, round: bool) -> Inside {
        match Hexagon::of(structure) {
            Some(made) if round => made.room_for_round(),
            Some(made) => made.room_for(contents.x, contents.y),
            None => structure.inside(),
        }
    }

    /// A block whose ends are two sides of the hexagon round the cylinder: it touches the walls
    /// just when the cylinder does.
    fn block_for_round(&self, contents: &ContentsBox) -> ContentsBox {
        let across = contents.x.max(contents.y);
        ContentsBox {
            x: across / SQRT_3,
            y: across,
            z: contents.z,
        }
    }

    /// A deeper box may take a sheet of the same length where the trimmer is coarser than the
    /// score board, and is then smaller across: so every depth is tried, each with the least of
    /// all else, and what another one beats is left out.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let mut offers = Offers::default();
        let Some(score) = wanted.tools.score.as_ref() else {
            return offers;
        };
        let deep = (wanted.block_mm[2] + wanted.caliper.mm()).max(LEAST_DEPTH_MM);
        let least = score.up(deep).into_iter();
        for depth in least.flat_map(|at| score.marks_between(at, Length::MAX)) {
            let made = with_depth(wanted, depth)
                .map(|settings| Hexagon::new(settings, wanted.tools, wanted.caliper));
            match made {
                Some(Ok(made)) => {
                    let [width, length, _] = wanted.block_mm;
                    let inside = if wanted.round {
                        made.room_for_round()
                    } else {
                        made.room_for(width, length)
                    };
                    let offer = Offer {
                        settings: made.settings,
                        blanks: made.blanks().to_vec(),
                        inside,
                    };
                    keep(&mut offers.found, offer, wanted.block_mm);
                }
                Some(Err(error)) => {
                    offers.refused.get_or_insert(error);
                }
                None => {}
            }
        }
        offers
    }
}

/// The least base of this depth that holds the contents, with its usual lid; `None` where a ruler
/// does not reach.
fn with_depth(wanted: &Wanted<'_>, base_score: Length) -> Option<Settings> {
    let (trimmer, score) = (&wanted.tools.trimmer, wanted.tools.score.as_ref()?);
    let t = wanted.caliper.mm();
    let least_flats = (LEAST_SIDE_MM + 2.0 * t) * SQRT_3;
    let sheet = |flats: f64, depth: f64| {
        let length = trimmer.up(flats + 2.0 * depth)?;
        let flats = length.mm() - 2.0 * depth;
        Some((trimmer.up(least_width(flats, depth))?, length, flats))
    };
    let flats = (needs(wanted) + 3.0 * t).max(least_flats);
    let (base_w, base_l, flats) = sheet(flats, base_score.mm())?;
    let lid_score = score_for(wanted.fit.lid, base_score, score).max(score.up(LEAST_DEPTH_MM)?);
    let over = flats + 4.0 * t + LID.play_mm(&wanted.fit);
    let (lid_w, lid_l, _) = sheet(over, lid_score.mm())?;
    let at = [base_w, base_l, base_score, lid_w, lid_l, lid_score];
    let opening = wanted.fit.opening(Hexagon::KIND);
    Some(Settings::of(Hexagon::KIND, &at).with_opening(opening))
}
