//! A pattern under construction: hands out ids, keeps outlines tidy.

use kurbo::Point;

use crate::polygon::{keep_left, signed_area};
use crate::region::Region;
use crate::{
    Crease, CreaseId, Curve, CurveShape, Cut, Face, FoldStep, GlueZone, Panel, PanelId, PanelRole,
    Pattern, Solid, SolidFace, Vec3, Waste, WasteReason,
};

/// Collects the parts of a pattern.
#[derive(Default)]
pub(super) struct Builder {
    panels: Vec<Panel>,
    creases: Vec<Crease>,
    cuts: Vec<Cut>,
    waste: Vec<Waste>,
    curves: Vec<Curve>,
    glue: Vec<GlueZone>,
    folds: Vec<FoldStep>,
}

impl Builder {
    pub(super) fn panel(
        &mut self,
        name: &'static str,
        outline: Vec<Point>,
        (plane, layer): (Face, i8),
        role: PanelRole,
    ) -> PanelId {
        self.panels.push(Panel {
            name,
            outline: ccw(outline),
            plane: Some(plane),
            layer,
            role,
        });
        PanelId(self.panels.len() - 1)
    }

    /// A crease between two panels; the line may run either way.
    pub(super) fn crease(
        &mut self,
        name: &'static str,
        (p, q): (Point, Point),
        (parent, child): (PanelId, PanelId),
        angle_deg: f64,
    ) -> CreaseId {
        let middle = self
            .outline(parent)
            .first()
            .map_or(p, |_| centre(self.outline(parent)));
        let parent_left = (q - p).cross(middle - p) > 0.0;
        let (a, b) = if parent_left { (p, q) } else { (q, p) };
        self.creases.push(Crease {
            name,
            a,
            b,
            parent,
            child,
            angle_deg,
            smooth: false,
        });
        CreaseId(self.creases.len() - 1)
    }

    /// A smooth crease between two strips of one bent panel.
    pub(super) fn bend(
        &mut self,
        name: &'static str,
        line: (Point, Point),
        strips: (PanelId, PanelId),
        angle_deg: f64,
    ) -> CreaseId {
        let id = self.crease(name, line, strips, angle_deg);
        if let Some(crease) = self.creases.get_mut(id.0) {
            crease.smooth = true;
        }
        id
    }

    pub(super) fn cut(&mut self, a: Point, b: Point) {
        self.cuts.push(Cut { a, b });
    }

    /// Paper that goes; nothing is noted where nothing is left to cut.
    pub(super) fn waste(&mut self, outline: Vec<Point>, why: WasteReason) {
        if outline.len() > 2 && signed_area(&outline).abs() > 1e-9 {
            self.waste.push(Waste {
                outline: ccw(outline),
                why,
            });
        }
    }

    /// Says that edges or creases through these corners are a curve.
    pub(super) fn curve(&mut self, corners: Vec<Point>, shape: CurveShape) {
        self.curves.push(Curve { corners, shape });
    }

    /// Makes one bit of waste of those that lie side by side: each is cut off in one go.
    pub(super) fn join_waste(&mut self, why: WasteReason) {
        let (joined, rest) = std::mem::take(&mut self.waste)
            .into_iter()
            .partition::<Vec<Waste>, _>(|waste| waste.why == why);
        self.waste = rest;
        let outlines: Vec<&[Point]> = joined.iter().map(|it| it.outline.as_slice()).collect();
        for outline in Region::union(&outlines).rings() {
            self.waste(outline, why);
        }
    }

    pub(super) fn glue(&mut self, zone: GlueZone) {
        self.glue.push(zone);
    }

    /// Adds a fold to the final angle of each crease, and returns its place in the order.
    pub(super) fn fold(&mut self, name: &'static str, creases: &[CreaseId]) -> usize {
        let angle = |id: &CreaseId| {
            self.creases
                .get(id.0)
                .map_or(0.0, |crease| crease.angle_deg)
        };
        let creases = creases.iter().map(|id| (*id, angle(id))).collect();
        self.folds.push(FoldStep {
            name,
            creases,
            way: Vec::new(),
            is_far: false,
        });
        self.folds.len() - 1
    }

    /// Adds a fold to these angles, and returns its place in the order.
    pub(super) fn fold_to(&mut self, name: &'static str, creases: Vec<(CreaseId, f64)>) -> usize {
        self.folds.push(FoldStep {
            name,
            creases,
            way: Vec::new(),
            is_far: false,
        });
        self.folds.len() - 1
    }

    /// Adds a fold whose creases move each other, by the moments on its way.
    pub(super) fn fold_along(
        &mut self,
        name: &'static str,
        creases: Vec<(CreaseId, f64)>,
        way: Vec<(f64, Vec<f64>)>,
    ) -> usize {
        let index = self.fold_to(name, creases);
        if let Some(step) = self.folds.get_mut(index) {
            step.way = way;
        }
        index
    }

    /// Says that these folds are done at the far end.
    pub(super) fn at_far_end(&mut self, folds: std::ops::Range<usize>) {
        for step in self.folds.get_mut(folds).unwrap_or_default() {
            step.is_far = true;
        }
    }

    pub(super) fn outline(&self, id: PanelId) -> &[Point] {
        self.panels
            .get(id.0)
            .map_or(&[], |panel| panel.outline.as_slice())
    }

    pub(super) fn finish(
        self,
        name: &'static str,
        blank: Vec<Point>,
        solid: Solid,
        (caliper_mm, folds_before_filling): (f64, usize),
    ) -> Pattern {
        Pattern {
            name,
            blank,
            panels: self.panels,
            creases: self.creases,
            cuts: self.cuts,
            waste: self.waste,
            curves: self.curves,
            glue: self.glue,
            folds: self.folds,
            folds_before_filling,
            solid,
            caliper_mm,
            root: PanelId(0),
        }
    }
}

/// The same outline, counter-clockwise.
pub(super) fn ccw(mut outline: Vec<Point>) -> Vec<Point> {
    if signed_area(&outline) < 0.0 {
        outline.reverse();
    }
    outline
}

/// A convex outline cut along a line: what is on its left, and what falls off on its right.
pub(super) fn trim(outline: &[Point], a: Point, b: Point) -> (Vec<Point>, Vec<Point>) {
    (keep_left(outline, a, b), keep_left(outline, b, a))
}

pub(super) fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    vec![
        Point::new(x0, y0),
        Point::new(x1, y0),
        Point::new(x1, y1),
        Point::new(x0, y1),
    ]
}

pub(super) fn mirror_x(outline: &[Point]) -> Vec<Point> {
    ccw(outline.iter().map(|p| Point::new(-p.x, p.y)).collect())
}

pub(super) fn mirror_y(outline: &[Point]) -> Vec<Point> {
    ccw(outline.iter().map(|p| Point::new(p.x, -p.y)).collect())
}

/// Turned about the origin by quarter turns counter-clockwise.
pub(super) fn turn(p: Point, quarters: u8) -> Point {
    match quarters % 4 {
        0 => p,
        1 => Point::new(-p.y, p.x),
        2 => Point::new(-p.x, -p.y),
        _ => Point::new(p.y, -p.x),
    }
}

/// A plane face of a solid, its corners in either order round it, that looks roughly along `out`.
pub(super) fn solid_face(
    name: &'static str,
    mut corners: Vec<Vec3>,
    out: Vec3,
    open: bool,
) -> SolidFace {
    let next = corners.iter().cycle().skip(1);
    let normal = corners
        .iter()
        .zip(next)
        .fold(Vec3::default(), |sum, (p, q)| sum + p.cross(*q));
    if normal.dot(out) < 0.0 {
        corners.reverse();
    }
    SolidFace {
        name,
        corners,
        open,
    }
}

fn centre(outline: &[Point]) -> Point {
    let sum = outline
        .iter()
        .fold(kurbo::Vec2::ZERO, |sum, p| sum + p.to_vec2());
    (sum / outline.len().max(1) as f64).to_point()
}
