//! A four-faced pouch: a tube closed flat at one end, turned a quarter and closed at the other.
//!
//! ```text
//!        C ______ D        sheet, from the inside; a = 2 m, the tube lies a wide and h long
//!      :  \______/  :  s   strip, folded over the closing face
//!   C :----C------D-----:C
//!     |\  / \    / \  /  |      h
//!     | \/   \  /   \/   |flap      m and 3 m mark the top score, 0, 2 m and 4 m the
//!   A |--------B--------A|          bottom one; the slants join them
//!      \_______/          s   strip, folded over the face beside it
//! ```
//!
//! Closed, AB and CD are two edges a long, across each other and H = √(h² − a²/4) apart; the four
//! slants are the other edges. All faces are the same isosceles triangle (a disphenoid):
//! V = a² H / 6, surface 2 a h, inscribed sphere r = 3 V / S = a H / 4 h.
//!
//! Paper takes half a caliper from each face, all flaps lie outside: the room is the same solid
//! smaller by k = 1 − t / 2 r. A block lies in the middle, its sides along CD and AB, its depth
//! from one to the other. There the section is a square of side k a / 2, and it loses a / 2H each
//! way for each depth: width and length are up to (k − d / H) a / 2. (A long, narrow block would
//! go nearer to one edge; that room is not counted.)

use super::four_faced_family::{FourFacedFamily, least_pouches};
use super::limits::{Asked, no_room};
use super::{Inside, SetOn, Settings, Structure, StructureError, StructureKind, Tools};
use crate::sizing::SLACK_MM;
use crate::{ContentsBox, Length, Point, Pose, Vec3};

/// Narrowest strip or flap that is glued, mm (common practice, no source).
pub(super) const LEAST_STRIP_MM: f64 = 6.0;
/// Usual width of strips and flap, mm (common practice, no source).
pub(super) const USUAL_STRIP_MM: f64 = 8.0;
/// Narrowest face that is folded by hand, mm (common practice, no source).
pub(super) const LEAST_FACE_MM: f64 = 24.0;

/// A four-faced pouch that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FourFaced {
    pub(super) settings: Settings,
    /// Width of the flat tube.
    pub(super) a: f64,
    /// Length of the tube, score to score.
    pub(super) h: f64,
    /// Depth of the strips.
    pub(super) strip: f64,
    /// Width of the side flap.
    pub(super) flap: f64,
    pub(super) t: f64,
}

/// What has no sides to lie along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LooseContents {
    /// Seeds and other small things, by the room they take when poured, mm³.
    Poured {
        /// Volume with the air between, mm³.
        mm3: f64,
    },
    /// A ball.
    Ball {
        /// Across, mm.
        diameter_mm: f64,
    },
}

/// Distance of the two glued edges, mm; `None` unless h > a / 2.
fn apart(a: f64, h: f64) -> Option<f64> {
    let square = h * h - a * a / 4.0;
    (square > 0.0).then(|| square.sqrt())
}

/// What a tube `a` wide and `h` long holds, mm³: a² √(h² − a²/4) / 6.
pub(super) fn volume(a: f64, h: f64) -> Option<f64> {
    apart(a, h).map(|apart| a * a * apart / 6.0)
}

impl FourFaced {
    /// Its entry in the registry.
    pub const KIND: StructureKind = FourFacedFamily::KIND;

    /// The pouch that these settings make with these tools, from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler; a mark under 12 mm (a face under 24 mm); a strip or a side flap under 6 mm
    /// or over a third of the face's width; a tube no longer than half its width; paper that
    /// fills the pouch.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let score = tools.score_for(Self::KIND)?;
        settings.check_marks(tools, caliper)?;
        let [sheet_width, sheet_length, strip, mark] = settings.first();
        let template = *tools.ruler(SetOn::Template).unwrap_or(&score);
        let faces = 4.0 * mark.mm();
        let asked = Asked::new("mark", mark, &template);
        asked.at_least(LEAST_FACE_MM / 2.0, "so small a face is not folded by hand")?;
        let most = 2.0 * mark.mm() / 3.0;
        let asked = Asked::new("strip_score", strip, &score);
        asked.at_least(LEAST_STRIP_MM, "the end strips have no room for glue")?;
        asked.at_most(most, "the end strips are wider than a third of the face")?;
        let asked = Asked::new("sheet_width", sheet_width, &tools.trimmer);
        let why = "the four faces leave no side flap to glue";
        asked.at_least(faces + LEAST_STRIP_MM, why)?;
        let why = "the side flap is wider than a third of the face";
        asked.at_most(faces + most, why)?;
        let asked = Asked::new("sheet_length", sheet_length, &tools.trimmer);
        let why = "a tube that is not much longer than half its width does not close";
        asked.at_least(2.0 * strip.mm() + mark.mm() + LEAST_STRIP_MM, why)?;
        let made = Self::of_settings(settings, caliper);
        if made.shrink() <= 0.0 {
            return Err(no_room("depth", 2.0 * made.radius(), caliper, &score));
        }
        Ok(made)
    }

    /// Whatever the settings come to.
    pub(super) fn of_settings(settings: Settings, caliper: Length) -> Self {
        let [sheet_width, sheet_length, strip, mark] = settings.first();
        Self {
            settings,
            a: 2.0 * mark.mm(),
            h: (sheet_length - strip * 2).mm(),
            strip: strip.mm(),
            flap: (sheet_width - mark * 4).mm(),
            t: caliper.mm(),
        }
    }

    /// The pouch again, if the structure is one.
    #[must_use]
    pub fn of(structure: &Structure) -> Option<Self> {
        structure.again(Self::KIND, Self::new)
    }

    /// The settings it was made from.
    #[must_use]
    pub fn settings(&self) -> Settings {
        self.settings
    }

    /// Width of the flat tube, and its length from score to score, mm.
    #[must_use]
    pub fn tube_mm(&self) -> (f64, f64) {
        (self.a, self.h)
    }

    /// Distance of the two glued edges, mm. (The constructor refuses h <= a / 2.)
    pub(super) fn apart(&self) -> f64 {
        apart(self.a, self.h).unwrap_or(0.0)
    }

    /// Radius of the sphere that touches the crease planes of all four faces, mm.
    fn radius(&self) -> f64 {
        self.a * self.apart() / (4.0 * self.h)
    }

    /// The room inside is the solid between the creases, smaller by this.
    pub(super) fn shrink(&self) -> f64 {
        1.0 - self.t / (2.0 * self.radius())
    }

    /// The volume inside its crease lines, mm³: a² √(h² − a²/4) / 6.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        volume(self.a, self.h).unwrap_or(0.0)
    }

    /// The volume that can be poured in, to the brim, mm³: caliper taken off every face.
    #[must_use]
    pub fn holds_mm3(&self) -> f64 {
        self.volume_mm3() * self.shrink().powi(3)
    }

    /// Diameter of the largest ball that goes in, mm: twice 3 V / S, less the caliper.
    #[must_use]
    pub fn ball_mm(&self) -> f64 {
        2.0 * self.radius() - self.t
    }

    /// Whether these contents fit.
    #[must_use]
    pub fn takes(&self, contents: LooseContents) -> bool {
        match contents {
            LooseContents::Poured { mm3 } => self.holds_mm3() >= mm3 - SLACK_MM,
            LooseContents::Ball { diameter_mm } => self.ball_mm() >= diameter_mm - SLACK_MM,
        }
    }

    /// Room for a block `depth` mm deep in the middle of the pouch.
    #[must_use]
    pub fn inside_for(&self, depth: f64) -> Inside {
        let deepest = self.shrink() * self.apart();
        let depth = depth.min(deepest);
        let side = (self.shrink() - depth / self.apart()) * self.a / 2.0;
        Inside {
            width: side,
            length: side,
            depth,
        }
    }

    /// Room for a ball, as the block round it.
    pub(super) fn inside_for_ball(&self) -> Inside {
        let across = self.ball_mm();
        Inside {
            width: across,
            length: across,
            depth: across,
        }
    }

    /// A block in the middle that touches the walls just when a ball `across` does: the ball asks
    /// for k = across / 2 r, and half the distance of the edges leaves a block k a / 4 wide.
    pub(super) fn block_for_ball(&self, across: f64) -> ContentsBox {
        let k = across / (2.0 * self.radius());
        ContentsBox {
            x: k * self.a / 4.0,
            y: k * self.a / 4.0,
            z: k * self.apart() / 2.0,
        }
    }

    /// All pouches that could be best for loose contents: of each that takes them, none has a
    /// sheet that is smaller both ways. Narrowest first; none where the rulers do not reach.
    #[must_use]
    pub fn for_loose(contents: LooseContents, tools: &Tools, caliper: Length) -> Vec<Self> {
        least_pouches(tools, caliper, 0.0, |made| made.takes(contents))
    }

    pub(super) fn blank(&self) -> (Length, Length) {
        let [width, length, ..] = self.settings.first::<4>();
        (width, length)
    }

    /// Where the block of [`FourFaced::inside_for`] lies: from its axes to space. CD is along x.
    pub(super) fn contents_lie(&self) -> Pose {
        let [a, b, c, d] = self.corners();
        let tilt = (a.z - b.z).atan2(a.y - b.y).to_degrees();
        let middle = (a + b + c + d) * 0.25;
        Pose::turn_about(Point::ZERO, Point::new(1.0, 0.0), tilt).shifted(middle)
    }

    /// A, B, C and D of the closed pouch, mm: BCD on the table, its block centred on the origin.
    pub(super) fn corners(&self) -> [Vec3; 4] {
        let (a, h) = (self.a, self.h);
        [
            Vec3::new(0.0, a * a / (2.0 * h) - h / 2.0, a * self.apart() / h),
            Vec3::new(0.0, -h / 2.0, 0.0),
            Vec3::new(-a / 2.0, h / 2.0, 0.0),
            Vec3::new(a / 2.0, h / 2.0, 0.0),
        ]
    }
}
