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

use super::open_tray::{LEAST_TAB_MM, OpenTray};
use super::registry::{Family, Serves};
use super::work::Work;
use super::{
    Body, Inside, Nest, SetOn, SettingField, Settings, Structure, StructureError, StructureKind,
    StructureProblem, Tools,
};
use crate::sizing::{MOST_ASKED_MM, Offer, Offers, Wanted};
use crate::{Face, FitLimits, Length, LidDepth, Point, Pose, Ruler, Vec3};

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
    /// tray; a lid with less than 0.5 mm or more than 8 mm of play, or deeper than the base.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let no_score = || StructureError::no_tool(Self::KIND, SetOn::Score, tools.main_ruler());
        let score = tools.score.ok_or_else(no_score)?;
        let check = Limits {
            score,
            trimmer: tools.trimmer,
            caliper,
        };
        let [base_w, base_l, base_score, lid_w, lid_l, lid_score] = settings.first();
        settings.check_marks(tools, caliper)?;
        let made = Self {
            settings,
            base: check.tray(
                ["base_width", "base_length", "base_score"],
                [base_w, base_l, base_score],
            )?,
            lid: check.tray(
                ["lid_width", "lid_length", "lid_score"],
                [lid_w, lid_l, lid_score],
            )?,
        };
        let (play_w, play_l) = made.play_mm();
        check.play("lid_width", lid_w, play_w)?;
        check.play("lid_length", lid_l, play_l)?;
        check.lid_depth(lid_score, base_score)?;
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

    fn bodies(&self) -> (Body, Body) {
        let [.., base_score, _, _, lid_score] = self.settings.first::<6>();
        let [base_blank, lid_blank] = self.blanks();
        let mut base = Body {
            name: "base",
            blank: base_blank,
            pattern: self.base.pattern("base", "bottom"),
            work: self.base.work(base_score),
            place: Pose::FLAT,
        };
        base.work.push(Work::Fill);
        // Turned over, the lid's top rests on the rim.
        let over = Pose::turn_about(Point::ZERO, Point::new(1.0, 0.0), 180.0);
        let rim = Vec3::new(0.0, 0.0, self.base.depth + self.base.t / 2.0);
        let mut lid = Body {
            name: "lid",
            blank: lid_blank,
            pattern: self.lid.pattern("lid", "top"),
            work: self.lid.work(lid_score),
            place: over.shifted(rim),
        };
        lid.work.push(Work::PutTogether {
            what: "the lid over the base",
        });
        (base, lid)
    }
}

/// The limits of one of the two trays, in the marks of the tools.
pub(super) struct Limits {
    pub(super) score: Ruler,
    pub(super) trimmer: Ruler,
    pub(super) caliper: Length,
}

impl Limits {
    pub(super) fn tray(
        &self,
        fields: [&'static str; 3],
        at: [Length; 3],
    ) -> Result<OpenTray, StructureError> {
        let [width, length, score] = at;
        let refuse = |problem, ruler| Err(StructureError::new(problem, ruler));
        let shorter = width.min(length);
        if score * 2 >= shorter {
            let problem = StructureProblem::TooMuch {
                field: fields[2],
                asked: score,
                most: self
                    .score
                    .down(shorter.mm() / 2.0 - LEAST_TAB_MM)
                    .unwrap_or_default(),
                why: "the scores of opposite edges meet",
            };
            return refuse(problem, &self.score);
        }
        let tray = OpenTray::of((width, length), score, self.caliper);
        for (axis, room, crease_mm) in [
            ("width", tray.clear().0, tray.width),
            ("length", tray.clear().1, tray.length),
            ("depth", tray.depth - tray.t / 2.0, tray.depth),
        ] {
            if room <= 0.0 {
                let problem = StructureProblem::NoRoom {
                    axis,
                    crease_mm,
                    caliper: self.caliper,
                };
                return refuse(problem, &self.score);
            }
        }
        if tray.depth < LEAST_TAB_MM {
            let problem = StructureProblem::TooLittle {
                field: fields[2],
                asked: score,
                least: self.score.up(LEAST_TAB_MM).unwrap_or_default(),
                why: "the corner tabs have no room for glue",
            };
            return refuse(problem, &self.score);
        }
        if tray.tab_reach() < LEAST_TAB_MM {
            let least = 2.0 * (score + self.caliper).mm() + 2.0 * LEAST_TAB_MM;
            let problem = StructureProblem::TooLittle {
                field: fields[0],
                asked: width,
                least: self.trimmer.up(least).unwrap_or_default(),
                why: "the corner tabs meet and have no room for glue",
            };
            return refuse(problem, &self.trimmer);
        }
        Ok(tray)
    }

    pub(super) fn play(
        &self,
        field: &'static str,
        asked: Length,
        play: f64,
    ) -> Result<(), StructureError> {
        let refuse = |problem| Err(StructureError::new(problem, &self.trimmer));
        let other = |play_wanted: f64| asked.mm() - play + play_wanted;
        if play < LEAST_PLAY_MM - 1e-9 {
            return refuse(StructureProblem::TooLittle {
                field,
                asked,
                least: self.trimmer.up(other(LEAST_PLAY_MM)).unwrap_or_default(),
                why: "the lid does not go over the base",
            });
        }
        // On a coarse ruler the least that goes over may be looser.
        let most = MOST_PLAY_MM.max(LEAST_PLAY_MM + self.trimmer.step().mm());
        if play > most {
            return refuse(StructureProblem::TooMuch {
                field,
                asked,
                most: self.trimmer.down(other(most)).unwrap_or_default(),
                why: "the lid is loose on the base",
            });
        }
        Ok(())
    }

    pub(super) fn lid_depth(&self, lid: Length, base: Length) -> Result<(), StructureError> {
        if lid > base + self.caliper {
            let problem = StructureProblem::TooMuch {
                field: "lid_score",
                asked: lid,
                most: base,
                why: "a lid deeper than the base stands on the table before it is shut",
            };
            return Err(StructureError::new(problem, &self.score));
        }
        Ok(())
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
        const FIELDS: [SettingField; 6] = [
            SettingField::new("base_width", "base width", SetOn::Sheet),
            SettingField::new("base_length", "base length", SetOn::Sheet),
            SettingField::new("base_score", "base score", SetOn::Score),
            SettingField::new("lid_width", "lid width", SetOn::Sheet),
            SettingField::new("lid_length", "lid length", SetOn::Sheet),
            SettingField::new("lid_score", "lid score", SetOn::Score),
        ];
        &FIELDS
    }

    fn closing(&self) -> Option<&'static str> {
        Some("the lid, held by its fit over the base")
    }

    fn fit(&self) -> Option<FitLimits> {
        Some(LID)
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = Tray::new(*settings, tools, caliper)?;
        let (main, lid) = made.bodies();
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
        })
    }

    /// One offer: every measure is the least mark that does, and none makes another one larger
    /// by being smaller.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let Some(settings) = least(wanted) else {
            return Offers::default();
        };
        match Tray::new(settings, wanted.tools, wanted.caliper) {
            Ok(made) => Offers {
                found: vec![Offer {
                    settings,
                    blanks: made.blanks().to_vec(),
                    inside: made.inside(),
                }],
                refused: None,
            },
            Err(error) => Offers {
                found: Vec::new(),
                refused: Some(error),
            },
        }
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

    let lid_score = lid(wanted.fit.lid, base_score, score);
    let play = LID.play_mm(&wanted.fit);
    let (outside, walls) = (base.outside(), 2.0 * lid_score.mm());
    let lid_w = trimmer.up(outside.0 + play + t + walls)?;
    let lid_l = trimmer.up(outside.1 + play + 3.0 * t + walls)?;
    let at = [base_w, base_l, base_score, lid_w, lid_l, lid_score];
    Some(Settings::of(Tray::KIND, &at))
}

/// The mark for a lid of that depth, at most as deep as its base and with room for its tabs.
pub(super) fn lid(depth: LidDepth, base: Length, score: &Ruler) -> Length {
    let deep = depth.of_base_mm(base.mm()).max(LEAST_TAB_MM);
    let lid = score.up(deep).filter(|at| *at <= base);
    lid.unwrap_or(base)
}
