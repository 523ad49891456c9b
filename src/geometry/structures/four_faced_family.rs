//! What the four-faced pouch says of itself, and the search for its settings.

use super::four_faced::{LEAST_FACE_MM, LEAST_STRIP_MM, USUAL_STRIP_MM};
use super::offers::least_mark;
use super::registry::{Family, Serves};
use super::{
    Body, FourFaced, Inside, Laden, SetOn, SettingField, Settings, Structure, StructureError,
    StructureKind, Tools,
};
use crate::sizing::{Offer, Offers, SLACK_MM, Wanted};
use crate::{ContentsBox, Length, Pose};

/// Its entry in the registry.
pub(super) struct FourFacedFamily;

impl FourFacedFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl Family for FourFacedFamily {
    fn slug(&self) -> &'static str {
        "four-faced"
    }

    fn name(&self) -> &'static str {
        "four-faced pouch"
    }

    fn about(&self) -> &'static str {
        "Four equal triangles from one sheet: a tube, closed flat at one end, turned a quarter and \
         closed at the other. No face stays open; contents go in at the last face before it is \
         glued. Good for seeds and other small loose things."
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 4] = [
            SettingField::new("sheet_width", "sheet width", SetOn::Sheet),
            SettingField::new("sheet_length", "sheet length", SetOn::Sheet),
            SettingField::new("strip_score", "strip score", SetOn::Score),
            SettingField::new("mark", "mark", SetOn::Template),
        ];
        &FIELDS
    }

    fn closing(&self) -> Option<&'static str> {
        Some("the last face, glued on the side flap, and the top strip, glued over it")
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = FourFaced::new(*settings, tools, caliper)?;
        let pattern = made.pattern();
        let (low, high) = pattern.solid.bounds();
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            inside: made.inside_for(0.0),
            // Half a caliper outside each crease plane, and two flaps on the back.
            outside: Inside {
                width: high.x - low.x + made.t,
                length: high.y - low.y + 3.0 * made.t,
                depth: high.z - low.z + made.t,
            },
            volume_mm3: made.volume_mm3(),
            laden: Laden::default(),
            main: Body {
                name: "pouch",
                blank: made.blank(),
                pattern,
                work: made.work(settings.first::<3>()[2]),
                place: Pose::FLAT,
            },
            others: Vec::new(),
            nests: Vec::new(),
        })
    }

    fn inside_for(&self, structure: &Structure, depth_mm: f64) -> Inside {
        let made = FourFaced::of(structure);
        made.map_or(structure.inside, |made| match structure.load().ball {
            true => made.inside_for_ball(),
            false => made.inside_for(depth_mm),
        })
    }

    fn block_for_ball(&self, structure: &Structure, around: ContentsBox) -> ContentsBox {
        FourFaced::of(structure).map_or(around, |made| made.block_for_ball(around.x))
    }

    fn contents_lie(&self, structure: &Structure) -> Option<Pose> {
        FourFaced::of(structure).map(|made| made.contents_lie())
    }

    /// One offer for each mark: the shortest sheet that takes the block; a wider sheet can only
    /// be better while it is shorter.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let [width, length, depth] = wanted.block_mm;
        let inside_of = |made: &FourFaced| match wanted.ball {
            true => made.inside_for_ball(),
            false => made.inside_for(depth),
        };
        let takes = |made: &FourFaced| {
            let inside = inside_of(made);
            inside.width >= width.max(length) - SLACK_MM / 2.0
                && inside.depth >= depth - SLACK_MM / 2.0
        };
        let offer = |made: FourFaced| Offer {
            settings: made.settings,
            blanks: vec![made.blank()],
            inside: inside_of(&made),
        };
        // The section in the middle is no wider than the mark; a ball is no wider than that.
        let found = least_pouches(wanted.tools, wanted.caliper, width.max(length), takes);
        Offers {
            found: found.into_iter().map(offer).collect(),
            refused: None,
        }
    }
}

/// For each mark from the least on the shortest sheet whose pouch takes the contents, as long as a
/// wider sheet is shorter. `takes` must hold for a longer tube where it holds for a shorter one: the distance of
/// the edges and the inscribed sphere both grow with h.
pub(super) fn least_pouches(
    tools: &Tools,
    caliper: Length,
    widest: f64,
    takes: impl Fn(&FourFaced) -> bool,
) -> Vec<FourFaced> {
    let mut found: Vec<FourFaced> = Vec::new();
    let (Some(score), Some(template)) = (&tools.score, tools.ruler(SetOn::Template)) else {
        return found;
    };
    let Some(strip) = score.up(USUAL_STRIP_MM) else {
        return found;
    };
    let least = (LEAST_FACE_MM / 2.0).max(1.5 * strip.mm()).max(widest);
    let first = template.up(least).unwrap_or(Length::MAX);
    let mut shortest = Length::MAX;
    for mark in template.marks_between(first, Length::MAX) {
        let least = 2.0 * strip.mm() + mark.mm() + LEAST_STRIP_MM;
        // A sheet is longer than its mark: from here on none is shorter than what was found.
        if least > shortest.mm() {
            break;
        }
        let Some(width) = tools.trimmer.up(4.0 * mark.mm() + USUAL_STRIP_MM) else {
            break;
        };
        let settings = |length| Settings::of(FourFaced::KIND, &[width, length, strip, mark]);
        let fits = |length| {
            let made = FourFaced::of_settings(settings(length), caliper);
            made.shrink() > 0.0 && takes(&made)
        };
        let most = shortest.mm().min(tools.trimmer.longest().mm());
        let length = least_mark(&tools.trimmer, (least, most), fits);
        let Some(length) = length.filter(|length| *length < shortest) else {
            continue;
        };
        if let Ok(made) = FourFaced::new(settings(length), tools, caliper) {
            shortest = length;
            found.push(made);
        }
    }
    found
}
