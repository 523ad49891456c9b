//! The least tube that takes a block.

use super::StructureError;
use super::offers::only;
use super::tube::Tube;
use crate::sizing::{Offer, Offers, Wanted};
use crate::{Length, Ruler};

/// The offer with the least side from `least_mm` on for which there are settings; the rest of the
/// tube is for `offer` to set, which has none where a ruler lacks a mark.
pub(super) fn least_side(
    wanted: &Wanted<'_>,
    least_mm: f64,
    offer: impl Fn(&Ruler, Tube) -> Option<Result<Offer, StructureError>>,
) -> Offers {
    let Some(score) = &wanted.tools.score else {
        return Offers::default();
    };
    let Some(first) = score.up(least_mm) else {
        return Offers::default();
    };
    // From here on both rulers have a mark for every flap.
    let step = score.step().max(wanted.tools.trimmer.step());
    let last = first.max(step * 4 + Length::from_mm(20));
    let bare = Tube::of_caliper(wanted.caliper);
    let mut sides = score.marks_between(first, last);
    only(sides.find_map(|side_score| offer(score, Tube { side_score, ..bare })))
}
