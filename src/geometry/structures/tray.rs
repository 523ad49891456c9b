//! A tray with a lid: two open trays, the lid wider than the base by the paper and its play.
//!
//! ```text
//!   between walls       inside + what the tabs take
//!   base outside        between walls + 2 t
//!   lid, clear          base outside + play         the lid's tabs lie inside its end walls, so
//!   lid between walls   clear (+ 2 t lengthways)    its ends lose 2 t more
//! ```
//!
//! Sizes are inside, length x width x depth as the trade gives them: along y, along x, from the
//! floor to the lid, which rests on the base's rim.

use super::carton_size::FilledAt;
use super::lid::{
    BASE_KEYS, CLOSING, FIELDS, LEAST_PLAY_MM, LID, LID_KEYS, WINDOW, put_together, score_for,
    with_window,
};
use super::offers::only;
use super::open_tray::{LEAST_TAB_MM, OpenTray};
use super::open_tray_limits::Limits;
use super::registry::{Family, Serves};
use super::{
    Body, Inside, Laden, Nest, Opening, SettingField, Settings, Structure, StructureError,
    StructureKind, Tools,
};
use crate::sizing::{Offer, Offers, Wanted};
use crate::{Face, FitLimits, Length, Pose, Ruler};

/// A tray and its lid that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tray {
    settings: Settings,
    base: OpenTray,
    lid: OpenTray,
}

/// Its entry in the registry.
pub(super) struct TrayFamily;

impl TrayFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl Tray {
    /// Its entry in the registry.
    pub const KIND: StructureKind = TrayFamily::KIND;

    /// The tray that these settings make with these tools, from paper of this caliper.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler; scores that meet, or that leave tabs under 5.5 mm; paper that fills the
    /// tray; a lid with less than 0.5 mm or more than 8 mm of play, or deeper than the base; a
    /// window under 10 mm, or that leaves less than 10 mm of paper round it or no room for its film.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let limits = Limits::of(Self::KIND, tools, caliper)?;
        settings.check_marks(tools, caliper)?;
        let [base_w, base_l, base_score, lid_w, lid_l, lid_score] = settings.first();
        let made = Self {
            settings,
            base: limits.tray(BASE_KEYS, [base_w, base_l, base_score])?,
            lid: limits.tray(LID_KEYS, [lid_w, lid_l, lid_score])?,
        };
        let (play_w, play_l) = made.play_mm();
        limits.play(LID_KEYS[0], lid_w, play_w)?;
        limits.play(LID_KEYS[1], lid_l, play_l)?;
        limits.lid_depth(lid_score, base_score)?;
        if let Some(window) = settings.opening() {
            let lid = made.lid;
            let narrowest = |(x, y): (f64, f64)| x.min(y);
            let top = narrowest((lid.width, lid.length));
            limits.window(window, top, narrowest(lid.clear()))?;
        }
        Ok(made)
    }

    /// Between the bare walls of the base, along x and y, mm. The tabs take one caliper at each
    /// end of y from it.
    #[must_use]
    pub fn base_between_walls_mm(&self) -> (f64, f64) {
        self.base.between_walls()
    }

    /// Over the walls of the base, along x and y, mm.
    #[must_use]
    pub fn base_outside_mm(&self) -> (f64, f64) {
        self.base.outside()
    }

    /// Inside the lid, clear of its tabs, along x and y, mm.
    #[must_use]
    pub fn lid_inside_mm(&self) -> (f64, f64) {
        self.lid.clear()
    }

    /// Play of the lid over the base, from wall to wall, along x and y, mm.
    #[must_use]
    pub fn play_mm(&self) -> (f64, f64) {
        let (lid, base) = (self.lid.clear(), self.base.outside());
        (lid.0 - base.0, lid.1 - base.1)
    }

    /// Room inside, under the lid.
    #[must_use]
    pub fn inside(&self) -> Inside {
        let (width, length) = self.base.clear();
        Inside {
            width,
            length,
            depth: self.base.depth - self.base.t / 2.0,
        }
    }

    fn blanks(&self) -> [(Length, Length); 2] {
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
            pattern: self.base.pattern("base", "bottom"),
            work: self.base.work(base_score),
            place: Pose::FLAT,
        };
        let lid = Body {
            name: "lid",
            blank: lid_blank,
            pattern: self.lid.with_window("lid", "top", window.map(Length::mm)),
            work: with_window(self.lid.work(lid_score), window, trimmer),
            place: Pose::FLAT,
        };
        put_together(base, lid, self.base.depth + self.base.t / 2.0)
    }
}

impl Family for TrayFamily {
    fn slug(&self) -> &'static str {
        "tray"
    }

    fn name(&self) -> &'static str {
        "tray with lid"
    }

    fn about(&self) -> &'static str {
        "An open tray and a lid that goes over it, from a sheet each. The base is open at the top, \
         where contents go in; the lid shuts it."
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        &FIELDS
    }

    fn filled_at(&self) -> Option<FilledAt> {
        Some(FilledAt::Front)
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
        let made = Tray::new(*settings, tools, caliper)?;
        let (main, lid) = made.bodies(&tools.trimmer);
        let (width, length) = made.lid.outside();
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            main,
            others: vec![lid],
            nests: vec![Nest {
                inner: 0,
                outer: 1,
                faces: vec![Face::Left, Face::Right, Face::Bottom, Face::Top],
                play_mm: LEAST_PLAY_MM,
            }],
            inside: made.inside(),
            outside: Inside {
                width,
                length,
                depth: made.base.depth + 1.5 * made.base.t,
            },
            volume_mm3: made.base.width * made.base.length * made.base.depth,
            laden: Laden::default(),
        })
    }

    /// One offer: every measure is the least mark that does, and none makes another one larger
    /// by being smaller.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        only(least(wanted).map(|settings| {
            let made = Tray::new(settings, wanted.tools, wanted.caliper)?;
            Ok(Offer {
                settings,
                blanks: made.blanks().to_vec(),
                inside: made.inside(),
            })
        }))
    }
}

/// The least settings that hold a block; `None` where a ruler does not reach.
fn least(wanted: &Wanted<'_>) -> Option<Settings> {
    let (trimmer, score) = (&wanted.tools.trimmer, wanted.tools.score.as_ref()?);
    let [width, length, depth] = wanted.block_mm;
    let t = wanted.caliper.mm();
    let base_score = score.up((depth + t / 2.0).max(LEAST_TAB_MM))?;
    let walls = 2.0 * base_score.mm();
    let base_w = trimmer.up((width + t).max(2.0 * (LEAST_TAB_MM + t)) + walls)?;
    let base_l = trimmer.up(length + 3.0 * t + walls)?;
    let base = OpenTray::of((base_w, base_l), base_score, wanted.caliper);

    let lid_score = score_for(wanted.fit.lid, base_score, score);
    let play = LID.play_mm(&wanted.fit);
    let (outside, walls) = (base.outside(), 2.0 * lid_score.mm());
    let lid_w = trimmer.up(outside.0 + play + t + walls)?;
    let lid_l = trimmer.up(outside.1 + play + 3.0 * t + walls)?;
    let at = [base_w, base_l, base_score, lid_w, lid_l, lid_score];
    let opening = wanted.fit.opening(Tray::KIND);
    Some(Settings::of(Tray::KIND, &at).with_opening(opening))
}
