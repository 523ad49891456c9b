//! What a drawer and its sleeve have to keep to, and what would do where they do not.

use super::open_tray::OpenTray;
use super::tray::Limits;
use super::{StructureError, StructureProblem};
use crate::{Length, Ruler};

/// Least play of the drawer, from wall to wall: it slides (common practice, no source).
pub(super) const LEAST_PLAY_MM: f64 = 1.0;
/// A drawer with more play rattles and turns in its sleeve, mm (common practice, no source).
pub(super) const MOST_PLAY_MM: f64 = 8.0;
/// A sleeve that reaches further over the drawer hides its rim, mm (common practice, no source).
const MOST_OVER_MM: f64 = 6.0;
/// Narrowest glue flap, mm (common practice, no source).
pub(super) const LEAST_FLAP_MM: f64 = 8.0;
/// A shorter drawer tips in its sleeve, mm (common practice, no source).
pub(super) const LEAST_LENGTH_MM: f64 = 15.0;
/// The circle of a thumb notch: the least that lets a finger in, and the usual 3/4 in, mm (common
/// practice, no source).
pub(super) const NOTCH_MM: [f64; 2] = [10.0, 19.05];
/// Paper that stays beside the notch, mm (common practice, no source).
const BESIDE_NOTCH_MM: f64 = 2.0;

/// From under the floor of a tray to its rim, mm.
pub(super) fn rim(tray: &OpenTray) -> f64 {
    tray.depth + tray.t / 2.0
}

/// Least width and depth of a sleeve round a drawer, crease to crease, with this play, mm.
pub(super) fn round(drawer: &OpenTray, play: f64) -> (f64, f64) {
    let t = drawer.t;
    (drawer.outside().0 + t + play, rim(drawer) + 2.0 * t + play)
}

fn too_little(
    ruler: &Ruler,
    (field, asked): (&'static str, Length),
    least: f64,
    why: &'static str,
) -> StructureError {
    let problem = StructureProblem::TooLittle {
        field,
        asked,
        least: ruler.up(least).unwrap_or_default(),
        why,
    };
    StructureError::new(problem, ruler)
}

fn too_much(
    ruler: &Ruler,
    (field, asked): (&'static str, Length),
    most: f64,
    why: &'static str,
) -> StructureError {
    let problem = StructureProblem::TooMuch {
        field,
        asked,
        most: ruler.down(most).unwrap_or_default(),
        why,
    };
    StructureError::new(problem, ruler)
}

pub(super) fn check_drawer(
    length: Length,
    drawer: &OpenTray,
    ruler: &Ruler,
) -> Result<(), StructureError> {
    if drawer.length < LEAST_LENGTH_MM - 1e-9 {
        let asked = ("drawer_length", length);
        let least = LEAST_LENGTH_MM + 2.0 * drawer.depth;
        let why = "so short a drawer tips in its sleeve";
        return Err(too_little(ruler, asked, least, why));
    }
    Ok(())
}

/// The first two scores of the sleeve: the width of its bottom, and beyond it a side.
pub(super) fn check_scores(
    [first, second]: [Length; 2],
    drawer: &OpenTray,
    ruler: &Ruler,
) -> Result<(), StructureError> {
    let least = round(drawer, LEAST_PLAY_MM);
    // On a coarse ruler the least that goes round may be looser.
    let most = round(drawer, MOST_PLAY_MM.max(LEAST_PLAY_MM + ruler.step().mm()));
    let tight = "the drawer does not go into the sleeve";
    let loose = "the drawer is loose in the sleeve";
    for (asked, from, least, most) in [
        (("sleeve_first_score", first), 0.0, least.0, most.0),
        (("sleeve_second_score", second), first.mm(), least.1, most.1),
    ] {
        let side = asked.1.mm() - from;
        if side < least - 1e-9 {
            return Err(too_little(ruler, asked, from + least, tight));
        }
        if side > most + 1e-9 {
            return Err(too_much(ruler, asked, from + most, loose));
        }
    }
    if !ruler.has(second * 2) {
        let asked = ("sleeve_second_score", second);
        let most = ruler.longest().mm() / 2.0;
        let why = "the last score, twice as far from the edge, is out of the board's reach";
        return Err(too_much(ruler, asked, most, why));
    }
    Ok(())
}

pub(super) fn check_sheet(
    (sheet, length): (Length, Length),
    [first, second]: [Length; 2],
    drawer: &OpenTray,
    limits: &Limits,
) -> Result<(), StructureError> {
    let ruler = &limits.trimmer;
    let (flap, panels) = ((sheet - second * 2).mm(), 2.0 * second.mm());
    let (wide, long) = (("sleeve_width", sheet), ("sleeve_length", length));
    let least = drawer.outside().1;
    let most = least + MOST_OVER_MM.max(ruler.step().mm());
    if flap < LEAST_FLAP_MM - 1e-9 {
        let why = "the four panels leave no flap to glue";
        Err(too_little(ruler, wide, panels + LEAST_FLAP_MM, why))
    } else if flap > first.mm() + 1e-9 {
        let why = "the glue flap is wider than the bottom";
        Err(too_much(ruler, wide, panels + first.mm(), why))
    } else if length.mm() < least - 1e-9 {
        let why = "the drawer sticks out of the sleeve";
        Err(too_little(ruler, long, least, why))
    } else if length.mm() > most + 1e-9 {
        let why = "the drawer is out of reach in the sleeve";
        Err(too_much(ruler, long, most, why))
    } else {
        Ok(())
    }
}

/// The largest circle of a notch in a top of this width and length, mm.
pub(super) fn largest_notch((width, length): (Length, Length)) -> f64 {
    (width.mm() - 2.0 * BESIDE_NOTCH_MM).min(length.mm())
}

pub(super) fn check_notch(
    circle: Length,
    top: (Length, Length),
    ruler: &Ruler,
) -> Result<(), StructureError> {
    let (asked, most) = (("notch_circle", circle), largest_notch(top));
    if circle.mm() < NOTCH_MM[0] - 1e-9 {
        let why = "no finger gets hold of the drawer";
        return Err(too_little(ruler, asked, NOTCH_MM[0], why));
    }
    if circle.mm() > most + 1e-9 {
        let why = "the notch leaves too little of the top";
        return Err(too_much(ruler, asked, most, why));
    }
    Ok(())
}
