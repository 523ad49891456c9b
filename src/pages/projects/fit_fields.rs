//! How bodies go into each other: the play of a lid, a drawer, a card, and how deep a lid is.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Fit, FitLimits, Length, LidDepth, Ruler, StructureKind, Unit};

use crate::forms::{FormErrors, length_text, quoted_part};

/// What was typed; a structure of one body reads none of it.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct FitFields {
    pub(super) play: String,
    pub(super) lid: String,
}

/// How the fields of a structure are called, and between what.
pub(super) struct FitWords {
    pub(super) label: String,
    pub(super) hint: String,
    pub(super) has_lid: bool,
}

impl FitWords {
    pub(super) fn of(kind: StructureKind, ruler: &Ruler) -> Option<Self> {
        let limits = kind.fit()?;
        let [least, most] = ends(&limits, ruler);
        Some(Self {
            label: label(&limits),
            hint: format!(
                "From wall to wall, {least} to {most}; empty for the least. More for beginners"
            ),
            has_lid: limits.has_lid,
        })
    }
}

fn label(limits: &FitLimits) -> String {
    format!("Play of {}", limits.what)
}

/// The least and the most that can be typed, in the unit of the ruler.
fn ends(limits: &FitLimits, ruler: &Ruler) -> [String; 2] {
    let fine = fine(ruler);
    let text = |length: Option<Length>| fine.text(length.unwrap_or_default());
    [
        text(fine.up(limits.least_mm)),
        text(fine.down(limits.most_mm)),
    ]
}

/// A ruler fine enough for play: 64ths of an inch, or tenths of a millimetre.
pub(super) fn fine(ruler: &Ruler) -> Ruler {
    if ruler.unit() == Unit::Inch {
        return Ruler::inch(64);
    }
    let tenth = Length::from_nm(100_000);
    Ruler::new(Unit::Millimetre, tenth, Length::ZERO, Length::MAX).unwrap_or(*ruler)
}

impl FitFields {
    /// The fields of a stored piece.
    pub(super) fn of(fit: Fit, ruler: &Ruler) -> Self {
        Self {
            play: fit
                .play
                .map_or_else(String::new, |it| length_text(ruler, it)),
            lid: fit.lid.slug().to_owned(),
        }
    }

    /// The depths of a lid with their words.
    pub(super) fn lids() -> [(&'static str, &'static str); 3] {
        LidDepth::ALL.map(|depth| (depth.slug(), depth.label()))
    }

    /// The fit that was typed for a structure.
    pub(super) fn read(
        &self,
        kind: StructureKind,
        ruler: &Ruler,
        errors: &mut FormErrors,
    ) -> Option<Fit> {
        let Some(limits) = kind.fit() else {
            return Some(Fit::default());
        };
        let label = label(&limits);
        let play = errors.optional_size("play", &label, &self.play, ruler.unit());
        let play = play.and_then(|play| match play {
            Some(play) if !within(&limits, play) => {
                let [least, most] = ends(&limits, ruler);
                errors.add(
                    "play",
                    format!(
                        "{label}: \"{}\" is no play that works. Type {least} to {most}, or leave it empty for the least.",
                        quoted_part(&self.play)
                    ),
                );
                None
            }
            play => Some(play),
        });
        let lid = match self.lid.as_str() {
            "" => Some(LidDepth::default()),
            typed if limits.has_lid => {
                let offered = LidDepth::ALL.map(|depth| (depth.slug(), depth));
                errors.choice("lid", "Depth of the lid", typed, &offered)
            }
            _ => Some(LidDepth::default()),
        };
        Some(Fit {
            play: play?,
            lid: lid?,
            ..Fit::default()
        })
    }

    /// Leaves out play that the structure does not allow; says whether there was some.
    pub(super) fn leave_out_play(&mut self, kind: StructureKind, ruler: &Ruler) -> bool {
        let read = Length::read(&self.play, ruler.unit()).ok();
        let fits = |limits: FitLimits| read.is_none_or(|play| within(&limits, play));
        let goes = kind.fit().is_some_and(|limits| !fits(limits));
        if goes {
            self.play.clear();
        }
        goes
    }
}

fn within(limits: &FitLimits, play: Length) -> bool {
    // A hair of rounding between what is printed and what is meant.
    play.mm() >= limits.least_mm - 1e-6 && play.mm() <= limits.most_mm + 1e-6
}
