//! The order in which flat parts are painted: a tree of planes, parts split where they cross one.
//!
//! Each node holds a plane and the parts that lie in it; what is before the plane (where its
//! normal points) and what is behind it hang below. Seen from any direction, everything on the far
//! side of a plane is painted before what lies in it, and that before the near side. A part that
//! crosses the plane is split exactly there, so no order has to be guessed.

use crate::Vec3;

/// A corner this near to a plane lies in it, mm. Poses differ by rounding only.
const IN_PLANE_MM: f64 = 1e-6;
/// So many parts are tried as the plane of a node.
const TRIED: usize = 12;

/// A convex part of a sheet.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// Which sheet it belongs to.
    pub(super) sheet: usize,
    /// Its corners in order, mm.
    pub(super) corners: Vec<Vec3>,
    /// Which edge the side from each corner to the next lies on; none where it was only split.
    pub(super) edges: Vec<Option<usize>>,
}

/// The plane of a sheet, and its place among others in the same plane.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plane {
    pub(super) normal: Vec3,
    pub(super) offset: f64,
    /// Of two sheets in one plane the one with the higher place lies further along its normal.
    pub(super) place: f64,
}

impl Plane {
    fn height(&self, p: Vec3) -> f64 {
        let height = self.normal.dot(p) - self.offset;
        if height.abs() < IN_PLANE_MM {
            0.0
        } else {
            height
        }
    }
}

struct Node {
    plane: Plane,
    inside: Vec<Part>,
    before: Option<Box<Node>>,
    behind: Option<Box<Node>>,
}

/// All parts from the furthest to the nearest, split where they have to be.
pub(super) fn back_to_front(parts: Vec<Part>, planes: &[Plane], eye: Vec3) -> Vec<Part> {
    let mut painted = Vec::with_capacity(parts.len());
    if let Some(tree) = build(parts, planes) {
        paint(tree, planes, eye, &mut painted);
    }
    painted
}

fn build(mut parts: Vec<Part>, planes: &[Plane]) -> Option<Node> {
    let chosen = choose(&parts, planes)?;
    let plane = *planes.get(parts.get(chosen)?.sheet)?;
    let own = parts.swap_remove(chosen);
    let (mut inside, mut before, mut behind) = (vec![own], Vec::new(), Vec::new());
    for part in parts {
        match side(&part, &plane) {
            (false, false) => inside.push(part),
            (true, false) => before.push(part),
            (false, true) => behind.push(part),
            (true, true) => {
                let (near, far) = split(&part, &plane);
                before.push(near);
                behind.push(far);
            }
        }
    }
    Some(Node {
        plane,
        inside,
        before: build(before, planes).map(Box::new),
        behind: build(behind, planes).map(Box::new),
    })
}

/// The part whose plane splits least and leaves sides of about one size; the first of equals.
fn choose(parts: &[Part], planes: &[Plane]) -> Option<usize> {
    let stride = parts.len().div_ceil(TRIED).max(1);
    let cost = |at: usize| {
        let plane = planes.get(parts.get(at)?.sheet)?;
        let (mut near, mut far, mut split) = (0_i64, 0_i64, 0_i64);
        for part in parts {
            let (before, behind) = side(part, plane);
            near += i64::from(before);
            far += i64::from(behind);
            split += i64::from(before && behind);
        }
        Some(8 * split + (near - far).abs())
    };
    let tried = (0..parts.len()).step_by(stride);
    tried.min_by_key(|&at| cost(at).unwrap_or(i64::MAX))
}

/// Whether some of a part lies before a plane, and some behind it.
fn side(part: &Part, plane: &Plane) -> (bool, bool) {
    part.corners.iter().fold((false, false), |sides, &corner| {
        let height = plane.height(corner);
        (sides.0 || height > 0.0, sides.1 || height < 0.0)
    })
}

/// What lies before and what lies behind.
fn split(part: &Part, plane: &Plane) -> (Part, Part) {
    let empty = || Part {
        sheet: part.sheet,
        corners: Vec::with_capacity(part.corners.len() + 1),
        edges: Vec::with_capacity(part.corners.len() + 1),
    };
    let (mut near, mut far) = (empty(), empty());
    let corners = part.corners.iter().copied();
    let ends = corners.clone().zip(corners.cycle().skip(1));
    for ((p, q), &edge) in ends.zip(&part.edges) {
        let (at_p, at_q) = (plane.height(p), plane.height(q));
        let mut push = |near_side: bool, corner, edge| {
            let half = if near_side { &mut near } else { &mut far };
            half.corners.push(corner);
            half.edges.push(edge);
        };
        if at_p == 0.0 {
            // On the plane: the side that leaves the plane keeps its edge, the other is a cut.
            push(true, p, edge.filter(|_| at_q > 0.0));
            push(false, p, edge.filter(|_| at_q < 0.0));
            continue;
        }
        push(at_p > 0.0, p, edge);
        if at_p * at_q < 0.0 {
            let cut = p + (q - p) * (at_p / (at_p - at_q));
            push(at_p > 0.0, cut, None);
            push(at_q > 0.0, cut, edge);
        }
    }
    (near, far)
}

fn paint(node: Node, planes: &[Plane], eye: Vec3, painted: &mut Vec<Part>) {
    let Node {
        plane,
        mut inside,
        before,
        behind,
    } = node;
    let towards = plane.normal.dot(eye) >= 0.0;
    let (first, last) = if towards {
        (behind, before)
    } else {
        (before, behind)
    };
    if let Some(far) = first {
        paint(*far, planes, eye, painted);
    }
    let height = |part: &Part| {
        planes.get(part.sheet).map_or(0.0, |own| {
            own.place * own.normal.dot(plane.normal).signum() * if towards { 1.0 } else { -1.0 }
        })
    };
    inside.sort_by(|one, other| {
        let by_height = height(one).total_cmp(&height(other));
        by_height.then(one.sheet.cmp(&other.sheet))
    });
    painted.append(&mut inside);
    if let Some(near) = last {
        paint(*near, planes, eye, painted);
    }
}
