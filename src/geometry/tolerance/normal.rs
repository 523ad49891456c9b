//! The normal distribution.
//!
//! Φ(x) = erfc(-x / √2) / 2, with erfc from `libm` (good to about 1 unit in the last place).

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// The share of a standard normal spread up to `x`.
#[must_use]
pub fn normal_cdf(x: f64) -> f64 {
    libm::erfc(-x * FRAC_1_SQRT_2) / 2.0
}

/// Where the share `p` of a standard normal spread ends: the inverse of [`normal_cdf`], minus
/// infinity for 0 or less, infinity for 1 or more. Good to 1e-9 between 1e-12 and 1 - 1e-12.
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    quantile(p, 2)
}

/// The same by so many rounds of Halley's method; one is good to 1e-8.
pub(super) fn quantile(p: f64, rounds: u8) -> f64 {
    if p.is_nan() || p <= 0.0 {
        return f64::NEG_INFINITY;
    }
    if p >= 1.0 {
        return f64::INFINITY;
    }
    if p > 0.5 {
        // The tail keeps its digits on the left.
        return -quantile(1.0 - p, rounds);
    }
    // A first guess within 4.5e-4 (Abramowitz and Stegun 1964, 26.2.23; from memory), then
    // Halley's method, which triples the digits each time.
    let t = (-2.0 * p.ln()).sqrt();
    let top = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let bottom = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    let mut x = top / bottom - t;
    for _ in 0..rounds {
        let density = (-x * x / 2.0).exp() / (2.0 * PI).sqrt();
        let step = (normal_cdf(x) - p) / density;
        if !step.is_finite() {
            break;
        }
        x -= step / (1.0 + x * step / 2.0);
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_round_is_as_good_as_two_for_points_of_a_lattice() {
        for n in 1..1000 {
            let p = f64::from(n) / 1000.0;
            for p in [p, p * 1e-6, p * 1e-12] {
                let (one, two) = (quantile(p, 1), quantile(p, 2));
                assert!((one - two).abs() < 1e-8, "{p} {one} {two}");
            }
        }
    }

    /// Quantiles as printed in tables of the normal distribution, to five decimals.
    #[test]
    fn quantiles_agree_with_printed_tables() {
        for (p, x) in [
            (0.90, 1.28155),
            (0.95, 1.64485),
            (0.975, 1.95996),
            (0.99, 2.32635),
            (0.995, 2.57583),
        ] {
            assert!((normal_quantile(p) - x).abs() < 1e-5, "{p}");
            assert!((normal_quantile(1.0 - p) + x).abs() < 1e-5, "{p}");
            assert!((normal_cdf(x) - p).abs() < 1e-6, "{p}");
        }
    }

    /// Simpson's rule on the density: independent of erfc.
    #[test]
    fn shares_are_areas_under_the_curve() {
        let density = |x: f64| (-x * x / 2.0).exp() / (2.0 * PI).sqrt();
        for x in [-3.0, -1.5, -0.1, 0.0, 0.7, 2.0, 4.0] {
            let (n, from) = (4000, -12.0);
            let h = (x - from) / f64::from(n);
            let inner: f64 = (1..n)
                .map(|i| density(from + h * f64::from(i)) * if i % 2 == 0 { 2.0 } else { 4.0 })
                .sum();
            let area = (density(from) + inner + density(x)) * h / 3.0;
            assert!((normal_cdf(x) - area).abs() < 1e-11, "{x}");
        }
    }

    #[test]
    fn a_quantile_leads_back_to_its_share() {
        for i in 1..2000 {
            let p = f64::from(i) / 2000.0;
            assert!((normal_cdf(normal_quantile(p)) - p).abs() < 1e-13, "{p}");
        }
        for p in [1e-12, 1e-9, 1e-5] {
            let x = normal_quantile(p);
            assert!((normal_cdf(x) / p - 1.0).abs() < 1e-9, "{p}");
        }
        assert_eq!(normal_quantile(0.0), f64::NEG_INFINITY);
        assert_eq!(normal_quantile(1.0), f64::INFINITY);
        assert_eq!(normal_quantile(f64::NAN), f64::NEG_INFINITY);
    }
}
