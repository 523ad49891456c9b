//! How bodies go into each other: the play of a lid, a drawer, a card, how deep a lid is,
//! and whether it has a window.

use serde::{Deserialize, Serialize};
use tablefold_geometry::{Fit, FitLimits, Length, LidDepth, Opening, Ruler, StructureKind, Unit};

use crate::forms::{FormErrors, length_text, quoted_part};

/// What was typed; a structure of one body reads none of it.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct FitFields {
    pub(super) play: String,
    pub(super) lid: String,
    /// How wide a window is.
    pub(super) window: String,
    /// How long a slot for a hand is.
    pub(super) slot: String,
}

/// The field of an opening, and what was typed into it.
pub(super) struct OpeningField<'f> {
    pub(super) it: &'static Opening,
    pub(super) typed: &'f str,
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
        let typed =
            |length: Option<Length>| length.map_or_else(String::new, |it| length_text(ruler, it));
        Self {
            play: typed(fit.play),
            lid: fit.lid.slug().to_owned(),
            window: typed(fit.window),
            slot: typed(fit.slot),
        }
    }

    /// The opening that a structure can have.
    pub(super) fn opening(&self, kind: StructureKind) -> Option<OpeningField<'_>> {
        let it = kind.opening()?;
        let (_, typed) = self
            .openings()
            .into_iter()
            .find(|of| of.0 == it.field.key)?;
        Some(OpeningField { it, typed })
    }

    /// What is typed for openings that the structure never has: it is kept for one that has them.
    pub(super) fn other_openings(&self, kind: Option<StructureKind>) -> Vec<(&'static str, &str)> {
        let offered = kind.and_then(StructureKind::opening);
        let offered = offered.map(|it| it.field.key);
        let all = self.openings().into_iter();
        all.filter(|(key, _)| Some(*key) != offered).collect()
    }

    fn openings(&self) -> [(&'static str, &str); 2] {
        [("window", &self.window), ("slot", &self.slot)]
    }

    /// How large the opening is to be; what is typed for one that the structure never has is kept
    /// and not read.
    pub(super) fn read_opening(
        &self,
        kind: StructureKind,
        ruler: &Ruler,
        errors: &mut FormErrors,
    ) -> Option<Option<Length>> {
        let Some(OpeningField { it, typed }) = self.opening(kind) else {
            return Some(None);
        };
        errors.optional_size(it.field.key, it.label, typed, ruler.unit())
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
        let opening = self.read_opening(kind, ruler, errors);
        let Some(limits) = kind.fit() else {
            return Some(Fit::default().with_opening(kind, opening?));
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
        let fit = Fit {
            play: play?,
            lid: lid?,
            ..Fit::default()
        };
        Some(fit.with_opening(kind, opening?))
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
