//! What goes inside: a block, a cylinder, a stack, as closed solids.

use std::f64::consts::TAU;

use kurbo::{BezPath, Point};

use super::SpaceView;
use super::bsp::{Part, Plane};
use super::stage::{Edge, Shown, Skin, Stage};
use crate::picture::scene::LineRole;
use crate::polygon::depth_inside;
use crate::{Folded, Panel, PanelId, Pattern, Vec3};

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
    pub(super) fn add_contents(&mut self, contents: &SpaceContents) {
        let (ring, axis) = match contents.shape {
            SpaceShape::Block => (square(), SpaceAxis::Z),
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

    /// Something without thickness.
    fn add_card(&mut self, contents: &SpaceContents) {
        let half = contents.size * 0.5;
        let ring = match contents.shape {
            SpaceShape::Cylinder(SpaceAxis::Z) => circle(),
            _ => square(),
        };
        let corner = |&(p, q): &(f64, f64)| {
            contents.middle + Vec3::new(p * half.x, q * half.y, -contents.middle.z)
        };
        let corners: Vec<Vec3> = ring.iter().map(corner).collect();
        let first = self.edges.len();
        for (&a, &b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            self.push_edge([a, b], Shown::Always);
        }
        let edges = (first..self.edges.len()).collect();
        if let Some(plane) = self
            .add_face(corners, edges)
            .and_then(|at| self.planes.get_mut(at))
        {
            plane.place = BETWEEN;
        }
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
        let lines = count.clamp(1, MOST_LINES);
        for (i, &sheet) in sides.iter().enumerate() {
            let at = |ring: &[Vec3], i: usize| ring.get(i % ring.len().max(1)).copied();
            let corners = (at(low, i), at(low, i + 1), at(high, i), at(high, i + 1));
            let (Some(a), Some(b), Some(c), Some(d)) = corners else {
                continue;
            };
            let Some(at) = self.parts.iter().position(|part| part.sheet == sheet) else {
                continue;
            };
            let own = self.parts.swap_remove(at).edges;
            let level = |n: u32| {
                let share = f64::from(n) / f64::from(lines);
                (a + (c - a) * share, b + (d - b) * share)
            };
            let first = self.edges.len();
            for n in 1..lines {
                let (p, q) = level(n);
                self.push_edge([p, q], Shown::Always);
            }
            for n in 0..lines {
                let ((p, q), (r, s)) = (level(n), level(n + 1));
                let line = |n: u32| Some(first + n as usize - 1);
                let foot = if n == 0 {
                    own.first().copied().flatten()
                } else {
                    line(n)
                };
                let is_last = n + 1 == lines;
                let top = if is_last {
                    own.get(2).copied().flatten()
                } else {
                    line(n + 1)
                };
                let side = |at: usize| own.get(at).copied().flatten();
                self.parts.push(Part {
                    sheet,
                    corners: vec![p, q, s, r],
                    edges: vec![foot, side(1), top, side(3)],
                });
            }
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

/// Across the contents, as a share of their size: where rays run.
const RAYS: [f64; 4] = [-0.35, -0.1, 0.15, 0.4];

/// The way in which contents meet the least paper when they come from outside; the first of
/// equals: from above, from the far end, from the near one, from the sides. Into a flat piece
/// they go from the flap that closes it.
pub(super) fn way_in(pattern: &Pattern, folded: &Folded, contents: &SpaceContents) -> Vec3 {
    let ways = [
        Vec3::new(0.0, 0.0, -1.0),
        Vec3::new(0.0, -1.0, 0.0),
        Vec3::new(0.0, 1.0, 0.0),
        Vec3::new(-1.0, 0.0, 0.0),
        Vec3::new(1.0, 0.0, 0.0),
    ];
    if contents.size.z <= 0.0 {
        return flat_way(pattern);
    }
    let size = contents.size;
    let met = |way: &Vec3| {
        let rays = RAYS.iter().flat_map(|&p| RAYS.map(|q| (p, q)));
        let rays = rays.map(|(p, q)| {
            // Over the face that the ray leaves through; which two of the three, the way tells.
            let along_y = if way.z == 0.0 { p } else { q };
            let along_z = if way.x == 0.0 { q } else { p };
            let across = Vec3::new(p * size.x, along_y * size.y, along_z * size.z);
            let from = contents.middle + across - *way * across.dot(*way);
            crossed(pattern, folded, from, -*way)
        });
        rays.sum::<usize>()
    };
    ways.into_iter().min_by_key(met).unwrap_or_default()
}

/// Away from the flap that closes a flat piece.
fn flat_way(pattern: &Pattern) -> Vec3 {
    let closing = pattern.folds.get(pattern.folds_before_filling);
    let crease = closing.and_then(|fold| pattern.creases.get(fold.creases.first()?.0.0));
    let at = crease.map_or(Point::new(0.0, 1.0), |crease| crease.a.midpoint(crease.b));
    if at.x.abs() > at.y.abs() {
        Vec3::new(-at.x.signum(), 0.0, 0.0)
    } else {
        Vec3::new(0.0, -at.y.signum(), 0.0)
    }
}

/// How many panels a ray meets.
fn crossed(pattern: &Pattern, folded: &Folded, from: Vec3, way: Vec3) -> usize {
    let panels = pattern.panels.iter().enumerate();
    let meets = |(index, panel): &(usize, &Panel)| {
        folded.pose(PanelId(*index)).is_some_and(|pose| {
            let rate = pose.inside_normal().dot(way);
            let far = -pose.flat_of(from).1 / rate;
            let at = pose.flat_of(from + way * far).0;
            rate.abs() > 1e-9 && far > 0.0 && depth_inside(at, &panel.outline) > 0.0
        })
    };
    panels.filter(meets).count()
}

/// An arrow from the middle of the contents as they stand to where they come.
pub(super) fn way_arrow(contents: &SpaceContents, way: Vec3, view: &SpaceView) -> BezPath {
    let from = contents.middle + way * 0.1;
    let mut path = BezPath::new();
    path.move_to(view.seen(from));
    path.line_to(view.seen(contents.middle + way * 0.9));
    path
}
