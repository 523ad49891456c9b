//! The tag: one or two layers, cut, punched if they are round, glued and stuck on.

use tablefold_geometry::{BoxOutside, Length, Punch, PunchedShape, Ruler};

use super::draft::Draft;
use super::facts::{TagShape, TagSpec, ToolKind};
use super::made::RecipeProblem;
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::StepPicture;

use MeasureValue::Exact;

/// Paper left round a punched shape, so that the punch bites all round: 1/8 in (common
/// practice, no source).
const PUNCH_MARGIN: Length = Length::from_nm(3_175_000);

/// The tag, its mat and their steps.
///
/// # Errors
/// A shape or a reveal that can't be.
pub(super) fn write(
    draft: &mut Draft,
    spec: &TagSpec,
    (piece, trimmer, front): (&str, &Ruler, BoxOutside),
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
        let problem = |message| RecipeProblem {
            piece: piece.to_owned(),
            field: "tag",
            message,
        };
        fits(*shape, label, front, trimmer).map_err(problem)?;
        let size = blank(*shape, trimmer).map_err(problem)?;
        let made = layer(draft, index, (part, label), (*shape, size), role);
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

/// A tag lies on the front and does not stick out.
fn fits(shape: TagShape, label: &str, front: BoxOutside, ruler: &Ruler) -> Result<(), String> {
    let (width, height) = match shape {
        TagShape::Circle { diameter } => (diameter, diameter),
        TagShape::Rectangle { width, height } => (width, height),
    };
    if width.mm() <= front.width_mm && height.mm() <= front.length_mm {
        return Ok(());
    }
    Err(format!(
        "The {label} is {} by {}, and the front that it goes on is only {} by {}. Make it smaller.",
        ruler.text(width),
        ruler.text(height),
        ruler.text_mm(front.width_mm),
        ruler.text_mm(front.length_mm),
    ))
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
    cut(draft, (part, label), cut_key, (width, height));
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

/// The step that cuts a flat piece.
pub(super) fn cut(
    draft: &mut Draft,
    (part, label): (&str, &str),
    key: &str,
    (width, height): (Length, Length),
) {
    let step = Operation::new(
        Verb::CutToSize,
        key.into(),
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
}

/// What a layer is cut to: a punched shape with a margin, up to the trimmer's next mark; a
/// rectangle as it was asked for.
///
/// # Errors
/// A side that is not above 0 and at most 10 m.
pub(super) fn blank(shape: TagShape, trimmer: &Ruler) -> Result<(Length, Length), String> {
    let punched = |punch| PunchedShape::new(punch).map_err(|error| error.to_string());
    match shape {
        TagShape::Circle { diameter } => {
            let (width, height) = punched(Punch::Circle { diameter })?
                .blank(PUNCH_MARGIN)
                .map_err(|error| error.to_string())?;
            let up = |side: Length| trimmer.up(side.mm()).unwrap_or(side);
            Ok((up(width), up(height)))
        }
        TagShape::Rectangle { width, height } => {
            for side in [width, height] {
                punched(Punch::Square { side })?;
            }
            Ok((width, height))
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_punched_blank_ends_at_a_mark_of_the_trimmer() {
        let blank = |diameter, ruler: &Ruler| {
            super::blank(TagShape::Circle { diameter }, ruler).map(|(width, _)| width)
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
