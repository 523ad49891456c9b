//! Limits that add up along a chain of measures: at worst, and as they are likely to.

/// All limits in the same direction: Σ |t|.
#[must_use]
pub fn worst_case(limits: impl IntoIterator<Item = f64>) -> f64 {
    limits.into_iter().map(f64::abs).sum()
}

/// Limits of things that are off independently: √Σ t².
#[must_use]
pub fn root_sum_square(limits: impl IntoIterator<Item = f64>) -> f64 {
    limits.into_iter().map(|t| t * t).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked examples of published articles on tolerance stacks; the likely sums worked out
    /// here from their inputs. Nominal, limits, worst case, root of the sum of squares.
    #[test]
    fn limits_add_up_as_in_published_examples() {
        let ten = [0.1; 10];
        let gap = 40.0 - 25.0 - 2.0 - 10.0;
        let rows: [(f64, &[f64], f64, f64, f64); 3] = [
            (gap, &[0.10, 0.05, 0.03, 0.05], 0.23, 0.126, 5e-4),
            (0.020, &[0.005, 0.003, 0.002, 0.005], 0.015, 0.00794, 5e-6),
            (0.0, &ten, 1.0, 0.316, 5e-4),
        ];
        for (_, limits, worst, likely, to) in rows {
            let (w, l) = (
                worst_case(limits.iter().copied()),
                root_sum_square(limits.iter().copied()),
            );
            assert!((w - worst).abs() < 1e-12, "{limits:?} {w}");
            assert!((l - likely).abs() < to, "{limits:?} {l}");
            assert!(l <= w, "{limits:?}");
        }
        // The gaps themselves, least and greatest: at worst, and as is likely.
        for ((nominal, limits, ..), worst, likely, to) in [
            (rows[0], [2.77, 3.23], [2.874, 3.126], 5e-4),
            (rows[1], [0.005, 0.035], [0.012, 0.028], 1e-4),
        ] {
            let w = worst_case(limits.iter().copied());
            let l = root_sum_square(limits.iter().copied());
            for (sign, at) in [(-1.0, 0), (1.0, 1)] {
                assert!((nominal + sign * w - worst[at]).abs() < 1e-12, "{limits:?}");
                assert!((nominal + sign * l - likely[at]).abs() < to, "{limits:?}");
            }
        }
    }
    /// The third published example, link by link: ten of ± 0.1 set one after the other are off
    /// by 1.0 at worst and likely by 0.316; each set from one edge by 0.1.
    #[test]
    fn a_chain_grows_with_each_link_and_what_is_set_from_one_edge_does_not() {
        let t = 0.1;
        for n in 1..=10_u8 {
            let chain = || std::iter::repeat_n(t, usize::from(n));
            let links = f64::from(n);
            assert!((worst_case(chain()) - links * t).abs() < 1e-12, "{n}");
            assert!(
                (root_sum_square(chain()) - links.sqrt() * t).abs() < 1e-12,
                "{n}"
            );
            assert!((worst_case(chain().take(1)) - t).abs() < 1e-12, "{n}");
        }
    }
}
