//! Point 6, flat vertices: where every crease of a vertex inside the paper folds flat, the angles
//! obey Kawasaki's theorem and the mountains and valleys Maekawa's.

use kurbo::Point;

use super::{Check, Worst};
use crate::Pattern;

/// Angles agree to this many degrees.
const TOLERANCE_DEG: f64 = 1e-6;
/// Ends of creases this near are one vertex, mm.
const SAME_MM: f64 = 1e-6;

/// Kawasaki's theorem: a vertex inside the paper folds flat only if its angles, taken every
/// other one, add up to 180°. Angles in degrees, in order round the vertex.
#[must_use]
pub fn kawasaki(angles: &[f64]) -> bool {
    kawasaki_off(angles) <= TOLERANCE_DEG
}

/// Maekawa's theorem: mountains and valleys of a flat vertex differ by 2.
#[must_use]
pub fn maekawa(mountains: usize, valleys: usize) -> bool {
    mountains.abs_diff(valleys) == 2
}

/// How far, in degrees, a vertex is from obeying Kawasaki's theorem.
fn kawasaki_off(angles: &[f64]) -> f64 {
    if angles.is_empty() || !angles.len().is_multiple_of(2) {
        return f64::INFINITY;
    }
    let even: f64 = angles.iter().step_by(2).sum();
    let odd: f64 = angles.iter().skip(1).step_by(2).sum();
    let off = (even - 180.0).abs().max((odd - 180.0).abs());
    // `max` drops a NaN; a sum that is no number obeys nothing.
    if (even + odd).is_finite() {
        off
    } else {
        f64::INFINITY
    }
}

pub(super) fn check(pattern: &Pattern) -> Check {
    let mut worst = Worst::new(TOLERANCE_DEG);
    let mut looked_at = 0;
    for vertex in vertices(pattern) {
        let Some(spokes) = flat_spokes(pattern, vertex) else {
            continue;
        };
        looked_at += 1;
        let off = kawasaki_off(&gaps(&spokes));
        worst.note(TOLERANCE_DEG - off, || {
            format!("The creases that meet at {vertex:.2} mm cannot fold flat: Kawasaki's sum.")
        });
        let valleys = spokes.iter().filter(|(_, fold)| *fold > 0.0).count();
        let mountains = spokes.len() - valleys;
        if !maekawa(mountains, valleys) {
            worst.note(-1.0, || {
                format!(
                    "{mountains} mountains and {valleys} valleys meet at {vertex:.2} mm; folded \
                     flat they have to differ by 2."
                )
            });
        }
    }
    worst.check("flat vertices", "°", |_| match looked_at {
        0 => "No vertex inside the paper has to fold flat.".into(),
        1 => "The vertex that folds flat obeys Kawasaki and Maekawa.".into(),
        n => format!("The {n} vertices that fold flat obey Kawasaki and Maekawa."),
    })
}

/// Ends of creases, each once.
fn vertices(pattern: &Pattern) -> Vec<Point> {
    let mut found: Vec<Point> = Vec::new();
    for p in pattern
        .creases
        .iter()
        .flat_map(|crease| [crease.a, crease.b])
    {
        if !found.iter().any(|q| (*q - p).hypot() < SAME_MM) {
            found.push(p);
        }
    }
    found
}

/// The creases that leave a vertex, as (direction in degrees, fold angle), in order round it; only
/// if all fold flat and there is paper all round.
fn flat_spokes(pattern: &Pattern, vertex: Point) -> Option<Vec<(f64, f64)>> {
    let mut spokes = Vec::new();
    for crease in &pattern.creases {
        let far = if (crease.a - vertex).hypot() < SAME_MM {
            crease.b
        } else if (crease.b - vertex).hypot() < SAME_MM {
            crease.a
        } else {
            continue;
        };
        if crease.angle_deg.abs() < 180.0 - 1e-9 {
            return None;
        }
        spokes.push(((far - vertex).atan2().to_degrees(), crease.angle_deg));
    }
    let round: f64 = pattern
        .panels
        .iter()
        .map(|panel| corner_angle(&panel.outline, vertex))
        .sum();
    if (round - 360.0).abs() > 1e-6 {
        return None;
    }
    spokes.sort_by(|one, other| one.0.total_cmp(&other.0));
    Some(spokes)
}

/// The angles between neighbours, in degrees.
fn gaps(spokes: &[(f64, f64)]) -> Vec<f64> {
    let next = spokes.iter().cycle().skip(1);
    spokes
        .iter()
        .zip(next)
        .map(|(one, other)| (other.0 - one.0).rem_euclid(360.0))
        .collect()
}

/// The angle of a counter-clockwise outline at one of its corners, in degrees; 0 elsewhere.
fn corner_angle(outline: &[Point], vertex: Point) -> f64 {
    let n = outline.len();
    let found = outline.iter().position(|p| (*p - vertex).hypot() < SAME_MM);
    let Some(at) = found else { return 0.0 };
    let (Some(next), Some(previous)) = (outline.get((at + 1) % n), outline.get((at + n - 1) % n))
    else {
        return 0.0;
    };
    let angle = (*previous - vertex).atan2() - (*next - vertex).atan2();
    angle.to_degrees().rem_euclid(360.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// "Kawasaki's theorem", encyclopedia article: the worked octet, and the same with two of its
    /// angles off.
    #[test]
    fn kawasaki_accepts_the_octet_and_refuses_it_bent() {
        assert!(kawasaki(&[90.0, 45.0, 22.5, 22.5, 45.0, 90.0, 22.5, 22.5]));
        assert!(!kawasaki(&[90.0, 45.0, 22.5, 22.5, 45.0, 90.0, 25.0, 20.0]));
        assert!(
            !kawasaki(&[120.0, 120.0, 120.0]),
            "an odd vertex never folds flat"
        );
        assert!(!kawasaki(&[]));
        assert!(!kawasaki(&[f64::NAN, 180.0]));
    }

    /// Counted by hand: of 16 assignments of degree 4, those with 1 or 3 mountains, 4 + 4, obey
    /// Maekawa. Hull, Origami⁴ and arXiv 1410.5022: 2^n <= C <= 2 binom(2n, n − 1), which gives
    /// 4…8 for degree 4 and 8…30 for degree 6; equal angles reach the upper bound.
    #[test]
    fn maekawa_leaves_8_of_16_at_degree_4_and_30_of_64_at_degree_6() {
        let count = |degree: usize| {
            (0_u32..1 << degree)
                .filter(|bits| {
                    let mountains = bits.count_ones() as usize;
                    maekawa(mountains, degree - mountains)
                })
                .count()
        };
        assert_eq!(count(4), 8);
        assert_eq!(count(6), 30);
        assert_eq!(count(3) + count(5), 0, "odd vertices have no assignment");
    }
}
