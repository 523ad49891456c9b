//! A drawer with a sleeve: an open tray that slides in a tube of four panels.
//!
//! ```text
//!   drawer outside      width + t,  depth + t/2 (floor to rim)
//!   sleeve, clear       drawer outside + play        its flap lies inside the bottom, so the
//!   sleeve, creases     clear + t,  clear + 2 t      depth loses one t more
//!   sleeve, length      the drawer's outside, up to the next mark
//! ```
//!
//! Sizes are inside, length x width x depth as the trade gives them: along y, the way it slides;
//! along x; from the floor to the rim. The drawer's walls lose as the tray's do: t of the width,
//! 3 t of the length, t/2 of the depth.

use super::carton_size::FilledAt;
use super::drawer_limits::{
    LEAST_FLAP_MM, LEAST_LENGTH_MM, LEAST_PLAY_MM, MOST_PLAY_MM, NOTCH_MM, check_drawer,
    check_notch, check_scores, check_sheet, largest_notch, rim, round,
};
use super::offers::keep;
use super::open_tray::{LEAST_TAB_MM, OpenTray};
use super::open_tray_limits::Limits;
use super::registry::{Family, Serves};
use super::sleeve::{Sleeve, WALLS};

use super::work::Work;
use super::{
    Body, Inside, Laden, Nest, SetOn, SettingField, Settings, Structure, StructureError,
    StructureKind, StructureProblem, Tools,
};
use crate::sizing::{MOST_ASKED_MM, Offer, Offers, Wanted};
use crate::{FingerNotch, FitLimits, Length, Point, Pose, Ruler, Vec3};

/// A drawer and its sleeve that can be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawer {
    settings: Settings,
    drawer: OpenTray,
    sleeve: Sleeve,
}

/// What can be asked of a drawer in its sleeve.
const SLIDE: FitLimits = FitLimits {
    what: "the drawer in its sleeve",
    least_mm: LEAST_PLAY_MM,
    most_mm: MOST_ASKED_MM,
    has_lid: false,
};

/// Its entry in the registry.
pub(super) struct DrawerFamily;

impl DrawerFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl Drawer {
    /// Its entry in the registry.
    pub const KIND: StructureKind = DrawerFamily::KIND;

    /// The drawer and sleeve that these settings make with these tools, from paper of this
    /// caliper. The sleeve's third and fourth score follow from the first two.
    ///
    /// # Errors
    /// A length that is not above 0 and at most 10 m; a score that is no mark of the score
    /// board's ruler; a drawer that is no tray (see [`super::Tray::new`]) or under 15 mm long; a
    /// sleeve with less than 1 mm or more than 8 mm of play, shorter than the drawer or over 6 mm
    /// longer (more only where the ruler is that coarse), whose last score is out of reach, with a
    /// glue flap under 8 mm or wider than its bottom; a notch from a circle under 10 mm or too
    /// large for the top.
    pub fn new(settings: Settings, tools: &Tools, caliper: Length) -> Result<Self, StructureError> {
        let limits = Limits::of(Self::KIND, tools, caliper)?;
        settings.check_marks(tools, caliper)?;
        let [
            width,
            length,
            score,
            sheet,
            sleeve_length,
            first,
            second,
            circle,
        ] = settings.first();
        let fields = ["drawer_width", "drawer_length", "drawer_score"];
        let drawer = limits.tray(fields, [width, length, score])?;
        check_drawer(length, &drawer, &limits.trimmer)?;
        check_scores([first, second], &drawer, &limits.score)?;
        check_sheet((sheet, sleeve_length), [first, second], &drawer, &limits)?;
        let template = *tools.ruler(SetOn::Template).unwrap_or(&limits.score);
        check_notch(circle, (first, sleeve_length), &template)?;
        let no_notch = |_| {
            let (field, asked) = ("notch_circle", circle);
            StructureError::new(StructureProblem::Length { field, asked }, &template)
        };
        Ok(Self {
            settings,
            drawer,
            sleeve: Sleeve {
                width: first.mm(),
                depth: (second - first).mm(),
                length: sleeve_length.mm(),
                flap: (sheet - second * 2).mm(),
                notch: FingerNotch::half_of(circle).map_err(no_notch)?,
                t: caliper.mm(),
            },
        })
    }

    /// Over the walls of the drawer, along x and y and from floor to rim, mm.
    #[must_use]
    pub fn drawer_outside_mm(&self) -> (f64, f64, f64) {
        let (width, length) = self.drawer.outside();
        (width, length, rim(&self.drawer))
    }

    /// Inside the sleeve, clear of its flap: width and depth, mm.
    #[must_use]
    pub fn sleeve_inside_mm(&self) -> (f64, f64) {
        self.sleeve.clear()
    }

    /// Play of the drawer in the sleeve, from wall to wall: width and depth, mm.
    #[must_use]
    pub fn play_mm(&self) -> (f64, f64) {
        let (width, depth) = self.sleeve.clear();
        (width - self.drawer.outside().0, depth - rim(&self.drawer))
    }

    /// Room inside the drawer, under its rim.
    #[must_use]
    pub fn inside(&self) -> Inside {
        let (width, length) = self.drawer.clear();
        Inside {
            width,
            length,
            depth: self.drawer.depth - self.drawer.t / 2.0,
        }
    }

    pub(super) fn blanks(&self) -> [(Length, Length); 2] {
        let [width, length, _, sheet, sleeve_length] = self.settings.first();
        [(width, length), (sheet, sleeve_length)]
    }

    fn bodies(&self) -> (Body, Body) {
        let [.., score, _, _, first, second] = self.settings.first::<7>();
        let [drawer_blank, sleeve_blank] = self.blanks();
        let mut drawer = Body {
            name: "drawer",
            blank: drawer_blank,
            pattern: self.drawer.pattern("drawer", "floor"),
            work: self.drawer.work(score),
            place: Pose::FLAT,
        };
        drawer.work.push(Work::Fill);
        // Turned over so that the top is above, with the same play above the rim as below.
        let over = Pose::turn_about(Point::ZERO, Point::new(0.0, 1.0), 180.0);
        let top = (self.sleeve.depth + self.drawer.depth - 1.5 * self.sleeve.t) / 2.0;
        let mut sleeve = Body {
            name: "sleeve",
            blank: sleeve_blank,
            pattern: self.sleeve.pattern(),
            work: Sleeve::work([first, second]),
            place: over.shifted(Vec3::new(0.0, 0.0, top)),
        };
        sleeve.work.push(Work::PutTogether {
            what: "the drawer into the sleeve",
        });
        (drawer, sleeve)
    }
}

impl Family for DrawerFamily {
    fn slug(&self) -> &'static str {
        "drawer"
    }

    fn name(&self) -> &'static str {
        "drawer with sleeve"
    }

    fn about(&self) -> &'static str {
        "An open drawer that slides in a tube, from a sheet each. The drawer is open at the top, \
         where contents go in, and the sleeve at both ends; a thumb notch lets you pull the \
         drawer out."
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 8] = [
            SettingField::new("drawer_width", "drawer width", SetOn::Sheet),
            SettingField::new("drawer_length", "drawer length", SetOn::Sheet),
            SettingField::new("drawer_score", "drawer score", SetOn::Score),
            SettingField::new("sleeve_width", "sleeve width", SetOn::Sheet),
            SettingField::new("sleeve_length", "sleeve length", SetOn::Sheet),
            SettingField::new("sleeve_first_score", "sleeve first score", SetOn::Score),
            SettingField::new("sleeve_second_score", "sleeve second score", SetOn::Score),
            SettingField::new("notch_circle", "notch circle", SetOn::Template),
        ];
        &FIELDS
    }

    fn filled_at(&self) -> Option<FilledAt> {
        Some(FilledAt::Front)
    }

    fn closing(&self) -> Option<&'static str> {
        Some("the sleeve, held by its fit round the drawer")
    }

    fn fit(&self) -> Option<FitLimits> {
        Some(SLIDE)
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = Drawer::new(*settings, tools, caliper)?;
        let (main, sleeve) = made.bodies();
        let OpenTray {
            width,
            length,
            depth,
            t,
        } = made.drawer;
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            main,
            others: vec![sleeve],
            nests: vec![Nest {
                inner: 0,
                outer: 1,
                faces: WALLS.to_vec(),
                play_mm: LEAST_PLAY_MM,
            }],
            inside: made.inside(),
            outside: Inside {
                width: made.sleeve.width + t,
                length: made.sleeve.length,
                depth: made.sleeve.depth + t,
            },
            volume_mm3: width * length * depth,
            laden: Laden::default(),
        })
    }

    /// A deeper drawer may take the same sheet where the trimmer is coarser than the score board,
    /// and is then narrower, with a smaller sleeve: so every depth is tried, each with the least
    /// of all else, and what another one beats is left out.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let mut offers = Offers::default();
        let Some(score) = wanted.tools.score.as_ref() else {
            return offers;
        };
        let deep = (wanted.block_mm[2] + wanted.caliper.mm() / 2.0).max(LEAST_TAB_MM);
        let least = score.up(deep);
        for depth in least
            .into_iter()
            .flat_map(|at| score.marks_between(at, Length::MAX))
        {
            match with_depth(wanted, score, depth) {
                Some(Ok(made)) => {
                    let offer = Offer {
                        settings: made.settings,
                        blanks: made.blanks().to_vec(),
                        inside: made.inside(),
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

/// The least drawer and sleeve of this depth that hold the block; `None` where a ruler does not
/// reach.
fn with_depth(
    wanted: &Wanted<'_>,
    score: &Ruler,
    depth: Length,
) -> Option<Result<Drawer, StructureError>> {
    let trimmer = &wanted.tools.trimmer;
    let template = wanted.tools.ruler(SetOn::Template)?;
    let [width, length, _] = wanted.block_mm;
    let (t, walls) = (wanted.caliper.mm(), 2.0 * depth.mm());
    let drawer_w = trimmer.up((width + t).max(2.0 * (LEAST_TAB_MM + t)) + walls)?;
    let drawer_l = trimmer.up((length + 3.0 * t).max(LEAST_LENGTH_MM) + walls)?;
    let drawer = OpenTray::of((drawer_w, drawer_l), depth, wanted.caliper);
    let (least_w, least_d) = round(&drawer, SLIDE.play_mm(&wanted.fit));
    let most_w = score.down(round(&drawer, MOST_PLAY_MM).0)?;
    let sleeve_l = trimmer.up(drawer.outside().1)?;
    let least_w = score.up(least_w)?;
    let made = |first: Length| {
        let second = score.up(first.mm() + least_d)?;
        let sheet = trimmer.up(2.0 * second.mm() + LEAST_FLAP_MM)?;
        let largest = largest_notch((first, sleeve_l));
        let usual = template.up(NOTCH_MM[1]).filter(|it| it.mm() <= largest);
        let circle = usual.or_else(|| template.down(largest))?;
        let at = [
            drawer_w, drawer_l, depth, sheet, sleeve_l, first, second, circle,
        ];
        let settings = Settings::of(Drawer::KIND, &at);
        Some(Drawer::new(settings, wanted.tools, wanted.caliper))
    };
    // A narrow drawer may need a sleeve with more play to have room for flap and notch.
    let mut wider = score.marks_between(least_w, most_w.max(least_w));
    let works = wider.find_map(|first| made(first).filter(Result::is_ok));
    works.or_else(|| made(least_w))
}
