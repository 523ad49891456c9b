//! Tuck-end cartons: a tube with a lid at each end, whose tuck flap goes inside a wall.
//!
//! ```text
//!                        .| tuck |.          T   straight: both lids hinge on the back, both tuck
//!                  | dust | lid  | dust |    W   flaps go inside the front
//!   |flap|  front  | side | back | side |
//!                  | dust | lid  | dust |        reverse: the far lid hinges on the front and
//!                         .| tuck |.             tucks inside the back
//! ```
//!
//! It lies on its back while it is folded, one end towards you. The far end is shut first.
//!
//! Sizes are inside, in the order of the trade L x W x D: length and width of the opening, then
//! from opening to opening. Here they run along x, from front to back and along y. Paper inside
//! the crease planes, beside half a caliper at each wall:
//!
//! ```text
//!   L    the glue flap inside the right side                            L - 2 t
//!   D    the dust flaps inside both lids                                D - 3 t
//!   W    the tuck flaps: both inside the front, or one in each wall     W - 2 t, W - 3 t
//! ```

use super::carton_size::FilledAt;
use super::limits::{Asked, check_room};
use super::registry::{Family, Serves};
use super::tube::{Least, TAPER, Tube};
use super::tube_sizing::least_side;
use super::{
    Body, Inside, Laden, SetOn, SettingField, Settings, Structure, StructureError, StructureKind,
    Tools,
};
use crate::sizing::{Offer, Offers, Wanted};
use crate::{Length, Pose, Ruler};

/// Shortest tuck flap that holds, mm (common practice, no source).
const LEAST_TUCK_MM: f64 = 8.0;
/// A tuck flap is usually a third as deep as the carton is wide, between this and the next, mm
/// (common practice, no source).
const USUAL_TUCK_MM: [f64; 2] = [10.0, 20.0];
/// Narrowest end of any flap, mm (common practice, no source).
const LEAST_TIP_MM: f64 = 4.0;
/// Narrowest front, mm (common practice, no source).
const LEAST_FRONT_MM: f64 = 20.0;
/// Shortest dust flap that keeps anything in, mm (common practice, no source).
const LEAST_DUST_MM: f64 = 5.0;
/// Largest thumb notch, mm (common practice, no source).
const MOST_NOTCH_MM: f64 = 8.0;

/// A tuck-end carton that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TuckCarton {
    settings: Settings,
    pub(super) tube: Tube,
    /// Depth of the tuck flaps, mm.
    pub(super) tuck: f64,
    /// Depth of the dust flaps, mm.
    pub(super) dust: f64,
    /// From opening to opening, crease to crease, mm.
    pub(super) depth: f64,
    /// Whether the far lid hinges on the front.
    pub(super) reverse: bool,
}

/// Its two entries in the registry.
pub(super) struct TuckCartonFamily {
    reverse: bool,
}

impl TuckCartonFamily {
    pub(super) const STRAIGHT: StructureKind = StructureKind::of(&Self { reverse: false });
    pub(super) const REVERSE: StructureKind = StructureKind::of(&Self { reverse: true });
}

impl TuckCarton {
    /// Both lids hinge on the back.
    pub const STRAIGHT: StructureKind = TuckCartonFamily::STRAIGHT;
    /// The near lid hinges on the back, the far lid on the front.
    pub const REVERSE: StructureKind = TuckCartonFamily::REVERSE;

    /// The carton that these settings make with these tools, from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler, or of which a multiple is out of its reach; a side under 16 mm or a front
    /// under 20 mm; a glue flap under 8 mm or over half a side; a tuck flap under 8 mm, over half
    /// a side, or that tapers to nothing; a carton too shallow for its flaps; paper that fills it.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let kind = settings.kind();
        let score = tools.score_for(kind)?;
        settings.check_marks(tools, caliper)?;
        let [
            sheet_width,
            sheet_length,
            side_score,
            front_score,
            tuck_score,
        ] = settings.first();
        let tube = Tube {
            sheet_width,
            side_score,
            front_score,
            caliper,
        };
        tube.check(tools, &least_tube(&tube))?;
        let tuck = Asked::new("tuck_score", tuck_score, &score);
        tuck.at_least(LEAST_TUCK_MM, "so short a tuck flap slips out")?;
        let why = "so deep a tuck flap jams on the dust flaps or tapers to nothing";
        tuck.at_most(most_tuck(&tube), why)?;
        let lid = tuck_score + side_score;
        if !score.has(lid) {
            let why = "the score of the lid, a side further in, is out of the board's reach";
            return Err(tuck.too_much(score.longest().mm() - side_score.mm(), why));
        }
        let template = tools.ruler(SetOn::Template).unwrap_or(&score);
        let dust = most_dust(&tube, tuck_score.mm());
        let mark = template.down(dust).map(Length::mm);
        let made = Self {
            settings,
            tube,
            tuck: tuck_score.mm(),
            dust: mark.filter(|mark| *mark >= LEAST_DUST_MM).unwrap_or(dust),
            depth: (sheet_length - lid * 2).mm(),
            reverse: kind == Self::REVERSE,
        };
        made.check_depth(sheet_length, tools)?;
        made.check_room(&score)?;
        Ok(made)
    }

    fn check_depth(&self, sheet_length: Length, tools: &Tools) -> Result<(), StructureError> {
        let ends = 2.0 * (self.tuck + self.tube.side());
        let sheet = Asked::new("sheet_length", sheet_length, &tools.trimmer);
        let why = "the flaps of both ends meet, or the glue flap is too short";
        sheet.at_least(ends + least_depth(&self.tube, self.tuck), why)
    }

    fn check_room(&self, ruler: &Ruler) -> Result<(), StructureError> {
        let inside = self.inside();
        let axes = [
            ("width", inside.width, self.tube.front()),
            ("length", inside.length, self.depth),
            ("depth", inside.depth, self.tube.side()),
        ];
        check_room(axes, self.tube.caliper, ruler)
    }

    /// Radius of the thumb notches, mm: half a tuck flap, which covers them from inside.
    pub(super) fn notch(&self) -> f64 {
        (self.tuck / 2.0).min(MOST_NOTCH_MM)
    }

    /// Room inside: L along the width, D along the length, W along the depth.
    #[must_use]
    pub fn inside(&self) -> Inside {
        let t = self.tube.caliper.mm();
        Inside {
            width: self.tube.front() - 2.0 * t,
            length: self.depth - 3.0 * t,
            depth: self.tube.side() - tuck_layers(self.reverse) * t,
        }
    }

    fn blank(&self) -> (Length, Length) {
        let [width, length] = self.settings.first();
        (width, length)
    }

    fn offer(&self) -> Offer {
        Offer {
            settings: self.settings,
            blanks: vec![self.blank()],
            inside: self.inside(),
        }
    }
}

/// Calipers that the walls and the tuck flaps take from the width of the opening.
fn tuck_layers(reverse: bool) -> f64 {
    if reverse { 3.0 } else { 2.0 }
}

fn least_tube(tube: &Tube) -> Least {
    let side = "so narrow a side leaves no room for tuck, dust and glue flaps";
    let front = "so narrow a front leaves no room for tuck and dust flaps";
    let ease = tube.ease();
    let tuck_tip = 2.0 * (TAPER * LEAST_TUCK_MM + ease) + LEAST_TIP_MM;
    let dust_tip = 2.0 * (TAPER * LEAST_DUST_MM + ease) + LEAST_TIP_MM;
    // The dust flaps draw back furthest for a tuck flap half as deep as the side is wide.
    let beside_tuck = dust_tip / 0.75_f64.sqrt();
    let dust = 2.0 * (LEAST_DUST_MM + ease);
    Least {
        side: ((2.0 * LEAST_TUCK_MM).max(beside_tuck), side),
        front: (LEAST_FRONT_MM.max(tuck_tip).max(dust), front),
    }
}

/// The deepest tuck flap, mm: it swings in beside the dust flaps, and keeps a tip.
fn most_tuck(tube: &Tube) -> f64 {
    let tip = (tube.front() - 2.0 * tube.ease() - LEAST_TIP_MM) / (2.0 * TAPER);
    tip.min(tube.side() / 2.0)
}

/// How far the dust flaps draw back from the wall that takes the tuck flap, mm: as far as the lid
/// is from it when the tip of the tuck flap, held parallel to the wall, passes them.
pub(super) fn dust_gap(tube: &Tube, tuck: f64) -> f64 {
    let side = tube.side();
    side - (side * side - tuck * tuck).max(0.0).sqrt()
}

/// The deepest dust flaps, mm: two of them do not meet, no score runs across them, and each
/// keeps a tip.
fn most_dust(tube: &Tube, tuck: f64) -> f64 {
    let ease = tube.ease();
    let wide = tube.side() - 2.0 * ease - dust_gap(tube, tuck);
    let tip = (wide - LEAST_TIP_MM) / (2.0 * TAPER);
    (tube.front() / 2.0 - ease).min(tube.side()).min(tip)
}

fn least_depth(tube: &Tube, tuck: f64) -> f64 {
    (2.0 * tuck + LEAST_TIP_MM).max(tube.least_height())
}

impl Family for TuckCartonFamily {
    fn slug(&self) -> &'static str {
        if self.reverse {
            "reverse-tuck"
        } else {
            "straight-tuck"
        }
    }

    fn name(&self) -> &'static str {
        if self.reverse {
            "reverse tuck-end carton"
        } else {
            "straight tuck-end carton"
        }
    }

    fn about(&self) -> &'static str {
        if self.reverse {
            "A carton from one sheet with a lid at each end: one hinges on the back, the other on \
             the front. No face stays open; contents go in before the second lid is shut."
        } else {
            "A carton from one sheet with a lid at each end, both hinged on the back, so that no \
             edge shows in front. No face stays open; contents go in before the second lid is shut."
        }
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 5] = [
            SettingField::new("sheet_width", "sheet width", SetOn::Sheet),
            SettingField::new("sheet_length", "sheet length", SetOn::Sheet),
            SettingField::new("side_score", "side score", SetOn::Score),
            SettingField::new("front_score", "front score", SetOn::Score),
            SettingField::new("tuck_score", "tuck score", SetOn::Score),
        ];
        &FIELDS
    }

    fn filled_at(&self) -> Option<FilledAt> {
        Some(FilledAt::End)
    }

    fn closing(&self) -> Option<&'static str> {
        Some("a tuck flap at each end, with a thumb notch to open it")
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = TuckCarton::new(*settings, tools, caliper)?;
        let (length, width, t) = (made.tube.front(), made.tube.side(), caliper.mm());
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            main: Body {
                name: "carton",
                blank: made.blank(),
                pattern: made.pattern(self.name()),
                work: made.work(settings.first::<5>()[4]),
                place: Pose::FLAT,
            },
            others: Vec::new(),
            nests: Vec::new(),
            inside: made.inside(),
            outside: Inside {
                width: length + t,
                length: made.depth + t,
                depth: width + t,
            },
            volume_mm3: length * width * made.depth,
            laden: Laden::default(),
        })
    }

    /// One offer: the least side that takes the block and can be made, and for it the least of
    /// everything else. A wider side makes the sheet larger both ways.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let bare = Tube::of_caliper(wanted.caliper);
        let needs = wanted.block_mm[2] + tuck_layers(self.reverse) * wanted.caliper.mm();
        least_side(
            wanted,
            needs.max(least_tube(&bare).side.0),
            |score, tube| {
                let settings = self.least(wanted, score, tube)?;
                let made = TuckCarton::new(settings, wanted.tools, wanted.caliper);
                Some(made.map(|made| made.offer()))
            },
        )
    }
}

impl TuckCartonFamily {
    fn kind(&self) -> StructureKind {
        if self.reverse {
            Self::REVERSE
        } else {
            Self::STRAIGHT
        }
    }

    /// The least settings with this side; `None` where a ruler does not reach, or has no mark
    /// between too little and too much.
    fn least(&self, wanted: &Wanted<'_>, score: &Ruler, tube: Tube) -> Option<Settings> {
        let (t, trimmer) = (wanted.caliper.mm(), &wanted.tools.trimmer);
        let [length, depth, _] = wanted.block_mm;
        let side = tube.side_score;
        let front = (length + 2.0 * t).max(least_tube(&tube).front.0);
        let front_score = score.up(side.mm() + front)?;
        let tube = Tube::narrowest(trimmer, (side, front_score), wanted.caliper)?;
        let most = most_tuck(&tube);
        let usual = score.up((side.mm() / 3.0).clamp(USUAL_TUCK_MM[0], USUAL_TUCK_MM[1]));
        let usual = usual.filter(|tuck| tuck.mm() <= most + 1e-9);
        let tuck = usual.or_else(|| score.down(most))?;
        if tuck.mm() < LEAST_TUCK_MM - 1e-9 {
            return None;
        }
        let inner = (depth + 3.0 * t).max(least_depth(&tube, tuck.mm()));
        let sheet_length = trimmer.up(inner + 2.0 * (tuck + side).mm())?;
        let at = [tube.sheet_width, sheet_length, side, tube.front_score, tuck];
        Some(Settings::of(self.kind(), &at))
    }
}
