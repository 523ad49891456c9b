//! What every structure from a notched square shares: checks of the settings, flaps, glue.
//!
//! In axes turned 45° with the origin in the middle the sheet is |u| + |v| <= R = S/√2. A notch
//! as deep as e is a right-angled V; its sides run along u and v and are s = √2 e long. A flap
//! from a side of length a is a wide for its first s, then narrows at 45° to a reach of a/2 + s.
//!
//! ```text
//!            v ^      /\            tip (0, R)
//!              |    /    \
//!              |  /  flap  \   <- sides at 45°: the edge of the sheet
//!              | |          |  <- s long: the side of a notch
//!      notch -> _|__________|_ <- notch
//!                 crease a
//! ```

use std::f64::consts::SQRT_2;

use kurbo::{Point, Vec2};

use super::build::{Builder, ccw, trim, turn};
use super::{SetOn, StructureError, StructureProblem};
use crate::polygon::{convex_overlap, dot_fits, keep_left, signed_area};
use crate::{
    CurveShape, Face, GlueZone, Length, PanelId, PanelRole, PunchBoard, Side, Waste, WasteReason,
};

/// Narrowest strip of glue that holds, mm (common practice, no source).
pub(super) const GLUE_WIDTH_MM: f64 = 3.0;
/// Smallest spot of glue that holds, mm² (common practice, no source).
pub(super) const GLUE_AREA_MM2: f64 = 30.0;

/// Settings and caliper that are lengths at all, and punches that are marks of the board (whose
/// ruler begins outside the notch).
pub(super) fn check_marks(
    sheet: Length,
    punches: &[(&'static str, Length)],
    board: &PunchBoard,
    caliper: Length,
) -> Result<(), StructureError> {
    let refuse = |problem| Err(StructureError::new(problem, board.ruler()));
    let usable = |length| length > Length::ZERO && length <= Length::MAX;
    if !usable(sheet) {
        return refuse(StructureProblem::Length {
            field: "sheet",
            asked: sheet,
        });
    }
    if !usable(caliper) {
        return refuse(StructureProblem::Length {
            field: "caliper",
            asked: caliper,
        });
    }
    for &(field, asked) in punches {
        if !usable(asked) {
            return refuse(StructureProblem::Length { field, asked });
        }
        if !board.ruler().has(asked) {
            return refuse(StructureProblem::OffRuler {
                field,
                tool: SetOn::PunchBoard,
                asked,
            });
        }
    }
    Ok(())
}

/// The far notch has to stay on the sheet.
pub(super) fn check_sheet(
    sheet: Length,
    last_punch: Length,
    board: &PunchBoard,
) -> Result<(), StructureError> {
    let more_than = last_punch + board.notch_depth();
    if sheet <= more_than {
        let problem = StructureProblem::SheetTooSmall { sheet, more_than };
        return Err(StructureError::new(problem, board.ruler()));
    }
    Ok(())
}

/// The sheet, standing on its corner.
pub(super) fn blank(sheet_mm: f64) -> Vec<Point> {
    let r = sheet_mm / SQRT_2;
    vec![
        Point::new(r, 0.0),
        Point::new(0.0, r),
        Point::new(-r, 0.0),
        Point::new(0.0, -r),
    ]
}

/// The notch whose bottom is at (u, v), both positive, and its mirrors.
pub(super) fn notches(b: &mut Builder, u: f64, v: f64, s: f64) {
    for (x, y) in [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)] {
        let at = |u: f64, v: f64| Point::new(u * x, v * y);
        b.waste(
            vec![at(u, v), at(u + s, v), at(u, v + s)],
            WasteReason::Notch,
        );
    }
}

/// A flap, and what is cut off it.
pub(super) struct Flap {
    pub(super) outline: Vec<Point>,
    pub(super) waste: Vec<Waste>,
    /// Its tip, where that is round: corners and middle.
    round: Option<(Vec<Point>, Point)>,
}

/// How a flap is made.
pub(super) struct FlapShape {
    /// Length of the side that it hinges on.
    pub(super) side: f64,
    /// √2 e.
    pub(super) s: f64,
    /// Distance from the hinge at which it is trimmed, if it gets that far.
    pub(super) trim_at: f64,
    /// Radius of the tip, 0 if left pointed.
    pub(super) radius: f64,
}

impl FlapShape {
    /// How far the tip is from the hinge before trimming and rounding.
    pub(super) fn reach(&self) -> f64 {
        self.side / 2.0 + self.s
    }

    /// The flap pointing along +x, its hinge on x = `hinge`.
    pub(super) fn pointing_right(&self, hinge: f64) -> Flap {
        let (half, reach) = (self.side / 2.0, self.reach());
        let outline = vec![
            Point::new(hinge, -half),
            Point::new(hinge + self.s, -half),
            Point::new(hinge + reach, 0.0),
            Point::new(hinge + self.s, half),
            Point::new(hinge, half),
        ];
        if self.trim_at < reach - 1e-9 {
            let x = hinge + self.trim_at;
            let (outline, off) = trim(&outline, Point::new(x, 0.0), Point::new(x, 1.0));
            return Flap {
                outline,
                waste: vec![Waste {
                    outline: off,
                    why: WasteReason::Trim,
                }],
                round: None,
            };
        }
        if self.radius <= 0.0 {
            return Flap {
                outline,
                waste: Vec::new(),
                round: None,
            };
        }
        self.rounded(hinge, &outline)
    }

    /// Replaces the right-angled tip by an arc that touches both sides, as short chords.
    fn rounded(&self, hinge: f64, outline: &[Point]) -> Flap {
        const CHORDS: u32 = 8;
        let tip = Point::new(hinge + self.reach(), 0.0);
        let middle = tip - Vec2::new(self.radius * SQRT_2, 0.0);
        let arc: Vec<Point> = (0..=CHORDS)
            .map(|i| {
                let angle = (f64::from(i) / f64::from(CHORDS) - 0.5) * std::f64::consts::FRAC_PI_2;
                middle + Vec2::from_angle(angle) * self.radius
            })
            .collect();
        let kept = outline[..2]
            .iter()
            .chain(&arc)
            .chain(&outline[3..])
            .copied()
            .collect();
        let off = std::iter::once(tip).chain(arc.iter().rev().copied());
        Flap {
            outline: kept,
            waste: vec![Waste {
                outline: ccw(off.collect()),
                why: WasteReason::Rounded,
            }],
            round: Some((arc, middle)),
        }
    }
}

impl Flap {
    /// The same flap turned about the origin by quarter turns counter-clockwise.
    pub(super) fn turned(self, quarters: u8) -> Self {
        let turned = |outline: &[Point]| -> Vec<Point> {
            outline.iter().map(|p| turn(*p, quarters)).collect()
        };
        Self {
            outline: turned(&self.outline),
            waste: self
                .waste
                .iter()
                .map(|waste| Waste {
                    outline: turned(&waste.outline),
                    why: waste.why,
                })
                .collect(),
            round: self
                .round
                .map(|(corners, middle)| (turned(&corners), turn(middle, quarters))),
        }
    }
}

impl Flap {
    /// Adds it to a pattern.
    pub(super) fn add(self, b: &mut Builder, name: &'static str, face: (Face, i8)) -> PanelId {
        for waste in self.waste {
            b.waste(waste.outline, waste.why);
        }
        if let Some((corners, middle)) = self.round {
            b.curve(corners, CurveShape::Circle(middle));
        }
        b.panel(name, self.outline, face, PanelRole::Flap)
    }
}

/// A last flap that holds two side flaps down: which they are, where they all are when closed.
pub(super) struct HeldDown {
    pub(super) name_outer: &'static str,
    pub(super) name_inner: &'static str,
    pub(super) flap: PanelId,
    pub(super) outer: PanelId,
    pub(super) inner: PanelId,
    pub(super) with_fold: usize,
}

impl HeldDown {
    /// Puts glue on the flap where it meets the outer flap, and where it meets what shows of the
    /// inner one. `lands` takes the flat flap, outer and inner panels to the closed plane (seen
    /// from the inside of the paper); `lifts` takes the closed plane back to the flat flap.
    pub(super) fn add_glue(
        &self,
        b: &mut Builder,
        lands: [&dyn Fn(Point) -> Point; 3],
        lifts: &dyn Fn(Point) -> Point,
    ) {
        let land = |id, how: &dyn Fn(Point) -> Point| {
            ccw(b.outline(id).iter().map(|p| how(*p)).collect::<Vec<_>>())
        };
        let flap = land(self.flap, lands[0]);
        let outer = land(self.outer, lands[1]);
        let inner = land(self.inner, lands[2]);
        let zones = [
            (self.name_outer, self.outer, convex_overlap(&flap, &outer)),
            (
                self.name_inner,
                self.inner,
                largest_outside(&convex_overlap(&flap, &inner), &outer),
            ),
        ];
        for (name, to, area) in zones {
            if !worth_gluing(&area) {
                continue;
            }
            b.glue(GlueZone {
                name,
                area: ccw(area.into_iter().map(lifts).collect()),
                on: self.flap,
                on_side: Side::Inside,
                to,
                needs_width_mm: GLUE_WIDTH_MM,
                needs_area_mm2: GLUE_AREA_MM2,
                with_fold: self.with_fold,
            });
        }
    }
}

/// Whether a spot is large enough for glue to hold.
pub(super) fn worth_gluing(area: &[Point]) -> bool {
    signed_area(area).abs() >= GLUE_AREA_MM2 && dot_fits(area, GLUE_WIDTH_MM)
}

/// The largest convex part of `area` that one edge of a convex `cover` leaves bare.
fn largest_outside(area: &[Point], cover: &[Point]) -> Vec<Point> {
    crate::polygon::edges(cover)
        .map(|(a, b)| keep_left(area, b, a))
        .max_by(|one, other| signed_area(one).total_cmp(&signed_area(other)))
        .unwrap_or_default()
}
