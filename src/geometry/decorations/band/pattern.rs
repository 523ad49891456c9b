//! The band as a flat pattern that folds into a sleeve, both ends open.
//!
//! The front is the root, its middle the origin; the strip runs along x. The left end lies on
//! the box, the right end on top of it, with the glue.

use kurbo::{Point, Vec2};

use super::Band;
use crate::{
    Crease, CreaseId, Curve, CurveShape, Face, FingerNotch, FoldStep, GlueZone, Panel, PanelId,
    PanelRole, Pattern, Side, Solid, Waste, WasteReason,
};

/// Chords that draw a finger notch: within 0.02 mm of the round for a 1 in circle.
const NOTCH_SIDES: u32 = 32;

const LEFT_END: PanelId = PanelId(3);
const RIGHT_END: PanelId = PanelId(4);

impl Band {
    /// The flat pattern, crease to crease exact: the marks of a ruler may be off by
    /// [`super::BandCrease::off_mm`].
    ///
    /// Top and bottom end are declared open, and so is the front where a finger notch opens it.
    #[must_use]
    pub fn pattern(&self) -> Pattern {
        let places = Places::of(self);
        let Places { half_height: y, .. } = places;
        let mut open = vec![Face::Top, Face::Bottom];
        if self.notch().is_some() {
            open.push(Face::Front);
        }
        Pattern {
            name: "band",
            blank: rectangle(-places.end, places.end, y),
            panels: places.panels(self.notch()),
            creases: places.creases(),
            cuts: Vec::new(),
            waste: places.waste(self.notch()),
            curves: places.curves(self.notch()),
            glue: vec![places.glue()],
            folds: folds(),
            folds_before_filling: 1,
            solid: Solid::Box {
                x: self.front_mm(),
                y: self.strip_width().mm(),
                z: self.side_mm(),
                open,
            },
            caliper_mm: self.caliper().mm(),
            root: PanelId(0),
        }
    }
}

/// Half of the strip, mm from the middle of the front.
struct Places {
    front: f64,
    side: f64,
    end: f64,
    overlap: f64,
    half_height: f64,
}

impl Places {
    fn of(band: &Band) -> Self {
        let front = band.front_mm() / 2.0;
        Self {
            front,
            side: front + band.side_mm(),
            end: band.strip_length().mm() / 2.0,
            overlap: band.overlap_mm(),
            half_height: band.strip_width().mm() / 2.0,
        }
    }

    fn panels(&self, notch: Option<FingerNotch>) -> Vec<Panel> {
        let Self {
            front,
            side,
            end,
            half_height: y,
            ..
        } = *self;
        let panel = |name, outline, plane, layer, role| Panel {
            name,
            outline,
            plane: Some(plane),
            layer,
            role,
        };
        let (wall, flap) = (PanelRole::Wall, PanelRole::Flap);
        let mut front_outline = rectangle(-front, front, y);
        if let Some(notch) = notch {
            // Round the outline counter-clockwise the notch comes between the two top corners,
            // and runs the other way round than by itself.
            let round = self.notch_polygon(notch).into_iter().rev();
            front_outline.splice(3..3, round);
        }
        vec![
            panel("front", front_outline, Face::Front, 0, wall),
            panel(
                "left side",
                rectangle(-side, -front, y),
                Face::Left,
                0,
                wall,
            ),
            panel(
                "right side",
                rectangle(front, side, y),
                Face::Right,
                0,
                wall,
            ),
            panel("left end", rectangle(-end, -side, y), Face::Back, 0, flap),
            panel("right end", rectangle(side, end, y), Face::Back, 1, flap),
        ]
    }

    fn notch_polygon(&self, notch: FingerNotch) -> Vec<Point> {
        let middle = Point::new(0.0, self.half_height);
        notch.polygon(middle, Vec2::new(0.0, -1.0), NOTCH_SIDES)
    }

    fn waste(&self, notch: Option<FingerNotch>) -> Vec<Waste> {
        let outline = |notch| Waste {
            outline: self.notch_polygon(notch),
            why: WasteReason::Notch,
        };
        notch.into_iter().map(outline).collect()
    }

    fn curves(&self, notch: Option<FingerNotch>) -> Vec<Curve> {
        let round = |notch| Curve {
            corners: self.notch_polygon(notch),
            shape: CurveShape::Circle(Point::new(0.0, self.half_height)),
        };
        notch.into_iter().map(round).collect()
    }

    fn creases(&self) -> Vec<Crease> {
        let y = self.half_height;
        // From a to b the parent is on the left: up on the right half, down on the left half.
        let crease = |name, x: f64, parent, child| Crease {
            name,
            a: Point::new(x, -y.copysign(x)),
            b: Point::new(x, y.copysign(x)),
            parent: PanelId(parent),
            child: PanelId(child),
            angle_deg: 90.0,
            smooth: false,
        };
        vec![
            crease("front to left side", -self.front, 0, 1),
            crease("front to right side", self.front, 0, 2),
            crease("left side to end", -self.side, 1, 3),
            crease("right side to end", self.side, 2, 4),
        ]
    }

    fn glue(&self) -> GlueZone {
        let needs_width_mm = Band::LEAST_OVERLAP.mm().min(self.overlap);
        GlueZone {
            name: "overlap at the back",
            area: rectangle(self.end - self.overlap, self.end, self.half_height),
            on: RIGHT_END,
            on_side: Side::Inside,
            to: LEFT_END,
            // A narrow strip has a narrow joint, whichever way the tape runs.
            needs_width_mm: needs_width_mm.min(2.0 * self.half_height),
            needs_area_mm2: needs_width_mm * 2.0 * self.half_height,
            with_fold: 2,
        }
    }
}

fn folds() -> Vec<FoldStep> {
    let step = |name, creases: &[usize]| FoldStep {
        name,
        creases: creases.iter().map(|&id| (CreaseId(id), 90.0)).collect(),
        way: Vec::new(),
        is_far: false,
    };
    vec![
        step("both sides", &[0, 1]),
        step("left end", &[2]),
        step("right end", &[3]),
    ]
}

fn rectangle(left: f64, right: f64, y: f64) -> Vec<Point> {
    vec![
        Point::new(left, -y),
        Point::new(right, -y),
        Point::new(right, y),
        Point::new(left, y),
    ]
}
