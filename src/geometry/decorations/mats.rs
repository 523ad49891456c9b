//! Layered mats: the same shape, each layer smaller than the one below by twice the reveal, so
//! that the same rim shows all round.

use kurbo::{BezPath, Circle, Rect, Shape};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::{Length, Ruler};

/// The least side of a mat that hands still lay straight, mm (common practice, no source).
const LEAST_SIDE_MM: f64 = 10.0;

/// A mat's shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum MatShape {
    /// A rectangle.
    Rectangle {
        /// Side to side.
        width: Length,
        /// Bottom to top.
        height: Length,
    },
    /// A circle.
    Circle {
        /// Right across.
        diameter: Length,
    },
}

/// Why mats cannot be layered so.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum MatsError {
    /// No layers, or more than [`Mats::MOST_LAYERS`].
    #[error(
        "{layers} layers are no stack of mats. Give 1 to {}.",
        Mats::MOST_LAYERS
    )]
    Layers {
        /// Layers asked for.
        layers: usize,
    },
    /// The lowest mat has no size.
    #[error("A mat with a side of {} cannot be cut. Give more than 0 and at most 10 m.", side.exact_text())]
    NoSize {
        /// The side given.
        side: Length,
    },
    /// The rim has no width.
    #[error("A reveal of {} does not show. Give more than 0.", reveal.exact_text())]
    NoReveal {
        /// The rim given.
        reveal: Length,
    },
    /// The uppermost mats would vanish.
    #[error(
        "{layers} layers with a reveal of {} leave nothing of a side of {}. Make at most {most}, or use a reveal under {}.",
        reveal.exact_text(),
        side.exact_text(),
        reveal_under.exact_text()
    )]
    NothingLeft {
        /// Layers asked for.
        layers: usize,
        /// The rim asked for.
        reveal: Length,
        /// The shortest side of the lowest mat.
        side: Length,
        /// Most layers with this rim.
        most: usize,
        /// With this many layers the rim must be less than this.
        reveal_under: Length,
    },
    /// The uppermost mat would be too small to cut and to lay straight.
    #[error(
        "{} leaves less than {} of {} for the last mat. {}",
        shown(*layers, *reveal),
        least.exact_text(),
        side.exact_text(),
        advice(*most)
    )]
    TooSmall {
        /// Mats asked for.
        layers: usize,
        /// The rim asked for.
        reveal: Length,
        /// The shorter side of what they lie on.
        side: Length,
        /// The least side of a mat.
        least: Length,
        /// A rim that does; `None` where none does.
        most: Option<Length>,
    },
}

fn shown(layers: usize, reveal: Length) -> String {
    let reveal = reveal.exact_text();
    match layers {
        1 => format!("A reveal of {reveal}"),
        _ => format!("A reveal of {reveal} round each of {layers} mats"),
    }
}

fn advice(most: Option<Length>) -> String {
    match most {
        Some(most) => format!("Make the reveal {} or less.", most.exact_text()),
        None => "Use fewer mats, or none.".to_owned(),
    }
}

impl MatShape {
    /// Sides of the smallest rectangle round it.
    #[must_use]
    pub const fn size(self) -> (Length, Length) {
        match self {
            Self::Rectangle { width, height } => (width, height),
            Self::Circle { diameter } => (diameter, diameter),
        }
    }

    /// Smaller by `rim` on every side.
    fn inset(self, rim: Length) -> Self {
        match self {
            Self::Rectangle { width, height } => Self::Rectangle {
                width: width - rim * 2,
                height: height - rim * 2,
            },
            Self::Circle { diameter } => Self::Circle {
                diameter: diameter - rim * 2,
            },
        }
    }

    /// The largest of this shape that can be cut and leaves at least `rim` on every side.
    fn cut_within(self, rim: Length, trimmer: &Ruler) -> Option<Self> {
        let cut = |side: Length| {
            let left = side.checked_sub(rim.checked_mul(2)?)?;
            let mark = trimmer.down(left.mm())?;
            (mark.mm() >= LEAST_SIDE_MM).then_some(mark)
        };
        Some(match self {
            Self::Rectangle { width, height } => Self::Rectangle {
                width: cut(width)?,
                height: cut(height)?,
            },
            Self::Circle { diameter } => Self::Circle {
                diameter: cut(diameter)?,
            },
        })
    }

    /// Area in mm².
    #[must_use]
    pub fn area_mm2(self) -> f64 {
        match self {
            Self::Rectangle { width, height } => width.mm() * height.mm(),
            Self::Circle { diameter } => std::f64::consts::PI * diameter.mm().powi(2) / 4.0,
        }
    }

    /// Outline in mm, centred at the origin.
    #[must_use]
    pub fn outline(self) -> BezPath {
        const TOLERANCE_MM: f64 = 1e-6;
        let (width, height) = self.size();
        let (x, y) = (width.mm() / 2.0, height.mm() / 2.0);
        match self {
            Self::Rectangle { .. } => Rect::new(-x, -y, x, y).to_path(TOLERANCE_MM),
            Self::Circle { .. } => Circle::new((0.0, 0.0), x).to_path(TOLERANCE_MM),
        }
    }
}

/// Mats from the lowest and largest to the uppermost and smallest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mats {
    layers: Vec<MatShape>,
    reveal: Length,
}

impl Mats {
    /// Most layers: beyond it the stack is a block.
    pub const MOST_LAYERS: usize = 20;

    /// `layers` mats, the lowest of them `outer`, each smaller than the one below by twice the
    /// `reveal`.
    ///
    /// # Errors
    /// [`MatsError`] unless 1 ≤ layers ≤ [`Self::MOST_LAYERS`], sides and reveal are above 0 (at
    /// most 10 m), and the uppermost mat still has a size.
    pub fn layers(outer: MatShape, reveal: Length, layers: usize) -> Result<Self, MatsError> {
        if !(1..=Self::MOST_LAYERS).contains(&layers) {
            return Err(MatsError::Layers { layers });
        }
        let (width, height) = outer.size();
        for side in [width, height] {
            if side <= Length::ZERO || side > Length::MAX {
                return Err(MatsError::NoSize { side });
            }
        }
        if reveal <= Length::ZERO {
            return Err(MatsError::NoReveal { reveal });
        }
        let side = width.min(height);
        // Layer n (from 0) keeps side − 2 n reveal, which must stay above 0.
        let most = 1 + (side.nm() - 1) / reveal.nm().saturating_mul(2);
        let most = usize::try_from(most).unwrap_or(usize::MAX);
        if layers > most {
            return Err(MatsError::NothingLeft {
                layers,
                reveal,
                side,
                most,
                reveal_under: side / (2 * (layers as i64 - 1)),
            });
        }
        Ok(Self {
            layers: (0..layers as i64)
                .map(|n| outer.inset(reveal * n))
                .collect(),
            reveal,
        })
    }

    /// `layers` mats on top of each other in the middle of `base`, cut at marks of the trimmer:
    /// the largest that leave at least the `reveal` on every side of what lies below.
    ///
    /// # Errors
    /// [`MatsError`] unless 1 ≤ layers ≤ [`Self::MOST_LAYERS`], the reveal is above 0, and the
    /// uppermost mat is at least 10 mm across.
    pub fn on(
        base: MatShape,
        reveal: Length,
        layers: usize,
        trimmer: &Ruler,
    ) -> Result<Self, MatsError> {
        if !(1..=Self::MOST_LAYERS).contains(&layers) {
            return Err(MatsError::Layers { layers });
        }
        if reveal <= Length::ZERO {
            return Err(MatsError::NoReveal { reveal });
        }
        let mut cut = Vec::with_capacity(layers);
        let mut below = base;
        for _ in 0..layers {
            let Some(mat) = below.cut_within(reveal, trimmer) else {
                return Err(too_small(base, reveal, layers, trimmer));
            };
            cut.push(mat);
            below = mat;
        }
        Ok(Self {
            layers: cut,
            reveal,
        })
    }

    /// The mats, lowest first.
    #[must_use]
    pub fn shapes(&self) -> &[MatShape] {
        &self.layers
    }

    /// The rim of each layer that shows.
    #[must_use]
    pub const fn reveal(&self) -> Length {
        self.reveal
    }
}

/// The refusal with a reveal that does: each mat loses less than a step to its mark.
fn too_small(base: MatShape, reveal: Length, layers: usize, trimmer: &Ruler) -> MatsError {
    let (width, height) = base.size();
    let side = width.min(height);
    let least = trimmer.up(LEAST_SIDE_MM).unwrap_or(Length::MAX);
    let times = layers as i64;
    let spare = side - least - trimmer.step() * times;
    let most = spare / (2 * times);
    let steps = most.nm() / trimmer.step().nm().max(1);
    MatsError::TooSmall {
        layers,
        reveal,
        side,
        least,
        most: (steps > 0).then(|| trimmer.step() * steps),
    }
}

/// The rim in mm that shows of `lower` at its sides and at its ends when `upper` lies in its
/// middle; negative where `upper` sticks out.
#[must_use]
pub fn reveal_round_mm(lower: MatShape, upper: MatShape) -> (f64, f64) {
    let ((lower_width, lower_height), (upper_width, upper_height)) = (lower.size(), upper.size());
    (
        (lower_width - upper_width).mm() / 2.0,
        (lower_height - upper_height).mm() / 2.0,
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn eighths(n: i64) -> Length {
        Length::from_nm(n * 3_175_000)
    }

    fn circle(eighth_inches: i64) -> MatShape {
        MatShape::Circle {
            diameter: eighths(eighth_inches),
        }
    }

    #[test]
    fn a_1_in_circle_on_one_of_1_1_4_in_leaves_an_eighth() {
        // Common practice, no source.
        assert_eq!(reveal_round_mm(circle(10), circle(8)), (3.175, 3.175));
        let mats = Mats::layers(circle(10), eighths(1), 2).unwrap();
        assert_eq!(mats.shapes(), [circle(10), circle(8)]);
    }

    #[test]
    fn a_mat_on_a_card_is_smaller_by_twice_the_reveal_each_way() {
        let card = MatShape::Rectangle {
            width: Length::from_mm(100),
            height: Length::from_mm(140),
        };
        let mats = Mats::layers(card, Length::from_mm(4), 3).unwrap();
        let sizes: Vec<_> = mats
            .shapes()
            .iter()
            .map(|mat| (mat.size().0.mm(), mat.size().1.mm()))
            .collect();
        assert_eq!(sizes, [(100.0, 140.0), (92.0, 132.0), (84.0, 124.0)]);
    }

    #[test]
    fn what_cannot_be_layered_is_refused_with_what_would_do() {
        let say = |shape, reveal, layers| Mats::layers(shape, reveal, layers).unwrap_err();
        insta::assert_snapshot!(say(circle(10), eighths(1), 0), @"0 layers are no stack of mats. Give 1 to 20.");
        insta::assert_snapshot!(say(circle(10), eighths(1), 10_000), @"10000 layers are no stack of mats. Give 1 to 20.");
        insta::assert_snapshot!(say(circle(0), eighths(1), 2), @"A mat with a side of 0 mm cannot be cut. Give more than 0 and at most 10 m.");
        insta::assert_snapshot!(say(circle(10), Length::ZERO, 2), @"A reveal of 0 mm does not show. Give more than 0.");
        insta::assert_snapshot!(say(circle(8), eighths(2), 3), @"3 layers with a reveal of 6.35 mm leave nothing of a side of 25.4 mm. Make at most 2, or use a reveal under 6.35 mm.");
        insta::assert_snapshot!(say(circle(8), Length::from_nm(i64::MAX), 2), @"2 layers with a reveal of 9223372036854.775807 mm leave nothing of a side of 25.4 mm. Make at most 1, or use a reveal under 12.7 mm.");
    }

    /// By hand: of 105.5 x 148 mm a reveal of 4 mm leaves 97.5, which is cut at 97, and 140 mm;
    /// of those 89 and 132.
    #[test]
    fn mats_are_cut_at_marks_of_the_trimmer_and_show_no_less_than_the_reveal() {
        let base = MatShape::Rectangle {
            width: Length::from_nm(105_500_000),
            height: Length::from_mm(148),
        };
        let trimmer = Ruler::millimetre();
        let mats = Mats::on(base, Length::from_mm(4), 2, &trimmer).unwrap();
        let sizes: Vec<_> = mats.shapes().iter().map(|mat| mat.size()).collect();
        let mm = Length::from_mm;
        assert_eq!(sizes, [(mm(97), mm(140)), (mm(89), mm(132))]);
        assert_eq!(reveal_round_mm(base, mats.shapes()[0]), (4.25, 4.0));
        let say = |reveal, layers| Mats::on(base, reveal, layers, &trimmer).unwrap_err();
        insta::assert_snapshot!(say(mm(60), 1), @"A reveal of 60 mm leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 47 mm or less.");
        insta::assert_snapshot!(say(mm(24), 2), @"A reveal of 24 mm round each of 2 mats leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 23 mm or less.");
        insta::assert_snapshot!(say(Length::ZERO, 1), @"A reveal of 0 mm does not show. Give more than 0.");
        insta::assert_snapshot!(say(mm(1), 0), @"0 layers are no stack of mats. Give 1 to 20.");
        insta::assert_snapshot!(say(Length::from_nm(i64::MAX), 1), @"A reveal of 9223372036854.775807 mm leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 47 mm or less.");
        insta::assert_snapshot!(say(mm(3), 20), @"A reveal of 3 mm round each of 20 mats leaves less than 10 mm of 105.5 mm for the last mat. Make the reveal 1 mm or less.");
        let coarse = Ruler::new(crate::Unit::Millimetre, mm(100), Length::ZERO, mm(300)).unwrap();
        insta::assert_snapshot!(Mats::on(base, mm(1), 2, &coarse).unwrap_err(), @"A reveal of 1 mm round each of 2 mats leaves less than 100 mm of 105.5 mm for the last mat. Use fewer mats, or none.");
    }

    #[test]
    fn a_single_mat_takes_any_reveal() {
        let huge = Length::from_nm(i64::MAX);
        assert_eq!(
            Mats::layers(circle(8), huge, 1).unwrap().shapes(),
            [circle(8)]
        );
    }

    proptest! {
        #[test]
        fn rims_add_up_to_what_the_uppermost_lost(
            width in 1..2000i64, height in 1..2000i64, reveal in 1..60i64, layers in 1..=20usize,
        ) {
            let outer = MatShape::Rectangle {
                width: Length::from_mm(width),
                height: Length::from_mm(height),
            };
            let reveal = Length::from_mm(reveal);
            match Mats::layers(outer, reveal, layers) {
                Ok(mats) => {
                    let last = *mats.shapes().last().unwrap();
                    let rims = reveal.mm() * (layers - 1) as f64;
                    prop_assert_eq!(reveal_round_mm(outer, last), (rims, rims));
                    for pair in mats.shapes().windows(2) {
                        prop_assert!(pair[1].area_mm2() < pair[0].area_mm2());
                    }
                    prop_assert!(last.size().0 > Length::ZERO && last.size().1 > Length::ZERO);
                }
                Err(MatsError::NothingLeft { most, reveal_under, .. }) => {
                    prop_assert!(most < layers);
                    prop_assert!(Mats::layers(outer, reveal, most).is_ok());
                    prop_assert!(Mats::layers(outer, reveal, most + 1).is_err());
                    let less = reveal_under - Length::from_nm(1);
                    prop_assert!(Mats::layers(outer, less, layers).is_ok());
                }
                Err(other) => prop_assert!(false, "{other}"),
            }
        }

        #[test]
        fn a_mat_is_one_mark_from_showing_less_than_the_reveal(
            width in 30..400i64, height in 30..400i64, reveal in 1..200i64, layers in 1..=3usize,
            sixteenths: bool,
        ) {
            let trimmer = if sixteenths { Ruler::inch(16) } else { Ruler::millimetre() };
            let tenth = |n: i64| Length::from_nm(n * 100_000);
            let base = MatShape::Rectangle { width: tenth(10 * width), height: tenth(7 * height) };
            let reveal = tenth(reveal);
            match Mats::on(base, reveal, layers, &trimmer) {
                Ok(mats) => {
                    let all: Vec<_> = std::iter::once(&base).chain(mats.shapes()).collect();
                    for pair in all.windows(2) {
                        let (sides, ends) = reveal_round_mm(*pair[0], *pair[1]);
                        for rim in [sides, ends] {
                            prop_assert!(rim >= reveal.mm() - 1e-6, "{rim}");
                            let looser = rim - trimmer.step().mm() / 2.0;
                            let past_the_ruler = *pair[0] == base && width.max(height) > 290;
                            prop_assert!(looser < reveal.mm() || past_the_ruler, "{rim}");
                        }
                        let (w, h) = pair[1].size();
                        prop_assert!(trimmer.has(w) && trimmer.has(h));
                    }
                }
                Err(MatsError::TooSmall { most, .. }) => {
                    let does = |reveal| Mats::on(base, reveal, layers, &trimmer).is_ok();
                    prop_assert!(most.is_none_or(|most| most < reveal && does(most)));
                }
                Err(other) => prop_assert!(false, "{other}"),
            }
        }

        #[test]
        fn outlines_have_the_area_they_claim(width in 1..500i64, height in 1..500i64) {
            let (width, height) = (Length::from_mm(width), Length::from_mm(height));
            for shape in [MatShape::Rectangle { width, height }, MatShape::Circle { diameter: width }] {
                let drawn = shape.outline().area().abs();
                prop_assert!((drawn - shape.area_mm2()).abs() <= 1e-5 * drawn, "{drawn}");
            }
        }
    }
}
