//! A pillow pouch: two bent panels, their ends pressed in along arched creases.
//!
//! ```text
//!   sheet, from the inside                     from its end         from its side
//!      __      _____       _____                 ___---___           \_______________/
//!     |  |  .´flap `.   .´flap `.              _/    | h  \_         |)             (|
//!     |  |/,.-----.,\ /,.-----.,\             <------c------>        /~~~~~~~~~~~~~~~\
//!     |fl|   front   |    back   |              ~\_______/~
//!     |ap|     a     |     a     |  L from tip to tip     flaps stand upright: each is the
//!     |  |\`´-----`´/ \`´-----`´/|                        mirror image of the panel's end in
//!     |__|  `._____.´   `._____.´                         a plane at 45° (y = L/2 − z)
//! ```
//!
//! A panel a wide bends to a segment of a circle of height h over the chord c ([`Segment`]). The
//! 45° plane cuts that cylinder in a curve that unrolls to a cosine arch of depth h, and the flap
//! beyond it, as long at each place as the pouch is thick there, closes the end by itself.
//! With k = R − h and the segment's area A it holds 2 L A − (2/3) c³ + 8 k A (the integral of
//! 2 z (L − 2 z) over the chord, z the height of the arc).
//!
//! Bent paper is drawn and checked as [`STRIPS`] flat strips a panel. Their edges lie on the arch
//! exactly, and they close exactly; a strip is off the true cylinder by less than w²/8R.

use super::limits::{Asked, check_room, no_room};
use super::pouch_bend::STRIPS;
use super::pouch_family::PouchFamily;
use super::segment::Segment;
use super::{Inside, SetOn, Settings, Structure, StructureError, StructureKind, Tools};
use crate::sizing::SLACK_MM;
use crate::{Length, Ruler};

/// Narrowest side flap that is glued, mm (common practice, no source).
const LEAST_FLAP_MM: f64 = 8.0;
/// Narrowest panel that is bent by hand, mm (common practice, no source).
pub(super) const LEAST_PANEL_MM: f64 = 20.0;
/// The arch is between a tenth of the panel's width, below which the ends spring open, and 28
/// hundredths, near half a circle (common practice, no source).
pub(super) const ARCH_SHARE: [f64; 2] = [0.1, 0.28];

/// A pillow pouch that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pouch {
    pub(super) settings: Settings,
    /// Width of a panel on the flat sheet.
    pub(super) panel: f64,
    /// Width of the side flap.
    pub(super) flap: f64,
    /// From tip to tip.
    pub(super) length: f64,
    /// Depth of the arch on the flat sheet.
    pub(super) arch: f64,
    pub(super) t: f64,
    pub(super) segment: Segment,
}

impl Pouch {
    /// Its entry in the registry.
    pub const KIND: StructureKind = PouchFamily::KIND;

    /// The pouch that these settings make with these tools, from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler, or whose double is out of its reach; a panel under 20 mm; a side flap under
    /// 8 mm or over half a panel; an arch under 0.1 or over 0.28 of the panel; ends so
    /// near each other that the side flap has no room for glue; paper that fills the pouch.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let score = tools.score_for(Self::KIND)?;
        settings.check_marks(tools, caliper)?;
        let [sheet_width, sheet_length, panel, arch] = settings.first();
        check_panel(panel, &score)?;
        check_flap(sheet_width, panel, tools)?;
        let template = *tools.ruler(SetOn::Template).unwrap_or(&score);
        check_arch(arch, panel, &template)?;
        let segment = Segment::of_arc(panel.mm(), arch.mm());
        let made = Self {
            settings,
            panel: panel.mm(),
            flap: (sheet_width - panel * 2).mm(),
            length: (sheet_length - arch * 2).mm(),
            arch: arch.mm(),
            t: caliper.mm(),
            segment: segment.ok_or_else(|| no_room("depth", arch.mm(), caliper, &score))?,
        };
        let short = made.flap_is_short_by();
        if short > 0.0 {
            let why = "the ends leave too little of the side flap to glue";
            let asked = Asked::new("sheet_length", sheet_length, &tools.trimmer);
            return Err(asked.too_little(sheet_length.mm() + short, why));
        }
        let inside = made.inside_for(0.0);
        let axes = [
            ("width", inside.width, made.segment.chord()),
            ("length", inside.length, made.length - 2.0 * made.arch),
            ("depth", made.deepest(), 2.0 * made.arch),
        ];
        check_room(axes, caliper, &score)?;
        Ok(made)
    }

    /// The pouch again, if the structure is one.
    #[must_use]
    pub fn of(structure: &Structure) -> Option<Self> {
        structure.again(Self::KIND, Self::new)
    }

    /// The volume inside its crease lines, mm³: 2 L A − (2/3) c³ + 8 k A.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        volume(&self.segment, self.length)
    }

    /// Thickness of the thickest thing that goes in at all.
    pub(super) fn deepest(&self) -> f64 {
        2.0 * self.middle_height() - self.t
    }

    /// Height of the flat strip in the middle over the chord.
    pub(super) fn middle_height(&self) -> f64 {
        self.heights().into_iter().fold(0.0, f64::max)
    }

    /// Room for a block `depth` mm thick in the middle of the pouch: its corners touch the bent
    /// panels, its ends the flaps, of which two lie over each other.
    #[must_use]
    pub fn inside_for(&self, depth: f64) -> Inside {
        let middle = self.middle_height();
        let half = depth.min(self.deepest()) / 2.0;
        let reach = self.reach(half);
        Inside {
            width: 2.0 * reach,
            length: self.length - 2.0 * middle - 3.0 * self.t,
            depth: depth.min(self.deepest()),
        }
    }

    /// How far from the middle the corner of a block comes, `half` its thickness, mm.
    fn reach(&self, half: f64) -> f64 {
        let (x, z) = (self.ridges(), self.heights());
        let mut reach = f64::INFINITY;
        for i in STRIPS / 2 + 1..STRIPS {
            let (run, fall) = (x[i + 1] - x[i], z[i] - z[i + 1]);
            let width = run.hypot(fall);
            // The side flap lies inside the outer strips of the back.
            let from_tip = width * (STRIPS - 1 - i) as f64;
            let layers = if from_tip < self.flap { 1.5 } else { 0.5 };
            let taken = layers * self.t * width;
            reach = reach.min(x[i + 1] + (run * (z[i + 1] - half) - taken) / fall);
        }
        reach
    }

    pub(super) fn blank(&self) -> (Length, Length) {
        let [width, length, ..] = self.settings.first::<4>();
        (width, length)
    }
}

/// A pouch from tip to tip 0 mm long, its side flap and caliper given, mm.
fn bent(panel: f64, arch: f64, (flap, t): (f64, f64)) -> Option<Pouch> {
    Some(Pouch {
        settings: Settings::of(Pouch::KIND, &[]),
        panel,
        flap,
        length: 0.0,
        arch,
        t,
        segment: Segment::of_arc(panel, arch)?,
    })
}

/// From tip to tip, the least length at which the side flap can be glued, mm.
pub(super) fn length_to_glue(panel: f64, arch: f64, flap_and_t: (f64, f64)) -> Option<f64> {
    bent(panel, arch, flap_and_t).map(|bent| bent.flap_is_short_by())
}

/// Width of the room for a block in a pouch of any length, its side flap and caliper given, mm.
pub(super) fn room_for(panel: f64, arch: f64, flap_and_t: (f64, f64), depth: f64) -> Option<f64> {
    let bent = bent(panel, arch, flap_and_t)?;
    let deep_enough = depth <= bent.deepest() + SLACK_MM / 2.0;
    deep_enough.then(|| 2.0 * bent.reach(depth / 2.0))
}

/// What a pouch of this cross-section and length from tip to tip holds, mm³.
pub(super) fn volume(segment: &Segment, length: f64) -> f64 {
    let (area, chord) = (segment.area(), segment.chord());
    2.0 * length * area - 2.0 / 3.0 * chord.powi(3) + 8.0 * segment.below() * area
}

fn check_panel(panel: Length, score: &Ruler) -> Result<(), StructureError> {
    let asked = Asked::new("score", panel, score);
    asked.at_least(LEAST_PANEL_MM, "so narrow a panel does not bend by hand")?;
    asked
        .twice_in_reach("the second score, twice as far from the edge, is out of the board's reach")
}

fn check_flap(sheet: Length, panel: Length, tools: &Tools) -> Result<(), StructureError> {
    let panels = 2.0 * panel.mm();
    let asked = Asked::new("sheet_width", sheet, &tools.trimmer);
    let why = "front and back leave no side flap to glue";
    asked.at_least(panels + LEAST_FLAP_MM, why)?;
    let why = "the side flap is wider than half the front";
    asked.at_most(panels + panel.mm() / 2.0, why)
}

fn check_arch(arch: Length, panel: Length, ruler: &Ruler) -> Result<(), StructureError> {
    let [least, most] = ARCH_SHARE.map(|share| share * panel.mm());
    let asked = Asked::new("arch", arch, ruler);
    asked.at_least(least, "so flat an end springs open")?;
    asked.at_most(most, "a panel does not bend beyond half a circle")
}
