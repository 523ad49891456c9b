//! Whether something flat is hidden whole, by convex outlines alone and without the engine for
//! areas: what is taken away leaves convex pieces, and mostly there soon is none.

use kurbo::Point;

use crate::polygon::{edges, left_of, signed_area};

/// What is left over by rounding where outlines share a side, mm².
const ROUNDING_MM2: f64 = 1e-7;
/// In more pieces than this nothing is hidden whole.
const MOST_PIECES: usize = 12;

/// Whether some convex outlines leave less than `least` mm² to be seen of another one. All run
/// counter-clockwise. No is no proof of the contrary: it is also said where too many pieces are
/// left to follow.
pub(super) fn is_hidden(outline: &[Point], over: &[&[Point]], least: f64) -> bool {
    let mut left = vec![outline.to_vec()];
    for over in over {
        left = left.iter().flat_map(|piece| beyond(piece, over)).collect();
        if left.len() > MOST_PIECES {
            return false;
        }
    }
    left.iter().map(|piece| signed_area(piece)).sum::<f64>() < least
}

/// The convex pieces of a convex outline that lie beyond the sides of another one.
fn beyond(outline: &[Point], over: &[Point]) -> Vec<Vec<Point>> {
    let mut pieces = Vec::new();
    let mut rest = outline.to_vec();
    for (a, b) in edges(over) {
        let inward = left_of(b - a);
        let (inside, outside) = parted(&rest, |p| inward.dot(p - a));
        if signed_area(&outside) > ROUNDING_MM2 {
            pieces.push(outside);
        }
        rest = inside;
        if rest.len() < 3 {
            // It lies apart, and is whole.
            return vec![outline.to_vec()];
        }
    }
    pieces
}

/// A convex outline parted by a line: where the height over it is above 0, and the rest.
fn parted(outline: &[Point], height: impl Fn(Point) -> f64) -> (Vec<Point>, Vec<Point>) {
    let (mut over, mut under) = (Vec::new(), Vec::new());
    for (p, q) in edges(outline) {
        let (at_p, at_q) = (height(p), height(q));
        if at_p >= 0.0 {
            over.push(p);
        }
        if at_p <= 0.0 {
            under.push(p);
        }
        if at_p * at_q < 0.0 {
            let cut = p + (q - p) * (at_p / (at_p - at_q));
            over.push(cut);
            under.push(cut);
        }
    }
    (over, under)
}

#[cfg(test)]
mod tests {
    use kurbo::Vec2;

    use super::*;
    use crate::region::Region;

    /// A convex outline: corners on a circle, at angles in order.
    fn convex(middle: (f64, f64), radius: f64, steps: &[f64]) -> Vec<Point> {
        let whole: f64 = steps.iter().sum();
        let mut turn = 0.0;
        let corner = |step: &f64| {
            turn += step / whole * std::f64::consts::TAU;
            Point::from(middle) + Vec2::from_angle(turn) * radius
        };
        steps.iter().map(corner).collect()
    }

    fn square(x: f64, y: f64, side: f64) -> Vec<Point> {
        [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
            .map(|(dx, dy)| Point::new(x + dx, y + dy))
            .to_vec()
    }

    #[test]
    fn two_halves_hide_what_neither_hides_alone() {
        let whole = square(0.0, 0.0, 10.0);
        let (left, right) = (square(-5.0, -1.0, 12.0), square(7.0, -1.0, 12.0));
        assert!(is_hidden(&whole, &[&left, &right], 0.01));
        assert!(!is_hidden(&whole, &[&left], 0.01));
        assert!(!is_hidden(
            &whole,
            &[&right, &square(-5.0, -1.0, 11.9)],
            0.01
        ));
        assert!(!is_hidden(&whole, &[], 0.01));
    }

    proptest::proptest! {
        /// Against the engine for areas, on random convex outlines.
        #[test]
        fn the_engine_finds_nothing_left_of_what_is_hidden(
            own in proptest::collection::vec(0.2_f64..1.0, 3..7),
            over in proptest::collection::vec(
                ((-6.0_f64..6.0, -6.0_f64..6.0), 2.0_f64..14.0,
                 proptest::collection::vec(0.2_f64..1.0, 3..7)), 1..5),
        ) {
            let own = convex((0.0, 0.0), 5.0, &own);
            let over: Vec<_> = over.iter().map(|(at, r, steps)| convex(*at, *r, steps)).collect();
            let over: Vec<&[Point]> = over.iter().map(Vec::as_slice).collect();
            let left = Region::difference(&[&own], &over).area();
            let hidden = is_hidden(&own, &over, 0.01);
            proptest::prop_assert_eq!(hidden, left < 0.01, "{} mm² are left", left);
        }
    }
}
