//! The flat pattern of a punch-board envelope.
//!
//! Built standing, long sides upright; where the front is wider than high it is turned a quarter
//! clockwise at the end, so that u and v of the structure stay x and y.

use kurbo::Point;

use super::PunchEnvelope;
use super::build::{Builder, rectangle, turn};
use super::notched_square::{FlapShape, HeldDown, blank, notches};
use crate::{CreaseId, Face, PanelId, PanelRole, Pattern, Solid};

impl PunchEnvelope {
    /// The flat pattern; the front is the root, u and v are x and y.
    #[must_use]
    pub fn pattern(&self) -> Pattern {
        let mut b = Builder::default();
        let quarters = if self.lies_wide() { 3 } else { 0 };
        let (x, y) = (self.width / 2.0, self.height / 2.0);
        let front = b.panel(
            "front",
            rectangle(-x, -y, x, y),
            (Face::Front, 0),
            PanelRole::Wall,
        );
        let (short, long) = (self.width.min(self.height), self.width.max(self.height));
        let side = FlapShape {
            side: long,
            s: self.s,
            trim_at: short,
            radius: 0.0,
        };
        let end = FlapShape {
            side: short,
            s: self.s,
            trim_at: long,
            radius: 0.0,
        };
        let mut add = |at, (shape, half): (&FlapShape, f64), side_turn: u8| {
            add_flap(&mut b, at, (shape, half, side_turn + quarters), front)
        };
        let (inner, inner_crease) = add(("inner side flap", 0), (&side, short / 2.0), 2);
        let (outer, outer_crease) = add(("outer side flap", 1), (&side, short / 2.0), 0);
        let (bottom, bottom_crease) = add(("bottom flap", 2), (&end, long / 2.0), 3);
        let (_, top_crease) = add(("top flap", 3), (&end, long / 2.0), 1);
        notches(&mut b, x, y, self.s);

        b.fold("inner side flap", &[inner_crease]);
        b.fold("outer side flap", &[outer_crease]);
        let with_fold = b.fold("bottom flap", &[bottom_crease]);
        b.fold("top flap", &[top_crease]);
        let held = HeldDown {
            name_outer: "bottom flap on outer side flap",
            name_inner: "bottom flap on inner side flap",
            flap: bottom,
            outer,
            inner,
            with_fold,
        };
        glue_bottom(&mut b, &held, (short, long), quarters);
        let solid = Solid::Flat {
            x: self.width,
            y: self.height,
            open: Vec::new(),
        };
        let sheet = blank(self.settings().sheet.mm());
        b.finish(
            "punch-board envelope",
            sheet,
            solid,
            (self.caliper.mm(), with_fold + 1),
        )
    }
}

/// The bottom flap onto both side flaps, seen in the plane of the closed back, standing.
fn glue_bottom(b: &mut Builder, held: &HeldDown, (short, long): (f64, f64), quarters: u8) {
    let standing = |p: Point| turn(p, 4 - quarters);
    let fold_up = |p: Point| Point::new(p.x, -long - p.y);
    held.add_glue(
        b,
        [
            &|p| fold_up(standing(p)),
            &|p| Point::new(short - standing(p).x, standing(p).y),
            &|p| Point::new(-short - standing(p).x, standing(p).y),
        ],
        &|p| turn(fold_up(p), quarters),
    );
}

fn add_flap(
    b: &mut Builder,
    (name, layer): (&'static str, i8),
    (shape, hinge, quarters): (&FlapShape, f64, u8),
    front: PanelId,
) -> (PanelId, CreaseId) {
    let flap = shape.pointing_right(hinge).turned(quarters);
    let panel = flap.add(b, name, (Face::Back, layer));
    let half = shape.side / 2.0;
    let line = (
        turn(Point::new(hinge, -half), quarters),
        turn(Point::new(hinge, half), quarters),
    );
    (panel, b.crease(name, line, (front, panel), 180.0))
}
