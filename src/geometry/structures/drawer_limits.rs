//! What a drawer and its sleeve have to keep to, and what would do where they do not.

use super::StructureError;
use super::limits::Asked;
use super::open_tray::OpenTray;
use super::open_tray_limits::Limits;
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

pub(super) fn check_drawer(
    length: Length,
    drawer: &OpenTray,
    ruler: &Ruler,
) -> Result<(), StructureError> {
    let least = LEAST_LENGTH_MM + 2.0 * drawer.depth;
    let why = "so short a drawer tips in its sleeve";
    Asked::new("drawer_length", length, ruler).at_least(least, why)
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
    let second_from = first.mm();
    let [first, second] = [
        ("sleeve_first_score", first),
        ("sleeve_second_score", second),
    ]
    .map(|(field, at)| Asked::new(field, at, ruler));
    first.at_least(least.0, tight)?;
    first.at_most(most.0, loose)?;
    second.at_least(second_from + least.1, tight)?;
    second.at_most(second_from + most.1, loose)?;
    second.twice_in_reach("the last score, twice as far from the edge, is out of the board's reach")
}

pub(super) fn check_sheet(
    (sheet, length): (Length, Length),
    [first, second]: [Length; 2],
    drawer: &OpenTray,
    limits: &Limits,
) -> Result<(), StructureError> {
    let ruler = &limits.trimmer;
    let panels = 2.0 * second.mm();
    let sheet = Asked::new("sleeve_width", sheet, ruler);
    let why = "the four panels leave no flap to glue";
    sheet.at_least(panels + LEAST_FLAP_MM, why)?;
    let why = "the glue flap is wider than the bottom";
    sheet.at_most(panels + first.mm(), why)?;
    let least = drawer.outside().1;
    let most = least + MOST_OVER_MM.max(ruler.step().mm());
    let length = Asked::new("sleeve_length", length, ruler);
    length.at_least(least, "the drawer sticks out of the sleeve")?;
    length.at_most(most, "the drawer is out of reach in the sleeve")
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
    let asked = Asked::new("notch_circle", circle, ruler);
    asked.at_least(NOTCH_MM[0], "no finger gets hold of the drawer")?;
    let why = "the notch leaves too little of the top";
    asked.at_most(largest_notch(top), why)
}
