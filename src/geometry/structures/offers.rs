//! What is offered: settings that no other ones beat.

use super::StructureError;
use crate::sizing::{Offer, Offers};
use crate::{Length, Ruler};

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

/// What comes of a single try.
pub(super) fn only(made: Option<Result<Offer, StructureError>>) -> Offers {
    let (found, refused) = match made {
        Some(Ok(offer)) => (vec![offer], None),
        Some(Err(error)) => (Vec::new(), Some(error)),
        None => (Vec::new(), None),
    };
    Offers { found, refused }
}

/// The least mark between two lengths that fits, by halving: what is larger than one that fits
/// has to fit too.
pub(super) fn least_mark(
    ruler: &Ruler,
    (least, most): (f64, f64),
    fits: impl Fn(Length) -> bool,
) -> Option<Length> {
    let (mut low, mut high) = (ruler.up(least)?, ruler.down(most)?);
    if low > high || !fits(high) {
        return None;
    }
    while low < high {
        let between = ruler.down(f64::midpoint(low.mm(), high.mm()))?;
        if fits(between) {
            high = between;
        } else {
            low = between + ruler.step();
        }
    }
    Some(high)
}
