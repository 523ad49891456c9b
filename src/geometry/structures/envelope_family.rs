//! What the punch-board envelope says of itself, and the search for its settings.

use std::f64::consts::SQRT_2;

use super::punch_sizing::{Look, Outcome, PunchSearch, marks_from};
use super::registry::{Family, Serves};
use super::{
    Body, Inside, Laden, PunchBox, PunchEnvelope, PunchEnvelopeSettings, SetOn, SettingField,
    Settings, Structure, StructureError, StructureKind, Tools,
};
use crate::sizing::{Candidate, Order, RefusalReason, SLACK_MM, Search};
use crate::{Length, Pose, SizingRequest};

/// The thickest that goes into an envelope: 1/4 in (common practice, no source).
const THICKEST: Length = Length::from_nm(6_350_000);

/// The punch-board envelope in the registry.
pub(super) struct PunchEnvelopeFamily;

impl PunchEnvelopeFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl PunchEnvelope {
    /// Its entry in the registry.
    pub const KIND: StructureKind = PunchEnvelopeFamily::KIND;

    /// The envelope again, if the structure is one.
    #[must_use]
    pub fn of(structure: &Structure) -> Option<Self> {
        structure.again(Self::KIND, Self::on_bench)
    }

    /// The envelope that these settings make on the bench's board.
    fn on_bench(
        settings: Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Self, StructureError> {
        Self::new(read(&settings), &tools.board_for(Self::KIND)?, caliper)
    }
}

impl From<PunchEnvelopeSettings> for Settings {
    fn from(at: PunchEnvelopeSettings) -> Self {
        Self::of(PunchEnvelope::KIND, &[at.sheet, at.punch])
    }
}

fn read(settings: &Settings) -> PunchEnvelopeSettings {
    let [sheet, punch] = settings.first();
    PunchEnvelopeSettings { sheet, punch }
}

impl Family for PunchEnvelopeFamily {
    fn slug(&self) -> &'static str {
        "envelope"
    }

    fn name(&self) -> &'static str {
        "punch-board envelope"
    }

    fn about(&self) -> &'static str {
        "An envelope from one square. No face stays open; contents go in under the top flap \
         before it is closed."
    }

    fn serves(&self) -> Serves {
        Serves::FlatThings
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 2] = [
            SettingField::new("sheet", "sheet", SetOn::Sheet),
            SettingField::new("punch", "punch", SetOn::PunchBoard),
        ];
        &FIELDS
    }

    fn closing(&self) -> Option<&'static str> {
        Some("the top flap, glued or under a sticker")
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        let made = PunchEnvelope::on_bench(*settings, tools, caliper)?;
        let (side, t) = (made.settings().sheet, caliper.mm());
        Ok(Structure {
            settings: *settings,
            tools: *tools,
            caliper,
            inside: made.inside(),
            // The front and at most three flaps.
            outside: Inside {
                width: made.width + t,
                length: made.height + t,
                depth: 4.0 * t,
            },
            volume_mm3: 0.0,
            laden: Laden::default(),
            main: Body {
                name: "envelope",
                blank: (side, side),
                pattern: made.pattern(),
                work: Vec::new(),
                place: Pose::FLAT,
            },
            others: Vec::new(),
            nests: Vec::new(),
        })
    }

    fn has_depth(&self) -> bool {
        false
    }

    fn inside_for(&self, structure: &Structure, depth_mm: f64) -> Inside {
        let inside = structure.inside;
        Inside {
            width: inside.width - depth_mm,
            length: inside.length - depth_mm,
            depth: depth_mm,
        }
    }

    fn best(&self, search: &Search<'_>) -> Option<Candidate> {
        let look = |settings: &Settings, board: &_, caliper, lies: [Length; 3]| {
            let made = PunchEnvelope::new(read(settings), board, caliper)?;
            Ok(made.inside_for(lies[2].mm()))
        };
        PunchSearch::new(search, &look, false)?.best(envelopes)
    }

    fn explain(&self, kind: StructureKind, request: &SizingRequest) -> RefusalReason {
        let thinnest = request.thinnest();
        if thinnest > THICKEST {
            return RefusalReason::TooThick {
                thinnest,
                thickest: THICKEST,
                instead: PunchBox::KIND,
            };
        }
        super::punch_sizing::explain(kind, request)
    }
}

/// Every punch that could be best for one way to lay the contents.
fn envelopes(
    search: &PunchSearch<'_, '_>,
    order: &Order,
    look: Look,
    best: &mut Option<Candidate>,
) {
    let [across, along, thick] = order.lies;
    if thick > THICKEST {
        return;
    }
    let [width, length] = [across, along].map(|side| search.needs(side) + thick.mm() - SLACK_MM);
    let e = search.board.notch_depth().mm();
    let beyond = length / SQRT_2 + e;
    for punch in marks_from(search.board.ruler(), width / SQRT_2 + e) {
        let least = punch.mm() + beyond;
        if !search.could_win(least, best.as_ref()) {
            break;
        }
        let at = |sheet| Settings::from(PunchEnvelopeSettings { sheet, punch });
        let outcome = search.least_sheet(least, at, order, best);
        if outcome == Outcome::Fits && look == Look::FirstFit {
            return;
        }
    }
}
