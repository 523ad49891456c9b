//! Mats on the front of a folded card: each in the middle of what lies below it.

use tablefold_geometry::{FoldedCard, Length, MatShape, Mats, MatsError, Ruler, Structure};

use super::draft::Draft;
use super::facts::{MatsSpec, PieceFacts, ToolKind};
use super::operation::{MeasureValue, Operation, Verb};
use super::part::PartKind;
use super::step_picture::StepPicture;
use super::tag;

use MeasureValue::Exact;

/// Thickness of a piece's mats, all of its own paper: colourways may take another.
#[must_use]
pub fn thickness(piece: &PieceFacts) -> Length {
    let layers = piece.spec.mats.as_ref().map_or(0, |mats| mats.roles.len());
    piece.paper.caliper * i64::try_from(layers.min(Mats::MOST_LAYERS)).unwrap_or(0)
}

/// A mat as it is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MadeMat {
    /// What it is called: "mat"; "first mat" where there are two.
    pub name: &'static str,
    /// What its paper is called in colourways.
    pub role: String,
    /// Its own shape.
    pub shape: MatShape,
    /// What it lies on: the front of the card, or another mat.
    pub below: MatShape,
}

impl MadeMat {
    /// How much of what it lies on shows left and right, and above and below.
    #[must_use]
    pub fn shows(&self) -> (Length, Length) {
        let ((below_width, below_height), (width, height)) = (self.below.size(), self.shape.size());
        ((below_width - width) / 2, (below_height - height) / 2)
    }
}

/// The mats on the front, the first on the card itself; none where none are asked for.
///
/// # Errors
/// A structure that is no card; a reveal that leaves too little.
pub(super) fn made(
    structure: &Structure,
    spec: Option<&MatsSpec>,
    trimmer: &Ruler,
) -> Result<Vec<MadeMat>, String> {
    let Some(spec) = spec else {
        return Ok(Vec::new());
    };
    let Some(card) = FoldedCard::of(structure) else {
        return Err(format!(
            "Mats lie on the front of a folded card, and the {} is none. Leave them out, or \
             choose the card.",
            structure.kind().name()
        ));
    };
    let count = spec.roles.len();
    let mats = card.mats(spec.reveal, count, trimmer);
    let mats = mats.map_err(|error| refusal(&error, trimmer))?;
    let front = [card.front_shape()];
    let all = mats.shapes().iter().zip(front.iter().chain(mats.shapes()));
    let named = all.zip(&spec.roles).enumerate();
    let made = named.map(|(index, ((shape, below), role))| MadeMat {
        name: name(index, count),
        role: role.clone(),
        shape: *shape,
        below: *below,
    });
    Ok(made.collect())
}

fn name(index: usize, count: usize) -> &'static str {
    match (count, index) {
        (1, _) => "mat",
        (_, 0) => "first mat",
        (_, 1) => "second mat",
        _ => "further mat",
    }
}

/// The refusal in the units of the trimmer.
fn refusal(error: &MatsError, trimmer: &Ruler) -> String {
    let MatsError::TooSmall {
        layers,
        reveal,
        side,
        least,
        most,
    } = error
    else {
        return error.to_string();
    };
    let text = |length: Length| trimmer.text_or_exact(length);
    let round = match layers {
        1 => String::new(),
        _ => format!(" round each of {layers} mats"),
    };
    let would_do = match most {
        Some(most) => format!("Type {} or less.", text(*most)),
        None => "Choose fewer mats, or none.".to_owned(),
    };
    format!(
        "A reveal of {}{round} leaves less than {} for the last mat on a front {} across. {would_do}",
        text(*reveal),
        text(*least),
        text(*side),
    )
}

/// The mats with their steps; they are stuck on after the step `folded`.
pub(super) fn write(draft: &mut Draft, mats: &[MadeMat], folded: &str) {
    let (mut before, mut on) = (folded.to_owned(), "front");
    for (index, mat) in mats.iter().enumerate() {
        let (width, height) = mat.shape.size();
        let part = format!("card-mat-{}", index + 1);
        let role = mat.role.clone();
        let kind = PartKind::Cut {
            role,
            width,
            height,
        };
        draft.part(&part, mat.name, kind, 1);
        let cut = format!("{part}-cut");
        tag::cut(draft, (&part, mat.name), &cut, (width, height));
        let key = format!("{part}-stick");
        let step = stick(&key, mat, on).drawn(StepPicture::Mat { index });
        draft.step(&part, &[&cut, &before], step);
        (before, on) = (key, mat.name);
    }
}

/// One mat goes on.
fn stick(key: &str, mat: &MadeMat, on: &str) -> Operation {
    let (name, (sides, ends)) = (mat.name, mat.shows());
    let shows = if sides == ends {
        "{reveal} shows all round"
    } else {
        "{reveal} shows left and right, {ends} above and below"
    };
    let text = format!(
        "Lay the card shut, its fold on the left. Put tape along the 4 edges of the back of the \
         {name}. Set it in the middle of the {on}: {shows}. Press."
    );
    let title = format!("Stick the {name} on");
    let step = Operation::new(Verb::Layer, key.to_owned(), &title, &text)
        .with(ToolKind::Tape)
        .measuring("reveal", Exact(sides));
    let step = match sides == ends {
        true => step,
        false => step.measuring("ends", Exact(ends)),
    };
    let (width, height) = mat.shape.size();
    step.headed("reveal")
        .taking(60)
        .tip("Line it up before it touches, then press from the middle out.")
        .sticking(2.0 * (width.mm() + height.mm()))
}
