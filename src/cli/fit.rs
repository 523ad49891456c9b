//! What `size` and `pattern` read of how bodies go into each other: play, the depth of
//! a lid, a window, a slot for a hand.

use tablefold_geometry::{Fit, FitLimits, Length, LidDepth, Quoted, StructureKind};

use super::CommandError;
use super::json::{Object, quote, wrong};
use super::request::words;

/// The fit that is asked for; what the structure cannot have is refused.
pub(super) fn read_fit(
    request: &Object<'_>,
    structure: Option<StructureKind>,
) -> Result<Fit, CommandError> {
    let all = StructureKind::all();
    let asked = structure.as_ref().map_or(all, std::slice::from_ref);
    let limits: Vec<FitLimits> = asked.iter().filter_map(|kind| kind.fit()).collect();
    let mut fit = Fit::default();
    if let Some(value) = request.get("play") {
        let play = request.length("play")?;
        if !limits.iter().any(|limits| within(limits, play)) {
            let sentence = format!("{} {}", quote(value), no_play(&limits, structure));
            return Err(wrong("play", sentence));
        }
        fit.play = Some(play);
    }
    if request.get("lid").is_some() {
        fit.lid = read_lid(request)?;
        if let Some(kind) = structure.filter(|_| !limits.iter().any(|limits| limits.has_lid)) {
            let sentence = format!("the {} has no lid. Leave it out.", kind.name());
            return Err(wrong("lid", sentence));
        }
    }
    fit.window = read_opening(request, "window", structure)?;
    fit.slot = read_opening(request, "slot", structure)?;
    Ok(fit)
}

/// An opening; what never has one is refused.
fn read_opening(
    request: &Object<'_>,
    key: &'static str,
    structure: Option<StructureKind>,
) -> Result<Option<Length>, CommandError> {
    let Some(value) = request.get(key) else {
        return Ok(None);
    };
    let size = request.length(key)?;
    if size <= Length::ZERO {
        let sentence = format!(
            "{} is no {key}. Give a length above 0, or null for none.",
            quote(value)
        );
        return Err(wrong(key, sentence));
    }
    let is_own = |kind: &StructureKind| kind.opening().is_some_and(|it| it.field.key == key);
    match structure.filter(|kind| !is_own(kind)) {
        Some(kind) => {
            let sentence = format!("the {} has no {key}. Leave it out.", kind.name());
            Err(wrong(key, sentence))
        }
        None => Ok(Some(size)),
    }
}

fn read_lid(request: &Object<'_>) -> Result<LidDepth, CommandError> {
    let named = request.text("lid", "shallow")?;
    let found = LidDepth::ALL.into_iter().find(|lid| lid.slug() == named);
    found.ok_or_else(|| {
        let sentence = format!(
            "{} is no depth of a lid. Give {}.",
            Quoted::new(named),
            words(&LidDepth::ALL.map(LidDepth::slug))
        );
        wrong("lid", sentence)
    })
}

fn within(limits: &FitLimits, play: Length) -> bool {
    (limits.least_mm..=limits.most_mm).contains(&play.mm())
}

/// What stands behind the value in an error.
fn no_play(limits: &[FitLimits], structure: Option<StructureKind>) -> String {
    let ends = limits.iter().map(|it| (it.least_mm, it.most_mm));
    let ends = ends.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)));
    match (ends, structure) {
        (Some((least, most)), _) => {
            format!("is no play that works. Give {least} mm to {most} mm, or null for the least.")
        }
        (None, Some(kind)) => format!(
            "is play, and the {} is one body. Leave it out.",
            kind.name()
        ),
        (None, None) => "is play, and no structure has several bodies. Leave it out.".to_owned(),
    }
}
