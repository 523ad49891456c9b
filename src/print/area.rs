//! Rectangles along the page, mm, y down, and what of a polygon lies in one.

use tablefold_geometry::Point;

/// From the left top to the right bottom corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Area {
    pub(super) fn new(left: f64, top: f64, width: f64, height: f64) -> Self {
        Self {
            left,
            top,
            right: left + width,
            bottom: top + height,
        }
    }

    /// The least one round some points; nothing has no size.
    pub(super) fn round<'p>(points: impl IntoIterator<Item = &'p Point>) -> Self {
        let mut points = points.into_iter();
        let first = points.next().copied().unwrap_or_default();
        let start = Self::new(first.x, first.y, 0.0, 0.0);
        points.fold(start, |it, p| Self {
            left: it.left.min(p.x),
            top: it.top.min(p.y),
            right: it.right.max(p.x),
            bottom: it.bottom.max(p.y),
        })
    }

    pub(super) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(super) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(super) fn middle(&self) -> Point {
        Point::new(
            (self.left + self.right) / 2.0,
            (self.top + self.bottom) / 2.0,
        )
    }

    /// Smaller by `by` on every side.
    pub(super) fn inset(&self, by: f64) -> Self {
        Self {
            left: self.left + by,
            top: self.top + by,
            right: self.right - by,
            bottom: self.bottom - by,
        }
    }

    pub(super) fn corners(&self) -> [Point; 4] {
        [
            Point::new(self.left, self.top),
            Point::new(self.right, self.top),
            Point::new(self.right, self.bottom),
            Point::new(self.left, self.bottom),
        ]
    }

    /// What of a polygon lies inside. A polygon with bays may come back with parts that hang
    /// together by lines along the border.
    pub(super) fn clip(&self, polygon: &[Point]) -> Vec<Point> {
        let sides: [fn(&Self, Point) -> f64; 4] = [
            |area, p| p.x - area.left,
            |area, p| area.right - p.x,
            |area, p| p.y - area.top,
            |area, p| area.bottom - p.y,
        ];
        sides.iter().fold(polygon.to_vec(), |kept, side| {
            cut_off(&kept, |p| side(self, p))
        })
    }
}

/// The part of a polygon where `inside` is not negative.
fn cut_off(polygon: &[Point], inside: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::new();
    let next = polygon.iter().cycle().skip(1);
    for (&a, &b) in polygon.iter().zip(next) {
        let (at_a, at_b) = (inside(a), inside(b));
        if at_a >= 0.0 {
            kept.push(a);
        }
        if (at_a > 0.0 && at_b < 0.0) || (at_a < 0.0 && at_b > 0.0) {
            kept.push(a + (b - a) * (at_a / (at_a - at_b)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use tablefold_geometry::signed_area;

    use super::*;

    #[test]
    fn a_diamond_loses_its_corners_to_a_square() {
        let diamond = [(0.0, -15.0), (15.0, 0.0), (0.0, 15.0), (-15.0, 0.0)];
        let diamond: Vec<Point> = diamond.iter().map(|&(x, y)| Point::new(x, y)).collect();
        let clipped = Area::new(-10.0, -10.0, 20.0, 20.0).clip(&diamond);
        assert_eq!(clipped.len(), 8);
        // By hand: 2 · 15² less four tips of 5².
        assert!((signed_area(&clipped).abs() - 350.0).abs() < 1e-9);
        assert!(
            Area::new(20.0, 0.0, 5.0, 5.0).clip(&diamond).len() < 3
                || signed_area(&Area::new(20.0, 0.0, 5.0, 5.0).clip(&diamond)).abs() < 1e-9
        );
    }
}
