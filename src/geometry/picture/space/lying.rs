//! Places in the stack of paper that lies folded over for now and stands up again later: a tube
//! that is glued flat.
//!
//! The places of the closed piece say nothing of it. A valley of 180° lays a panel on the inside
//! of the one it hangs on, a mountain on its outside; what hangs on it comes along.

use crate::{PanelId, Pattern};

/// Nearer to 180° than this a panel lies flat on its neighbour; nearer to 0° they are one plane.
const FLAT_DEG: f64 = 1.0;
/// More than any place in a stack.
const OVER: f64 = 4096.0;

/// How a panel lies against the first one of its plane.
#[derive(Clone, Copy)]
struct Lies {
    /// Along the inside of the first one.
    height: f64,
    /// Half as much each time, so that what is folded twice comes to lie between.
    step: f64,
    /// Whether its inside looks the same way.
    way: f64,
    /// Whether it lies otherwise than in the closed piece.
    for_now: bool,
}

const FIRST: Lies = Lies {
    height: 0.0,
    step: OVER,
    way: 1.0,
    for_now: false,
};

/// The places of the closed piece, along the inside of each panel, with those corrected that lie
/// otherwise now.
pub(super) fn places(pattern: &Pattern, angles: &[f64], mut closed: Vec<f64>) -> Vec<f64> {
    let mut lie: Vec<Option<Lies>> = vec![None; pattern.panels.len()];
    if let Some(root) = lie.get_mut(pattern.root.0) {
        *root = Some(FIRST);
    }
    while let Some((PanelId(child), found)) = next(pattern, angles, &lie) {
        if let Some(lies) = lie.get_mut(child) {
            *lies = Some(found);
        }
    }
    for (place, lies) in closed.iter_mut().zip(lie) {
        if let Some(lies) = lies.filter(|lies| lies.for_now) {
            *place += lies.way * lies.height;
        }
    }
    closed
}

/// A panel not reached so far that hangs on one that is.
fn next(pattern: &Pattern, angles: &[f64], lie: &[Option<Lies>]) -> Option<(PanelId, Lies)> {
    pattern.creases.iter().enumerate().find_map(|(at, crease)| {
        let parent = lie.get(crease.parent.0).copied().flatten()?;
        lie.get(crease.child.0)?.is_none().then_some(())?;
        let angle = angles.get(at).copied().unwrap_or(0.0);
        let is_over = angle.abs() > 180.0 - FLAT_DEG;
        let found = if is_over {
            let step = parent.step / 2.0;
            Lies {
                height: parent.height + parent.way * angle.signum() * parent.step,
                step,
                way: -parent.way,
                for_now: parent.for_now || crease.angle_deg.abs() <= 180.0 - FLAT_DEG,
            }
        } else if angle.abs() < FLAT_DEG {
            parent
        } else {
            FIRST
        };
        Some((crease.child, found))
    })
}
