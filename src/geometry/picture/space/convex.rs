//! A panel in convex parts, as the splitting by planes needs them.

use kurbo::Point;

use crate::polygon::is_convex;

/// Corners of the outline (by index, counter-clockwise) of convex parts that cover it.
///
/// Ears are cut off until what is left is convex; an outline that has no ear because it crosses
/// itself comes back whole.
pub(super) fn convex_parts(outline: &[Point]) -> Vec<Vec<usize>> {
    let mut ring: Vec<usize> = (0..outline.len()).collect();
    let mut parts = Vec::new();
    while ring.len() > 3 && !is_convex(&points(outline, &ring)) {
        let Some(ear) = (0..ring.len()).find(|&at| is_ear(outline, &ring, at)) else {
            break;
        };
        let (before, tip, after) = around(&ring, ear);
        parts.push(vec![before, tip, after]);
        ring.remove(ear);
    }
    parts.push(ring);
    merged(outline, parts)
}

/// Puts parts together again where they stay convex.
fn merged(outline: &[Point], mut parts: Vec<Vec<usize>>) -> Vec<Vec<usize>> {
    let pair = |parts: &[Vec<usize>]| {
        let pairs = (0..parts.len()).flat_map(|i| (i + 1..parts.len()).map(move |j| (i, j)));
        pairs
            .filter_map(|(i, j)| Some((i, j, joined(parts.get(i)?, parts.get(j)?)?)))
            .find(|(.., both)| is_convex(&points(outline, both)))
    };
    while let Some((i, j, both)) = pair(&parts) {
        parts.remove(j);
        if let Some(part) = parts.get_mut(i) {
            *part = both;
        }
    }
    parts
}

/// Two parts as one, if they share a side.
fn joined(one: &[usize], other: &[usize]) -> Option<Vec<usize>> {
    let next = |part: &[usize], at: usize| part.get((at + 1) % part.len()).copied();
    for (i, &p) in one.iter().enumerate() {
        let q = next(one, i)?;
        for (j, &r) in other.iter().enumerate() {
            if r == q && next(other, j)? == p {
                let from_q = one.iter().cycle().skip(i + 1).take(one.len());
                let past_p = other.iter().cycle().skip(j + 2).take(other.len() - 2);
                return Some(from_q.chain(past_p).copied().collect());
            }
        }
    }
    None
}

fn points(outline: &[Point], ring: &[usize]) -> Vec<Point> {
    let point = |&at: &usize| outline.get(at).copied();
    ring.iter().filter_map(point).collect()
}

fn around(ring: &[usize], at: usize) -> (usize, usize, usize) {
    let get = |at: usize| ring.get(at % ring.len()).copied().unwrap_or(0);
    (get(at + ring.len() - 1), get(at), get(at + 1))
}

/// Whether a corner sticks out with nothing of the ring in its triangle.
fn is_ear(outline: &[Point], ring: &[usize], at: usize) -> bool {
    let (before, tip, after) = around(ring, at);
    let triangle = points(outline, &[before, tip, after]);
    let [a, b, c] = triangle[..] else {
        return false;
    };
    let turn = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    if turn(a, b, c) <= 1e-9 {
        return false;
    }
    let others = ring
        .iter()
        .filter(|&&other| other != before && other != tip && other != after);
    let mut others = others.filter_map(|&other| outline.get(other).copied());
    !others.any(|p| turn(a, b, p) >= 0.0 && turn(b, c, p) >= 0.0 && turn(c, a, p) >= 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::signed_area;

    fn cover(outline: &[(f64, f64)]) -> Vec<Vec<usize>> {
        let outline: Vec<Point> = outline.iter().map(|&p| Point::from(p)).collect();
        let parts = convex_parts(&outline);
        let area = |part: &Vec<usize>| signed_area(&points(&outline, part));
        let sum: f64 = parts.iter().map(area).sum();
        assert!((sum - signed_area(&outline)).abs() < 1e-9, "{parts:?}");
        assert!(parts.iter().all(|part| is_convex(&points(&outline, part))));
        parts
    }

    #[test]
    fn a_convex_panel_stays_whole_with_corners_on_its_sides() {
        let square = [(0., 0.), (2., 0.), (4., 0.), (4., 4.), (0., 4.), (0., 1.)];
        assert_eq!(cover(&square), [vec![0, 1, 2, 3, 4, 5]]);
    }

    #[test]
    fn an_angle_is_two_parts_and_a_notched_strip_three() {
        let angle = [(0., 0.), (4., 0.), (4., 1.), (1., 1.), (1., 4.), (0., 4.)];
        assert_eq!(cover(&angle).len(), 2);
        let notched = [
            (0., 0.),
            (9., 0.),
            (9., 4.),
            (6., 4.),
            (6., 2.),
            (3., 2.),
            (3., 4.),
            (0., 4.),
        ];
        assert_eq!(cover(&notched).len(), 3);
    }
}
