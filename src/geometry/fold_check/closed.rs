//! Point 3, closed: the panels in each face cover it but for its windows, and none sticks out past
//! its edges.

use kurbo::Point;

use super::moments::Moments;
use super::stack::{FacePlane, faces};
use super::{Check, Worst};
use crate::polygon::{depth_inside, signed_area};
use crate::region::{Region, shared_area};
use crate::{Folded, Pattern};

/// Share of a face that has to be covered, in percent.
const LEAST_PERCENT: f64 = 99.9;
/// Nothing sticks out past the edge of a face by more, mm.
const STICKS_OUT_MM: f64 = 1e-6;
/// No more of a window is shut, mm².
const SHUT_MM2: f64 = 1e-6;

pub(super) fn check(pattern: &Pattern, moments: &Moments) -> Check {
    let mut worst = Worst::new(100.0 - LEAST_PERCENT);
    for plane in faces(&pattern.solid) {
        let mut lying: Vec<Vec<Point>> = Vec::new();
        for (panel, corners) in pattern.panels.iter().zip(moments.closed.panels()) {
            let lies = plane.holds(corners);
            if panel.plane == Some(plane.face) && !lies {
                worst.note(-LEAST_PERCENT, || {
                    format!("The {} does not lie in the {}.", panel.name, plane.name)
                });
            }
            // A flat piece has front and back in one plane: each counts its own panels.
            if lies && panel.plane == Some(plane.face) {
                let seen: Vec<Point> = corners.iter().map(|&p| plane.seen(p)).collect();
                let out = sticks_out(&seen, &plane.outline);
                if out > STICKS_OUT_MM {
                    worst.note(-out, || {
                        format!(
                            "The {} sticks out past the {} by {out:.3} mm.",
                            panel.name, plane.name,
                        )
                    });
                }
                lying.push(seen);
            }
        }
        let windows = windows_in(pattern, &moments.closed, &plane);
        if !plane.open {
            let percent = coverage(&plane, &lying, &windows);
            worst.note(percent - LEAST_PERCENT, || {
                format!("{:.3} % of the {} is open.", 100.0 - percent, plane.name)
            });
        }
        for window in &windows {
            let shut: f64 = lying.iter().map(|it| shared_area(it, window)).sum();
            if shut > SHUT_MM2 {
                worst.note(-shut, || {
                    format!(
                        "{shut:.3} mm² of the window in the {} are shut.",
                        plane.name
                    )
                });
            }
        }
    }
    worst.check("closed", "%", |margin| {
        format!(
            "Every face that should be closed is covered to {:.3} %.",
            margin + LEAST_PERCENT
        )
    })
}

/// For each face, the area of it that panels cover, mm² (all of it where it is meant to stay
/// open), and the distance of its plane from the origin, mm.
pub(crate) fn covered_faces(
    pattern: &Pattern,
    closed: &Folded,
) -> impl Iterator<Item = (f64, f64)> {
    faces(&pattern.solid).into_iter().map(move |plane| {
        let face = signed_area(&plane.outline).abs();
        if plane.open {
            return (face, plane.offset);
        }
        let panels = pattern.panels.iter().zip(closed.panels());
        let lying: Vec<Vec<Point>> = panels
            .filter(|(panel, corners)| panel.plane == Some(plane.face) && plane.holds(corners))
            .map(|(_, corners)| corners.iter().map(|&p| plane.seen(p)).collect())
            .collect();
        let windows = windows_in(pattern, closed, &plane);
        (
            face * coverage(&plane, &lying, &windows) / 100.0,
            plane.offset,
        )
    })
}

/// The share of the face, but for its windows, that is covered, in percent.
fn coverage(plane: &FacePlane, lying: &[Vec<Point>], windows: &[Vec<Point>]) -> f64 {
    let region = |outlines: &[Vec<Point>]| {
        let outlines: Vec<&[Point]> = outlines.iter().map(Vec::as_slice).collect();
        Region::union(&outlines)
    };
    let face = Region::union(&[&plane.outline]).minus(&region(windows));
    let bare = face.minus(&region(lying)).area();
    100.0 * (1.0 - bare / face.area())
}

/// The windows that lie in a face, seen in its plane.
fn windows_in(pattern: &Pattern, closed: &Folded, plane: &FacePlane) -> Vec<Vec<Point>> {
    let windows = pattern.windows().filter_map(|(window, beside)| {
        let panel = pattern.panel(beside)?;
        let pose = closed.pose(beside)?;
        let seen = |&p: &Point| plane.seen(pose.place(p));
        (panel.plane == Some(plane.face)).then(|| window.outline.iter().map(seen).collect())
    });
    windows.collect()
}

/// How far the farthest corner is outside the face, mm.
fn sticks_out(seen: &[Point], face: &[Point]) -> f64 {
    seen.iter()
        .map(|&p| -depth_inside(p, face))
        .fold(0.0, f64::max)
}
