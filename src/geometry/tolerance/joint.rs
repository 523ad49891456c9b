//! The share of makers for whom all measures hold at once.
//!
//! Measures share settings: a base cut too large has more room and gives its lid less play. Of
//! measures mu + C z, z independent standard normal, the share with all of them at or above 0 is
//! an integral over z. C is brought to lower triangular form (Gram-Schmidt, the tightest measure
//! first), so that each measure is a limit to the last variable that it hangs on; the integral
//! is then taken variable by variable (A. Genz, Numerical computation of multivariate normal
//! probabilities, 1992; from memory): the last one exactly, the others at the points of a fixed
//! lattice, shifted eight times to see how well they agree; it gets more points until they do.
//!
//! Without any of that the share lies between the bounds of Fréchet: at most that of the tightest
//! measure, at least 1 less all that fail of each.

use super::normal::quantile;
use super::normal_cdf;
use super::report::share;

/// Points of the lattice in each of its shifts, at least and at most.
const POINTS: [u32; 2] = [64, 512];
/// It has points enough where its shifts agree to this: three thousandths of one maker in 100.
const AGREED: f64 = 3e-5;
/// To this where it only matters whether the share is near to another one.
const NEARLY: f64 = 1e-2;
/// So many standard errors off, and this more, a share never is.
const NEVER: (f64, f64) = (10.0, 1e-3);
/// Shifts of the lattice.
const SHIFTS: usize = 8;
/// What is left of a row below this part of its length is rounding.
const NOTHING: f64 = 1e-9;

/// The share of makers for whom all measures hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Together {
    /// The share, from 0 to 1, integrated numerically.
    pub share: f64,
    /// Its standard error; 0 where it is exact.
    pub error: f64,
    /// It is not below this, whatever the measures share.
    pub at_least: f64,
    /// It is not above this, whatever the measures share.
    pub at_most: f64,
}

/// A measure: what is left as designed, and how much each variable changes it by its deviation.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) room_mm: f64,
    pub(super) by: Vec<f64>,
}

impl Row {
    fn sigma_mm(&self) -> f64 {
        dot(&self.by, &self.by).sqrt()
    }

    fn share(&self) -> f64 {
        share(self.room_mm, self.sigma_mm())
    }
}

/// What the share for whom all measures hold is not above, found out fast: nobody but those who
/// keep the tightest measure, and little more than what few points of the lattice say.
pub(super) fn at_most(rows: &[Row]) -> f64 {
    let tightest = rows.iter().map(Row::share).fold(1.0, f64::min);
    if tightest <= 0.0 {
        return tightest;
    }
    let (share, error) = Triangle::of(rows).integrate(NEARLY);
    tightest.min(share + NEVER.0 * error + NEVER.1)
}

/// How often all measures hold.
pub(super) fn together(rows: &[Row]) -> Together {
    let shares = || rows.iter().map(Row::share);
    let at_most = shares().fold(1.0, f64::min);
    let at_least = (1.0 - shares().map(|share| 1.0 - share).sum::<f64>()).max(0.0);
    let (share, error) = if at_most > 0.0 {
        Triangle::of(rows).integrate(AGREED)
    } else {
        (0.0, 0.0)
    };
    Together {
        share: share.clamp(at_least.min(at_most), at_most),
        error,
        at_least,
        at_most,
    }
}

/// `room + by · y >= 0`, a limit to the last variable of `by`.
struct Limit {
    room: f64,
    by: Vec<f64>,
}

/// The measures by independent variables, each list the limits to one of them.
struct Triangle {
    limits: Vec<Vec<Limit>>,
}

impl Triangle {
    fn of(rows: &[Row]) -> Self {
        let mut order: Vec<&Row> = rows.iter().filter(|row| row.sigma_mm() > 0.0).collect();
        order.sort_by(|one, other| one.share().total_cmp(&other.share()));
        let mut axes: Vec<Vec<f64>> = Vec::new();
        let mut limits: Vec<Vec<Limit>> = Vec::new();
        for row in order {
            let sigma = row.sigma_mm();
            let mut rest: Vec<f64> = row.by.iter().map(|by| by / sigma).collect();
            let mut by = Vec::new();
            for axis in &axes {
                let along = dot(&rest, axis);
                for (rest, axis) in rest.iter_mut().zip(axis) {
                    *rest -= along * axis;
                }
                by.push(along);
            }
            let left = dot(&rest, &rest).sqrt();
            if left > NOTHING {
                by.push(left);
                axes.push(rest.iter().map(|rest| rest / left).collect());
                limits.push(Vec::new());
            }
            while by.last().is_some_and(|by| by.abs() <= NOTHING) {
                by.pop();
            }
            let room = row.room_mm / sigma;
            let last = by.len().checked_sub(1);
            if let Some(list) = last.and_then(|last| limits.get_mut(last)) {
                list.push(Limit { room, by });
            }
        }
        Self { limits }
    }

    /// The share, and the standard error of the lattice, which is below `agreed` if it has points
    /// enough for that.
    fn integrate(&self, agreed: f64) -> (f64, f64) {
        // The last variable needs no points.
        let sampled = self.limits.len().saturating_sub(1);
        if sampled == 0 {
            return (self.holds(|_| 0.5), 0.0);
        }
        let roots: Vec<f64> = primes(sampled)
            .map(|prime| f64::from(prime).sqrt())
            .collect();
        let at = |shift: u32, point: u32| {
            self.holds(|axis| {
                let root = roots.get(axis).copied().unwrap_or(0.0);
                // Another irrational step takes the lattice from shift to shift.
                let shifted = f64::from(point) * root + f64::from(shift) * (root / 7.3);
                // There and back again: the ends meet.
                (2.0 * shifted.fract() - 1.0).abs()
            })
        };
        let mut sums = [0.0; SHIFTS];
        let (mut done, [mut points, most]) = (0, POINTS);
        loop {
            for (shift, sum) in (0..).zip(&mut sums) {
                *sum += (done + 1..=points)
                    .map(|point| at(shift, point))
                    .sum::<f64>();
            }
            let (mean, error) = mean_of(&sums.map(|sum| sum / f64::from(points)));
            if error < agreed || points >= most {
                return (mean, error);
            }
            (done, points) = (points, points * 2);
        }
    }

    /// The share where the variables are drawn by `unit`, from 0 to 1, within their limits.
    fn holds(&self, unit: impl Fn(usize) -> f64) -> f64 {
        let mut drawn: Vec<f64> = Vec::with_capacity(self.limits.len());
        let mut share = 1.0;
        for (axis, limits) in self.limits.iter().enumerate() {
            let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
            for limit in limits {
                let last = limit.by.get(axis).copied().unwrap_or(0.0);
                let at = -(limit.room + dot(&limit.by, &drawn)) / last;
                if last > 0.0 {
                    low = low.max(at);
                } else {
                    high = high.min(at);
                }
            }
            // From the top down, where small tails keep their digits.
            let (above, beyond) = (normal_cdf(-low), normal_cdf(-high));
            if above <= beyond {
                return 0.0;
            }
            share *= above - beyond;
            // Nothing hangs on the last one any more.
            if axis + 1 == self.limits.len() {
                break;
            }
            let at = above + unit(axis) * (beyond - above);
            drawn.push(-quantile(at.clamp(1e-300, 1.0 - 1e-16), 1));
        }
        share
    }
}

/// The mean, and its standard error.
fn mean_of(values: &[f64]) -> (f64, f64) {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let spread = values.iter().map(|it| (it - mean).powi(2)).sum::<f64>();
    (mean, (spread / (count - 1.0) / count).sqrt())
}

/// Of the shorter one's length.
fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

fn primes(count: usize) -> impl Iterator<Item = u32> {
    let is_prime = |n: &u32| (2..*n).all(|d| !n.is_multiple_of(d));
    (2..).filter(is_prime).take(count)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(room_mm: f64, by: &[f64]) -> Row {
        Row {
            room_mm,
            by: by.to_vec(),
        }
    }

    /// W. F. Sheppard 1899 (from memory): two standard normal variables of correlation r are both
    /// above 0 in 1/4 + asin(r) / 2 pi of all cases; three in 1/8 + (sum of the asin) / 4 pi.
    #[test]
    fn quadrants_and_octants_are_those_of_sheppard() {
        let turn = std::f64::consts::TAU;
        for r in [-0.9, -0.5, 0.0, 0.3, 0.95_f64] {
            let rows = [row(0.0, &[2.0, 0.0]), row(0.0, &[r, (1.0 - r * r).sqrt()])];
            let found = together(&rows);
            let exact = 0.25 + r.asin() / turn;
            assert!((found.share - exact).abs() < 1e-4, "{r} {found:?}");
            assert!(
                (found.share - exact).abs() < 5.0 * found.error + 1e-5,
                "{r}"
            );
        }
        let half = 0.5_f64.sqrt();
        let rows = [
            row(0.0, &[half, half, 0.0]),
            row(0.0, &[0.0, half, half]),
            row(0.0, &[half, 0.0, half]),
        ];
        let exact = 0.125 + 3.0 * 0.5_f64.asin() / (2.0 * turn);
        let found = together(&rows);
        assert!((found.share - exact).abs() < 2e-4, "{found:?} {exact}");
    }

    /// Each pair of five measures has one source in common.
    #[test]
    fn what_is_found_fast_is_above_the_share_and_near_to_it() {
        for room in [-0.5, 0.0, 0.4, 1.0, 1.7, 2.5, 4.0] {
            let measure = |own: usize| {
                let mut by = vec![0.3; 6];
                by[own] = if own.is_multiple_of(2) { 1.0 } else { -1.0 };
                row(room, &by)
            };
            let rows: Vec<Row> = (0..5).map(measure).collect();
            let (fast, found) = (at_most(&rows), together(&rows));
            assert!(fast >= found.share, "{room} {fast} {found:?}");
            assert!(fast < found.share + 0.03, "{room} {fast} {found:?}");
        }
    }

    #[test]
    fn measures_that_share_nothing_hold_as_often_as_their_product() {
        let rows = [
            row(0.5, &[1.0, 0.0, 0.0, 0.0]),
            row(1.0, &[0.0, 0.5, 0.0, 0.0]),
            row(-0.3, &[0.0, 0.0, 0.0, 2.0]),
        ];
        let exact: f64 = rows.iter().map(Row::share).product();
        let found = together(&rows);
        assert!((found.share - exact).abs() < 1e-9, "{found:?} {exact}");
    }

    /// A measure and its opposite: P(-0.5 <= z <= 1) = Φ(1) - Φ(-0.5); and one twice over.
    #[test]
    fn measures_of_one_variable_are_exact() {
        let rows = [
            row(1.0, &[-2.0, 0.0]),
            row(0.5, &[2.0, 0.0]),
            row(2.0, &[0.1, 0.0]),
        ];
        let exact = normal_cdf(0.5) - normal_cdf(-0.25);
        let found = together(&rows);
        assert!(
            (found.share - exact).abs() < 1e-12 && found.error == 0.0,
            "{found:?}"
        );
        let apart = [row(-1.0, &[1.0]), row(-1.0, &[-1.0])];
        assert_eq!(together(&apart).share, 0.0);
    }

    #[test]
    fn what_cannot_be_off_holds_or_fails_for_everyone() {
        let sure = |rooms: &[f64]| {
            let rows: Vec<Row> = rooms.iter().map(|room| row(*room, &[0.0])).collect();
            together(&rows).share
        };
        assert_eq!(sure(&[0.0, 1.0]), 1.0);
        assert_eq!(sure(&[0.0, -0.1]), 0.0);
        assert_eq!(sure(&[]), 1.0);
    }
}
