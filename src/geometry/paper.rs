//! Stock papers: what a sheet measures, weighs, and which way it may be turned.
//!
//! Width and height are those of the sheet as it lies in front of you; grain and pattern refer
//! to them.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::{Length, caliper_estimate, sheet_mass_g};

/// Which way the fibres run. Paper folds cleanly along the grain and cracks across it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Grain {
    /// Nobody has looked.
    #[default]
    Unknown,
    /// Along the width of the sheet.
    AlongWidth,
    /// Along the height of the sheet.
    AlongHeight,
}

/// Whether the printed pattern has an up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PatternDirection {
    /// Plain, or a pattern that looks the same from every side.
    #[default]
    None,
    /// The pattern stands upright along the height of the sheet.
    OneWay,
}

/// Whether the two faces of the sheet look alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Faces {
    /// Either face may be outside.
    #[default]
    SameBothSides,
    /// One face is printed or coated; the other shows where the paper is folded over.
    OneSided,
}

/// A stock paper as it is bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Paper {
    /// What the instructor calls it.
    pub name: String,
    /// Width of the sheet.
    pub width: Length,
    /// Height of the sheet.
    pub height: Length,
    /// Grammage in g/m², if known.
    #[serde(default)]
    pub gsm: Option<f64>,
    /// Thickness of one sheet.
    pub caliper: Length,
    /// Which way the fibres run.
    #[serde(default)]
    pub grain: Grain,
    /// Whether the pattern has an up.
    #[serde(default)]
    pub direction: PatternDirection,
    /// Whether the faces look alike.
    #[serde(default)]
    pub faces: Faces,
}

/// What is wrong with one field of a [`Paper`].
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PaperError {
    /// The name is empty.
    #[error("The paper has no name. Give it one that people can ask for.")]
    NoName,
    /// The name is longer than [`Paper::LONGEST_NAME`] characters.
    #[error(
        "The name has {characters} characters. Use at most {}.",
        Paper::LONGEST_NAME
    )]
    LongName {
        /// Characters given.
        characters: usize,
    },
    /// A side is zero, negative or longer than [`Length::MAX`].
    #[error("The {field} is {}. Give more than 0 and at most 10 m.", side.exact_text())]
    Side {
        /// `width` or `height`.
        field: &'static str,
        /// The length given.
        side: Length,
    },
    /// The caliper is outside [`Paper::THINNEST`]..=[`Paper::THICKEST`].
    #[error("The caliper is {}. Give the thickness of one sheet, 0.01 to 5 mm.", caliper.exact_text())]
    Caliper {
        /// The length given.
        caliper: Length,
    },
    /// The grammage is outside 5..=4000 g/m².
    #[error("The weight is {gsm} g/m². Give 5 to 4000 g/m², or leave it empty.")]
    Gsm {
        /// The grammage given.
        gsm: f64,
    },
}

impl PaperError {
    /// The field to mark.
    #[must_use]
    pub const fn field(&self) -> &'static str {
        match self {
            Self::NoName | Self::LongName { .. } => "name",
            Self::Side { field, .. } => field,
            Self::Caliper { .. } => "caliper",
            Self::Gsm { .. } => "gsm",
        }
    }
}

impl Paper {
    /// Most characters a name may have: it must fit a label.
    pub const LONGEST_NAME: usize = 80;
    /// The thinnest caliper: tissue is about 0.03 mm.
    pub const THINNEST: Length = Length::from_nm(10_000);
    /// The thickest caliper: beyond it a fold is no longer a crease.
    pub const THICKEST: Length = Length::from_mm(5);

    /// Everything that is wrong with this paper, one entry a field; empty if it can be used.
    #[must_use]
    pub fn problems(&self) -> Vec<PaperError> {
        let mut problems = Vec::new();
        let characters = self.name.chars().count();
        if self.name.trim().is_empty() {
            problems.push(PaperError::NoName);
        } else if characters > Self::LONGEST_NAME {
            problems.push(PaperError::LongName { characters });
        }
        for (field, side) in [("width", self.width), ("height", self.height)] {
            if side <= Length::ZERO || side > Length::MAX {
                problems.push(PaperError::Side { field, side });
            }
        }
        if self.caliper < Self::THINNEST || self.caliper > Self::THICKEST {
            problems.push(PaperError::Caliper {
                caliper: self.caliper,
            });
        }
        if let Some(gsm) = self.gsm
            && !(5.0..=4000.0).contains(&gsm)
        {
            problems.push(PaperError::Gsm { gsm });
        }
        problems
    }

    /// Whether a part may be cut from it either way round: no pattern with an up, no known grain.
    #[must_use]
    pub fn turnable(&self) -> bool {
        self.direction == PatternDirection::None && self.grain == Grain::Unknown
    }

    /// Mass of one sheet in grams, if the grammage is known.
    #[must_use]
    pub fn sheet_mass_g(&self) -> Option<f64> {
        self.gsm
            .map(|gsm| sheet_mass_g(self.width, self.height, gsm))
    }

    /// The **estimated** caliper for its grammage, to offer where nobody has measured.
    #[must_use]
    pub fn estimated_caliper(&self) -> Option<Length> {
        self.gsm.map(caliper_estimate)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seed_packet_paper() -> Paper {
        Paper {
            name: "Sage kraft".into(),
            width: Length::from_mm(210),
            height: Length::from_mm(297),
            gsm: Some(200.0),
            caliper: Length::from_nm(230_000),
            grain: Grain::Unknown,
            direction: PatternDirection::None,
            faces: Faces::SameBothSides,
        }
    }

    #[test]
    fn a_pattern_with_an_up_or_a_known_grain_forbids_turning() {
        assert!(seed_packet_paper().turnable());
        let striped = Paper {
            direction: PatternDirection::OneWay,
            ..seed_packet_paper()
        };
        assert!(!striped.turnable());
        for grain in [Grain::AlongWidth, Grain::AlongHeight] {
            let grained = Paper {
                grain,
                ..seed_packet_paper()
            };
            assert!(!grained.turnable(), "{grain:?}");
        }
    }

    #[test]
    fn a_good_paper_has_no_problems() {
        assert_eq!(seed_packet_paper().problems(), []);
    }

    #[test]
    fn every_bad_field_is_named_at_once() {
        let paper = Paper {
            name: " ".into(),
            width: Length::ZERO,
            height: Length::MAX + Length::from_nm(1),
            gsm: Some(f64::NAN),
            caliper: Length::from_mm(6),
            ..seed_packet_paper()
        };
        let problems = paper.problems();
        let text: Vec<_> = problems.iter().map(ToString::to_string).collect();
        insta::assert_snapshot!(text.join("\n"), @r"
        The paper has no name. Give it one that people can ask for.
        The width is 0 mm. Give more than 0 and at most 10 m.
        The height is 10000.000001 mm. Give more than 0 and at most 10 m.
        The caliper is 6 mm. Give the thickness of one sheet, 0.01 to 5 mm.
        The weight is NaN g/m². Give 5 to 4000 g/m², or leave it empty.
        ");
        let fields: Vec<_> = problems.iter().map(PaperError::field).collect();
        assert_eq!(fields, ["name", "width", "height", "caliper", "gsm"]);
    }

    #[test]
    fn a_name_must_fit_a_label() {
        let paper = Paper {
            name: "🌱".repeat(81),
            ..seed_packet_paper()
        };
        insta::assert_snapshot!(paper.problems()[0], @"The name has 81 characters. Use at most 80.");
    }

    #[test]
    fn a_paper_survives_json() {
        let text = serde_json::to_string(&seed_packet_paper()).unwrap();
        let back: Paper = serde_json::from_str(&text).unwrap();
        assert_eq!(back, seed_packet_paper());
    }

    #[test]
    fn what_is_not_known_may_be_left_out_of_json() {
        let paper: Paper = serde_json::from_str(
            r#"{"name": "Offcut", "width": 210, "height": "11 in", "caliper": 0.2}"#,
        )
        .unwrap();
        assert_eq!(paper.height, Length::inches(11));
        assert_eq!(paper.gsm, None);
        assert_eq!(paper.sheet_mass_g(), None);
        assert!(paper.turnable());
    }
}
