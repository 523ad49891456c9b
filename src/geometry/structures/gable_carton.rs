//! A gable-top carton: a tube whose top slopes to a ridge from front and back, while its sides
//! fold in.
//!
//! ```text
//!                   .---------.   strip, f            from its side         on the sheet, over
//!                  /|  strip  |                           |   strip         a side of width W
//!     strip  ____ / |_________|_ ridge                   / \                   A____P____B
//!           |      \    roof    \                       /   \  s               |`.     .´|
//!      roof |  s    \   ______P  \                     /     \                 |  `. .´  | s
//!           |________\ ´side in´´´\ eave              |       |                |flank`   |
//!           |  front  |    side    |                  |   W   |                C1--------C2
//! ```
//!
//! Sizes are inside, in the order of the trade L x W x H: along x, from front to back, along y
//! (the carton lies on its front while it is folded, its roof towards you). The roof panels are s
//! long from eave to ridge and stand r = √(s² − W²/4) high. A side folds along two slanted scores
//! from its corners C1, C2 to the middle P of its top edge: the triangle between them leans in as
//! steeply as the roof, the two flanks beside it lie flat under the roof, and P lies on the ridge
//! W/2 from its end. So the triangle leaves outside what a gable with upright ends would hold
//! there, a tetrahedron of W² r / 12 at each end:
//!
//! ```text
//!   volume = L W H + L W r / 2 − W² r / 6
//! ```
//!
//! Roof and sides move together, one degree of freedom (`gable_carton_roof.rs`): with the roof θ
//! off upright and the triangle φ, P stays W/2 from A while 1 = cos θ cos φ + k sin θ,
//! k = W / 2s. Without strips over the sides this folds with rigid panels; strips there would have
//! to bend on the way.
//!
//! Paper inside the crease planes, beside half a caliper at each wall: the glue flap inside the
//! right side (L − 2 t, W − t), two layers more on the base, and the slope's share at the eave.

use super::carton_size::FilledAt;
use super::gable_carton_hole::{Hole, PAPER_ROUND_MM, SLOT, check_slot, least_strip};
use super::limits::{Asked, check_room};
use super::registry::{Family, Serves};
use super::tube::{Least, Tube};
use super::tube_sizing::least_side;
use super::{
    Body, Inside, Laden, Opening, SetOn, SettingField, Settings, Structure, StructureError,
    StructureKind, Tools,
};
use crate::sizing::{Offer, Offers, Wanted};
use crate::{Length, Pose, Ruler, Vec3};

/// Narrowest side whose top is folded in by hand, mm (common practice, no source).
const LEAST_SIDE_MM: f64 = 30.0;
/// The front is at least this much wider than a side, so that the points folded in do not meet,
/// mm (common practice, no source).
const BETWEEN_POINTS_MM: f64 = 2.0;
/// Least overlap of the two base flaps, mm (common practice, no source).
const LEAST_OVERLAP_MM: f64 = 8.0;
/// Usual height of the strips, mm (common practice, no source).
const STRIP_MM: f64 = 15.0;
/// Length of the roof as a share of the side's width: least, usual (at 45°), most (common
/// practice, no source).
const ROOF_SHARE: [f64; 3] = [0.6, 0.71, 1.0];

/// A gable-top carton that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GableCarton {
    settings: Settings,
    pub(super) tube: Tube,
    /// Depth of the base flaps, mm.
    pub(super) base: f64,
    /// Height of the strips at the ridge, mm.
    pub(super) strip: f64,
    /// In the middle of each strip.
    pub(super) hole: Hole,
    /// From eave to ridge along the paper, mm.
    pub(super) roof: f64,
    /// From the base to the eave, mm.
    pub(super) height: f64,
}

/// Its entry in the registry.
pub(super) struct GableCartonFamily;

impl GableCartonFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl GableCarton {
    /// Its entry in the registry.
    pub const KIND: StructureKind = GableCartonFamily::KIND;

    /// The carton that these settings make with these tools, from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler, or of which a multiple is out of its reach; a side under 30 mm or a front
    /// not wider than a side; a glue flap under 8 mm or over half a side; base flaps that
    /// overlap by less than 8 mm or are wider than a side; strips under 12 mm or higher than a
    /// side is wide; a roof under 0.6 or over 1 of the side; a carton too low for its glue flap;
    /// paper that fills it; a hand slot under 40 mm, or that leaves less than 10 mm of paper round it.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let score = tools.score_for(Self::KIND)?;
        settings.check_marks(tools, caliper)?;
        let [width, length, side, front, base, strip, roof] = settings.first();
        let tube = Tube {
            sheet_width: width,
            side_score: side,
            front_score: front,
            caliper,
        };
        let slot = settings.opening();
        tube.check(tools, &least_tube(&tube, slot))?;
        if let Some(slot) = slot {
            check_slot(&tube, slot, &score)?;
        }
        check_ends(&tube, [base, strip, roof], (slot, &score))?;
        let made = Self {
            settings,
            tube,
            base: base.mm(),
            strip: strip.mm(),
            hole: Hole::of(slot),
            roof: (roof - strip).mm(),
            height: (length - base - roof).mm(),
        };
        let why = "base and roof leave too little of the glue flap";
        let length = Asked::new("sheet_length", length, &tools.trimmer);
        length.at_least((base + roof).mm() + tube.least_height(), why)?;
        made.check_room(&score)?;
        Ok(made)
    }

    fn check_room(&self, ruler: &Ruler) -> Result<(), StructureError> {
        let inside = self.inside();
        let axes = [
            ("width", inside.width, self.tube.front()),
            ("length", inside.length, self.height),
            ("depth", inside.depth, self.tube.side()),
        ];
        check_room(axes, self.tube.caliper, ruler)
    }

    /// Height of the ridge over the eave, mm.
    #[must_use]
    pub fn rise_mm(&self) -> f64 {
        rise(&self.tube, self.roof)
    }

    /// How far the roof, and the triangles of the sides, lean from upright when closed, radians.
    pub(super) fn closed_lean(&self) -> f64 {
        (self.tube.side() / (2.0 * self.roof)).asin()
    }

    /// Room inside, under the eave: L along the width, H along the length, W along the depth.
    #[must_use]
    pub fn inside(&self) -> Inside {
        let t = self.tube.caliper.mm();
        Inside {
            width: self.tube.front() - 2.0 * t,
            length: self.height - end_paper(&self.tube, self.roof),
            depth: self.tube.side() - t,
        }
    }

    /// The volume inside its crease planes, mm³: L W H + L W r / 2 − W² r / 6.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        let (length, width, rise) = (self.tube.front(), self.tube.side(), self.rise_mm());
        length * width * (self.height + rise / 2.0) - width * width * rise / 6.0
    }

    /// How long the slot for a hand is, if it has one.
    pub(super) fn slot(&self) -> Option<Length> {
        self.settings.opening()
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

fn rise(tube: &Tube, roof: f64) -> f64 {
    let half = tube.side() / 2.0;
    (roof * roof - half * half).max(0.0).sqrt()
}

/// What paper takes from base to eave, mm: the base flaps and the flaps inside them, and half
/// a caliper of the sloping sheets, where they come down to the walls' own half.
fn end_paper(tube: &Tube, roof: f64) -> f64 {
    let t = tube.caliper.mm();
    let (sin, cos) = (rise(tube, roof) / roof, tube.side() / (2.0 * roof));
    2.5 * t + 0.5 * t * (1.0 - sin) / cos
}

fn least_tube(tube: &Tube, slot: Option<Length>) -> Least {
    let front = "the points of the two sides, folded in, meet";
    // The part of the glue flap under the roof keeps an edge of 2 mm.
    let flap = 8.0 + 8.0 * tube.ease();
    let narrow = LEAST_SIDE_MM.max(flap);
    let side = match slot {
        Some(_) if least_strip(slot).0 > narrow => (
            least_strip(slot).0,
            "the strips with the slot are higher than so narrow a side",
        ),
        _ => (narrow, "so narrow a side does not fold in"),
    };
    Least {
        side,
        front: (tube.side() + BETWEEN_POINTS_MM, front),
    }
}

/// Bottom flaps, strips and roof.
fn check_ends(
    tube: &Tube,
    [base, strip, roof]: [Length; 3],
    (slot, score): (Option<Length>, &Ruler),
) -> Result<(), StructureError> {
    let side = tube.side();
    let base = Asked::new("base_score", base, score);
    let why = "the base flaps do not overlap enough for glue";
    base.at_least((side + LEAST_OVERLAP_MM) / 2.0, why)?;
    base.at_most(side, "the base flaps are wider than the base")?;
    let [least, _, most] = ROOF_SHARE.map(|share| strip.mm() + share * side);
    let strip = Asked::new("strip_score", strip, score);
    let (low, why) = least_strip(slot);
    strip.at_least(low, why)?;
    strip.at_most(side, "the strips are higher than the sides are wide")?;
    let roof = Asked::new("roof_score", roof, score);
    let why = "so short a roof does not reach the ridge with its sides folded in";
    roof.at_least(least, why)?;
    roof.at_most(most, "so steep a roof does not stay shut")
}

impl Family for GableCartonFamily {
    fn slug(&self) -> &'static str {
        "gable-top"
    }

    fn name(&self) -> &'static str {
        "gable-top carton"
    }

    fn about(&self) -> &'static str {
        "A carton from one sheet with a roof: front and back slope to a ridge, the sides fold in \
         under them. No face stays open; contents go in at the top, and a ribbon through the \
         strips at the ridge shuts it. With a hand slot in the strips it is carried by them."
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 7] = [
            SettingField::new("sheet_width", "sheet width", SetOn::Sheet),
            SettingField::new("sheet_length", "sheet length", SetOn::Sheet),
            SettingField::new("side_score", "side score", SetOn::Score),
            SettingField::new("front_score", "front score", SetOn::Score),
            SettingField::new("base_score", "base score", SetOn::Score),
            SettingField::new("strip_score", "strip score", SetOn::Score),
            SettingField::new("roof_score", "roof score", SetOn::Score),
        ];
        &FIELDS
    }

    fn filled_at(&self) -> Option<FilledAt> {
        Some(FilledAt::End)
    }

    fn closing(&self) -> Option<&'static str> {
        Some("a ribbon through the hole in the strips at the ridge")
    }

    fn opening(&self) -> Option<&'static Opening> {
        Some(&SLOT)
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = GableCarton::new(*settings, tools, caliper)?;
        let t = caliper.mm();
        let [.., base, strip, roof] = settings.first::<7>();
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            inside: made.inside(),
            outside: Inside {
                width: made.tube.front() + t,
                length: made.height + made.rise_mm() + made.strip + t / 2.0,
                depth: made.tube.side() + t,
            },
            volume_mm3: made.volume_mm3(),
            laden: Laden::default(),
            main: Body {
                name: "carton",
                blank: made.blank(),
                pattern: made.pattern(self.name()),
                work: made.work([base, strip, roof]),
                place: Pose::FLAT,
            },
            others: Vec::new(),
            nests: Vec::new(),
        })
    }

    /// Under the eave, and clear of the glue flap and of the flaps of the base, of which the one
    /// lies on the right and the others at the far end.
    fn contents_lie(&self, structure: &Structure) -> Option<Pose> {
        let t = structure.caliper.mm();
        let settings = structure.settings;
        let made = GableCarton::new(settings, &structure.tools, structure.caliper).ok()?;
        let base = made.height / 2.0 - 2.5 * t;
        let middle = Vec3::new(
            -t / 2.0,
            base - made.inside().length / 2.0,
            made.tube.side() / 2.0,
        );
        Some(Pose::FLAT.shifted(middle))
    }

    /// One offer: the least side that takes the block and can be made, and for it the least of
    /// everything else. A wider side makes the sheet larger both ways.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let bare = Tube::of_caliper(wanted.caliper);
        let needs = wanted.block_mm[2] + wanted.caliper.mm();
        let slot = wanted.fit.opening(GableCarton::KIND);
        least_side(
            wanted,
            needs.max(least_tube(&bare, slot).side.0),
            |score, tube| {
                let settings = least(wanted, score, tube)?;
                let made = GableCarton::new(settings, wanted.tools, wanted.caliper);
                Some(made.map(|made| made.offer()))
            },
        )
    }
}

/// The least settings with this side and the usual roof; `None` where a ruler does not reach, or
/// has no mark between too little and too much.
fn least(wanted: &Wanted<'_>, score: &Ruler, tube: Tube) -> Option<Settings> {
    let (t, trimmer) = (wanted.caliper.mm(), &wanted.tools.trimmer);
    let [length, height, _] = wanted.block_mm;
    let side = tube.side_score;
    let slot = wanted.fit.opening(GableCarton::KIND);
    let round_slot = slot.map_or(0.0, |slot| slot.mm() + 2.0 * PAPER_ROUND_MM);
    let front = (length + 2.0 * t).max(least_tube(&tube, slot).front.0);
    let front = front.max(round_slot);
    let front_score = score.up(side.mm() + front)?;
    let tube = Tube::narrowest(trimmer, (side, front_score), wanted.caliper)?;
    let base = score.up((side.mm() + LEAST_OVERLAP_MM) / 2.0)?;
    let strip = score.up(STRIP_MM.max(least_strip(slot).0))?;
    let at = |share: f64| strip.mm() + share * side.mm();
    let usual = score.up(at(ROOF_SHARE[1]))?;
    let usual = Some(usual).filter(|roof| roof.mm() <= at(ROOF_SHARE[2]) + 1e-9);
    let roof = usual.or_else(|| score.down(at(ROOF_SHARE[2])))?;
    if base > side || strip > side || roof.mm() < at(ROOF_SHARE[0]) - 1e-9 {
        return None;
    }
    let paper = end_paper(&tube, (roof - strip).mm());
    let inner = (height + paper).max(tube.least_height());
    let sheet_length = trimmer.up(inner + (base + roof).mm())?;
    let at = [
        tube.sheet_width,
        sheet_length,
        side,
        front_score,
        base,
        strip,
        roof,
    ];
    Some(Settings::of(GableCarton::KIND, &at).with_opening(slot))
}
