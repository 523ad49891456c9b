//! Arrows that follow a turn: an arc about the crease, from where the free edge is to where it
//! comes.

use kurbo::{BezPath, Point, Vec2};

use super::{SpaceBody, SpaceView};
use crate::{Crease, Folded, Pattern, Pose};

/// The arrow leaves the paper by this share of its reach, so that it is not drawn on its edge.
const OFF: f64 = 1.06;
/// It stops this far, in degrees, before the end of the turn: what it points at stays free.
const SHORT_DEG: f64 = 7.0;
/// A panel this near to the end of its turn has arrived, degrees.
const ARRIVED_DEG: f64 = 1.0;
/// A shorter turn, degrees, is drawn from where the paper lay flat.
const SHORT_WAY_DEG: f64 = 60.0;
/// Longest turn that one piece of curve stands for, degrees.
const PIECE_DEG: f64 = 45.0;

/// The way of the free edge of a panel that turns about a crease to `to_deg`; `None` if it has
/// arrived.
pub(super) fn turn_arrow(
    body: &SpaceBody<'_>,
    folded: &Folded,
    crease: &Crease,
    (now_deg, to_deg): (f64, f64),
    view: &SpaceView,
) -> Option<BezPath> {
    let parent = body.place.after(folded.pose(crease.parent)?);
    if (to_deg - now_deg).abs() < ARRIVED_DEG {
        return None;
    }
    let (foot, tip) = reach(body.pattern, crease)?;
    let turned = |degrees: f64| parent.after(&Pose::turn_about(crease.a, crease.b, -degrees));
    let seen = |degrees: f64| view.seen(turned(degrees).place(tip));
    let centre = view.seen(parent.place(foot));
    // A short way to go is drawn from where the paper lay flat.
    let is_short = (to_deg - now_deg).abs() < SHORT_WAY_DEG;
    let from_deg = if is_short { 0.0 } else { now_deg };
    let turn = to_deg - from_deg;
    let short = SHORT_DEG.min(turn.abs() / 4.0).copysign(turn);
    let (from, to) = (from_deg + short * 0.5, to_deg - short);
    let pieces = ((to - from).abs() / PIECE_DEG).ceil().max(1.0);
    let step = (to - from) / pieces;
    // A curve for a turn by the angle: its handles are this long for a radius of 1.
    let handle = 4.0 / 3.0 * (step.to_radians() / 4.0).tan();
    let way = |degrees: f64| -> Vec2 { seen(degrees + 90.0) - centre };
    let mut path = BezPath::new();
    path.move_to(seen(from));
    let mut at = from;
    for _ in 0..pieces as usize {
        let next = at + step;
        let (p, q): (Point, Point) = (seen(at), seen(next));
        path.curve_to(p + way(at) * handle, q - way(next) * handle, q);
        at = next;
    }
    Some(path)
}

/// On the flat sheet: the foot on the crease below the middle of the free edge, and a point just
/// past that edge.
fn reach(pattern: &Pattern, crease: &Crease) -> Option<(Point, Point)> {
    let outline = &pattern.panel(crease.child)?.outline;
    let way = crease.b - crease.a;
    let along = way / way.hypot().max(1e-9);
    // The child is on the right of the crease.
    let across = Vec2::new(along.y, -along.x);
    let depth = |p: &Point| across.dot(*p - crease.a);
    let far = outline.iter().map(depth).fold(0.0, f64::max);
    let free: Vec<f64> = outline
        .iter()
        .filter(|p| depth(p) > 0.98 * far)
        .map(|p| along.dot(*p - crease.a))
        .collect();
    let low = free.iter().copied().fold(f64::INFINITY, f64::min);
    let high = free.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (far > 0.0).then(|| {
        let foot = crease.a + along * ((low + high) / 2.0);
        (foot, foot + across * (far * OFF))
    })
}
