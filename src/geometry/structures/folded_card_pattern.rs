//! The flat patterns of a folded card and of its envelope, and the order of the hands.

use kurbo::Point;

use super::Body;
use super::build::{Builder, rectangle};
use super::folded_card::FoldedCard;
use super::notched_square::{GLUE_AREA_MM2, GLUE_WIDTH_MM};
use super::work::{Edge, Work};
use crate::{Face, GlueZone, PanelRole, Pattern, Pose, Side, Solid, Vec3, WasteReason};

impl FoldedCard {
    /// The card, and the envelope round it.
    pub(super) fn bodies(&self) -> (Body, Body) {
        let [_, _, card_score, _, _, side, bottom, top] = self.settings().first();
        let [card_blank, envelope_blank] = self.blanks();
        let score = |from: &[Edge], at| Work::Score {
            from: from.to_vec(),
            at,
        };
        let card = Body {
            name: "card",
            blank: card_blank,
            pattern: self.card(),
            work: vec![
                score(&[Edge::Left], card_score),
                Work::Burnish,
                Work::Fill,
                Work::Fold(0),
            ],
            place: self.place_of_card(),
        };
        let envelope = Body {
            name: "envelope",
            blank: envelope_blank,
            pattern: self.envelope_pattern(),
            work: vec![
                score(&[Edge::Left, Edge::Right], side),
                score(&[Edge::Bottom], bottom),
                score(&[Edge::Top], top),
                Work::CutAway {
                    why: WasteReason::Trim,
                    what: "the four corners, slanting into the flaps",
                },
                Work::Burnish,
                Work::Fold(0),
                Work::Glue(0),
                Work::Glue(1),
                Work::Fold(1),
                Work::PutTogether {
                    what: "the card into the envelope",
                },
                Work::Fold(2),
            ],
            place: Pose::FLAT,
        };
        (card, envelope)
    }

    /// In the envelope, on its front, lying on its longer side.
    fn place_of_card(&self) -> Pose {
        let (origin, x) = (Point::ZERO, Point::new(1.0, 0.0));
        let lies = if self.front.1 > self.front.0 {
            // A quarter turn, as two half turns about lines at 45° to each other.
            let over = Pose::turn_about(origin, x, 180.0);
            Pose::turn_about(origin, Point::new(1.0, 1.0), 180.0).after(&over)
        } else {
            Pose::FLAT
        };
        lies.shifted(Vec3::new(0.0, 0.0, self.t))
    }

    /// The front is the root, on the left: seen from outside the fold is its left edge.
    fn card(&self) -> Pattern {
        let (w, l) = self.front;
        let (x, y) = (w / 2.0, l / 2.0);
        let mut b = Builder::default();
        let wall = PanelRole::Wall;
        let front = b.panel("front", rectangle(-x, -y, x, y), (Face::Front, 0), wall);
        let back = rectangle(x, -y, x + self.back, y);
        let back = b.panel("back page", back, (Face::Back, 0), wall);
        let line = (Point::new(x, -y), Point::new(x, y));
        let fold = b.crease("fold", line, (front, back), 180.0);
        b.fold("the back page over, onto the front", &[fold]);
        let solid = Solid::Flat {
            x: w,
            y: l,
            open: Vec::new(),
        };
        b.finish(
            "card",
            rectangle(-x, -y, x + self.back, y),
            solid,
            (self.t, 0),
        )
    }

    fn envelope_pattern(&self) -> Pattern {
        let (w, h) = self.envelope;
        let [side, bottom, top] = self.flaps;
        let (x, y) = (w / 2.0, h / 2.0);
        // Ends of flaps slant in by this much, so that they lie clear of the creases.
        let slant = side / 2.0;
        let p = Point::new;
        let mut b = Builder::default();
        let front = rectangle(-x, -y, x, y);
        let front = b.panel("front", front, (Face::Front, 0), PanelRole::Wall);
        let mut flap = |name, ring: [Point; 4], layer| {
            let [from, to, ..] = ring;
            let panel = b.panel(name, ring.to_vec(), (Face::Back, layer), PanelRole::Flap);
            (panel, b.crease(name, (from, to), (front, panel), 180.0))
        };
        let across = |sign: f64| {
            [
                p(x * sign, -y),
                p(x * sign, y),
                p((x + side) * sign, y - slant),
                p((x + side) * sign, slant - y),
            ]
        };
        let along = |sign: f64, reach: f64| {
            [
                p(-x, y * sign),
                p(x, y * sign),
                p(x - slant, (y + reach) * sign),
                p(slant - x, (y + reach) * sign),
            ]
        };
        let left = flap("left flap", across(-1.0), 0);
        let right = flap("right flap", across(1.0), 0);
        let low = flap("bottom flap", along(-1.0, bottom), 1);
        let high = flap("top flap", along(1.0, top), 2);

        b.fold("both side flaps", &[left.1, right.1]);
        let with_fold = b.fold("the bottom flap up", &[low.1]);
        b.fold("the top flap down", &[high.1]);
        for (name, to, sign) in [
            ("bottom flap on left flap", left.0, -1.0),
            ("bottom flap on right flap", right.0, 1.0),
        ] {
            // Where both are whole: beyond the slants of either.
            let (near, far) = ((x - slant) * sign, (x - side) * sign);
            let reach = bottom.min(h - slant);
            let area = rectangle(near.min(far), -y - reach, near.max(far), -y - slant);
            b.glue(GlueZone {
                name,
                area,
                on: low.0,
                on_side: Side::Inside,
                to,
                needs_width_mm: GLUE_WIDTH_MM,
                needs_area_mm2: GLUE_AREA_MM2,
                with_fold,
            });
        }
        for (sign_x, sign_y, reach) in [
            (-1.0, -1.0, bottom),
            (1.0, -1.0, bottom),
            (-1.0, 1.0, top),
            (1.0, 1.0, top),
        ] {
            let at = |px: f64, py: f64| p(px * sign_x, py * sign_y);
            let corner = vec![
                at(x, y),
                at(x + side, y - slant),
                at(x + side, y + reach),
                at(x - slant, y + reach),
            ];
            b.waste(corner, WasteReason::Trim);
        }
        let sheet = rectangle(-x - side, -y - bottom, x + side, y + top);
        let solid = Solid::Flat {
            x: w,
            y: h,
            open: Vec::new(),
        };
        b.finish("envelope", sheet, solid, (self.t, with_fold + 1))
    }
}
