//! What to loosen: the clearance and, where that alone is not enough, the play of a lid, a drawer
//! or a card in its envelope with it.
//!
//! The play that was asked for comes first. If it is too little, every play on the grid above it
//! is tried, each with the least clearance that does. The least play of all may ask for much
//! clearance, because the two share what may go wrong; so a few more are looked at, and the least
//! sum of both is taken.

use super::{Clearance, ClearanceError, Hands, WantedShare, clearance_for};
use crate::{Length, SizingRequest, StructureKind};

/// Plays that are looked at beyond the first that is enough.
const FURTHER: usize = 2;

/// The least looseness that does.
#[derive(Clone, Debug)]
pub struct Looser {
    /// The clearance, with what comes of it.
    pub clearance: Clearance,
    /// The play to ask for; `None` where what was asked for is enough.
    pub play: Option<Length>,
}

/// The least clearance with which the share of makers succeeds, and the play that it takes.
///
/// # Errors
/// As [`clearance_for`]; a share that is not reached with any play says so of the best play.
pub fn looser_for(
    request: &SizingRequest,
    kind: StructureKind,
    hands: &Hands,
    wanted: &WantedShare,
) -> Result<Looser, ClearanceError> {
    let mut refused = match clearance_for(request, kind, hands, wanted) {
        Ok(clearance) => {
            let play = None;
            return Ok(Looser { clearance, play });
        }
        Err(error) => error,
    };
    let (Some(limits), ClearanceError::NotReached(_)) = (kind.fit(), &refused) else {
        return Err(refused);
    };
    let now = limits.play_mm(&request.fit);
    let plays = (1..).map(|step| wanted.grid * step);
    let plays = plays
        .skip_while(|play| play.mm() <= now)
        .take_while(|play| play.mm() <= limits.most_mm);
    let mut request = request.clone();
    let mut found: Vec<Looser> = Vec::new();
    for play in plays {
        request.fit.play = Some(play);
        match clearance_for(&request, kind, hands, wanted) {
            Ok(clearance) => found.push(Looser {
                clearance,
                play: Some(play),
            }),
            Err(error) if share(&error) > share(&refused) => refused = error,
            Err(_) => {}
        }
        if found.len() > FURTHER {
            break;
        }
    }
    let loose = |it: &Looser| it.clearance.clearance + it.play.unwrap_or_default();
    found.into_iter().min_by_key(loose).ok_or(refused)
}

/// The share that was reached at best.
fn share(error: &ClearanceError) -> f64 {
    match error {
        ClearanceError::NotReached(it) => it.best.tolerance.together.share,
        _ => 0.0,
    }
}
