//! What is offered: settings that no other ones beat.

use crate::sizing::Offer;

/// Keeps an offer unless another one is as good in every respect, and drops those that it beats
/// so. What counts: both sides of every sheet, and the most room left over for a block.
pub(super) fn keep(found: &mut Vec<Offer>, offer: Offer, block_mm: [f64; 3]) {
    if found.iter().any(|it| as_good(it, &offer, block_mm)) {
        return;
    }
    found.retain(|it| !as_good(&offer, it, block_mm));
    found.push(offer);
}

fn as_good(one: &Offer, other: &Offer, block_mm: [f64; 3]) -> bool {
    let mut sheets = one.blanks.iter().zip(&other.blanks);
    sheets.all(|(a, b)| a.0 <= b.0 && a.1 <= b.1) && loose(one, block_mm) <= loose(other, block_mm)
}

fn loose(offer: &Offer, [width, length, depth]: [f64; 3]) -> f64 {
    let inside = offer.inside;
    (inside.width - width)
        .max(inside.length - length)
        .max(inside.depth - depth)
}
