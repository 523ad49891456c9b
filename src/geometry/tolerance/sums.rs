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
    /// here from their inputs. Limits, worst case, root of the sum of squares.
    #[test]
    fn limits_add_up_as_in_published_examples() {
        let ten = [0.1; 10];
        let rows: [(&[f64], f64, f64, f64); 3] = [
            (&[0.10, 0.05, 0.03, 0.05], 0.23, 0.126, 5e-4),
            (&[0.005, 0.003, 0.002, 0.005], 0.015, 0.00794, 5e-6),
            (&ten, 1.0, 0.316, 5e-4),
        ];
        for (limits, worst, likely, to) in rows {
            let (w, l) = (
                worst_case(limits.iter().copied()),
                root_sum_square(limits.iter().copied()),
            );
            assert!((w - worst).abs() < 1e-12, "{limits:?} {w}");
            assert!((l - likely).abs() < to, "{limits:?} {l}");
            assert!(l <= w, "{limits:?}");
        }
        // The gap of 0.020 in the housing, at worst and as is likely.
        let limits = [0.005, 0.003, 0.002, 0.005];
        assert!((0.020 - worst_case(limits) - 0.005).abs() < 1e-12);
        assert!((0.020 - root_sum_square(limits) - 0.012).abs() < 1e-4);
    }
}
