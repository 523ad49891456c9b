//! The floor of a tray, or the top of a lid, which may have a round window in its middle.
//!
//! ```text
//!   +-----------------+     panels have no holes: a floor with a window is two panels that lie
//!   |     .-----.     |     side by side and are one paper, joined where the seam is left;
//!   +----(       )----+     each has half of the window cut into its edge
//!   |     '-----'     |
//!   +-----------------+     the middle of the window is the origin, the seam lies along x
//! ```

use std::f64::consts::PI;

use kurbo::Point;

use super::build::{Builder, trim};
use crate::{CreaseId, CurveShape, Face, PanelId, PanelRole, WasteReason};

/// Straight pieces for half of the round where it is folded and drawn, with their corners on it:
/// smaller than the round by 0.51 %. It is cut as a round.
const HALF_PIECES: usize = 18;

/// The panels of a floor.
pub(super) struct Floor {
    /// One, or the half below the seam and the one above it.
    panels: Vec<PanelId>,
}

impl Floor {
    /// Adds the floor, the first panels of a pattern. The outline is convex and the same when it
    /// is turned by half a turn; a window, so wide, is well inside it.
    pub(super) fn add(
        b: &mut Builder,
        name: &'static str,
        outline: Vec<Point>,
        face: Face,
        window_mm: Option<f64>,
    ) -> Self {
        let mut panel = |outline| b.panel(name, outline, (face, 0), PanelRole::Wall);
        let Some(across) = window_mm else {
            return Self {
                panels: vec![panel(outline)],
            };
        };
        let upper = upper_half(&outline, across / 2.0);
        let panels = vec![panel(half_turn(&upper)), panel(upper)];
        let (left, right) = seam(&outline, across / 2.0);
        for line in [left, right] {
            b.bend(name, line, (panels[0], panels[1]), 0.0);
        }
        let arc = arc(across / 2.0);
        // Without the last corner: the other half begins there.
        let half = arc.get(..HALF_PIECES).unwrap_or_default();
        b.waste([half, &half_turn(half)].concat(), WasteReason::Window);
        let round = [half, &half_turn(&arc)].concat();
        b.curve(round, CurveShape::Circle(Point::ORIGIN));
        Self { panels }
    }

    /// Hangs a wall on the floor along a line that may cross the seam: one crease, or one on each
    /// side of it.
    pub(super) fn hinge(
        &self,
        b: &mut Builder,
        name: &'static str,
        (from, to): (Point, Point),
        wall: PanelId,
    ) -> Vec<CreaseId> {
        let [lower, upper] = self.panels[..] else {
            let whole = self.panels.first().copied();
            let hang = |floor| b.crease(name, (from, to), (floor, wall), 90.0);
            return whole.map(hang).into_iter().collect();
        };
        let mut ends = vec![from, to];
        if from.y * to.y < 0.0 {
            ends.insert(1, from.lerp(to, from.y / (from.y - to.y)));
        }
        let parts = ends.iter().zip(ends.iter().skip(1));
        parts
            .map(|(&p, &q)| {
                let half = if p.y + q.y < 0.0 { lower } else { upper };
                b.crease(name, (p, q), (half, wall), 90.0)
            })
            .collect()
    }
}

/// From the left end of the round, at its own height, over its top to the right end.
fn arc(radius: f64) -> Vec<Point> {
    let at = |piece: usize| {
        let angle = PI * piece as f64 / HALF_PIECES as f64;
        Point::new(-radius * angle.cos(), radius * angle.sin())
    };
    let mut arc: Vec<Point> = (0..=HALF_PIECES).map(at).collect();
    // Both halves meet in the very same corners.
    arc[0] = Point::new(-radius, 0.0);
    arc[HALF_PIECES] = Point::new(radius, 0.0);
    arc
}

fn half_turn(outline: &[Point]) -> Vec<Point> {
    outline.iter().map(|p| Point::new(-p.x, -p.y)).collect()
}

/// What lies above the seam, with half of the window cut into it.
fn upper_half(outline: &[Point], radius: f64) -> Vec<Point> {
    let (left, right) = (Point::new(-1.0, 0.0), Point::new(1.0, 0.0));
    let (mut upper, _) = trim(outline, left, right);
    let starts = |p: &Point| p.y.abs() < 1e-9 && p.x < 0.0;
    if let Some(start) = upper.iter().position(starts) {
        // Counter-clockwise, the seam follows the corner at its left end.
        upper.rotate_left(start + 1);
        upper.extend(arc(radius));
    }
    upper
}

/// What is left of the seam on both sides of the window.
fn seam(outline: &[Point], radius: f64) -> ((Point, Point), (Point, Point)) {
    let (upper, _) = trim(outline, Point::new(-1.0, 0.0), Point::new(1.0, 0.0));
    let on_seam = upper.iter().filter(|p| p.y.abs() < 1e-9);
    let end = on_seam.map(|p| p.x).fold(radius, f64::max);
    let line = |from: f64, to: f64| (Point::new(from, 0.0), Point::new(to, 0.0));
    (line(-end, -radius), line(radius, end))
}
