//! Point 3, closed: the panels in each face cover it, and none sticks out past its edges.

use kurbo::{Point, Rect};

use super::moments::Moments;
use super::stack::{FacePlane, faces};
use super::{Check, Worst};
use crate::Pattern;
use crate::polygon::bounds;
use crate::region::Region;

/// Share of a face that has to be covered, in percent.
const LEAST_PERCENT: f64 = 99.9;
/// Nothing sticks out past the edge of a face by more, mm.
const STICKS_OUT_MM: f64 = 1e-6;

pub(super) fn check(pattern: &Pattern, moments: &Moments) -> Check {
    let mut worst = Worst::new(100.0 - LEAST_PERCENT);
    for plane in faces(&pattern.solid) {
        let mut lying: Vec<Vec<Point>> = Vec::new();
        for (panel, corners) in pattern.panels.iter().zip(moments.closed.panels()) {
            let lies = plane.holds(corners);
            if panel.plane == Some(plane.face) && !lies {
                worst.note(-LEAST_PERCENT, || {
                    format!(
                        "The {} does not lie in the {}.",
                        panel.name,
                        plane.face.name()
                    )
                });
            }
            // A flat piece has front and back in one plane: each counts its own panels.
            if lies && panel.plane == Some(plane.face) {
                let seen: Vec<Point> = corners.iter().map(|&p| plane.seen(p)).collect();
                let out = sticks_out(&seen, plane.rect);
                if out > STICKS_OUT_MM {
                    worst.note(-out, || {
                        format!(
                            "The {} sticks out past the {} by {out:.3} mm.",
                            panel.name,
                            plane.face.name(),
                        )
                    });
                }
                lying.push(seen);
            }
        }
        if !plane.open {
            let percent = coverage(&plane, &lying);
            worst.note(percent - LEAST_PERCENT, || {
                format!(
                    "{:.3} % of the {} is open.",
                    100.0 - percent,
                    plane.face.name()
                )
            });
        }
    }
    worst.check("closed", "%", |margin| {
        format!(
            "Every face that should be closed is covered to {:.3} %.",
            margin + LEAST_PERCENT
        )
    })
}

fn coverage(plane: &FacePlane, lying: &[Vec<Point>]) -> f64 {
    let r = plane.rect;
    let face = [
        Point::new(r.x0, r.y0),
        Point::new(r.x1, r.y0),
        Point::new(r.x1, r.y1),
        Point::new(r.x0, r.y1),
    ];
    let outlines: Vec<&[Point]> = lying.iter().map(Vec::as_slice).collect();
    let face = Region::union(&[&face]);
    let bare = face.minus(&Region::union(&outlines)).area();
    100.0 * (1.0 - bare / face.area())
}

fn sticks_out(seen: &[Point], rect: Rect) -> f64 {
    let Some(have) = bounds(seen) else { return 0.0 };
    [
        rect.x0 - have.x0,
        rect.y0 - have.y0,
        have.x1 - rect.x1,
        have.y1 - rect.y1,
    ]
    .into_iter()
    .fold(0.0, f64::max)
}
