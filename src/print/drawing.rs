//! What is drawn of a template: lines, glue and names at true size, mm, y down as on the page,
//! the left top corner of all its lines at the origin.

use tablefold_geometry::{CreaseLine, Pattern, Point, Side, pattern_lines};

use super::area::Area;
use super::quad::{Quad, Segment, inside, sides, turn};

/// A line that is cut.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct CutLine {
    pub(super) points: Vec<Point>,
    /// Whether it ends where it starts.
    pub(super) closed: bool,
}

/// An area that gets glue.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GlueArea {
    pub(super) outline: Vec<Point>,
    /// On the side that is not printed.
    pub(super) behind: bool,
}

/// A drawing that can be turned, and never scaled.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Drawing {
    pub(super) cuts: Vec<CutLine>,
    pub(super) creases: Vec<CreaseLine>,
    pub(super) glue: Vec<GlueArea>,
    /// Names, each with what it names.
    pub(super) panels: Vec<(String, Vec<Point>)>,
    /// How far it is turned, degrees clockwise.
    pub(super) angle_deg: f64,
}

impl Drawing {
    pub(super) fn of_pattern(pattern: &Pattern) -> Self {
        let lines = pattern_lines(pattern);
        let line = |closed| move |points| CutLine { points, closed };
        let slits = lines.slits.into_iter().map(line(false));
        let outlines = lines.outlines.into_iter().map(line(true));
        let panels = lines.panels.into_iter();
        let glue = pattern.glue.iter().map(|zone| GlueArea {
            outline: zone.area.clone(),
            // A pattern is seen from the side that ends up inside, and so it is printed.
            behind: zone.on_side == Side::Outside,
        });
        let up = Self {
            cuts: slits.chain(outlines).collect(),
            creases: lines.creases,
            glue: glue.collect(),
            panels: panels
                .map(|(name, outline)| (name.to_owned(), outline))
                .collect(),
            angle_deg: 0.0,
        };
        up.mapped(|p| Point::new(p.x, -p.y)).at_origin()
    }

    /// A closed shape with its name.
    pub(super) fn of_shape(name: &str, outline: Vec<Point>) -> Self {
        let closed = CutLine {
            points: outline.clone(),
            closed: true,
        };
        let drawing = Self {
            cuts: vec![closed],
            panels: vec![(name.to_owned(), outline)],
            ..Self::default()
        };
        drawing.at_origin()
    }

    /// Several, `apart` mm between them: in a row, or one above the other.
    pub(super) fn together(parts: &[Self], apart: f64, in_a_row: bool) -> Self {
        let mut all = Self::default();
        let mut start = 0.0;
        for part in parts {
            let (width, height) = part.size();
            let (by, length) = match in_a_row {
                true => ((start, 0.0), width),
                false => ((0.0, start), height),
            };
            let moved = part.clone().mapped(|p| Point::new(p.x + by.0, p.y + by.1));
            all.cuts.extend(moved.cuts);
            all.creases.extend(moved.creases);
            all.glue.extend(moved.glue);
            all.panels.extend(moved.panels);
            start += length + apart;
        }
        all
    }

    /// Turned clockwise, its left top corner at the origin again.
    pub(super) fn turned(&self, angle_deg: f64) -> Self {
        let mut turned = self
            .clone()
            .mapped(|p| {
                let (x, y) = turn((p.x, p.y), angle_deg);
                Point::new(x, y)
            })
            .at_origin();
        turned.angle_deg += angle_deg;
        turned
    }

    /// Width and height, mm.
    pub(super) fn size(&self) -> (f64, f64) {
        let area = self.area();
        (area.width(), area.height())
    }

    /// Cuts and creases, piece by piece: what words keep clear of.
    pub(super) fn lines(&self) -> Vec<Segment> {
        let open = |points: &[Point]| -> Vec<Segment> {
            let pairs = points.iter().zip(points.iter().skip(1));
            pairs.map(|(&a, &b)| [a, b]).collect()
        };
        let cuts = self.cuts.iter().flat_map(|cut| match cut.closed {
            true => sides(&cut.points).collect(),
            false => open(&cut.points),
        });
        let creases = self.creases.iter().flat_map(|it| open(&it.points));
        cuts.chain(creases).collect()
    }

    /// Whether any paper of the template lies in a part of the page.
    pub(super) fn reaches(&self, window: &Area) -> bool {
        let frame = Quad(window.corners());
        let mut outlines = self.cuts.iter().filter(|cut| cut.closed);
        outlines.any(|cut| {
            sides(&cut.points).any(|side| frame.meets(side)) || inside(window.middle(), &cut.points)
        })
    }

    fn area(&self) -> Area {
        Area::round(self.cuts.iter().flat_map(|cut| &cut.points))
    }

    fn at_origin(self) -> Self {
        let Area { left, top, .. } = self.area();
        self.mapped(|p| Point::new(p.x - left, p.y - top))
    }

    fn mapped(mut self, to: impl Fn(Point) -> Point) -> Self {
        let cuts = self.cuts.iter_mut().map(|cut| &mut cut.points);
        let creases = self.creases.iter_mut().map(|crease| &mut crease.points);
        let glue = self.glue.iter_mut().map(|area| &mut area.outline);
        let panels = self.panels.iter_mut().map(|(_, outline)| outline);
        for points in cuts.chain(creases).chain(glue).chain(panels) {
            for p in points {
                *p = to(*p);
            }
        }
        self
    }
}
