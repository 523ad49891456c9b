//! What the pillow pouch says of itself, and the settings that it offers.

use super::offers::least_mark;
use super::pouch::{ARCH_SHARE, LEAST_PANEL_MM, Pouch, length_to_glue, room_for};
use super::registry::{Family, Serves};
use super::{
    Body, Inside, Laden, SetOn, SettingField, Settings, Structure, StructureError, StructureKind,
    Tools,
};
use crate::sizing::{Offer, Offers, SLACK_MM, Wanted};
use crate::{Length, Pose, Ruler};

/// Usual width of the side flap, mm (common practice, no source).
const USUAL_FLAP_MM: f64 = 10.0;

/// Its entry in the registry.
pub(super) struct PouchFamily;

impl PouchFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl Family for PouchFamily {
    fn slug(&self) -> &'static str {
        "pouch"
    }

    fn name(&self) -> &'static str {
        "pillow pouch"
    }

    fn about(&self) -> &'static str {
        "A cushion of two bent panels from one sheet. No face stays open; contents go in at one \
         end before its two flaps are pressed in."
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 4] = [
            SettingField::new("sheet_width", "sheet width", SetOn::Sheet),
            SettingField::new("sheet_length", "sheet length", SetOn::Sheet),
            SettingField::new("score", "score", SetOn::Score),
            SettingField::new("arch", "arch", SetOn::Template),
        ];
        &FIELDS
    }

    fn closing(&self) -> Option<&'static str> {
        Some("the end flaps, which hold each other by their bend")
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = Pouch::new(*settings, tools, caliper)?;
        let thick = 2.0 * made.middle_height();
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            inside: made.inside_for(0.0),
            outside: Inside {
                width: made.segment.chord() + made.t,
                length: made.length + made.t,
                depth: thick + made.t,
            },
            volume_mm3: made.volume_mm3(),
            laden: Laden::default(),
            main: Body {
                name: "pouch",
                blank: made.blank(),
                pattern: made.pattern(),
                work: made.work(settings.first::<4>()[2]),
                place: Pose::FLAT,
            },
            others: Vec::new(),
            nests: Vec::new(),
        })
    }

    fn inside_for(&self, structure: &Structure, depth_mm: f64) -> Inside {
        Pouch::of(structure).map_or(structure.inside, |made| made.inside_for(depth_mm))
    }

    /// One offer for each arch: the narrowest panel that takes the block. A deeper arch takes a
    /// longer sheet; it can only be better while it takes a narrower one.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let mut offers = Offers::default();
        let (Some(score), Some(template)) =
            (&wanted.tools.score, wanted.tools.ruler(SetOn::Template))
        else {
            return offers;
        };
        let mut narrowest = Length::MAX;
        let least = (wanted.block_mm[2] + wanted.caliper.mm()) / 2.0;
        let least = least.max(ARCH_SHARE[0] * LEAST_PANEL_MM);
        let first = template.up(least).unwrap_or(Length::MAX);
        for arch in template.marks_between(first, Length::MAX) {
            if arch.mm() / ARCH_SHARE[1] > narrowest.mm() {
                break;
            }
            match narrowest_panel(wanted, score, arch) {
                Some((panel, made)) if panel < narrowest => {
                    narrowest = panel;
                    offers.found.push(Offer {
                        settings: made.settings,
                        blanks: vec![made.blank()],
                        inside: made.inside_for(wanted.block_mm[2]),
                    });
                }
                Some(_) => {}
                // No panel that the board reaches is wide enough for so deep an arch.
                None if arch.mm() / ARCH_SHARE[1] > score.longest().mm() / 2.0 => break,
                None => {}
            }
        }
        offers
    }
}

/// The least mark of the score board at which a pouch with this arch takes the block.
fn narrowest_panel(wanted: &Wanted<'_>, score: &Ruler, arch: Length) -> Option<(Length, Pouch)> {
    let [width, _, depth] = wanted.block_mm;
    let least = (arch.mm() / ARCH_SHARE[1]).max(LEAST_PANEL_MM).max(width);
    let most = (arch.mm() / ARCH_SHARE[0]).min(score.longest().mm() / 2.0);
    // Without the side flap room grows with the panel, so that halving finds where to begin.
    let could = |panel: Length| {
        let room = room_for(panel.mm(), arch.mm(), (0.0, wanted.caliper.mm()), depth);
        room.is_some_and(|room| room >= width - SLACK_MM / 2.0)
    };
    let first = least_mark(score, (least - 1e-9, most + 1e-9), could)?;
    let last = score.down(most + 1e-9)?;
    score.marks_between(first, last).find_map(|panel| {
        let made = pouch_for(wanted, panel, arch)?;
        let room = made.inside_for(depth).width;
        (room >= width - SLACK_MM / 2.0).then_some((panel, made))
    })
}

/// The pouch with this panel and arch that is just long enough for the block and for its glue.
fn pouch_for(wanted: &Wanted<'_>, panel: Length, arch: Length) -> Option<Pouch> {
    let trimmer = &wanted.tools.trimmer;
    let width = trimmer.up(2.0 * panel.mm() + USUAL_FLAP_MM)?;
    // The middle strip lies a little lower than the arch is deep.
    let middle = super::pouch_bend::middle_height(panel.mm(), arch.mm())?;
    let room = wanted.block_mm[1] + 2.0 * middle + 3.0 * wanted.caliper.mm();
    let flap = (width - panel * 2).mm();
    let glued = length_to_glue(panel.mm(), arch.mm(), (flap, wanted.caliper.mm()))?;
    let length = trimmer.up(room.max(glued) + 2.0 * arch.mm())?;
    let settings = Settings::of(Pouch::KIND, &[width, length, panel, arch]);
    Pouch::new(settings, wanted.tools, wanted.caliper).ok()
}
