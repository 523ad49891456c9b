//! Folding: where every panel of a pattern is in space, at any moment.
//!
//! The walk starts at the root, which stays in z = 0, and goes out over the creases; each one
//! turns its child about itself. A crease runs from a to b with the parent on its left, so a
//! valley (positive angle), which lifts the child towards the eye, is a left-handed turn about
//! a -> b.

use kurbo::Point;

use crate::fold_check::covered_faces;
use crate::region::Region;
use crate::{PanelId, Pattern, Pose, Vec3};

/// A pattern at one moment of being folded.
#[derive(Clone, Debug, PartialEq)]
pub struct Folded {
    poses: Vec<Option<Pose>>,
    panels: Vec<Vec<Vec3>>,
}

impl Folded {
    /// The corners of each panel in space, mm, in the order of its outline; empty for a panel
    /// that no crease reaches.
    #[must_use]
    pub fn panels(&self) -> &[Vec<Vec3>] {
        &self.panels
    }

    /// Where a panel is, if a crease reaches it.
    #[must_use]
    pub fn pose(&self, id: PanelId) -> Option<&Pose> {
        self.poses.get(id.0)?.as_ref()
    }

    /// The volume that the panels enclose, mm³, taken as a convex solid whose faces are the
    /// planes in which panels lie: the sum over the planes of (area covered) x (distance from
    /// the middle) / 3. Paper that lies double counts once; a hole makes the volume smaller.
    #[must_use]
    pub fn volume(&self, pattern: &Pattern) -> f64 {
        let corners = || self.panels.iter().flatten();
        let sum = corners().fold(Vec3::default(), |sum, &corner| sum + corner);
        let middle = sum * (1.0 / corners().count().max(1) as f64);
        let mut planes: Vec<(&Pose, Vec<Vec<Point>>)> = Vec::new();
        for (pose, panel) in self.poses.iter().zip(&pattern.panels) {
            let Some(pose) = pose else { continue };
            let corners = || panel.outline.iter().map(|&p| pose.place(p));
            let same = planes
                .iter_mut()
                .find(|(plane, _)| corners().all(|corner| plane.flat_of(corner).1.abs() < 1e-6));
            match same {
                Some((plane, outlines)) => {
                    outlines.push(corners().map(|corner| plane.flat_of(corner).0).collect());
                }
                None => planes.push((pose, vec![panel.outline.clone()])),
            }
        }
        let part = |(pose, outlines): &(&Pose, Vec<Vec<Point>>)| {
            let outlines: Vec<&[Point]> = outlines.iter().map(Vec::as_slice).collect();
            Region::union(&outlines).area() * pose.flat_of(middle).1.abs() / 3.0
        };
        planes.iter().map(part).sum()
    }

    /// The volume that the closed piece holds, mm³, for a solid of any shape: a third of the sum
    /// over its faces of (area that panels cover) x (distance of the plane from the origin, out
    /// of the solid positive), by the divergence theorem. Open faces count whole, as if a lid lay
    /// on them.
    #[must_use]
    pub fn volume_of_solid(&self, pattern: &Pattern) -> f64 {
        covered_faces(pattern, self)
            .map(|(area, distance)| area * distance / 3.0)
            .sum()
    }
}

/// Folds each crease to an angle in degrees; a crease without an angle stays flat.
#[must_use]
pub fn fold(pattern: &Pattern, angles: &[f64]) -> Folded {
    let mut poses: Vec<Option<Pose>> = vec![None; pattern.panels.len()];
    if let Some(root) = poses.get_mut(pattern.root.0) {
        *root = Some(Pose::FLAT);
    }
    // Each round reaches at least one more panel, or the walk is over.
    loop {
        let mut reached = false;
        for (index, crease) in pattern.creases.iter().enumerate() {
            let parent = poses.get(crease.parent.0).copied().flatten();
            let (Some(parent), Some(None)) = (parent, poses.get(crease.child.0)) else {
                continue;
            };
            let degrees = angles.get(index).copied().unwrap_or(0.0);
            let pose = parent.after(&Pose::turn_about(crease.a, crease.b, -degrees));
            if let Some(child) = poses.get_mut(crease.child.0) {
                *child = Some(pose);
                reached = true;
            }
        }
        if !reached {
            break;
        }
    }
    let place = |(panel, pose): (&crate::Panel, &Option<Pose>)| match pose {
        Some(pose) => panel.outline.iter().map(|&p| pose.place(p)).collect(),
        None => Vec::new(),
    };
    let panels = pattern.panels.iter().zip(&poses).map(place).collect();
    Folded { poses, panels }
}

/// The pattern once the first `steps` folds are made.
#[must_use]
pub fn fold_after(pattern: &Pattern, steps: usize) -> Folded {
    fold(pattern, &pattern.angles_after(steps))
}

/// The closed piece.
#[must_use]
pub fn fold_closed(pattern: &Pattern) -> Folded {
    fold(pattern, &pattern.final_angles())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Length, PunchBoard, PunchBox, PunchBoxSettings};

    fn seed_tin_box() -> PunchBox {
        let mark = |sixteenths: i64| Length::from_nm(1_587_500 * sixteenths);
        let settings = PunchBoxSettings {
            sheet: mark(84),
            punch_1: mark(24),
            punch_2: mark(46),
        };
        PunchBox::new(
            settings,
            &PunchBoard::default_inch(),
            Length::from_nm(300_000),
        )
        .unwrap()
    }

    #[test]
    fn the_root_stays_and_a_valley_comes_towards_the_eye() {
        let pattern = seed_tin_box().pattern();
        for steps in 1..=pattern.folds.len() {
            let folded = fold_after(&pattern, steps);
            assert!(
                folded.panels()[0].iter().all(|p| p.z == 0.0),
                "root after {steps}"
            );
            let lowest = folded
                .panels()
                .iter()
                .flatten()
                .map(|p| p.z)
                .fold(0.0, f64::min);
            assert!(lowest > -1e-9, "{lowest} mm below the table after {steps}");
        }
    }

    #[test]
    fn folding_keeps_every_length() {
        let pattern = seed_tin_box().pattern();
        for step in 0..pattern.folds.len() {
            let folded = fold(&pattern, &pattern.angles_during(step, 0.37));
            for (panel, corners) in pattern.panels.iter().zip(folded.panels()) {
                for (i, p) in panel.outline.iter().enumerate() {
                    for (j, q) in panel.outline.iter().enumerate() {
                        let (flat, space) = ((*p - *q).hypot(), (corners[i] - corners[j]).length());
                        assert!((flat - space).abs() < 1e-9, "{} {i} {j}", panel.name);
                    }
                }
            }
        }
    }

    #[test]
    fn the_last_fold_is_the_closed_piece() {
        let pattern = seed_tin_box().pattern();
        assert_eq!(
            fold_after(&pattern, pattern.folds.len()),
            fold_closed(&pattern)
        );
        assert_eq!(fold_after(&pattern, usize::MAX), fold_closed(&pattern));
    }

    #[test]
    fn a_box_holds_width_times_length_times_depth() {
        let made = seed_tin_box();
        let pattern = made.pattern();
        let want = made.width_mm() * made.length_mm() * made.depth_mm();
        let volume = fold_closed(&pattern).volume(&pattern);
        assert!(
            (volume / want - 1.0).abs() < 1e-9,
            "{volume} against {want}"
        );
        // The walls alone, as triangles that look outwards, by the divergence theorem.
        let folded = fold_closed(&pattern);
        let wall = |name| {
            let (id, _) = pattern.panel_named(name).unwrap();
            let corners = &folded.panels()[id.0];
            vec![
                [corners[0], corners[2], corners[1]],
                [corners[0], corners[3], corners[2]],
            ]
        };
        let names = [
            "front",
            "left side wall",
            "right side wall",
            "bottom end wall",
            "top end wall",
        ];
        let mut shell: Vec<_> = names.into_iter().flat_map(wall).collect();
        let back = wall("front").into_iter().map(|[p, q, r]| {
            let up = |v: Vec3| v + Vec3::new(0.0, 0.0, made.depth_mm());
            [up(p), up(r), up(q)]
        });
        shell.extend(back);
        let volume = crate::enclosed_volume(&shell);
        assert!(
            (volume / want - 1.0).abs() < 1e-9,
            "{volume} against {want}"
        );
    }

    #[test]
    fn angles_that_are_missing_stay_flat() {
        let pattern = seed_tin_box().pattern();
        let flat = fold(&pattern, &[]);
        assert!(flat.panels().iter().flatten().all(|p| p.z == 0.0));
    }
}
