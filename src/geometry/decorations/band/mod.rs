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
    panels: Panels,
    creases: [BandCrease; 4],
}

/// Crease to crease, in mm. Front and back are alike, and so are the sides.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Panels {
    front: f64,
    side: f64,
}

impl Panels {
    /// Just as large as the box: one caliper more than its outside.
    fn tight(around: BoxOutside, caliper: Length) -> Self {
        Self {
            front: around.width_mm + caliper.mm(),
            side: around.depth_mm + caliper.mm(),
        }
    }

    /// Up to whole steps of a ruler: a band a hair loose slides, a tight one tears.
    fn up_to_steps(self, step: Length) -> (Length, Length) {
        let up = |mm: f64| {
            let steps = (mm / step.mm() - 1e-9).ceil().max(1.0);
            step * steps as i64
        };
        (up(self.front), up(self.side))
    }

    fn girth(self) -> f64 {
        2.0 * (self.front + self.side)
    }
}

impl Band {
    /// The least overlap that holds (common practice, no source): a line of narrow tape.
    pub const LEAST_OVERLAP: Length = Length::from_mm(5);

    /// The band for a box. Its panels are the box's, up to whole steps of the score board, so that
    /// no panel is too short for its wall; the strip is the shortest on the trimmer's ruler whose
    /// creases all lie on marks and whose ends overlap at least as asked. Its width goes down, so
    /// that the box shows at least as asked. Where two rulers share no marks, creases lie on the
    /// nearest ones.
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
        let needs_width = request.around.length_mm - 2.0 * request.reveal.mm();
        if needs_width <= 0.0 {
            return Err(BandError::RevealTooLarge {
                reveal: request.reveal,
                length_mm: request.around.length_mm,
            });
        }
        // Below the last mark `down` would quietly give the last mark: a far larger reveal.
        let within = needs_width < trimmer.longest().mm() + trimmer.step().mm();
        let width = trimmer.down(needs_width).filter(|_| within);
        let strip_width = reach(trimmer, "width", needs_width, width)?;
        let tight = Panels::tight(request.around, request.caliper);
        if let Some((panels, length)) = on_marks(tight, request.overlap, trimmer, score_board) {
            return Self::with_panels(request, panels, (strip_width, length), score_board);
        }
        let needs_length = tight.girth() + request.overlap.mm();
        let strip_length = reach(trimmer, "length", needs_length, trimmer.up(needs_length))?;
        Self::with_panels(request, tight, (strip_width, strip_length), score_board)
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
        check_box(request.around)?;
        check_caliper(request.caliper)?;
        let tight = Panels::tight(request.around, request.caliper);
        Self::with_panels(request, tight, (strip_width, strip_length), score_board)
    }

    fn with_panels(
        request: &BandRequest,
        panels: Panels,
        (strip_width, strip_length): (Length, Length),
        score_board: &Ruler,
    ) -> Result<Self, BandError> {
        let BandRequest {
            around,
            caliper,
            notch,
            ..
        } = *request;
        for (field, given) in [("strip width", strip_width), ("strip length", strip_length)] {
            check_measure(field, given, Length::from_nm(1), TO_10_M)?;
        }
        let girth_mm = panels.girth();
        let overlap_mm = strip_length.mm() - girth_mm;
        // Roots leave noise in the last digits; a strip cut to the mark still holds.
        if overlap_mm < Self::LEAST_OVERLAP.mm() - 1e-9 {
            let strip = strip_length;
            return Err(BandError::StripTooShort { strip, girth_mm });
        }
        let back_mm = panels.front;
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
            panels,
            creases: creases(panels, strip_length, score_board)?,
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
        self.panels.girth()
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
        self.panels.front
    }

    /// Each side from crease to crease, in mm.
    #[must_use]
    pub fn side_mm(&self) -> f64 {
        self.panels.side
    }
}

const TO_10_M: &str = "more than 0 and at most 10 m";

/// How many marks further the strip may grow until its creases meet marks. Both ends are scored
/// from their own end, so on one ruler every second length will do.
const MARKS_FURTHER: usize = 8;

/// Panels on whole steps and the shortest strip whose creases all lie on marks.
fn on_marks(
    tight: Panels,
    overlap: Length,
    trimmer: &Ruler,
    score_board: &Ruler,
) -> Option<(Panels, Length)> {
    let (front, side) = tight.up_to_steps(score_board.step());
    let panels = Panels {
        front: front.mm(),
        side: side.mm(),
    };
    let least = trimmer.up(panels.girth() + overlap.mm())?;
    let further = least + trimmer.step() * MARKS_FURTHER as i64;
    let fits = |length: &Length| {
        let ends = *length - front;
        let inner = ends / 2;
        ends == inner * 2 && score_board.has(inner) && score_board.has(inner - side)
    };
    let length = trimmer.marks_between(least, further).find(fits)?;
    Some((panels, length))
}

fn reach(
    trimmer: &Ruler,
    side: &'static str,
    needs_mm: f64,
    mark: Option<Length>,
) -> Result<Length, BandError> {
    mark.filter(|mark| *mark > Length::ZERO)
        .ok_or(BandError::OutOfTrimmerReach {
            side,
            needs_mm,
            shortest: trimmer.shortest(),
            longest: trimmer.longest(),
        })
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
    panels: Panels,
    strip_length: Length,
    score_board: &Ruler,
) -> Result<[BandCrease; 4], BandError> {
    let half = strip_length.mm() / 2.0;
    let inner = half - panels.front / 2.0;
    let outer = inner - panels.side;
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
