//! What goes inside: a block, a cylinder, a stack, as closed solids.

use std::f64::consts::TAU;

use super::bsp::{Part, Plane};
use super::stage::{Edge, Shown, Skin, Stage};
use super::view::SpaceView;
use crate::Vec3;
use crate::picture::scene::LineRole;

/// A cylinder is drawn with so many sides.
const SIDES: usize = 28;
/// More lines in a stack run together.
const MOST_LINES: u32 = 8;
/// Contents lie inside of any paper in the same plane.
const INNERMOST: f64 = -1e6;
/// In a flat piece they lie over the front and the flaps that are still open, which count down
/// from -1, and under the flaps that are folded over, which count up from 0.
const BETWEEN: f64 = -0.5;

/// Which way something lies in the piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpaceAxis {
    /// Along the width.
    X,
    /// Along the length.
    Y,
    /// From the root panel up.
    Z,
}

/// What contents look like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpaceShape {
    /// A block.
    Block,
    /// A cylinder with its axis along one of the three; an ellipse across if the other two differ.
    Cylinder(SpaceAxis),
    /// A ball.
    Ball,
    /// Flat things, so many, piled up along one of the three.
    Stack(SpaceAxis, u32),
}

/// Contents in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpaceContents {
    /// What they look like.
    pub shape: SpaceShape,
    /// Their extent along x, y and z, mm. Without thickness along z they lie in a flat piece,
    /// between its front and what is folded over it.
    pub size: Vec3,
    /// Their middle, mm.
    pub middle: Vec3,
}

impl Stage {
    /// Contents as they look from the view.
    pub(super) fn add_seen(&mut self, contents: &SpaceContents, view: &SpaceView) {
        match contents.shape {
            SpaceShape::Ball if contents.size.z > 0.0 => self.add_ball(contents, view),
            _ => self.add_contents(contents),
        }
    }

    pub(super) fn add_contents(&mut self, contents: &SpaceContents) {
        let (ring, axis) = match contents.shape {
            SpaceShape::Block | SpaceShape::Ball => (square(), SpaceAxis::Z),
            SpaceShape::Stack(axis, _) => (square(), axis),
            SpaceShape::Cylinder(axis) => (circle(), axis),
        };
        let half = contents.size * 0.5;
        let place = |(p, q): (f64, f64), along: f64| {
            let v = match axis {
                SpaceAxis::X => Vec3::new(along * half.x, p * half.y, q * half.z),
                SpaceAxis::Y => Vec3::new(q * half.x, along * half.y, p * half.z),
                SpaceAxis::Z => Vec3::new(p * half.x, q * half.y, along * half.z),
            };
            contents.middle + v
        };
        let is_round = matches!(contents.shape, SpaceShape::Cylinder(_));
        let low: Vec<Vec3> = ring.iter().map(|&p| place(p, -1.0)).collect();
        let high: Vec<Vec3> = ring.iter().map(|&p| place(p, 1.0)).collect();
        if contents.size.z <= 0.0 {
            self.add_card(contents);
            return;
        }
        let lines = self.add_prism(&low, &high, is_round);
        if let SpaceShape::Stack(_, count) = contents.shape {
            self.add_lines(&low, &high, &lines, count);
        }
    }

    /// A ball, which looks like a disc from everywhere: one through its middle, facing the eye.
    fn add_ball(&mut self, contents: &SpaceContents, view: &SpaceView) {
        let (across, up) = view.across();
        let radius = contents.size.x / 2.0;
        let corner =
            |(p, q): (f64, f64)| contents.middle + across * (p * radius) + up * (q * radius);
        let corners: Vec<Vec3> = circle().into_iter().map(corner).collect();
        self.add_disc(corners);
    }

    /// Something without thickness.
    fn add_card(&mut self, contents: &SpaceContents) {
        let half = contents.size * 0.5;
        let ring = match contents.shape {
            SpaceShape::Cylinder(SpaceAxis::Z) | SpaceShape::Ball => circle(),
            _ => square(),
        };
        let corner = |&(p, q): &(f64, f64)| {
            contents.middle + Vec3::new(p * half.x, q * half.y, -contents.middle.z)
        };
        if let Some(plane) = self
            .add_disc(ring.iter().map(corner).collect())
            .and_then(|at| self.planes.get_mut(at))
        {
            plane.place = BETWEEN;
        }
    }

    /// A face by itself, with its outline.
    fn add_disc(&mut self, corners: Vec<Vec3>) -> Option<usize> {
        let first = self.edges.len();
        for (&a, &b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            self.push_edge([a, b], Shown::Always);
        }
        let edges = (first..self.edges.len()).collect();
        self.add_face(corners, edges)
    }

    /// A prism between two rings, which run counter-clockwise seen from the high end. Gives the
    /// sheets of its sides.
    fn add_prism(&mut self, low: &[Vec3], high: &[Vec3], is_round: bool) -> Vec<usize> {
        let count = low.len();
        let first_edge = self.edges.len();
        let at = |ring: &[Vec3], i: usize| ring.get(i % count.max(1)).copied().unwrap_or_default();
        for i in 0..count {
            let upright = if is_round {
                Shown::AsSilhouette
            } else {
                Shown::Always
            };
            self.push_edge([at(low, i), at(low, i + 1)], Shown::Always);
            self.push_edge([at(high, i), at(high, i + 1)], Shown::Always);
            self.push_edge([at(low, i), at(high, i)], upright);
        }
        let edge = |which: usize, i: usize| first_edge + 3 * (i % count.max(1)) + which;
        let mut sides = Vec::new();
        for i in 0..count {
            let corners = vec![at(low, i), at(low, i + 1), at(high, i + 1), at(high, i)];
            let edges = vec![edge(0, i), edge(2, i + 1), edge(1, i), edge(2, i)];
            sides.extend(self.add_face(corners, edges));
        }
        let bottom = low.iter().rev().copied().collect();
        // Reversed, the side from corner i runs to corner i - 1: along the edge of that one.
        let bottom_edges = (0..count).rev().map(|i| edge(0, i + count - 1)).collect();
        self.add_face(bottom, bottom_edges);
        self.add_face(high.to_vec(), (0..count).map(|i| edge(1, i)).collect());
        sides
    }

    fn push_edge(&mut self, ends: [Vec3; 2], shown: Shown) {
        self.edges.push(Edge {
            ends,
            role: LineRole::Outline,
            now: false,
            shown,
            sheets: Vec::new(),
        });
    }

    /// A face whose corners run counter-clockwise seen from outside.
    fn add_face(&mut self, corners: Vec<Vec3>, edges: Vec<usize>) -> Option<usize> {
        let [a, b, .., z] = corners[..] else {
            return None;
        };
        let normal = (b - a).cross(z - a).unit();
        if normal.length() < 0.5 {
            return None;
        }
        let sheet = self.add_sheet(
            Plane {
                normal,
                offset: normal.dot(a),
                place: INNERMOST,
            },
            Skin::Contents,
            "",
        );
        for &edge in &edges {
            if let Some(edge) = self.edges.get_mut(edge) {
                edge.sheets.push(sheet);
            }
        }
        self.parts.push(Part {
            sheet,
            corners,
            edges: edges.into_iter().map(Some).collect(),
        });
        Some(sheet)
    }

    /// The gaps between the things of a stack: a line across each side, as a part cut there.
    fn add_lines(&mut self, low: &[Vec3], high: &[Vec3], sides: &[usize], count: u32) {
        let ends = |ring: &[Vec3]| -> Vec<(Vec3, Vec3)> {
            let next = ring.iter().copied().cycle().skip(1);
            ring.iter().copied().zip(next).collect()
        };
        for ((&sheet, foot), top) in sides.iter().zip(ends(low)).zip(ends(high)) {
            let at = self.parts.iter().position(|part| part.sheet == sheet);
            let Some(at) = at else { continue };
            let whole = self.parts.swap_remove(at);
            self.cut_side(&whole, (foot, top), count.clamp(1, MOST_LINES));
        }
    }

    /// A side between its foot and its top as so many strips, with a line between each two.
    fn cut_side(&mut self, side: &Part, (foot, top): ((Vec3, Vec3), (Vec3, Vec3)), strips: u32) {
        let level = |n: u32| {
            let share = f64::from(n) / f64::from(strips);
            let along = |low: Vec3, high: Vec3| low + (high - low) * share;
            (along(foot.0, top.0), along(foot.1, top.1))
        };
        let own = |at: usize| side.edges.get(at).copied().flatten();
        let mut below = own(0);
        for n in 0..strips {
            let ((p, q), (r, s)) = (level(n), level(n + 1));
            let above = if n + 1 == strips {
                own(2)
            } else {
                self.push_edge([r, s], Shown::Always);
                let line = self.edges.len() - 1;
                if let Some(edge) = self.edges.get_mut(line) {
                    edge.sheets.push(side.sheet);
                }
                Some(line)
            };
            self.parts.push(Part {
                sheet: side.sheet,
                corners: vec![p, q, s, r],
                edges: vec![below, own(1), above, own(3)],
            });
            below = above;
        }
    }
}

fn square() -> Vec<(f64, f64)> {
    vec![(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
}

fn circle() -> Vec<(f64, f64)> {
    let angle = |i: usize| TAU * i as f64 / SIDES as f64;
    (0..SIDES)
        .map(|i| (angle(i).cos(), angle(i).sin()))
        .collect()
}
