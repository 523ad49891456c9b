//! A band round a box: a strip that goes once round its width and depth and is glued to itself
//! at the back.
//!
//! ```text
//!  y ^
//!    |------+--------+----------------+--------+------|
//!    | back |  side  |     front      |  side  | back |  strip width
//!    |------+--------+----------------+--------+------|
//!    0     c1       c2               c3       c4       strip length  > x
//! ```
//!
//! The paper's middle runs half a caliper outside the box, so from crease to crease a panel is
//! one caliper more than the box's outside. The two back ends are alike: their overlap lies on
//! the middle of the back, and the creases of one half are those of the other, measured from the
//! other end. Two settings of the scoring tool make all four.

mod error;
mod pattern;

use serde::{Deserialize, Serialize};

pub use self::error::BandError;
use super::FingerNotch;
use crate::{Length, Ruler};

/// Outside of a closed box in mm: the band goes round width and depth, and lies along length.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct BoxOutside {
    /// Front and back, side to side.
    pub width_mm: f64,
    /// From front to back.
    pub depth_mm: f64,
    /// From opening to opening, along the band's axis.
    pub length_mm: f64,
}

impl BoxOutside {
    /// The outside of a box measured crease to crease and made of paper `caliper` thick: half a
    /// caliper more at every wall.
    #[must_use]
    pub fn of_creases(width_mm: f64, depth_mm: f64, length_mm: f64, caliper: Length) -> Self {
        let t = caliper.mm();
        Self {
            width_mm: width_mm + t,
            depth_mm: depth_mm + t,
            length_mm: length_mm + t,
        }
    }
}

/// What a band is made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandRequest {
    /// The box.
    pub around: BoxOutside,
    /// How far the ends lie over each other, at least.
    pub overlap: Length,
    /// How much of the box shows at each end, at least.
    pub reveal: Length,
    /// Thickness of the band's paper.
    pub caliper: Length,
    /// A finger notch at the middle of the front, in the edge at the opening.
    pub notch: Option<FingerNotch>,
}

/// Where to score one crease.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandCrease {
    /// Exact place in mm from the left end.
    pub at_mm: f64,
    /// The mark to set, measured from the nearer end.
    pub mark: Length,
    /// Whether the nearer end is the right one, so that the strip is turned end for end first.
    pub from_right: bool,
    /// The mark minus the exact measure from that end, in mm.
    pub off_mm: f64,
}

/// A strip that goes round its box.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    around: BoxOutside,
    caliper: Length,
    notch: Option<FingerNotch>,
    strip_width: Length,
    strip_length: Length,
    creases: [BandCrease; 4],
}

impl Band {
    /// The least overlap that holds (common practice, no source): a line of narrow tape.
    pub const LEAST_OVERLAP: Length = Length::from_mm(5);

    /// The band for a box: the strip's length up to the trimmer's next mark, so that the ends
    /// overlap at least as asked; its width down, so that the box shows at least as asked.
    ///
    /// # Errors
    /// [`BandError`] if a side of the box is not in (0, 10 m], the overlap is under
    /// [`Self::LEAST_OVERLAP`] or wider than the back, the reveal leaves no strip, the caliper
    /// is not in 0..=5 mm, the notch does not fit, or a ruler does not reach.
    pub fn round(
        request: &BandRequest,
        trimmer: &Ruler,
        score_board: &Ruler,
    ) -> Result<Self, BandError> {
        check_request(request)?;
        let needs_length = girth_mm(request.around, request.caliper) + request.overlap.mm();
        let needs_width = request.around.length_mm - 2.0 * request.reveal.mm();
        if needs_width <= 0.0 {
            return Err(BandError::RevealTooLarge {
                reveal: request.reveal,
                length_mm: request.around.length_mm,
            });
        }
        let reach = |side, needs_mm, mark: Option<Length>| {
            mark.filter(|mark| *mark > Length::ZERO)
                .ok_or(BandError::OutOfTrimmerReach {
                    side,
                    needs_mm,
                    shortest: trimmer.shortest(),
                    longest: trimmer.longest(),
                })
        };
        // Below the last mark `down` would quietly give the last mark: a far larger reveal.
        let within = needs_width < trimmer.longest().mm() + trimmer.step().mm();
        let width = trimmer.down(needs_width).filter(|_| within);
        let strip_width = reach("width", needs_width, width)?;
        let strip_length = reach("length", needs_length, trimmer.up(needs_length))?;
        Self::of_strip(request, strip_width, strip_length, score_board)
    }

    /// The band that a given strip makes: a strip at hand, or a size that people know. The
    /// overlap and reveal of the request count for nothing; those of the strip are reported.
    ///
    /// # Errors
    /// [`BandError`] if the strip is too short to hold, too wide for the box or overlaps more
    /// than the back, and for the reasons of [`Self::round`].
    pub fn of_strip(
        request: &BandRequest,
        strip_width: Length,
        strip_length: Length,
        score_board: &Ruler,
    ) -> Result<Self, BandError> {
        let BandRequest {
            around,
            caliper,
            notch,
            ..
        } = *request;
        check_box(around)?;
        check_caliper(caliper)?;
        for (field, given) in [("strip width", strip_width), ("strip length", strip_length)] {
            check_measure(field, given, Length::from_nm(1), TO_10_M)?;
        }
        let girth_mm = girth_mm(around, caliper);
        let overlap_mm = strip_length.mm() - girth_mm;
        // Roots leave noise in the last digits; a strip cut to the mark still holds.
        if overlap_mm < Self::LEAST_OVERLAP.mm() - 1e-9 {
            let strip = strip_length;
            return Err(BandError::StripTooShort { strip, girth_mm });
        }
        let back_mm = around.width_mm + caliper.mm();
        if overlap_mm > back_mm {
            return Err(BandError::OverlapWiderThanBack {
                overlap_mm,
                back_mm,
            });
        }
        if strip_width.mm() > around.length_mm + 1e-9 {
            let strip = strip_width;
            let length_mm = around.length_mm;
            return Err(BandError::StripTooWide { strip, length_mm });
        }
        if let Some(notch) = notch {
            notch.check_fits(back_mm, strip_width.mm())?;
        }
        Ok(Self {
            around,
            caliper,
            notch,
            strip_width,
            strip_length,
            creases: creases(around, caliper, strip_length, score_board)?,
        })
    }

    /// The box it goes round.
    #[must_use]
    pub const fn around(&self) -> BoxOutside {
        self.around
    }

    /// Thickness of its paper.
    #[must_use]
    pub const fn caliper(&self) -> Length {
        self.caliper
    }

    /// Its finger notch, at the middle of the front.
    #[must_use]
    pub const fn notch(&self) -> Option<FingerNotch> {
        self.notch
    }

    /// Along the box: what to cut the strip to.
    #[must_use]
    pub const fn strip_width(&self) -> Length {
        self.strip_width
    }

    /// Round the box: what to cut the strip to.
    #[must_use]
    pub const fn strip_length(&self) -> Length {
        self.strip_length
    }

    /// The four creases, from the left end to the right.
    #[must_use]
    pub const fn creases(&self) -> &[BandCrease; 4] {
        &self.creases
    }

    /// Once round, along the middle of its paper, in mm.
    #[must_use]
    pub fn girth_mm(&self) -> f64 {
        girth_mm(self.around, self.caliper)
    }

    /// How far the ends really lie over each other, in mm.
    #[must_use]
    pub fn overlap_mm(&self) -> f64 {
        self.strip_length.mm() - self.girth_mm()
    }

    /// How much of the box really shows at each end, in mm.
    #[must_use]
    pub fn reveal_mm(&self) -> f64 {
        (self.around.length_mm - self.strip_width.mm()) / 2.0
    }

    /// Front and back from crease to crease, in mm.
    #[must_use]
    pub fn front_mm(&self) -> f64 {
        self.around.width_mm + self.caliper.mm()
    }

    /// Each side from crease to crease, in mm.
    #[must_use]
    pub fn side_mm(&self) -> f64 {
        self.around.depth_mm + self.caliper.mm()
    }
}

const TO_10_M: &str = "more than 0 and at most 10 m";

/// Two fronts and two sides, each one caliper more than the box's outside.
fn girth_mm(around: BoxOutside, caliper: Length) -> f64 {
    2.0 * (around.width_mm + around.depth_mm) + 4.0 * caliper.mm()
}

fn check_request(request: &BandRequest) -> Result<(), BandError> {
    check_box(request.around)?;
    check_caliper(request.caliper)?;
    check_measure(
        "overlap",
        request.overlap,
        Band::LEAST_OVERLAP,
        "5 mm to 10 m",
    )?;
    check_measure("reveal", request.reveal, Length::ZERO, "0 to 10 m")
}

fn check_box(around: BoxOutside) -> Result<(), BandError> {
    let sides = [
        ("width", around.width_mm),
        ("depth", around.depth_mm),
        ("length", around.length_mm),
    ];
    for (side, mm) in sides {
        if !(mm > 0.0 && mm <= Length::MAX.mm()) {
            return Err(BandError::Box { side, mm });
        }
    }
    Ok(())
}

fn check_caliper(given: Length) -> Result<(), BandError> {
    if (Length::ZERO..=Length::from_mm(5)).contains(&given) {
        return Ok(());
    }
    Err(BandError::Measure {
        field: "caliper",
        given,
        allowed: "0 to 5 mm",
    })
}

fn check_measure(
    field: &'static str,
    given: Length,
    least: Length,
    allowed: &'static str,
) -> Result<(), BandError> {
    if (least..=Length::MAX).contains(&given) {
        return Ok(());
    }
    Err(BandError::Measure {
        field,
        given,
        allowed,
    })
}

fn creases(
    around: BoxOutside,
    caliper: Length,
    strip_length: Length,
    score_board: &Ruler,
) -> Result<[BandCrease; 4], BandError> {
    let half = strip_length.mm() / 2.0;
    let inner = half - (around.width_mm + caliper.mm()) / 2.0;
    let outer = inner - (around.depth_mm + caliper.mm());
    let crease = |from_end: f64, from_right: bool| -> Result<BandCrease, BandError> {
        let mark = score_board
            .nearest(from_end)
            .ok_or(BandError::OutOfScoreReach {
                at_mm: from_end,
                shortest: score_board.shortest(),
                longest: score_board.longest(),
            })?;
        let at_mm = if from_right {
            strip_length.mm() - from_end
        } else {
            from_end
        };
        Ok(BandCrease {
            at_mm,
            mark,
            from_right,
            off_mm: mark.mm() - from_end,
        })
    };
    Ok([
        crease(outer, false)?,
        crease(inner, false)?,
        crease(inner, true)?,
        crease(outer, true)?,
    ])
}

#[cfg(test)]
mod pattern_tests;
#[cfg(test)]
mod tests;
