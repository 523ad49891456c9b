//! What goes with a piece: band, ribbon and bought things.

use tablefold_geometry::{Adhesive, Band, Length, Ribbon, Ruler, Unit, Work};

use super::caution::Caution;
use super::draft::Draft;
use super::facts::{BandSpec, PieceFacts, RibbonSpec, RibbonStyle, ToolKind};
use super::made::MadePiece;
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::{BodyNow, StepPicture};

use MeasureValue::{Derived, Exact};

/// Tape that narrow joints take: 6 mm (common practice, no source).
pub(super) const TAPE: Adhesive = Adhesive::Tape {
    width: Length::from_mm(6),
};

/// A line so narrow that every joint takes it.
pub(super) const LINE: Adhesive = Adhesive::Tape {
    width: Length::from_nm(1),
};

/// Bought things: the contents and the extras.
pub(super) fn bought(draft: &mut Draft, piece: &PieceFacts) {
    let name = |id: i64| {
        piece
            .supplies
            .iter()
            .find(|s| s.id == id)
            .map_or("", |s| s.name.as_str())
    };
    if let Some(supply) = piece.spec.contents_supply {
        let kind = PartKind::Counted {
            supply,
            name: name(supply).to_owned(),
        };
        draft.part("contents", &piece.spec.contents_name, kind, 1);
    }
    for (n, extra) in piece.spec.extras.iter().enumerate() {
        let kind = PartKind::Counted {
            supply: extra.supply,
            name: name(extra.supply).to_owned(),
        };
        draft.part(
            &format!("extra-{}", n + 1),
            name(extra.supply),
            kind,
            extra.count,
        );
    }
}

/// The band and its steps.
pub(super) fn band(draft: &mut Draft, spec: &BandSpec, band: &Band) {
    let (length, width) = (band.strip_length(), band.strip_width());
    draft.part(
        "band",
        "band",
        PartKind::Cut {
            role: spec.role.clone(),
            width,
            height: length,
        },
        1,
    );
    let cut = Operation::new(
        Verb::CutToSize,
        "band-cut".into(),
        "Cut the band",
        "Cut a strip {width} wide and {length} long.",
    );
    draft.step(
        "band",
        &[],
        cut.with(ToolKind::Trimmer)
            .in_prep()
            .set_at(&[length, width])
            .measuring("width", Exact(width))
            .measuring("length", Exact(length))
            .headed("width")
            .taking(30)
            .drawn(StepPicture::Cut {
                width,
                height: length,
            }),
    );
    band_score(draft, band);
    if let Some(notch) = spec.notch {
        band_notch(draft, notch);
    }
    band_wrap(draft, band);
}

fn band_notch(draft: &mut Draft, notch: Length) {
    let step = Operation::new(
        Verb::Notch,
        "band-notch".into(),
        "Punch a finger notch",
        "Slide the punch half over one long edge of the band, in its middle, and punch: half of a circle of {across}.",
    );
    draft.step(
        "band",
        &["band-score"],
        step.with(ToolKind::HolePunch)
            .set_at(&[notch])
            .measuring("across", Exact(notch))
            .headed("across")
            .taking(20)
            .tip("Turn the punch over: you see through it where the edge lies.")
            .drawn(StepPicture::BandNotch),
    );
}

fn band_wrap(draft: &mut Draft, band: &Band) {
    let step = Operation::new(
        Verb::Wrap,
        "band-wrap".into(),
        "Put the band round",
        "Wrap the strip round the closed piece, seam at the back. Tape one end on the other, {overlap} over it, so that the band still slides.",
    );
    draft.step(
        "band",
        &["close", "band-score", "band-notch"],
        step.with(ToolKind::Tape)
            .measuring("overlap", Derived(band.overlap_mm()))
            .measuring("reveal", Derived(band.reveal_mm()))
            .headed("overlap")
            .taking(75)
            .tip("Leave {reveal} of the piece showing at both ends.")
            // One line of tape across the seam.
            .sticking(band.strip_width().mm())
            .drawn(StepPicture::BandWrap),
    );
}

fn band_score(draft: &mut Draft, band: &Band) {
    let mut marks: Vec<Length> = band.creases().iter().map(|crease| crease.mark).collect();
    marks.sort_unstable();
    marks.dedup();
    let step = Operation::new(
        Verb::ScoreAt,
        "band-score".into(),
        "Score the band 4 times",
        "Score at {first} and at {second} from one end. Turn the strip end for end and score at the same 2 marks.",
    );
    let first = marks.first().copied().unwrap_or_default();
    let second = marks.last().copied().unwrap_or_default();
    draft.step(
        "band",
        &["band-cut"],
        step.with(ToolKind::ScoreBoard)
            .set_at(&marks)
            .measuring("first", Exact(first))
            .measuring("second", Exact(second))
            .headed("first")
            .taking(60)
            .drawn(StepPicture::BandScore),
    );
}

/// The ribbon and its steps.
pub(super) fn ribbon(
    draft: &mut Draft,
    spec: &RibbonSpec,
    ribbon: &Ribbon,
    made: &MadePiece,
    (name, ruler): (&str, &Ruler),
) {
    let tag = draft.key("tag");
    let has_tag = draft.parts.iter().any(|part| part.key == tag);
    let length = ribbon.cut_length(ribbon_step(ruler));
    let kind = PartKind::Ribbon {
        supply: spec.supply,
        name: name.to_owned(),
        length,
    };
    draft.part("ribbon", "ribbon", kind, 1);
    let step = Operation::new(
        Verb::CutToSize,
        "ribbon-cut".into(),
        "Cut the ribbon",
        "Cut {length} of ribbon, the ends slanted.",
    );
    draft.step(
        "ribbon",
        &[],
        Operation {
            verb: Verb::CutTo,
            ..step
        }
        .with(ToolKind::Scissors)
        .in_prep()
        .set_at(&[length])
        .measuring("length", Exact(length))
        .headed("length")
        .taking(15)
        .drawn(StepPicture::RibbonCut { length }),
    );
    let (text, picture) = match tied_through(made) {
        Some((body, through)) => {
            let now = BodyNow::Together;
            let text = format!("Lead the ribbon through {through} and tie a bow.");
            (text, StepPicture::Body { body, now })
        }
        None => (tied(spec.style, has_tag).to_owned(), StepPicture::Tie),
    };
    let after: &[&str] = if made.band.is_some() {
        &["ribbon-cut", "close", "band-wrap"]
    } else {
        &["ribbon-cut", "close"]
    };
    let step = Operation::new(Verb::Tie, "tie".into(), "Tie the bow", &text);
    draft.step(
        "ribbon",
        after,
        step.measuring("length", Exact(length))
            .taking(90)
            .warned(Some(Caution::Cord))
            .drawn(picture),
    );
}

/// The body that is shut with a ribbon through holes of its own, and which those are.
fn tied_through(made: &MadePiece) -> Option<(usize, &'static str)> {
    let mut bodies = made.structure.bodies().enumerate();
    bodies.find_map(|(at, body)| {
        body.work.iter().find_map(|work| match work {
            Work::Tie { through } => Some((at, *through)),
            _ => None,
        })
    })
}

/// How a ribbon goes round a piece, or on it.
fn tied(style: RibbonStyle, has_tag: bool) -> &'static str {
    match style {
        RibbonStyle::Bow if has_tag => {
            "Tie the ribbon into a small bow and stick it on the front, just above the tag."
        }
        RibbonStyle::Bow => "Tie the ribbon into a small bow and stick it on the front.",
        RibbonStyle::Wrap => "Lead the ribbon once round and tie a bow on the front.",
        RibbonStyle::Cross => {
            "Lead the ribbon round one way, cross it underneath, lead it round the other way and tie a bow on top."
        }
    }
}

/// Ribbons are cut to whole quarter inches or half centimetres: nobody measures a ribbon finer.
fn ribbon_step(ruler: &Ruler) -> Length {
    if ruler.unit() == Unit::Inch {
        Length::from_nm(6_350_000)
    } else {
        Length::from_mm(5)
    }
}
