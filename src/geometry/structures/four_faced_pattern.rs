//! The flat pattern of a four-faced pouch, and the order of the hands.
//!
//! B is in the middle of the bottom score; the face BCD is the root. Faces of the solid: 0 BCD,
//! 1 ABC, 2 BAD, 3 ACD (the closing face, of two halves that meet in its middle).

use kurbo::Point;

use super::build::Builder;
use super::four_faced::FourFaced;
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::work::{Edge, Work};
use crate::{
    Face, GlueZone, Length, PanelId, PanelRole, Pattern, Side, Solid, SolidFace, WasteReason,
};

/// The side flap stays this far clear of the slant that it would reach under, mm (common
/// practice, no source).
const FLAP_EASE_MM: f64 = 1.0;

/// Where the sheet is cut and scored: x of the marks, y of the scores and edges.
struct Sheet {
    a: f64,
    half: f64,
    y: f64,
    top: f64,
    right: f64,
    /// Where the slanted end of the side flap meets the right edge.
    slant: f64,
}

impl FourFaced {
    fn sheet(&self) -> Sheet {
        let y = self.h / 2.0;
        Sheet {
            a: self.a,
            half: self.a / 2.0,
            y,
            top: y + self.strip,
            right: self.a + self.flap,
            slant: 2.0 * self.h * self.flap / self.a + FLAP_EASE_MM - y,
        }
    }

    /// Angles between outward normals of neighbouring faces, degrees: at the slants, and at the
    /// two glued edges.
    fn angles(&self) -> (f64, f64) {
        let slant = (-self.a * self.a / (4.0 * self.h * self.h)).acos();
        let edge = 2.0 * (self.a / 2.0).atan2(self.apart());
        (slant.to_degrees(), 180.0 - edge.to_degrees())
    }

    /// The flat pattern.
    pub(super) fn pattern(&self) -> Pattern {
        let Sheet {
            a,
            half,
            y,
            top,
            right,
            slant,
        } = self.sheet();
        let p = Point::new;
        let face = |b: &mut Builder, name, outline, place, layer, role| {
            b.panel(name, outline, (Face::Numbered(place), layer), role)
        };
        let mut b = Builder::default();
        let wall = PanelRole::Wall;
        let (bottom_b, c, d) = (p(0.0, -y), p(-half, y), p(half, y));
        let (left_a, right_a) = (p(-a, -y), p(a, -y));
        let base = face(&mut b, "base", vec![bottom_b, d, c], 0, 0, wall);
        let left = face(&mut b, "left face", vec![left_a, bottom_b, c], 1, 0, wall);
        let right_face = vec![bottom_b, right_a, d];
        let right_face = face(&mut b, "right face", right_face, 2, 0, wall);
        // The half with the side flap goes in first; the other one lies on its flap.
        let outline = vec![right_a, p(right, slant), p(right, y), d];
        let first = face(&mut b, "half face with flap", outline, 3, 0, wall);
        let outline = vec![left_a, c, p(-a, y)];
        let last = face(&mut b, "other half face", outline, 3, 1, wall);
        let s = self.strip;
        let outline = vec![left_a, p(s - a, -top), p(-s, -top), bottom_b];
        let low = face(&mut b, "bottom strip", outline, 2, 1, PanelRole::Flap);
        let outline = vec![c, d, p(half - s, top), p(s - half, top)];
        let high = face(&mut b, "top strip", outline, 3, 2, PanelRole::Flap);

        let (at_slant, at_edge) = self.angles();
        let slants = [
            ("left slant", (bottom_b, c), (base, left)),
            ("right slant", (bottom_b, d), (base, right_face)),
            ("outer right slant", (right_a, d), (right_face, first)),
            ("outer left slant", (left_a, c), (left, last)),
        ];
        let slants = slants.map(|(name, line, pair)| b.crease(name, line, pair, at_slant));
        let low_crease = b.crease("bottom score", (left_a, bottom_b), (left, low), at_edge);
        let high_crease = b.crease("top score", (c, d), (base, high), at_edge);

        b.fold("the left and the right face", &slants[..2]);
        let low_fold = b.fold("the bottom strip over the right face", &[low_crease]);
        // In a short tube it would be in the way of the half faces.
        let back = vec![(high_crease, -90.0)];
        let before_filling = b.fold_to("the top strip back, out of the way", back);
        b.fold("the half with the side flap", &slants[2..3]);
        let last_fold = b.fold("the other half, onto the side flap", &slants[3..]);
        let high_fold = b.fold("the top strip over both halves", &[high_crease]);

        b.at_far_end(before_filling..high_fold + 1);

        let mut glue = |name, area: Vec<Point>, (on, on_side), to: PanelId, with_fold| {
            b.glue(GlueZone {
                name,
                area,
                on,
                on_side,
                to,
                needs_width_mm: GLUE_WIDTH_MM,
                needs_area_mm2: GLUE_AREA_MM2,
                with_fold,
            });
        };
        let strip = vec![left_a, p(s - a, -top), p(-s, -top), bottom_b];
        let inside = Side::Inside;
        let name = "bottom strip on right face";
        glue(name, strip, (low, inside), right_face, low_fold);
        let flap = vec![right_a, p(right, slant), p(right, y), p(a, y)];
        let name = "side flap on other half face";
        glue(name, flap, (first, Side::Outside), last, last_fold);
        let left_part = vec![c, p(0.0, y), p(0.0, top), p(s - half, top)];
        let name = "top strip on other half face";
        glue(name, left_part, (high, inside), last, high_fold);
        let right_part = vec![p(0.0, y), d, p(half - s, top), p(0.0, top)];
        let name = "top strip on half face with flap";
        glue(name, right_part, (high, inside), first, high_fold);

        self.add_waste(&mut b);
        let blank = super::build::rectangle(-a, -top, right, top);
        let done = (self.t, before_filling + 1);
        b.finish("four-faced pouch", blank, self.solid(), done)
    }

    /// What is beside the strips and below the side flap.
    fn add_waste(&self, b: &mut Builder) {
        let Sheet {
            a,
            half,
            y,
            top,
            right,
            slant,
        } = self.sheet();
        let s = self.strip;
        let p = Point::new;
        let pieces = [
            vec![p(-a, -top), p(s - a, -top), p(-a, -y)],
            vec![
                p(-s, -top),
                p(right, -top),
                p(right, slant),
                p(a, -y),
                p(0.0, -y),
            ],
            vec![p(-a, y), p(-half, y), p(s - half, top), p(-a, top)],
            vec![p(half, y), p(right, y), p(right, top), p(half - s, top)],
        ];
        for piece in pieces {
            b.waste(piece, WasteReason::Trim);
        }
    }

    fn solid(&self) -> Solid {
        let [a, b, c, d] = self.corners();
        let face = |name, corners: [crate::Vec3; 3]| SolidFace {
            name,
            corners: corners.to_vec(),
            open: false,
        };
        Solid::Faces(vec![
            face("base", [b, c, d]),
            face("left face", [a, c, b]),
            face("right face", [a, b, d]),
            face("closing face", [a, d, c]),
        ])
    }

    /// What the hands do, from the cut sheet to the closed pouch.
    pub(super) fn work(&self, strip: Length) -> Vec<Work> {
        vec![
            Work::Score {
                from: vec![Edge::Top, Edge::Bottom],
                at: strip,
            },
            Work::ByTemplate {
                what: "the four slants between the two scores",
                cut: false,
            },
            Work::CutAway {
                why: WasteReason::Trim,
                what: "the paper beside both strips and below the side flap",
            },
            Work::Burnish,
            Work::Fold(0),
            Work::Glue(0),
            Work::Fold(1),
            Work::Fold(2),
            Work::Fill,
            Work::Fold(3),
            Work::Glue(1),
            Work::Fold(4),
            Work::Glue(2),
            Work::Glue(3),
            Work::Fold(5),
        ]
    }
}
