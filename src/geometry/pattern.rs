//! A flat pattern: panels joined by creases, and what is cut away.
//!
//! Millimetres, x right, y up, seen from the side of the paper that ends up inside. Panels are
//! simple polygons that run counter-clockwise. The middle of the root panel is the origin; it
//! stays in z = 0 and the solid stands on it.
//!
//! ```text
//!      crease a -> b, the parent on its left        angle > 0 (valley): the child comes
//!                                                   towards the eye, into the solid
//!      parent   ^ b
//!               |   child                               child |
//!               | a                                           |____ parent
//! ```
//!
//! Nothing here knows a structure or a tool: every structure fills in the same lists.

pub use kurbo::Point;

use crate::polygon::{deepest_point, signed_area};
use crate::{Curve, Vec3};

/// Which panel of a pattern: an index into [`Pattern::panels`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PanelId(pub usize);

/// Which crease of a pattern: an index into [`Pattern::creases`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CreaseId(pub usize);

/// What a panel is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PanelRole {
    /// A side of the piece.
    Wall,
    /// Closes a side, alone or with others.
    Flap,
    /// Joins or stiffens a corner.
    Tab,
}

/// One of the two sides of a sheet, named after where they end up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The side that ends up inside the piece (the side the pattern is seen from).
    Inside,
    /// The side that ends up outside.
    Outside,
}

/// A face of the solid; the piece lies on its front, as it is folded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// z = 0, the root panel.
    Front,
    /// z = depth.
    Back,
    /// x = -half the width.
    Left,
    /// x = +half the width.
    Right,
    /// y = -half the length.
    Bottom,
    /// y = +half the length.
    Top,
    /// A face of a solid that is no box: its place in [`Solid::Faces`].
    Numbered(u16),
}

impl Face {
    /// The six of a box.
    pub const ALL: [Self; 6] = [
        Self::Front,
        Self::Back,
        Self::Left,
        Self::Right,
        Self::Bottom,
        Self::Top,
    ];

    /// The name in a sentence; numbered faces have theirs in the solid ([`Solid::name_of`]).
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Back => "back",
            Self::Left => "left side",
            Self::Right => "right side",
            Self::Bottom => "bottom end",
            Self::Top => "top end",
            Self::Numbered(_) => "face",
        }
    }
}

/// A piece of paper between creases, cuts and edges.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// What it is called in a sentence: "left side flap".
    pub name: &'static str,
    /// Simple polygon, counter-clockwise, mm.
    pub outline: Vec<Point>,
    /// The face of the solid that it lies in when the piece is closed.
    pub plane: Option<Face>,
    /// Place in the stack of sheets on that face: 0 lies on the crease plane, 1, 2 … outside it,
    /// -1, -2 … inside it (those take room from the contents).
    pub layer: i8,
    /// What it is for.
    pub role: PanelRole,
}

/// A straight crease between two panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Crease {
    /// What it is called in a sentence.
    pub name: &'static str,
    /// Start; going from a to b the parent is on the left.
    pub a: Point,
    /// End.
    pub b: Point,
    /// The panel nearer to the root.
    pub parent: PanelId,
    /// The panel that the crease carries.
    pub child: PanelId,
    /// Angle when the piece is closed, in degrees: valley > 0, at most 180 either way.
    pub angle_deg: f64,
    /// Between two strips of one curved panel: the paper bends here and nobody folds it.
    pub smooth: bool,
}

/// A slit: no paper is lost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
}

/// Why a bit of paper is cut away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WasteReason {
    /// Punched out by the tool.
    Notch,
    /// Stuck out past an edge.
    Trim,
    /// A tip rounded so that it tucks.
    Rounded,
    /// Outside the outline of a template.
    Shape,
    /// Cut out of the middle of a face, to look through.
    Window,
}

/// A bit of paper that is cut away.
#[derive(Clone, Debug, PartialEq)]
pub struct Waste {
    /// Simple polygon, counter-clockwise, mm.
    pub outline: Vec<Point>,
    /// Why.
    pub why: WasteReason,
}

/// Where glue goes, and what it holds.
#[derive(Clone, Debug, PartialEq)]
pub struct GlueZone {
    /// What it is called in a sentence.
    pub name: &'static str,
    /// Simple polygon, counter-clockwise, in the flat pattern, mm: on the panel that gets glue.
    pub area: Vec<Point>,
    /// The panel that gets the glue.
    pub on: PanelId,
    /// Which side of it.
    pub on_side: Side,
    /// The panel it sticks to.
    pub to: PanelId,
    /// Width of the strip that has to fit into the zone, mm.
    pub needs_width_mm: f64,
    /// Area that the zone has to have, mm².
    pub needs_area_mm2: f64,
    /// The step (index into [`Pattern::folds`]) that brings the two together; the glue goes on
    /// just before it.
    pub with_fold: usize,
}

impl GlueZone {
    /// Width of the widest strip that fits into the zone, mm.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        deepest_point(&self.area).map_or(0.0, |(_, depth)| 2.0 * depth)
    }

    /// Its area, mm².
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        signed_area(&self.area).abs()
    }

    /// Whether it is as wide and as large as it has to be.
    #[must_use]
    pub fn is_large_enough(&self) -> bool {
        self.width_mm() >= self.needs_width_mm && self.area_mm2() >= self.needs_area_mm2
    }
}

/// One move of the hands: these creases go to these angles together.
#[derive(Clone, Debug, PartialEq)]
pub struct FoldStep {
    /// What is folded, in a few words: "both side walls".
    pub name: &'static str,
    /// Which creases, and the angle (degrees) that each has afterwards.
    pub creases: Vec<(CreaseId, f64)>,
    /// Where creases that move each other do not turn evenly: moments on the way, in order, each
    /// the part of the step (between 0 and 1) and the angles (degrees) of `creases` there. They
    /// turn evenly from one to the next; without any, all the way.
    pub way: Vec<(f64, Vec<f64>)>,
    /// Whether it is done at the far end: the piece is turned end for end, and drawn so.
    pub is_far: bool,
}

impl FoldStep {
    /// The angle of the crease at a place in `creases`, `part` of the way from one angle to the
    /// other.
    fn angle_at(&self, place: usize, (from, to): (f64, f64), part: f64) -> f64 {
        let moments = self.way.iter();
        let stops = moments.filter_map(|(at, angles)| Some((*at, *angles.get(place)?)));
        let mut last = (0.0, from);
        for next in stops.chain([(1.0, to)]) {
            if part <= next.0 {
                let share = (part - last.0) / (next.0 - last.0).max(f64::MIN_POSITIVE);
                return last.1 + (next.1 - last.1) * share;
            }
            last = next;
        }
        to
    }
}

/// A plane face of a solid.
#[derive(Clone, Debug, PartialEq)]
pub struct SolidFace {
    /// What it is called in a sentence.
    pub name: &'static str,
    /// Its corners, counter-clockwise seen from outside, mm.
    pub corners: Vec<Vec3>,
    /// Whether it is meant to stay open.
    pub open: bool,
}

/// What the closed piece is meant to be: crease to crease, mm, its front centred on the origin.
#[derive(Clone, Debug, PartialEq)]
pub enum Solid {
    /// A box: |x| <= x/2, |y| <= y/2, 0 <= z <= z.
    Box {
        /// Width.
        x: f64,
        /// Length.
        y: f64,
        /// Depth.
        z: f64,
        /// Faces that are meant to stay open.
        open: Vec<Face>,
    },
    /// Folded flat: front and back both in z = 0.
    Flat {
        /// Width.
        x: f64,
        /// Height.
        y: f64,
        /// Faces that are meant to stay open (front or back).
        open: Vec<Face>,
    },
    /// Any closed solid, convex or not, by its plane faces; the root panel lies in z = 0.
    Faces(Vec<SolidFace>),
}

impl Solid {
    /// The name of one of its faces in a sentence.
    #[must_use]
    pub fn name_of(&self, face: Face) -> &'static str {
        match (self, face) {
            (Self::Faces(faces), Face::Numbered(place)) => faces
                .get(usize::from(place))
                .map_or(face.name(), |face| face.name),
            _ => face.name(),
        }
    }

    /// The least and the greatest corner of the block round it, mm.
    #[must_use]
    pub fn bounds(&self) -> (Vec3, Vec3) {
        let block = |x: f64, y: f64, z: f64| {
            (
                Vec3::new(-x / 2.0, -y / 2.0, 0.0),
                Vec3::new(x / 2.0, y / 2.0, z),
            )
        };
        match self {
            Self::Box { x, y, z, .. } => block(*x, *y, *z),
            Self::Flat { x, y, .. } => block(*x, *y, 0.0),
            Self::Faces(faces) => {
                let corners = || faces.iter().flat_map(|face| face.corners.iter().copied());
                let first = corners().next().unwrap_or_default();
                corners().fold((first, first), |(low, high), p| (low.min(p), high.max(p)))
            }
        }
    }
}

/// A flat pattern with the order in which it is folded.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// What the piece is called.
    pub name: &'static str,
    /// The sheet, counter-clockwise, mm.
    pub blank: Vec<Point>,
    /// Paper that stays.
    pub panels: Vec<Panel>,
    /// Creases; together they reach every panel from the root.
    pub creases: Vec<Crease>,
    /// Slits between panels.
    pub cuts: Vec<Cut>,
    /// Paper that goes.
    pub waste: Vec<Waste>,
    /// What edges and creases follow with chords.
    pub curves: Vec<Curve>,
    /// Glue.
    pub glue: Vec<GlueZone>,
    /// Order of the hands.
    pub folds: Vec<FoldStep>,
    /// How many of the folds are made before the contents go in; the rest close the piece.
    pub folds_before_filling: usize,
    /// What it is meant to become.
    pub solid: Solid,
    /// Thickness of the paper, mm.
    pub caliper_mm: f64,
    /// The panel that stays on the table.
    pub root: PanelId,
}

impl Pattern {
    /// The panel, if the pattern has it.
    #[must_use]
    pub fn panel(&self, id: PanelId) -> Option<&Panel> {
        self.panels.get(id.0)
    }

    /// Its windows, each with a panel beside it: the window lies in the face of that panel.
    pub fn windows(&self) -> impl Iterator<Item = (&Waste, PanelId)> {
        let windows = self.waste.iter().filter(|it| it.why == WasteReason::Window);
        windows.filter_map(|window| {
            let is_beside =
                |panel: &Panel| panel.outline.iter().any(|p| window.outline.contains(p));
            let beside = self.panels.iter().position(is_beside)?;
            Some((window, PanelId(beside)))
        })
    }

    /// The first panel of that name.
    #[must_use]
    pub fn panel_named(&self, name: &str) -> Option<(PanelId, &Panel)> {
        let found = self
            .panels
            .iter()
            .enumerate()
            .find(|(_, panel)| panel.name == name);
        found.map(|(index, panel)| (PanelId(index), panel))
    }

    /// The strips of the bent panel that a panel belongs to, from one side to the other; a panel
    /// that is not bent is alone.
    #[must_use]
    pub fn bent_panel(&self, id: PanelId) -> Vec<PanelId> {
        let mut strips = vec![id];
        let mut next = 0;
        while let Some(&strip) = strips.get(next) {
            for crease in self.creases.iter().filter(|crease| crease.smooth) {
                let beside = match (crease.parent == strip, crease.child == strip) {
                    (true, false) => crease.child,
                    (false, true) => crease.parent,
                    _ => continue,
                };
                if !strips.contains(&beside) {
                    strips.push(beside);
                }
            }
            next += 1;
        }
        strips.sort_unstable();
        strips
    }

    /// The angle of each crease once the first `steps` folds are made, in degrees.
    #[must_use]
    pub fn angles_after(&self, steps: usize) -> Vec<f64> {
        let mut angles = vec![0.0; self.creases.len()];
        for (crease, angle) in self.folds.iter().take(steps).flat_map(|step| &step.creases) {
            if let Some(slot) = angles.get_mut(crease.0) {
                *slot = *angle;
            }
        }
        angles
    }

    /// The angles while fold `step` is under way: `part` runs from 0 (before it) to 1 (after it).
    #[must_use]
    pub fn angles_during(&self, step: usize, part: f64) -> Vec<f64> {
        let before = self.angles_after(step);
        let mut angles = before.clone();
        let Some(step) = self.folds.get(step) else {
            return angles;
        };
        for (place, (crease, to)) in step.creases.iter().enumerate() {
            let from = before.get(crease.0).copied().unwrap_or(0.0);
            if let Some(slot) = angles.get_mut(crease.0) {
                *slot = step.angle_at(place, (from, *to), part);
            }
        }
        angles
    }

    /// The final angle of each crease, in degrees.
    #[must_use]
    pub fn final_angles(&self) -> Vec<f64> {
        self.creases.iter().map(|crease| crease.angle_deg).collect()
    }
}
