//! What the folded card with envelope says of itself, and the search for its settings.

use super::folded_card::{LEAST_CARD_MM, LEAST_PLAY_MM, LEAST_TOP_MM, OVERLAP_MM};
use super::registry::{Family, FurtherPlay, Serves};
use super::{
    FoldedCard, Inside, Laden, Nest, PunchBox, SetOn, SettingField, Settings, Structure,
    StructureError, StructureKind, Tools,
};
use crate::sizing::{
    MOST_ASKED_MM, Offer, Offers, RefusalReason, SLACK_MM, Wanted, explain_in_general,
};
use crate::{ContentsBox, Face, FitLimits, Length, SizingRequest};

/// Usual width of the side flaps, mm (common practice, no source).
const USUAL_SIDE_MM: f64 = 14.0;
/// The thickest that goes into a card and its envelope: 1/4 in (common practice, no source).
const THICKEST: Length = Length::from_nm(6_350_000);
/// How far a score beyond the least is looked for whose double the trimmer can cut, mm.
const LOOK_FURTHER_MM: f64 = 26.0;

/// What can be asked of a card in its envelope, beyond its thickness.
const IN_ENVELOPE: FitLimits = FitLimits {
    what: "the card in its envelope",
    least_mm: LEAST_PLAY_MM,
    most_mm: MOST_ASKED_MM,
    has_lid: false,
};

/// Its entry in the registry.
pub(super) struct FoldedCardFamily;

impl FoldedCardFamily {
    pub(super) const KIND: StructureKind = StructureKind::of(&Self);
}

impl Family for FoldedCardFamily {
    fn slug(&self) -> &'static str {
        "card"
    }

    fn name(&self) -> &'static str {
        "folded card with envelope"
    }

    fn about(&self) -> &'static str {
        "A card with one fold, and an envelope of four flaps that fits it. The fold may be its left \
         edge or its top. The card is open on three sides; something flat can be laid in it. It \
         goes into the envelope under the top flap."
    }

    fn serves(&self) -> Serves {
        Serves::Cards
    }

    fn fields(&self) -> &'static [SettingField] {
        const FIELDS: [SettingField; 8] = [
            SettingField::new("card_width", "card width", SetOn::Sheet),
            SettingField::new("card_length", "card length", SetOn::Sheet),
            SettingField::new("card_score", "card score", SetOn::Score),
            SettingField::new("envelope_width", "envelope width", SetOn::Sheet),
            SettingField::new("envelope_length", "envelope length", SetOn::Sheet),
            SettingField::new("side_score", "side score", SetOn::Score),
            SettingField::new("bottom_score", "bottom score", SetOn::Score),
            SettingField::new("top_score", "top score", SetOn::Score),
        ];
        &FIELDS
    }

    fn closing(&self) -> Option<&'static str> {
        Some("the envelope's top flap, glued or under a sticker")
    }

    fn has_depth(&self) -> bool {
        false
    }

    fn fit(&self) -> Option<FitLimits> {
        Some(IN_ENVELOPE)
    }

    fn make(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        Ok(structure(
            &FoldedCard::new(*settings, tools, caliper)?,
            tools,
        ))
    }

    fn make_off(
        &self,
        settings: &Settings,
        tools: &Tools,
        caliper: Length,
    ) -> Result<Structure, StructureError> {
        Ok(structure(
            &FoldedCard::off(*settings, tools, caliper)?,
            tools,
        ))
    }

    /// The card is as thick as two sheets and what is laid in it, and takes as much of the play.
    fn takes_play_mm(&self, structure: &Structure, contents: &ContentsBox) -> f64 {
        2.0 * structure.caliper.mm() + contents.z
    }

    /// The back page, which is as wide as the front only where the fold is in the middle.
    fn further_play(&self, structure: &Structure) -> Vec<FurtherPlay> {
        let (settings, tools) = (structure.settings, &structure.tools);
        let Ok(made) = FoldedCard::off(settings, tools, structure.caliper) else {
            return Vec::new();
        };
        let lies_across = made.front.1 > made.front.0;
        let (w, h) = made.envelope;
        let envelope = if lies_across { h } else { w };
        vec![FurtherPlay {
            inner: "card's back page",
            outer: "envelope",
            along_width: !lies_across,
            play_mm: envelope - made.t - made.back,
            // One fold of the card, two of the envelope.
            folds: 3,
        }]
    }

    fn inside_for(&self, structure: &Structure, depth_mm: f64) -> Inside {
        let made = FoldedCard::off(structure.settings, &structure.tools, structure.caliper);
        made.map_or(structure.inside, |made| made.inside_for(depth_mm))
    }

    /// One offer: every measure is the least mark that does, and none makes another one larger
    /// by being smaller.
    fn offers(&self, wanted: &Wanted<'_>) -> Offers {
        let Some(settings) = least(wanted) else {
            return Offers::default();
        };
        match FoldedCard::new(settings, wanted.tools, wanted.caliper) {
            Ok(made) => Offers {
                found: vec![Offer {
                    settings,
                    blanks: made.blanks().to_vec(),
                    inside: made.inside_for(wanted.block_mm[2]),
                }],
                refused: None,
            },
            Err(error) => Offers {
                found: Vec::new(),
                refused: Some(error),
            },
        }
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
        explain_in_general(kind, request)
    }
}

/// The structure that a card and its envelope come to.
fn structure(made: &FoldedCard, tools: &Tools) -> Structure {
    let (main, envelope) = made.bodies();
    Structure {
        settings: *made.settings(),
        tools: *tools,
        caliper: made.caliper,
        main,
        others: vec![envelope],
        nests: vec![Nest {
            inner: 0,
            outer: 1,
            faces: vec![Face::Left, Face::Right, Face::Bottom, Face::Top],
            play_mm: LEAST_PLAY_MM + made.card_thickness_mm(),
        }],
        inside: made.inside_for(0.0),
        outside: Inside {
            width: made.envelope.0 + made.t,
            length: made.envelope.1 + made.t,
            depth: 6.0 * made.t,
        },
        volume_mm3: 0.0,
        laden: Laden::default(),
    }
}

/// The least settings for something flat laid in the card; `None` where a ruler does not reach.
fn least(wanted: &Wanted<'_>) -> Option<Settings> {
    let (trimmer, score) = (&wanted.tools.trimmer, wanted.tools.score.as_ref()?);
    let [width, length, depth] = wanted.block_mm;
    let t = wanted.caliper.mm();
    if depth > THICKEST.mm() + SLACK_MM {
        return None;
    }
    let first = score.up((width + depth + t).max(LEAST_CARD_MM))?;
    let further = first + Length::nearest_multiple(LOOK_FURTHER_MM, score.step())?;
    let mut marks = score.marks_between(first, further);
    let card_score = marks.find(|mark| trimmer.has(*mark * 2))?;
    let card_length = trimmer.up((length + depth + t).max(LEAST_CARD_MM))?;

    // Paper goes round the card, what is in it and what is stuck on it.
    let more = IN_ENVELOPE.play_mm(&wanted.fit) + 3.0 * t + depth + wanted.fit.stuck_on.mm();
    let side = score.up(USUAL_SIDE_MM)?;
    let (long, short) = (card_score.max(card_length), card_score.min(card_length));
    let front = (long.mm() + more).max(2.0 * side.mm());
    let envelope_width = trimmer.up(front + 2.0 * side.mm())?;
    let [envelope_length, bottom, top] = least_length(wanted, short.mm() + more, side)?;
    let at = [
        card_score * 2,
        card_length,
        card_score,
        envelope_width,
        envelope_length,
        side,
        bottom,
        top,
    ];
    Some(Settings::of(FoldedCard::KIND, &at))
}

/// The shortest sheet for an envelope of at least this height, with its bottom and top score.
///
/// On a sheet of length E the flaps together are at least (E + overlap) / 2 and leave at most the
/// rest for the front; of all sums of two marks the least that reach is tried.
fn least_length(wanted: &Wanted<'_>, height: f64, side: Length) -> Option<[Length; 3]> {
    let (trimmer, score) = (&wanted.tools.trimmer, wanted.tools.score.as_ref()?);
    let first = trimmer.up(2.0 * height + OVERLAP_MM)?;
    let mut lengths = trimmer.marks_between(first, Length::MAX);
    lengths.find_map(|length| {
        let both = (length.mm() + OVERLAP_MM) / 2.0;
        let bottom = score.up((both / 2.0).max(side.mm() + 2.0))?;
        let top = score.up((both - bottom.mm()).max(LEAST_TOP_MM))?;
        let left = (length - bottom - top).mm();
        (left >= height - SLACK_MM / 2.0).then_some([length, bottom, top])
    })
}
