//! Point 5, glue: every zone is large enough, lands on its panel next to it in the stack, and
//! both sides are bare at the moment when the hands bring them together.

use kurbo::Point;

use super::moments::Moments;
use super::stack::{FacePlane, IN_PLANE_MM, faces, facing, growing, order};
use super::{Check, Worst};
use crate::region::{area_outside, shared_area};
use crate::{Folded, GlueZone, PanelId, Pattern, Pose, Side, Solid};

/// Areas agree to this many mm².
const TOLERANCE_MM2: f64 = 1e-3;

pub(super) fn check(pattern: &Pattern, moments: &Moments) -> Check {
    let faces = faces(&pattern.solid);
    let mut worst = Worst::new(f64::INFINITY);
    for zone in &pattern.glue {
        size(zone, &mut worst);
        let look = Look {
            pattern,
            moments,
            faces: &faces,
            zone,
        };
        if let Err(fault) = look.lands().and_then(|()| look.bare()) {
            worst.note(-zone.needs_width_mm, || {
                format!("Glue, {}: {fault}.", zone.name)
            });
        }
    }
    if worst.margin == f64::INFINITY {
        worst.margin = 0.0;
    }
    let zones = pattern.glue.len();
    worst.check("glue", "mm", |margin| match zones {
        0 => "Nothing is glued.".into(),
        _ => format!("{zones} glue zones are wide enough by {margin:.1} mm or more and in reach."),
    })
}

/// Width and area, as the zone itself asks.
fn size(zone: &GlueZone, worst: &mut Worst) {
    let width = zone.width_mm();
    worst.note(width - zone.needs_width_mm, || {
        format!(
            "Glue, {}: a strip of {width:.1} mm fits and {:.1} mm are needed.",
            zone.name, zone.needs_width_mm,
        )
    });
    let area = zone.area_mm2();
    if area < zone.needs_area_mm2 {
        worst.note(-zone.needs_width_mm, || {
            format!(
                "Glue, {}: the zone has {area:.0} mm² and {:.0} mm² are needed.",
                zone.name, zone.needs_area_mm2,
            )
        });
    }
}

struct Look<'a> {
    pattern: &'a Pattern,
    moments: &'a Moments,
    faces: &'a [FacePlane],
    zone: &'a GlueZone,
}

impl Look<'_> {
    fn name(&self, id: PanelId) -> &'static str {
        self.pattern.panel(id).map_or("", |panel| panel.name)
    }

    /// Place in the stack, seen as the stack of the glued panel grows.
    fn place(&self, id: PanelId) -> i32 {
        match (self.pattern.panel(self.zone.on), self.pattern.panel(id)) {
            (Some(on), Some(panel)) => {
                facing(self.pattern, self.faces, (on, panel)) * order(self.pattern, panel)
            }
            _ => 0,
        }
    }

    fn pose<'f>(&self, folded: &'f Folded, id: PanelId) -> Result<&'f Pose, String> {
        folded
            .pose(id)
            .ok_or_else(|| format!("the {} hangs on no crease", self.name(id)))
    }

    /// The zone lies on its panel; after the fold, and in the closed piece, all of it lies on the
    /// other one, and nothing between.
    fn lands(&self) -> Result<(), String> {
        let GlueZone {
            on,
            to,
            area,
            with_fold,
            ..
        } = self.zone;
        let (Some(panel), Some(target)) = (self.pattern.panel(*on), self.pattern.panel(*to)) else {
            return Err("a panel is missing".into());
        };
        let off = area_outside(area, &panel.outline);
        if off > TOLERANCE_MM2 {
            return Err(format!("{off:.1} mm² of it are not on the {}", panel.name));
        }
        let after = self
            .moments
            .after
            .get(with_fold + 1)
            .unwrap_or(&self.moments.closed);
        for folded in [after, &self.moments.closed] {
            let landed = seen_from(self.pose(folded, *to)?, self.pose(folded, *on)?, area);
            let landed = landed.ok_or_else(|| format!("it does not reach the {}", target.name))?;
            let off = area_outside(&landed, &target.outline);
            if off > TOLERANCE_MM2 {
                return Err(format!("{off:.1} mm² of it miss the {}", target.name));
            }
        }
        self.faces_target()?;
        let (low, high) = (
            self.place(*on).min(self.place(*to)),
            self.place(*on).max(self.place(*to)),
        );
        match self.covering(&self.moments.closed, *on, area, |place| {
            low < place && place < high
        })? {
            Some(cover) => Err(format!("the {} lies between", self.name(cover))),
            None => Ok(()),
        }
    }

    /// +1 if the glue looks along the growing stack, -1 if against it.
    fn direction(&self) -> Result<i32, String> {
        let panel = self
            .pattern
            .panel(self.zone.on)
            .ok_or("a panel is missing")?;
        let up = growing(self.pattern, self.faces, panel)
            .ok_or_else(|| format!("the {} lies on no face", panel.name))?;
        let inside = self
            .pose(&self.moments.closed, self.zone.on)?
            .inside_normal();
        let side = match self.zone.on_side {
            Side::Inside => inside,
            Side::Outside => -inside,
        };
        Ok(if side.dot(up) > 0.0 { 1 } else { -1 })
    }

    fn faces_target(&self) -> Result<(), String> {
        let towards = (self.place(self.zone.to) - self.place(self.zone.on)).signum();
        if towards == self.direction()? {
            Ok(())
        } else {
            Err(format!(
                "the {} lies on the other side",
                self.name(self.zone.to)
            ))
        }
    }

    /// Just before the fold the two are apart, and nothing lies on either of them there.
    fn bare(&self) -> Result<(), String> {
        let GlueZone {
            on,
            to,
            area,
            with_fold,
            ..
        } = self.zone;
        let before = self
            .moments
            .after
            .get(*with_fold)
            .ok_or("it belongs to no fold")?;
        if !self.moments.parts(*on, *to, *with_fold) {
            return Err("its fold does not bring the two together".into());
        }
        let up = self.direction()?;
        let here = self.place(*on);
        if let Some(cover) = self.covering(before, *on, area, |place| (place - here) * up > 0)? {
            return Err(format!("the {} already covers it", self.name(cover)));
        }
        let closed = &self.moments.closed;
        let target = seen_from(self.pose(closed, *to)?, self.pose(closed, *on)?, area)
            .ok_or("it does not reach")?;
        let there = self.place(*to);
        match self.covering(before, *to, &target, |place| (place - there) * up < 0)? {
            Some(cover) => Err(format!(
                "the {} already covers the {} there",
                self.name(cover),
                self.name(*to)
            )),
            None => Ok(()),
        }
    }

    /// Whether a panel has a place in the stack that is glued: on the same face, or anywhere in a
    /// flat piece.
    fn in_one_stack(&self, other: PanelId) -> bool {
        let face = |id: PanelId| self.pattern.panel(id).and_then(|panel| panel.plane);
        matches!(self.pattern.solid, Solid::Flat { .. }) || face(other) == face(self.zone.on)
    }

    /// A panel that lies flat on part of `area` (of the panel `id`, flat) at a moment and whose
    /// place in the stack counts.
    fn covering(
        &self,
        folded: &Folded,
        id: PanelId,
        area: &[Point],
        counts: impl Fn(i32) -> bool,
    ) -> Result<Option<PanelId>, String> {
        let base = self.pose(folded, id)?;
        for (index, panel) in self.pattern.panels.iter().enumerate() {
            let other = PanelId(index);
            let is_third = other != self.zone.on && other != self.zone.to;
            if !is_third || !self.in_one_stack(other) || !counts(self.place(other)) {
                continue;
            }
            let Some(pose) = folded.pose(other) else {
                continue;
            };
            let Some(there) = seen_from(base, pose, &panel.outline) else {
                continue;
            };
            if shared_area(&there, area) > TOLERANCE_MM2 {
                return Ok(Some(other));
            }
        }
        Ok(None)
    }
}

/// An outline of one panel in the flat coordinates of another, if it lies in its plane.
fn seen_from(base: &Pose, pose: &Pose, outline: &[Point]) -> Option<Vec<Point>> {
    outline
        .iter()
        .map(|&p| {
            let (seen, height) = base.flat_of(pose.place(p));
            (height.abs() < IN_PLANE_MM).then_some(seen)
        })
        .collect()
}
