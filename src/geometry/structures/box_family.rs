//! What the punch-board box says of itself, and the search for its settings.

use std::f64::consts::SQRT_2;

use super::punch_sizing::{Look, Outcome, PunchSearch, marks_from};
use super::registry::{Family, Serves};
use super::{
    Body, Inside, Laden, PunchBox, PunchBoxSettings, SetOn, SettingField, Settings, Structure,
    StructureError, StructureKind, Tools,
};
use crate::sizing::{Candidate, Order, RefusalReason, SLACK_MM, Search};
use crate::{Length, Pose, SizingRequest};

/// The punch-board box in the registry.
pub(super) struct PunchBoxFamily;

impl PunchBoxFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl PunchBox {
    /// Its entry in the registry.
    pub const KIND: StructureKind = PunchBoxFamily::KIND;

    /// The box again, if the structure is one.
    #[must_use]
    pub fn of(structure: &Structure) -> Option<Self> {
        structure.again(Self::KIND, Self::on_bench)
    }

    /// The box that these settings make on the bench's board.
    fn on_bench(
        settings: Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        Self::new(read(&settings), &tools.board_for(Self::KIND)?, caliper)
    }
}

impl From<PunchBoxSettings> for Settings {
    fn from(at: PunchBoxSettings) -> Self {
        Self::of(PunchBox::KIND, &[at.sheet, at.punch_1, at.punch_2])
    }
}

fn read(settings: &Settings) -> PunchBoxSettings {
    let [sheet, punch_1, punch_2] = settings.first();
    PunchBoxSettings {
        sheet,
        punch_1,
        punch_2,
    }
}

impl Family for PunchBoxFamily {
    fn slug(&self) -> &'static str {
        "box"
    }

    fn name(&self) -> &'static str {
        "punch-board box"
    }

    fn about(&self) -> &'static str {
        "A closed box from one square. No face stays open; contents go in at the top end before \
         its flap is closed."
    }

    fn serves(&self) -> Serves {
        Serves::Solids
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 3] = [
            SettingField::new("sheet", "sheet", SetOn::Sheet),
            SettingField::new("punch_1", "punch 1", SetOn::PunchBoard),
            SettingField::new("punch_2", "punch 2", SetOn::PunchBoard),
        ];
        &FIELDS
    }

    fn closing(&self) -> Option<&'static str> {
        Some("the top end flap, its tip rounded so that it tucks")
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = PunchBox::on_bench(*settings, tools, caliper)?;
        let (side, t) = (made.settings().sheet, caliper.mm());
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            inside: made.inside(),
            // Two flaps lie over the back's crease plane.
            outside: Inside {
                width: made.width + t,
                length: made.length + t,
                depth: made.depth + 3.0 * t,
            },
            volume_mm3: made.width * made.length * made.depth,
            laden: Laden::default(),
            main: Body {
                name: "box",
                blank: (side, side),
                pattern: made.pattern(),
                work: Vec::new(),
                place: Pose::FLAT,
            },
            others: Vec::new(),
            nests: Vec::new(),
        })
    }

    fn best(&self, search: &Search<'_>) -> Option<Candidate> {
        let look = |settings: &Settings, board: &_, caliper, _: [Length; 3]| {
            let made = PunchBox::new(read(settings), board, caliper)?;
            Ok(made.inside())
        };
        PunchSearch::new(search, &look, true)?.best(boxes)
    }

    fn explain(&self, kind: StructureKind, request: &SizingRequest) -> RefusalReason {
        super::punch_sizing::explain(kind, request)
    }
}

/// Every pair of punches that could be best for one way to lay the contents.
fn boxes(search: &PunchSearch<'_, '_>, order: &Order, look: Look, best: &mut Option<Candidate>) {
    let [width, length, depth] = order.lies.map(|side| search.needs(side) - SLACK_MM);
    let e = search.board.notch_depth().mm();
    let ruler = search.board.ruler();
    let beyond = length / SQRT_2 + e;
    for punch_1 in marks_from(ruler, width / SQRT_2 + e) {
        let first = punch_1.mm() + SQRT_2 * depth;
        if !search.could_win(first + beyond, best.as_ref()) {
            break;
        }
        for punch_2 in marks_from(ruler, first) {
            let least = punch_2.mm() + beyond;
            if !search.could_win(least, best.as_ref()) {
                break;
            }
            let at = |sheet| {
                Settings::from(PunchBoxSettings {
                    sheet,
                    punch_1,
                    punch_2,
                })
            };
            match search.least_sheet(least, at, order, best) {
                Outcome::Fits if look == Look::FirstFit => return,
                Outcome::Fits | Outcome::Never => {}
                // A later second punch takes no smaller sheet.
                Outcome::TooLarge => break,
            }
        }
    }
}
