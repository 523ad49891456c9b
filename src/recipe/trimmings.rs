//! What goes with a piece: band, tag, ribbon and bought things.

use tablefold_geometry::{Adhesive, Band, Length, Punch, PunchedShape, Ribbon, Ruler};

use super::caution::Caution;
use super::draft::Draft;
use super::facts::{BandSpec, PieceFacts, RibbonSpec, RibbonStyle, TagShape, TagSpec, ToolKind};
use super::made::{MadePiece, RecipeProblem};
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::StepPicture;

use MeasureValue::{Derived, Exact};

/// Paper left round a punched shape, so that the punch bites all round: 1/8 in (common
/// practice, no source).
pub(super) const PUNCH_MARGIN: Length = Length::from_nm(3_175_000);
/// Tape that narrow joints take: 6 mm (common practice, no source).
pub(super) const TAPE: Adhesive = Adhesive::Tape {
    width: Length::from_mm(6),
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
        let step = Operation::new(
            Verb::Notch,
            "band-notch".into(),
            "Punch a finger notch",
            "Slide the punch half over the edge at the middle of the front and punch: half of a circle of {across}.",
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
    let step = Operation::new(
        Verb::Wrap,
        "band-wrap".into(),
        "Put the band round",
        "Wrap the strip round the closed piece, seam at the back. Tape one end on the other so that the band still slides.",
    );
    draft.step(
        "band",
        &["close", "band-score", "band-notch"],
        step.with(ToolKind::Tape)
            .measuring("overlap", Derived(band.overlap_mm()))
            .measuring("reveal", Derived(band.reveal_mm()))
            .headed("reveal")
            .taking(75)
            .tip("Leave {reveal} of the piece showing at both ends.")
            // One line of tape across the seam.
            .sticking(width.mm())
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

/// The tag, its mat and their steps.
///
/// # Errors
/// A shape or a reveal that can't be.
pub(super) fn tag(
    draft: &mut Draft,
    spec: &TagSpec,
    piece: &str,
    trimmer: &Ruler,
) -> Result<(), RecipeProblem> {
    let mut layers = vec![("tag", "tag", spec.shape, spec.role.clone())];
    if let Some(mat) = &spec.mat {
        layers.push((
            "tag-mat",
            "tag mat",
            spec.shape.grown(mat.reveal * 2),
            mat.role.clone(),
        ));
    }
    let mut before: Vec<&str> = Vec::new();
    for (index, (part, label, shape, role)) in layers.iter().enumerate() {
        let blank = tag_blank(*shape, trimmer).map_err(|message| RecipeProblem {
            piece: piece.to_owned(),
            field: "tag",
            message,
        })?;
        let made = layer(draft, index, (part, label), (*shape, blank), role);
        before.push(made);
    }
    if let Some(mat) = &spec.mat {
        let step = Operation::new(
            Verb::Layer,
            "tag-layer".into(),
            "Glue the tag on its mat",
            "Put a dot of glue on the back of the small one and set it in the middle of the large one: {reveal} shows all round.",
        );
        draft.step(
            "tag",
            &before,
            step.with(ToolKind::Glue)
                .measuring("reveal", Exact(mat.reveal))
                .headed("reveal")
                .taking(45)
                .drawn(StepPicture::Layers),
        );
        before = vec!["tag-layer"];
    }
    before.extend(["close", "band-wrap"]);
    let step = Operation::new(
        Verb::Attach,
        "tag-attach".into(),
        "Stick the tag on",
        "Stick the tag on the middle of the front.",
    );
    draft.step(
        "tag",
        &before,
        step.with(ToolKind::Glue)
            .taking(30)
            .drawn(StepPicture::AttachTag),
    );
    Ok(())
}

/// What a layer is cut to on the trimmer. Of a shape that is punched the margin may be a little
/// larger: the blank ends at a mark of the ruler, where the ruler reaches that far.
///
/// # Errors
/// A shape that can't be punched.
pub(super) fn tag_blank(shape: TagShape, trimmer: &Ruler) -> Result<(Length, Length), String> {
    let diameter = match shape {
        TagShape::Circle { diameter } => diameter,
        TagShape::Rectangle { width, height } => return Ok((width, height)),
    };
    let blank = PunchedShape::new(Punch::Circle { diameter })
        .and_then(|shape| shape.blank(PUNCH_MARGIN))
        .map_err(|error| error.to_string())?;
    let mark = |side: Length| trimmer.up(side.mm()).unwrap_or(side);
    Ok((mark(blank.0), mark(blank.1)))
}

/// One layer: its part and the step that makes it, by name.
fn layer(
    draft: &mut Draft,
    index: usize,
    (part, label): (&'static str, &str),
    (shape, (width, height)): (TagShape, (Length, Length)),
    role: &str,
) -> &'static str {
    let (key, cut_key) = if index == 0 {
        ("tag-stamp", "tag-cut")
    } else {
        ("mat-stamp", "mat-cut")
    };
    draft.part(
        part,
        label,
        PartKind::Cut {
            role: role.to_owned(),
            width,
            height,
        },
        1,
    );
    let step = Operation::new(
        Verb::CutToSize,
        cut_key.into(),
        &format!("Cut the {label}"),
        "Cut a piece {width} wide and {height} high.",
    );
    draft.step(
        part,
        &[],
        step.with(ToolKind::Trimmer)
            .in_prep()
            .set_at(&[width, height])
            .measuring("width", Exact(width))
            .measuring("height", Exact(height))
            .headed("width")
            .taking(25)
            .drawn(StepPicture::Cut { width, height }),
    );
    let TagShape::Circle { diameter } = shape else {
        return cut_key;
    };
    let step = Operation::new(
        Verb::Stamp,
        key.into(),
        &format!("Punch the {label}"),
        "Punch a circle of {across} from the middle of the piece.",
    );
    draft.step(
        part,
        &[cut_key],
        step.with(ToolKind::ShapePunch)
            .in_prep()
            .set_at(&[diameter])
            .measuring("across", Exact(diameter))
            .headed("across")
            .taking(15)
            .drawn(StepPicture::Stamp { layer: index }),
    );
    key
}

impl TagShape {
    /// The same shape, larger by `by` in every direction across.
    #[must_use]
    pub fn grown(self, by: Length) -> Self {
        match self {
            Self::Circle { diameter } => Self::Circle {
                diameter: diameter + by,
            },
            Self::Rectangle { width, height } => Self::Rectangle {
                width: width + by,
                height: height + by,
            },
        }
    }
}

/// The ribbon and its steps.
pub(super) fn ribbon(
    draft: &mut Draft,
    spec: &RibbonSpec,
    ribbon: &Ribbon,
    made: &MadePiece,
    name: &str,
) {
    let length = ribbon.cut_length(spec.bow_step());
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
    let text = match spec.style {
        RibbonStyle::Bow => "Tie the ribbon into a small bow and stick it on the front.",
        RibbonStyle::Wrap => "Lead the ribbon once round and tie a bow on the front.",
        RibbonStyle::Cross => {
            "Lead the ribbon round one way, cross it underneath, lead it round the other way and tie a bow on top."
        }
    };
    let after: &[&str] = if made.band.is_some() {
        &["ribbon-cut", "close", "band-wrap"]
    } else {
        &["ribbon-cut", "close"]
    };
    let step = Operation::new(Verb::Tie, "tie".into(), "Tie the bow", text);
    draft.step(
        "ribbon",
        after,
        step.measuring("length", Exact(length))
            .taking(90)
            .warned(Some(Caution::Cord))
            .drawn(StepPicture::Tie),
    );
}

impl RibbonSpec {
    /// Ribbons are cut to whole quarter inches or half centimetres, after what the bow was
    /// given in: nobody measures a ribbon finer.
    fn bow_step(&self) -> Length {
        let quarter_inch = Length::from_nm(6_350_000);
        if self.bow.nm() % quarter_inch.nm() == 0 {
            quarter_inch
        } else {
            Length::from_mm(5)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_punched_blank_ends_at_a_mark_of_the_trimmer() {
        let blank = |diameter, ruler: &Ruler| {
            tag_blank(TagShape::Circle { diameter }, ruler).map(|(width, _)| width)
        };
        let sixteenths = Ruler::inch(16);
        // 25 mm and 1/8 in on both sides are 31.35 mm: 1 1/4 in is the next sixteenth, 32 the
        // next millimetre.
        assert_eq!(
            blank(Length::from_mm(25), &sixteenths),
            Ok(Length::from_nm(31_750_000))
        );
        let inch = Length::inches(1);
        assert_eq!(
            blank(inch, &Ruler::millimetre()),
            Ok(Length::from_mm(32)),
            "31.75 mm is no mark"
        );
        assert_eq!(blank(inch, &sixteenths), Ok(Length::from_nm(31_750_000)));
        // Past the ruler's end there is no mark to round up to.
        let wide = Length::from_mm(303);
        assert_eq!(blank(wide, &sixteenths), Ok(wide + PUNCH_MARGIN * 2));
    }
}
